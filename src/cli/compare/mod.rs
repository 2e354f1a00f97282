//! `compare`: what a new edition of a procedure changes for the bench, as text or as a sheet.
//!
//! Beside the record of a job it is what the job does otherwise than its procedure. `facts` holds what both say against each other, clause by clause; `order` the two orders of work; `own` what
//! only the record says; `spoken` says both in the words of the bench. How a text is laid out, and
//! in which file something stands, is no change.

mod facts;
mod order;
mod own;
mod spoken;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Args;

use super::errors;
use super::output::{self, Format};
use super::prepared::{Prepared, prepare};
use super::sheets::{self, columns};
use crate::english::counted;
use crate::page::PageSetup;
use crate::sheet::{Block, Cell, DEFERRAL, Footer, Packet, Sheet, SheetKind, Table, Text};
use crate::source::place_for;
use crate::workshop::{Request, Workshop, is_record};

/// Say what a new edition of a procedure, or one job, changes for the bench: torques, hazards, limits, order
#[derive(Debug, Args)]
pub(super) struct Compare {
    /// The procedure as it was; or the record of a job alone, for what it does otherwise than its procedure
    #[arg(value_name = "OLD")]
    old: PathBuf,
    /// The procedure as it is, or the record of a job that is worked by it
    #[arg(value_name = "NEW")]
    new: Option<PathBuf>,
    /// A sheet of it
    #[arg(short, long, value_name = "OUT.pdf")]
    output: Option<PathBuf>,
}

/// One difference.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Change {
    /// Of what, by its title.
    of: String,
    /// How it was; empty for what is new.
    was: String,
    /// How it is; empty for what is gone.
    is: String,
    /// Where that is said: in the new edition, or in the old one for what is gone.
    at: String,
}

/// Differences of one kind.
struct Chapter {
    heading: &'static str,
    changes: Vec<Change>,
}

impl Compare {
    pub(super) fn run(&self) -> ExitCode {
        let read = |path: &Path| prepare(&Request::of(path));
        let (old, new) = match &self.new {
            Some(new) => (self.old.clone(), new),
            None => match procedure_of(&self.old) {
                Ok(procedure) => (procedure, &self.old),
                Err(code) => return code,
            },
        };
        let (old, new) = match (read(&old), read(new)) {
            (Ok(old), Ok(new)) => (old, new),
            (Err(code), _) | (_, Err(code)) => return code,
        };
        let mut chapters = facts::changed(&old, &new);
        chapters.push(order::moved(&old, &new));
        chapters.extend(own::own(&new));
        chapters.retain(|chapter| !chapter.changes.is_empty());
        match &self.output {
            None => {
                output::print(&told(&old, &new, &chapters));
                ExitCode::SUCCESS
            }
            Some(path) => match write(path, &old, &new, &chapters) {
                Ok(()) => ExitCode::SUCCESS,
                Err(code) => code,
            },
        }
    }
}

/// The procedure that the record of a job names; or the exit code, where there is none.
fn procedure_of(job: &Path) -> Result<PathBuf, ExitCode> {
    if !is_record(job) {
        return Err(output::refuse(&errors::nothing_to_compare(job)));
    }
    let mut workshop = Workshop::new();
    let named = workshop.procedure_of(job);
    named.value.ok_or_else(|| {
        output::report(workshop.sources(), &named.diagnostics, Format::Text);
        output::exit_code(&named.diagnostics)
    })
}

/// The two editions, as `Brackwater 3, edition 1` and `edition 2`; a job as `Brackwater 3, edition 1 in job BW-0107`.
fn editions(old: &Prepared, new: &Prepared) -> (String, String) {
    let of = |prepared: &Prepared| {
        let family = prepared.procedure.family.as_ref();
        let title = family.map(|family| family.naming.title.clone()).unwrap_or_default();
        let edition = family.and_then(|family| family.edition);
        let edition = edition.map_or("no edition".to_owned(), |edition| format!("edition {edition}"));
        let job = prepared.job.name.as_ref().map(|name| format!(" in job {name}")).unwrap_or_default();
        (title, format!("{edition}{job}"))
    };
    let ((was, old), (is, new)) = (of(old), of(new));
    let new = if was == is { new } else { format!("{is}, {new}") };
    (format!("{was}, {old}"), new)
}

fn told(old: &Prepared, new: &Prepared, chapters: &[Chapter]) -> String {
    let (was, is) = editions(old, new);
    let count: usize = chapters.iter().map(|chapter| chapter.changes.len()).sum();
    if count == 0 {
        return format!("{was}, then {is}: nothing changes at the bench\n");
    }
    let mut out = format!("{was}, then {is}: {}\n", counted(count, "change"));
    for chapter in chapters {
        out += &format!("\n{}\n", chapter.heading);
        for Change { of, was, is, at } in &chapter.changes {
            out += &match (was.is_empty(), is.is_empty()) {
                (true, _) => format!("  {of}: new: {is} ({at})\n"),
                (_, true) => format!("  {of}: gone: {was} ({at} of the old)\n"),
                _ => format!("  {of}: was {was}\n  {}  is  {is} ({at})\n", " ".repeat(of.chars().count())),
            };
        }
    }
    out
}

/// Writes the sheet.
fn write(path: &Path, old: &Prepared, new: &Prepared, chapters: &[Chapter]) -> Result<(), ExitCode> {
    let (was, is) = editions(old, new);
    let cell = |text: &String| Cell::Text(Text::plain(text.clone()));
    let mut blocks = Vec::new();
    if chapters.is_empty() {
        blocks.push(Block::Paragraph(Text::plain("Nothing changes at the bench.")));
    }
    for chapter in chapters {
        blocks.push(Block::Heading { level: 2, text: Text::plain(chapter.heading), anchor: None });
        let row = |change: &Change| {
            vec![
                Cell::Text(Text::bold(change.of.clone())),
                cell(&change.was),
                cell(&change.is),
                cell(&change.at),
            ]
        };
        blocks.push(Block::Table(Table {
            caption: Text::default(),
            columns: columns(&[("Of", 2.0), ("Was", 3.2), ("Is", 3.2), ("Where", 1.4)]),
            rows: chapter.changes.iter().map(row).collect(),
        }));
    }
    let family = new.procedure.family.as_ref();
    let invented = old.procedure.family.iter().chain(family).any(|family| family.invented);
    let warning =
        if invented { format!("Invented: not a real {}.", new.procedure.whole()) } else { String::new() };
    let packet = Packet {
        title: format!("{was}, then {is}"),
        language: "en".to_owned(),
        footer: Footer {
            procedure: format!("{was}, then {is}"),
            warning,
            deferral: DEFERRAL.to_owned(),
            ..Footer::default()
        },
        sheets: vec![Sheet::new(SheetKind::Front, "What changes", format!("{was}, then {is}"), blocks)],
        meanings: BTreeMap::new(),
        attachments: Vec::new(),
    };
    // Neither edition is written over.
    place_for(old.sources(), path, b"%PDF-")
        .map_err(|occupied| output::refuse(&errors::occupied(path, &occupied)))?;
    let pages = sheets::write(new.sources(), &packet, &PageSetup::default(), path)?;
    let count: usize = chapters.iter().map(|chapter| chapter.changes.len()).sum();
    let (pages, changes) = (counted(pages, "page"), counted(count, "change"));
    output::complain(&format!("{}: {pages}, {changes}\n", path.display()));
    Ok(())
}
