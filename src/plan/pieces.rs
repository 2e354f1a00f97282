//! What goes in piece by piece: at each place of a part or a set the piece that came from there, a new one, or nothing yet.
//! Steps, kit, rack and ledger all ask here, so that none says other than the verdict.

use super::decided::verdict;
use crate::decide::{Decisions, Verdict};
use crate::procedure::model::{PartId, Place, SetId};
use crate::quantity::Quantity;

/// What goes in at a place.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum GoesIn {
    /// The piece that came from there.
    Same,
    /// A new one, in this oversize or undersize.
    New(Option<Quantity>),
    /// The piece that came from there, once it is accepted from the machine shop.
    WhenAccepted,
    /// None.
    Nothing,
    /// Nobody has settled it.
    Unsettled,
}

impl GoesIn {
    pub(super) fn by(verdict: &Verdict) -> GoesIn {
        match verdict {
            Verdict::GoesBack | Verdict::CleanAndBack => GoesIn::Same,
            Verdict::Renew { size } => GoesIn::New(*size),
            Verdict::Machine { .. } => GoesIn::WhenAccepted,
            Verdict::LeaveOut(_) => GoesIn::Nothing,
            Verdict::Keep | Verdict::Open => GoesIn::Unsettled,
        }
    }

    /// In a list: `same`, `new`.
    pub(crate) fn word(&self) -> &'static str {
        match self {
            GoesIn::Same => "same",
            GoesIn::New(_) => "new",
            GoesIn::WhenAccepted => "when accepted",
            GoesIn::Nothing => "not at all",
            GoesIn::Unsettled => "to settle",
        }
    }

    /// Whether it is a new one.
    pub(crate) fn is_new(&self) -> bool {
        matches!(self, GoesIn::New(_))
    }
}

/// What goes in where a part was.
pub(crate) fn part_goes_in(decisions: &Decisions, part: PartId, place: Place) -> GoesIn {
    GoesIn::by(verdict(decisions, part, place))
}

/// What goes in where fasteners of a set were.
pub(crate) fn set_goes_in(decisions: &Decisions, set: SetId, place: Place) -> GoesIn {
    decisions.sets.get(&(set, place)).map_or(GoesIn::Unsettled, |decision| GoesIn::by(&decision.verdict))
}
