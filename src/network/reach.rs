//! "Must x come before y" for the nodes of one phase: at once for phases of ordinary size, in batches beyond.

use std::collections::HashSet;

use super::types::*;
use crate::sequence::{Acyclic, Before, Precedence, before_each};

/// Largest phase whose closure is kept whole (n²/8 bytes: 32 MB).
const WHOLE: usize = 16_000;

/// The nodes of one phase with the precedence that their links make.
pub(super) struct PhaseOrder {
    /// Nodes of the phase; their index here is their number in the precedence.
    pub nodes: Vec<NodeId>,
    /// The number in the precedence by node; none for a node of another phase.
    index: Vec<Option<u32>>,
    graph: Acyclic,
    closure: Option<Before>,
    asked: HashSet<(usize, usize)>,
}

impl PhaseOrder {
    /// From links that have no cycle. Of pairs nothing is known yet: see [`PhaseOrder::prepare`] and [`PhaseOrder::ask`].
    pub(super) fn new(nodes: Vec<NodeId>, graph: Acyclic) -> PhaseOrder {
        let index = numbers(&nodes);
        PhaseOrder { nodes, index, graph, closure: None, asked: HashSet::new() }
    }

    /// Prepares an answer for every pair, if the phase is of ordinary size; says whether it is.
    pub(super) fn prepare(&mut self) -> bool {
        if self.closure.is_none() && self.nodes.len() <= WHOLE {
            self.closure = Some(Before::new(&self.graph));
        }
        self.closure.is_some()
    }

    /// Prepares answers for these pairs at least.
    pub(super) fn ask(&mut self, pairs: impl Iterator<Item = (NodeId, NodeId)>) {
        let mut pairs = pairs.peekable();
        if pairs.peek().is_none() || self.prepare() {
            return;
        }
        let mut pairs: Vec<(usize, usize)> = pairs
            .filter_map(|(x, y)| Some((self.at(x)?, self.at(y)?)))
            .filter(|(x, y)| self.graph.place(*x) < self.graph.place(*y))
            .collect();
        pairs.sort_unstable();
        pairs.dedup();
        let answers = before_each(&self.graph, &pairs);
        self.asked.extend(pairs.into_iter().zip(answers).filter(|(_, before)| *before).map(|(pair, _)| pair));
    }

    /// Whether `x` comes before `y` in every order. The phase must have been prepared, or the pair asked.
    pub(super) fn before(&self, x: NodeId, y: NodeId) -> bool {
        let (Some(x), Some(y)) = (self.at(x), self.at(y)) else { return false };
        match &self.closure {
            Some(closure) => closure.before(x, y),
            None => self.asked.contains(&(x, y)),
        }
    }

    /// By node whether one of these comes before it in every order.
    pub(super) fn reached(&self, from: impl Iterator<Item = NodeId>) -> Vec<bool> {
        let mut begins = vec![false; self.nodes.len()];
        for at in from.filter_map(|node| self.at(node)) {
            begins[at] = true;
        }
        let mut reached = vec![false; self.index.len()];
        for at in self.graph.order() {
            let before = self.graph.graph().predecessors(*at);
            reached[self.nodes[*at].index()] =
                before.iter().any(|other| begins[*other] || reached[self.nodes[*other].index()]);
        }
        reached
    }

    /// A node's number in the precedence.
    fn at(&self, node: NodeId) -> Option<usize> {
        self.index.get(node.index()).copied().flatten().map(|at| at as usize)
    }

    /// Where a node stands in an order that keeps all links.
    pub(super) fn place(&self, node: NodeId) -> Option<usize> {
        self.at(node).map(|at| self.graph.place(at))
    }

    /// The order that keeps all links and otherwise the ranks given.
    pub(super) fn order(&self, rank: impl Fn(NodeId) -> usize) -> Vec<NodeId> {
        let ranks: Vec<usize> = self.nodes.iter().map(|node| rank(*node)).collect();
        self.graph.order_by_rank(&ranks).into_iter().map(|at| self.nodes[at]).collect()
    }
}

/// By node its number among these; none for any other.
fn numbers(nodes: &[NodeId]) -> Vec<Option<u32>> {
    let mut index = vec![None; nodes.iter().map(|node| node.index() + 1).max().unwrap_or_default()];
    for (at, node) in (0u32..).zip(nodes) {
        index[node.index()] = Some(at);
    }
    index
}

/// The precedence that links make on the nodes of a phase.
pub(super) fn precedence<'l>(nodes: &[NodeId], links: impl Iterator<Item = &'l Link>) -> Precedence {
    let index = numbers(nodes);
    let at = |node: NodeId| index.get(node.index()).copied().flatten().map(|at| at as usize);
    Precedence::new(nodes.len(), links.filter_map(|link| Some((at(link.from)?, at(link.to)?))))
}
