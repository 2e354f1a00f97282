//! Readings and looks on a step: what is measured where, limits beside the blanks, results to tick.

use super::bench::{Bench, spaced};
use super::instruct::with_note;
use super::sheet::{Boxes, Cell, Column, StepLine, Table, Text};
use crate::plan::words;
use crate::plan::{Placed, PlacedKind, PlannedAct};
use crate::procedure::model::{Gauge, GaugeId, LookId};
use crate::quantity::{pair, range_pair};

/// Blanks for the readings of an act.
pub(super) fn gauge_lines(bench: &Bench, act: &PlannedAct) -> Vec<StepLine> {
    let mut lines = Vec::new();
    for placed in &act.things {
        if let PlacedKind::Gauge(id) = placed.kind {
            lines.push(gauge_line(bench, placed, id, act.act.note.as_deref()));
        }
    }
    lines
}

fn gauge_line(bench: &Bench, placed: &Placed, id: GaugeId, note: Option<&str>) -> StepLine {
    let gauge = bench.procedure.gauge(id);
    let mut text = Text::bold(gauge.naming.title.clone());
    if let Some((instrument, resolution)) = &gauge.instrument {
        let resolution = resolution.map(|step| format!(", read to {}", step.printed())).unwrap_or_default();
        text = text.and(format!(", {instrument}{resolution}"));
    }
    text = with_note(text.and("."), note);
    let unit = unit(bench, gauge);
    let mut blanks = Vec::new();
    for place in bench.place_names(placed) {
        for at in spots(gauge) {
            let name = [place.as_str(), at.as_str()].into_iter().filter(|word| !word.is_empty());
            blanks.push(name.collect::<Vec<_>>().join(" "));
        }
    }
    StepLine::Reading { text, limit: limit(gauge), unit, blanks }
}

/// The unit behind the blanks of a gauge, as this shop measures.
pub(super) fn unit(bench: &Bench, gauge: &Gauge) -> String {
    let measured = |unit| bench.material.shop.map_or(unit, |shop| shop.crib.measured_in(unit));
    gauge.unit.map(|unit| measured(unit).printed.to_owned()).unwrap_or_default()
}

/// Names of the readings at one place: station and direction.
pub(super) fn spots(gauge: &Gauge) -> Vec<String> {
    let stations: Vec<String> = match gauge.stations.as_slice() {
        [] => vec![String::new()],
        stations => stations
            .iter()
            .map(|(name, depth)| match depth {
                Some(depth) => format!("{} ({})", spaced(name), depth.printed()),
                None => spaced(name),
            })
            .collect(),
    };
    let directions: Vec<String> = match gauge.directions.as_slice() {
        [] => vec![String::new()],
        directions => directions.iter().map(|name| spaced(name)).collect(),
    };
    stations
        .iter()
        .flat_map(|station| {
            directions.iter().map(move |direction| {
                [station.as_str(), direction.as_str()]
                    .into_iter()
                    .filter(|word| !word.is_empty())
                    .collect::<Vec<_>>()
                    .join(" ")
            })
        })
        .collect()
}

/// Limits as made and as worn: `made 0.05 to 0.11 mm, worn 0.15 mm`. An unknown limit says so.
pub(super) fn limit(gauge: &Gauge) -> String {
    let mut parts = Vec::new();
    if let Some(made) = &gauge.made {
        let (low, high) = made.value;
        let made = high.map_or_else(|| pair(low), |high| range_pair(low, high));
        parts.push(format!("as made {made}"));
    }
    if let Some(worn) = &gauge.worn {
        parts.push(match worn.value {
            Some(limit) => format!("worn limit {}", pair(limit)),
            None => "worn limit not known".to_owned(),
        });
    }
    parts.join(", ")
}

/// Results to tick for the looks of an act.
pub(super) fn look_lines(bench: &Bench, act: &PlannedAct) -> Vec<StepLine> {
    let mut lines = Vec::new();
    for placed in &act.things {
        if let PlacedKind::Look(id) = placed.kind {
            lines.push(look_line(bench, placed, id, act.act.note.as_deref()));
        }
    }
    lines
}

fn look_line(bench: &Bench, placed: &Placed, id: LookId, note: Option<&str>) -> StepLine {
    let look = bench.procedure.look(id);
    let by = look.by.as_ref().map(|by| format!(", {by}")).unwrap_or_default();
    let text = with_note(Text::bold(look.naming.title.clone()).and(format!("{by}.")), note);
    let results: Vec<String> = look.results.iter().map(|result| spaced(result)).collect();
    let places = bench.place_names(placed);
    if places.len() < 2 {
        return StepLine::Act { text, boxes: Boxes::Grid(results) };
    }
    let mut columns = vec![Column { heading: "Place".to_owned(), share: 2.0, to_the_right: false }];
    columns.extend(results.iter().map(|result| Column {
        heading: words::capital(result),
        share: 1.0,
        to_the_right: false,
    }));
    let row = |name: String| {
        let mut row = vec![Cell::Text(Text::bold(name))];
        row.extend(results.iter().map(|_| Cell::Tick));
        row
    };
    StepLine::Table(Table { caption: text, columns, rows: places.into_iter().map(row).collect() })
}
