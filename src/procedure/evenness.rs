//! How evenly a joint comes to be loaded by its passes of tightening, as the procedure states them: an estimate.

use super::clamping::{Added, MOST_HOLES, clamping};
use super::fitted::each_fitted;
use super::model::{JointId, Procedure};
use crate::mechanics::Band;
use crate::mechanics::joint::study_passes;
use crate::quantity::Ratio;

/// Loads above this share of the full one are even enough: what the torque itself scatters by is more. Our own line; common practice, no source.
const EVEN: f64 = 0.9;
/// What another pass has to win of the full load to be worth telling. Our own line; common practice, no source.
const WORTH: f64 = 0.05;

/// Whether the passes of a joint leave it uneven and one more all round at full torque would win a good part of that.
/// Not where something isn't known, where the joint has very many holes or no equilibrium, and where some of its fasteners
/// may not be gone over again.
pub(crate) fn once_more_evens(procedure: &Procedure, id: JointId, added: &Added) -> bool {
    each_fitted(procedure, id).iter().any(|procedure| evens(procedure, id, added))
}

fn evens(procedure: &Procedure, id: JointId, added: &Added) -> bool {
    let holes: usize = procedure.joint(id).members.iter().map(|member| member.holes.len()).sum();
    if !(3..=MOST_HOLES).contains(&holes) {
        return false;
    }
    let Ok(clamped) = clamping(procedure, id, added) else { return false };
    let Ok(report) = study_passes(&clamped.heavy, &clamped.passes, &clamped.by_torque) else { return false };
    let Some(loads) = report.passes.last().map(|pass| pass.loads) else { return false };
    let even = loads.low.fraction() >= EVEN;
    // Going over some of the fasteners again says nothing of the others.
    let all = clamped.by_torque.len() == holes;
    let better = |once: Band<Ratio>| once.low.fraction() > loads.low.fraction() + WORTH;
    !even && all && report.last_circular.is_some_and(|pass| better(pass.loads))
}
