//! Heating or cooling for an interference fit: how warm the outer part must be, or how cold the inner one.
//!
//! ΔT = δ/(α D), where δ is the interference, the clearance wanted to slip it home, and what is lost on the way.
//! The author's own top temperature always holds.

use super::band::Band;
use super::citation::{Citation, Seen};
use crate::quantity::{Length, Temperature};

/// The formula.
pub(crate) const HEAT_SOURCE: Citation = Citation::new("ΔT = δ/(α D), by definition", Seen::Derived);
/// Reference temperature of sizes.
pub(crate) const REFERENCE_SOURCE: Citation = Citation::new("ISO 1: sizes hold at 20 °C", Seen::Read);
/// Temperature at which sizes hold: of [`REFERENCE_SOURCE`].
pub(crate) const REFERENCE: Temperature = Temperature::from_celsius(20.0);

/// Expansion of a metal for each kelvin, as a band over its common grades.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Expansion {
    /// What it is called.
    pub name: &'static str,
    /// Millionths for each kelvin.
    pub millionths: Band<f64>,
    /// Where they come from.
    pub source: Citation,
}

const fn metal(name: &'static str, low: f64, high: f64, document: &'static str, seen: Seen) -> Expansion {
    Expansion { name, millionths: Band { low, high }, source: Citation::new(document, seen) }
}

/// Metals known, each with where its expansion comes from.
pub(crate) static METALS: [Expansion; 5] = [
    metal(
        "grey iron",
        10.8,
        11.4,
        "Callister table B.6 (G1800 to G4000: 11.4); another table 10.8",
        Seen::ReadCopy,
    ),
    metal("ductile iron", 10.6, 11.2, "Callister table B.6 (80-55-06, 60-40-18)", Seen::ReadCopy),
    metal("steel", 11.3, 12.3, "Callister table B.6 (1020, 1040, 4140)", Seen::FromMemory),
    metal("aluminium", 21.5, 23.6, "Callister table B.6 (356.0, 2024, 6061)", Seen::ReadCopy),
    metal("bronze", 18.0, 18.0, "Callister table B.6 (C93200)", Seen::ReadCopy),
];

/// The metal of this name.
pub(crate) fn metal_named(name: &str) -> Option<&'static Expansion> {
    METALS.iter().find(|metal| metal.name == name)
}

/// What has to be gained.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Gap {
    /// Diameter at the fit.
    pub diameter: Length,
    /// Interference to be overcome.
    pub interference: Length,
    /// Clearance wanted so that it slips home.
    pub slip: Length,
}

/// How far a part must be heated or cooled: a difference in kelvin, from the readiest to the slowest grade.
pub(crate) fn difference(gap: Gap, millionths: Band<f64>) -> Band<f64> {
    millionths.map(|millionths| (gap.interference + gap.slip) / gap.diameter / (millionths * 1e-6))
}

/// Temperature to heat the outer part to, from `start`, with `lost` kelvin for what cools on the way.
pub(crate) fn heat_to(gap: Gap, millionths: Band<f64>, start: Temperature, lost: f64) -> Band<Temperature> {
    difference(gap, millionths).map(|kelvin| start + Temperature::from_kelvin(kelvin + lost))
}

/// Temperature to cool the inner part to, from `start`, with `lost` kelvin for what warms on the way. Metals take
/// up less length the colder they are, so this is too mild rather than too cold.
pub(crate) fn cool_to(gap: Gap, millionths: Band<f64>, start: Temperature, lost: f64) -> Band<Temperature> {
    difference(gap, millionths).map(|kelvin| start - Temperature::from_kelvin(kelvin + lost))
}

/// Change of length of a piece by `kelvin`.
pub(crate) fn change(length: Length, millionths: f64, kelvin: f64) -> Length {
    length * (millionths * 1e-6 * kelvin)
}

/// Whether the author's top temperature is too low for the slowest grade: the fit may then not go together by heat
/// alone, and the temperature is not raised.
pub(crate) fn passes(needed: Band<Temperature>, top: Temperature) -> bool {
    needed.high > top
}
