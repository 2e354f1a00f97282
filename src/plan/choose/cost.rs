//! What an order costs, in numbers that add up. It must not know how it was found.

use std::collections::BTreeMap;

use super::times::ChangeTimes;
use crate::network::NodeId;

/// A change at the bench before a node, or within it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// The node that asks for it.
    pub node: NodeId,
    /// Whether it comes within the node, and so in every order.
    pub inside: bool,
    /// What is changed: the title of a setup, `socket`, `torque setting` and the like.
    pub aspect: String,
    /// What it was; none if that isn't known.
    pub from: Option<String>,
    /// What it becomes.
    pub to: String,
    /// What it takes, in tenths of a second.
    pub tenths: u64,
}

/// What an order costs, in tenths of a second.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Cost {
    /// Everything together.
    pub total: u64,
    /// The set-up changes alone.
    pub changing: u64,
    /// How many of the author's neighbours stand apart.
    pub parted: u64,
    /// Per kind of change: how many, and what they take.
    pub kinds: BTreeMap<String, (u64, u64)>,
    /// Each change, in the order of work.
    pub changes: Vec<Change>,
}

impl Cost {
    pub(super) fn of(changes: Vec<Change>, parted: u64, times: &ChangeTimes) -> Cost {
        let mut kinds: BTreeMap<String, (u64, u64)> = BTreeMap::new();
        for change in &changes {
            let kind = kinds.entry(change.aspect.clone()).or_default();
            kind.0 += 1;
            kind.1 += change.tenths;
        }
        let changing: u64 = changes.iter().map(|change| change.tenths).sum();
        Cost { total: changing + parted * u64::from(times.parting), changing, parted, kinds, changes }
    }
}
