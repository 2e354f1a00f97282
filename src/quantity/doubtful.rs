//! A number beside how far it may be off.
//!
//! What is printed covers what may be true: the number is shown so finely that rounding moves it by no more than a quarter of
//! its doubt, and the doubt is rounded up together with what rounding moved. The quarter is our own choice, no source.

use super::{Numeral, Quantity, Unit};

/// Share of its doubt by which rounding may move a number.
const MOVED: f64 = 0.25;

/// Most digits behind the point.
const MOST_PLACES: u8 = 8;

/// At least `places`, and as many as it takes so that rounding moves a value by little of its doubt; as they are without any.
/// Both in base units.
pub(crate) fn places_in_doubt(value: f64, doubt: f64, unit: Option<&Unit>, places: u8) -> u8 {
    let (number, doubt) = numbers(value, doubt, unit);
    if none(number, doubt) {
        return places;
    }
    let kept = |places: &u8| moved(number, *places) <= MOVED * doubt;
    (places..MOST_PLACES.max(places)).find(kept).unwrap_or(MOST_PLACES.max(places))
}

/// A value with its unit, and how far it may be off where it may: `0.09 ± 0.01 mm`. Both in base units.
pub(crate) fn with_doubt(value: f64, doubt: f64, unit: Option<&'static Unit>, places: u8) -> String {
    match number_and_doubt(value, doubt, unit, places) {
        (shown, None) => unit.map_or_else(|| shown.to_string(), |unit| Quantity::new(shown, unit).printed()),
        (shown, Some(doubt)) => {
            let unit = unit.map_or(String::new(), |unit| unit.behind());
            format!("{shown} ± {doubt}{unit}")
        }
    }
}

/// The same apart, without the unit: the number, and its doubt where there is any.
pub(crate) fn number_and_doubt(
    value: f64,
    doubt: f64,
    unit: Option<&Unit>,
    places: u8,
) -> (Numeral, Option<Numeral>) {
    let (number, doubt) = numbers(value, doubt, unit);
    let shown = Numeral::rounded(number, places);
    if none(number, doubt) {
        return (shown, None);
    }
    let doubt = doubt + moved(number, places);
    let enough = |places: &u8| doubt * power(*places) >= 0.999;
    let doubt_places = (places..MOST_PLACES.max(places)).find(enough).unwrap_or(MOST_PLACES.max(places));
    // Rounded up, so that the doubt is never shown smaller than it is.
    let doubt = (doubt * power(doubt_places) * (1.0 - 1e-6)).ceil() / power(doubt_places);
    (shown, Some(Numeral::rounded(doubt, doubt_places)))
}

/// Both in the unit that is shown.
fn numbers(value: f64, doubt: f64, unit: Option<&Unit>) -> (f64, f64) {
    unit.map_or((value, doubt), |unit| (unit.number_for(value), doubt / unit.scale()))
}

/// Whether so little doubt is none.
fn none(number: f64, doubt: f64) -> bool {
    doubt <= 1e-9 * number.abs()
}

/// How far rounding moves a number; what the arithmetic leaves of it is nothing.
fn moved(number: f64, places: u8) -> f64 {
    let moved = (Numeral::rounded(number, places).value() - number).abs();
    if moved <= 1e-9 * number.abs() { 0.0 } else { moved }
}

fn power(places: u8) -> f64 {
    10f64.powi(i32::from(places))
}
