//! An acyclic precedence to the places each node can take, counted from 1.

use super::acyclic::Acyclic;
use super::blocks::count_after;
use super::precedence::Precedence;

/// The places that a node takes in some order; the first place is 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Window {
    /// One more than the number of nodes that must come before.
    pub earliest: usize,
    /// The number of nodes less those that must come after.
    pub latest: usize,
}

impl Window {
    /// How many places the node can be moved by.
    pub fn slack(&self) -> usize {
        self.latest - self.earliest
    }
}

/// The window of each node. Both ends are reached by some order, and so is everything between them.
///
/// ```
/// use benchleaf::{Acyclic, Precedence, windows};
///
/// // 0 before 1 before 2, and 0 before 2 goes without saying; 3 is free.
/// let graph = Acyclic::new(Precedence::new(4, [(0, 1), (1, 2), (0, 2)])).expect("it holds no circle");
/// let window = windows(&graph)[1];
/// assert_eq!((window.earliest, window.latest), (2, 3));
/// ```
pub fn windows(graph: &Acyclic) -> Vec<Window> {
    let after = count_after(graph);
    let before = count_after(&graph.reversed());
    let nodes = graph.nodes();
    (0..nodes).map(|node| Window { earliest: before[node] + 1, latest: nodes - after[node] }).collect()
}

/// For each node that was alone in the queue when it was taken: how many were taken before it.
fn alone(graph: &Precedence) -> Vec<Option<usize>> {
    let nodes = graph.nodes();
    let mut waiting: Vec<usize> = (0..nodes).map(|node| graph.predecessors(node).len()).collect();
    let mut ready: Vec<usize> = (0..nodes).filter(|&node| waiting[node] == 0).collect();
    let mut taken = 0;
    let mut alone = vec![None; nodes];
    while let Some(node) = ready.pop() {
        if ready.is_empty() {
            alone[node] = Some(taken);
        }
        taken += 1;
        for &next in graph.successors(node) {
            waiting[next] -= 1;
            if waiting[next] == 0 {
                ready.push(next);
            }
        }
    }
    alone
}

/// The nodes that stand at the same place in every order, first to last, in linear time.
///
/// A node alone in the queue has everything not yet taken after it; so forwards it tells the number of its
/// successors and backwards that of its predecessors, and the two make up all other nodes if it is fixed.
///
/// ```
/// use benchleaf::{Acyclic, Precedence, fixed_nodes};
///
/// let chain = Acyclic::new(Precedence::new(3, [(0, 1), (1, 2)])).expect("it holds no circle");
/// assert_eq!(fixed_nodes(&chain), [0, 1, 2]);
/// ```
pub fn fixed_nodes(graph: &Acyclic) -> Vec<usize> {
    let forwards = alone(graph.graph());
    let backwards = alone(&graph.graph().reversed());
    let is_fixed = |node: usize| match (forwards[node], backwards[node]) {
        (Some(before), Some(after)) => before + after + 1 == graph.nodes(),
        _ => false,
    };
    graph.order().iter().copied().filter(|&node| is_fixed(node)).collect()
}
