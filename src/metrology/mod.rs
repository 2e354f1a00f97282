//! Numbers read off instruments to values, standings and sizes: pure arithmetic on base units, in which every
//! value carries how far it may be off.
//!
//! It must not know parts, steps or syntax; who asks says what the numbers mean and in which unit they are.

mod bands;
mod grid;
mod limits;
mod measured;
mod nearness;
mod plausible;
mod sizes;

pub(crate) use bands::{Fit, Flaw, Standing, band_of, flaws};
pub(crate) use grid::{Grid, Spot};
pub(crate) use limits::{Limits, Made, Side, Wear};
pub(crate) use measured::Measured;
pub(crate) use nearness::same;
pub(crate) use plausible::{Slip, questioned};
pub(crate) use sizes::{Direction, Sizing, next_size, on_old_centre};
