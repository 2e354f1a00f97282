//! What holds the bolt's thread: a nut by its class, or a tapped hole by its material and depth.
//!
//! The weaker of bolt, nut and tapped hole decides. Strip loads of tapped holes are estimates with a band.

use std::fmt;

use super::band::Band;
use super::citation::{Citation, Seen};
use super::class::Class;
use super::thread::Thread;
use crate::quantity::{Force, Length, Pressure};

/// A nut's class: it holds bolts up to the class of the same first number.
pub(crate) const NUT_SOURCE: Citation =
    Citation::new("ISO 898-2, nut and bolt class pairing", Seen::FromMemory);
/// Depth of engagement.
pub(crate) const DEPTH_SOURCE: Citation = Citation::new(
    "US Army TB 43-0218 §7: nut height at least d, soft tapped hole at least 1.5 d; TM 9-2320-303-24-1: aluminium 2 d",
    Seen::Read,
);
/// Shear area of the tapped thread.
pub(crate) const STRIP_SOURCE: Citation = Citation::new(
    "shear area π d L (1/2 + (d − d2)/(√3 P)) as in FED-STD-H28/2B, nominal sizes; shear strengths estimated",
    Seen::Estimate,
);

/// Class of a nut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NutClass(u8);

impl NutClass {
    /// Reads `5`, `6`, `8`, `9`, `10` or `12`.
    pub fn parse(text: &str) -> Option<NutClass> {
        let number: u8 = text.trim().parse().ok()?;
        [5, 6, 8, 9, 10, 12].contains(&number).then_some(NutClass(number))
    }

    /// The strongest class of bolt that this nut holds until the bolt breaks.
    pub fn strongest_bolt(self) -> Class {
        match self.0 {
            5 => Class::Iso5_8,
            6 => Class::Iso6_8,
            8 => Class::Iso8_8,
            9 => Class::Iso9_8,
            10 => Class::Iso10_9,
            _ => Class::Iso12_9,
        }
    }
}

impl fmt::Display for NutClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// What a hole is tapped into.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Tapped {
    /// Grey or ductile iron.
    Iron,
    /// Cast aluminium.
    Aluminium,
    /// A steel insert in softer metal.
    Insert,
    /// Steel.
    Steel,
}

impl Tapped {
    /// What it is called.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Tapped::Iron => "cast iron",
            Tapped::Aluminium => "aluminium",
            Tapped::Insert => "insert",
            Tapped::Steel => "steel",
        }
    }

    /// Least depth of engagement. For inserts the rule of the soft hole round them: 1.5 d.
    pub(crate) fn least_engagement(self, thread: &Thread) -> Length {
        thread.diameter()
            * match self {
                Tapped::Aluminium => 2.0,
                Tapped::Iron | Tapped::Insert => 1.5,
                Tapped::Steel => 1.0,
            }
    }

    /// Shear strength of common grades; an estimate. None for an insert, which carries its load elsewhere.
    pub(crate) fn shear_strength(self) -> Option<Band<Pressure>> {
        let band = |low, high| {
            Some(Band { low: Pressure::from_megapascals(low), high: Pressure::from_megapascals(high) })
        };
        match self {
            Tapped::Iron => band(150.0, 350.0),
            Tapped::Aluminium => band(110.0, 210.0),
            Tapped::Steel => band(240.0, 500.0),
            Tapped::Insert => None,
        }
    }
}

/// Load at which the tapped thread strips, for a depth of engagement; an estimate with its band.
pub(crate) fn strip_load(thread: &Thread, material: Tapped, engagement: Length) -> Option<Band<Force>> {
    let depth_share = 0.5 + (thread.diameter() - thread.pitch_diameter()) / (thread.pitch() * 3f64.sqrt());
    let area = std::f64::consts::PI * thread.diameter().mm() * engagement.mm() * depth_share;
    material
        .shear_strength()
        .map(|strength| strength.map(|stress| Force::from_newtons(area * stress.megapascals())))
}
