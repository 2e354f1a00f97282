//! Bare numbers in sentences: rounded by what they are, as quantities are.

use super::Numeral;
use super::inward::{Bound, inward};
use super::pair::tells;

/// An estimate, to so many places.
pub(crate) fn figure(number: f64, places: u8) -> String {
    Numeral::rounded(number, places).to_string()
}

/// The same, and with as many more places as it takes so that it isn't shown on one of `limits`, or beyond it, that it isn't.
pub(crate) fn figure_against(number: f64, places: u8, limits: &[f64]) -> String {
    figure(number, tells(number, places, limits))
}

/// What somebody stated, such as a friction or an angle: at least so many places, and as many as it takes to say it; nine at
/// most.
pub(crate) fn stated_figure(number: f64, fewest: u8) -> String {
    let says = |places: &u8| {
        (Numeral::rounded(number, *places).value() - number).abs() <= 1e-9 * number.abs().max(1e-3)
    };
    figure(number, (fewest..9).find(says).unwrap_or(9))
}

/// What somebody stated in whatever unit, with no more than so many places and no noughts behind: `1.5`, `1.0583`.
pub(crate) fn at_most_figure(number: f64, most: u8) -> String {
    stated_figure(Numeral::rounded(number, most).value(), 0)
}

/// A limit, to so many digits, on the side of it that is allowed.
pub(crate) fn limit_digits(number: f64, digits: u8, allowed: Bound) -> String {
    let before_point = if number == 0.0 { 1 } else { number.abs().log10().floor() as i32 + 1 };
    let places = i32::from(digits) - before_point;
    figure(inward(number, places, allowed), u8::try_from(places).unwrap_or(0))
}

/// A limit, to so many places, on the side of it that is allowed.
pub(crate) fn limit_figure(number: f64, places: u8, allowed: Bound) -> String {
    figure(inward(number, i32::from(places), allowed), places)
}

/// For programs: twelve digits, since what comes after them is noise of the arithmetic.
pub(crate) fn twelve_digits(number: f64) -> f64 {
    format!("{number:.11e}").parse().unwrap_or(number)
}
