//! What no order splits beside blocks: a step that ends in a hold and the one after it, and everything from taking a
//! load to letting it go.

use super::super::step_of;
use crate::network::{Network, NodeId};
use crate::procedure::model::{Deed, PartId, PartWork, Procedure, Step};

/// Nodes that stand together in every order, in the author's order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Unit {
    pub nodes: Vec<NodeId>,
    /// Which stretch of one section it belongs to, counted along the author's order.
    pub run: usize,
}

/// A load that hangs is followed for so many steps at most: one that nobody lets down is no reason to freeze a phase. Our
/// own choice, no source.
const LONGEST_LIFT: usize = 8;

/// The units of a phase in the author's order.
pub(super) fn units(procedure: &Procedure, network: &Network, author: &[NodeId]) -> Vec<Unit> {
    let mut joined = vec![false; author.len()];
    for at in 0..author.len() {
        let steps = steps(procedure, network, author[at]);
        if steps.last().is_some_and(|step| step.holds()) {
            join(&mut joined, at, at + 1);
        }
        for part in steps.iter().flat_map(|step| loads(step)) {
            let let_go = (at..author.len().min(at + LONGEST_LIFT))
                .find(|later| self::steps(procedure, network, author[*later]).iter().any(|s| moves(s, part)));
            join(&mut joined, at, let_go.unwrap_or(at));
        }
    }
    let section = |node: NodeId| network.nodes[node.index()].section;
    let mut units: Vec<Unit> = Vec::new();
    for (at, node) in author.iter().enumerate() {
        match units.last_mut().filter(|_| joined[at]) {
            Some(unit) => unit.nodes.push(*node),
            None => units.push(Unit { nodes: vec![*node], run: 0 }),
        }
    }
    // A unit that reaches from one section into the next is a stretch of its own.
    let ends = |unit: &Unit| (section(unit.nodes[0]), section(unit.nodes[unit.nodes.len() - 1]));
    for at in 1..units.len() {
        let (before, own) = (ends(&units[at - 1]), ends(&units[at]));
        let same = before.0 == before.1 && own.0 == own.1 && before.1 == own.0;
        units[at].run = units[at - 1].run + usize::from(!same);
    }
    units
}

/// Marks every place behind `from` up to `to` as joined to the one before it.
fn join(joined: &mut [bool], from: usize, to: usize) {
    let end = (to + 1).min(joined.len());
    joined[(from + 1).min(end)..end].fill(true);
}

/// The steps of a node.
pub(super) fn steps<'a>(procedure: &'a Procedure, network: &'a Network, node: NodeId) -> Vec<&'a Step> {
    let members = &network.nodes[node.index()].members;
    members.iter().map(|member| step_of(procedure, network, member.step)).collect()
}

/// Parts that a step takes the weight of and still holds when it is over.
fn loads(step: &Step) -> Vec<PartId> {
    let mut held = Vec::new();
    for act in step.acts() {
        if let Deed::Part { work, what } = &act.deed {
            for target in what {
                held.retain(|part| *part != target.id);
                if *work == PartWork::Support {
                    held.push(target.id);
                }
            }
        }
    }
    held
}

/// Whether a step takes, fits or puts back the part.
fn moves(step: &Step, part: PartId) -> bool {
    step.acts().any(|act| match &act.deed {
        Deed::Part { work: PartWork::Take | PartWork::Fit | PartWork::PutBack, what } => {
            what.iter().any(|target| target.id == part)
        }
        _ => false,
    })
}
