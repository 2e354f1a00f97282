//! Numbers read off instruments to values, standings and sizes: pure arithmetic on base units, in which every
//! value carries how far it may be off.
//!
//! It must not know parts, steps or syntax; who asks says what the numbers mean and in which unit they are.

mod bands;
mod grid;
mod limits;
mod measured;
mod plausible;
mod sizes;

pub use bands::{Fit, Flaw, Standing, band_of, flaws};
pub use grid::{Grid, Spot};
pub use limits::{Limits, Made, Side, Wear};
pub use measured::Measured;
pub use plausible::{Slip, questioned};
pub use sizes::{Direction, Sizing, next_size};
