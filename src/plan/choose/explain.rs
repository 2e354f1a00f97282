//! Why a step stands elsewhere than its author put it.

use std::collections::BTreeMap;

use super::Weights;
use super::aspects::Aspects;
use super::units::Unit;
use crate::network::NodeId;
use crate::sequence::longest_rise;
use crate::sequence::search::Shifts;

/// A step that stands elsewhere than the author put it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Moved {
    /// Its first node.
    pub node: NodeId,
    /// What it saves to have it here rather than where the author put it, all others staying: tenths of a second; none
    /// where it can't go back there by itself.
    pub saves: Option<i64>,
    /// The node before it, and what the two have in common: aspect and value.
    pub joins: Option<(NodeId, Vec<(String, String)>)>,
    /// The node after it, likewise.
    pub leads: Option<(NodeId, Vec<(String, String)>)>,
}

/// How many of the author's neighbours of one stretch stand apart. Between stretches nothing is parted, since no step
/// leaves its own.
pub(super) fn parted(units: &[Unit], chosen: &[usize]) -> u64 {
    let next: BTreeMap<usize, usize> = chosen.windows(2).map(|pair| (pair[0], pair[1])).collect();
    let neighbours = (1..units.len()).filter(|unit| units[unit - 1].run == units[*unit].run);
    neighbours.filter(|unit| next.get(&(unit - 1)) != Some(unit)).count() as u64
}

/// The steps off the longest stretch that keeps the author's order, each with why it stands where it does.
pub(super) fn moved(aspects: &Aspects, weights: &Weights, chosen: &[usize]) -> Vec<Moved> {
    let Some(problem) = &weights.problem else { return Vec::new() };
    let kept = longest_rise(chosen);
    let shifts = Shifts::new(problem, chosen);
    let units = &weights.units;
    let mut found = Vec::new();
    for (at, unit) in chosen.iter().enumerate().filter(|(_, unit)| !kept.contains(unit)) {
        // Back behind the one that comes before it in the author's order.
        let back = unit.checked_sub(1).map_or(0, |before| {
            let before = shifts.place(before);
            if before < at { before + 1 } else { before }
        });
        let beside = |other: Option<&usize>| {
            let other = &units[*other?].nodes;
            let shared = aspects.shared(&units[*unit].nodes, other);
            Some((other[0], shared))
        };
        found.push(Moved {
            node: units[*unit].nodes[0],
            saves: shifts.extra(at, back),
            joins: beside(at.checked_sub(1).and_then(|before| chosen.get(before))),
            leads: beside(chosen.get(at + 1)),
        });
    }
    found
}
