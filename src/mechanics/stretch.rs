//! A bolt as a spring that is measured: stretch to preload and back, and what it has kept for good.

use super::angle::{Shank, bolt_stiffness};
use super::citation::{Citation, Seen};
use super::thread::Thread;
use crate::quantity::{Force, Length, Pressure};

/// Stretch.
pub(crate) const STRETCH_SOURCE: Citation = Citation::new("ΔL = F/k_b, Hooke", Seen::Derived);
/// What is done with a stretch outside its limits.
pub(crate) const LIMITS_SOURCE: Citation = Citation::new(
    "US Army TM 55-1905-223-24-1: above the limits renew; below them tighten once more, then renew",
    Seen::Read,
);

/// Stretch of a bolt under a load, while it is elastic.
pub(crate) fn stretch(thread: &Thread, shank: Shank, modulus: Pressure, load: Force) -> Length {
    Length::from_mm(load.newtons() / bolt_stiffness(thread, shank, modulus).newtons_per_mm())
}

/// Load of a bolt that is stretched so far, while it is elastic.
pub(crate) fn load(thread: &Thread, shank: Shank, modulus: Pressure, stretch: Length) -> Force {
    Force::from_newtons(stretch.mm() * bolt_stiffness(thread, shank, modulus).newtons_per_mm())
}
