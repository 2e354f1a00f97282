//! What hangs on the record of a job alone: procedure, record, names, decisions. The order of work is not asked for.

use std::path::{Path, PathBuf};

use super::{Workshop, errors};
use crate::decide::{Decisions, UsedUp, decide, settled, without_missing};
use crate::diagnostics::{Diagnostic, Outcome, unreadable};
use crate::network::connect;
use crate::plan::{Choosing, PlanOptions, plan, used_up};
use crate::procedure::model::Procedure;
use crate::record::{self, Crib, Job, Prices, Record};
use crate::source::{FileId, Sources, Spanned};
use crate::structure::Structure;

/// A job with its procedure and what follows from both.
pub struct Decided {
    /// The procedure as it is written, whatever is answered.
    pub as_written: Procedure,
    /// The procedure, of which what the answers have settled is left.
    pub procedure: Procedure,
    /// The record as it bears on the procedure.
    pub job: Job,
    /// What follows.
    pub decisions: Decisions,
    /// The crib that the record names.
    pub crib: Crib,
}

impl Decided {
    /// What build and start use up beside parts and fasteners; none where the order of work has a fault.
    pub(crate) fn used_up(&self) -> Option<Vec<UsedUp>> {
        let connected = connect(&self.as_written);
        if connected.has_errors() {
            return None;
        }
        let mut network = connected.value;
        for derived in &mut network.derived {
            without_missing(&self.as_written, &self.decisions, &mut derived.step);
        }
        let options = PlanOptions { recorded: self.job.follows_goods(), choosing: Choosing::default() };
        let planned = plan(&self.procedure, &network, &self.decisions, options);
        Some(used_up(&self.procedure, &network, &planned, &self.job, Some(&self.crib)))
    }
}

/// What a command line names beside the record; what it doesn't name, the record does.
#[derive(Clone, Copy, Default)]
pub struct Named<'a> {
    /// The procedure.
    pub procedure: Option<&'a Path>,
    /// A file of prices.
    pub prices: Option<&'a Path>,
}

impl Workshop {
    /// What follows from the record at `job` and the procedure that it names or that was named beside it. None if
    /// either can't be read, or if the procedure has faults of its own.
    pub fn decide(&mut self, job: &Path, named: Named<'_>) -> Outcome<Option<Decided>> {
        match self.sources.read(job) {
            Ok(file) => {
                let mut outcome = self.decide_text(file, job, named);
                outcome.diagnostics.extend(self.unset(file));
                outcome
            }
            Err(failure) => Outcome { value: None, diagnostics: vec![unreadable(job, &failure)] },
        }
    }

    /// The path of the procedure that the record at `job` names; none if one of both can't be read.
    pub(crate) fn procedure_of(&mut self, job: &Path) -> Outcome<Option<PathBuf>> {
        let file = match self.sources.read(job) {
            Ok(file) => file,
            Err(failure) => return Outcome { value: None, diagnostics: vec![unreadable(job, &failure)] },
        };
        let Outcome { value: record, mut diagnostics } = record::read(file, &self.sources.file(file).text);
        let path = take(procedure_of(&mut self.sources, &record, job), &mut diagnostics);
        Outcome { value: path, diagnostics }
    }

    /// The same for a record whose text is among the sources already; `job` says where it stands or will stand.
    pub fn decide_text(
        &mut self,
        file: FileId,
        job: &Path,
        Named { procedure, prices }: Named<'_>,
    ) -> Outcome<Option<Decided>> {
        let mut outcome = self.decided(file, job, procedure, prices);
        outcome.diagnostics = self.in_record(outcome.diagnostics);
        outcome
    }

    fn decided(
        &mut self,
        file: FileId,
        job: &Path,
        procedure: Option<&Path>,
        prices: Option<&Path>,
    ) -> Outcome<Option<Decided>> {
        let read = record::read(file, &self.sources.file(file).text);
        let mut diagnostics = read.diagnostics;
        let record = read.value;
        if let Some(asked) = procedure {
            diagnostics.extend(record::same_procedure(&record, job, asked));
        }
        let path = match procedure {
            Some(asked) => Some(asked.to_path_buf()),
            None => take(procedure_of(&mut self.sources, &record, job), &mut diagnostics),
        };
        let Some(path) = path else { return Outcome { value: None, diagnostics } };
        // What becomes of parts does not hang on the order of work: a procedure whose order has a fault still decides,
        // one with a fault of its own doesn't.
        let read = self.load(&path, Some((job, &record)));
        let sound = !read.has_errors();
        diagnostics.extend(read.diagnostics);
        let Some(procedure) = read.value else { return Outcome { value: None, diagnostics } };
        let sources = &mut self.sources;
        let mut bound = bind(sources, (&record, job), prices, &procedure);
        if !sound {
            // What declares a name may be what couldn't be read.
            record::drop_unknown_names(&mut bound.diagnostics);
        }
        let mut bound = take(bound, &mut diagnostics);
        if !sound {
            return Outcome { value: None, diagnostics };
        }
        let crib = record.crib.as_ref().map(|crib| named_crib(sources, job, crib));
        let crib = crib.map(|crib| take(crib, &mut diagnostics)).unwrap_or_default();
        bound.general_torques.clone_from(&crib.general_torques);
        bound.instrument_errors = crib.instrument_errors();
        let decisions = take(decide(&procedure, &Structure::of(&procedure), &bound), &mut diagnostics);
        let as_written = procedure;
        let procedure = settled(&as_written, &decisions);
        Outcome { value: Some(Decided { as_written, procedure, job: bound, decisions, crib }), diagnostics }
    }
}

/// The value of an outcome, its complaints put with the others.
pub(super) fn take<T>(outcome: Outcome<T>, diagnostics: &mut Vec<Diagnostic>) -> T {
    diagnostics.extend(outcome.diagnostics);
    outcome.value
}

/// A record as it bears on its procedure, with its prices.
pub(super) fn bind(
    sources: &mut Sources,
    (record, path): (&Record, &Path),
    prices: Option<&Path>,
    procedure: &Procedure,
) -> Outcome<Job> {
    let Outcome { value: mut job, mut diagnostics } = record::bind(record, procedure);
    job.prices = take(read_prices(sources, (record, path), prices, procedure), &mut diagnostics);
    Outcome { value: job, diagnostics }
}

/// Whether a path is that of a record, and not of a procedure: by the ending of its name.
pub(crate) fn is_record(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml")
}

/// The path of the procedure that a record names, if it is there; one that is unsound is told elsewhere.
pub(super) fn procedure_of(sources: &mut Sources, record: &Record, job: &Path) -> Outcome<Option<PathBuf>> {
    let Some(written) = &record.procedure else { return Outcome { value: None, diagnostics: Vec::new() } };
    match named_file(sources, job, ("procedure", written)) {
        Ok(_) => Outcome { value: Some(beside(job, written)), diagnostics: Vec::new() },
        Err(complaint) => Outcome { value: None, diagnostics: vec![complaint] },
    }
}

/// A file that a record names. What is wrong with it is told at the record's line, for that says where it is looked for.
pub(super) fn named_file(
    sources: &mut Sources,
    job: &Path,
    (key, written): (&str, &Spanned<String>),
) -> Result<FileId, Diagnostic> {
    let path = beside(job, written);
    sources.read(&path).map_err(|failure| errors::named_file(key, written, &path, &failure))
}

/// The shop's crib at a path; an empty one if it can't be read.
pub(super) fn read_crib(sources: &mut Sources, path: &Path) -> Outcome<Crib> {
    match sources.read(path) {
        Ok(file) => record::read_crib(file, &sources.file(file).text),
        Err(failure) => Outcome { value: Crib::default(), diagnostics: vec![unreadable(path, &failure)] },
    }
}

/// The crib that a record names; an empty one if it can't be read.
pub(super) fn named_crib(sources: &mut Sources, job: &Path, written: &Spanned<String>) -> Outcome<Crib> {
    match named_file(sources, job, ("crib", written)) {
        Ok(file) => record::read_crib(file, &sources.file(file).text),
        Err(complaint) => Outcome { value: Crib::default(), diagnostics: vec![complaint] },
    }
}

/// A path that stands in a record, which is relative to it.
fn beside(record: &Path, written: &Spanned<String>) -> PathBuf {
    record.parent().unwrap_or(Path::new("")).join(&written.value)
}

/// The prices of the file named on the command line, or else in the record at `job`; none where neither names one.
fn read_prices(
    sources: &mut Sources,
    (record, job): (&Record, &Path),
    given: Option<&Path>,
    procedure: &Procedure,
) -> Outcome<Prices> {
    let file = match (given, &record.prices) {
        (Some(given), _) => sources.read(given).map_err(|failure| unreadable(given, &failure)),
        (None, Some(written)) => named_file(sources, job, ("prices", written)),
        (None, None) => return Outcome { value: Prices::default(), diagnostics: Vec::new() },
    };
    match file {
        Ok(file) => record::read_prices(file, &sources.file(file).text, procedure),
        Err(complaint) => Outcome { value: Prices::default(), diagnostics: vec![complaint] },
    }
}
