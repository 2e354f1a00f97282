//! The set-up form: changes of tool, position and the like between steps, of which a step may leave some as they
//! are, and a price for each of the author's neighbours parted.
//!
//! The problem is cut into parts that no order mixes; a beam over order ideals and a local search take turns, the
//! beam four times as wide each time, until it drops nothing and so proves the order, or the work is spent. They begin with
//! the better of the author's order and a plain sort by what is dearest to change.

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
use ideals::Allowance;
use parts::{Part, parts};

/// Width of the first beam, and how many times wider each further one is.
const FIRST_WIDTH: usize = 16;
const WIDER: usize = 4;

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

/// Part after part, steps sorted by what they demand, the dearest aspect to change first; as far as precedence allows it.
fn sorted(graph: &Acyclic, costs: &Costs, parts: &[Part], author: &[usize]) -> Vec<usize> {
    let dearest = |aspect: &Aspect| {
        let values = 0..aspect.values();
        values.clone().flat_map(|x| values.clone().map(move |y| aspect.change(x, y))).max().unwrap_or(0)
    };
    let mut aspects: Vec<usize> = (0..costs.aspects()).collect();
    aspects.sort_by_key(|aspect| std::cmp::Reverse(dearest(&costs.setups.aspects[*aspect])));
    let mut rank = vec![0; graph.nodes()];
    let mut next = 0;
    for part in parts {
        let mut steps = part.steps.clone();
        steps.sort_by_cached_key(|&step| {
            let demands: Vec<u8> = aspects.iter().map(|aspect| costs.entry(step, *aspect)).collect();
            (demands, author[step])
        });
        for step in steps {
            rank[step] = next;
            next += 1;
        }
    }
    graph.order_by_rank(&rank)
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
        let mut improver = Improver::new(costs, order, &lengths, seed);
        let sorted = sorted(graph, costs, &parts, &author);
        improver.offer(costs, &sorted, costs.of(&sorted));
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

    /// Gives each part what the parts after it cost at least, each by itself; returns the work it took, about `most`
    /// or less.
    fn bound_parts(&mut self, most: u64, places: &[usize]) -> u64 {
        let mut work = 0;
        let mut rest = 0;
        let mut steps_left = self.graph.nodes();
        for part in self.parts.iter_mut().rev() {
            part.rest = rest;
            let share = ideals::share(most.saturating_sub(work), part.steps.len(), steps_left);
            steps_left -= part.steps.len();
            let allowance = Allowance { width: self.width, work: share, places };
            let (least, took) = ideals::least_alone(&self.costs, part, allowance);
            work += took;
            part.least_alone = part.least_alone.max(least);
            rest += part.least_alone;
        }
        self.bound = self.bound.max(rest);
        work
    }

    pub(super) fn advance(&mut self, work: u64) {
        let until = self.work + work;
        loop {
            let (order, known) = self.improver.best();
            if self.bound == known || self.work >= until {
                return;
            }
            // A pass takes about as many times longer as it is wider; one that doesn't fit isn't begun. The first leaves
            // as much again for the local search, which improves a long order sooner.
            let left = until - self.work;
            let fits = self.last_pass * WIDER as u64 <= left;
            if fits {
                let mut places = vec![0; order.len()];
                for (place, step) in order.iter().enumerate() {
                    places[*step] = place;
                }
                let may = if self.last_pass == 0 { left / 2 } else { left };
                let alone = self.bound_parts(may / 2, &places);
                let allowance =
                    Allowance { width: self.width, work: may.saturating_sub(alone), places: &places };
                let outcome = ideals::search(&self.costs, &self.parts, known, allowance);
                self.last_pass = alone + outcome.work + 1;
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
