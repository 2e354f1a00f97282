//! Key data: one page for the wall. Which way it turns, what it holds, what the main fasteners are tightened to.

use std::collections::BTreeSet;

use super::bench::Bench;
use super::desk::sizes_now;
use super::fastener;
use super::questions::columns;
use super::sources::Sources;
use super::tighten::torque_words;
use crate::decide::{GoesIn, set_goes_in};
use crate::decide::{Torque, by_answer, shared_name};
use crate::english::spaced;
use crate::plan::{PlannedAct, fastened, words};
use crate::procedure::model::{
    Axis, AxisId, Binding, Cycle, Datum, Deed, End, Family, FastenerSet, FasteningWork, Grouping, Joint,
    KeyDatum, Measure, Place, Procedure, Rotation, SetId, View,
};
use crate::quantity::{pair, range_pair};
use crate::sheet::{
    Block, Cell, Drawing, Figure, PlanDrawing, PlanRow, Sheet, SheetKind, Table, Text, Turning,
};

/// Degrees by which two cylinders may lie apart and still come to their tops together. Common practice, no source.
const SAME: f64 = 0.5;

/// The key data sheet; none if the family states nothing of the kind.
pub(super) fn key_data(bench: &Bench) -> Vec<Sheet> {
    let Some(family) = &bench.procedure.family else { return Vec::new() };
    let mut blocks: Vec<Block> = plan(bench, family).into_iter().collect();
    // What the figure shows isn't said again.
    let facts = facts(family, blocks.is_empty());
    let now = sizes_now(bench);
    if !now.is_empty() {
        blocks.push(Block::Paragraph(
            Text::bold(format!("Not standard on this {}: ", bench.procedure.whole()))
                .and(format!("{}.", now.join("; "))),
        ));
    }
    if !facts.is_empty() {
        blocks.push(Block::Facts(facts));
    }
    let mut sources = bench.origins.clone();
    let data: Vec<[Cell; 2]> =
        family.key_data.iter().map(|datum| self::datum(bench.procedure, datum, &mut sources)).collect();
    blocks.extend(two_up(data));
    let torques = torques(bench, &mut sources);
    if !torques.is_empty() {
        blocks.push(Block::Heading { level: 2, text: Text::plain("Main torques"), anchor: None });
        blocks.push(Block::Table(Table {
            caption: Text::default(),
            columns: columns(&[("Fasteners", 2.6), ("Torque, pass by pass", 4.8), ("Oiled or dry", 3.5)]),
            rows: torques,
        }));
    }
    blocks.extend(sources.told());
    if blocks.is_empty() {
        return Vec::new();
    }
    vec![Sheet::new(SheetKind::Key, format!("{}: key data", family.naming.title), "", blocks)]
}

/// The engine from above, where the family says at which end number one is and an axis holds the firing order.
fn plan(bench: &Bench, family: &Family) -> Option<Block> {
    let end = family.number_one?;
    let numbered = |axis: &&Axis| {
        !family.firing_order.is_empty()
            && axis.positions.len() == family.firing_order.len()
            && family.firing_order.iter().all(|place| axis.positions.contains(place))
    };
    let axis = bench.procedure.axes.iter().find(numbered)?;
    let (rows, sided) = rows(bench.procedure, axis, (end, family.sides_seen_from));
    let in_banks = rows.len() > 1;
    // With the front to the left, the left side as one looks forward lies below.
    let (above, below) = match family.sides_seen_from {
        Some(End::Rear) => ("RIGHT", "LEFT"),
        Some(End::Front) => ("LEFT", "RIGHT"),
        None => ("", ""),
    };
    let (above, below) = if in_banks && !sided { ("", "") } else { (above, below) };
    let turns = family.turns.map(|(rotation, from)| {
        let clockwise = rotation == Rotation::Clockwise;
        let way = if clockwise { "clockwise" } else { "anticlockwise" };
        let cycle = family.cycle.map_or_else(String::new, |cycle| format!("; {}", cycle_word(cycle)));
        let words = format!("turns {way}, seen from the {}{cycle}", family.end_name(from));
        Turning { clockwise, at_front: from == End::Front, words }
    });
    let said = turns.as_ref().map(|turns| format!(" It {}.", turns.words)).unwrap_or_default();
    let in_words = |row: &PlanRow| {
        let name = if row.name.is_empty() { String::new() } else { format!("{}: ", row.name) };
        name + &row.places.join(", ")
    };
    let front = family.end_name(End::Front);
    let clock = clock(bench.procedure, family);
    // In words it is told to whoever can't see it.
    let (dial, dial_told) = if clock.is_empty() {
        (String::new(), String::new())
    } else {
        let told =
            format!(" Dial: which piston is up, and after how far the others are: {}.", clock_words(&clock));
        (" Dial: which piston is up.".to_owned(), told)
    };
    let alternative = format!(
        "The {} from above, {front} to the left. From {front} to {}: {}. Number one is at the {}.{said} Firing order {}.{dial_told}",
        bench.procedure.whole(),
        family.end_name(End::Rear),
        rows.iter().map(in_words).collect::<Vec<_>>().join("; "),
        family.end_name(end),
        family.firing_order.join(", ")
    );
    let sides =
        family.sides_seen_from.map(|end| format!("; sides as seen from the {}", family.end_name(end)));
    let sides = sides.unwrap_or_default();
    Some(Block::Figure(Figure {
        caption: Text::plain(
            (if in_banks && sided {
                format!("Numbering, from above{sides}. A diagram with a row for each bank, not to scale.")
            } else if in_banks {
                format!(
                    "Numbering, from above{sides}. A diagram with a row for each bank, not to scale; on which side a bank \
                 lies it doesn't show."
                )
            } else {
                format!("Numbering, from above{sides}. Not to scale.")
            }) + &dial,
        ),
        alternative,
        drawing: Drawing::Plan(PlanDrawing {
            front: front.to_owned(),
            rows,
            turns,
            above: above.to_owned(),
            below: below.to_owned(),
            clock: clock.into_iter().map(|(turn, together)| (turn, together.join(" · "))).collect(),
            beside: format!("Firing order {}", family.firing_order.join(" – ")),
        }),
    }))
}

/// How far the crankshaft turns, as it runs, until each cylinder is at its top dead centre, from where the first of the firing
/// order fires: in degrees below a turn, with the cylinders that come there together. Nothing where that isn't known.
fn clock(procedure: &Procedure, family: &Family) -> Vec<(f64, Vec<String>)> {
    let Some(firing) = procedure.firing().filter(|firing| firing.cylinders() > 1) else { return Vec::new() };
    let mut places: Vec<(f64, Vec<String>)> = Vec::new();
    for (index, name) in family.firing_order.iter().enumerate() {
        let Some(behind) = firing.behind_the_first(index) else { return Vec::new() };
        let turn = behind.rem_euclid(360.0);
        match places.iter_mut().find(|(known, _)| (known - turn).abs() < SAME) {
            Some((_, together)) => together.push(name.clone()),
            None => places.push((turn, vec![name.clone()])),
        }
    }
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    places
}

/// What the dial shows, in words: `1 at the top; 2 after 240°`.
fn clock_words(clock: &[(f64, Vec<String>)]) -> String {
    let told = clock.iter().map(|(turn, together)| {
        let names = words::list(together);
        if *turn < SAME {
            return format!("{names} at the top");
        }
        format!("{names} after {}°", crate::quantity::figure(*turn, u8::from(turn.fract() > 0.05)))
    });
    told.collect::<Vec<_>>().join("; ")
}

/// The positions of an axis from the front to the rear, in a row for each of its groups, if it is in groups one way; and
/// whether the rows lie on the sides on which these are.
fn rows(
    procedure: &Procedure,
    axis: &Axis,
    (number_one, seen_from): (End, Option<End>),
) -> (Vec<PlanRow>, bool) {
    let row = |name: String, mut places: Vec<String>| {
        if number_one == End::Rear {
            places.reverse();
        }
        PlanRow { name, places }
    };
    let sides_of = |grouping: &Grouping| -> Vec<Option<View>> {
        let banks = procedure.axis(grouping.by).positions.len();
        (0..banks).map(|bank| side_of(procedure, grouping.by, bank)).collect()
    };
    // Of several ways of grouping, the one whose groups lie on the two sides.
    let sided = |grouping: &&Grouping| matches!(sides_of(grouping).as_slice(), [Some(first), Some(second)] if first != second);
    let grouping = match axis.groupings.as_slice() {
        [only] => Some(only),
        several => several.iter().find(sided),
    };
    let Some(grouping) = grouping else { return (vec![row(String::new(), axis.positions.clone())], true) };
    let banks = procedure.axis(grouping.by).positions.iter().enumerate();
    let of = |bank: usize| {
        let places = axis.positions.iter().zip(&grouping.of);
        places.filter(|(_, of)| usize::from(**of) == bank).map(|(place, _)| place.clone()).collect()
    };
    let mut rows: Vec<PlanRow> = banks.map(|(bank, name)| row(spaced(name), of(bank))).collect();
    let sides = sides_of(grouping);
    // With the front to the left, the left side as one looks forward lies below.
    let above = match seen_from {
        Some(End::Rear) => View::Right,
        Some(End::Front) => View::Left,
        None => return (rows, false),
    };
    match sides.as_slice() {
        [Some(first), Some(second)] if first != second => {
            if *first != above {
                rows.reverse();
            }
            (rows, true)
        }
        _ => (rows, false),
    }
}

/// The side on which a bank lies: that from which a joint of it is seen. Its name carries no meaning.
fn side_of(procedure: &Procedure, banks: AxisId, bank: usize) -> Option<View> {
    let seen = |joint: &Joint| {
        let places: Vec<Place> = procedure.places(&joint.axes).collect();
        let here = |place: &Place| {
            let bound = procedure.bound(&joint.axes, *place);
            bound.position(banks).map(usize::from) == Some(bank)
        };
        let views = places.into_iter().filter(here).filter_map(|place| {
            joint.seen.at(&procedure.bound(&joint.axes, place)).map(|seen| seen.value.view)
        });
        views.filter(|view| matches!(view, View::Left | View::Right)).collect::<Vec<View>>()
    };
    let all: Vec<View> = procedure.joints.iter().flat_map(seen).collect();
    let first = *all.first()?;
    all.iter().all(|view| *view == first).then_some(first)
}

/// Facts about the family; what a figure shows too only where there is none.
fn facts(family: &Family, all: bool) -> Vec<(Text, Text)> {
    let mut facts = Vec::new();
    let mut fact = |name: &str, value: String| facts.push((Text::plain(name), Text::bold(value)));
    if let Some(end) = family.number_one.filter(|_| all) {
        fact("Number one", format!("at the {}", family.end_name(end)));
    }
    if let Some((rotation, end)) = family.turns.filter(|_| all) {
        let way = match rotation {
            Rotation::Clockwise => "clockwise",
            Rotation::Anticlockwise => "anticlockwise",
        };
        fact("Turns", format!("{way}, seen from the {}", family.end_name(end)));
    }
    if let Some(end) = family.sides_seen_from.filter(|_| all) {
        let looking = match (&family.ends, end) {
            (Some(_), _) => "",
            (None, End::Rear) => ", looking forward",
            (None, End::Front) => ", looking aft",
        };
        fact("Left and right", format!("as seen from the {}{looking}", family.end_name(end)));
    }
    if !family.firing_order.is_empty() && all {
        fact("Firing order", family.firing_order.join(" – "));
    }
    // Where the figure says which way it turns, it says this too.
    if let Some(cycle) = family.cycle.filter(|_| all || family.turns.is_none()) {
        fact("Cycle", cycle_word(cycle).to_owned());
    }
    facts
}

fn cycle_word(cycle: Cycle) -> &'static str {
    if cycle == Cycle::TwoStroke { "two-stroke" } else { "four-stroke" }
}

/// Data in two columns of the page: a line for each that is known, and a blank for what isn't.
fn two_up(data: Vec<[Cell; 2]>) -> Vec<Block> {
    let (mut known, mut open) = (Vec::new(), Vec::new());
    for cells in data {
        match cells {
            [Cell::Text(what), Cell::Text(value)] => {
                let mut line = what.and(": ");
                line.0.extend(value.0);
                known.push(vec![Cell::Text(line)]);
            }
            cells => open.push(Vec::from(cells)),
        }
    }
    let of = |headings: &[(&str, f64)], rows: Vec<Vec<Cell>>| {
        let table = Table { caption: Text::default(), columns: columns(headings), rows };
        // One alone has the whole width, and so one line.
        let alone = table.columns.len() > 1 && table.rows.len() == 1;
        let block = if alone { Block::Table } else { Block::Halves };
        (!table.rows.is_empty()).then(|| block(table))
    };
    let known = of(&[("What, and how much", 1.0)], known);
    known.into_iter().chain(of(&[("What", 3.0), ("Value", 3.8)], open)).collect()
}

fn datum(procedure: &Procedure, datum: &KeyDatum, sources: &mut Sources) -> [Cell; 2] {
    let name = Cell::Text(Text::plain(datum.name.clone()));
    let bound = Binding::default();
    if datum.value.chosen_by(&bound).next().is_some() {
        let words = by_answer(procedure, datum.value.each(&bound), |value| {
            value.value.map_or_else(|| "not known".to_owned(), measured)
        });
        let origins = datum.value.each(&bound).filter_map(|(value, _)| value.origin.as_ref());
        let text = origins.fold(Text::bold(words), |text, origin| text.and(sources.mark(Some(origin))));
        return [name, Cell::Text(text)];
    }
    let stated = datum.value.at(&bound).and_then(|stated| Some((stated.value?, &stated.origin)));
    let Some((value, origin)) = stated else { return [name, Cell::Blank("not known".to_owned())] };
    [name, Cell::Text(Text::bold(measured(value)).and(sources.mark(origin.as_ref())))]
}

fn measured(datum: Datum) -> String {
    match (datum.low, datum.high) {
        (Measure::Amount(low), Some(Measure::Amount(high))) => range_pair(low, high).to_string(),
        (Measure::Amount(value), _) => pair(value).to_string(),
        (low, Some(high)) => format!("{} to {}", low.printed(), high.printed()),
        (value, None) => value.printed(),
    }
}

/// What some work of the phase tightens.
fn tightened(bench: &Bench, by: &[FasteningWork]) -> BTreeSet<SetId> {
    let tightens =
        |act: &&PlannedAct| matches!(&act.act.deed, Deed::Fasten { work, .. } if by.contains(work));
    let acts = bench.steps().flat_map(|planned| bench.acts(planned)).filter(tightens);
    acts.flat_map(|act| fastened(bench.procedure, &act.things)).map(|(id, _)| id).collect()
}

/// Stated torques of what the phase tightens and is critical; if nothing of it is marked critical, of all that it tightens.
/// What is only tightened once more, to the last of them, has that at its step.
fn torques(bench: &Bench, sources: &mut Sources) -> Vec<Vec<Cell>> {
    let procedure = bench.procedure;
    let critical = |id: SetId, set: &FastenerSet| {
        set.critical || procedure.joints.iter().any(|joint| joint.critical && joint.has(id))
    };
    let stated = |id: &SetId| {
        let goes_in = |place: &Place| set_goes_in(bench.material.decisions, *id, *place) != GoesIn::Nothing;
        let places: Vec<Place> = procedure.places(&procedure.set(*id).axes).filter(goes_in).collect();
        let torques = bench.material.decisions.torques.at(*id, &places);
        torques.iter().any(|(torque, _)| !torque.all_passes().is_empty())
    };
    // What another phase tightens stands with that phase.
    let now = tightened(bench, &[FasteningWork::Tighten, FasteningWork::Retighten]);
    let pass_by_pass = tightened(bench, &[FasteningWork::Tighten]);
    let sets: Vec<(SetId, &FastenerSet)> =
        procedure.sets.numbered().filter(|(id, _)| now.contains(id) && stated(id)).collect();
    let some_critical = sets.iter().any(|(id, set)| critical(*id, set));
    let mut rows = Vec::new();
    for (id, set) in sets {
        if !pass_by_pass.contains(&id) || (some_critical && !critical(id, set)) {
            continue;
        }
        let places: Vec<Place> = procedure.places(&set.axes).collect();
        let name = words::capital(&fastener::all(procedure, id)) + fastener::hand(set);
        let condition = fastener::condition(procedure, set).unwrap_or_else(|| "not stated".to_owned());
        for (torque, at) in bench.material.decisions.torques.at(id, &places) {
            let origin = if let Torque::Passes(_, origin) = torque { origin.as_ref() } else { None };
            let part = if at.len() < places.len() {
                format!(", {}", shared_name(procedure, &set.axes, &at))
            } else {
                String::new()
            };
            let words = torque_words(bench, id, torque, false);
            rows.push(vec![
                Cell::Text(Text::plain(name.clone() + &part)),
                Cell::Text(Text::bold(words).and(sources.mark(origin))),
                Cell::Text(Text::plain(condition.clone())),
            ]);
        }
    }
    rows
}
