//! A number as it was written: decimal or inch fraction, so that it prints back the same.

use std::fmt;

/// A number and how it was written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Numeral {
    /// `82`, `0.050`, `-5`: the value, and how many places stood after the point.
    Decimal {
        /// The number itself.
        value: f64,
        /// Digits after the point.
        places: u8,
    },
    /// `7/16`, `1 1/2`.
    Fraction {
        /// Whole part; 0 if only the fraction was written.
        whole: u32,
        /// Upper number.
        numerator: u32,
        /// Lower number, never 0.
        denominator: u32,
    },
}

/// Most digits after the point that a numeral may have.
const MOST_PLACES: usize = 12;

impl Numeral {
    /// Reads `82`, `-0.05`, `7/16` or `1 1/2`. Nothing else: no exponent, no thousands mark, no comma.
    pub fn parse(text: &str) -> Option<Numeral> {
        let text = text.trim();
        match text.split_once('/') {
            Some((upper, lower)) => {
                let (whole, numerator) = match upper.split_once(' ') {
                    Some((whole, numerator)) => (digits(whole)?, digits(numerator.trim())?),
                    None => (0, digits(upper)?),
                };
                let denominator = digits(lower)?;
                (denominator != 0).then_some(Numeral::Fraction { whole, numerator, denominator })
            }
            None => {
                let unsigned = text.strip_prefix('-').unwrap_or(text);
                let (whole, rest) = unsigned.split_once('.').unwrap_or((unsigned, "0"));
                let plain = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
                if !plain(whole) || !plain(rest) || rest.len() > MOST_PLACES {
                    return None;
                }
                let places = if unsigned.contains('.') { rest.len() } else { 0 };
                // A flood of digits reads as an infinite number, which is none.
                let value = text.parse::<f64>().ok().filter(|value| value.is_finite())?;
                Some(Numeral::Decimal { value, places: u8::try_from(places).ok()? })
            }
        }
    }

    /// A decimal, rounded to so many places and shown with all of them.
    pub fn rounded(value: f64, places: u8) -> Numeral {
        let scale = 10f64.powi(i32::from(places));
        // Adding zero turns a negative zero into a plain one, which prints without its sign.
        Numeral::Decimal { value: (value * scale).round() / scale + 0.0, places }
    }

    /// A whole number, rounded to three digits and filled up with noughts: `52300`.
    pub fn three_digits(value: f64) -> Numeral {
        let mut scale = 1.0;
        while value.abs() / scale >= 999.5 {
            scale *= 10.0;
        }
        Numeral::Decimal { value: (value / scale).round() * scale, places: 0 }
    }

    /// The number.
    pub fn value(self) -> f64 {
        match self {
            Numeral::Decimal { value, .. } => value,
            Numeral::Fraction { whole, numerator, denominator } => {
                f64::from(whole) + f64::from(numerator) / f64::from(denominator)
            }
        }
    }

    /// The least difference that the way it was written can show; none for a fraction, which is exact.
    pub fn step(self) -> Option<f64> {
        match self {
            Numeral::Decimal { places, .. } => Some(10f64.powi(-i32::from(places))),
            Numeral::Fraction { .. } => None,
        }
    }
}

fn digits(text: &str) -> Option<u32> {
    if !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit()) { text.parse().ok() } else { None }
}

impl fmt::Display for Numeral {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Numeral::Decimal { value, places } => write!(f, "{value:.*}", usize::from(places)),
            Numeral::Fraction { whole: 0, numerator, denominator } => write!(f, "{numerator}/{denominator}"),
            Numeral::Fraction { whole, numerator, denominator } => {
                write!(f, "{whole} {numerator}/{denominator}")
            }
        }
    }
}
