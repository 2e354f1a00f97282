//! A precedence graph to the cycles worth reporting and to edges whose removal would break them.
//!
//! Both work inside one strong component at a time, so a large sound graph with a small knot in it costs little.

use std::collections::VecDeque;

use petgraph::algo::{greedy_feedback_arc_set, tarjan_scc};
use petgraph::graph::DiGraph;
use petgraph::visit::EdgeRef;

use super::precedence::Precedence;

/// Nodes of which each must come before the next and the last before the first. The smallest node stands first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cycle {
    nodes: Vec<usize>,
}

impl Cycle {
    /// The nodes round the cycle, each once.
    pub fn nodes(&self) -> &[usize] {
        &self.nodes
    }

    /// Number of nodes, which is also the number of edges.
    #[allow(clippy::len_without_is_empty, reason = "a cycle has at least one node")]
    pub fn len(&self) -> usize {
        self.nodes.len()
    }

    /// The edges round the cycle; the last one closes it.
    pub fn edges(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        (0..self.nodes.len()).map(|at| (self.nodes[at], self.nodes[(at + 1) % self.nodes.len()]))
    }
}

/// The strong components that contain a cycle, each ascending, in order of their smallest node.
fn knots(graph: &Precedence) -> Vec<Vec<usize>> {
    let mut knots = tarjan_scc(graph);
    knots.retain(|nodes| nodes.len() > 1 || graph.states(nodes[0], nodes[0]));
    knots.iter_mut().for_each(|nodes| nodes.sort_unstable());
    knots.sort_unstable();
    knots
}

/// One shortest cycle for each strong component that has any, in order of the component's smallest node.
/// Among equally short ones it is the one found from the smallest node.
pub(crate) fn shortest_cycles(graph: &Precedence) -> Vec<Cycle> {
    let mut component = vec![usize::MAX; graph.nodes()];
    let mut came_from = vec![usize::MAX; graph.nodes()];
    let mut depth = vec![0_usize; graph.nodes()];
    let mut seen_for = vec![usize::MAX; graph.nodes()];
    let mut cycles = Vec::new();
    for (number, knot) in knots(graph).into_iter().enumerate() {
        for &node in &knot {
            component[node] = number;
        }
        let mut best: Option<Vec<usize>> = None;
        'start: for &start in &knot {
            let limit = best.as_ref().map_or(usize::MAX, Vec::len);
            if limit <= 2 && !graph.states(start, start) {
                if limit == 2 {
                    continue;
                }
                break;
            }
            let mut queue = VecDeque::from([start]);
            seen_for[start] = start;
            depth[start] = 1;
            while let Some(node) = queue.pop_front() {
                if depth[node] >= limit {
                    continue 'start;
                }
                for &next in graph.successors(node) {
                    if next == start {
                        let mut nodes = vec![node];
                        let mut at = node;
                        while at != start {
                            at = came_from[at];
                            nodes.push(at);
                        }
                        nodes.reverse();
                        best = Some(nodes);
                        continue 'start;
                    }
                    if component[next] == number && seen_for[next] != start {
                        seen_for[next] = start;
                        came_from[next] = node;
                        depth[next] = depth[node] + 1;
                        queue.push_back(next);
                    }
                }
            }
        }
        let mut nodes = best.expect("a strong component with an edge has a cycle");
        let smallest = (0..nodes.len()).min_by_key(|&at| nodes[at]).unwrap_or(0);
        nodes.rotate_left(smallest);
        cycles.push(Cycle { nodes });
    }
    cycles
}

/// Edges, ascending, without which no cycle is left. It is a short list, not always the shortest: the greedy
/// heuristic of Eades, Lin and Smyth (1993), run on each strong component alone.
///
/// ```
/// use benchleaf::{Acyclic, Precedence, feedback_edges};
///
/// let pairs = [(0, 1), (1, 2), (2, 0)];
/// let ring = Precedence::new(3, pairs);
/// let taken = feedback_edges(&ring);
/// assert!(!taken.is_empty());
/// let rest = Precedence::new(3, pairs.into_iter().filter(|pair| !taken.contains(pair)));
/// assert!(Acyclic::new(rest).is_ok());
/// ```
pub fn feedback_edges(graph: &Precedence) -> Vec<(usize, usize)> {
    let mut edges = Vec::new();
    let mut local = vec![u32::MAX; graph.nodes()];
    for knot in knots(graph) {
        for (index, &node) in knot.iter().enumerate() {
            local[node] = index as u32;
        }
        let inside = knot.iter().flat_map(|&x| {
            let local = &local;
            graph.successors(x).iter().filter(|&&y| local[y] != u32::MAX).map(move |&y| (local[x], local[y]))
        });
        let part: DiGraph<(), (), u32> = DiGraph::from_edges(inside);
        for edge in greedy_feedback_arc_set(&part) {
            edges.push((knot[edge.source().index()], knot[edge.target().index()]));
        }
        for &node in &knot {
            local[node] = u32::MAX;
        }
    }
    edges.sort_unstable();
    edges
}
