//! Values on their way through a formula, each with the readings that made it what it is, so that a verdict can name the
//! place of the culprit. It must not know what a value means for a part.

use crate::metrology::{Measured, Spot};
use crate::procedure::model::{GaugeId, Place};

/// A reading that decides a value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Witness {
    /// What was read, and where.
    pub(super) at: (GaugeId, Place),
    /// Where at the part, where it is read at several spots.
    pub(super) spot: Option<Spot>,
    /// Whether its gauge is read at several places that the formula means.
    pub(super) of_several: bool,
    /// As it was read, in base units.
    pub(super) read: f64,
}

/// A value and what decides it: nothing where all readings count alike, as in a mean.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Traced {
    pub(super) measured: Measured,
    pub(super) by: Vec<Witness>,
}

impl Traced {
    /// A value made of two, decided by what decides either.
    pub(super) fn of_both(measured: Measured, a: &Traced, b: &Traced) -> Self {
        let mut by = a.by.clone();
        by.extend(b.by.iter().filter(|witness| !a.by.contains(witness)));
        Traced { measured, by }
    }

    /// Without what decides them.
    pub(super) fn bare(values: &[Traced]) -> Vec<Measured> {
        values.iter().map(|value| value.measured).collect()
    }

    /// Those of several that reach furthest to either side, as read and in doubt.
    pub(super) fn extremes(values: &[Traced]) -> Vec<Traced> {
        let kept = Measured::extremes(&Traced::bare(values));
        kept.into_iter()
            .filter_map(|end| values.iter().find(|value| value.measured == end).cloned())
            .collect()
    }

    /// What decides the largest of some values.
    pub(super) fn largest(values: &[Traced]) -> Vec<Witness> {
        let first = values.iter().rev().max_by(|a, b| a.measured.value.total_cmp(&b.measured.value));
        first.map_or_else(Vec::new, |value| value.by.clone())
    }

    /// What decides the smallest of some values.
    pub(super) fn smallest(values: &[Traced]) -> Vec<Witness> {
        let first = values.iter().min_by(|a, b| a.measured.value.total_cmp(&b.measured.value));
        first.map_or_else(Vec::new, |value| value.by.clone())
    }

    /// What decides how far some values lie apart: the largest and the smallest.
    pub(super) fn furthest_apart(values: &[Traced]) -> Vec<Witness> {
        let mut by = Traced::largest(values);
        by.extend(
            Traced::smallest(values).into_iter().filter(|witness| !by.contains(witness)).collect::<Vec<_>>(),
        );
        by
    }
}
