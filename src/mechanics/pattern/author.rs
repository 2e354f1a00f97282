//! The author's own sequence: whether it takes each hole once, and how it compares with our pattern.

use std::fmt;

use super::{Point, layout};

/// What is wrong with a sequence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum OrderFault {
    /// A hole that there is not.
    NoSuchHole {
        /// Its place in the sequence, from 0.
        place: usize,
    },
    /// A hole taken a second time.
    Repeated {
        /// The hole.
        hole: usize,
        /// Its first place in the sequence, from 0.
        first: usize,
        /// The later place.
        again: usize,
    },
    /// A hole left out.
    Missing {
        /// The hole.
        hole: usize,
    },
}

/// Everything wrong with a sequence over `count` holes; empty if it takes each hole once.
pub(crate) fn faults(order: &[usize], count: usize) -> Vec<OrderFault> {
    let mut first: Vec<Option<usize>> = vec![None; count];
    let mut found = Vec::new();
    for (place, &hole) in order.iter().enumerate() {
        match first.get(hole) {
            None => found.push(OrderFault::NoSuchHole { place }),
            Some(None) => first[hole] = Some(place),
            Some(&Some(earlier)) => {
                found.push(OrderFault::Repeated { hole, first: earlier, again: place });
            }
        }
    }
    let missing = first.iter().enumerate().filter(|(_, place)| place.is_none());
    found.extend(missing.map(|(hole, _)| OrderFault::Missing { hole }));
    found
}

/// How an author's sequence stands to the house pattern. It informs; the author's sequence wins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Comparison {
    /// It is our pattern, hole for hole.
    pub same: bool,
    /// Steps that go back towards the middle by more than a tie.
    pub inward_steps: usize,
    /// Steps that cross to the other side of the middle, of `steps`.
    pub crossing_steps: usize,
    /// Steps altogether: one less than there are holes.
    pub steps: usize,
}

/// Compares a fault-free sequence with the house pattern for tightening. `None` if it has faults.
pub(crate) fn compare(order: &[usize], holes: &[Point]) -> Option<Comparison> {
    if !faults(order, holes.len()).is_empty() {
        return None;
    }
    let middle = Point::middle(holes);
    let tie = layout::tie_width_mm(holes);
    let steps = || order.windows(2).map(|pair| (holes[pair[0]], holes[pair[1]]));
    let crosses = |(from, to): &(Point, Point)| {
        let ((a, b), (c, d)) = (middle.to(*from), middle.to(*to));
        a * c + b * d < 0.0
    };
    Some(Comparison {
        same: super::tightening(holes).order == order,
        inward_steps: steps()
            .filter(|(from, to)| middle.distance_mm(*to) < middle.distance_mm(*from) - tie)
            .count(),
        crossing_steps: steps().filter(crosses).count(),
        steps: order.len().saturating_sub(1),
    })
}

impl fmt::Display for Comparison {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.same {
            return f.write_str("the same as the house pattern");
        }
        write!(
            f,
            "differs from the house pattern: {} of {} steps cross the middle, {} go back towards it",
            self.crossing_steps, self.steps, self.inward_steps
        )
    }
}
