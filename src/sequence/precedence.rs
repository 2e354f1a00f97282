//! Pairs of nodes to a graph: each edge `(x, y)` says that x comes before y.
//!
//! It must not know whether the pairs contradict each other; `acyclic` and `cycles` find that out.

use std::iter::Copied;
use std::ops::Range;
use std::slice::Iter;

use petgraph::Direction;
use petgraph::visit::{
    GraphBase, IntoNeighbors, IntoNeighborsDirected, IntoNodeIdentifiers, NodeIndexable, VisitMap, Visitable,
};

/// Which of the nodes `0..n` must come before which.
///
/// Edges are kept once each, sorted, whatever order they were given in, so that every answer drawn from the graph
/// is the same for the same set of pairs.
#[derive(Clone, Debug)]
pub struct Precedence {
    edges: Vec<(usize, usize)>,
    successor_start: Vec<usize>,
    successors: Vec<usize>,
    predecessor_start: Vec<usize>,
    predecessors: Vec<usize>,
}

/// Where the slice of each node begins, and where the last ends, for pairs of which `end` says whose they are.
fn starts(nodes: usize, pairs: &[(usize, usize)], end: impl Fn(&(usize, usize)) -> usize) -> Vec<usize> {
    let mut start = vec![0; nodes + 1];
    for pair in pairs {
        start[end(pair) + 1] += 1;
    }
    for node in 0..nodes {
        start[node + 1] += start[node];
    }
    start
}

impl Precedence {
    /// The graph of `nodes` nodes in which each pair `(x, y)` puts x before y. Repeated pairs count once; a pair
    /// `(x, x)` is kept and is a cycle of one node.
    ///
    /// # Panics
    /// If a pair names a node that isn't below `nodes`.
    pub fn new(nodes: usize, pairs: impl IntoIterator<Item = (usize, usize)>) -> Precedence {
        let mut edges: Vec<(usize, usize)> = pairs.into_iter().collect();
        edges.sort_unstable();
        edges.dedup();
        let successor_start = starts(nodes, &edges, |edge| edge.0);
        let successors = edges.iter().map(|edge| edge.1).collect();
        let predecessor_start = starts(nodes, &edges, |edge| edge.1);
        let mut next = predecessor_start.clone();
        let mut predecessors = vec![0; edges.len()];
        for &(x, y) in &edges {
            predecessors[next[y]] = x;
            next[y] += 1;
        }
        Precedence { edges, successor_start, successors, predecessor_start, predecessors }
    }

    /// Number of nodes.
    pub fn nodes(&self) -> usize {
        self.successor_start.len() - 1
    }

    /// Every edge once, sorted.
    pub fn edges(&self) -> &[(usize, usize)] {
        &self.edges
    }

    /// The nodes that `node` stands directly before, ascending.
    pub fn successors(&self, node: usize) -> &[usize] {
        &self.successors[self.successor_start[node]..self.successor_start[node + 1]]
    }

    /// The nodes that stand directly before `node`, ascending.
    pub fn predecessors(&self, node: usize) -> &[usize] {
        &self.predecessors[self.predecessor_start[node]..self.predecessor_start[node + 1]]
    }

    /// Whether the pair itself was stated (not merely implied).
    pub fn states(&self, x: usize, y: usize) -> bool {
        self.successors(x).binary_search(&y).is_ok()
    }

    /// The same graph with every edge turned round.
    pub fn reversed(&self) -> Precedence {
        Precedence::new(self.nodes(), self.edges.iter().map(|&(x, y)| (y, x)))
    }
}

/// Which nodes petgraph has been at.
#[derive(Clone, Debug)]
pub struct Visited(Vec<bool>);

impl VisitMap<usize> for Visited {
    fn visit(&mut self, node: usize) -> bool {
        !std::mem::replace(&mut self.0[node], true)
    }
    fn is_visited(&self, node: &usize) -> bool {
        self.0[*node]
    }
    fn unvisit(&mut self, node: usize) -> bool {
        std::mem::replace(&mut self.0[node], false)
    }
}

// What petgraph's algorithms ask of a graph, answered from the lists that are here anyway.

impl GraphBase for Precedence {
    type NodeId = usize;
    type EdgeId = usize;
}

impl Visitable for Precedence {
    type Map = Visited;
    fn visit_map(&self) -> Visited {
        Visited(vec![false; self.nodes()])
    }
    fn reset_map(&self, map: &mut Visited) {
        map.0.clear();
        map.0.resize(self.nodes(), false);
    }
}

impl NodeIndexable for Precedence {
    fn node_bound(&self) -> usize {
        self.nodes()
    }
    fn to_index(&self, node: usize) -> usize {
        node
    }
    fn from_index(&self, index: usize) -> usize {
        index
    }
}

impl IntoNodeIdentifiers for &Precedence {
    type NodeIdentifiers = Range<usize>;
    fn node_identifiers(self) -> Range<usize> {
        0..self.nodes()
    }
}

impl<'g> IntoNeighbors for &'g Precedence {
    type Neighbors = Copied<Iter<'g, usize>>;
    fn neighbors(self, node: usize) -> Self::Neighbors {
        self.successors(node).iter().copied()
    }
}

impl<'g> IntoNeighborsDirected for &'g Precedence {
    type NeighborsDirected = Copied<Iter<'g, usize>>;
    fn neighbors_directed(self, node: usize, direction: Direction) -> Self::Neighbors {
        match direction {
            Direction::Outgoing => self.successors(node).iter().copied(),
            Direction::Incoming => self.predecessors(node).iter().copied(),
        }
    }
}
