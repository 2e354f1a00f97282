//! Quantities: text such as `82 N.m` or `7/16 in` to an amount with a dimension, and amounts back to print; and sums of
//! money.
//!
//! It knows units and rounding, and must not know what is measured: no parts, no steps, no torque tables.

mod dimension;
mod doubtful;
mod errors;
mod figure;
mod inward;
mod kinds;
mod limit;
mod money;
mod numeral;
mod pair;
mod unit;
mod value;

pub(crate) use dimension::Dimension;
pub(crate) use doubtful::{number_and_doubt, places_in_doubt, with_doubt};
pub(crate) use errors::ParseError;
pub(crate) use figure::{
    at_most_figure, figure, figure_against, limit_digits, limit_figure, stated_figure, twelve_digits,
};
pub(crate) use inward::Bound;
pub(crate) use kinds::{
    Angle, Area, Force, Kind, Length, Mass, Pressure, Ratio, Stiffness, Temperature, Torque, Volume,
};
pub(crate) use limit::{from_to, limit_of, limit_pair, numerals_from_to, range_pair, share_of};
pub(crate) use money::{Money, is_currency};
pub(crate) use numeral::Numeral;
pub(crate) use pair::{
    counterpart, counterpart_unit, pair, rounded, setting_counterpart, setting_pair, tells,
};
pub(crate) use unit::Unit;
pub(crate) use value::{DimensionError, Quantity};
