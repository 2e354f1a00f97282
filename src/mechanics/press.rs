//! A fit with interference as two thick cylinders: sizes and metals to the pressure between them, what it takes to press
//! them together, and what they hold.

use std::f64::consts::PI;

use super::citation::{Citation, Seen};
use super::joint::modulus_of;
use crate::quantity::{Force, Length, Pressure, Ratio, Torque};

/// Pressure of a fit.
pub(crate) const PRESS_SOURCE: Citation = Citation::new(
    "Lamé: p = δ/(d (C_o/E_o + C_i/E_i)), C_o = (D² + d²)/(D² − d²) + ν, C_i = (d² + a²)/(d² − a²) − ν; Shigley eq. 3-56",
    Seen::FromMemory,
);
/// What it holds.
pub(crate) const HOLD_SOURCE: Citation =
    Citation::new("F = μ p π d L, T = F d/2, by definition", Seen::Derived);
/// Poisson's ratio of iron and steel, and nearly of aluminium and bronze: from memory.
const POISSON: f64 = 0.3;

/// One of the two parts, by its metal and its free diameter: outside of the hub, bore of a hollow shaft.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Cylinder {
    /// Young's modulus.
    pub modulus: Pressure,
    /// Free diameter.
    pub free: Length,
}

impl Cylinder {
    /// Of a metal whose modulus is known.
    pub(crate) fn of(metal: &str, free: Length) -> Option<Cylinder> {
        modulus_of(metal).map(|modulus| Cylinder { modulus, free })
    }
}

/// Hub and shaft about one diameter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PressFit {
    /// Diameter at the fit.
    pub diameter: Length,
    /// Length of the fit.
    pub length: Length,
    /// The part outside.
    pub hub: Cylinder,
    /// The part inside; a solid one has a bore of nothing.
    pub shaft: Cylinder,
}

impl PressFit {
    fn hub_shape(&self) -> f64 {
        let (d, outside) = (self.diameter.mm().powi(2), self.hub.free.mm().powi(2));
        (outside + d) / (outside - d)
    }

    /// Pressure between the parts at an interference, while both stay elastic.
    pub(crate) fn pressure(&self, interference: Length) -> Pressure {
        let (d, bore) = (self.diameter.mm().powi(2), self.shaft.free.mm().powi(2));
        let outer = (self.hub_shape() + POISSON) / self.hub.modulus.megapascals();
        let inner = ((d + bore) / (d - bore) - POISSON) / self.shaft.modulus.megapascals();
        Pressure::from_megapascals(interference / self.diameter / (outer + inner))
    }

    /// Pull along the hub at its bore, where it is greatest.
    pub(crate) fn hoop_stress(&self, pressure: Pressure) -> Pressure {
        pressure * self.hub_shape()
    }

    /// How far the hub is drawn at its bore by that pull, elastic.
    pub(crate) fn strain(&self, hoop: Pressure) -> Ratio {
        Ratio::from_fraction(hoop / self.hub.modulus)
    }

    /// Force to press it home, or off, at the end of its way.
    pub(crate) fn force(&self, pressure: Pressure, friction: Ratio) -> Force {
        let area = PI * self.diameter.mm() * self.length.mm();
        Force::from_newtons(friction.fraction() * pressure.megapascals() * area)
    }

    /// Torque that it holds.
    pub(crate) fn torque(&self, pressure: Pressure, friction: Ratio) -> Torque {
        let force = self.force(pressure, friction);
        Torque::from_newton_metres(force.newtons() * self.diameter.metres() / 2.0)
    }
}
