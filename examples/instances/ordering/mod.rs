//! The sequential ordering problem on public instances: a precedence and a matrix of costs in, the cheapest order found,
//! a lower bound and, where it succeeded, the proof that nothing is cheaper out.
//!
//! No command charges a step for the one directly before it, so this search stands beside the measuring examples; it
//! spends work and tells what it found in the terms of the crate's own search.

mod ascent;
mod assignment;
mod exchange;
mod ideals;
mod instance;
mod matrix;
mod memory;
#[allow(clippy::duplicate_mod, reason = "the tests load it beside the room that owns it")]
#[path = "../../../src/sequence/random.rs"]
mod random;
mod segments;
mod walk;

use benchleaf::Acyclic;
use benchleaf::search::{Effort, Found};

pub use matrix::MatrixSearch;

/// What to put in order, and what each node costs directly after each other.
#[derive(Clone, Debug)]
pub struct Problem {
    graph: Acyclic,
    cost: Vec<u32>,
}

impl Problem {
    /// `cost[x * n + y]` is charged for y directly after x. Entries for pairs that no order can use are not looked at.
    ///
    /// # Panics
    /// If the matrix hasn't n × n entries, or an entry is 2²⁸ or more.
    pub fn new(graph: Acyclic, cost: Vec<u32>) -> Problem {
        assert_eq!(cost.len(), graph.nodes() * graph.nodes(), "the matrix is square, a row a node");
        assert!(cost.iter().all(|&cost| cost < 1 << 28), "a cost is below 2^28");
        Problem { graph, cost }
    }

    /// Whether the order holds every node once and keeps precedence.
    pub fn allows(&self, order: &[usize]) -> bool {
        self.graph.allows(order)
    }

    /// The cost of an order, counted afresh.
    pub fn cost_of(&self, order: &[usize]) -> u64 {
        let nodes = self.graph.nodes();
        order.windows(2).map(|pair| u64::from(self.cost[pair[0] * nodes + pair[1]])).sum()
    }

    /// Makes ready and finds a first order.
    pub fn search(&self, seed: u64) -> MatrixSearch {
        MatrixSearch::new(&self.graph, &self.cost, seed)
    }
}

/// The cheapest order that `effort` finds.
pub fn best_order(problem: &Problem, effort: Effort) -> Found {
    let mut search = problem.search(effort.seed);
    search.advance(effort.work);
    search.found()
}
