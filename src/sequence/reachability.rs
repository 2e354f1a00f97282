//! An acyclic precedence to what it implies: who comes before whom in every order, and along which chain.

use std::collections::VecDeque;

use super::acyclic::Acyclic;
use super::bits::{BitRows, ones};
use super::precedence::Precedence;

/// The full closure: answers "must x come before y" at once. It takes n²/8 bytes (50 MB for 20,000 nodes);
/// above that, ask `before_each`.
#[derive(Clone, Debug)]
pub struct Before {
    after: BitRows,
}

impl Before {
    /// The closure of the graph, in n·m/64 word operations.
    pub fn new(graph: &Acyclic) -> Before {
        let mut after = BitRows::new(graph.nodes(), graph.nodes());
        for &node in graph.order().iter().rev() {
            for &next in graph.graph().successors(node) {
                after.set(node, next);
                after.add_row(node, next);
            }
        }
        Before { after }
    }

    /// Whether x comes before y in every order. False for x = y.
    ///
    /// ```
    /// use benchleaf::{Acyclic, Before, Precedence};
    ///
    /// let graph = Acyclic::new(Precedence::new(3, [(0, 1), (1, 2)])).expect("it holds no circle");
    /// let before = Before::new(&graph);
    /// assert!(before.before(0, 2));
    /// assert!(!before.before(2, 0));
    /// ```
    pub fn before(&self, x: usize, y: usize) -> bool {
        self.after.has(x, y)
    }

    /// Whether the graph puts the two in a fixed order, either way round.
    pub fn related(&self, x: usize, y: usize) -> bool {
        self.before(x, y) || self.before(y, x)
    }

    /// Every node that comes after `x` in every order, ascending.
    pub fn after(&self, x: usize) -> impl Iterator<Item = usize> + '_ {
        ones(self.after.row(x))
    }

    /// How many nodes come after `x` in every order.
    pub fn count_after(&self, x: usize) -> usize {
        self.after.count(x)
    }

    /// The nodes after `x` as words of 64 bits, node 0 in the lowest bit of the first.
    pub fn row(&self, x: usize) -> &[u64] {
        self.after.row(x)
    }
}

/// A shortest chain of edges from x to y, both ends included, or nothing if no chain leads there. Among equally
/// short chains each node is reached from the earliest found, neighbours ascending.
pub(crate) fn shortest_path(graph: &Precedence, x: usize, y: usize) -> Option<Vec<usize>> {
    let mut came_from = vec![usize::MAX; graph.nodes()];
    came_from[x] = x;
    let mut queue = VecDeque::from([x]);
    while let Some(node) = queue.pop_front() {
        if node == y {
            let mut path = vec![y];
            let mut at = y;
            while at != x {
                at = came_from[at];
                path.push(at);
            }
            path.reverse();
            return Some(path);
        }
        for &next in graph.successors(node) {
            if came_from[next] == usize::MAX {
                came_from[next] = node;
                queue.push_back(next);
            }
        }
    }
    None
}
