//! Tightening patterns: hole coordinates to the order in which the fasteners are tightened or released.
//!
//! A ring is taken crosswise, a row from the middle outwards, everything else from the middle outwards with
//! the sides alternating. Release is the same order reversed. It knows points and diameters; which hole
//! carries which name, and how the figure is turned, is for later rooms.

mod author;
mod layout;
mod passes;

pub(crate) use author::compare;
#[cfg(test)]
pub(crate) use author::{OrderFault, faults};
pub(crate) use layout::{Layout, ring_positions, ring_rule};
pub(crate) use passes::propose_passes;

use std::cmp::Ordering;

use super::citation::{Citation, Seen};
use crate::quantity::Length;

/// The cross pattern on a ring.
pub(crate) const RING_SOURCE: Citation = Citation::new(
    "legacy cross pattern as in ASME PCC-1; rings of 4, 8, 12 to 32 in fours by the table, others in its manner",
    Seen::FromMemory,
);
/// The row from the middle outwards.
pub(crate) const ROW_SOURCE: Citation =
    Citation::new("US Army TM 5-3805-298-23-2 WP 0176, straight torque pattern", Seen::Read);
/// Grids and irregular layouts.
pub(crate) const SPIRAL_SOURCE: Citation = Citation::new("", Seen::CommonPractice);

/// A hole centre: x to the right and y up as one looks at the face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Point {
    /// To the right.
    pub x: Length,
    /// Up.
    pub y: Length,
}

impl Point {
    /// From millimetres.
    pub(crate) const fn from_mm(x: f64, y: f64) -> Self {
        Point { x: Length::from_mm(x), y: Length::from_mm(y) }
    }

    pub(in crate::mechanics) fn to(self, other: Point) -> (f64, f64) {
        ((other.x - self.x).mm(), (other.y - self.y).mm())
    }

    pub(in crate::mechanics) fn distance_mm(self, other: Point) -> f64 {
        let (x, y) = self.to(other);
        x.hypot(y)
    }

    /// The middle of many points: the mean of each coordinate.
    pub(crate) fn middle(points: &[Point]) -> Point {
        let count = points.len().max(1) as f64;
        let sum = |part: fn(&Point) -> Length| points.iter().fold(Length::ZERO, |sum, p| sum + part(p));
        Point { x: sum(|p| p.x) / count, y: sum(|p| p.y) / count }
    }
}

/// An order of work over holes, and what it rests on.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Pattern {
    /// Indices of holes in the order of work: a permutation.
    pub order: Vec<usize>,
    /// How the holes lie.
    pub layout: Layout,
    /// Where the order comes from.
    pub source: Citation,
}

impl Pattern {
    /// For each hole, its number in the order of work, from 1.
    pub(crate) fn numbers(&self) -> Vec<usize> {
        let mut numbers = vec![0; self.order.len()];
        for (place, &hole) in self.order.iter().enumerate() {
            numbers[hole] = place + 1;
        }
        numbers
    }
}

/// The order in which to tighten fasteners of one size.
pub(crate) fn tightening(holes: &[Point]) -> Pattern {
    let layout = Layout::of(holes);
    let (order, source) = match &layout {
        Layout::Row => (layout::row_order(holes), ROW_SOURCE),
        Layout::Ring => (layout::ring_order(holes), RING_SOURCE),
        Layout::TwoRows | Layout::Grid | Layout::Irregular => (layout::spiral_order(holes), SPIRAL_SOURCE),
    };
    Pattern { order, layout, source }
}

/// Which of two nominal diameters is tightened first: the larger; released first is the smaller. Anything under a
/// micrometre is the same size.
pub(crate) fn larger_first(a: Length, b: Length) -> Ordering {
    let micrometres = |size: Length| (size.mm() * 1e3).round();
    micrometres(b).total_cmp(&micrometres(a))
}

/// The order in which to tighten fasteners of several sizes: all of a larger nominal diameter before the first
/// of a smaller, each size by its own pattern. Holes of one diameter form one pattern, whichever set they
/// belong to. Returns indices into `holes`, in order of work. Reversed it is the order of release.
pub(crate) fn tightening_by_size(holes: &[(Point, Length)]) -> Vec<usize> {
    let mut sizes: Vec<Length> = Vec::new();
    for (_, size) in holes {
        if !sizes.contains(size) {
            sizes.push(*size);
        }
    }
    sizes.sort_by(|a, b| larger_first(*a, *b));
    let mut order = Vec::with_capacity(holes.len());
    for size in sizes {
        let members: Vec<usize> = (0..holes.len()).filter(|&hole| holes[hole].1 == size).collect();
        let points: Vec<Point> = members.iter().map(|&hole| holes[hole].0).collect();
        order.extend(tightening(&points).order.into_iter().map(|place| members[place]));
    }
    order
}
