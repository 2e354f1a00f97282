//! The search for the cheapest order: a precedence and a cost in, an order with its cost, a lower bound and, where
//! it succeeded, the proof that nothing is cheaper out.
//!
//! [`Problem::setups`] charges for changes of set-up, where a step may take some aspects as they are.
//! Effort is counted in work, never in seconds, and all chance comes from a seed: the same problem and effort give
//! the same order everywhere.

mod setups;
mod shift;

use super::acyclic::Acyclic;
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
    costs: Costs,
}

impl Problem {
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
            None => Ok(Problem { graph, costs }),
        }
    }

    /// Whether the order holds every node once and keeps precedence and sections.
    pub fn allows(&self, order: &[usize]) -> bool {
        self.graph.allows(order)
            && order.windows(2).all(|pair| self.costs.section(pair[0]) <= self.costs.section(pair[1]))
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
        self.costs.of(order)
    }
}

/// A search that can be asked for its answer and told to go on.
pub struct Search(SetupSearch);

impl Search {
    /// Makes ready and finds a first order.
    pub fn new(problem: &Problem, seed: u64) -> Search {
        Search(SetupSearch::new(&problem.graph, &problem.costs, seed))
    }

    /// Spends about `work` units, or less if the proof succeeds. One long advance is worth more than many short
    /// ones, since it is planned as a whole.
    pub fn advance(&mut self, work: u64) {
        self.0.advance(work);
    }

    /// The best so far.
    pub fn found(&self) -> Found {
        self.0.found()
    }
}

/// The cheapest order that `effort` finds.
///
/// ```
/// use benchleaf::search::{Aspect, Demand, Effort, Problem, Setups, best_order};
/// use benchleaf::{Acyclic, Precedence};
///
/// // Four steps that take a 10, a 13, a 10 and a 13 mm socket; the first comes before the last.
/// let graph = Acyclic::new(Precedence::new(4, [(0, 3)])).expect("it holds no circle");
/// let takes = |socket| vec![Demand { aspect: 0, entry: socket, exit: socket }];
/// let setups = Setups {
///     aspects: vec![Aspect::new(&[vec![0, 5], vec![5, 0]])],
///     demands: vec![takes(0), takes(1), takes(0), takes(1)],
///     start: vec![None],
///     follower: vec![None; 4],
///     parting: 0,
///     section: vec![0; 4],
/// };
/// let problem = Problem::setups(graph, setups).expect("all steps are of one section");
/// let found = best_order(&problem, Effort::default());
/// assert_eq!(found.cost, 5);
/// assert!(problem.allows(&found.order));
/// ```
pub fn best_order(problem: &Problem, effort: Effort) -> Found {
    let mut search = Search::new(problem, effort.seed);
    search.advance(effort.work);
    search.found()
}
