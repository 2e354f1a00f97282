//! What joints clamp, against what else is said of the parts: whether the base can be what stays. It must not know in which
//! order anything is done.

use std::collections::BTreeSet;

use super::errors;
use super::locks::sets_of;
use super::model::*;
use super::resolver::Resolver;
use crate::diagnostics::Diagnostic;
use crate::english::alternatives;
use crate::source::Span;

impl Resolver {
    /// Complains of joints whose base comes off before what it should carry.
    pub(super) fn clamps_reversed(&mut self) {
        let joints = self.procedure.joints.iter();
        let complaints: Vec<Diagnostic> =
            joints.filter_map(|joint| reversed(&self.procedure, joint)).collect();
        self.diagnostics.extend(complaints);
    }
}

fn reversed(procedure: &Procedure, joint: &Joint) -> Option<Diagnostic> {
    let (base, held) = joint.clamps.split_last()?;
    let cause = held_itself(procedure, joint, base.id)
        .or_else(|| above(procedure, held, base.id))
        .or_else(|| alone_comes_off(procedure, joint, held, base.id))?;
    let base_id = &procedure.part(base.id).naming.id;
    let plain = joint.clamps.iter().all(|part| part.pattern.0.iter().all(|at| *at == At::Axis));
    let turned = plain.then(|| {
        let names = joint.clamps.iter().rev().map(|part| procedure.part(part.id).naming.id.as_str());
        (joint.clamps[0].span.to(base.span), names.collect::<Vec<_>>().join(", "))
    });
    Some(errors::clamps_reversed(&joint.naming, (base_id, base.span), cause, turned))
}

/// The base said to be held by what the joint holds the others with.
fn held_itself(procedure: &Procedure, joint: &Joint, base: PartId) -> Option<(Span, String)> {
    let held = procedure.part(base).held_by.iter().find(|held| joint.has(held.what.id))?;
    let (base, set) = (&procedure.part(base).naming.id, &procedure.set(held.what.id).naming.id);
    Some((held.what.span, format!("`{base}` is held by `{set}`")))
}

/// The base taken in the strip, and the joint undone, while nothing that the joint holds is ever taken.
fn alone_comes_off(
    procedure: &Procedure,
    joint: &Joint,
    held: &[Target<PartId>],
    base: PartId,
) -> Option<(Span, String)> {
    let acts = || procedure.steps.iter().filter(|step| step.phase == Phase::Strip).flat_map(Step::acts);
    // A set that another joint has too is undone for that.
    let own = |set: SetId| procedure.joints.iter().filter(|other| other.has(set)).count() == 1;
    let undone = acts().any(|act| match &act.deed {
        Deed::Fasten { work: FasteningWork::Undo, what, .. } => {
            let sets = what.iter().flat_map(|what| sets_of(procedure, what));
            sets.into_iter().any(|set| joint.has(set.id) && own(set.id))
        }
        _ => false,
    });
    if !undone {
        return None;
    }
    let taken = acts().filter_map(|act| match &act.deed {
        Deed::Part { work: PartWork::Take, what } => Some(what),
        _ => None,
    });
    let taken: Vec<&Target<PartId>> = taken.flatten().collect();
    let of_base = taken.iter().find(|part| part.id == base)?;
    if held.is_empty() || held.iter().any(|part| taken.iter().any(|other| other.id == part.id)) {
        return None;
    }
    let names: Vec<String> =
        held.iter().map(|part| format!("`{}`", procedure.part(part.id).naming.id)).collect();
    Some((of_base.span, format!("taken here, and no step takes {}", alternatives(&names))))
}

/// One of the parts that the joint holds, said to come off only after the base. What stands at several places may be over
/// itself at another, and isn't judged.
fn above(procedure: &Procedure, held: &[Target<PartId>], base: PartId) -> Option<(Span, String)> {
    let single = |id: PartId| procedure.part(id).axes.is_empty() && procedure.part(id).present.is_empty();
    held.iter().filter(|part| single(part.id)).find_map(|part| {
        let mut met = BTreeSet::from([part.id]);
        let mut next = vec![part.id];
        while let Some(lower) = next.pop() {
            for cover in procedure.part(lower).under.iter().filter(|cover| cover.to_strip && cover.to_build) {
                let CoverThing::Part(over) = &cover.by else { continue };
                if over.id == base {
                    let names = [part.id, base].map(|id| &procedure.part(id).naming.id);
                    let after = format!("so `{}` comes off only after `{}`", names[0], names[1]);
                    return Some((cover.span, after));
                }
                if single(over.id) && cover.at.everywhere() && met.insert(over.id) {
                    next.push(over.id);
                }
            }
        }
        None
    })
}
