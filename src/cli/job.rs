//! The stages that commands on the record of a job begin with: procedure, record, names, decisions.

use std::path::{Path, PathBuf};

use crate::decide::{Decisions, decide};
use crate::diagnostics::{Outcome, unreadable};
use crate::procedure::{self, model::Procedure};
use crate::record::{self, Crib, Job, Prices, Record};
use crate::source::{FileId, Sources, Spanned};

/// A job with its procedure and what follows from both.
pub struct Loaded {
    /// The procedure.
    pub procedure: Procedure,
    /// The record as it bears on the procedure.
    pub job: Job,
    /// What follows.
    pub decisions: Decisions,
    /// The crib that the record names.
    pub crib: Crib,
}

/// What a command line names beside the record; what it doesn't name, the record does.
#[derive(Clone, Copy, Default)]
pub struct Named<'a> {
    /// The procedure.
    pub procedure: Option<&'a Path>,
    /// A file of prices.
    pub prices: Option<&'a Path>,
}

/// Reads the record at `job`, and the procedure that it names or that was named on the command line. None if either
/// can't be read.
pub fn load(sources: &mut Sources, job: &Path, named: Named<'_>) -> Outcome<Option<Loaded>> {
    match sources.read(job) {
        Ok(file) => load_text(sources, file, job, named),
        Err(failure) => Outcome { value: None, diagnostics: vec![unreadable(job, &failure)] },
    }
}

/// The same for a record whose text is in `sources` already; `job` says where it stands or will stand.
pub fn load_text(
    sources: &mut Sources,
    file: FileId,
    job: &Path,
    Named { procedure, prices }: Named<'_>,
) -> Outcome<Option<Loaded>> {
    let text = sources.file(file).text.clone();
    let read = record::read(file, &text);
    let mut diagnostics = read.diagnostics;
    let record = read.value;
    if let Some(asked) = procedure {
        diagnostics.extend(record::same_procedure(&record, job, asked));
    }
    let Some(path) = procedure.map(Path::to_path_buf).or_else(|| procedure_of(&record, job)) else {
        return Outcome { value: None, diagnostics };
    };
    // What becomes of parts does not hang on the order of work: a procedure whose order has a fault still decides, one
    // with a fault of its own doesn't.
    let read = procedure::load(sources, &path);
    let sound = !read.has_errors();
    diagnostics.extend(read.diagnostics);
    let Some(procedure) = read.value else { return Outcome { value: None, diagnostics } };
    let bound = record::bind(&record, &procedure);
    diagnostics.extend(bound.diagnostics);
    let mut bound = bound.value;
    let priced = self::prices(sources, (&record, job), prices, &procedure);
    diagnostics.extend(priced.diagnostics);
    bound.prices = priced.value;
    if !sound {
        return Outcome { value: None, diagnostics };
    }
    let decided = decide(&procedure, &bound);
    diagnostics.extend(decided.diagnostics);
    let crib = record.crib.as_ref().map(|crib| beside(job, crib));
    let crib = match crib {
        Some(path) => {
            let read = read_crib(sources, &path);
            diagnostics.extend(read.diagnostics);
            read.value
        }
        None => Crib::default(),
    };
    let loaded = Loaded { procedure, job: bound, decisions: decided.value, crib };
    Outcome { value: Some(loaded), diagnostics }
}

/// The path of the procedure that a record names.
fn procedure_of(record: &Record, job: &Path) -> Option<PathBuf> {
    record.procedure.as_ref().map(|written| beside(job, written))
}

/// The shop's crib at a path; an empty one if it can't be read.
pub fn read_crib(sources: &mut Sources, path: &Path) -> Outcome<Crib> {
    match sources.read(path) {
        Ok(file) => {
            let text = sources.file(file).text.clone();
            record::read_crib(file, &text)
        }
        Err(failure) => Outcome { value: Crib::default(), diagnostics: vec![unreadable(path, &failure)] },
    }
}

/// A path that stands in a record, which is relative to it.
pub fn beside(record: &Path, written: &Spanned<String>) -> PathBuf {
    record.parent().unwrap_or(Path::new("")).join(&written.value)
}

/// The prices of the file named on the command line, or else in the record at `job`; none where neither names one.
pub fn prices(
    sources: &mut Sources,
    (record, job): (&Record, &Path),
    given: Option<&Path>,
    procedure: &Procedure,
) -> Outcome<Prices> {
    let named = record.prices.as_ref().map(|written| beside(job, written));
    let Some(path) = given.map(Path::to_path_buf).or(named) else {
        return Outcome { value: Prices::default(), diagnostics: Vec::new() };
    };
    match sources.read(&path) {
        Ok(file) => {
            let text = sources.file(file).text.clone();
            record::read_prices(file, &text, procedure)
        }
        Err(failure) => Outcome { value: Prices::default(), diagnostics: vec![unreadable(&path, &failure)] },
    }
}
