//! What the job has decided, as the plan asks for it: terms of a case, steps done, what becomes of parts.

use crate::decide::{Decisions, Verdict};
use crate::network::Member;
use crate::procedure::model::{PartId, Place};

/// Whether the record says that the step is done.
pub(super) fn done(decisions: &Decisions, member: &Member) -> bool {
    decisions.done.iter().any(|done| done.meets(&member.key))
}

/// What becomes of a part at a place.
pub(crate) fn verdict(decisions: &Decisions, part: PartId, place: Place) -> &Verdict {
    decisions.fates.get(&(part, place)).map_or(&Verdict::Open, |decision| &decision.verdict)
}

/// Whether a part may go back where it was, as far as is decided: only what is renewed or left out for certain doesn't.
pub(crate) fn may_go_back(decisions: &Decisions, part: PartId, place: Place) -> bool {
    !matches!(verdict(decisions, part, place), Verdict::Renew { .. } | Verdict::LeaveOut(_))
}
