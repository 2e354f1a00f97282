//! What was found against what is wanted, allowed or believed. Ends that lie on each other but for the noise of the
//! arithmetic are the same: a reading on a limit keeps it.

use super::answer::Answer;
use crate::mechanics::Band;
use crate::quantity::Length;

/// What the arithmetic itself may leave of a length.
const HAIR: Length = Length::from_mm(1e-9);

/// What a measured length may lie below another and still be as long: a few steps of a micrometer. Our own, no source.
pub(super) const ROUGHLY_NOTHING: Length = Length::from_mm(0.01);

/// Whether a length passes a limit.
pub(super) fn beyond(found: Length, most: Length) -> bool {
    found > most + HAIR
}

/// Says how what was found stands to what is wanted; `what` is the thing with its article.
pub(super) fn against(what: &str, found: Band<Length>, wanted: Band<Length>, answer: &mut Answer) {
    answer.finding(if beyond(wanted.low, found.high) {
        format!("{what} is less than wanted")
    } else if beyond(found.low, wanted.high) {
        format!("{what} is more than wanted")
    } else if !beyond(wanted.low, found.low) && !beyond(found.high, wanted.high) {
        format!("{what} is as wanted")
    } else {
        format!("{what} may be as wanted: the readings are too doubtful to say")
    });
}

/// Marks an answer of which an end is farther from nothing than `share` of `whole`: by then a reading or its unit is
/// likelier wrong than the parts. The shares are our own, no source.
pub(super) fn believe(what: &str, found: Band<Length>, whole: Length, share: f64, answer: &mut Answer) {
    if found.low.abs().max(found.high.abs()) > whole * share {
        answer.finding(format!(
            "{what} is out of all reason for that size: a reading or its unit is wrong, read all of them again"
        ));
    }
}
