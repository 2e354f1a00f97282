//! A quantity: a number with the unit it was written in.

use std::fmt;

use super::{Dimension, Numeral, ParseError, Unit};
use crate::english::Mend;

/// A number with its unit. It keeps both as they were written, and gives its amount in base units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    numeral: Numeral,
    unit: &'static Unit,
}

impl Quantity {
    /// A quantity as written.
    pub fn new(numeral: Numeral, unit: &'static Unit) -> Self {
        Quantity { numeral, unit }
    }

    /// An amount in base units, expressed in `unit` and rounded to so many places.
    pub fn from_base(base: f64, unit: &'static Unit, places: u8) -> Self {
        Quantity { numeral: Numeral::rounded(unit.number_for(base), places), unit }
    }

    /// Reads a number or inch fraction followed by a unit: `82 N.m`, `7/16 in`, `1 1/2 in`, `-5 degC`.
    ///
    /// # Errors
    /// Says which part can't be read, and which unit was probably meant.
    pub fn parse(text: &str) -> Result<Self, ParseError> {
        let text = text.trim();
        let number_part = |c: char| c.is_ascii_digit() || ".-/ ".contains(c);
        let end = text.find(|c: char| !number_part(c)).unwrap_or(text.len());
        let (number, symbol) = text.split_at(end);
        let number = number.trim();
        if let Some(meant) = pointed(text) {
            return Err(ParseError::DecimalComma { text: text.to_owned(), meant });
        }
        if number.is_empty() {
            return Err(ParseError::NoNumber { text: text.to_owned() });
        }
        let numeral =
            Numeral::parse(number).ok_or_else(|| ParseError::NotANumber { text: number.to_owned() })?;
        if symbol.is_empty() {
            return Err(ParseError::NoUnit { number: number.to_owned() });
        }
        match Unit::find(symbol) {
            Some(unit) => Quantity { numeral, unit }.warm_enough(),
            None => {
                Err(ParseError::UnknownUnit { symbol: symbol.to_owned(), nearest: Unit::nearest(symbol) })
            }
        }
    }

    /// Itself, if it isn't colder than anything can be.
    ///
    /// # Errors
    /// It is a temperature below the absolute nought.
    pub fn warm_enough(self) -> Result<Self, ParseError> {
        if self.unit.is_scale() && self.base() < -1e-9 {
            return Err(ParseError::TooCold { text: self.to_string() });
        }
        Ok(self)
    }

    /// The number as it was written.
    pub fn numeral(self) -> Numeral {
        self.numeral
    }

    /// The unit it was written in.
    pub fn unit(self) -> &'static Unit {
        self.unit
    }

    /// What it measures.
    pub fn dimension(self) -> Dimension {
        self.unit.dimension
    }

    /// The amount in base units: metres, kilograms, seconds, kelvin, radians and their products.
    pub fn base(self) -> f64 {
        self.unit.to_base(self.numeral.value())
    }

    /// Passes if it measures `expected`.
    ///
    /// # Errors
    /// Names the quantity, what it measures and what was expected.
    pub fn expect_dimension(self, expected: Dimension) -> Result<Self, DimensionError> {
        if self.dimension() == expected { Ok(self) } else { Err(DimensionError { found: self, expected }) }
    }

    /// As it stands on a sheet: `82 N·m`, `90°`, `7/16 in`.
    pub fn printed(self) -> String {
        if self.unit.printed == "day" && self.numeral.value() != 1.0 {
            // The one unit that is printed as a word.
            format!("{} days", self.numeral)
        } else {
            format!("{}{}", self.numeral, self.unit.behind())
        }
    }
}

/// A number with a comma between its digits, with a point there; none for anything else.
fn pointed(text: &str) -> Option<String> {
    let (whole, rest) = text.split_once(',')?;
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let fraction = rest.split(|c: char| !c.is_ascii_digit()).next().unwrap_or_default();
    (digits(whole.trim_start_matches('-')) && digits(fraction)).then(|| format!("{whole}.{rest}"))
}

/// As it is written in a procedure: `82 N.m`.
impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let space = if self.unit.symbol == ":1" { "" } else { " " };
        write!(f, "{}{space}{}", self.numeral, self.unit.symbol)
    }
}

/// A quantity that measures something else than what was asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DimensionError {
    /// What was written.
    pub found: Quantity,
    /// What it should measure.
    pub expected: Dimension,
}

impl DimensionError {
    /// What mends it.
    pub fn mend(&self) -> Mend {
        let symbols: Vec<String> =
            Unit::measuring(self.expected).map(|unit| format!("`{}`", unit.symbol)).collect();
        Mend::doing(format!("give {} in {}", self.expected.name(), symbols.join(", ")))
    }
}

impl fmt::Display for DimensionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "`{}` is {}, where {} was expected",
            self.found,
            self.found.dimension().name(),
            self.expected.name()
        )
    }
}

impl std::error::Error for DimensionError {}
