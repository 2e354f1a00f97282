//! The torque register: every tightening of the phase on one list, with what it was done with and by whom.

use std::collections::BTreeSet;

use super::bench::Bench;
use super::bench_notes;
use super::fastener;
use super::joint_figure;
use super::numbers::kept;
use super::questions::columns;
use super::tighten::{passes_of, passes_worked, torque_words};
use crate::decide::{Torque, shared_name};
use crate::plan::{Placed, PlacedKind, PlannedStep, fastened, words};
use crate::procedure::as_fitted;
use crate::procedure::model::{Deed, FasteningWork, Pass, SetId};
use crate::quantity::Unit;
use crate::sheet::{Anchor, Block, Cell, Form, Sheet, SheetKind, Table, Text};

/// The register; none if the phase tightens nothing to a torque.
pub(super) fn torques(bench: &Bench) -> Vec<Sheet> {
    let mut rows = Vec::new();
    let mut before: Option<(SetId, String, String)> = None;
    let units =
        bench.procedure.sets.ids().filter_map(|id| unit_of(bench.material.decisions.torques.everywhere(id)?));
    let units: BTreeSet<&str> = units.map(|unit| unit.printed).collect();
    let one_unit = units.len() < 2;
    let reached = units.into_iter().next().filter(|_| one_unit).map(|unit| unit.to_owned());
    let reached = reached.unwrap_or_else(|| "Reached".to_owned());
    for planned in bench.open_steps().filter(|planned| !planned.trial) {
        let put_on = put_on(bench, planned);
        if !put_on.is_empty() {
            before = None;
        }
        rows.extend(put_on);
        for act in bench.acts(planned) {
            let again = match act.act.deed {
                Deed::Fasten { work: FasteningWork::Tighten, to: None, .. } => false,
                Deed::Fasten { work: FasteningWork::Retighten, .. } => true,
                _ => continue,
            };
            for (id, places) in fastened(bench.procedure, &act.things) {
                let set = bench.procedure.set(id);
                for (torque, at) in bench.material.decisions.torques.at(id, &places) {
                    let words = torque_words(bench, id, torque, again);
                    let value = match torque {
                        Torque::ByFeel => continue,
                        Torque::Passes(passes, _) => {
                            // In the unit in which it is written down; the step has both.
                            let words = passes_of(set, passes_worked(again, passes), None);
                            let word = if again { "again, one at a time: " } else { "" };
                            Text::plain(word).and_bold(words)
                        }
                        Torque::Open => Text::plain("held: not known"),
                        Torque::NoTable => Text::plain("held: the shop's own table was not given"),
                        Torque::NotInTable | Torque::ByAnswer(_) => Text::plain(format!("held: {words}")),
                    };
                    let count = bench.procedure.set_pieces(id, &at);
                    let part = if at.len() < places.len() {
                        format!(", {}", shared_name(bench.procedure, &set.axes, &at))
                    } else {
                        String::new()
                    };
                    let name =
                        words::capital(&words::many(&set.naming.title, count)) + &part + fastener::hand(set);
                    let done = bench_notes::done(bench, planned);
                    let step = planned.key.id(bench.procedure);
                    let number = planned.number.map(|number| number.to_string()).unwrap_or_default();
                    rows.push(vec![
                        Cell::Text(Text::default().and_link(number, bench.anchor(planned))),
                        Cell::Text({
                            let linked = match figure_of(bench, planned, &act.things, id) {
                                Some(figure) => Text::default().and_link(name.clone(), figure),
                                None => Text::plain(name.clone()),
                            };
                            let value = value.and(match fastener::condition(bench.procedure, set) {
                                Some(_) => format!(", {}", fastener::condition_words(bench.procedure, set)),
                                None => "\u{a0}–".to_owned(),
                            });
                            // What is done place by place is told at the first.
                            let now = Some((id, name, value.words()));
                            let again = before == now;
                            before = now;
                            joined(linked, if again { Text::plain("as above") } else { value })
                        }),
                        match done.and_then(|done| done.wrench(&set.naming.id)) {
                            None => {
                                let blank = Cell::Blank(String::new());
                                kept(blank, &["done", &step, "wrench", &set.naming.id], Form::Text)
                            }
                            wrench => recorded(wrench.map(str::to_owned)),
                        },
                        match done.and_then(|done| done.reached(&set.naming.id)) {
                            Some(value) => Cell::Text(Text::plain(value.value.printed())),
                            None => unit_of(torque).map_or_else(
                                || Cell::Text(Text::default()),
                                |unit| {
                                    let keys = ["done", &step, "reached", &set.naming.id];
                                    let beside = if one_unit { "" } else { unit.printed };
                                    let form = Form::Quantity(unit.symbol.to_owned());
                                    kept(Cell::Blank(beside.to_owned()), &keys, form)
                                },
                            ),
                        },
                        recorded(done.map(|done| {
                            bench_notes::signed(&done.signature).trim_start_matches(", ").to_owned()
                        })),
                    ]);
                }
            }
        }
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let table = Table {
        caption: Text::plain(
            "Written down: the wrench, and what was reached. A dash: not said whether oiled or dry.",
        ),
        columns: columns(&[
            ("Step", 0.6),
            ("Fasteners, to what, and how the threads are", 9.0),
            ("Wrench", 1.0),
            (&reached, 1.0),
            ("By, date", 1.0),
        ]),
        rows,
    };
    vec![Sheet::new(
        SheetKind::Torques,
        "Torque register",
        "Filled in as each is done, not afterwards",
        vec![Block::Table(table)],
    )]
}

/// A name and what is said of it.
fn joined(name: Text, said: Text) -> Text {
    let mut text = name.and(": ");
    text.0.extend(said.0);
    text
}

/// What a step puts on and has to set, with room for the hour: it stands with what the step tightens, and is written down there.
fn put_on(bench: &Bench, planned: &PlannedStep) -> Vec<Vec<Cell>> {
    let done = bench_notes::done(bench, planned);
    let step = planned.key.id(bench.procedure);
    let number = planned.number.map(|number| number.to_string()).unwrap_or_default();
    let row = |[supply, sets]: [Text; 2]| {
        let hour = match done.and_then(|done| done.at) {
            Some(at) => Cell::Text(Text::plain(at.to_string())),
            None => kept(Cell::Blank(String::new()), &["done", &step, "at"], Form::Text),
        };
        let signed =
            done.map(|done| bench_notes::signed(&done.signature).trim_start_matches(", ").to_owned());
        let link = Text::default().and_link(number.clone(), bench.anchor(planned));
        let empty = Cell::Text(Text::default());
        vec![Cell::Text(link), Cell::Text(joined(supply, sets)), empty, hour, recorded(signed)]
    };
    super::setting::register(bench, planned).into_iter().map(row).collect()
}

/// The unit in which it is written down what a torque came to; none where it is not tightened to one.
fn unit_of(torque: &Torque) -> Option<&'static Unit> {
    let Torque::Passes(passes, _) = torque else { return None };
    passes.iter().find_map(|pass| match pass {
        Pass::Torque(torque, _) => Some(torque.unit()),
        Pass::Angle(..) => None,
    })
}

/// What the record says, or room to write it.
fn recorded(value: Option<String>) -> Cell {
    value.map_or_else(|| Cell::Blank(String::new()), |value| Cell::Text(Text::plain(value)))
}

/// Where the figure is that shows the order in which a set is tightened, if it is a part of a joint.
fn figure_of(bench: &Bench, planned: &PlannedStep, things: &[Placed], id: SetId) -> Option<Anchor> {
    things.iter().find_map(|placed| match placed.kind {
        PlacedKind::Joint(joint) => {
            let fitted = as_fitted(bench.procedure, bench.procedure.joint(joint), &placed.places);
            let with = fitted.iter().find(|fitted| fitted.joint.has(id))?;
            Some(joint_figure::anchor(bench, planned, &with.joint))
        }
        _ => None,
    })
}
