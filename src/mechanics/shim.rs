//! Shims, thrust washers and adjusting discs: a play read with one piece in to the thickness for a wanted play, and the
//! piece to take of those that are sold.

use super::band::Band;
use super::citation::{Citation, Seen};
use crate::quantity::Length;

/// The sum.
pub(crate) const SHIM_SOURCE: Citation =
    Citation::new("new = old + read − wanted, by definition", Seen::Derived);

/// Thickness from the thinnest to the thickest that brings the play within what is wanted, whatever the play really is.
/// None where the doubt of the reading is wider than what is wanted.
pub(crate) fn thickness(old: Length, play: Band<Length>, wanted: Band<Length>) -> Option<Band<Length>> {
    let (low, high) = (old + play.high - wanted.high, old + play.low - wanted.low);
    (low <= high).then_some(Band { low, high })
}

/// The one of those sold that comes nearest to the middle of a range, `pieces` of it together; the earlier of two that are
/// as near.
pub(crate) fn choose(sold: &[Length], pieces: u32, range: Band<Length>) -> Option<Length> {
    let middle = (range.low + range.high) / 2.0;
    let off = |size: &Length| (*size * f64::from(pieces) - middle).abs().base();
    sold.iter().copied().min_by(|a, b| off(a).total_cmp(&off(b)))
}

/// Whether pieces of this size together lie within a range; a thickness on its end does.
pub(crate) fn within(size: Length, pieces: u32, range: Band<Length>) -> bool {
    let together = size * f64::from(pieces);
    let hair = Length::from_mm(1e-9);
    together >= range.low - hair && together <= range.high + hair
}
