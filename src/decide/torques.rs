//! Which torques are known.

use std::collections::BTreeMap;

use super::Torque;
use crate::procedure::model::{JointId, Procedure, SetId, Sourced, Tightening};

/// Each set in each of its joints, and each set in no joint. A set in a joint that says nothing of it takes what
/// the set itself says.
pub(super) fn torques(procedure: &Procedure) -> BTreeMap<(Option<JointId>, SetId), Torque> {
    let mut found = BTreeMap::new();
    for (joint_id, joint) in procedure.joints.numbered() {
        for member in &joint.members {
            let own = procedure.set(member.set.id).tightening.as_ref();
            found.insert((Some(joint_id), member.set.id), known(member.tightening.as_ref().or(own)));
        }
    }
    for (id, set) in procedure.sets.numbered() {
        if !procedure.joints.iter().any(|joint| joint.has(id)) {
            found.insert((None, id), known(set.tightening.as_ref()));
        }
    }
    found
}

fn known(tightening: Option<&Sourced<Tightening>>) -> Torque {
    match tightening.map(|tightening| &tightening.value) {
        Some(Tightening::Passes(_)) => Torque::Stated,
        Some(Tightening::ByFeel) => Torque::ByFeel,
        Some(Tightening::General) => Torque::General,
        Some(Tightening::Unknown) | None => Torque::Open,
    }
}
