//! A matrix problem made ready for search: a first and a last node of no cost added, nodes renumbered roughly in
//! the order they come, redundant edges gone, and the arcs that no order can use marked.

use benchleaf::{Acyclic, Before, Precedence, Window, redundant_edges, windows};

/// The cost of an arc that no order can use: x directly before y where y comes before x, or something between.
pub(super) const NEVER: i32 = i32::MAX / 4;

/// Nodes `0..nodes`, of which 0 comes before all others and the last after all others. They stand in order of the
/// middle of their windows, so that the nodes which can take a place are close together.
pub(super) struct Instance {
    pub(super) nodes: usize,
    /// Row by row; the cost of y directly after x at `x * nodes + y`.
    pub(super) cost: Vec<i32>,
    /// For each node, those that can directly follow it, cheapest first.
    pub(super) nearest: Vec<Vec<u32>>,
    /// The transitively reduced graph.
    pub(super) graph: Acyclic,
    /// The closure.
    pub(super) before: Before,
    /// First and last place of each node, from 1.
    pub(super) windows: Vec<Window>,
    /// For each node its number in the problem, counted from 1; the ends have none that counts.
    name: Vec<usize>,
}

impl Instance {
    /// `cost(x, y)` is asked on the problem's nodes; it is at least 0 and below [`NEVER`].
    pub(super) fn new(problem: &Acyclic, cost: impl Fn(usize, usize) -> i32) -> Instance {
        let inner = problem.nodes();
        let nodes = inner + 2;
        let spans = windows(problem);
        let mut name: Vec<usize> = (1..=inner).collect();
        name.sort_by_key(|&node| (spans[node - 1].earliest + spans[node - 1].latest, node));
        name.insert(0, 0);
        name.push(inner + 1);
        let mut number = vec![0; nodes];
        for (at, &node) in name.iter().enumerate() {
            number[node] = at;
        }
        let redundant = redundant_edges(problem);
        let kept = problem.graph().edges().iter().filter(|edge| redundant.binary_search(edge).is_err());
        let mut edges: Vec<(usize, usize)> = kept.map(|&(x, y)| (number[x + 1], number[y + 1])).collect();
        for node in 0..inner {
            if problem.graph().predecessors(node).is_empty() {
                edges.push((0, number[node + 1]));
            }
            if problem.graph().successors(node).is_empty() {
                edges.push((number[node + 1], nodes - 1));
            }
        }
        if inner == 0 {
            edges.push((0, 1));
        }
        let graph = Acyclic::new(Precedence::new(nodes, edges)).expect("two ends close no cycle");
        let before = Before::new(&graph);
        let mut table = vec![NEVER; nodes * nodes];
        let mut nearest = Vec::with_capacity(nodes);
        for x in 0..nodes {
            for y in 0..nodes {
                let between = before.before(x, y) && !graph.graph().states(x, y);
                if x != y && !before.before(y, x) && !between {
                    let ends = x == 0 || y == nodes - 1;
                    table[x * nodes + y] = if ends { 0 } else { cost(name[x] - 1, name[y] - 1) };
                }
            }
            let row = &table[x * nodes..(x + 1) * nodes];
            let mut near: Vec<u32> = (0..nodes as u32).filter(|&y| row[y as usize] != NEVER).collect();
            near.sort_by_key(|&y| (row[y as usize], y));
            nearest.push(near);
        }
        let windows = windows(&graph);
        Instance { nodes, cost: table, nearest, graph, before, windows, name }
    }

    pub(super) fn arc(&self, x: usize, y: usize) -> i32 {
        self.cost[x * self.nodes + y]
    }

    pub(super) fn length(&self, order: &[u32]) -> i64 {
        order.windows(2).map(|pair| i64::from(self.arc(pair[0] as usize, pair[1] as usize))).sum()
    }

    /// The order on the problem's nodes, without the ends.
    pub(super) fn named(&self, order: &[u32]) -> Vec<usize> {
        order[1..order.len() - 1].iter().map(|&node| self.name[node as usize] - 1).collect()
    }

    /// The order of the problem's nodes in this instance's numbers, with the ends.
    pub(super) fn numbered(&self, order: &[usize]) -> Vec<u32> {
        let mut number = vec![0; self.nodes];
        for (at, &node) in self.name.iter().enumerate() {
            number[node] = at as u32;
        }
        let inner = order.iter().map(|&node| number[node + 1]);
        [0].into_iter().chain(inner).chain([self.nodes as u32 - 1]).collect()
    }
}
