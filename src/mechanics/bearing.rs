//! Plain bearings: bore, shells and journal to the clearance between them; a crushed plastic strip to the same.

use super::band::Band;
use super::citation::{Citation, Seen};
use crate::quantity::Length;

/// The sum of a bearing.
pub(crate) const BEARING_SOURCE: Citation =
    Citation::new("clearance = bore − 2 · shell − journal, by definition", Seen::Derived);
/// A crushed strip.
pub(crate) const STRIP_SOURCE: Citation = Citation::new(
    "the scale printed on the strip's own packet, as typed; straight between its marks",
    Seen::Read,
);

/// Clearance on diameter of a journal in two shells of one thickness, in the bore with its caps tight.
pub(crate) fn clearance(bore: Band<Length>, shell: Band<Length>, journal: Band<Length>) -> Band<Length> {
    Band { low: bore.low - shell.high * 2.0 - journal.high, high: bore.high - shell.low * 2.0 - journal.low }
}

/// Thickness of shell for a wanted clearance: from the thinnest to the thickest that keeps within it, whatever bore and
/// journal really are. None where their own doubt is wider than what is wanted.
pub(crate) fn shell_for(
    bore: Band<Length>,
    journal: Band<Length>,
    wanted: Band<Length>,
) -> Option<Band<Length>> {
    let low = (bore.high - journal.low - wanted.high) / 2.0;
    let high = (bore.low - journal.high - wanted.low) / 2.0;
    (low <= high).then_some(Band { low, high })
}

/// Clearance from the width of a crushed strip by the marks of its scale, each a width and its clearance. None outside
/// the marks.
pub(crate) fn by_strip(width: Length, marks: &[(Length, Length)]) -> Option<Length> {
    let mut marks = marks.to_vec();
    marks.sort_by(|a, b| a.0.base().total_cmp(&b.0.base()));
    let pair = marks.windows(2).find(|pair| width >= pair[0].0 && width <= pair[1].0)?;
    let ((narrow, at_narrow), (wide, at_wide)) = (pair[0], pair[1]);
    Some(at_narrow + (at_wide - at_narrow) * ((width - narrow) / (wide - narrow)))
}
