//! Rounding for print, and the second unit beside the first.
//!
//! How a quantity is rounded depends on what it is, never on the digits that somebody typed. A limit goes inward, see
//! `limit`; a reading never onto a limit or across one, see [`tells`]; a setting, or any other size, to the nearest: by at
//! most a third of the ±4 % that a torque wrench is good for (ISO 6789 as quoted in tool makers' manuals), so that its step is
//! no coarser than 2.7 % of it, a length to five digits, and never finer than a ten-thousandth of an inch or a thousandth of a
//! millimetre; a setting beside limits, such as the ends of a wrench's scale, so finely that it stands to each as the author's
//! does, see [`setting_pair`]; what is computed, an estimate, to two or three digits.

use std::cmp::Ordering;

use super::inward::{Bound, inward};
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

/// A setting as written and in the other system: to the nearest, and there on no other side of any of `limits`, in base
/// units with what they allow, than as it is written. One that lies on an end of a scale stays on the scale.
pub(crate) fn setting_pair(setting: Quantity, limits: &[(f64, Bound)]) -> Pair {
    let secondary = setting_counterpart(setting, limits).map(Quantity::printed);
    Pair { primary: setting.printed(), secondary }
}

/// The second unit of a [`setting_pair`] alone.
pub(crate) fn setting_counterpart(setting: Quantity, limits: &[(f64, Bound)]) -> Option<Quantity> {
    let unit = other_unit(setting)?;
    let number = unit.number_for(setting.base());
    let limits: Vec<(f64, Bound)> =
        limits.iter().map(|(limit, bound)| (unit.number_for(*limit), *bound)).collect();
    let stands = |shown: f64| {
        limits.iter().all(|(limit, bound)| match (against(number, *limit), bound) {
            (Ordering::Equal, Bound::Most) => against(shown, *limit).is_le(),
            (Ordering::Equal, Bound::Least) => against(shown, *limit).is_ge(),
            (side, _) => against(shown, *limit) == side,
        })
    };
    let nearest = convert(setting, unit);
    let fewest = places_for(number, unit);
    // Down or up where the nearest would leave a scale that ends just there; of two that meet there, one has to be left.
    let ends = limits.iter().find(|(limit, _)| against(number, *limit).is_eq()).map(|(_, bound)| *bound);
    let finer = (fewest..=MOST_PLACES).find_map(|places| {
        let to_end = |bound| inward(number, i32::from(places), bound);
        let shown = [Some(Numeral::rounded(number, places).value()), ends.map(to_end)];
        let near = |shown: &f64| (shown - number).abs() <= LARGEST_SHIFT * number.abs();
        let found = shown.into_iter().flatten().find(|shown| near(shown) && stands(*shown))?;
        Some(Quantity::new(Numeral::rounded(found, places), unit))
    });
    if stands(nearest.numeral().value()) { Some(nearest) } else { finer.or(Some(nearest)) }
}

/// At least `places`, and as many as it takes so that a number rounded to them stands to each of `limits` as it does
/// itself: below, on it or above. Nine at most, or as many as `places`.
pub(crate) fn tells(number: f64, places: u8, limits: &[f64]) -> u8 {
    let as_itself = |places: &u8| {
        let shown = Numeral::rounded(number, *places).value();
        limits.iter().all(|limit| against(shown, *limit) == against(number, *limit))
    };
    (places..=places.max(MOST_PLACES)).find(as_itself).unwrap_or(places.max(MOST_PLACES))
}

/// Most digits behind the point that a reading is shown with.
const MOST_PLACES: u8 = 9;

/// How a number stands to a limit; what differs only by rounding of the arithmetic is on it.
fn against(number: f64, limit: f64) -> Ordering {
    if (number - limit).abs() <= 1e-9 * number.abs().max(limit.abs()) {
        Ordering::Equal
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
    shown(unit.number_for(base), unit)
}

/// The unit of the other system in which a sheet repeats this quantity.
pub(super) fn other_unit(quantity: Quantity) -> Option<&'static Unit> {
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
        "lbf/in" => "N/mm",
        "kg" | "g" => "lb",
        "lb" => "kg",
        "degC" => "degF",
        "degF" => "degC",
        _ => return None,
    };
    Unit::for_results(symbol)
}

fn convert(quantity: Quantity, unit: &'static Unit) -> Quantity {
    shown(unit.number_for(quantity.base()), unit)
}

/// A value as it is shown: from a thousand upwards with three digits, else with the places it needs.
fn shown(value: f64, unit: &'static Unit) -> Quantity {
    let coarse = value.abs() >= 999.5 && unit.dimension != Dimension::LENGTH;
    let numeral =
        if coarse { Numeral::three_digits(value) } else { Numeral::rounded(value, places_for(value, unit)) };
    Quantity::new(numeral, unit)
}

/// Digits of a length. Our own choice, no source: a bore is known to a ten-thousandth of an inch.
const LENGTH_DIGITS: i32 = 5;

/// Digits after the point for a value in `unit`.
fn places_for(value: f64, unit: &Unit) -> u8 {
    if unit.dimension == Dimension::TEMPERATURE {
        return 0;
    }
    let most: u8 = match unit.symbol {
        "in" => 4,
        "mm" => 3,
        "um" | "thou" => 1,
        _ => 6,
    };
    if unit.dimension == Dimension::LENGTH {
        let before_point = if value == 0.0 { LENGTH_DIGITS } else { value.abs().log10().floor() as i32 + 1 };
        return u8::try_from(LENGTH_DIGITS - before_point).unwrap_or(0).min(most);
    }
    let by_size = |places: &u8| 0.5 * 10f64.powi(-i32::from(*places)) <= LARGEST_SHIFT * value.abs();
    (0..most).find(|places| value == 0.0 || by_size(places)).unwrap_or(most)
}
