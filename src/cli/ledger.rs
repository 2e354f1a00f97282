//! `ledger`: every part, fastener set and temporary, where it comes off, where it goes, where it is back.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;
use serde::Serialize;

use super::order::ListFormat;
use super::output;
use super::prepared::prepare;
use crate::packet::step_list;
use crate::plan::{LedgerLine, LedgerStep, PlacedKind, ledger};
use crate::procedure::model::{Pieces, Procedure};
use crate::workshop::Request;

/// Show what comes off, where it goes and where it is back
#[derive(Debug, Args)]
pub(super) struct Ledger {
    /// The procedure; or the record of a job, which names it
    #[arg(value_name = "PROCEDURE")]
    path: PathBuf,
    /// The record of the job
    #[arg(long, value_name = "JOB.yaml")]
    job: Option<PathBuf>,
    /// Form of the list
    #[arg(long, value_enum, default_value_t = ListFormat::Text)]
    format: ListFormat,
}

/// The whole ledger, for programs.
#[derive(Serialize)]
struct LedgerList<'a> {
    ledger: Vec<Line<'a>>,
}

/// How many, for programs: a number, or the words for several while answers are open.
#[derive(Serialize)]
#[serde(untagged)]
enum Number {
    Settled(u32),
    Open(String),
}

impl Number {
    fn of(pieces: &Pieces) -> Number {
        pieces.settled().map_or_else(|| Number::Open(pieces.to_string()), Number::Settled)
    }
}

/// A line, for programs.
#[derive(Serialize)]
struct Line<'a> {
    kind: &'static str,
    id: &'a str,
    title: &'a str,
    pieces: Number,
    off: Vec<Step>,
    came: Vec<Came<'a>>,
    goes: String,
    back: Vec<Step>,
    comes_back: String,
}

/// How a thing came that was not on the engine, for programs; without places it is so at all of them.
#[derive(Serialize)]
struct Came<'a> {
    how: &'a str,
    places: &'a [String],
}

/// A step, for programs.
#[derive(Serialize)]
struct Step {
    phase: &'static str,
    id: String,
    number: Option<usize>,
    places: usize,
}

impl Ledger {
    pub(super) fn run(&self) -> ExitCode {
        let prepared = match prepare(&Request { record: self.job.as_deref(), ..Request::of(&self.path) }) {
            Ok(prepared) => prepared,
            Err(code) => return code,
        };
        let lines = ledger(&prepared.procedure, &prepared.network, &prepared.decisions, &prepared.plan);
        match self.format {
            ListFormat::Json => {
                let ledger = lines.iter().map(|one| line(&prepared.procedure, one)).collect();
                output::print_json(&LedgerList { ledger });
            }
            ListFormat::Text => output::print(&text(&lines)),
        }
        ExitCode::SUCCESS
    }
}

fn kind(kind: Option<PlacedKind>) -> &'static str {
    match kind {
        Some(PlacedKind::Part(_)) => "part",
        Some(PlacedKind::Set(_)) => "fasteners",
        Some(PlacedKind::Temporary(_)) => "temporary",
        Some(PlacedKind::Joint(_) | PlacedKind::Gauge(_) | PlacedKind::Look(_)) => "other",
        None => "extra part",
    }
}

fn steps(procedure: &Procedure, steps: &[LedgerStep]) -> Vec<Step> {
    steps
        .iter()
        .map(|step| Step {
            phase: step.phase.word(),
            id: step.key.id(procedure),
            number: step.number,
            places: step.places,
        })
        .collect()
}

fn line<'a>(procedure: &Procedure, line: &'a LedgerLine) -> Line<'a> {
    Line {
        kind: kind(line.kind),
        id: &line.id,
        title: &line.title,
        pieces: Number::of(&line.pieces),
        off: steps(procedure, &line.off),
        came: line.came.iter().map(|(how, places)| Came { how, places }).collect(),
        goes: line.goes.long(),
        back: steps(procedure, &line.back),
        comes_back: line.comes_back.long(),
    }
}

/// Columns for reading: as wide as their widest entry, up to a limit.
fn text(lines: &[LedgerLine]) -> String {
    let mut rows = vec![["What", "Pieces", "Off at", "Goes", "Back at", "As"].map(str::to_owned).to_vec()];
    rows.extend(lines.iter().map(|line| {
        vec![
            line.title.clone(),
            line.pieces.to_string(),
            line.off_words(step_list(&line.off)),
            line.goes.long(),
            step_list(&line.back),
            line.comes_back.long(),
        ]
    }));
    let width = |column: usize| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or_default();
    let widths: Vec<usize> = (0..6).map(width).collect();
    let mut out = String::new();
    for row in &rows {
        let cells: Vec<String> = row
            .iter()
            .zip(&widths)
            .map(|(cell, width)| format!("{cell}{}", " ".repeat(width - cell.chars().count())))
            .collect();
        out.push_str(cells.join("  ").trim_end());
        out.push('\n');
    }
    out.push_str("\nSteps: S strip, V survey, B build, R start\n");
    out
}
