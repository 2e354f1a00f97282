//! Which places go into one derived step, and how that step is named after them.

use std::collections::BTreeMap;

use super::Due;
use crate::network::answers::Case;
use crate::network::types::{DerivedStep, NodeId};
use crate::procedure::model::*;
use crate::source::Span;

pub(super) fn group<T, K: Ord>(due: Vec<T>, key: impl Fn(&T) -> K) -> Vec<Vec<T>> {
    let mut groups: BTreeMap<K, Vec<T>> = BTreeMap::new();
    for entry in due {
        groups.entry(key(&entry)).or_default().push(entry);
    }
    groups.into_values().collect()
}

/// Places that came off in one step under the same answers go back in one step, unless they go one by one.
pub(super) fn together<T: Copy + Ord>(due: &[Due<(T, Place)>], apart: bool) -> Vec<Vec<&Due<(T, Place)>>> {
    type Key = (NodeId, u32, Case, bool, Option<Place>);
    let mut groups: BTreeMap<Key, Vec<&Due<(T, Place)>>> = BTreeMap::new();
    for entry in due {
        let alone = apart.then_some(entry.what.1);
        groups
            .entry((entry.origin.node, entry.origin.member, entry.case.clone(), entry.reopen, alone))
            .or_default()
            .push(entry);
    }
    groups.into_values().collect()
}

/// Targets that mean exactly these places: one without positions if they are all, else one per place.
pub(super) fn targets<Id: Copy>(
    procedure: &Procedure,
    id: Id,
    axes: &[AxisId],
    chosen: &[Place],
    span: Span,
) -> Vec<Target<Id>> {
    if chosen.len() == procedure.places(axes).len() {
        return vec![Target { id, pattern: Pattern::default(), span }];
    }
    chosen
        .iter()
        .map(|place| {
            let positions = procedure.coordinates(axes, *place).into_iter().map(At::Position);
            Target { id, pattern: Pattern(positions.collect()), span }
        })
        .collect()
}

/// Positions in the key of a derived step: those that all of its places share, where it is not all places.
pub(super) fn shared(procedure: &Procedure, axes: &[AxisId], chosen: &[Place]) -> Vec<Vec<String>> {
    if chosen.len() == procedure.places(axes).len() {
        return Vec::new();
    }
    let all: Vec<Vec<u16>> = chosen.iter().map(|place| procedure.coordinates(axes, *place)).collect();
    let name =
        |at: &[u16], index: usize| procedure.axis(axes[index]).positions[usize::from(at[index])].clone();
    let same = |index: &usize| all.iter().all(|at| at[*index] == all[0][*index]);
    let shared: Vec<String> = (0..axes.len()).filter(same).map(|index| name(&all[0], index)).collect();
    if shared.is_empty() {
        return all.iter().map(|at| (0..axes.len()).map(|index| name(at, index)).collect()).collect();
    }
    vec![shared]
}

/// Keys must differ; steps that differ only in their answers get a number. What the network calls a step follows its key.
pub(super) fn distinguish(procedure: &Procedure, steps: &mut [DerivedStep]) {
    let mut seen: BTreeMap<(DerivedWork, Vec<Vec<String>>), usize> = BTreeMap::new();
    for step in steps {
        let count = seen.entry((step.key.work, step.key.at.clone())).or_insert(0);
        *count += 1;
        step.key.number = *count;
        step.step.naming.id = step.key.id(procedure);
    }
}
