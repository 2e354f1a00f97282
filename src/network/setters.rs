//! What gives a thing its values, and which of it leaves a need wrong or puts it right: worked out once for all needs of a
//! thing that want the same, so that a thing that many set and many need isn't gone through anew for each.
//!
//! It knows when things happen by their names alone; which comes before which is asked of the orders by `proof`.

use std::cmp::Ordering;
use std::ops::Range;
use std::sync::Arc;

use super::answers::Case;
use super::types::*;
use super::values::{Value, Values};
use crate::procedure::model::Phase;

/// Something that gives a thing a value.
#[derive(Debug, Clone, Copy)]
pub(super) struct Setter<'a> {
    pub at: Moment,
    pub case: &'a Case,
    pub value: Value,
}

/// When something happens: before the job, before the build, or in a node.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Moment {
    Start,
    BuildStart,
    At(NodeId, usize),
}

impl Moment {
    /// The node that it is in.
    pub(super) fn node(self) -> Option<NodeId> {
        match self {
            Moment::At(node, _) => Some(node),
            Moment::Start | Moment::BuildStart => None,
        }
    }
}

/// Where a moment stands in one order that keeps all links: the phase, or what is before one; the place in it; the event of
/// its node.
pub(super) type Instant = (u8, usize, usize);

/// The setters of a thing as they follow each other in one order that keeps all links, cut into runs in which each comes
/// before the next in every order.
pub(super) struct Runs {
    /// Where each stands, and its number among the setters; ascending.
    pub sorted: Vec<(Instant, usize)>,
    /// The first and the last of the run that each is in, by place in `sorted`.
    pub run: Vec<(usize, usize)>,
}

/// What is known of a thing for needs that want the same values of it. Its lists are kept from thing to thing.
#[derive(Default)]
pub(super) struct Wanted {
    /// The thing, and what is wanted of it.
    of: Option<(ThingId, Values)>,
    /// Setters that leave another value, by place in [`Runs::sorted`], ascending.
    wrong: Vec<usize>,
    /// Setters that leave one of them, by number, ascending.
    right: Vec<usize>,
    /// The nodes that they are in.
    nodes: Option<Arc<[NodeId]>>,
    /// How many setters were looked at since.
    pub looked_at: usize,
    /// By node of a phase, whether one that puts it right comes before in every order; where it pays to know.
    reached: Option<(Phase, Vec<bool>)>,
}

impl Wanted {
    /// Turns to what is wanted of a thing.
    pub(super) fn turn_to(&mut self, thing: ThingId, allowed: Values, setters: &[Setter], runs: &Runs) {
        if self.of == Some((thing, allowed)) {
            return;
        }
        self.of = Some((thing, allowed));
        let is_right = |number: usize| allowed.contains(setters[number].value);
        self.right.clear();
        self.right.extend((0..setters.len()).filter(|number| is_right(*number)));
        self.wrong.clear();
        self.wrong.extend((0..runs.sorted.len()).filter(|place| !is_right(runs.sorted[*place].1)));
        (self.nodes, self.looked_at, self.reached) = (None, 0, None);
    }

    /// The setters, by number, that leave another value and stand in one of these stretches of the order.
    pub(super) fn wrong_in(&self, runs: &Runs, stretches: [Range<usize>; 3], found: &mut Vec<usize>) {
        found.clear();
        for stretch in stretches {
            let from = self.wrong.partition_point(|place| *place < stretch.start);
            let to = self.wrong.partition_point(|place| *place < stretch.end).max(from);
            found.extend(self.wrong[from..to].iter().map(|place| runs.sorted[*place].1));
        }
        found.sort_unstable();
    }

    /// The setters that leave one of the values, by number; from this one on, and then those before it.
    pub(super) fn right_from(&self, number: usize) -> impl Iterator<Item = usize> + '_ {
        let from = self.right.partition_point(|right| *right < number);
        self.right[from..].iter().chain(&self.right[..from]).copied()
    }

    /// The nodes with setters that leave one of the values.
    pub(super) fn nodes(&mut self, setters: &[Setter]) -> Arc<[NodeId]> {
        let right = &self.right;
        self.nodes
            .get_or_insert_with(|| {
                let mut nodes: Vec<NodeId> =
                    right.iter().filter_map(|number| setters[*number].at.node()).collect();
                nodes.sort();
                nodes.dedup();
                nodes.into()
            })
            .clone()
    }

    /// Whether one that puts it right comes before a node of a phase in every order; none where that isn't known.
    pub(super) fn is_reached(&self, phase: Phase, node: NodeId) -> Option<bool> {
        let (known, reached) = self.reached.as_ref()?;
        (*known == phase).then(|| reached.get(node.index()).copied().unwrap_or_default())
    }

    /// Keeps what is reached in a phase.
    pub(super) fn keep_reached(&mut self, phase: Phase, reached: Vec<bool>) {
        self.reached = Some((phase, reached));
    }

    /// Setters that leave one of the values, by number, for a node of a phase that none of them is sure to come before: those
    /// outside the phase, and those in the nodes given; in the order of [`Wanted::right_from`]. `phase` says how the phase of
    /// another node stands to this one.
    pub(super) fn right_elsewhere<'w>(
        &'w self,
        setters: &[Setter],
        phase: &dyn Fn(NodeId) -> Ordering,
        beside: [Option<NodeId>; 2],
        number: usize,
    ) -> impl Iterator<Item = usize> + use<'w> {
        let node = |number: &usize| setters[*number].at.node();
        // Nodes stand phase after phase, and what is before a phase before them.
        let [first, last] = [Ordering::Less, Ordering::Equal].map(|least| {
            self.right.partition_point(|number| node(number).is_none_or(|node| phase(node) <= least))
        });
        let within = |id: NodeId| {
            let list = &self.right[first..last];
            let from = list.partition_point(|number| node(number).is_some_and(|other| other < id));
            let to = list.partition_point(|number| node(number).is_some_and(|other| other <= id));
            &list[from..to]
        };
        let (low, high) = (beside[0].min(beside[1]), beside[0].max(beside[1]));
        let low = low.filter(|low| Some(*low) != high);
        let within = |id: Option<NodeId>| id.map_or(&[][..], within);
        let pieces = [&self.right[..first], within(low), within(high), &self.right[last..]];
        let halves = pieces.map(|piece| piece.split_at(piece.partition_point(|right| *right < number)));
        let behind = halves.into_iter().flat_map(|(_, behind)| behind);
        behind.chain(halves.into_iter().flat_map(|(before, _)| before)).copied()
    }
}
