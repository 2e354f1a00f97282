//! The kit against this shop's crib: which tools it has and what stands in. Says nothing where no crib was given.

use std::collections::BTreeMap;

use super::bench::{Bench, Shop};
use crate::decide::{InCrib, kit_in_crib};
use crate::procedure::model::ToolId;
use crate::record::Date;
use crate::sheet::Text;

/// How each tool of the procedure stands in this shop's crib; none without one.
pub(super) fn tools_in_crib(bench: &Bench) -> Option<BTreeMap<ToolId, Text>> {
    let shop = bench.material.shop?;
    let standing = kit_in_crib(bench.procedure, &shop.crib, today(bench, shop));
    Some(standing.into_iter().map(|(id, standing)| (id, in_words(bench, id, &standing))).collect())
}

/// The day for which calibrations are judged: the one that was given, else the last of the record.
pub(super) fn today(bench: &Bench, shop: &Shop) -> Option<Date> {
    shop.day.or_else(|| bench.material.job.last_day())
}

/// What is said of a tool that the crib has under the name of the procedure.
pub(super) fn at_hand() -> Text {
    Text::plain("have it")
}

fn in_words(bench: &Bench, id: ToolId, standing: &InCrib) -> Text {
    match standing {
        InCrib::Have(name) if *name == bench.procedure.tool(id).naming.title => at_hand(),
        InCrib::Have(name) => Text::plain(format!("have: {name}")),
        InCrib::OutOfDate(name, until) => {
            Text::bold("out of date: ").and(format!("{name}, calibrated until {until}"))
        }
        InCrib::StandIn { name, condition } => {
            let condition = condition.as_ref().map(|c| format!(", only if {c}")).unwrap_or_default();
            Text::bold("stand-in: ").and(format!("{name}{condition}"))
        }
        InCrib::Missing => Text::bold("missing"),
    }
}
