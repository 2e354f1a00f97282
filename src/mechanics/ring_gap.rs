//! Piston rings: a gap measured in one bore to the gap in another, and what is to be filed.

use std::f64::consts::PI;

use super::band::Band;
use super::citation::{Citation, Seen};
use crate::quantity::Length;

/// A ring's circumference is that of the bore.
pub(crate) const GAP_SOURCE: Citation =
    Citation::new("gap grows by π times what the bore grows, by geometry", Seen::Derived);

/// The gap in another bore: it opens by π times the difference.
pub(crate) fn in_bore(gap: Band<Length>, tried_in: Length, bore: Length) -> Band<Length> {
    let opens = (bore - tried_in) * PI;
    Band { low: gap.low + opens, high: gap.high + opens }
}

/// What is to be filed off so that the gap comes within what is wanted: none below nothing, and none where the doubt of
/// the gap is wider than what is wanted.
pub(crate) fn to_file(gap: Band<Length>, wanted: Band<Length>) -> Option<Band<Length>> {
    let (least, most) = (wanted.low - gap.low, wanted.high - gap.high);
    (least <= most && most >= Length::ZERO).then_some(Band { low: least.max(Length::ZERO), high: most })
}
