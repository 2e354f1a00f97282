//! Heating or cooling for an interference fit: how warm the outer part must be, or how cold the inner one.
//!
//! Warm: ΔT = δ/(α D), where δ is the interference, the clearance wanted to slip it home, and what is lost on the way.
//! The author's own top temperature always holds. Cold: metals shrink the less the colder they are, so each family has a
//! table of its own, down to boiling nitrogen.

use super::band::Band;
use super::citation::{Citation, Seen};
use crate::quantity::{Length, Temperature};

/// The formula.
pub(crate) const HEAT_SOURCE: Citation = Citation::new("ΔT = δ/(α D), by definition", Seen::Derived);
/// Reference temperature of sizes.
pub(crate) const REFERENCE_SOURCE: Citation = Citation::new("ISO 1: sizes hold at 20 °C", Seen::Read);
/// Temperature at which sizes hold: of [`REFERENCE_SOURCE`].
pub(crate) const REFERENCE: Temperature = Temperature::from_celsius(20.0);

/// Coldest that is reached at a bench: boiling nitrogen. From memory.
pub(crate) const NITROGEN: Temperature = Temperature::from_kelvin(77.35);

/// What cools parts at a bench, the mildest first; temperatures from memory.
pub(crate) static COLDS: [(&str, Temperature); 3] = [
    ("a deep freezer, about −18 °C", Temperature::from_celsius(-18.0)),
    ("dry ice, −78 °C", Temperature::from_celsius(-78.0)),
    ("liquid nitrogen, −196 °C", NITROGEN),
];

/// Above this the expansion of metals is greater than at the bench, and figures err to the hot side. Our own line, no
/// source.
pub(crate) const EVEN_EXPANSION: Temperature = Temperature::from_celsius(200.0);

/// How a family of metals shrinks in the cold: kelvin of the scale, and how many kelvin at the expansion of 20 °C come
/// to the same. The colder, the less it still shrinks; straight between the rows, which asks for a little too cold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Contraction {
    rows: &'static [(f64, f64)],
    /// Where it comes from.
    pub source: Citation,
}

static IRON_IN_THE_COLD: Contraction = Contraction {
    rows: &[(77.0, 165.2), (100.0, 157.4), (150.0, 128.7), (200.0, 87.8), (250.0, 42.6), (293.15, 0.0)],
    source: Citation::new(
        "contraction of iron and low-alloy steel from 293 K, NBS Monograph 29 and NIST cryogenic data",
        Seen::FromMemory,
    ),
};
static ALUMINIUM_IN_THE_COLD: Contraction = Contraction {
    rows: &[
        (77.0, 171.7),
        (100.0, 161.4),
        (125.0, 147.2),
        (150.0, 130.2),
        (175.0, 110.8),
        (200.0, 89.5),
        (225.0, 66.6),
        (250.0, 42.7),
        (275.0, 18.0),
        (293.15, 0.0),
    ],
    source: Citation::new(
        "contraction of aluminium 6061-T6 from 293 K, NIST cryogenic data",
        Seen::FromMemory,
    ),
};
static BRASS_IN_THE_COLD: Contraction = Contraction {
    rows: &[(77.0, 184.8), (100.0, 170.7), (150.0, 132.5), (200.0, 88.5), (250.0, 41.9), (293.15, 0.0)],
    source: Citation::new(
        "contraction of brass from 293 K, NBS Monograph 29, taken for bronze in proportion",
        Seen::FromMemory,
    ),
};

impl Contraction {
    /// Kelvin at the expansion of 20 °C that come to the same as cooling to a temperature; above 20 °C less than none.
    fn even_kelvin(&self, at: Temperature) -> f64 {
        let at = at.base();
        let pair = self.rows.windows(2).find(|pair| at <= pair[1].0);
        pair.map_or(REFERENCE.base() - at, |pair| {
            let ((cold, most), (mild, least)) = (pair[0], pair[1]);
            most + (at - cold) / (mild - cold) * (least - most)
        })
    }

    /// The reverse; none below the coldest row.
    fn temperature(&self, even_kelvin: f64) -> Option<Temperature> {
        if even_kelvin <= 0.0 {
            return Some(REFERENCE - Temperature::from_kelvin(even_kelvin));
        }
        let pair = self.rows.windows(2).find(|pair| (pair[1].1..=pair[0].1).contains(&even_kelvin))?;
        let ((cold, most), (mild, least)) = (pair[0], pair[1]);
        Some(Temperature::from_kelvin(cold + (most - even_kelvin) / (most - least) * (mild - cold)))
    }
}

/// Expansion of a metal for each kelvin, as a band over its common grades.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Expansion {
    /// What it is called.
    pub name: &'static str,
    /// Millionths for each kelvin, about 20 °C.
    pub millionths: Band<f64>,
    /// Where they come from.
    pub source: Citation,
    /// How it shrinks in the cold.
    pub cold: &'static Contraction,
    /// Nothing is said of it above this temperature: it softens, or loses its hardness. Our own line, no source.
    pub bound: Temperature,
}

const fn metal(
    name: &'static str,
    (low, high): (f64, f64),
    source: Citation,
    cold: &'static Contraction,
    bound: f64,
) -> Expansion {
    let bound = Temperature::from_celsius(bound);
    Expansion { name, millionths: Band { low, high }, source, cold, bound }
}

/// Metals known, each with where its expansion comes from.
pub(crate) static METALS: [Expansion; 5] = [
    metal(
        "grey iron",
        (10.8, 11.4),
        Citation::new("Callister table B.6 (G1800 to G4000: 11.4); another table 10.8", Seen::ReadCopy),
        &IRON_IN_THE_COLD,
        400.0,
    ),
    metal(
        "ductile iron",
        (10.6, 11.2),
        Citation::new("Callister table B.6 (80-55-06, 60-40-18)", Seen::ReadCopy),
        &IRON_IN_THE_COLD,
        400.0,
    ),
    metal(
        "steel",
        (11.3, 12.3),
        Citation::new("Callister table B.6 (1020, 1040, 4140)", Seen::FromMemory),
        &IRON_IN_THE_COLD,
        400.0,
    ),
    metal(
        "aluminium",
        (21.5, 23.6),
        Citation::new("Callister table B.6 (356.0, 2024, 6061)", Seen::ReadCopy),
        &ALUMINIUM_IN_THE_COLD,
        250.0,
    ),
    metal(
        "bronze",
        (18.0, 18.0),
        Citation::new("Callister table B.6 (C93200)", Seen::ReadCopy),
        &BRASS_IN_THE_COLD,
        300.0,
    ),
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

/// Temperature to cool the inner part to, from `start`, with `lost` kelvin for what warms on the way: from the slowest
/// grade to the readiest. None where the slowest grade isn't small enough in boiling nitrogen.
pub(crate) fn cool_to(
    gap: Gap,
    metal: &Expansion,
    start: Temperature,
    lost: f64,
) -> Option<Band<Temperature>> {
    let share = (gap.interference + gap.slip) / gap.diameter;
    let from = metal.cold.even_kelvin(start);
    let at = |millionths: f64| {
        let cold = metal.cold.temperature(from + share / (millionths * 1e-6))?;
        Some(cold - Temperature::from_kelvin(lost)).filter(|cold| *cold >= NITROGEN)
    };
    Some(Band { low: at(metal.millionths.low)?, high: at(metal.millionths.high)? })
}

/// How much smaller a diameter gets from `start` to boiling nitrogen: the least that cooling can do.
pub(crate) fn most_contraction(diameter: Length, metal: &Expansion, start: Temperature) -> Length {
    let even = metal.cold.even_kelvin(NITROGEN) - metal.cold.even_kelvin(start);
    change(diameter, metal.millionths.low, even)
}

/// Change of a size from 20 °C to a temperature, over the grades of a metal; in the cold by its own contraction.
///
/// # Errors
/// None beyond what is known of the metal: below boiling nitrogen, or above its bound.
pub(crate) fn change_at(size: Length, metal: &Expansion, at: Temperature) -> Option<Band<Length>> {
    if at < NITROGEN || at > metal.bound {
        return None;
    }
    let kelvin = -metal.cold.even_kelvin(at);
    Some(metal.millionths.map(|millionths| change(size, millionths, kelvin)))
}

/// Change of length of a piece by `kelvin`.
fn change(length: Length, millionths: f64, kelvin: f64) -> Length {
    length * (millionths * 1e-6 * kelvin)
}

/// Whether the author's top temperature is too low for the slowest grade: the fit may then not go together by heat
/// alone, and the temperature is not raised.
pub(crate) fn passes(needed: Band<Temperature>, top: Temperature) -> bool {
    needed.high > top
}
