//! A procedure and the record of a job read, checked, connected, decided and planned: what sheets are made from.

use std::path::Path;

use super::record::{bind, is_record, named_crib, procedure_of, read_crib, take};
use super::{Checked, Workshop, errors, together, touched};
use crate::decide::{self, Decisions, UsedUp};
use crate::diagnostics::{Diagnostic, Outcome, Severity, unreadable};
use crate::network::Network;
use crate::packet::{Material, PacketOptions, Shop, packet};
use crate::page::unsettable;
use crate::plan::{Choosing, Crew, Plan, PlanOptions, crew, plan_to, used_up};
use crate::procedure::model::{Phase, Procedure, StepKey};
use crate::record::{self, Crib, Date, Job, Record, special_texts};
use crate::sheet::Packet;
use crate::source::FileId;

/// What is asked for: a procedure, and what is known beside it. What isn't named here, the record may name.
pub struct Request<'a> {
    /// The procedure; or the record of a job alone, which names it.
    pub procedure: &'a Path,
    /// The record of the job; without one every question is open.
    pub record: Option<&'a Path>,
    /// The shop's crib.
    pub crib: Option<&'a Path>,
    /// A file of prices.
    pub prices: Option<&'a Path>,
    /// The day for which calibrations are judged.
    pub day: Option<Date>,
    /// How the order is chosen.
    pub choosing: Choosing,
    /// The last phase to be planned, told when the network is known.
    pub last: &'a dyn Fn(&Procedure, &Network) -> Phase,
}

impl<'a> Request<'a> {
    /// A procedure alone, planned to the end.
    pub fn of(procedure: &'a (impl AsRef<Path> + ?Sized)) -> Self {
        Request {
            procedure: procedure.as_ref(),
            record: None,
            crib: None,
            prices: None,
            day: None,
            choosing: Choosing::default(),
            last: &|_, _| Phase::Start,
        }
    }
}

/// A planned job, with everything that it follows from.
pub struct JobView {
    /// The procedure, of which what the answers have settled is left.
    pub procedure: Procedure,
    /// What must be before what.
    pub network: Network,
    /// What is decided and what is open.
    pub decisions: Decisions,
    /// The order chosen, and what is left, held and done.
    pub plan: Plan,
    /// The record of the job; an empty one where there is none.
    pub job: Job,
    /// The shop, where its crib was given.
    pub shop: Option<Shop>,
    /// Steps that are done and that the procedure has changed since.
    pub touched: Vec<StepKey>,
    /// What is said of the procedure alone, whatever the job.
    pub of_procedure: Vec<Diagnostic>,
    /// What is said of the job.
    pub of_job: Vec<Diagnostic>,
}

impl JobView {
    /// A phase as a schedule for so many pairs of hands; none for a phase without steps.
    ///
    /// # Errors
    /// The id of a step that needs more hands.
    pub fn crew(&self, phase: Phase, hands: u32) -> Result<Option<Crew>, String> {
        let Some(plan) = self.plan.phase(phase) else { return Ok(None) };
        crew(&self.procedure, &self.network, &self.decisions, plan, hands)
            .map(Some)
            .map_err(|step| plan.steps.get(step).map(|step| step.key.id(&self.procedure)).unwrap_or_default())
    }

    /// What build and start use up beside parts and fasteners, and the shop hasn't got.
    pub(crate) fn used_up(&self) -> Vec<UsedUp> {
        let crib = self.shop.as_ref().map(|shop| &shop.crib);
        used_up(&self.procedure, &self.network, &self.plan, &self.job, crib)
    }

    /// What sheets are made from.
    pub fn material<'a>(&'a self, workshop: &'a Workshop) -> Material<'a> {
        Material {
            sources: &workshop.sources,
            procedure: &self.procedure,
            network: &self.network,
            decisions: &self.decisions,
            plan: &self.plan,
            job: &self.job,
            shop: self.shop.as_ref(),
            touched: &self.touched,
        }
    }

    /// The sheets of one phase.
    pub fn packet(&self, workshop: &Workshop, options: &PacketOptions) -> Packet {
        packet(&self.material(workshop), options)
    }
}

/// A job as far as it can be told without an order of work.
struct Stage {
    procedure: Procedure,
    network: Network,
    job: Job,
    decisions: Decisions,
    crib: Option<Crib>,
    touched: Vec<StepKey>,
}

/// What is said of the procedure alone, and of the job.
#[derive(Default)]
struct Said {
    of_procedure: Vec<Diagnostic>,
    of_job: Vec<Diagnostic>,
}

impl Workshop {
    /// A job, planned; none if there is an error anywhere. Everything found is reported, once.
    pub fn job(&mut self, request: &Request<'_>) -> Outcome<Option<JobView>> {
        let mut said = Said::default();
        let stage = self.stage(request, &mut said);
        let Said { of_procedure, of_job } = said;
        let of_job = together(self.in_record(of_job));
        let diagnostics = together([of_procedure.as_slice(), &of_job].concat());
        let faulty = diagnostics.iter().any(|diagnostic| diagnostic.severity() == Severity::Error);
        let value = stage.filter(|_| !faulty).map(|stage| {
            let Stage { procedure, network, job, decisions, crib, touched } = stage;
            let stated = crib.as_ref().map(|crib| crib.changes.as_slice()).unwrap_or_default();
            let choosing = Choosing { times: request.choosing.times.with(stated), ..request.choosing };
            let options = PlanOptions { recorded: job.follows_goods(), choosing };
            let plan =
                plan_to(&procedure, &network, &decisions, options, (request.last)(&procedure, &network));
            let shop = crib.map(|crib| Shop { crib, day: request.day });
            JobView { procedure, network, decisions, plan, job, shop, touched, of_procedure, of_job }
        });
        Outcome { value, diagnostics }
    }

    /// Everything there is to say about the record of a job; of the procedure that it names, only what is in the way.
    pub fn check_record(&mut self, path: &Path) -> Vec<Diagnostic> {
        let mut said = Said::default();
        self.stage(&Request::of(path), &mut said);
        said.of_procedure.retain(|diagnostic| diagnostic.severity() == Severity::Error);
        together([said.of_procedure, self.in_record(said.of_job)].concat())
    }

    /// What in a record can't be set on a page, in whatever text it stands.
    pub(crate) fn unset(&self, file: FileId) -> Vec<Diagnostic> {
        let texts = special_texts(file, &self.sources.file(file).text);
        texts.iter().flat_map(|(span, words)| unsettable(*span, words)).collect()
    }

    /// What follows from the record and the procedure, with everything that is said of them.
    fn stage(&mut self, request: &Request<'_>, said: &mut Said) -> Option<Stage> {
        let mut crib = request.crib.map(|crib| take(read_crib(&mut self.sources, crib), &mut said.of_job));
        let (procedure, mut network, mut job) = self.bound(request, &mut crib, said)?;
        if let Some(crib) = &crib {
            job.general_torques.clone_from(&crib.general_torques);
            job.instrument_errors = crib.instrument_errors();
        }
        let decisions = take(decide::decide(&procedure, &network.structure, &job), &mut said.of_job);
        said.of_job.extend(decide::progress(&procedure, &network, &job, &decisions));
        let touched = touched(&procedure, &network, &job, &mut said.of_job);
        for derived in &mut network.derived {
            decide::without_missing(&procedure, &decisions, &mut derived.step);
        }
        let procedure = decide::settled(&procedure, &decisions);
        Some(Stage { procedure, network, job, decisions, crib, touched })
    }

    /// The procedure and its network, with what the record says of them, and the crib that it names where none was
    /// given; none of a procedure with faults, of which nothing is decided.
    fn bound(
        &mut self,
        request: &Request<'_>,
        crib: &mut Option<Crib>,
        said: &mut Said,
    ) -> Option<(Procedure, Network, Job)> {
        let alone = is_record(request.procedure);
        let record = if alone { Some(request.procedure) } else { request.record };
        if let (true, Some(other)) = (alone, request.record) {
            said.of_job.push(errors::two_records(request.procedure, other));
            return None;
        }
        let written = record.map(|path| (path, self.written(path, &mut said.of_job)));
        let path = match &written {
            Some((path, written)) if alone => {
                take(procedure_of(&mut self.sources, written.as_ref()?, path), &mut said.of_job)?
            }
            _ => request.procedure.to_path_buf(),
        };
        let with = written.as_ref().and_then(|(job, written)| Some((*job, written.as_ref()?)));
        let checked = self.check_with(&path, with);
        let (of_job, of_procedure): (Vec<_>, Vec<_>) =
            checked.diagnostics.into_iter().partition(|complaint| self.is_of_record(complaint));
        said.of_job.extend(of_job);
        said.of_procedure.extend(of_procedure);
        let Checked { procedure, network } = checked.value?;
        let Some((path, written)) = written else { return Some((procedure, network?, Job::default())) };
        let written = written?;
        if !alone {
            said.of_job.extend(record::same_procedure(&written, path, request.procedure));
        }
        let mut bound = bind(&mut self.sources, (&written, path), request.prices, &procedure);
        if network.is_none() {
            // What declares a name may be what couldn't be read.
            record::drop_unknown_names(&mut bound.diagnostics);
        }
        let job = take(bound, &mut said.of_job);
        if let (None, Some(named)) = (&crib, &written.crib) {
            *crib = Some(take(named_crib(&mut self.sources, path, named), &mut said.of_job));
        }
        Some((procedure, network?, job))
    }

    fn written(&mut self, path: &Path, diagnostics: &mut Vec<Diagnostic>) -> Option<Record> {
        match self.sources.read(path) {
            Ok(file) => {
                diagnostics.extend(self.unset(file));
                Some(take(record::read(file, &self.sources.file(file).text), diagnostics))
            }
            Err(failure) => {
                diagnostics.push(unreadable(path, &failure));
                None
            }
        }
    }
}
