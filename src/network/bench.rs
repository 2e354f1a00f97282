//! Whether a step is done at the bench: on nothing but what sits in assemblies that lie off the engine meanwhile. Whatever
//! the order, it finds the engine as the step before it left it, and leaves it so. It must not know in which order steps come.

use crate::procedure::model::*;
use crate::structure::{PartAt, Structure};

/// Whether everything that a step handles where its axes stand as `binding` says lies off the engine.
pub(super) fn at_the_bench(
    procedure: &Procedure,
    structure: &Structure,
    step: &Step,
    binding: &Binding,
) -> bool {
    // What may be worked on with its assembly fitted tells nothing.
    let inside = |part: &PartAt| structure.host(*part).is_some_and(|host| !host.in_place_too);
    let mut any = false;
    step.acts().all(|act| {
        let Some(parts) = handled(procedure, structure, act, binding) else { return false };
        any |= !parts.is_empty();
        parts.iter().all(inside)
    }) && any
}

/// The parts that an act is about; none where it may be about the engine.
fn handled(
    procedure: &Procedure,
    structure: &Structure,
    act: &Act,
    binding: &Binding,
) -> Option<Vec<PartAt>> {
    let parts = |what: &[Target<PartId>]| {
        what.iter().flat_map(|part| procedure.meant(part, binding)).collect::<Vec<PartAt>>()
    };
    Some(match &act.deed {
        Deed::Part { what, .. } => parts(what),
        Deed::Fasten { what, .. } => {
            let sets = what.iter().flat_map(|fastening| sets(procedure, fastening, binding));
            let held: Vec<&[PartAt]> = sets.map(|set| structure.screwed_to(set)).collect();
            if held.iter().any(|held| held.is_empty()) {
                return None;
            }
            held.concat()
        }
        Deed::Gauge(what) => {
            let read = what.iter().flat_map(|gauge| procedure.meant(gauge, binding));
            read.flat_map(|at| procedure.measured(at)).collect()
        }
        Deed::Look(what) => {
            let mut seen = Vec::new();
            for at in what.iter().flat_map(|look| procedure.meant(look, binding)) {
                let of = procedure.look(at.0).of.as_ref()?;
                seen.extend(procedure.meant(of, &procedure.bound_at(at)));
            }
            seen
        }
        Deed::Photo | Deed::Dispose(_) | Deed::Wait(_) | Deed::Words => Vec::new(),
        _ => return None,
    })
}

/// The sets of a fastening.
fn sets(procedure: &Procedure, fastening: &Fastening, binding: &Binding) -> Vec<(SetId, Place)> {
    match fastening {
        Fastening::Set(set) => procedure.meant(set, binding),
        Fastening::Joint(joint) => {
            let at = procedure.meant(joint, binding).into_iter();
            let members = |at: (JointId, Place)| {
                let bound = procedure.bound_at(at);
                let members = procedure.joint(at.0).members.iter();
                members.flat_map(|member| procedure.meant(&member.set, &bound)).collect::<Vec<_>>()
            };
            at.flat_map(members).collect()
        }
    }
}
