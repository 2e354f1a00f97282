//! What each reading rests on: the parts that take its value away when they are machined or renewed. From what the
//! procedure declares of its gauges: what they are `of`, whose fate they decide, whether they are read with their part
//! fitted, and then what that part sits in and on. It must not know what becomes of any part.

use std::collections::{BTreeMap, BTreeSet};

use crate::procedure::model::{
    Condition, Deed, Fate, FateChoice, GaugeId, Guard, Judge, PartCondition, Phase, Place, Procedure,
    Question, Reuse, Step, Target,
};
use crate::structure::{PartAt, Structure};

/// What one reading rests on.
#[derive(Default)]
pub(super) struct Rest {
    /// What is measured or judged by it, and what is within that: the part itself first. A new one has another value.
    pub(super) measured: Vec<PartAt>,
    /// What that sits in and on, from near to far, where it is read with its part fitted: machining it moves the value.
    pub(super) seat: Vec<PartAt>,
}

/// What readings rest on, and what they are for.
pub(super) struct Resting {
    /// By gauge that is read, at each place.
    on: BTreeMap<(GaugeId, Place), Rest>,
    surveyed: BTreeSet<GaugeId>,
    deciding: BTreeSet<GaugeId>,
}

impl Resting {
    pub(super) fn new(procedure: &Procedure, structure: &Structure) -> Resting {
        let judged = judged(procedure);
        let mut on = BTreeMap::new();
        let read = procedure.everywhere().filter(|(id, _)| procedure.gauge(*id).formula.is_none());
        for at in read {
            let mut rest = rest(procedure, structure, at);
            rest.measured.extend(judged.get(&at).into_iter().flatten());
            on.insert(at, rest);
        }
        Resting { on, surveyed: surveyed(procedure), deciding: deciding(procedure) }
    }

    /// What a reading rests on; nothing for what is computed.
    pub(super) fn on(&self, id: GaugeId, place: Place) -> Option<&Rest> {
        self.on.get(&(id, place))
    }

    /// Whether a step of the survey reads it: it can be read before the building begins.
    pub(super) fn surveyed(&self, id: GaugeId) -> bool {
        self.surveyed.contains(&id)
    }

    /// Whether a fate, or work before the building, hangs on its bands: what was found decides. Otherwise its bands are
    /// about the engine as it is built, and the latest reading counts.
    pub(super) fn deciding(&self, id: GaugeId) -> bool {
        self.deciding.contains(&id)
    }
}

/// What a reading of these pieces rests on. What is read on the bench rests on nothing but itself; what the gauge needs
/// off bears nothing but what is in it.
fn rest(procedure: &Procedure, structure: &Structure, at: (GaugeId, Place)) -> Rest {
    let (gauge, bound, own) = (procedure.gauge(at.0), procedure.bound_at(at), procedure.measured(at));
    let needed = |wanted: PartCondition| -> Vec<PartAt> {
        let here = gauge.needs.iter().filter_map(|need| need.here(&bound));
        let needs = here.filter_map(|need| match need {
            Condition::Part(target, condition) if *condition == wanted => {
                Some(procedure.meant(target, &bound))
            }
            _ => None,
        });
        needs.flatten().collect()
    };
    let (fitted, off) = (needed(PartCondition::Fitted), needed(PartCondition::Off));
    let host_of = |piece| structure.host(piece).map(|within| within.host);
    let in_place = gauge.taken_off == Some(false);
    if !in_place && !own.iter().any(|piece| fitted.contains(piece)) {
        return Rest { measured: own, seat: Vec::new() };
    }
    let mut seat: Vec<PartAt> = Vec::new();
    let mut carried: Vec<PartAt> = own.iter().chain(&fitted).copied().collect();
    let mut next = 0;
    while let Some(piece) = carried.get(next).copied() {
        next += 1;
        let host = host_of(piece);
        if let Some(host) = host {
            seat.push(host);
            if (in_place || fitted.contains(&host)) && !off.contains(&host) && !carried.contains(&host) {
                carried.push(host);
            }
        }
        let under = structure.below(piece).iter().copied();
        // Of another assembly than its own only what the engine as it stands brings into play.
        let under = under.filter(|under| in_place || host_of(*under) == host);
        for under in under.filter(|under| !off.contains(under)) {
            seat.push(under);
            if !carried.contains(&under) {
                carried.push(under);
            }
        }
    }
    let within = own.iter().flat_map(|piece| structure.contents(*piece)).map(|within| within.part);
    let measured = own.iter().copied().chain(within).collect();
    Rest { measured, seat }
}

/// The parts whose fate a gauge that is read decides, itself or through what is computed from it.
fn judged(procedure: &Procedure) -> BTreeMap<(GaugeId, Place), Vec<PartAt>> {
    let mut found: BTreeMap<(GaugeId, Place), Vec<PartAt>> = BTreeMap::new();
    for part in procedure.everywhere() {
        let bound = procedure.bound_at(part);
        for target in judges(procedure.part(part.0).fate.iter().flat_map(FateChoice::fates)) {
            for (gauge, at) in procedure.meant(target, &bound) {
                for input in procedure.readings_behind(gauge, at) {
                    found.entry(input).or_default().push(part);
                }
            }
        }
    }
    found
}

fn judges<'a>(fates: impl Iterator<Item = &'a Fate>) -> impl Iterator<Item = &'a Target<GaugeId>> {
    let judges = fates.filter_map(|fate| if let Fate::By(judges) = fate { Some(judges) } else { None });
    judges.flatten().filter_map(|judge| if let Judge::Gauge(target) = judge { Some(target) } else { None })
}

fn surveyed(procedure: &Procedure) -> BTreeSet<GaugeId> {
    let survey = procedure.steps.iter().filter(|step| step.phase == Phase::Survey);
    let acts = survey.flat_map(Step::acts);
    let read = acts.filter_map(|act| if let Deed::Gauge(targets) = &act.deed { Some(targets) } else { None });
    read.flatten().map(|target| target.id).collect()
}

fn deciding(procedure: &Procedure) -> BTreeSet<GaugeId> {
    let mut found = BTreeSet::new();
    let mut guard = |guard: &Guard| {
        found.extend(guard.0.iter().filter_map(|term| match &term.question {
            Question::Gauge(target) => Some(target.id),
            _ => None,
        }));
    };
    for part in &procedure.parts {
        part.present.iter().for_each(|(when, _)| guard(when));
        part.fate.iter().flat_map(|choice| &choice.cases).for_each(|(_, when)| guard(when));
    }
    procedure.sets.iter().flat_map(|set| &set.present).for_each(|(when, _)| guard(when));
    procedure.sets.iter().flat_map(|set| &set.reuse.0).for_each(|(_, scope)| guard(&scope.when));
    let before = |step: &&Step| matches!(step.phase, Phase::Strip | Phase::Survey);
    for step in procedure.steps.iter().filter(before) {
        guard(&step.when);
        step.acts().for_each(|act| guard(&act.scope.when));
    }
    let fates = procedure.parts.iter().filter_map(|part| part.fate.as_ref()).flat_map(FateChoice::fates);
    found.extend(judges(fates).map(|target| target.id));
    let reused =
        procedure.sets.iter().flat_map(|set| set.reuse.values()).filter_map(|said| match &said.value {
            Reuse::By(target) => Some(target.id),
            Reuse::Once | Reuse::Reusable | Reuse::Unknown => None,
        });
    found.extend(reused);
    found
}
