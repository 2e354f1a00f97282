//! What a step repeats until a reading is within its limits: what is done between two readings, and a row for each try.

use super::bench::Bench;
use super::reading::{column, unit};
use crate::plan::words;
use crate::plan::{PlacedKind, PlannedAct, PlannedStep};
use crate::procedure::model::Repeat;
use crate::sheet::{Cell, StepLine, Table, Text};

/// The loop about a reading that is taken again until it is within its limits, with a row for each try.
pub(super) fn tries(bench: &Bench, planned: &PlannedStep, act: &PlannedAct) -> Vec<StepLine> {
    let mut lines = Vec::new();
    for Repeat { until, at_most, work, span: _ } in &bench.step(planned).repeats {
        let Some(placed) = act.things.iter().find(|placed| placed.kind == PlacedKind::Gauge(*until)) else {
            continue;
        };
        let gauge = bench.procedure.gauge(*until);
        let text =
            Text::bold("Within the limits above: go on. Otherwise: ").and(words::sentence(work)).and_bold(
                format!(" Read again, {at_most} tries at most. Still beyond after the last: stop, and ask."),
            );
        lines.push(StepLine::Note(text));
        let unit = unit(bench, gauge);
        let spots = !gauge.stations.is_empty() || !gauge.directions.is_empty();
        let names = bench.place_names(placed);
        let heading = |name: &String| match (name.is_empty(), spots) {
            (true, true) => "Read, the worst".to_owned(),
            (true, false) => "Read".to_owned(),
            (false, true) => format!("{}, the worst", words::capital(name)),
            (false, false) => words::capital(name),
        };
        let mut columns = vec![column("Try".to_owned(), 0.5)];
        columns.extend(names.iter().map(|name| column(heading(name), 1.6)));
        columns.push(column("Changed then".to_owned(), 3.0));
        let row = |count: u32| {
            let mut row = vec![Cell::Text(Text::bold(count.to_string()))];
            row.extend(names.iter().map(|_| Cell::Blank(unit.clone())));
            // Behind the last try nothing is changed any more.
            row.push(if count < *at_most {
                Cell::Blank(String::new())
            } else {
                Cell::Text(Text::plain("stop"))
            });
            row
        };
        lines.push(StepLine::Table(Table {
            caption: Text::plain(
                "Each try in its row. The last one counts: it goes into the blank above as well.",
            ),
            columns,
            rows: (1..=*at_most).map(row).collect(),
        }));
    }
    lines
}
