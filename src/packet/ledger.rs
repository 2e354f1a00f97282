//! The ledger as a sheet: what comes off, where it goes, where it is back, with a box for each.

use super::bench::Bench;
use super::questions::columns;
use crate::english::in_runs;
use crate::plan::{LedgerLine, LedgerStep, PlacedKind};
use crate::procedure::model::Phase;
use crate::sheet::{Block, Cell, Sheet, SheetKind, Table, Text};

/// Pieces of one thing up to which each has a box of its own. Our own choice.
const MOST_BOXES: usize = 12;

/// The ledger sheet.
pub(super) fn ledger(bench: &Bench) -> Vec<Sheet> {
    let lines =
        crate::plan::ledger(bench.procedure, bench.network, bench.material.decisions, bench.material.plan);
    let lines: Vec<LedgerLine> =
        lines.into_iter().filter(|line| !line.off.is_empty() || !line.back.is_empty()).collect();
    if lines.is_empty() {
        return Vec::new();
    }
    let temporary = |line: &&LedgerLine| matches!(line.kind, Some(PlacedKind::Temporary(_)));
    let (temporaries, mut things): (Vec<&LedgerLine>, Vec<&LedgerLine>) = lines.iter().partition(temporary);
    // In the order in which they come off; what is new to the engine, in that in which it goes on.
    let first = |line: &LedgerLine| {
        let steps = if line.off.is_empty() { &line.back } else { &line.off };
        steps.first().map(|step| (step.phase, step.number))
    };
    things.sort_by_key(|line| first(line));
    let mut blocks = vec![Block::Paragraph(Text::plain(
        "In the order of coming off. Nothing may be left over and nothing may be missing. The first box: off and counted; the \
         second: back; of several a small box for each piece, ticked as it is counted back. Kept or bagged, and the same goes back, unless it says otherwise. Steps are numbered by phase: \
         S\u{a0}for strip, V\u{a0}for survey, B\u{a0}for build, R\u{a0}for start.",
    ))];
    blocks.extend((!things.is_empty()).then(|| table("What, how many", things.into_iter().map(row))));
    if !temporaries.is_empty() {
        let text = Text::plain("Temporaries: in, and out again");
        blocks.push(Block::Heading { level: 2, text, anchor: None });
        blocks.push(table("What", temporaries.into_iter().map(row)));
    }
    vec![Sheet::new(
        SheetKind::Ledger,
        "Ledger",
        "What comes off, where it goes, and that it is back",
        blocks,
    )]
}

fn table(what: &str, rows: impl Iterator<Item = Vec<Cell>>) -> Block {
    let columns = columns(&[("", 0.4), ("Off", 0.9), (what, 6.0), ("Back", 0.9), ("", 0.4)]);
    Block::Halves(Table { caption: Text::default(), columns, rows: rows.collect() })
}

fn row(line: &LedgerLine) -> Vec<Cell> {
    let text = |text: String| Cell::Text(Text::plain(text));
    let count = if line.pieces.several() { format!(":\u{a0}{}", line.pieces) } else { String::new() };
    let (goes, back) = (line.goes.short(), line.comes_back.short());
    // More are counted in words: nobody ticks thirty boxes for thirty balls.
    let pieces = line.pieces.settled().map_or(0, |count| count as usize);
    let pieces = if (2..=MOST_BOXES).contains(&pieces) { pieces } else { 0 };
    let mut what = Text::plain(format!("{}{count}", line.title));
    if let Some(came) = line.came_words() {
        what = what.and("; ").and_bold(came);
    }
    if !matches!(goes.as_str(), "" | "kept" | "bagged") {
        what = what.and(format!("; {goes}"));
    }
    if !matches!(back.as_str(), "" | "same") {
        what = what.and("; ").and_bold(back);
    }
    // What was not on the engine comes off nowhere, nor what is this job's own.
    let off =
        if line.came_everywhere() || line.kind.is_none() { "–".to_owned() } else { step_list(&line.off) };
    let back = text(step_list(&line.back));
    vec![Cell::Tick, text(off), Cell::Counted(what, pieces), back, Cell::Tick]
}

/// `S 12`, or `S 31, 34 to 37`; nothing where no step does it.
pub(crate) fn step_list(steps: &[LedgerStep]) -> String {
    let mut out: Vec<String> = Vec::new();
    for of_phase in steps.chunk_by(|a, b| a.phase == b.phase) {
        for (index, run) in in_runs(of_phase, |step| step.number).enumerate() {
            let number = |step: &LedgerStep| step.number.map(|number| number.to_string()).unwrap_or_default();
            let phase = if index == 0 { format!("{} ", letter(of_phase[0].phase)) } else { String::new() };
            let numbers = match run {
                [first, .., last] => format!("{} to {}", number(first), number(last)),
                few => few.iter().map(number).collect(),
            };
            out.push(phase + &numbers);
        }
    }
    if out.is_empty() { "–".to_owned() } else { out.join(", ") }
}

fn letter(phase: Phase) -> &'static str {
    match phase {
        Phase::Strip => "S",
        Phase::Survey => "V",
        Phase::Build => "B",
        Phase::Start => "R",
    }
}
