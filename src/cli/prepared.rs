//! What every command on a whole procedure begins with: procedure and record read, checked, connected, planned.
//! With an error anywhere the command gets nothing to work on.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use super::checked::{Checked, checked, together};
use super::job;
use super::output::{self, Format};
use super::touched::touched;
use crate::decide::{self, Decisions};
use crate::diagnostics::{Diagnostic, Outcome, Severity, unreadable};
use crate::network::Network;
use crate::packet::{Material, Shop};
use crate::plan::{Choosing, Crew, Plan, PlanOptions, crew, plan_to};
use crate::procedure::model::{Phase, Procedure};
use crate::record::{self, Date, Job, Record};
use crate::source::Sources;

/// A procedure ready to be planned, with what is known of the job.
pub struct Prepared {
    pub sources: Sources,
    pub procedure: Procedure,
    pub network: Network,
    pub decisions: Decisions,
    pub plan: Plan,
    /// The record of the job; an empty one where there is none.
    pub job: Job,
    /// The shop, where its crib was given.
    pub shop: Option<Shop>,
    /// Ids of steps that are done and that the procedure has changed since.
    pub touched: Vec<String>,
}

impl Prepared {
    /// A phase as a schedule for so many pairs of hands; none for a phase without steps.
    ///
    /// # Errors
    /// The id of a step that needs more hands.
    pub fn crew(&self, phase: Phase, hands: u32) -> Result<Option<Crew>, String> {
        let Some(plan) = self.plan.phase(phase) else { return Ok(None) };
        crew(&self.procedure, &self.network, plan, hands)
            .map(Some)
            .map_err(|step| plan.steps.get(step).map(|step| step.id.clone()).unwrap_or_default())
    }

    /// What sheets are made from.
    pub fn material(&self) -> Material<'_> {
        Material {
            sources: &self.sources,
            procedure: &self.procedure,
            network: &self.network,
            decisions: &self.decisions,
            plan: &self.plan,
            job: &self.job,
            shop: self.shop.as_ref(),
            touched: &self.touched,
        }
    }
}

/// Prepares a procedure and the record of a job. With an error everything found is reported, and the exit code given.
///
/// # Errors
/// The exit code of a run that has to stop here.
pub fn prepare(path: &Path, record: Option<&PathBuf>) -> Result<Prepared, ExitCode> {
    prepare_in(path, record, InShop::default())
}

/// What a packet is made with beside procedure and record.
#[derive(Default)]
pub struct InShop<'a> {
    /// The shop's crib.
    pub crib: Option<&'a Path>,
    /// A file of prices.
    pub prices: Option<&'a Path>,
    /// The day for which calibrations are judged.
    pub day: Option<Date>,
    /// How the order is chosen.
    pub choosing: Choosing,
}

/// The same in a shop with its crib, its calibrations and its way of choosing the order.
///
/// # Errors
/// As [`prepare`].
pub fn prepare_in(path: &Path, record: Option<&PathBuf>, shop: InShop<'_>) -> Result<Prepared, ExitCode> {
    prepare_to(path, record, shop, |_| Phase::Start)
}

/// The same, planned no further than the phase that `last` names when it has seen the network.
///
/// # Errors
/// As [`prepare`].
pub fn prepare_to(
    path: &Path,
    record: Option<&PathBuf>,
    shop: InShop<'_>,
    last: impl FnOnce(&Network) -> Phase,
) -> Result<Prepared, ExitCode> {
    let InShop { crib, prices, day, choosing } = shop;
    let mut sources = Sources::new();
    let mut diagnostics = Vec::new();
    let record = record.map(PathBuf::as_path);
    let mut prepared = stages(&mut sources, path, record, prices, &mut diagnostics);
    // Before the shop's torques are filled in: the fingerprints of the record are of the procedure alone.
    let touched = match &prepared {
        Some((procedure, network, _, job, _)) => touched(&sources, procedure, network, job, &mut diagnostics),
        None => Vec::new(),
    };
    let named = prepared.as_ref().and_then(|(.., crib)| crib.clone());
    let crib = crib.map(Path::to_path_buf).or(named);
    let crib = crib.map(|crib| take(job::read_crib(&mut sources, &crib), &mut diagnostics));
    if let (Some((procedure, ..)), Some(table)) =
        (&mut prepared, crib.as_ref().and_then(|crib| crib.general_torques.as_ref()))
    {
        decide::fill_general(procedure, table);
    }
    let diagnostics = together(diagnostics);
    let faulty = diagnostics.iter().any(|diagnostic| diagnostic.severity() == Severity::Error);
    match prepared {
        Some((procedure, network, decisions, job, _)) if !faulty => {
            let stated = crib.as_ref().map(|crib| crib.changes.as_slice()).unwrap_or_default();
            let choosing = Choosing { times: choosing.times.with(stated), ..choosing };
            let options = PlanOptions { recorded: !job.orders.is_empty() || !job.sent.is_empty(), choosing };
            let plan = plan_to(&procedure, &network, &decisions, options, last(&network));
            warn(&sources, &procedure, &diagnostics);
            let shop = crib.map(|crib| Shop { crib, day });
            Ok(Prepared { sources, procedure, network, decisions, plan, job, shop, touched })
        }
        _ => {
            let errors: Vec<Diagnostic> = diagnostics
                .iter()
                .filter(|diagnostic| diagnostic.severity() == Severity::Error)
                .cloned()
                .collect();
            output::report(&sources, &errors, Format::Text);
            output::complain(&format!(
                "{}: nothing is made of this until the errors are mended\n",
                output::summary(&diagnostics)
            ));
            Err(output::exit_code(&diagnostics))
        }
    }
}

/// Tells what is odd about the job, and how much there is to say about the procedure.
fn warn(sources: &Sources, procedure: &Procedure, diagnostics: &[Diagnostic]) {
    let warnings = diagnostics.iter().filter(|diagnostic| diagnostic.severity() == Severity::Warning);
    // What stands in the record may point on at the procedure: its first place tells whose it is.
    let of_procedure = |diagnostic: &Diagnostic| {
        diagnostic.labels.first().is_some_and(|label| procedure.files.contains(&label.span.file))
    };
    let (of_procedure, of_job): (Vec<Diagnostic>, Vec<Diagnostic>) =
        warnings.cloned().partition(of_procedure);
    output::report(sources, &of_job, Format::Text);
    if !of_procedure.is_empty() {
        let count = of_procedure.len();
        let word = if count == 1 { "warning" } else { "warnings" };
        output::complain(&format!("{count} {word} about the procedure: `benchleaf check` shows them\n"));
    }
}

/// What the stages make of a procedure and a record, and the crib that the record names.
type Staged = (Procedure, Network, Decisions, Job, Option<PathBuf>);

/// The stages one after the other, each adding what it has to say.
fn stages(
    sources: &mut Sources,
    path: &Path,
    record: Option<&Path>,
    prices: Option<&Path>,
    diagnostics: &mut Vec<Diagnostic>,
) -> Option<Staged> {
    let Checked { procedure, network } = take(checked(sources, path), diagnostics)?;
    let (job, crib) = match record {
        Some(record) => {
            let written = read_record(sources, path, record, diagnostics)?;
            let mut job = take(record::bind(&written, &procedure), diagnostics);
            job.prices = take(job::prices(sources, (&written, record), prices, &procedure), diagnostics);
            (job, written.crib.as_ref().map(|crib| job::beside(record, crib)))
        }
        None => (Job::default(), None),
    };
    // Nothing is decided of a procedure with faults.
    let network = network?;
    let decisions = take(decide::decide(&procedure, &job), diagnostics);
    diagnostics.extend(decide::progress(&procedure, &network, &job, &decisions));
    Some((procedure, network, decisions, job, crib))
}

fn take<T>(outcome: Outcome<T>, diagnostics: &mut Vec<Diagnostic>) -> T {
    diagnostics.extend(outcome.diagnostics);
    outcome.value
}

fn read_record(
    sources: &mut Sources,
    path: &Path,
    record: &Path,
    diagnostics: &mut Vec<Diagnostic>,
) -> Option<Record> {
    let file = match sources.read(record) {
        Ok(file) => file,
        Err(failure) => {
            diagnostics.push(unreadable(record, &failure));
            return None;
        }
    };
    let written = take(record::read(file, &sources.file(file).text), diagnostics);
    diagnostics.extend(record::same_procedure(&written, record, path));
    Some(written)
}
