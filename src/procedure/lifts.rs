//! Lifts as acts: what says where it is hooked is rigged and taken on the hoist before it comes off or goes on, and let
//! down and unrigged after. It must not know in which order steps come.
//!
//! That the hoist keeps the weight until the fasteners are started: common practice, no source.

use std::collections::BTreeSet;

use super::locks::{Refit, sets_of};
use super::model::*;
use crate::source::Span;

/// Brings to a step the work with the hoist around what it takes off or fits. `refit` is asked where this is one of the steps
/// that nobody wrote; it is empty for the others.
pub(super) fn bring_lifts(procedure: &Procedure, refit: &Refit, step: &mut Step) {
    let mut started: BTreeSet<PartId> = BTreeSet::new();
    let mut lines = Vec::new();
    // What hangs on the hoist until the fasteners that hold it are started.
    let mut hanging: Vec<(Target<PartId>, Scope)> = Vec::new();
    for line in std::mem::take(&mut step.lines) {
        let mut after = Vec::new();
        match &line {
            StepLine::Act(Act { deed: Deed::Part { work, what }, scope, span, .. }) => {
                for part in what.iter().filter(|part| procedure.part(part.id).lift_at.is_some()) {
                    match work {
                        PartWork::Support => lines.push(lift((part, scope), LiftWork::Rig, *span)),
                        PartWork::Take => {
                            let down = [LiftWork::LetDown, LiftWork::Unrig];
                            after.extend(down.map(|work| lift((part, scope), work, *span)));
                        }
                        PartWork::Fit => {
                            let up = [LiftWork::Rig, LiftWork::TakeTheWeight];
                            lines.extend(up.map(|work| lift((part, scope), work, *span)));
                            hanging.push((part.clone(), scope.clone()));
                        }
                        _ => {}
                    }
                }
            }
            StepLine::Act(Act { deed: Deed::Fasten { work, what, .. }, scope, span, .. })
                if !matches!(work, FasteningWork::Slacken | FasteningWork::Undo) =>
            {
                for holder in what {
                    let sets = sets_of(procedure, holder).into_iter();
                    let hung: BTreeSet<PartId> =
                        sets.filter_map(|set| refit.by_set.get(&set.id)).flatten().copied().collect();
                    for id in hung {
                        if !started.insert(id) {
                            continue;
                        }
                        let pattern = beside(procedure, holder, id);
                        if !hanging.iter().any(|(part, _)| part.id == id) {
                            hanging.push((Target { id, pattern, span: *span }, scope.clone()));
                        }
                    }
                }
                let held = |part: &Target<PartId>| what.iter().any(|what| holds(procedure, what, part.id));
                after.extend(
                    hanging
                        .extract_if(.., |(part, there)| there == scope && held(part))
                        .map(|(part, scope)| lift((&part, &scope), LiftWork::Unrig, *span)),
                );
            }
            _ => {}
        }
        lines.push(line);
        lines.extend(after);
    }
    hanging.retain(|(part, _)| started.contains(&part.id) || !refit.parts.contains(&part.id));
    lines.extend(hanging.iter().map(|(part, scope)| lift((part, scope), LiftWork::Unrig, part.span)));
    step.lines = lines.into();
}

fn lift((part, scope): (&Target<PartId>, &Scope), work: LiftWork, span: Span) -> StepLine {
    StepLine::Act(Act::of(Deed::Lift { what: part.clone(), work }, scope.clone(), span))
}

/// The places of a part at which these fasteners hold it.
fn beside(procedure: &Procedure, fastening: &Fastening, part: PartId) -> Pattern {
    let (meant, axes) = match fastening {
        Fastening::Set(target) => (&target.pattern, &procedure.set(target.id).axes),
        Fastening::Joint(target) => (&target.pattern, &procedure.joint(target.id).axes),
    };
    procedure.carried(meant, axes, &Pattern::default(), &procedure.part(part).axes)
}

/// Whether any of these fasteners holds the part.
fn holds(procedure: &Procedure, fastening: &Fastening, part: PartId) -> bool {
    let sets = sets_of(procedure, fastening);
    let held_by = &procedure.part(part).held_by;
    let mut joints = procedure.joints.iter().filter(|joint| joint.held().iter().any(|held| held.id == part));
    held_by.iter().any(|holder| sets.iter().any(|set| set.id == holder.what.id))
        || joints.any(|joint| sets.iter().any(|set| joint.has(set.id)))
}
