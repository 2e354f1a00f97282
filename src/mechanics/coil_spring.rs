//! Coil springs under pressure, such as valve springs: wire and coils to a rate, a rate to the load at a height, and the
//! height at which the coils touch.

use super::citation::{Citation, Seen};
use crate::quantity::{Force, Length, Pressure, Stiffness};

/// The rate.
pub(crate) const RATE_SOURCE: Citation =
    Citation::new("k = G d⁴/(8 D³ n), Shigley eq. 10-9; EN 13906-1", Seen::FromMemory);
/// How wide a spring the formula holds for.
pub(crate) const RANGE_SOURCE: Citation =
    Citation::new("EN 13906-1: mean diameter of 4 to 20 wires, two working coils or more", Seen::FromMemory);
/// The load at a height.
pub(crate) const LOAD_SOURCE: Citation = Citation::new("F = F₁ + k (L₁ − L), by definition", Seen::Derived);
/// The height at which the coils touch.
pub(crate) const BIND_SOURCE: Citation = Citation::new(
    "solid height = wire · all coils, ends closed and ground, Shigley table 10-1",
    Seen::FromMemory,
);
/// Shear modulus of cold-drawn spring steel: EN 13906-1, from memory.
pub(crate) const SHEAR_MODULUS: Pressure = Pressure::from_megapascals(81_500.0);

/// Rate of a spring of round wire: its thickness, the mean diameter of the coils, and how many of them work.
pub(crate) fn rate(wire: Length, mean_diameter: Length, working: f64, modulus: Pressure) -> Stiffness {
    let stiffness = modulus.megapascals() * wire.mm().powi(4) / (8.0 * mean_diameter.mm().powi(3) * working);
    Stiffness::from_newtons_per_mm(stiffness)
}

/// Rate between two loads at two heights.
pub(crate) fn rate_between(first: (Length, Force), second: (Length, Force)) -> Stiffness {
    let (height, load) = (first.0 - second.0, second.1 - first.1);
    Stiffness::from_newtons_per_mm(load.newtons() / height.mm())
}

/// Load at a height, from a load known at another.
pub(crate) fn load(known: (Length, Force), rate: Stiffness, height: Length) -> Force {
    known.1 + Force::from_newtons(rate.newtons_per_mm() * (known.0 - height).mm())
}

/// Height at which the coils touch.
pub(crate) fn solid_height(wire: Length, coils: f64) -> Length {
    wire * coils
}
