//! A load on two legs of a sling: where its centre of gravity lies, and what each leg bears.

use super::citation::{Citation, Seen};
use crate::quantity::{Angle, Force, Length, Mass};

/// What a leg bears.
pub(crate) const SLING_SOURCE: Citation = Citation::new(
    "leg = its share of the weight/sin α, shares by moments about the other lug; statics, by definition",
    Seen::Derived,
);
/// Where the centre of gravity lies.
pub(crate) const CENTRE_SOURCE: Citation = Citation::new(
    "x = m₂ · L/(m₁ + m₂), moments about the first support; statics, by definition",
    Seen::Derived,
);
/// Standard gravity.
const GRAVITY: f64 = 9.806_65;
/// Legs flatter than this are not used: common practice, no source.
pub(crate) const FLATTEST: Angle = Angle::from_degrees(30.0);

/// How a load hangs: a hook above its centre of gravity, and a lug to each side of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Sling {
    /// The whole load.
    pub mass: Mass,
    /// From the centre of gravity to the first lug, level.
    pub first: Length,
    /// From the centre of gravity to the second lug, level.
    pub second: Length,
    /// From the lugs up to the hook.
    pub height: Length,
}

/// A leg of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Leg {
    /// Between the leg and the level.
    pub angle: Angle,
    /// Pull along it.
    pub pull: Force,
}

impl Sling {
    /// First and second leg.
    pub(crate) fn legs(&self) -> [Leg; 2] {
        let weight = self.mass.kilograms() * GRAVITY;
        let apart = self.first + self.second;
        [(self.first, self.second), (self.second, self.first)].map(|(own, other)| {
            let angle = (self.height / Length::from_metres(1.0)).atan2(own / Length::from_metres(1.0));
            let share = weight * (other / apart);
            Leg { angle: Angle::from_radians(angle), pull: Force::from_newtons(share / angle.sin()) }
        })
    }
}

/// How far the centre of gravity lies from the first of two supports, by what scales under both show.
pub(crate) fn centre(first: Mass, second: Mass, apart: Length) -> Length {
    apart * (second / (first + second))
}
