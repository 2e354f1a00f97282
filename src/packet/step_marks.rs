//! A fingerprint of each step as the procedure alone has it, so that a record can say which edition of a step was done.
//! It is taken of facts and not of a sheet: the program may say a thing in other words without any step having changed.

use std::collections::BTreeMap;

use super::fingerprint::short;
use super::step_facts::step_facts;
use crate::network::{Network, StepSource};
use crate::procedure::model::{Procedure, StepKey};

/// Which facts are told of a step, and how. The first edition took fingerprints of printed sheets, and wrote no number.
const EDITION: u32 = 2;

/// A fingerprint of each step.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct StepMarks(BTreeMap<StepKey, String>);

/// A fingerprint beside that of the same step now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Compared {
    /// The step is as it was.
    Same,
    /// It has changed.
    Changed,
    /// The fingerprint was taken in another way, and tells nothing.
    OtherEdition,
}

impl StepMarks {
    /// The steps that a key means, each with its fingerprint: without a place a step that is done apart is meant at every
    /// place.
    pub(crate) fn meant(&self, key: &StepKey) -> impl Iterator<Item = (&StepKey, &str)> {
        let meant = self.0.iter().filter(move |(known, _)| known.meets(key));
        meant.map(|(key, mark)| (key, mark.as_str()))
    }

    /// The fingerprint of a step. One that is done apart, named without a position, has that of its first place: it
    /// reads alike at all of them but for the names of the places.
    pub(crate) fn of(&self, key: &StepKey) -> Option<&str> {
        self.meant(key).next().map(|(_, mark)| mark)
    }

    /// How a step is beside its fingerprint of another day; none for a step that there isn't.
    pub(crate) fn compare(&self, key: &StepKey, then: &str) -> Option<Compared> {
        let now = self.of(key)?;
        let edition = |mark: &str| mark.split_once('-').and_then(|(edition, _)| edition.parse::<u32>().ok());
        Some(match (now == then, edition(then) == Some(EDITION)) {
            (true, _) => Compared::Same,
            (false, true) => Compared::Changed,
            (false, false) => Compared::OtherEdition,
        })
    }
}

/// The fingerprint of every step. Neither a job nor the place of a step in the order bears on it: only what
/// the procedure says is to be done.
pub(crate) fn step_marks(procedure: &Procedure, network: &Network) -> StepMarks {
    let members = network.nodes.iter().flat_map(|node| &node.members);
    let mark = |member: &crate::network::Member| {
        let step = match member.step {
            StepSource::Written(id) => procedure.step(id),
            StepSource::Derived(index) => &network.derived[index].step,
        };
        let facts = step_facts(procedure, &member.key, step, &member.binding);
        (member.key.clone(), format!("{EDITION}-{}", short(&facts)))
    };
    StepMarks(members.map(mark).collect())
}
