//! Acts with the things they are done to: names of whole rows of things become their places.

use super::types::{Placed, PlacedKind, PlannedAct, PlannedLine};
use crate::procedure::model::{
    Act, AxisId, Binding, Deed, Fastening, Pattern, Procedure, Step, StepLine, Thing,
};

/// The lines of a step where its axes stand as `binding` says.
pub(super) fn lines(procedure: &Procedure, step: &Step, binding: &Binding) -> Vec<PlannedLine> {
    let line = |line: &StepLine| match line {
        StepLine::Hazard(hazard, _) => PlannedLine::Hazard(*hazard),
        StepLine::Act(act) => {
            PlannedLine::Act(PlannedAct { act: act.clone(), things: things(procedure, act, binding) })
        }
    };
    step.lines.iter().map(line).collect()
}

fn things(procedure: &Procedure, act: &Act, binding: &Binding) -> Vec<Placed> {
    let placed = |kind, axes: &[AxisId], pattern: &Pattern| Placed {
        kind,
        places: procedure.matching(axes, pattern, binding),
    };
    let part = |target: &crate::procedure::model::Target<_>| {
        placed(PlacedKind::Part(target.id), &procedure.part(target.id).axes, &target.pattern)
    };
    let set = |target: &crate::procedure::model::Target<_>| {
        placed(PlacedKind::Set(target.id), &procedure.set(target.id).axes, &target.pattern)
    };
    match &act.deed {
        Deed::Fasten { what, .. } => what
            .iter()
            .map(|fastening| match fastening {
                Fastening::Set(target) => set(target),
                Fastening::Joint(target) => {
                    placed(PlacedKind::Joint(target.id), &procedure.joint(target.id).axes, &target.pattern)
                }
            })
            .collect(),
        Deed::Part { what, .. } => what.iter().map(part).collect(),
        Deed::Heat { what, .. } => vec![part(what)],
        Deed::Clean(what) | Deed::Mark(what) => what
            .iter()
            .map(|thing| match thing {
                Thing::Part(target) => part(target),
                Thing::Set(target) => set(target),
            })
            .collect(),
        Deed::Chase(what) => what.iter().map(set).collect(),
        Deed::Gauge(what) => what
            .iter()
            .map(|t| placed(PlacedKind::Gauge(t.id), &procedure.gauge(t.id).axes, &t.pattern))
            .collect(),
        Deed::Look(what) => what
            .iter()
            .map(|t| placed(PlacedKind::Look(t.id), &procedure.look(t.id).axes, &t.pattern))
            .collect(),
        Deed::PutIn(t) | Deed::TakeOut(t) => {
            vec![placed(PlacedKind::Temporary(t.id), &procedure.temporary(t.id).axes, &t.pattern)]
        }
        Deed::Set(..)
        | Deed::TurnByHand { .. }
        | Deed::Photo
        | Deed::Cap
        | Deed::Isolate
        | Deed::Dispose(_)
        | Deed::Wait(_)
        | Deed::Words => Vec::new(),
    }
}
