//! Rounding for print, and the second unit beside the first.
//!
//! A sheet shows the quantity as its author wrote it, and beside it the same in the other system, rounded so
//! that it claims neither more nor much less than the first: the rounding moves a value by at most a third
//! of the ±4 % that a torque wrench is good for (ISO 6789 as quoted in tool makers' manuals), and a length is
//! never shown finer than a ten-thousandth of an inch or a thousandth of a millimetre.

use super::{Dimension, Numeral, Quantity, Unit};

/// Largest share of a value by which rounding may move it: a third of the ±4 % that a torque wrench is good for (ISO
/// 6789 as quoted in tool makers' manuals). The third is our own choice, no source.
const LARGEST_SHIFT: f64 = 0.04 / 3.0;

/// A quantity in the author's unit and in the other system.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Pair {
    /// As the author wrote it: `82 N·m`.
    pub primary: String,
    /// In the other system, where there is one: `60 lbf·ft`.
    pub secondary: Option<String>,
}

impl std::fmt::Display for Pair {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.secondary {
            Some(secondary) => write!(f, "{} ({secondary})", self.primary),
            None => f.write_str(&self.primary),
        }
    }
}

/// The quantity as written and in the other system.
pub(crate) fn pair(quantity: Quantity) -> Pair {
    Pair { primary: quantity.printed(), secondary: counterpart(quantity).map(Quantity::printed) }
}

/// Both ends of a range with one unit each time: `40 to 60 N·m (29.5 to 44 lbf·ft)`. The ends are expected to
/// measure the same; where they were written in different units each is shown on its own.
pub(crate) fn range_pair(low: Quantity, high: Quantity) -> Pair {
    let join = |low: Quantity, high: Quantity| {
        if low.unit() == high.unit() {
            format!("{} to {}", low.numeral(), high.printed())
        } else {
            format!("{} to {}", low.printed(), high.printed())
        }
    };
    let unit = other_unit(high);
    let in_other = |quantity: Quantity| unit.map(|unit| convert(quantity, unit));
    Pair { primary: join(low, high), secondary: in_other(low).zip(in_other(high)).map(|(a, b)| join(a, b)) }
}

/// At least `places`, and as many as it takes so that a number rounded to them stands to each of `limits` as it does
/// itself: below, on it or above. Six at most, or as many as `places`.
pub(crate) fn tells(number: f64, places: u8, limits: &[f64]) -> u8 {
    let as_itself = |places: &u8| {
        let shown = Numeral::rounded(number, *places).value();
        limits.iter().all(|limit| against(shown, *limit) == against(number, *limit))
    };
    (places..=places.max(MOST_PLACES)).find(as_itself).unwrap_or(places.max(MOST_PLACES))
}

/// Most digits behind the point that a reading is shown with.
const MOST_PLACES: u8 = 6;

/// How a number stands to a limit; what differs only by rounding of the arithmetic is on it.
fn against(number: f64, limit: f64) -> std::cmp::Ordering {
    if (number - limit).abs() <= 1e-9 * number.abs().max(limit.abs()) {
        std::cmp::Ordering::Equal
    } else {
        number.total_cmp(&limit)
    }
}

/// The unit of the other system that belongs beside this quantity, if there is one.
pub(crate) fn counterpart_unit(quantity: Quantity) -> Option<&'static Unit> {
    other_unit(quantity)
}

/// The same in the other system, rounded; none if it isn't shown in two systems.
pub(crate) fn counterpart(quantity: Quantity) -> Option<Quantity> {
    other_unit(quantity).map(|unit| convert(quantity, unit))
}

/// An amount in base units, computed by us, with no more digits than rounding needs: two or three.
pub(crate) fn rounded(base: f64, unit: &'static Unit) -> Quantity {
    shown(unit.number_for(base), None, unit)
}

/// The unit of the other system in which a sheet repeats this quantity.
fn other_unit(quantity: Quantity) -> Option<&'static Unit> {
    let symbol = match quantity.unit().symbol {
        "N.m" | "kgf.m" => "lbf.ft",
        "lbf.ft" | "lbf.in" => "N.m",
        "kgf.cm" | "cN.m" => "lbf.in",
        "mm" | "um" | "cm" | "m" => "in",
        "in" | "thou" => "mm",
        "N" | "kN" => "lbf",
        "lbf" => "N",
        "bar" | "kPa" | "MPa" | "kgf/cm2" => "psi",
        "psi" => "kPa",
        "mm2" => "in2",
        "cm3" => "in3",
        "in3" => "cm3",
        "N/mm" => "lbf/in",
        "kN/mm" => "lbf/in",
        "kg" | "g" => "lb",
        "lb" => "kg",
        "degC" => "degF",
        "degF" => "degC",
        _ => return None,
    };
    Unit::for_results(symbol)
}

fn convert(quantity: Quantity, unit: &'static Unit) -> Quantity {
    let written_step = quantity.numeral().step().map(|step| step * quantity.unit().scale() / unit.scale());
    shown(unit.number_for(quantity.base()), written_step, unit)
}

/// A value as it is shown: from a thousand upwards with three digits, else with the places it needs.
fn shown(value: f64, written_step: Option<f64>, unit: &'static Unit) -> Quantity {
    let coarse = value.abs() >= 999.5 && unit.dimension != Dimension::LENGTH;
    let numeral = if coarse {
        Numeral::three_digits(value)
    } else {
        Numeral::rounded(value, places_for(value, written_step, unit))
    };
    Quantity::new(numeral, unit)
}

/// Digits after the point for a value in `unit`, where the first writing could show steps of `written_step`.
fn places_for(value: f64, written_step: Option<f64>, unit: &Unit) -> u8 {
    if unit.dimension == Dimension::TEMPERATURE {
        return 0;
    }
    let most = match unit.symbol {
        "in" => 4,
        "mm" => 3,
        "um" | "thou" => 1,
        _ => 6,
    };
    let by_size = |places: u8| 0.5 * 10f64.powi(-i32::from(places)) <= LARGEST_SHIFT * value.abs();
    // Only lengths are read to a step; a torque's digits follow from its size alone. A fraction of an inch is
    // exact: it is shown to a hundredth of a millimetre.
    let by_step = |places: u8| match written_step {
        _ if unit.dimension != Dimension::LENGTH => true,
        Some(step) => 10f64.powi(-i32::from(places)) <= step * 1.000_001,
        None => unit.symbol != "mm" || places >= 2,
    };
    (0..most).find(|places| (value == 0.0 || by_size(*places)) && by_step(*places)).unwrap_or(most)
}
