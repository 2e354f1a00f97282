//! What the record leaves out though the procedure would put it back: the part isn't fitted, and what holds nothing else
//! isn't tightened. What the procedure itself leaves out, the network knows already.

use std::collections::BTreeMap;

use super::types::PlacedKind;
use super::{Known, decided};
use crate::decide::Verdict;
use crate::procedure::model::{Joint, PartId, Place, Procedure, SetId};

/// What each set holds at each of its places: itself, and as a member of joints.
pub(super) struct Held {
    by_set: BTreeMap<(SetId, Place), Vec<(PartId, Place)>>,
}

impl Held {
    /// Reads it off the whole procedure.
    pub fn of(procedure: &Procedure) -> Held {
        let mut by_set: BTreeMap<(SetId, Place), Vec<(PartId, Place)>> = BTreeMap::new();
        for (id, part) in procedure.parts.numbered() {
            for at in procedure.places(&part.axes) {
                let bound = procedure.bound(&part.axes, at);
                for target in &part.held_by {
                    for (_, place) in procedure.meant(target, &bound) {
                        by_set.entry((target.id, place)).or_default().push((id, at));
                    }
                }
            }
        }
        for joint in &procedure.joints {
            for at in procedure.places(&joint.axes) {
                let bound = procedure.bound(&joint.axes, at);
                let held = held_by_joint(procedure, joint, at);
                for member in &joint.members {
                    for (_, place) in procedure.meant(&member.set, &bound) {
                        by_set.entry((member.set.id, place)).or_default().extend(&held);
                    }
                }
            }
        }
        Held { by_set }
    }
}

/// Whether a part or set is settled as left out, or a set or joint holds nothing but such parts.
pub(super) fn by_the_record(known: &Known, kind: PlacedKind, place: Place) -> bool {
    match kind {
        PlacedKind::Part(part) => out(known, (part, place)),
        PlacedKind::Set(set) => {
            let verdict = known.decisions.sets.get(&(set, place)).map(|decision| &decision.verdict);
            matches!(verdict, Some(Verdict::LeaveOut(_)))
                || known.held.by_set.get(&(set, place)).is_some_and(|held| nothing_else(known, held))
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
