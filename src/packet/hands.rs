//! How several people share the work of a phase: bars over time, and under them what each does when.

use super::bench::Bench;
use super::questions::columns;
use crate::plan::words::{capital, list};
use crate::plan::{Alone, Crew, PlannedStep, Stint, crew, whole_words};
use crate::sheet::{BarDrawing, Block, Cell, Drawing, Figure, Sheet, SheetKind, Table, Text};

/// Stretch of time that one picture shows, in seconds: bars of a quarter of an hour are wide enough for their number.
/// Our own choice, no source.
const STRETCH: u64 = 4 * 3_600;

/// The sheet of the schedule; none where nobody asked for one, or a step needs more people than there are.
pub(super) fn hands(bench: &Bench) -> Vec<Sheet> {
    let Some(count) = bench.hands else { return Vec::new() };
    let Ok(crew) = crew(bench.procedure, bench.network, bench.material.decisions, &bench.plan, count) else {
        return Vec::new();
    };
    if crew.stints.is_empty() && crew.left_out.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![Block::Paragraph(Text::bold(said(&crew, count)).and(
        " Work overlaps only where neither sets what the other needs. The clock is an estimate from stated times, those of a \
         strip step shared evenly by what undoes it; nobody is to hurry for it. What counts is the order: no step is begun \
         before the steps that stand beside it are over, late or early.",
    ))];
    if !crew.alone.is_empty() {
        blocks.push(Block::Paragraph(alone(bench, &crew.alone)));
    }
    if !crew.left_out.is_empty() {
        let steps: Vec<&PlannedStep> = crew.left_out.iter().map(|at| &bench.plan.steps[*at]).collect();
        let mut text = Text::bold("Not on this sheet: steps ");
        text.0.extend(bench.step_numbers(&steps).0);
        blocks.push(Block::Paragraph(text.and(
            ". They are held, or stand behind a held step. When that is settled, this sheet is made anew.",
        )));
    }
    if !crew.untimed.is_empty() {
        let steps: Vec<&PlannedStep> = crew.untimed.iter().map(|at| &bench.plan.steps[*at]).collect();
        let mut text = Text::bold("No time is stated of steps ");
        text.0.extend(bench.step_numbers(&steps).0);
        blocks
            .push(Block::Paragraph(text.and(": they count as taking none, so it takes longer than shown.")));
    }
    if crew.stints.is_empty() {
        return vec![sheet(bench, count, blocks)];
    }
    for from in (0..crew.span.max(1)).step_by(usize::try_from(STRETCH).expect("a few hours")) {
        blocks.push(Block::Figure(picture(bench, &crew, count, from)));
    }
    blocks.push(Block::Heading { level: 2, text: Text::plain("Who does what when"), anchor: None });
    blocks.push(Block::Table(Table {
        caption: Text::default(),
        columns: columns(&[
            ("From", 1.1),
            ("To", 1.1),
            ("Who", 2.0),
            ("Step", 1.0),
            ("Work", 5.4),
            ("Not before", 1.4),
        ]),
        rows: crew.stints.iter().map(|stint| row(bench, stint)).collect(),
    }));
    vec![sheet(bench, count, blocks)]
}

fn sheet(bench: &Bench, count: u32, blocks: Vec<Block>) -> Sheet {
    let title = format!("{} at one {}", people(count), bench.procedure.whole());
    Sheet::new(SheetKind::Hands, title, format!("How the {} is shared", bench.phase.word()), blocks)
}

/// What is done with the whole engine, and that nothing else is done at it meanwhile.
fn alone(bench: &Bench, alone: &[Alone]) -> Text {
    let steps = |steps: &[usize]| {
        bench.step_numbers(&steps.iter().map(|at| &bench.plan.steps[*at]).collect::<Vec<_>>())
    };
    let whole = bench.procedure.whole();
    let mut text = Text::bold(format!("These take the whole {whole}: "));
    for (index, one) in alone.iter().enumerate() {
        text = text.and(if index == 0 { "step " } else { "; step " });
        text.0.extend(steps(&one.steps).0);
        text = text.and(format!(" {}", whole_words(bench.procedure, &one.because)));
    }
    text.and(format!(
        ". Nothing else is done at it meanwhile, and what is written before or after them stays there. The {whole} is \
         turned on its stand with nobody at it."
    ))
}

/// `Two people: 9:40 h, against 14:10 h one step after the other.`
fn said(crew: &Crew, count: u32) -> String {
    let proof = if crew.span == crew.bound { " No way of sharing it is shorter." } else { "" };
    format!(
        "{}: {} h, against {} h one step after the other.{proof}",
        people(count),
        clock(crew.span),
        clock(crew.in_a_row)
    )
}

fn people(count: u32) -> String {
    match count {
        1 => "One person".to_owned(),
        2 => "Two people".to_owned(),
        3 => "Three people".to_owned(),
        count => format!("{count} people"),
    }
}

fn clock(seconds: u64) -> String {
    let minutes = seconds.div_ceil(60);
    format!("{}:{:02}", minutes / 60, minutes % 60)
}

fn person(at: usize) -> String {
    let names = ["First", "Second", "Third", "Fourth"];
    names.get(at).map_or_else(|| (at + 1).to_string(), |name| (*name).to_owned())
}

fn who(stint: &Stint) -> String {
    match stint.hands.as_slice() {
        [] => "nobody: a wait".to_owned(),
        hands => capital(&list(&hands.iter().map(|at| person(*at).to_lowercase()).collect::<Vec<_>>())),
    }
}

fn numbers(bench: &Bench, stint: &Stint) -> String {
    let number =
        |at: &usize| bench.plan.steps[*at].number.map(|number| number.to_string()).unwrap_or_default();
    match stint.steps.as_slice() {
        [] => String::new(),
        [one] => number(one),
        [first, .., last] => format!("{}–{}", number(first), number(last)),
    }
}

fn row(bench: &Bench, stint: &Stint) -> Vec<Cell> {
    let title = stint.steps.first().map(|at| bench.step_title(&bench.plan.steps[*at])).unwrap_or_default();
    let more = if stint.steps.len() > 1 { ", and what belongs to it" } else { "" };
    vec![
        Cell::Text(Text::plain(clock(stint.start))),
        Cell::Text(Text::plain(clock(stint.end))),
        Cell::Text(Text::bold(who(stint))),
        Cell::Text(Text::plain(numbers(bench, stint))),
        Cell::Text(Text::plain(title + more)),
        Cell::Text(
            bench.step_numbers(&stint.not_before.iter().map(|at| &bench.plan.steps[*at]).collect::<Vec<_>>()),
        ),
    ]
}

/// One stretch as bars: a row a person, and one for waits.
fn picture(bench: &Bench, crew: &Crew, count: u32, from: u64) -> Figure {
    let to = (from + STRETCH).min(crew.span);
    let minutes = |seconds: u64| (seconds.clamp(from, to) - from) as f64 / 60.0;
    let mut rows: Vec<String> = (0..count as usize).map(person).collect();
    let inside = |stint: &&Stint| stint.start < to && stint.end > from;
    let waits = crew.stints.iter().filter(inside).any(|stint| stint.hands.is_empty());
    if waits {
        rows.push("Waiting".to_owned());
    }
    let mut bars = Vec::new();
    let mut told = Vec::new();
    for stint in crew.stints.iter().filter(inside) {
        let number = numbers(bench, stint);
        let lanes = if stint.hands.is_empty() { vec![count as usize] } else { stint.hands.clone() };
        bars.extend(
            lanes.into_iter().map(|lane| (lane, minutes(stint.start), minutes(stint.end), number.clone())),
        );
        told.push(format!("{} {}, {}", clock(stint.start), number, who(stint)));
    }
    Figure {
        caption: Text::plain(format!("From {} h to {} h. Numbers are steps.", clock(from), clock(to))),
        alternative: format!(
            "Who does which step from {} to {} h: {}.",
            clock(from),
            clock(to),
            told.join("; ")
        ),
        drawing: Drawing::Bars(BarDrawing { rows, first: from as f64 / 60.0, bars }),
    }
}
