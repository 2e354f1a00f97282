//! The order in which the fasteners of a joint are worked: the author's own, or the house pattern.

use super::model::{FastenerSet, Hole, Joint, Procedure};
use crate::mechanics::pattern::{Point, tightening_by_size};
use crate::quantity::Length;

/// Which way round the fasteners are worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Undoing or slackening.
    Release,
    /// Tightening.
    Tighten,
}

/// Every hole of a joint with its set, in declared order.
pub fn holes<'a>(procedure: &'a Procedure, joint: &'a Joint) -> Vec<(&'a Hole, &'a FastenerSet, usize)> {
    joint
        .members
        .iter()
        .enumerate()
        .flat_map(|(size, member)| {
            let set = procedure.set(member.set.id);
            member.holes.iter().map(move |hole| (hole, set, size))
        })
        .collect()
}

/// Indices into [`holes`] in the order of work, and where that order comes from if the author states it.
pub fn order_of_work(procedure: &Procedure, joint: &Joint, way: Way) -> (Vec<usize>, Option<String>) {
    let holes = holes(procedure, joint);
    let stated = match way {
        Way::Release => joint.undo_sequence.as_ref().map(|sequence| (sequence, false)),
        Way::Tighten => None,
    };
    // Release is the reverse of tightening, and the author's tightening sequence tells both.
    let stated = stated.or(joint.tighten_sequence.as_ref().map(|sequence| (sequence, way == Way::Release)));
    let Some((sequence, reversed)) = stated else {
        let sized: Vec<(Point, Length)> =
            holes.iter().map(|(hole, set, _)| (point(hole), diameter(set).unwrap_or(Length::ZERO))).collect();
        let mut order = tightening_by_size(&sized);
        if way == Way::Release {
            order.reverse();
        }
        return (order, None);
    };
    let mut order: Vec<usize> = sequence
        .value
        .iter()
        .filter_map(|index| holes.iter().position(|(hole, _, _)| hole.index == *index))
        .collect();
    if reversed {
        order.reverse();
    }
    let rest: Vec<usize> = (0..holes.len()).filter(|index| !order.contains(index)).collect();
    order.extend(rest);
    (order, sequence.origin.clone())
}

/// Where a hole is.
pub(super) fn point(hole: &Hole) -> Point {
    Point::from_mm(hole.x.base() * 1e3, hole.y.base() * 1e3)
}

/// Nominal diameter of a set's thread.
pub(super) fn diameter(set: &FastenerSet) -> Option<Length> {
    set.diameter.and_then(|diameter| Length::try_from(diameter).ok())
}
