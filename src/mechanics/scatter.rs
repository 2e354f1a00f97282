//! How far the preload scatters by the way of tightening: always a band, never a single number.
//!
//! α_A = F_max / F_min. Sources that give ±s are converted: α_A = (1 + s)/(1 − s).

use super::band::Band;
use super::citation::{Citation, Seen};
use crate::quantity::{Force, Ratio};

/// A way of tightening.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Method {
    /// By feel.
    ByFeel,
    /// Torque wrench; friction estimated.
    TorqueWrench,
    /// Torque wrench; torque found by a test on the bolts themselves.
    TorqueWrenchTested,
    /// Torque, then an angle into yield; or turned until yield is sensed.
    AngleOrYield,
    /// Impact wrench.
    Impact,
    /// Stretch of the bolt measured.
    Stretch,
}

impl Method {
    /// What it is called.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Method::ByFeel => "by feel",
            Method::TorqueWrench => "torque wrench, friction estimated",
            Method::TorqueWrenchTested => "torque wrench, torque found by test",
            Method::AngleOrYield => "torque and angle, or to yield",
            Method::Impact => "impact wrench",
            Method::Stretch => "by measured stretch",
        }
    }

    /// Largest over smallest preload, itself between two ends.
    pub(crate) fn spread(self) -> Band<Ratio> {
        let band = |low, high| Band { low: Ratio::from_fraction(low), high: Ratio::from_fraction(high) };
        match self {
            Method::ByFeel => Band::exactly(spread_of(Ratio::from_percent(35.0))),
            Method::TorqueWrench => band(1.6, 2.0),
            Method::TorqueWrenchTested => band(1.4, 1.6),
            Method::AngleOrYield => band(1.2, 1.4),
            Method::Impact => band(2.5, 4.0),
            Method::Stretch => {
                Band { low: spread_of(Ratio::from_percent(3.0)), high: spread_of(Ratio::from_percent(5.0)) }
            }
        }
    }

    /// Where the spread comes from.
    pub(crate) fn source(self) -> Citation {
        match self {
            Method::ByFeel | Method::Stretch => {
                Citation::new("Machinery's Handbook list, second-hand", Seen::Read)
            }
            Method::TorqueWrench => {
                Citation::new("VDI 2230: α_A 1.6 to 2.0 (a supplier's worked example, read)", Seen::ReadCopy)
            }
            _ => Citation::new("VDI 2230 table A8", Seen::FromMemory),
        }
    }
}

/// α_A of a scatter of ±s about the mean; `scatter` is below 1.
pub(crate) fn spread_of(scatter: Ratio) -> Ratio {
    Ratio::from_fraction((1.0 + scatter.fraction()) / (1.0 - scatter.fraction()))
}

/// Smallest preload where the largest is known: F_max / α_A, from the worst spread to the best.
pub(crate) fn least_preload(largest: Force, method: Method) -> Band<Force> {
    method.spread().map(|spread| largest / spread.fraction())
}

/// Preload about a mean, at the method's widest spread: from 2F/(1 + α) to 2Fα/(1 + α).
pub(crate) fn about_mean(mean: Force, method: Method) -> Band<Force> {
    let spread = method.spread().high.fraction();
    let low = mean * (2.0 / (1.0 + spread));
    Band { low, high: low * spread }
}
