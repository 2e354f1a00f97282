//! How evenly a joint comes to be loaded by its passes of tightening, as the procedure states them: an estimate.

use super::clamping::{Added, MOST_HOLES, clamping};
use super::model::{JointId, Procedure};
use crate::mechanics::Band;
use crate::mechanics::joint::study_passes;
use crate::quantity::Ratio;

/// Loads after the last pass, at the greatest preload that the stated torques may give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Evenness {
    /// Least and greatest load as a share of the full one.
    pub loads: Band<Ratio>,
    /// The same after one more pass all round at full torque; none where a fastener may not be gone over again, or where
    /// that would win little.
    pub once_more: Option<Band<Ratio>>,
    /// Share of the bolts in the stiffness of the whole.
    pub stiffness_ratio: Band<Ratio>,
}

/// Loads above this share of the full one are even enough: what the torque itself scatters by is more. Our own line; common practice, no source.
const EVEN: f64 = 0.9;
/// What another pass has to win of the full load to be worth telling. Our own line; common practice, no source.
const WORTH: f64 = 0.05;

/// Computes what the passes of a joint leave. None where something isn't known, where the joint has very many holes or
/// no equilibrium, and where the loads come out even enough.
pub(crate) fn uneven(procedure: &Procedure, id: JointId, added: &Added) -> Option<Evenness> {
    let holes: usize = procedure.joint(id).members.iter().map(|member| member.holes.len()).sum();
    if !(3..=MOST_HOLES).contains(&holes) {
        return None;
    }
    let clamped = clamping(procedure, id, added).ok()?;
    let report = study_passes(&clamped.heavy, &clamped.passes, &clamped.by_torque).ok()?;
    let loads = report.passes.last()?.loads;
    let even = loads.low.fraction() >= EVEN;
    // Going over some of the fasteners again says nothing of the others.
    let all = clamped.by_torque.len() == holes;
    (!even).then(|| Evenness {
        loads,
        once_more: report
            .last_circular
            .filter(|pass| all && pass.loads.low.fraction() > loads.low.fraction() + WORTH)
            .map(|pass| pass.loads),
        stiffness_ratio: report.stiffness_ratio,
    })
}
