//! Pairs of nodes to a graph: each edge `(x, y)` says that x comes before y.
//!
//! It must not know whether the pairs contradict each other; `acyclic` and `cycles` find that out.

use petgraph::graph::{DiGraph, NodeIndex};

/// Which of the nodes `0..n` must come before which.
///
/// Edges are kept once each, sorted, whatever order they were given in, so that every answer drawn from the graph
/// is the same for the same set of pairs.
#[derive(Clone, Debug)]
pub struct Precedence {
    graph: DiGraph<(), (), u32>,
    edges: Vec<(usize, usize)>,
    successor_start: Vec<usize>,
    successors: Vec<usize>,
    predecessor_start: Vec<usize>,
    predecessors: Vec<usize>,
}

/// Groups `pairs`, sorted by their first member, into one slice per node.
fn grouped(nodes: usize, pairs: &[(usize, usize)]) -> (Vec<usize>, Vec<usize>) {
    let mut start = vec![0; nodes + 1];
    for &(from, _) in pairs {
        start[from + 1] += 1;
    }
    for node in 0..nodes {
        start[node + 1] += start[node];
    }
    (start, pairs.iter().map(|&(_, to)| to).collect())
}

impl Precedence {
    /// The graph of `nodes` nodes in which each pair `(x, y)` puts x before y. Repeated pairs count once; a pair
    /// `(x, x)` is kept and is a cycle of one node.
    ///
    /// # Panics
    /// If a pair names a node that isn't below `nodes`, or there are 2³² nodes or more.
    pub fn new(nodes: usize, pairs: impl IntoIterator<Item = (usize, usize)>) -> Precedence {
        let mut edges: Vec<(usize, usize)> = pairs.into_iter().collect();
        edges.sort_unstable();
        edges.dedup();
        let mut reversed: Vec<(usize, usize)> = edges.iter().map(|&(x, y)| (y, x)).collect();
        reversed.sort_unstable();
        let (successor_start, successors) = grouped(nodes, &edges);
        let (predecessor_start, predecessors) = grouped(nodes, &reversed);
        let mut graph = DiGraph::with_capacity(nodes, edges.len());
        for _ in 0..nodes {
            graph.add_node(());
        }
        // petgraph walks the neighbours of a node from the newest edge to the oldest.
        for &(x, y) in edges.iter().rev() {
            graph.add_edge(NodeIndex::new(x), NodeIndex::new(y), ());
        }
        Precedence { graph, edges, successor_start, successors, predecessor_start, predecessors }
    }

    /// Number of nodes.
    pub fn nodes(&self) -> usize {
        self.graph.node_count()
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

    /// The petgraph form, for petgraph's own algorithms.
    pub(super) fn graph(&self) -> &DiGraph<(), (), u32> {
        &self.graph
    }
}
