//! A step to what it lacks of what its own acts and things ask for: hazards before their acts, tools for what is driven,
//! a hoist for what is heavy. Each step is judged by itself, written or derived. It must not know in which order steps come.

mod coats;
mod hazards;
mod lifts;
mod tools;

pub(super) use coats::nothing_on_it;

use super::locks::sets_of;
use super::model::*;
use crate::diagnostics::Diagnostic;
use crate::source::Span;

/// A step that is judged.
struct Judged<'a> {
    procedure: &'a Procedure,
    step: &'a Step,
    /// As it is told.
    id: &'a str,
    /// Whether nobody wrote it: then what is missing is shown at the thing, where alone it can be said.
    derived: bool,
}

/// Complains of what a step lacks; `id` is its name as it is told.
pub(crate) fn missing(procedure: &Procedure, step: &Step, id: &str, derived: bool) -> Vec<Diagnostic> {
    let judged = Judged { procedure, step, id, derived };
    let mut complaints = judged.hazards();
    complaints.extend(judged.tools());
    complaints.extend(judged.lifts());
    complaints
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
