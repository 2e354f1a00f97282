//! What holds something still while it is undone, and isn't there while it is tightened: a pin in a shaft, a bar in a rim. It must
//! not know orders: a temporary that some step of the build puts in counts as there.

use std::collections::{BTreeMap, BTreeSet};

use super::acts::fastened;
use super::errors;
use super::types::DerivedStep;
use crate::diagnostics::Diagnostic;
use crate::procedure::model::*;
use crate::source::Span;

/// Complaints about temporaries that are in while a set is undone, in one step, and that nothing puts in again although the set is
/// tightened to a torque.
pub(super) fn not_held_again(procedure: &Procedure, derived: &[DerivedStep]) -> Vec<Diagnostic> {
    let written = |phase: Phase| procedure.steps.iter().filter(move |step| step.phase == phase);
    let building = || {
        let own = written(Phase::Build).chain(written(Phase::Start));
        own.chain(derived.iter().map(|derived| &derived.step))
    };
    let again: BTreeSet<TemporaryId> = building()
        .flat_map(Step::acts)
        .filter_map(|act| if let Deed::PutIn(what) = &act.deed { Some(what.id) } else { None })
        .collect();
    let tightened: BTreeSet<SetId> = building()
        .flat_map(Step::acts)
        .flat_map(|act| sets(procedure, act, FasteningWork::Tighten))
        .collect();
    let mut found = Vec::new();
    let mut told: BTreeSet<TemporaryId> = BTreeSet::new();
    for step in written(Phase::Strip) {
        let mut inside: BTreeMap<TemporaryId, Span> = BTreeMap::new();
        for act in step.acts() {
            match &act.deed {
                Deed::PutIn(what) => drop(inside.insert(what.id, act.span)),
                Deed::TakeOut(what) => drop(inside.remove(&what.id)),
                _ => {}
            }
            let undone = sets(procedure, act, FasteningWork::Undo);
            // A stud turns in what stands still.
            let turned =
                |set: &SetId| procedure.set(*set).kind != FastenerKind::Stud && tightened.contains(set);
            let Some(set) = undone.into_iter().find(turned) else { continue };
            for (temporary, put_in) in inside.iter().filter(|(id, _)| !again.contains(id)) {
                if told.insert(*temporary) {
                    let [pin, set] = [Name::Temporary(*temporary), Name::Set(set)]
                        .map(|name| procedure.naming(name).id.as_str());
                    found.push(errors::not_held_again(pin, set, *put_in, act.span));
                }
            }
        }
    }
    found
}

/// The sets that an act does such work on.
fn sets(procedure: &Procedure, act: &Act, such: FasteningWork) -> Vec<SetId> {
    match &act.deed {
        Deed::Fasten { work, what, .. } if *work == such => {
            let worked = fastened(procedure, *work, what, &Binding::default());
            worked.into_iter().map(|(set, ..)| set).collect()
        }
        _ => Vec::new(),
    }
}
