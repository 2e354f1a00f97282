//! What goes in piece by piece: at each place of a part or a set the piece that came from there, a new one, or nothing yet.
//! Steps, kit, rack, ledger and order list all ask here, so that none says other than the verdict.

use super::{Decisions, Hold, NewAmong, PartDecision, Verdict};
use crate::english::list;
use crate::procedure::model::{PartId, Pieces, Place, SetId};
use crate::quantity::Quantity;

/// What goes in at a place.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum GoesIn {
    /// The piece that came from there.
    Same,
    /// Those that came from there, and new ones for those that didn't come out or are not fit to go back; of some it may be
    /// open.
    SomeNew(NewAmong),
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
    pub(super) fn by(decision: &PartDecision) -> GoesIn {
        match &decision.verdict {
            Verdict::Renew { size } => GoesIn::New(*size),
            Verdict::LeaveOut(_) => GoesIn::Nothing,
            Verdict::Keep | Verdict::Open => GoesIn::Unsettled,
            _ if decision.holds.iter().any(|hold| matches!(hold, Hold::Found(None, _))) => GoesIn::Unsettled,
            _ if decision.new_among.any() => GoesIn::SomeNew(decision.new_among.clone()),
            Verdict::GoesBack | Verdict::CleanAndBack => GoesIn::Same,
            Verdict::Machine { .. } => GoesIn::WhenAccepted,
        }
    }

    /// In a list: `same`, `new`.
    pub(crate) fn word(&self) -> String {
        match self {
            GoesIn::Same => "same".to_owned(),
            GoesIn::SomeNew(among) => {
                let new = (among.pieces() > 0).then(|| format!(", {} new", among.pieces()));
                let open = (!among.open.is_empty()).then(|| format!(", {} to settle", list(&among.open)));
                std::iter::once("same".to_owned()).chain(new).chain(open).collect()
            }
            GoesIn::New(_) => "new".to_owned(),
            GoesIn::WhenAccepted => "when accepted".to_owned(),
            GoesIn::Nothing => "not at all".to_owned(),
            GoesIn::Unsettled => "to settle".to_owned(),
        }
    }

    /// Whether it is a new one.
    pub(crate) fn is_new(&self) -> bool {
        matches!(self, GoesIn::New(_))
    }

    /// How many new ones go in at each of so many places, of which there are `all` together.
    pub(crate) fn new_pieces(&self, all: Pieces, places: usize) -> Pieces {
        match self {
            GoesIn::New(_) => all,
            GoesIn::SomeNew(among) => Pieces::from(among.pieces()).times(places),
            GoesIn::Same | GoesIn::WhenAccepted | GoesIn::Nothing | GoesIn::Unsettled => Pieces::from(0),
        }
    }

    /// Whether any new one goes in.
    pub(crate) fn any_new(&self) -> bool {
        matches!(self, GoesIn::New(_)) || matches!(self, GoesIn::SomeNew(among) if among.pieces() > 0)
    }
}

/// What goes in where a part was.
pub(crate) fn part_goes_in(decisions: &Decisions, part: PartId, place: Place) -> GoesIn {
    decisions.fates.get(&(part, place)).map_or(GoesIn::Unsettled, GoesIn::by)
}

/// What goes in where fasteners of a set were.
pub(crate) fn set_goes_in(decisions: &Decisions, set: SetId, place: Place) -> GoesIn {
    decisions.sets.get(&(set, place)).map_or(GoesIn::Unsettled, GoesIn::by)
}
