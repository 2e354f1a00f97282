//! Torque plus angle: what a turn beyond snug adds to the preload, from the stiffness of bolt and clamped parts.

use super::band::Band;
use super::citation::{Citation, Seen};
use super::class::Strength;
use super::thread::Thread;
use super::torque::{Bearing, Friction, at_share_of_yield, preload_from};
use crate::quantity::{Angle, Force, Length, Pressure, Ratio, Stiffness, Torque};

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

/// How a turn ends over a span of friction and stiffness.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ending {
    /// Elastic throughout the span.
    Elastic,
    /// Elastic or yielding, as friction and stiffness fall.
    PerhapsYielding,
    /// Yielding throughout the span.
    Yielding,
}

/// What a torque and a turn after it come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Turned {
    /// Preload that the torque brings.
    pub start: Band<Force>,
    /// What the turn adds while everything stays elastic.
    pub gain: Band<Force>,
    /// Load at which the bolt yields under pull and twist, over the friction.
    pub yields_at: Band<Force>,
    /// Preload after the turn, not beyond that load.
    pub preload: Band<Force>,
    /// Whether the bolt yields.
    pub ending: Ending,
}

/// What holds a bolt while it is turned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Held {
    /// Least strength of its class.
    pub strength: Strength,
    /// Friction, the same everywhere.
    pub friction: Band<Ratio>,
    /// The face that turns.
    pub bearing: Bearing,
    /// Of bolt and clamped parts together.
    pub stiffness: Band<Stiffness>,
}

/// Steps in which a span of friction is gone through: neither the preload nor the load at yield has a turn between them
/// that would matter. Our own choice, no source.
const STEPS: u32 = 32;

/// What a turn after a torque adds: θ/360° · P · k, up to the load at which pull and twist together make the bolt yield.
/// The same friction counts for both, so the span is gone through step by step.
pub(crate) fn turn(thread: &Thread, applied: Band<Torque>, turn: Angle, held: &Held) -> Turned {
    let gain = held.stiffness.map(|stiffness| elastic_gain(thread.pitch(), turn, stiffness));
    let (least, most) = (held.friction.low.fraction(), held.friction.high.fraction());
    let at = |step: u32| {
        let mu = least + (most - least) * f64::from(step) / f64::from(STEPS);
        let friction = Friction::everywhere(Ratio::from_fraction(mu));
        let whole = Ratio::from_percent(100.0);
        AtFriction {
            start: applied.map(|torque| preload_from(thread, torque, friction, held.bearing)),
            limit: at_share_of_yield(thread, &held.strength, friction, held.bearing, whole).preload,
        }
    };
    let steps: Vec<AtFriction> = (0..=STEPS).map(at).collect();
    let over = |part: &dyn Fn(&AtFriction) -> Band<Force>| {
        let wider = |a: Band<Force>, b: Band<Force>| Band { low: a.low.min(b.low), high: a.high.max(b.high) };
        steps.iter().map(part).reduce(wider).unwrap_or(Band::exactly(Force::ZERO))
    };
    let surely = steps.iter().all(|at| at.start.low + gain.low >= at.limit);
    let perhaps = steps.iter().any(|at| at.start.high + gain.high >= at.limit);
    Turned {
        start: over(&|at| at.start),
        gain,
        yields_at: over(&|at| Band::exactly(at.limit)),
        preload: over(&|at| Band {
            low: (at.start.low + gain.low).min(at.limit),
            high: (at.start.high + gain.high).min(at.limit),
        }),
        ending: match (surely, perhaps) {
            (true, _) => Ending::Yielding,
            (false, true) => Ending::PerhapsYielding,
            (false, false) => Ending::Elastic,
        },
    }
}

/// A turn at one friction.
struct AtFriction {
    /// Preload at which it begins.
    start: Band<Force>,
    /// Load at which the bolt yields under pull and twist.
    limit: Force,
}

/// What a turn adds while everything stays elastic.
pub(crate) fn elastic_gain(pitch: Length, turn: Angle, stiffness: Stiffness) -> Force {
    Force::from_newtons(turn.turns() * pitch.mm() * stiffness.newtons_per_mm())
}
