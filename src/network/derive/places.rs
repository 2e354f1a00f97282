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

/// Positions behind the id of a derived step: those that all of its places share, where it is not all places.
pub(super) fn suffix(procedure: &Procedure, axes: &[AxisId], chosen: &[Place], total: usize) -> String {
    if chosen.len() == total {
        return String::new();
    }
    let all: Vec<Vec<u16>> = chosen.iter().map(|place| procedure.coordinates(axes, *place)).collect();
    let shared: Vec<&str> = axes
        .iter()
        .enumerate()
        .filter(|(index, _)| all.iter().all(|at| at[*index] == all[0][*index]))
        .map(|(index, axis)| procedure.axis(*axis).positions[usize::from(all[0][index])].as_str())
        .collect();
    if shared.is_empty() {
        let names: Vec<String> = chosen.iter().map(|place| procedure.place_name(axes, *place)).collect();
        return format!("[{}]", names.join("; "));
    }
    format!("[{}]", shared.join(", "))
}

/// Ids must differ; steps that differ only in their answers get a number.
pub(super) fn distinguish(steps: &mut [DerivedStep]) {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for step in steps {
        let count = seen.entry(step.step.naming.id.clone()).or_insert(0);
        *count += 1;
        if *count > 1 {
            step.step.naming.id = format!("{}:{count}", step.step.naming.id);
        }
    }
}
