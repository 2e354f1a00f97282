//! Open questions: what nobody has said yet, what waits for it, and room for the answer.

use std::collections::BTreeMap;

use super::bench::Bench;
use super::fastener;
use super::lengths::lengths_open;
use super::numbers::kept;
use super::reading;
use crate::decide::{Asked, ToMeasure, Torque, Verdict};
use crate::english::spaced;
use crate::network::QuestionKind;
use crate::plan::words::{self, capital};
use crate::plan::{Hold, HoldCause, Placed, PlannedStep, Standing, fastened};
use crate::procedure::model::{Deed, FasteningWork, Phase, Reuse, SetId};
use crate::sheet::{Block, Cell, Column, Entry, Field, Form, Sheet, SheetKind, Table, Text};

/// Every hold of the phase with the steps that it holds, in order of the first.
pub(super) fn holds<'b>(bench: &'b Bench) -> Vec<(Hold, Vec<&'b PlannedStep>)> {
    let mut found: Vec<(Hold, Vec<&PlannedStep>)> = Vec::new();
    for planned in bench.steps() {
        let Standing::Held(holds) = &planned.standing else { continue };
        for hold in holds {
            // Two parts that hang on one reading wait for one thing.
            match found.iter_mut().find(|(known, _)| known.text == hold.text) {
                Some((_, steps)) if steps.last().is_some_and(|last| last.key == planned.key) => {}
                Some((_, steps)) => steps.push(planned),
                None => found.push((hold.clone(), vec![planned])),
            }
        }
    }
    found
}

/// The sheet of open questions; none if nothing is open.
pub(super) fn questions(bench: &Bench) -> Vec<Sheet> {
    let blocks = open(bench);
    if blocks.is_empty() {
        return Vec::new();
    }
    vec![Sheet::new(SheetKind::Questions, "Open questions", "", blocks)]
}

/// What is open, as it stands on the front sheet or on one of its own.
pub(super) fn open(bench: &Bench) -> Vec<Block> {
    let holds = holds(bench);
    let mut blocks = Vec::new();
    let asked: Vec<&(Hold, Vec<&PlannedStep>)> =
        holds.iter().filter(|(hold, _)| is_ask(bench, hold)).collect();
    if !asked.is_empty() {
        blocks.push(heading("To be decided"));
        blocks.push(Block::Paragraph(Text::plain(
            "Tick an answer, write it into the job record, and print again: the steps below wait for it.",
        )));
        blocks.push(Block::Table(ask_table(bench, &asked)));
    }
    let others: Vec<&(Hold, Vec<&PlannedStep>)> =
        holds.iter().filter(|(hold, _)| !is_ask(bench, hold)).collect();
    if !others.is_empty() {
        blocks.push(heading("To be found out"));
        let row = |(hold, steps): &&(Hold, Vec<&PlannedStep>)| {
            vec![
                Cell::Text(bench.hold_text(hold, capital(&hold.text))),
                Cell::Text(bench.step_numbers(steps)),
                Cell::Blank(String::new()),
            ]
        };
        blocks.push(Block::Table(Table {
            caption: Text::default(),
            columns: columns(&[
                ("Waited for", 5.0),
                ("Steps that wait", 2.0),
                ("Found, and from where", 3.0),
            ]),
            rows: others.iter().map(row).collect(),
        }));
    }
    let unknown = unknowns(bench, &holds);
    if !unknown.is_empty() {
        blocks.push(heading("To be written down as it comes apart"));
        blocks.push(Block::Paragraph(Text::plain(
            "The procedure doesn't know these. They hold nothing in this packet; the steps have blanks for them.",
        )));
        let row = |(text, steps): (String, Vec<&PlannedStep>)| {
            vec![Cell::Text(Text::plain(text)), Cell::Text(bench.step_numbers(&steps))]
        };
        blocks.push(Block::Halves(Table {
            caption: Text::default(),
            columns: columns(&[("What", 5.0), ("Step", 0.8)]),
            rows: unknown.into_iter().map(row).collect(),
        }));
    }
    blocks.extend(still_open(bench));
    let unsaid = oiled_or_dry(bench);
    if !unsaid.0.is_empty() {
        blocks.push(heading("Oiled or dry?"));
        // The register of the build marks them.
        let marked = bench.phase == Phase::Build;
        let these = if marked { "what has a dash in the torque register" } else { "these" };
        blocks.push(Block::Paragraph(Text::plain(format!(
            "A torque holds for threads as its maker means them, oiled or dry. The procedure doesn't say which for \
             {these}: find it out before the step that tightens them.",
        ))));
        blocks.extend((!marked).then_some(Block::Paragraph(unsaid)));
    }
    blocks
}

fn heading(text: &str) -> Block {
    Block::Heading { level: 2, text: Text::plain(text), anchor: None }
}

pub(super) fn columns(headings: &[(&str, f64)]) -> Vec<Column> {
    headings
        .iter()
        .map(|(heading, share)| Column { heading: (*heading).to_owned(), share: *share, to_the_right: false })
        .collect()
}

fn is_ask(bench: &Bench, hold: &Hold) -> bool {
    matches!(hold.cause, HoldCause::Question(id)
        if matches!(bench.network.questions[id.0 as usize].kind, QuestionKind::Ask(_)))
}

fn ask_table(bench: &Bench, asked: &[&(Hold, Vec<&PlannedStep>)]) -> Table {
    let mut rows = Vec::new();
    for (hold, steps) in asked {
        let HoldCause::Question(id) = hold.cause else { continue };
        let question = &bench.network.questions[id.0 as usize];
        let QuestionKind::Ask(ask) = question.kind else { continue };
        let id = bench.procedure.ask(ask).naming.id.as_str();
        for (index, answer) in question.answers.iter().enumerate() {
            let first = index == 0;
            let title = if first { bench.procedure.ask(ask).naming.title.clone() } else { String::new() };
            let steps = if first { bench.step_numbers(steps) } else { Text::default() };
            rows.push(vec![
                Cell::Text(Text::plain(title)),
                kept(Cell::Tick, &["answers", id], Form::Word(question.answers.clone())),
                Cell::Text(Text::bold(spaced(answer))),
                Cell::Text(steps),
            ]);
        }
    }
    Table {
        caption: Text::default(),
        columns: columns(&[("Question", 5.0), ("", 0.7), ("Answer", 2.0), ("Steps that wait", 2.0)]),
        rows,
    }
}

/// What is tightened to a torque of which nobody says whether its threads are oiled, each with the steps that tighten it.
fn oiled_or_dry(bench: &Bench) -> Text {
    let mut sets: BTreeMap<SetId, Vec<&PlannedStep>> = BTreeMap::new();
    for planned in bench.open_steps() {
        for act in bench.acts(planned) {
            let Deed::Fasten { work: FasteningWork::Tighten, to: None, .. } = act.act.deed else { continue };
            for set in sets_of(bench, &act.things) {
                let torque = bench.material.decisions.torques.everywhere(set);
                let by_torque = torque != Some(&Torque::ByFeel);
                if by_torque && fastener::condition(bench.procedure, bench.procedure.set(set)).is_none() {
                    sets.entry(set).or_default().push(planned);
                }
            }
        }
    }
    let mut text = Text::default();
    for (index, (set, steps)) in sets.into_iter().enumerate() {
        let comma = if index == 0 { "" } else { "; " };
        text = text.and(format!("{comma}{}: step ", fastener::all(bench.procedure, set)));
        text.0.extend(bench.step_numbers(&steps).0);
    }
    if text.0.is_empty() { text } else { text.and(".") }
}

fn still_open(bench: &Bench) -> Vec<Block> {
    let row = |to_measure: &ToMeasure| {
        let procedure = bench.procedure;
        let (name, blank) = match to_measure.asked {
            Asked::Gauge(id, place) => {
                let gauge = procedure.gauge(id);
                let name = words::at_place(procedure, &gauge.naming, &gauge.axes, Some(place));
                let blank = Cell::Blank(reading::unit(bench, gauge));
                let whole = gauge.stations.is_empty() && gauge.directions.is_empty();
                let entry = || reading::entry(bench, (id, place), (None, None), to_measure.occasion);
                (name, if whole { blank.belonging(Field::of(entry())) } else { blank })
            }
            Asked::Look(id, place) => {
                let look = procedure.look(id);
                let name = words::at_place(procedure, &look.naming, &look.axes, Some(place));
                let words = look.results.iter().map(|result| spaced(result)).collect::<Vec<_>>().join(" / ");
                let keys = reading::look_keys(bench, (id, place), to_measure.occasion).to_vec();
                let entry = Entry { keys, form: Form::Word(look.results.clone()), plausible: None };
                (name, Cell::Blank(words).belonging(Field::of(entry)))
            }
            Asked::Ask(id) => (procedure.ask(id).naming.title.clone(), Cell::Blank(String::new())),
        };
        let when = to_measure.occasion.words();
        vec![
            Cell::Text(Text::bold(name)),
            Cell::Text(Text::plain(format!("{when}: {}", to_measure.because))),
            blank,
        ]
    };
    let untaken = bench.material.plan.still_to_take(bench.procedure, bench.material.decisions, bench.phase);
    let rows: Vec<Vec<Cell>> = untaken.into_iter().map(row).collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let words = "The steps that take these are done, and the record has no reading that settles them. They are printed until \
                 they are taken.";
    vec![
        heading("Still to be taken"),
        Block::Paragraph(Text::plain(words)),
        Block::Table(Table {
            caption: Text::default(),
            columns: columns(&[("What", 3.5), ("When, and why", 4.5), ("Reading", 2.5)]),
            rows,
        }),
    ]
}

/// What is unknown of the fasteners that this phase works on, without holding anything.
fn unknowns<'b>(
    bench: &'b Bench,
    holds: &[(Hold, Vec<&PlannedStep>)],
) -> Vec<(String, Vec<&'b PlannedStep>)> {
    let mut sets: BTreeMap<SetId, Vec<&PlannedStep>> = BTreeMap::new();
    for planned in bench.open_steps() {
        for act in bench.acts(planned) {
            for set in sets_of(bench, &act.things) {
                let steps = sets.entry(set).or_default();
                if steps.last().is_none_or(|last| last.key != planned.key) {
                    steps.push(planned);
                }
            }
        }
    }
    let mut found = Vec::new();
    for (id, steps) in sets {
        let set = bench.procedure.set(id);
        let mut what = Vec::new();
        if lengths_open(bench, id) {
            what.push("lengths".to_owned());
        }
        // Where a step waits for the word it has been told above.
        let waited = holds.iter().any(|(hold, _)| hold.cause == HoldCause::Reuse(id));
        let decided = bench.material.decisions.sets.iter().filter(|((set, _), _)| *set == id);
        let open = decided.into_iter().any(|(_, decision)| decision.verdict == Verdict::Open);
        if open && set.reuse.values().any(|said| said.value == Reuse::Unknown) && !waited {
            let they = if !fastener::total(bench.procedure, id).several() { "it" } else { "they" };
            what.push(format!("whether {they} may go back"));
        }
        if !what.is_empty() {
            let name = capital(&fastener::all(bench.procedure, id));
            found.push((format!("{name}: {}", words::list(&what)), steps));
        }
    }
    found.sort_by_key(|(_, steps)| steps.first().and_then(|step| step.number));
    found
}

/// The fastener sets among things, joints taken apart into theirs.
pub(super) fn sets_of(bench: &Bench, things: &[Placed]) -> Vec<SetId> {
    fastened(bench.procedure, things).into_iter().map(|(set, _)| set).collect()
}
