//! The set-up form: changes of tool, position and the like between steps, of which a step may leave some as they
//! are, and a price for each of the author's neighbours parted.
//!
//! The problem is cut into parts that no order mixes; a beam over order ideals and a local search take turns, the
//! beam four times as wide each time, until it drops nothing and so proves the order, or the work is spent.

mod cost;
mod exchange;
mod ideals;
mod parts;

use super::super::acyclic::Acyclic;
use super::Found;
use cost::MOST_ASPECTS;
pub use cost::{Aspect, Demand, Setups};
pub(super) use cost::{Configuration, Costs};
use exchange::Improver;
use parts::{Part, parts};

/// Width of the first beam, and how many times wider each further one is.
const FIRST_WIDTH: usize = 16;
const WIDER: usize = 4;
/// About what the first pass takes, in units of work a step.
const FIRST_PASS: u64 = 1_500;
/// Units of work that a transition of the beam counts.
const TRANSITION: u64 = 12;

/// The state of a search of the set-up form.
pub(super) struct SetupSearch {
    graph: Acyclic,
    costs: Costs,
    parts: Vec<Part>,
    improver: Improver,
    width: usize,
    last_pass: u64,
    bound: u64,
    work: u64,
}

/// The author's order: chains of `follower` in order of their first step.
fn author_rank(costs: &Costs) -> Vec<usize> {
    let follower = &costs.setups.follower;
    let mut has_leader = vec![false; follower.len()];
    for &next in follower.iter().flatten() {
        has_leader[next] = true;
    }
    let mut rank = vec![usize::MAX; follower.len()];
    let mut next_rank = 0;
    let heads = (0..follower.len()).filter(|&step| !has_leader[step]).chain(0..follower.len());
    for head in heads {
        let mut at = Some(head);
        while let Some(step) = at.filter(|&step| rank[step] == usize::MAX) {
            rank[step] = next_rank;
            next_rank += 1;
            at = follower[step];
        }
    }
    rank
}

impl SetupSearch {
    pub(super) fn new(graph: &Acyclic, costs: &Costs, seed: u64) -> SetupSearch {
        let author = author_rank(costs);
        let parts = parts(graph, costs, &author);
        // The author's order as far as precedence and sections allow it.
        let mut rank = vec![0; graph.nodes()];
        for (number, part) in parts.iter().enumerate() {
            for &step in &part.steps {
                rank[step] = number * graph.nodes() + author[step];
            }
        }
        let order = graph.order_by_rank(&rank);
        let lengths: Vec<usize> = parts.iter().map(|part| part.steps.len()).collect();
        let improver = Improver::new(costs, order, &lengths, seed);
        let mut parts = parts;
        for part in &mut parts {
            part.least_alone = part.bound(&vec![0; part.steps.len().div_ceil(64)], &[0; MOST_ASPECTS]);
        }
        let bound = parts.iter().map(|part| part.least_alone).sum();
        SetupSearch {
            graph: graph.clone(),
            costs: costs.clone(),
            parts,
            improver,
            width: FIRST_WIDTH,
            last_pass: 0,
            bound,
            work: 0,
        }
    }

    pub(super) fn found(&self) -> Found {
        let (order, cost) = self.improver.best();
        Found { order: order.to_vec(), cost, bound: self.bound, proved: self.bound == cost, work: self.work }
    }

    /// Gives each part what the parts after it cost at least, each by itself; returns the transitions it took.
    fn bound_parts(&mut self) -> u64 {
        let mut transitions = 0;
        let mut rest = 0;
        for part in self.parts.iter_mut().rev() {
            part.rest = rest;
            let (least, work) = ideals::least_alone(&self.costs, part, self.width);
            transitions += work;
            part.least_alone = part.least_alone.max(least);
            rest += part.least_alone;
        }
        self.bound = self.bound.max(rest);
        transitions
    }

    pub(super) fn advance(&mut self, work: u64) {
        let until = self.work + work;
        loop {
            let (_, known) = self.improver.best();
            if self.bound == known || self.work >= until {
                return;
            }
            // A pass takes about as many times longer as it is wider; one that doesn't fit isn't begun. The first has to
            // leave as much again for the local search, which improves a long order sooner.
            let left = until - self.work;
            let fits = if self.last_pass == 0 {
                2 * FIRST_PASS * self.graph.nodes() as u64 <= left
            } else {
                self.last_pass * WIDER as u64 <= left
            };
            if fits {
                let alone = self.bound_parts();
                let outcome = ideals::search(&self.costs, &self.parts, known, self.width);
                self.last_pass = (alone + outcome.work) * TRANSITION + 1;
                self.work += self.last_pass;
                self.bound = self.bound.max(outcome.bound);
                self.width *= WIDER;
                if let Some((order, cost)) = outcome.better {
                    self.improver.offer(&self.costs, &order, cost);
                }
                if outcome.complete {
                    self.bound = self.improver.best().1;
                }
            }
            let left = until.saturating_sub(self.work);
            let turn = if fits { self.last_pass.min(left) } else { left };
            if self.bound < self.improver.best().1 && turn > 0 {
                let before = self.improver.work;
                self.improver.run(&self.graph, &self.costs, turn);
                self.work += self.improver.work - before;
            }
        }
    }
}
