//! What a thing waits for before each of the things that are done with it: before it is ordered, before it leaves, before it goes
//! in. Verdict, order lists, machine-shop order, steps and complaints ask here, so that they say the same.

use super::{Decisions, Hold, PartDecision};
use crate::procedure::model::{PartId, Place, Procedure, SetId};
use crate::record::Goods;

/// What a line of a list waits for.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Waits {
    /// Each in words with ids, for the screen.
    pub words: Vec<String>,
    /// Of the engine as a whole, in words.
    engine: Vec<String>,
    /// Of the thing itself.
    holds: Vec<Hold>,
}

impl Waits {
    /// What a thing waits for by itself.
    pub(super) fn of<'h>(procedure: &Procedure, holds: impl Iterator<Item = &'h Hold>) -> Waits {
        let holds: Vec<Hold> = holds.cloned().collect();
        Waits { words: distinct(holds.iter().map(|hold| hold.words(procedure))), engine: Vec::new(), holds }
    }

    /// The same behind what the whole engine waits for.
    pub(super) fn behind(&mut self, engine: &[String]) {
        self.words.splice(0..0, engine.iter().cloned());
        self.engine.splice(0..0, engine.iter().cloned());
    }

    /// Whether it can go on.
    pub(crate) fn is_empty(&self) -> bool {
        self.words.is_empty()
    }

    /// Each as a noun phrase with titles, for paper.
    pub(crate) fn on_paper(&self, procedure: &Procedure, goods: Goods) -> Vec<String> {
        let at = |place: Option<Place>| place.unwrap_or(Place(0));
        let words = |hold: &Hold| match goods {
            Goods::Part(id, place) => hold.words_of_part(procedure, id, at(place)),
            Goods::Set(id, place) => hold.words_of_set(procedure, id, at(place)),
            Goods::Supply(_) => hold.words(procedure),
        };
        distinct(self.engine.iter().cloned().chain(self.holds.iter().map(words)))
    }
}

/// Each once, in the order in which they come.
fn distinct(words: impl Iterator<Item = String>) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    for word in words {
        if !told.contains(&word) {
            told.push(word);
        }
    }
    told
}

impl PartDecision {
    /// What must be settled before it can be ordered: what its size or piece hangs on.
    pub(crate) fn before_ordering(&self) -> impl Iterator<Item = &Hold> {
        self.holds.iter().filter(|hold| {
            matches!(hold, Hold::Question(_) | Hold::Never(..) | Hold::SizedBefore(..) | Hold::ToChoose(..))
        })
    }

    /// What must be settled before it leaves for the machine shop.
    pub(crate) fn before_sending(&self) -> impl Iterator<Item = &Hold> {
        self.holds.iter().filter(|hold| {
            matches!(
                hold,
                Hold::Question(_)
                    | Hold::Never(..)
                    | Hold::SizedBefore(..)
                    | Hold::NotInHand(_)
                    | Hold::WrongSize(..)
                    | Hold::NothingInSize(_)
                    | Hold::NewPartUnmeasured(..)
                    | Hold::NotAgreed
            )
        })
    }

    /// What must be settled before it goes in. What is ordered or out is waited for only where the record follows such things:
    /// otherwise nothing could ever arrive.
    pub(crate) fn before_fitting(&self, follows: bool) -> impl Iterator<Item = &Hold> {
        self.holds.iter().filter(move |hold| follows || !hold.arrives())
    }

    /// Why it was refused as it came back, where it hasn't gone out again since.
    pub(crate) fn refused(&self) -> Option<&str> {
        self.holds.iter().find_map(|hold| match hold {
            Hold::Refused(why) => Some(why.as_str()),
            _ => None,
        })
    }

    /// Whether something is on its way, or can be read only once that is back.
    pub(crate) fn arrives(&self) -> bool {
        self.holds.iter().any(Hold::arrives)
    }
}

impl Hold {
    /// Whether what is waited for is on its way (ordered, sent out), or can be read only once that is back, rather than to be
    /// found out now.
    fn arrives(&self) -> bool {
        matches!(
            self,
            Hold::NotInHand(_)
                | Hold::WrongSize(..)
                | Hold::NotStandard(_)
                | Hold::NothingInSize(_)
                | Hold::NotAgreed
                | Hold::NotSent
                | Hold::NotBack
                | Hold::NotAccepted
                | Hold::Refused(_)
                | Hold::ReadAgain(..)
        )
    }
}

impl Decisions {
    /// What fasteners wait for before they go in: new ones that have not come, where the record follows such things, and a
    /// condition that nobody has settled.
    pub(crate) fn before_starting(&self, set: SetId, place: Place, follows: bool) -> Vec<&Hold> {
        let holds = self.sets.get(&(set, place)).into_iter().flat_map(|decision| &decision.holds);
        let told = holds.filter(|hold| matches!(hold, Hold::Found(..)) || (follows && hold.arrives()));
        told.collect()
    }

    /// Parts and sets that have to come, or to come back, before they go in: how many kinds.
    pub(crate) fn arriving(&self) -> usize {
        let parts = self.fates.iter().filter(|(_, decision)| decision.arrives());
        let sets = self.sets.iter().filter(|(_, decision)| decision.arrives());
        let mut parts: Vec<PartId> = parts.map(|((id, _), _)| *id).collect();
        let mut sets: Vec<SetId> = sets.map(|((id, _), _)| *id).collect();
        parts.dedup();
        sets.dedup();
        parts.len() + sets.len()
    }
}
