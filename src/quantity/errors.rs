//! What can be wrong with a written quantity. Later rooms turn these into diagnostics with a place.

use std::fmt;

use super::Unit;
use crate::english::Mend;

/// A text that isn't a quantity.
#[derive(Debug, Clone, PartialEq)]
pub enum ParseError {
    /// It doesn't begin with a number.
    NoNumber {
        /// The whole text.
        text: String,
    },
    /// The number can't be read.
    NotANumber {
        /// The part that should be a number.
        text: String,
    },
    /// A number stands alone.
    NoUnit {
        /// The number.
        number: String,
    },
    /// It is colder than anything can be.
    TooCold {
        /// As written.
        text: String,
    },
    /// A comma stands where a point belongs.
    DecimalComma {
        /// As written.
        text: String,
        /// With a point.
        meant: String,
    },
    /// The unit isn't one of the language.
    UnknownUnit {
        /// As written.
        symbol: String,
        /// The unit probably meant.
        nearest: Option<&'static Unit>,
    },
}

impl ParseError {
    /// What mends it.
    pub fn mend(&self) -> Mend {
        match self {
            ParseError::NoNumber { .. } | ParseError::NotANumber { .. } => {
                Mend::write("a number and a unit, such as `82 N.m`, `0.05 mm` or `7/16 in`")
            }
            ParseError::DecimalComma { meant, .. } => Mend::write(format!("`{meant}`")),
            ParseError::NoUnit { number } => {
                Mend::doing(format!("add the unit, such as `{number} N.m` or `{number} mm`"))
            }
            ParseError::TooCold { .. } => Mend::doing(
                "correct the temperature; nothing is colder than -273.15 degC, which is -459.67 degF",
            ),
            ParseError::UnknownUnit { nearest: Some(unit), .. } => Mend::write(format!("`{}`", unit.symbol)),
            ParseError::UnknownUnit { nearest: None, .. } => {
                let symbols: Vec<&str> = Unit::all().iter().map(|unit| unit.symbol).collect();
                Mend::doing(format!("the units are {}", symbols.join(", ")))
            }
        }
    }
}

impl fmt::Display for ParseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ParseError::NoNumber { text } => write!(f, "`{text}` does not begin with a number"),
            ParseError::NotANumber { text } => write!(f, "`{text}` is not a number"),
            ParseError::DecimalComma { text, .. } => write!(f, "`{text}` has a comma where a point belongs"),
            ParseError::NoUnit { number } => write!(f, "`{number}` has no unit"),
            ParseError::TooCold { text } => write!(f, "`{text}` is colder than anything can be"),
            ParseError::UnknownUnit { symbol, .. } => write!(f, "no unit is written `{symbol}`"),
        }
    }
}

impl std::error::Error for ParseError {}
