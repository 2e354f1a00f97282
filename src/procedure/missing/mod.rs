//! A step to what it lacks of what its own acts and things ask for: hazards before their acts, tools for what is driven and
//! read, a hoist for what is heavy. Each step is judged by itself, written or derived. It must not know in which order steps come.

mod coats;
mod hazards;
mod instruments;
mod lifts;
mod states;
mod tools;

pub(super) use coats::{coated_hot, nothing_on_it};
pub(super) use states::states;

use std::collections::{BTreeMap, BTreeSet};

use super::locks::sets_of;
use super::model::*;
use crate::diagnostics::Diagnostic;
use crate::source::Span;

/// What of a procedure every step is judged by, gathered once.
pub(crate) struct Judge<'a> {
    procedure: &'a Procedure,
    /// Parts of which some part says that they seal it.
    seals: BTreeSet<PartId>,
    /// The first spring, if it isn't harmless, that each set holds.
    springs: BTreeMap<SetId, PartId>,
    /// The first part that carries fuel or stands under pressure that each set holds.
    unions: BTreeMap<SetId, PartId>,
    /// The parts that each state releases and that carry something, with the value that releases them.
    released: BTreeMap<StateId, Vec<(PartId, usize)>>,
    /// The first part that holds fuel under pressure, as only an engine has that injects it.
    injects: Option<PartId>,
    /// Whether any tool is there to measure with.
    measures: bool,
    /// What has a hazard of a stored force before the act of a step that takes it off, in the words of that step alone.
    loaded: BTreeMap<Name, HazardId>,
    /// The states that a step sets in which an energy is shut off, with the values that shut it off.
    shut_off: BTreeSet<(StateId, usize)>,
    /// Where the first state is set in the start, if nothing there warns of what a machine may do that comes to life.
    silent_start: Option<Span>,
    /// The parts that a step of the author's own fits behind the strip.
    refitted: BTreeSet<PartId>,
}

impl<'a> Judge<'a> {
    /// Goes through the parts.
    pub(crate) fn of(procedure: &'a Procedure) -> Self {
        let seals = procedure.parts.iter().flat_map(|part| &part.sealed_by).map(|seal| seal.id).collect();
        let mut springs = BTreeMap::new();
        let loaded = |(_, part): &(PartId, &Part)| part.kind == Some(PartKind::Spring) && !part.harmless;
        for (id, part) in procedure.parts.numbered().filter(loaded) {
            for held in &part.held_by {
                springs.entry(held.what.id).or_insert(id);
            }
        }
        let mut unions = BTreeMap::new();
        let mut released: BTreeMap<StateId, Vec<(PartId, usize)>> = BTreeMap::new();
        for (id, part) in procedure.parts.numbered().filter(|(_, part)| !part.carries.is_empty()) {
            if part.carries.iter().any(|carried| matches!(carried, Carried::Fuel | Carried::Pressure)) {
                for held in &part.held_by {
                    unions.entry(held.what.id).or_insert(id);
                }
            }
            for (state, value, _) in &part.releases {
                released.entry(*state).or_default().push((id, *value));
            }
        }
        let injects =
            |part: &Part| part.carries.contains(&Carried::Fuel) && part.carries.contains(&Carried::Pressure);
        let injects = procedure.parts.numbered().find(|(_, part)| injects(part)).map(|(id, _)| id);
        let measures = procedure.tools.iter().any(|tool| tool.kind == ToolKind::Measuring);
        let loaded = procedure
            .steps
            .iter()
            .filter(|step| step.phase == Phase::Strip)
            .flat_map(loaded_by(procedure))
            .collect();
        let later = procedure.steps.iter().filter(|step| !matches!(step.phase, Phase::Strip | Phase::Survey));
        let fitted = later.flat_map(Step::acts).filter_map(|act| match &act.deed {
            Deed::Part { work: PartWork::Fit, what } => Some(what),
            _ => None,
        });
        let refitted = fitted.flatten().map(|part| part.id).collect();
        let shut_off = procedure.steps.iter().filter(|step| shuts_off(step)).flat_map(states_set);
        let shut_off = shut_off.map(|(state, value, _)| (state, value)).collect();
        let silent_start = silent_start(procedure);
        Judge {
            procedure,
            seals,
            springs,
            unions,
            released,
            injects,
            measures,
            loaded,
            shut_off,
            silent_start,
            refitted,
        }
    }

    /// Complains of what a step lacks; `id` is its name as it is told.
    pub(crate) fn missing(&self, step: &Step, id: &str, derived: bool) -> Vec<Diagnostic> {
        let judged = Judged { procedure: self.procedure, known: self, step, id, derived };
        let mut complaints = judged.hazards();
        complaints.extend(judged.tools());
        complaints.extend(judged.instruments());
        complaints.extend(judged.lifts());
        complaints.extend(judged.one_way());
        complaints
    }
}

fn shuts_off(step: &Step) -> bool {
    step.acts().any(|act| matches!(act.deed, Deed::Isolate))
}

/// The states that a step sets, to which value, and where.
fn states_set(step: &Step) -> impl Iterator<Item = (StateId, usize, Span)> {
    step.acts().filter_map(|act| match act.deed {
        Deed::Set(state, value) => Some((state, value, act.span)),
        _ => None,
    })
}

/// The first state that the start alone sets, where neither a step of it nor a state that is set in it names a danger of something that
/// runs or is live.
fn silent_start(procedure: &Procedure) -> Option<Span> {
    let starts = || procedure.steps.iter().filter(|step| step.phase == Phase::Start);
    let set = || starts().flat_map(states_set);
    let of_states = set().flat_map(|(state, value, _)| {
        procedure
            .state(state)
            .hazards
            .iter()
            .filter(move |(_, of, _)| *of == value)
            .map(|(hazard, ..)| *hazard)
    });
    let mut named = starts().flat_map(Step::hazards).chain(of_states);
    // What the strip lets out comes in again in the start, and that is no more than filling.
    let before = procedure.steps.iter().filter(|step| step.phase != Phase::Start).flat_map(states_set);
    let before: BTreeSet<StateId> = before.map(|(state, ..)| state).collect();
    let (.., first) = set().find(|(state, ..)| !before.contains(state))?;
    named.all(|hazard| !hazards::ENERGY.contains(&procedure.hazard(hazard).kind)).then_some(first)
}

/// Parts and sets that the step takes off right behind a hazard of a stored force that it says itself.
fn loaded_by<'s>(procedure: &'s Procedure) -> impl Fn(&'s Step) -> Vec<(Name, HazardId)> {
    move |step| {
        let mut loaded = Vec::new();
        let mut shown: Option<HazardId> = None;
        for line in &step.lines {
            match line {
                StepLine::Hazard(hazard, span) if step.span.holds(*span) => {
                    let stored = procedure.hazard(hazard.what).kind == HazardKind::Spring;
                    shown = Some(hazard.what).filter(|_| stored).or(shown);
                }
                StepLine::Act(act) if act.deed.is_brought() => {}
                StepLine::Act(act) => {
                    let Some(hazard) = shown.take() else { continue };
                    match &act.deed {
                        Deed::Part { work: PartWork::Take, what } => {
                            loaded.extend(what.iter().map(|part| (Name::Part(part.id), hazard)));
                        }
                        Deed::Fasten { work: FasteningWork::Undo, what, .. } => {
                            let sets = what.iter().flat_map(|what| sets_of(procedure, what));
                            loaded.extend(sets.map(|set| (Name::Set(set.id), hazard)));
                        }
                        _ => {}
                    }
                }
                StepLine::Hazard(..) | StepLine::Hold(..) => {}
            }
        }
        loaded
    }
}

/// A step that is judged.
struct Judged<'a> {
    procedure: &'a Procedure,
    known: &'a Judge<'a>,
    step: &'a Step,
    /// As it is told.
    id: &'a str,
    /// Whether nobody wrote it: then what is missing is shown at the thing, where alone it can be said.
    derived: bool,
}

impl Judged<'_> {
    /// Where something missing is shown: at the act, or at the thing where nobody wrote the act.
    fn place(&self, act: Span, thing: &Naming) -> Span {
        if self.derived { thing.span } else { act }
    }

    /// Every part that is worked on, with the index of the act among the step's acts, and where it is named.
    fn worked_parts(&self) -> impl Iterator<Item = (usize, PartWork, PartId, Span)> {
        self.step.acts().enumerate().flat_map(move |(index, act)| {
            let (work, what) = match &act.deed {
                Deed::Part { work, what } => (*work, what.as_slice()),
                _ => (PartWork::Take, &[][..]),
            };
            what.iter().map(move |target| (index, work, target.id, target.span))
        })
    }

    /// Every set that is driven, likewise, and the torque of a trial.
    fn driven_sets(&self) -> impl Iterator<Item = (usize, FasteningWork, SetId, Span)> {
        self.step.acts().enumerate().flat_map(move |(index, act)| {
            let (work, what) = match &act.deed {
                Deed::Fasten { work, what, .. } if *work != FasteningWork::StartByHand => {
                    (*work, what.as_slice())
                }
                _ => (FasteningWork::StartByHand, &[][..]),
            };
            what.iter().flat_map(move |fastening| {
                let sets = sets_of(self.procedure, fastening).into_iter();
                sets.map(move |set| (index, work, set.id, set.span))
            })
        })
    }
}
