//! The search for the cheapest order: a precedence and a cost in, an order with its cost, a lower bound and, where
//! it succeeded, the proof that nothing is cheaper out.
//!
//! Two forms of cost: [`Problem::matrix`] charges each step for the one directly before it (the sequential ordering
//! problem); [`Problem::setups`] charges for changes of set-up, where a step may take some aspects as they are.
//! Effort is counted in work, never in seconds, and all chance comes from a seed: the same problem and effort give
//! the same order everywhere.

mod ascent;
mod assignment;
mod exchange;
mod ideals;
mod instance;
mod matrix;
mod memory;
pub(super) mod random;
mod segments;
mod setups;
mod shift;
mod walk;

use super::acyclic::Acyclic;
pub(super) use exchange::chance;
use matrix::MatrixSearch;
pub use setups::{Aspect, Demand, Setups};
use setups::{Costs, SetupSearch};
pub use shift::{Bar, Shifts};

/// How much a search may do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Units of work, each about ten nanoseconds on one core of 2025: a hundred million are about a second.
    pub work: u64,
    /// Start of the random numbers.
    pub seed: u64,
}

impl Default for Effort {
    /// About half a second.
    fn default() -> Effort {
        Effort { work: 50_000_000, seed: 1 }
    }
}

/// The best order that a search found, and what it knows about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// Every node once, first to last.
    pub order: Vec<usize>,
    /// Its cost, in the unit of the problem's costs.
    pub cost: u64,
    /// No order costs less than this.
    pub bound: u64,
    /// Whether the bound reached the cost: nothing is cheaper.
    pub proved: bool,
    /// Units of work spent.
    pub work: u64,
}

/// What to put in order, and what an order costs.
#[derive(Clone, Debug)]
pub struct Problem {
    graph: Acyclic,
    form: Form,
}

#[derive(Clone, Debug)]
enum Form {
    Matrix(Vec<u32>),
    Setups(Box<Costs>),
}

impl Problem {
    /// The sequential ordering problem: `cost[x * n + y]` is charged for y directly after x. Entries for pairs that
    /// no order can use are not looked at.
    ///
    /// # Panics
    /// If the matrix hasn't n × n entries, or an entry is 2²⁸ or more.
    pub fn matrix(graph: Acyclic, cost: Vec<u32>) -> Problem {
        assert_eq!(cost.len(), graph.nodes() * graph.nodes(), "the matrix is square, a row a node");
        assert!(cost.iter().all(|&cost| cost < 1 << 28), "a cost is below 2^28");
        Problem { graph, form: Form::Matrix(cost) }
    }

    /// Steps with changes of set-up between them. What the caller wants kept together (a block, a step straight after
    /// another) it hands in as one step with entry and exit values.
    ///
    /// # Errors
    /// An edge that leads from a section into an earlier one.
    ///
    /// # Panics
    /// If a list of `setups` hasn't one entry a step (or an aspect), an index is out of range, or there are more than
    /// 16 aspects.
    pub fn setups(graph: Acyclic, setups: Setups) -> Result<Problem, (usize, usize)> {
        let costs = Costs::new(&graph, setups);
        match graph.graph().edges().iter().find(|&&(x, y)| costs.section(x) > costs.section(y)) {
            Some(&edge) => Err(edge),
            None => Ok(Problem { graph, form: Form::Setups(Box::new(costs)) }),
        }
    }

    /// Whether the order holds every node once and keeps precedence and sections.
    pub fn allows(&self, order: &[usize]) -> bool {
        let sections_rise = match &self.form {
            Form::Matrix(_) => true,
            Form::Setups(costs) => {
                order.windows(2).all(|pair| costs.section(pair[0]) <= costs.section(pair[1]))
            }
        };
        self.graph.allows(order) && sections_rise
    }

    /// What must come before what.
    pub fn graph(&self) -> &Acyclic {
        &self.graph
    }

    /// The cost of an order, counted afresh.
    ///
    /// # Panics
    /// If the order names a node that isn't there.
    pub fn cost_of(&self, order: &[usize]) -> u64 {
        let nodes = self.graph.nodes();
        match &self.form {
            Form::Matrix(cost) => {
                order.windows(2).map(|pair| u64::from(cost[pair[0] * nodes + pair[1]])).sum()
            }
            Form::Setups(costs) => costs.of(order),
        }
    }
}

/// A search that can be asked for its answer and told to go on.
pub struct Search {
    kind: Kind,
}

enum Kind {
    Matrix(Box<MatrixSearch>),
    Setups(Box<SetupSearch>),
}

impl Search {
    /// Makes ready and finds a first order.
    pub fn new(problem: &Problem, seed: u64) -> Search {
        let kind = match &problem.form {
            Form::Matrix(cost) => Kind::Matrix(Box::new(MatrixSearch::new(&problem.graph, cost, seed))),
            Form::Setups(costs) => Kind::Setups(Box::new(SetupSearch::new(&problem.graph, costs, seed))),
        };
        Search { kind }
    }

    /// Spends about `work` units, or less if the proof succeeds. One long advance is worth more than many short
    /// ones, since it is planned as a whole.
    pub fn advance(&mut self, work: u64) {
        match &mut self.kind {
            Kind::Matrix(search) => search.advance(work),
            Kind::Setups(search) => search.advance(work),
        }
    }

    /// The best so far.
    pub fn found(&self) -> Found {
        match &self.kind {
            Kind::Matrix(search) => search.found(),
            Kind::Setups(search) => search.found(),
        }
    }
}

/// The cheapest order that `effort` finds.
pub fn best_order(problem: &Problem, effort: Effort) -> Found {
    let mut search = Search::new(problem, effort.seed);
    search.advance(effort.work);
    search.found()
}
