//! The kit against this shop's crib: which tools it has, what stands in, and which wrench does which torques of the phase
//! in the trusted part of its range. Says nothing where no crib was given.

use std::collections::BTreeMap;

use super::bench::{Bench, Shop};
use super::questions::columns;
use super::tighten::{passes_value, passes_worked};
use crate::decide::{InCrib, kit_in_crib};
use crate::mechanics::Band;
use crate::mechanics::wrench::{Suits, Wrench, choose};
use crate::plan::{PlannedStep, fastened};
use crate::procedure::model::{Deed, FasteningWork, Pass, ToolId};
use crate::quantity::{Dimension, Quantity, Torque, range_pair};
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

/// A torque of the phase, and the steps that tighten to it.
struct Wanted<'b> {
    torque: Band<Torque>,
    stated: (Quantity, Option<Quantity>),
    steps: Vec<&'b PlannedStep>,
}

/// What one wrench is for.
struct Wrenched<'b> {
    wrench: Text,
    torques: Vec<(Quantity, Option<Quantity>)>,
    /// Those towards an end of its scale.
    ends: Vec<(Quantity, Option<Quantity>)>,
    steps: Vec<&'b PlannedStep>,
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
    let mut found: Vec<Wrenched> = Vec::new();
    for Wanted { torque, stated, steps } in wanted(bench) {
        let (wrench, at_an_end) = match choose(&usable, torque) {
            Some(best) => {
                let tool = usable_names[best];
                let text = Text::plain(format!("{}{}", tool.name.value, calibrated(tool)));
                (text, !matches!(usable[best].suits(torque), Suits::Well))
            }
            None => match choose(&all, torque) {
                Some(late) => {
                    let tool = names[late];
                    let could = format!("{} could{}", tool.name.value, calibrated(tool));
                    (Text::bold("none in date: ").and(could), false)
                }
                None => (Text::bold("none of this shop's wrenches can do it"), false),
            },
        };
        let at = found.iter().position(|known| known.wrench == wrench).unwrap_or_else(|| {
            found.push(Wrenched { wrench, torques: Vec::new(), ends: Vec::new(), steps: Vec::new() });
            found.len() - 1
        });
        if at_an_end {
            found[at].ends.push(stated);
        }
        found[at].torques.push(stated);
        found[at].steps.extend(steps);
    }
    let rows = found
        .into_iter()
        .map(|Wrenched { wrench, torques, ends, mut steps }| {
            steps.sort_by_key(|step| step.number);
            let mut told = Text::bold(in_pairs(&torques));
            if !ends.is_empty() {
                told = told.and(format!(". Towards an end of its scale: {}", in_pairs(&ends)));
            }
            vec![Cell::Text(wrench), Cell::Text(told), Cell::Text(bench.step_numbers(&steps))]
        })
        .collect();
    let caption = Text::plain(
        "A wrench is trusted on its scale from a fifth of its largest torque upwards (ISO 6789 as quoted by a tool \
         maker). With an adapter the setting changes.",
    );
    let widths = [("Wrench", 3.6), ("Torques", 4.4), ("Steps", 3.0)];
    titled("Torque wrenches for this phase", caption, &widths, rows)
}

/// Torques with their second unit: `8, 9 N·m (5.9, 6.6 lbf·ft); 45 to 60 N·m (33.2 to 44 lbf·ft)`.
fn in_pairs(torques: &[(Quantity, Option<Quantity>)]) -> String {
    let single: Vec<Pass> =
        torques.iter().filter(|(_, high)| high.is_none()).map(|(low, _)| Pass::Torque(*low, None)).collect();
    let ranges = torques.iter().filter_map(|(low, high)| Some(range_pair(*low, (*high)?).to_string()));
    let singles = (!single.is_empty()).then(|| passes_value(&single));
    singles.into_iter().chain(ranges).collect::<Vec<_>>().join("; ")
}

fn calibrated(tool: &CribTool) -> String {
    tool.calibrated_until.map(|until| format!(", calibrated until {until}")).unwrap_or_default()
}

/// Every torque of the phase once, the smallest first.
fn wanted<'b>(bench: &'b Bench) -> Vec<Wanted<'b>> {
    let mut found: Vec<Wanted> = Vec::new();
    let mut add = |low: Quantity, high: Option<Quantity>, step| {
        let ends = (Torque::try_from(low), Torque::try_from(high.unwrap_or(low)));
        let (Ok(a), Ok(b)) = ends else { return };
        match found.iter_mut().find(|wanted| wanted.stated == (low, high)) {
            Some(wanted) => wanted.steps.push(step),
            None => {
                found.push(Wanted { torque: Band::between(a, b), stated: (low, high), steps: vec![step] });
            }
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
                if let Some(torque) = to {
                    add(*torque, None, planned);
                } else if let Some(passes) = bench.material.decisions.torques.of(id).passes() {
                    for pass in passes_worked(again, passes) {
                        if let Pass::Torque(low, high) = pass {
                            add(*low, *high, planned);
                        }
                    }
                }
            }
        }
    }
    found.sort_by(|a, b| a.torque.low.base().total_cmp(&b.torque.low.base()));
    found
}
