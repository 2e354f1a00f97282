//! A proposal for the passes in which a torque is reached, where the author states only the last.

use crate::mechanics::citation::{Citation, Seen};
use crate::quantity::{Ratio, Torque};

/// Share of the final torque at each pass.
pub(super) const PASS_SOURCE: Citation = Citation::new(
    "30, 60 and 100 % as in flange makers' instructions (ASME PCC-1: 20–30, 50–70, 100 %)",
    Seen::Read,
);
/// Below this the whole torque is reached in one pass after nipping up: common practice, no source.
const SMALLEST_STAGED: Torque = Torque::from_newton_metres(15.0);

/// Passes that we propose; always shown as a proposal.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct PassPlan {
    /// Share of the final torque at each pass, in the pattern's order; the last is the whole.
    pub shares: Vec<Ratio>,
    /// Whether a last pass at full torque goes round in plain circular order.
    pub last_circular: bool,
    /// Where the shares come from.
    pub source: Citation,
}

/// Proposes passes up to `torque` for a pattern of `holes`. Two holes or small torques take one pass. A last
/// circular pass is proposed for torque alone: never where the set is turned by an angle or into yield.
pub(crate) fn propose_passes(torque: Torque, holes: usize, by_angle_or_yield: bool) -> PassPlan {
    let staged = holes > 2 && torque >= SMALLEST_STAGED;
    let shares: &[f64] = if staged { &[30.0, 60.0, 100.0] } else { &[100.0] };
    PassPlan {
        shares: shares.iter().map(|percent| Ratio::from_percent(*percent)).collect(),
        last_circular: staged && !by_angle_or_yield,
        source: PASS_SOURCE,
    }
}
