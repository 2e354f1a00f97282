//! Key data: one page for the wall. Which way it turns, what it holds, what the main fasteners are tightened to.

use super::bench::Bench;
use super::fastener;
use super::front::end_word;
use super::questions::columns;
use super::sheet::{Block, Cell, Sheet, Table, Text};
use super::tighten::passes_value;
use crate::plan::words;
use crate::procedure::model::{
    End, FastenerSet, KeyDatum, Measure, Pass, Rotation, SetId, Sourced, Tightening,
};
use crate::quantity::{pair, range_pair};

/// The key data sheet; none if the family states nothing of the kind.
pub(super) fn key_data(bench: &Bench) -> Vec<Sheet> {
    let Some(family) = &bench.procedure.family else { return Vec::new() };
    let mut facts = Vec::new();
    let mut fact = |name: &str, value: String| facts.push((Text::plain(name), Text::bold(value)));
    if let Some(end) = family.number_one {
        fact("Number one", format!("at the {}", end_word(end)));
    }
    if let Some((rotation, end)) = family.turns {
        let way = match rotation {
            Rotation::Clockwise => "clockwise",
            Rotation::Anticlockwise => "anticlockwise",
        };
        fact("Turns", format!("{way}, seen from the {}", end_word(end)));
    }
    if let Some(end) = family.sides_seen_from {
        let other = if end == End::Rear { "looking forward" } else { "looking aft" };
        fact("Left and right", format!("as seen from the {}, {other}", end_word(end)));
    }
    if !family.firing_order.is_empty() {
        fact("Firing order", family.firing_order.join(" – "));
    }
    let mut blocks = vec![Block::Facts(facts)];
    let rows: Vec<Vec<Cell>> = family.key_data.iter().map(datum).collect();
    if !rows.is_empty() {
        blocks.push(Block::Table(Table {
            caption: Text::default(),
            columns: columns(&[("What", 4.0), ("Value", 4.0), ("From", 3.0)]),
            rows,
        }));
    }
    let (torques, origins) = torques(bench);
    if !torques.is_empty() {
        blocks.push(Block::Heading { level: 2, text: Text::plain("Main torques"), anchor: None });
        blocks.push(Block::Table(Table {
            caption: Text::default(),
            columns: columns(&[("Fasteners", 4.0), ("Torque, pass by pass", 4.6), ("Condition", 3.4)]),
            rows: torques,
        }));
        if !origins.is_empty() {
            blocks.push(Block::Paragraph(Text::plain(format!("Torques from {}.", words::list(&origins)))));
        }
    }
    vec![Sheet {
        name: "key".to_owned(),
        title: format!("{}: key data", family.naming.title),
        subtitle: "For the wall".to_owned(),
        blocks,
        labels: None,
    }]
}

fn datum(datum: &KeyDatum) -> Vec<Cell> {
    let value = match (datum.low, datum.high) {
        (None, _) => Cell::Blank("not known".to_owned()),
        (Some(Measure::Amount(low)), Some(Measure::Amount(high))) => {
            Cell::Text(Text::bold(range_pair(low, high).to_string()))
        }
        (Some(Measure::Amount(value)), _) => Cell::Text(Text::bold(pair(value).to_string())),
        (Some(low), Some(high)) => Cell::Text(Text::bold(format!("{} to {}", low.printed(), high.printed()))),
        (Some(value), None) => Cell::Text(Text::bold(value.printed())),
    };
    vec![
        Cell::Text(Text::plain(datum.name.clone())),
        value,
        Cell::Text(Text::plain(datum.origin.clone().unwrap_or_else(|| "not stated".to_owned()))),
    ]
}

/// Stated torques of what is critical, and where they come from; if nothing is marked critical, of every joint.
fn torques(bench: &Bench) -> (Vec<Vec<Cell>>, Vec<String>) {
    let procedure = bench.procedure;
    let stated: Vec<(SetId, &FastenerSet, &Sourced<Tightening>, &[Pass])> = (0u32..)
        .map(SetId)
        .zip(&procedure.sets)
        .filter_map(|(id, set)| {
            let sourced = crate::plan::tightening_of(procedure, id)?;
            match &sourced.value {
                Tightening::Passes(passes) => Some((id, set, sourced, passes.as_slice())),
                _ => None,
            }
        })
        .collect();
    let critical = |id: SetId, set: &FastenerSet| {
        set.critical || procedure.joints.iter().any(|joint| joint.critical && joint.has(id))
    };
    let some_critical = stated.iter().any(|(id, set, ..)| critical(*id, set));
    let mut rows = Vec::new();
    let mut origins: Vec<String> = Vec::new();
    for (id, set, sourced, passes) in stated {
        if some_critical && !critical(id, set) {
            continue;
        }
        let thread = fastener::thread(set).map(|thread| format!(", {thread}")).unwrap_or_default();
        let name = words::capital(&words::many(&set.naming.title, set.count));
        rows.push(vec![
            Cell::Text(Text::plain(name + &thread)),
            Cell::Text(Text::bold(passes_value(passes))),
            Cell::Text(Text::plain(fastener::condition(procedure, set))),
        ]);
        if let Some(origin) = sourced.origin.clone().filter(|origin| !origins.contains(origin)) {
            origins.push(origin);
        }
    }
    origins.sort();
    (rows, origins)
}
