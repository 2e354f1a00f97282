//! Quantities: text such as `82 N.m` or `7/16 in` to an amount with a dimension, and amounts back to print; and sums of
//! money.
//!
//! It knows units and rounding, and must not know what is measured: no parts, no steps, no torque tables.

mod dimension;
mod errors;
mod kinds;
mod money;
mod numeral;
mod pair;
mod unit;
mod value;

pub use dimension::Dimension;
pub use errors::ParseError;
pub use kinds::{
    Angle, Area, Force, Kind, Length, Mass, Pressure, Ratio, Stiffness, Temperature, Torque, Volume,
};
pub use money::{Money, is_currency};
pub use numeral::Numeral;
pub use pair::{counterpart, counterpart_unit, pair, range_pair, rounded};
pub use unit::Unit;
pub use value::{DimensionError, Quantity};
