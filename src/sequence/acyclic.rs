//! A precedence graph to an order of its nodes, or to the cycle that forbids one.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::cycles::{Cycle, shortest_cycles};
use super::precedence::Precedence;

/// Of all orders that the graph allows, the one that takes the node of smallest rank first, then the smallest of
/// what may follow, and so on; `rank[node]` is usually the node's place in the author's order. Equal ranks go by
/// node number.
///
/// # Errors
/// A shortest cycle, if the pairs contradict each other.
///
/// # Panics
/// If `rank` is shorter than the number of nodes.
pub(crate) fn topological_order(graph: &Precedence, rank: &[usize]) -> Result<Vec<usize>, Cycle> {
    let nodes = graph.nodes();
    let mut waiting: Vec<usize> = (0..nodes).map(|node| graph.predecessors(node).len()).collect();
    let mut ready: BinaryHeap<Reverse<(usize, usize)>> =
        (0..nodes).filter(|&node| waiting[node] == 0).map(|node| Reverse((rank[node], node))).collect();
    let mut order = Vec::with_capacity(nodes);
    while let Some(Reverse((_, node))) = ready.pop() {
        order.push(node);
        for &next in graph.successors(node) {
            waiting[next] -= 1;
            if waiting[next] == 0 {
                ready.push(Reverse((rank[next], next)));
            }
        }
    }
    if order.len() == nodes {
        return Ok(order);
    }
    let shortest = shortest_cycles(graph).into_iter().min_by_key(Cycle::len);
    Err(shortest.expect("a graph without a topological order has a cycle"))
}

/// A precedence without contradiction, with one order that it allows.
#[derive(Clone, Debug)]
pub struct Acyclic {
    graph: Precedence,
    order: Vec<usize>,
    place: Vec<usize>,
}

impl Acyclic {
    /// Accepts the graph if its pairs don't contradict each other; the order kept is petgraph's and says nothing
    /// about which order is good.
    ///
    /// # Errors
    /// One shortest cycle for each strong component, the components in order of their smallest node.
    pub fn new(graph: Precedence) -> Result<Acyclic, Vec<Cycle>> {
        match petgraph::algo::toposort(&graph, None) {
            Ok(order) => Ok(Acyclic::with_order(graph, order)),
            Err(_) => Err(shortest_cycles(&graph)),
        }
    }

    fn with_order(graph: Precedence, order: Vec<usize>) -> Acyclic {
        let mut place = vec![0; order.len()];
        for (at, &node) in order.iter().enumerate() {
            place[node] = at;
        }
        Acyclic { graph, order, place }
    }

    /// The graph itself.
    pub fn graph(&self) -> &Precedence {
        &self.graph
    }

    /// Number of nodes.
    pub fn nodes(&self) -> usize {
        self.graph.nodes()
    }

    /// One order that the graph allows.
    pub fn order(&self) -> &[usize] {
        &self.order
    }

    /// The place of `node` in [`Acyclic::order`], from 0.
    pub fn place(&self, node: usize) -> usize {
        self.place[node]
    }

    /// The order that `topological_order` finds; it can't fail here.
    pub fn order_by_rank(&self, rank: &[usize]) -> Vec<usize> {
        topological_order(&self.graph, rank).expect("the graph has no cycle")
    }

    /// The same with every edge turned round.
    pub fn reversed(&self) -> Acyclic {
        Acyclic::with_order(self.graph.reversed(), self.order.iter().rev().copied().collect())
    }

    /// Whether `order` holds every node once and no edge points backwards in it.
    pub fn allows(&self, order: &[usize]) -> bool {
        let mut place = vec![usize::MAX; self.nodes()];
        for (at, &node) in order.iter().enumerate() {
            if node >= place.len() || place[node] != usize::MAX {
                return false;
            }
            place[node] = at;
        }
        order.len() == self.nodes() && self.graph.edges().iter().all(|&(x, y)| place[x] < place[y])
    }
}
