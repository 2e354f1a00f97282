//! Torque plus angle: what a turn beyond snug adds to the preload, from the stiffness of bolt and clamped parts.

use super::citation::{Citation, Seen};
use super::thread::Thread;
use crate::quantity::{Angle, Force, Length, Pressure, Stiffness};

/// Gain of preload by turning.
pub(crate) const GAIN_SOURCE: Citation =
    Citation::new("ΔF = θ/360° · P · k, 1/k = 1/k_b + 1/k_m (VDI 2230, Shigley)", Seen::FromMemory);
/// Stiffness of the bolt.
pub(crate) const BOLT_SOURCE: Citation = Citation::new(
    "VDI 2230: head 0.5 d, shank, free thread, engaged thread 0.5 d and nut 0.4 d as springs in a row",
    Seen::FromMemory,
);
/// Stiffness of the clamped parts.
pub(crate) const MEMBER_SOURCE: Citation =
    Citation::new("Shigley eq. 8-22, cones of 30°, one material, washer face 1.5 d", Seen::FromMemory);
/// Young's modulus of steel as VDI 2230 has it, from memory.
pub(crate) const STEEL_MODULUS: Pressure = Pressure::from_megapascals(205_000.0);

/// How a bolt's length within the grip is made up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Shank {
    /// Plain shank at nominal diameter.
    pub plain: Length,
    /// Thread that is not engaged.
    pub free_thread: Length,
}

impl Shank {
    /// Threaded all the way.
    pub(crate) fn threaded(grip: Length) -> Self {
        Shank { plain: Length::ZERO, free_thread: grip }
    }
}

/// Stiffness of a bolt with nut by VDI 2230, head and engaged thread included.
pub(crate) fn bolt_stiffness(thread: &Thread, shank: Shank, modulus: Pressure) -> Stiffness {
    let diameter = thread.diameter().mm();
    let give = (0.5 * diameter + shank.plain.mm() + 0.4 * diameter) / thread.shank_area().square_mm()
        + (shank.free_thread.mm() + 0.5 * diameter) / thread.root_area().square_mm();
    Stiffness::from_newtons_per_mm(modulus.megapascals() / give)
}

/// Stiffness of clamped parts of one material, by cones of 30° below a washer face of 1.5 d.
pub(crate) fn member_stiffness(diameter: Length, grip: Length, modulus: Pressure) -> Stiffness {
    // As the equation of [`MEMBER_SOURCE`] has it, to four digits.
    const TAN_30: f64 = 0.5774;
    let (d, l) = (diameter.mm(), grip.mm());
    let cones = 2.0 * (5.0 * (TAN_30 * l + 0.5 * d) / (TAN_30 * l + 2.5 * d)).ln();
    Stiffness::from_newtons_per_mm(TAN_30 * std::f64::consts::PI * modulus.megapascals() * d / cones)
}

/// Two springs in a row.
pub(crate) fn in_row(bolt: Stiffness, members: Stiffness) -> Stiffness {
    let (a, b) = (bolt.newtons_per_mm(), members.newtons_per_mm());
    Stiffness::from_newtons_per_mm(a * b / (a + b))
}

/// Preload after a turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Turned {
    /// What the turn adds while everything stays elastic.
    pub elastic_gain: Force,
    /// Preload after the turn, not beyond the load at which the bolt yields.
    pub preload: Force,
    /// Whether the bolt yields.
    pub yields: bool,
}

/// What a turn from `start` adds: θ/360° · P · k, capped at the yield load.
pub(crate) fn turn(
    thread: &Thread,
    start: Force,
    turn: Angle,
    stiffness: Stiffness,
    yield_load: Force,
) -> Turned {
    let gain = elastic_gain(thread.pitch(), turn, stiffness);
    let elastic = start + gain;
    Turned { elastic_gain: gain, preload: elastic.min(yield_load), yields: elastic >= yield_load }
}

/// What a turn adds while everything stays elastic.
pub(crate) fn elastic_gain(pitch: Length, turn: Angle, stiffness: Stiffness) -> Force {
    Force::from_newtons(turn.turns() * pitch.mm() * stiffness.newtons_per_mm())
}
