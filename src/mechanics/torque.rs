//! Torque and preload of a bolt, both ways: by the nut factor, and by pitch, thread friction and head friction.
//!
//! Friction and nut factor are inputs. Where a procedure states none, callers take the whole of
//! [`UNSTATED_FRICTION`] and say so.

use super::band::Band;
use super::citation::{Citation, Seen};
use super::class::Strength;
use super::thread::Thread;
use crate::quantity::{Force, Length, Ratio, Torque};

/// T = K d F.
pub(crate) const SHORT_SOURCE: Citation =
    Citation::new("T = K d F, Shigley, Mechanical Engineering Design", Seen::FromMemory);
/// The long form.
pub(crate) const LONG_SOURCE: Citation = Citation::new(
    "VDI 2230: T = F (0.16 P + 0.58 d2 μ_G + D_Km/2 · μ_K), checked against a copy of its tables",
    Seen::FromMemory,
);
/// Preload at a share of yield.
pub(crate) const SHARE_SOURCE: Citation = Citation::new(
    "VDI 2230: F = A_s ν R_p0.2 / √(1 + 3 x²), x = 3/2 · d2/d_s · (P/(π d2) + 1.155 μ_G), checked against a copy of its tables",
    Seen::FromMemory,
);
/// Friction of steel threads and heads from well lubricated to dry, for when nothing is stated: the span of
/// classes B and C of VDI 2230. Pastes with molybdenum disulphide lie below it, in class A: 0.04 to 0.10.
pub(crate) const UNSTATED_FRICTION: Band<Ratio> =
    Band { low: Ratio::from_fraction(0.08), high: Ratio::from_fraction(0.24) };
/// Where the span comes from.
pub(crate) const UNSTATED_FRICTION_SOURCE: Citation =
    Citation::new("VDI 2230, friction classes B and C", Seen::FromMemory);

/// Friction that is believed: from the slickest pastes and coatings to threads about to seize. Our own line, no source.
pub(crate) const BELIEVED_FRICTION: Band<Ratio> =
    Band { low: Ratio::from_fraction(0.02), high: Ratio::from_fraction(0.6) };
/// Nut factors that are believed: those that belong to [`BELIEVED_FRICTION`], rounded. Our own line, no source.
pub(crate) const BELIEVED_NUT_FACTOR: Band<Ratio> =
    Band { low: Ratio::from_fraction(0.04), high: Ratio::from_fraction(0.8) };

/// Friction between the threads and under the head or nut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Friction {
    /// Between the threads, μ_G.
    pub thread: Ratio,
    /// Under the head or nut, μ_K.
    pub head: Ratio,
}

impl Friction {
    /// The same in both places.
    pub(crate) fn everywhere(friction: Ratio) -> Self {
        Friction { thread: friction, head: friction }
    }
}

/// The face that turns: head or nut on its washer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Bearing {
    /// Diameter at which head friction acts, D_Km = (washer face + hole)/2.
    pub mean_diameter: Length,
    /// Where it comes from.
    pub source: Citation,
}

/// Nominal diameter, washer face of a hexagon head (ISO 4014 least) and clearance hole (ISO 273 medium), in
/// millimetres; all from memory.
#[rustfmt::skip]
const HEX_HEADS: [(f64, f64, f64); 17] = [
    (3.0, 4.57, 3.4), (4.0, 5.88, 4.5), (5.0, 6.88, 5.5), (6.0, 8.88, 6.6), (8.0, 11.63, 9.0), (10.0, 14.63, 11.0),
    (12.0, 16.63, 13.5), (14.0, 19.64, 15.5), (16.0, 22.49, 17.5), (18.0, 25.34, 20.0), (20.0, 28.19, 22.0),
    (22.0, 31.71, 24.0), (24.0, 33.61, 26.0), (27.0, 38.0, 30.0), (30.0, 42.75, 33.0), (33.0, 46.55, 36.0),
    (36.0, 51.11, 39.0),
];

impl Bearing {
    /// From the washer face and the hole.
    pub(crate) fn between(washer_face: Length, hole: Length) -> Self {
        Bearing { mean_diameter: (washer_face + hole) / 2.0, source: Citation::new("as given", Seen::Read) }
    }

    /// Of a hexagon head or nut on a clearance hole; where the size is not tabled, 1.25 times the diameter.
    pub(crate) fn hexagon(thread: &Thread) -> Self {
        let diameter = thread.diameter();
        match HEX_HEADS.iter().find(|(size, ..)| (size - diameter.mm()).abs() < 1e-6) {
            Some((_, face, hole)) => Bearing {
                mean_diameter: Length::from_mm((face + hole) / 2.0),
                source: Citation::new("ISO 4014 washer face, ISO 273 medium hole", Seen::FromMemory),
            },
            None => Bearing {
                mean_diameter: diameter * 1.25,
                source: Citation::new("mean collar diameter 1.25 d, Shigley", Seen::FromMemory),
            },
        }
    }
}

/// Torque for a preload by the nut factor.
pub(crate) fn torque_by_nut_factor(thread: &Thread, preload: Force, nut_factor: Ratio) -> Torque {
    Torque::from_newton_metres(nut_factor.fraction() * thread.diameter().metres() * preload.newtons())
}

/// Preload from a torque by the nut factor.
pub(crate) fn preload_by_nut_factor(thread: &Thread, torque: Torque, nut_factor: Ratio) -> Force {
    Force::from_newtons(torque.newton_metres() / (nut_factor.fraction() * thread.diameter().metres()))
}

/// Torque for a preload by the long form.
pub(crate) fn torque_for(thread: &Thread, preload: Force, friction: Friction, bearing: Bearing) -> Torque {
    Torque::from_newton_metres(preload.newtons() * lever(thread, friction, bearing).metres())
}

/// Preload from a torque by the long form.
pub(crate) fn preload_from(thread: &Thread, torque: Torque, friction: Friction, bearing: Bearing) -> Force {
    Force::from_newtons(torque.newton_metres() / lever(thread, friction, bearing).metres())
}

/// The nut factor that belongs to a friction: torque over preload and diameter.
pub(crate) fn nut_factor(thread: &Thread, friction: Friction, bearing: Bearing) -> Ratio {
    Ratio::from_fraction(lever(thread, friction, bearing) / thread.diameter())
}

/// Torque for each unit of preload.
fn lever(thread: &Thread, friction: Friction, bearing: Bearing) -> Length {
    thread.pitch() * 0.16
        + thread.pitch_diameter() * (0.58 * friction.thread.fraction())
        + bearing.mean_diameter * (0.5 * friction.head.fraction())
}

/// Preload and torque at which pull and twist together use a share of the yield stress.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Use {
    /// Pull in the bolt.
    pub preload: Force,
    /// Torque that brings it there.
    pub torque: Torque,
}

/// Preload and torque at which a bolt under pull and twist uses `share` of its yield stress (0.9 as a rule).
pub(crate) fn at_share_of_yield(
    thread: &Thread,
    strength: &Strength,
    friction: Friction,
    bearing: Bearing,
    share: Ratio,
) -> Use {
    let d2 = thread.pitch_diameter();
    let twist = 1.5
        * (d2 / thread.stress_diameter())
        * (thread.pitch() / d2 / std::f64::consts::PI + 1.155 * friction.thread.fraction());
    let stress = strength.yielding.megapascals() * share.fraction() / (1.0 + 3.0 * twist * twist).sqrt();
    let preload = Force::from_newtons(thread.stress_area().square_mm() * stress);
    Use { preload, torque: torque_for(thread, preload, friction, bearing) }
}

/// A condition of threads and faces with the nut factors given for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct NutFactor {
    /// Condition.
    pub condition: &'static str,
    /// From the least to the greatest value that a source gives.
    pub factor: Band<Ratio>,
    /// The sources.
    pub source: Citation,
}

const fn factor(
    condition: &'static str,
    low: f64,
    high: f64,
    document: &'static str,
    seen: Seen,
) -> NutFactor {
    NutFactor {
        condition,
        factor: Band { low: Ratio::from_fraction(low), high: Ratio::from_fraction(high) },
        source: Citation::new(document, seen),
    }
}

/// Nut factors by condition, each with its source. Sources disagree, above all on zinc, so each is a range.
pub(crate) static NUT_FACTORS: [NutFactor; 6] = [
    factor(
        "plain steel, dry",
        0.20,
        0.30,
        "Shigley table 8-15: 0.30; IFI Technical Data and Bickford and Nassar: 0.20; all second-hand",
        Seen::Read,
    ),
    factor(
        "zinc plated, dry",
        0.15,
        0.295,
        "Shigley table 8-15: 0.20; IFI, plated: 0.15; Bickford and Nassar: 0.295; all second-hand",
        Seen::Read,
    ),
    factor("lubricated", 0.18, 0.18, "Shigley table 8-15", Seen::FromMemory),
    factor(
        "cadmium plated",
        0.16,
        0.20,
        "Shigley table 8-15: 0.16; Bickford and Nassar: 0.20; both second-hand",
        Seen::Read,
    ),
    factor("anti-seize compound", 0.12, 0.12, "Shigley table 8-15", Seen::FromMemory),
    factor("special anti-seize nuts", 0.09, 0.09, "Shigley table 8-15", Seen::FromMemory),
];
