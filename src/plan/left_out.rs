//! What the record leaves out though the procedure would put it back: the part isn't fitted, and what holds nothing else
//! isn't tightened. What the procedure itself leaves out, the network knows already.

use super::types::PlacedKind;
use super::{Known, decided};
use crate::decide::Verdict;
use crate::procedure::model::{JointId, PartId, Place, SetId};

/// Whether a part or set is settled as left out, or a set or joint holds nothing but such parts.
pub(super) fn by_the_record(known: &Known, kind: PlacedKind, place: Place) -> bool {
    match kind {
        PlacedKind::Part(part) => out(known, (part, place)),
        PlacedKind::Set(set) => {
            let verdict = known.decisions.sets.get(&(set, place)).map(|decision| &decision.verdict);
            matches!(verdict, Some(Verdict::LeaveOut(_)))
                || nothing_else(known, &held_by_set(known, set, place))
        }
        PlacedKind::Joint(joint) => nothing_else(known, &held_by_joint(known, joint, &[place])),
        _ => false,
    }
}

fn out(known: &Known, (part, place): (PartId, Place)) -> bool {
    matches!(decided::verdict(known.decisions, part, place), Verdict::LeaveOut(_))
}

fn nothing_else(known: &Known, held: &[(PartId, Place)]) -> bool {
    !held.is_empty() && held.iter().all(|piece| out(known, *piece))
}

fn held_by_joint(known: &Known, joint: JointId, places: &[Place]) -> Vec<(PartId, Place)> {
    let procedure = known.procedure;
    let joint = procedure.joint(joint);
    let mut held = Vec::new();
    for place in places {
        let bound = joint.binding(&procedure.coordinates(&joint.axes, *place));
        for target in joint.held() {
            let found = procedure.matching(&procedure.part(target.id).axes, &target.pattern, &bound);
            held.extend(found.into_iter().map(|place| (target.id, place)));
        }
    }
    held
}

fn held_by_set(known: &Known, set: SetId, place: Place) -> Vec<(PartId, Place)> {
    let procedure = known.procedure;
    let axes = &procedure.set(set).axes;
    let mut held = Vec::new();
    for (id, part) in (0u32..).map(PartId).zip(&procedure.parts) {
        for at in every(procedure.places(&part.axes)) {
            let bound = part.binding(&procedure.coordinates(&part.axes, at));
            let mut targets = part.held_by.iter().filter(|target| target.id == set);
            if targets.any(|target| procedure.matching(axes, &target.pattern, &bound).contains(&place)) {
                held.push((id, at));
            }
        }
    }
    for (id, joint) in (0u32..).map(JointId).zip(&procedure.joints) {
        let member = joint.members.iter().find(|member| member.set.id == set);
        let Some(member) = member else { continue };
        let here = |at: &Place| {
            let bound = joint.binding(&procedure.coordinates(&joint.axes, *at));
            procedure.matching(axes, &member.set.pattern, &bound).contains(&place)
        };
        let places: Vec<Place> = every(procedure.places(&joint.axes)).filter(here).collect();
        held.extend(held_by_joint(known, id, &places));
    }
    held
}

fn every(count: usize) -> impl Iterator<Item = Place> {
    (0..u32::try_from(count).expect("axes are short")).map(Place)
}
