//! Limits for print: both ends of a range to the same step, and in a second unit never wider than as they are written.
//!
//! A limit that is rounded outward passes what it was written to refuse, so its ends are rounded inward. How finely
//! follows from the range itself, not from the digits that somebody typed.

use super::inward::{Bound, inward, noise};
use super::pair::{Pair, other_unit, pair};
use super::{Dimension, Numeral, Quantity, Ratio, Unit};

/// Share of its width that a range may lose by rounding inward; and of itself, a single limit that is no length. Our own
/// choice, no source.
const WIDTH_LOST: f64 = 0.05;
const VALUE_LOST: f64 = 0.005;
/// Share of itself that a length may lose: more, since a small one is a clearance or a run-out, read to a ten-thousandth of
/// an inch or to a micrometre. Our own choice, no source.
const LENGTH_LOST: f64 = 0.02;

/// Steps that a limit is rounded to, as powers of ten: a hundred thousand down to a millionth.
const STEPS: std::ops::RangeInclusive<i32> = -5..=6;

/// Both ends of a range in one unit, with as many places; each in its own where their units differ: `52.000 to 52.019 mm`.
pub(crate) fn from_to(low: Quantity, high: Quantity) -> String {
    if low.unit() != high.unit() {
        return format!("{} to {}", low.printed(), high.printed());
    }
    let (low, high) = alike(low, high);
    format!("{} to {}", low.numeral(), high.printed())
}

/// The same of one unit, for where that stands elsewhere: `0.10 to 0.25`.
pub(crate) fn numerals_from_to(low: Quantity, high: Quantity) -> String {
    let (low, high) = alike(low, high);
    format!("{} to {}", low.numeral(), high.numeral())
}

/// Two quantities in one unit with the places of the finer.
fn alike(low: Quantity, high: Quantity) -> (Quantity, Quantity) {
    let places = |numeral: Numeral| match numeral {
        Numeral::Decimal { places, .. } => Some(places),
        Numeral::Fraction { .. } => None,
    };
    match (places(low.numeral()), places(high.numeral())) {
        (Some(a), Some(b)) => {
            let to = |quantity: Quantity| {
                Quantity::new(
                    Numeral::Decimal { value: quantity.numeral().value(), places: a.max(b) },
                    quantity.unit(),
                )
            };
            (to(low), to(high))
        }
        _ => (low, high),
    }
}

/// Both ends of a range, and in the other system: never wider there, both ends to the same step: `40 to 60 N·m (29.6 to 44.2
/// lbf·ft)`. The ends are expected to measure the same.
pub(crate) fn range_pair(low: Quantity, high: Quantity) -> Pair {
    let secondary = other_unit(high).and_then(|unit| range_in(low.base(), high.base(), unit));
    Pair { primary: from_to(low, high), secondary }
}

/// A range in a unit, rounded inward to the coarsest step that takes little of its width; none where nothing but the
/// exact numbers would do.
fn range_in(low: f64, high: f64, unit: &'static Unit) -> Option<String> {
    let (low, high) = (unit.number_for(low), unit.number_for(high));
    let width = high - low;
    STEPS.clone().find_map(|places| {
        let (a, b) = (inward(low, places, Bound::Least), inward(high, places, Bound::Most));
        let lost = (a - low) + (high - b);
        (a <= b && lost <= WIDTH_LOST * width + noise(high)).then(|| {
            let (a, b) = (numeral(a, places), numeral(b, places));
            format!("{a} to {b}{}", unit.behind())
        })
    })
}

/// A limit, and in the other system: there never on the other side of itself.
pub(crate) fn limit_pair(limit: Quantity, bound: Option<Bound>) -> Pair {
    let Some(bound) = bound else { return pair(limit) };
    let secondary = other_unit(limit).and_then(|unit| {
        let number = unit.number_for(limit.base());
        let length = unit.dimension == Dimension::LENGTH;
        let coarsest = match unit.symbol {
            "in" => 4,
            "mm" => 3,
            _ => *STEPS.start(),
        };
        let most = number.abs() * if length { LENGTH_LOST } else { VALUE_LOST };
        (coarsest..=*STEPS.end()).find_map(|places| {
            let shown = inward(number, places, bound);
            ((shown - number).abs() <= most + noise(number))
                .then(|| Quantity::new(numeral(shown, places), unit).printed())
        })
    });
    Pair { primary: limit.printed(), secondary }
}

/// A limit in base units, expressed in `unit` with so many places, on the side of it that is allowed.
pub(crate) fn limit_of(base: f64, unit: &'static Unit, places: u8, allowed: Bound) -> Quantity {
    let number = inward(unit.number_for(base), i32::from(places), allowed);
    Quantity::new(Numeral::rounded(number, places), unit)
}

/// A share of a quantity in its own unit, to three digits, on the side of it that is allowed.
pub(crate) fn share_of(quantity: Quantity, share: Ratio, allowed: Bound) -> Quantity {
    let number = quantity.numeral().value() * share.fraction();
    let before_point = if number == 0.0 { 1 } else { number.abs().log10().floor() as i32 + 1 };
    let places = 3 - before_point;
    let shown = numeral(inward(number, places, allowed), places);
    // 72, not 72.0: what is whole is shown whole.
    let fewest = (0..=u8::try_from(places).unwrap_or(0)).find(|places| {
        let fewer = Numeral::rounded(shown.value(), *places).value();
        (fewer - shown.value()).abs() <= noise(fewer)
    });
    Quantity::new(Numeral::rounded(shown.value(), fewest.unwrap_or(0)), quantity.unit())
}

fn numeral(number: f64, places: i32) -> Numeral {
    // Adding nought turns a negative one into a plain one.
    Numeral::Decimal { value: number + 0.0, places: u8::try_from(places).unwrap_or(0) }
}
