//! The order in which the fasteners of a joint are worked: the author's own, or the house pattern.

use std::cmp::Ordering;

use super::model::{FastenerSet, FasteningWork, Hole, Joint, Member, Procedure};
use crate::mechanics::pattern::{Point, larger_first, tightening_by_size};
use crate::quantity::Length;

/// Which way round the fasteners are worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    /// Undoing or slackening.
    Release,
    /// Tightening.
    Tighten,
}

impl Way {
    /// The way round of some work.
    pub(crate) fn of(work: FasteningWork) -> Way {
        match work {
            FasteningWork::Slacken | FasteningWork::Undo => Way::Release,
            _ => Way::Tighten,
        }
    }

    /// Which of two sets is worked first for its size: the smaller when undoing, the larger when tightening. A set whose
    /// size isn't known counts as the smallest.
    pub(crate) fn by_size(self, a: &FastenerSet, b: &FastenerSet) -> Ordering {
        let size = |set: &FastenerSet| set.size().unwrap_or(Length::ZERO);
        match self {
            Way::Release => larger_first(size(b), size(a)),
            Way::Tighten => larger_first(size(a), size(b)),
        }
    }
}

/// The members of a joint in the order in which they are worked, those of one size as declared.
pub(crate) fn members_in_order<'a>(procedure: &Procedure, joint: &'a Joint, way: Way) -> Vec<&'a Member> {
    let mut members: Vec<&Member> = joint.members.iter().collect();
    members.sort_by(|a, b| way.by_size(procedure.set(a.set.id), procedure.set(b.set.id)));
    members
}

/// Every hole of a joint with its set, in declared order.
pub(crate) fn holes<'a>(
    procedure: &'a Procedure,
    joint: &'a Joint,
) -> Vec<(&'a Hole, &'a FastenerSet, usize)> {
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
pub(crate) fn order_of_work(procedure: &Procedure, joint: &Joint, way: Way) -> (Vec<usize>, Option<String>) {
    let holes = holes(procedure, joint);
    let stated = match way {
        Way::Release => joint.undo_sequence.as_ref().map(|sequence| (sequence, false)),
        Way::Tighten => None,
    };
    // Release is the reverse of tightening, and the author's tightening sequence tells both.
    let stated = stated.or(joint.tighten_sequence.as_ref().map(|sequence| (sequence, way == Way::Release)));
    let Some((sequence, reversed)) = stated else {
        let sized: Vec<(Point, Length)> =
            holes.iter().map(|(hole, set, _)| (point(hole), set.size().unwrap_or(Length::ZERO))).collect();
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
pub(crate) fn point(hole: &Hole) -> Point {
    Point::from_mm(hole.x.base() * 1e3, hole.y.base() * 1e3)
}
