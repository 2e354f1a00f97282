//! Fasteners that come out and are tightened, and that nobody puts in between: the sheet would go from the part to the torque. It
//! must not know orders: what is started by hand anywhere in the build counts.

use std::collections::BTreeSet;

use super::acts::fastened;
use super::errors;
use super::types::DerivedStep;
use crate::diagnostics::Diagnostic;
use crate::procedure::model::*;
use crate::source::Span;

/// Complaints about sets that a step of the author's tightens and that none starts by hand: for good, and in each trial for itself.
pub(super) fn not_started(procedure: &Procedure, derived: &[DerivedStep]) -> Vec<Diagnostic> {
    let trial_of = |step: &Step| step.group.filter(|group| procedure.group(*group).kind == GroupKind::Trial);
    let out: BTreeSet<SetId> = procedure
        .steps
        .iter()
        .filter(|step| step.phase == Phase::Strip)
        .flat_map(|step| worked_on(procedure, step, |work| work == FasteningWork::Undo))
        .map(|(set, _)| set)
        .collect();
    let building = || {
        let steps =
            procedure.steps.iter().filter(|step| step.phase == Phase::Build || trial_of(step).is_some());
        steps.map(|step| (trial_of(step), step))
    };
    let on = |work| matches!(work, FasteningWork::StartByHand | FasteningWork::Nip);
    let mut started: BTreeSet<(Option<GroupId>, SetId)> = building()
        .chain(derived.iter().map(|derived| (None, &derived.step)))
        .flat_map(|(trial, step)| worked_on(procedure, step, on).map(move |(set, _)| (trial, set)))
        .collect();
    let mut found = Vec::new();
    for (trial, step) in building() {
        for (set, span) in worked_on(procedure, step, |work| work == FasteningWork::Tighten) {
            let held = procedure.set(set);
            // One that is captive never leaves its part; each set is told of once.
            if out.contains(&set) && !held.stays && !held.captive && started.insert((trial, set)) {
                found.push(errors::not_started(&held.naming.id, span));
            }
        }
    }
    found
}

/// Sets that the acts of a step do such work on, each with where that is said.
fn worked_on(
    procedure: &Procedure,
    step: &Step,
    such: impl Fn(FasteningWork) -> bool,
) -> impl Iterator<Item = (SetId, Span)> {
    let mut found = Vec::new();
    for act in step.acts() {
        if let Deed::Fasten { work, what, .. } = &act.deed
            && such(*work)
        {
            let sets = fastened(procedure, *work, what, &Binding::default());
            found.extend(sets.into_iter().map(|(set, ..)| (set, act.span)));
        }
    }
    found.into_iter()
}
