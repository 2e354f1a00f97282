//! The kit against this shop's crib: which tools it has, what stands in, and which wrench does each torque of the phase
//! in the trusted part of its range. Says nothing where no crib was given.

use std::collections::BTreeMap;

use super::bench::{Bench, Shop};
use super::fastener;
use super::questions::columns;
use super::tighten::passes_worked;
use crate::decide::{InCrib, kit_in_crib};
use crate::mechanics::Band;
use crate::mechanics::wrench::{Suits, Wrench, choose};
use crate::plan::{fastened, words};
use crate::procedure::model::{Deed, FasteningWork, Pass, ToolId};
use crate::quantity::{Dimension, Quantity, Torque, pair, range_pair};
use crate::record::{CribTool, Date};
use crate::sheet::{Block, Cell, Table, Text};

/// How each tool of the procedure stands in this shop's crib; none without one.
pub(super) fn tools_in_crib(bench: &Bench) -> Option<BTreeMap<ToolId, Text>> {
    let shop = bench.material.shop?;
    let standing = kit_in_crib(bench.procedure, &shop.crib, today(bench, shop));
    Some(standing.into_iter().map(|(id, standing)| (id, in_words(bench, id, &standing))).collect())
}

/// The day for which calibrations are judged: the one that was given, else the last of the record.
fn today(bench: &Bench, shop: &Shop) -> Option<Date> {
    shop.day.or_else(|| bench.material.job.last_day())
}

fn in_words(bench: &Bench, id: ToolId, standing: &InCrib) -> Text {
    match standing {
        InCrib::Have(name) if *name == bench.procedure.tool(id).naming.title => Text::plain("have it"),
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

fn titled(title: &str, caption: Text, widths: &[(&str, f64)], rows: Vec<Vec<Cell>>) -> Vec<Block> {
    if rows.is_empty() {
        return Vec::new();
    }
    vec![
        Block::Heading { level: 2, text: Text::plain(title), anchor: None },
        Block::Table(Table { caption, columns: columns(widths), rows }),
    ]
}

/// A torque of the phase, and what is tightened to it.
struct Wanted {
    torque: Band<Torque>,
    printed: String,
    what: Vec<String>,
}

/// Which wrench of the shop does each torque of the phase; nothing without a crib.
pub(super) fn wrenches(bench: &Bench) -> Vec<Block> {
    let Some(shop) = bench.material.shop else { return Vec::new() };
    let scale = |tool: &CribTool| -> Option<Wrench> {
        let (low, high) = tool.range.filter(|(low, _)| low.dimension() == Dimension::TORQUE)?;
        Some(Wrench { scale: Band::between(Torque::try_from(low).ok()?, Torque::try_from(high).ok()?) })
    };
    let (names, all): (Vec<&CribTool>, Vec<Wrench>) =
        shop.crib.tools.iter().filter_map(|tool| Some((tool, scale(tool)?))).unzip();
    let today = today(bench, shop);
    let in_date = |tool: &CribTool| match (tool.calibrated_until, today) {
        (Some(until), Some(day)) => until >= day,
        _ => true,
    };
    let (usable_names, usable): (Vec<&CribTool>, Vec<Wrench>) = names
        .iter()
        .zip(&all)
        .filter(|(tool, _)| in_date(tool))
        .map(|(tool, wrench)| (*tool, *wrench))
        .unzip();
    let rows = wanted(bench)
        .into_iter()
        .map(|wanted| {
            let says = match choose(&usable, wanted.torque) {
                Some(best) => {
                    let tool = usable_names[best];
                    let middle = match usable[best].suits(wanted.torque) {
                        Suits::Well => "",
                        Suits::Enough | Suits::No => " (towards an end of its scale)",
                    };
                    Text::plain(format!("{}{middle}{}", tool.name.value, calibrated(tool)))
                }
                None => match choose(&all, wanted.torque) {
                    Some(late) => Text::bold("none in date: ").and(format!(
                        "{} could{}",
                        names[late].name.value,
                        calibrated(names[late])
                    )),
                    None => Text::bold("none of this shop's wrenches can do it"),
                },
            };
            vec![
                Cell::Text(Text::bold(wanted.printed)),
                Cell::Text(says),
                Cell::Text(Text::plain(words::capital(&wanted.what.join("; ")))),
            ]
        })
        .collect();
    let caption = Text::plain(
        "A wrench is trusted on its scale from a fifth of its largest torque upwards (ISO 6789 as quoted by a tool \
         maker). With an adapter the setting changes.",
    );
    let widths = [("Torque", 2.6), ("Wrench", 4.4), ("Fasteners", 4.0)];
    titled("Torque wrenches for this phase", caption, &widths, rows)
}

fn calibrated(tool: &CribTool) -> String {
    tool.calibrated_until.map(|until| format!(", calibrated until {until}")).unwrap_or_default()
}

/// Every torque of the phase once, the smallest first.
fn wanted(bench: &Bench) -> Vec<Wanted> {
    let mut found: Vec<Wanted> = Vec::new();
    let mut add = |low: Quantity, high: Option<Quantity>, what: String| {
        let ends = (Torque::try_from(low), Torque::try_from(high.unwrap_or(low)));
        let (Ok(a), Ok(b)) = ends else { return };
        let printed = match high {
            Some(high) => range_pair(low, high).to_string(),
            None => pair(low).to_string(),
        };
        match found.iter_mut().find(|wanted| wanted.printed == printed) {
            Some(wanted) if wanted.what.contains(&what) => {}
            Some(wanted) => wanted.what.push(what),
            None => found.push(Wanted { torque: Band::between(a, b), printed, what: vec![what] }),
        }
    };
    for planned in bench.open_steps() {
        for act in bench.acts(planned) {
            let (to, again) = match &act.act.deed {
                Deed::Fasten { work: FasteningWork::Tighten, to, .. } => (to, false),
                Deed::Fasten { work: FasteningWork::Retighten, to, .. } => (to, true),
                _ => continue,
            };
            for id in fastened(bench.procedure, &act.things) {
                let name = words::inner(&fastener::all(bench.procedure, id));
                if let Some(torque) = to {
                    add(*torque, None, name);
                } else if let Some(passes) = bench.material.decisions.torques.of(id).passes() {
                    for pass in passes_worked(again, passes) {
                        if let Pass::Torque(low, high) = pass {
                            add(*low, *high, name.clone());
                        }
                    }
                }
            }
        }
    }
    found.sort_by(|a, b| a.torque.low.base().total_cmp(&b.torque.low.base()));
    found
}
