//! What the record leaves out though the procedure would put it back: the part isn't fitted, and what holds nothing else
//! isn't tightened. What the procedure itself leaves out, the network knows already.

use super::types::PlacedKind;
use super::{Known, decided};
use crate::decide::Verdict;
use crate::procedure::model::{Joint, PartId, Place, Procedure};

/// Whether a part or set is settled as left out, or a set or joint holds nothing but such parts.
pub(super) fn by_the_record(known: &Known, kind: PlacedKind, place: Place) -> bool {
    match kind {
        PlacedKind::Part(part) => out(known, (part, place)),
        PlacedKind::Set(set) => {
            let verdict = known.decisions.sets.get(&(set, place)).map(|decision| &decision.verdict);
            matches!(verdict, Some(Verdict::LeaveOut(_)))
                || nothing_else(known, known.network.structure.screwed_to((set, place)))
        }
        PlacedKind::Joint(joint) => {
            nothing_else(known, &held_by_joint(known.procedure, known.procedure.joint(joint), place))
        }
        _ => false,
    }
}

fn out(known: &Known, (part, place): (PartId, Place)) -> bool {
    matches!(decided::verdict(known.decisions, part, place), Verdict::LeaveOut(_))
}

fn nothing_else(known: &Known, held: &[(PartId, Place)]) -> bool {
    !held.is_empty() && held.iter().all(|piece| out(known, *piece))
}

fn held_by_joint(procedure: &Procedure, joint: &Joint, place: Place) -> Vec<(PartId, Place)> {
    let bound = procedure.bound(&joint.axes, place);
    joint.held().iter().flat_map(|target| procedure.meant(target, &bound)).collect()
}
