//! Which torque wrench of this shop does which torque, in the trusted part of its range: for the kit, and for the step
//! that tightens. Where no crib was given it says nothing, and the wrenches that the procedure declares stand.

use super::already::idle_tools;
use super::bench::Bench;
use super::questions::columns;
use super::shop::today;
use super::tighten::{limits_of_wrenches, passes_value, passes_worked};
use crate::mechanics::Band;
use crate::mechanics::wrench::{Suits, Wrench, choose};
use crate::plan::words::inner;
use crate::plan::{PlannedStep, fastened};
use crate::procedure::model::{Deed, FasteningWork, Pass, Step, ToolId, ToolKind};
use crate::quantity::{Bound, Dimension, Quantity, Torque, from_to, range_pair};
use crate::record::CribTool;
use crate::sheet::{Block, Cell, Table, Text};

/// The torque wrenches of a shop.
struct Wrenches<'b> {
    tools: Vec<&'b CribTool>,
    scales: Vec<Wrench>,
    /// Which of them are in date.
    in_date: Vec<bool>,
}

/// What the shop has for a torque.
#[derive(Clone, Copy, PartialEq)]
enum Found {
    /// The wrench at this index.
    InDate(usize),
    /// The wrench at this index would do, but its calibration ran out.
    OutOfDate(usize),
    /// None of them.
    Nothing,
}

/// A torque as stated, with its other end where it is a range.
type Stated = (Quantity, Option<Quantity>);

impl<'b> Wrenches<'b> {
    /// None without a crib.
    fn of(bench: &'b Bench) -> Option<Wrenches<'b>> {
        let shop = bench.material.shop?;
        let scale = |tool: &CribTool| -> Option<Wrench> {
            let (low, high) = tool.range.filter(|(low, _)| low.dimension() == Dimension::TORQUE)?;
            Some(Wrench { scale: Band::between(Torque::try_from(low).ok()?, Torque::try_from(high).ok()?) })
        };
        let today = today(bench, shop);
        let (tools, scales): (Vec<&CribTool>, Vec<Wrench>) =
            shop.crib.tools.iter().filter_map(|tool| Some((tool, scale(tool)?))).unzip();
        let in_date = |tool: &&CribTool| match (tool.calibrated_until, today) {
            (Some(until), Some(day)) => until >= day,
            _ => true,
        };
        let in_date = tools.iter().map(in_date).collect();
        Some(Wrenches { tools, scales, in_date })
    }

    /// What does a torque, and whether that lies towards an end of its scale.
    fn find(&self, (low, high): Stated) -> (Found, bool) {
        let ends = (Torque::try_from(low), Torque::try_from(high.unwrap_or(low)));
        let (Ok(low), Ok(high)) = ends else { return (Found::Nothing, false) };
        let torque = Band::between(low, high);
        let usable: Vec<usize> = (0..self.scales.len()).filter(|at| self.in_date[*at]).collect();
        let scales: Vec<Wrench> = usable.iter().map(|at| self.scales[*at]).collect();
        if let Some(best) = choose(&scales, torque) {
            let at_an_end = !matches!(scales[best].suits(torque), Suits::Well);
            return (Found::InDate(usable[best]), at_an_end);
        }
        (choose(&self.scales, torque).map_or(Found::Nothing, Found::OutOfDate), false)
    }
}

/// The tools that steps are laid out with, apart from the torque wrenches that [`of_steps`] tells.
pub(super) fn tools_beside(bench: &Bench, steps: &[&PlannedStep], step: &Step) -> Vec<ToolId> {
    let told = bench.material.shop.is_some() && !stated(bench, steps).is_empty();
    let beside = |tool: &ToolId| !told || bench.procedure.tool(*tool).kind != ToolKind::TorqueWrench;
    let idle: Vec<Vec<ToolId>> = steps.iter().map(|planned| idle_tools(bench, planned)).collect();
    let asked = |tool: &ToolId| {
        let mut here = steps.iter().zip(&idle);
        here.any(|(planned, idle)| {
            let listed = bench.step(planned).listed().any(|(listed, _)| listed == *tool);
            listed && !idle.contains(tool)
        })
    };
    step.listed().map(|(tool, _)| tool).filter(beside).filter(asked).collect()
}

/// The shop's wrenches for the torques of some steps; where it has none that may be used, the torque that lacks it.
pub(super) fn of_steps(bench: &Bench, steps: &[&PlannedStep]) -> Vec<Text> {
    let Some(wrenches) = Wrenches::of(bench) else { return Vec::new() };
    let mut found: Vec<(Found, Vec<Stated>)> = Vec::new();
    for torque in stated(bench, steps) {
        let (of, _) = wrenches.find(torque);
        match found.iter_mut().find(|(known, _)| *known == of) {
            Some((_, torques)) => torques.push(torque),
            None => found.push((of, vec![torque])),
        }
    }
    let name = |wrench: usize| inner(&wrenches.tools[wrench].name.value);
    let told = |(found, torques): (Found, Vec<Stated>)| match found {
        Found::InDate(wrench) => Text::plain(name(wrench)),
        Found::OutOfDate(wrench) => Text::plain(name(wrench)).and_bold(", not in date"),
        Found::Nothing => {
            Text::bold(format!("no torque wrench of this shop for {}", in_pairs(bench, &torques)))
        }
    };
    found.into_iter().map(told).collect()
}

/// What one wrench is for.
struct Wrenched<'b> {
    found: Found,
    torques: Vec<Stated>,
    /// Those towards an end of its scale.
    ends: Vec<Stated>,
    steps: Vec<&'b PlannedStep>,
}

/// Whether the shop has no wrench in date for some torque of the phase; not told without a crib.
pub(super) fn some_lacking(bench: &Bench) -> bool {
    let Some(wrenches) = Wrenches::of(bench) else { return false };
    let mut torques = wanted(bench).into_iter();
    torques.any(|(torque, _)| !matches!(wrenches.find(torque).0, Found::InDate(_)))
}

/// Which wrench of the shop does each torque of the phase; nothing without a crib.
pub(super) fn wrench_sheet(bench: &Bench) -> Vec<Block> {
    let Some(wrenches) = Wrenches::of(bench) else { return Vec::new() };
    let mut rows: Vec<Wrenched> = Vec::new();
    for (torque, steps) in wanted(bench) {
        let (found, at_an_end) = wrenches.find(torque);
        let at = rows.iter().position(|known| known.found == found).unwrap_or_else(|| {
            rows.push(Wrenched { found, torques: Vec::new(), ends: Vec::new(), steps: Vec::new() });
            rows.len() - 1
        });
        if at_an_end {
            rows[at].ends.push(torque);
        }
        rows[at].torques.push(torque);
        rows[at].steps.extend(steps);
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let rows = rows
        .into_iter()
        .map(|Wrenched { found, torques, ends, mut steps }| {
            steps.sort_by_key(|step| step.number);
            // In the units of the procedure; the steps have both.
            let mut told = Text::bold(as_stated(&torques));
            if !ends.is_empty() {
                told = told.and(format!(". Towards an end of its scale: {}", as_stated(&ends)));
            }
            let wrench = in_words(&wrenches, found);
            vec![Cell::Text(wrench), Cell::Text(told), Cell::Text(bench.step_numbers(&steps))]
        })
        .collect::<Vec<Vec<Cell>>>();
    let caption = Text::plain(
        "A wrench is trusted on its scale from a fifth of its largest torque upwards (ISO 6789 as quoted by a tool \
         maker). With an adapter the setting changes.",
    );
    // Few steps leave the words more room.
    let steps = if rows.iter().all(|row| few_steps(row)) { 1.0 } else { 3.0 };
    let columns = columns(&[("Wrench", 5.6), ("Torques", 3.2), ("Steps", steps)]);
    vec![
        Block::Heading { level: 2, text: Text::plain("Torque wrenches for this phase"), anchor: None },
        Block::Table(Table { caption, columns, rows }),
    ]
}

/// Whether the last cell of a row has so few numbers that they stand on one line of a narrow column. Our own choice, no source.
fn few_steps(row: &[Cell]) -> bool {
    matches!(row.last(), Some(Cell::Text(steps)) if steps.words().chars().count() <= 8)
}

fn in_words(wrenches: &Wrenches, found: Found) -> Text {
    let calibrated = |tool: &CribTool| {
        tool.calibrated_until.map(|until| format!(", calibrated until {until}")).unwrap_or_default()
    };
    match found {
        Found::InDate(wrench) => {
            let tool = wrenches.tools[wrench];
            Text::plain(format!("{}{}", tool.name.value, calibrated(tool)))
        }
        Found::OutOfDate(wrench) => {
            let tool = wrenches.tools[wrench];
            Text::bold("none in date: ").and(format!("{} could{}", tool.name.value, calibrated(tool)))
        }
        Found::Nothing => Text::bold("none of this shop's wrenches can do it"),
    }
}

/// Torques with their second unit: `8, 9 N·m (5.9, 6.6 lbf·ft); 45 to 60 N·m (33.2 to 44 lbf·ft)`.
fn in_pairs(bench: &Bench, torques: &[Stated]) -> String {
    listed(torques, Some(&limits_of_wrenches(bench)), |low, high| range_pair(low, high).to_string())
}

/// Torques in their own unit: `8, 9 N·m; 45 to 60 N·m`.
fn as_stated(torques: &[Stated]) -> String {
    listed(torques, None, from_to)
}

/// Single torques in one, then each range.
fn listed(
    torques: &[Stated],
    limits: Option<&[(f64, Bound)]>,
    range: impl Fn(Quantity, Quantity) -> String,
) -> String {
    let single: Vec<Pass> =
        torques.iter().filter(|(_, high)| high.is_none()).map(|(low, _)| Pass::Torque(*low, None)).collect();
    let ranges = torques.iter().filter_map(|(low, high)| Some(range(*low, (*high)?)));
    let singles = (!single.is_empty()).then(|| passes_value(&single, limits));
    singles.into_iter().chain(ranges).collect::<Vec<_>>().join("; ")
}

/// Every torque of the phase once with the steps that tighten to it, the smallest first.
fn wanted<'b>(bench: &'b Bench) -> Vec<(Stated, Vec<&'b PlannedStep>)> {
    let mut found: Vec<(Stated, Vec<&PlannedStep>)> = Vec::new();
    for planned in bench.open_steps() {
        for torque in stated(bench, &[planned]) {
            match found.iter_mut().find(|(known, _)| *known == torque) {
                Some((_, steps)) => steps.push(planned),
                None => found.push((torque, vec![planned])),
            }
        }
    }
    found.sort_by(|((a, _), _), ((b, _), _)| a.base().total_cmp(&b.base()));
    found
}

/// The torques that some steps tighten to, each once.
fn stated(bench: &Bench, steps: &[&PlannedStep]) -> Vec<Stated> {
    let mut found: Vec<Stated> = Vec::new();
    let mut add = |torque: Stated| {
        if !found.contains(&torque) {
            found.push(torque);
        }
    };
    for act in steps.iter().flat_map(|planned| bench.acts(planned)) {
        let (to, again) = match &act.act.deed {
            Deed::Fasten { work: FasteningWork::Tighten, to, .. } => (to, false),
            Deed::Fasten { work: FasteningWork::Retighten, to, .. } => (to, true),
            _ => continue,
        };
        for (id, places) in fastened(bench.procedure, &act.things) {
            if let Some(torque) = to {
                add((*torque, None));
                continue;
            }
            let torques = bench.material.decisions.torques.at(id, &places).into_iter();
            let passes = torques.flat_map(|(torque, _)| torque.all_passes());
            for pass in passes.flat_map(|passes| passes_worked(again, passes)) {
                if let Pass::Torque(low, high) = pass {
                    add((*low, *high));
                }
            }
        }
    }
    found
}
