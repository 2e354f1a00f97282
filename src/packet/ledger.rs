//! The ledger as a sheet: what comes off, where it goes, where it is back, with a box for each.

use super::bench::Bench;
use super::questions::columns;
use crate::plan::{LedgerLine, LedgerStep, PlacedKind};
use crate::procedure::model::Phase;
use crate::sheet::{Block, Cell, Sheet, SheetKind, Table, Text};

/// The ledger sheet.
pub(super) fn ledger(bench: &Bench) -> Vec<Sheet> {
    let lines =
        crate::plan::ledger(bench.procedure, bench.network, bench.material.decisions, bench.material.plan);
    let lines: Vec<LedgerLine> =
        lines.into_iter().filter(|line| !line.off.is_empty() || !line.back.is_empty()).collect();
    if lines.is_empty() {
        return Vec::new();
    }
    let of_kind = |wanted: fn(Option<PlacedKind>) -> bool| lines.iter().filter(move |line| wanted(line.kind));
    let mut blocks = vec![Block::Paragraph(Text::plain(
        "Nothing may be left over and nothing may be missing. Steps are numbered by phase: S\u{a0}for strip, \
         V\u{a0}for survey, B\u{a0}for build, R\u{a0}for start.",
    ))];
    blocks.extend(section("Parts", of_kind(|kind| matches!(kind, None | Some(PlacedKind::Part(_))))));
    blocks.extend(section("Fasteners", of_kind(|kind| matches!(kind, Some(PlacedKind::Set(_))))));
    blocks.extend(section(
        "Temporaries: in, and out again",
        of_kind(|kind| matches!(kind, Some(PlacedKind::Temporary(_)))),
    ));
    vec![Sheet::new(
        SheetKind::Ledger,
        "Ledger",
        "What comes off, where it goes, and that it is back",
        blocks,
    )]
}

fn section<'l>(title: &str, lines: impl Iterator<Item = &'l LedgerLine>) -> Vec<Block> {
    let rows: Vec<Vec<Cell>> = lines.map(row).collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let table = Table {
        caption: Text::default(),
        columns: columns(&[
            ("What", 6.0),
            ("Off at", 1.2),
            ("", 0.4),
            ("Goes", 1.6),
            ("Back at", 1.3),
            ("As", 1.6),
            ("", 0.4),
        ]),
        rows,
    };
    vec![Block::Heading { level: 2, text: Text::plain(title), anchor: None }, Block::Table(table)]
}

fn row(line: &LedgerLine) -> Vec<Cell> {
    let text = |text: String| Cell::Text(Text::plain(text));
    vec![
        text(if line.pieces.several() {
            format!("{}:\u{a0}{}", line.title, line.pieces)
        } else {
            line.title.clone()
        }),
        text(step_list(&line.off)),
        Cell::Tick,
        text(line.goes.short()),
        text(step_list(&line.back)),
        text(line.comes_back.short()),
        Cell::Tick,
    ]
}

/// `S 12`, or `S 31, 34, 37`; nothing where no step does it.
pub(crate) fn step_list(steps: &[LedgerStep]) -> String {
    let mut out = String::new();
    let mut phase = None;
    for step in steps {
        if !out.is_empty() {
            out.push_str(", ");
        }
        if phase != Some(step.phase) {
            out.push_str(letter(step.phase));
            out.push(' ');
            phase = Some(step.phase);
        }
        out.push_str(&step.number.map(|number| number.to_string()).unwrap_or_default());
    }
    if out.is_empty() { "–".to_owned() } else { out }
}

fn letter(phase: Phase) -> &'static str {
    match phase {
        Phase::Strip => "S",
        Phase::Survey => "V",
        Phase::Build => "B",
        Phase::Start => "R",
    }
}
