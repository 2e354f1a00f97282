//! Where the cylinders of an engine stand, from its firing order: angles of the crankshaft to dead centres and back.
//!
//! Angles count in the direction in which the engine runs, from the first cylinder of the order at its firing top. A
//! working cycle is 720° of a four-stroke and 360° of a two-stroke, by definition; evenly spaced, n cylinders fire
//! every n-th part of it.

use crate::quantity::Angle;

/// How far apart two angles may be and still be one place of the crankshaft. Common practice, no source.
const SAME: f64 = 0.5;

/// How often a cylinder works.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cycle {
    /// Every turn.
    TwoStroke,
    /// Every second turn.
    FourStroke,
}

impl Cycle {
    /// Degrees from firing to firing of one cylinder.
    fn degrees(self) -> f64 {
        match self {
            Cycle::TwoStroke => 360.0,
            Cycle::FourStroke => 720.0,
        }
    }
}

/// Which end of its stroke a piston is at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DeadCentre {
    /// At the bottom, whichever stroke.
    Bottom,
    /// At the top, whichever stroke.
    Top,
    /// At the top where it fires: both valves shut.
    Firing,
    /// At the top between exhaust and inlet: both valves open a little.
    Overlap,
}

/// A place of the crankshaft: an angle that comes round again after so many degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct CrankPlace {
    degrees: f64,
    again: f64,
}

/// When each cylinder fires, by its place in the firing order.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Firing {
    cycle: Cycle,
    /// Degrees from the first firing.
    at: Vec<f64>,
}

impl Firing {
    /// Evenly spaced.
    pub(crate) fn even(cylinders: usize, cycle: Cycle) -> Firing {
        let step = cycle.degrees() / cylinders as f64;
        Firing { cycle, at: (0..cylinders).map(|place| place as f64 * step).collect() }
    }

    /// With an interval behind each cylinder of the order; none if they don't fill the cycle.
    pub(crate) fn spaced(intervals: &[Angle], cycle: Cycle) -> Option<Firing> {
        let mut sum = 0.0;
        let mut at = Vec::new();
        for interval in intervals {
            at.push(sum);
            sum += interval.degrees();
        }
        ((sum - cycle.degrees()).abs() < SAME).then_some(Firing { cycle, at })
    }

    /// Degrees from the firing of the first of the order to that of the one at this place in it.
    pub(crate) fn behind_the_first(&self, place: usize) -> Option<f64> {
        self.at.get(place).copied()
    }

    /// How many cylinders there are.
    pub(crate) fn cylinders(&self) -> usize {
        self.at.len()
    }

    /// Where the crankshaft stands with the cylinder at this place of the order at a dead centre.
    pub(crate) fn place(&self, cylinder: usize, dead_centre: DeadCentre) -> CrankPlace {
        let fires = self.at[cylinder];
        match (dead_centre, self.cycle) {
            (DeadCentre::Bottom, _) => CrankPlace::new(fires + 180.0, 360.0),
            (DeadCentre::Top, _) | (_, Cycle::TwoStroke) => CrankPlace::new(fires, 360.0),
            (DeadCentre::Firing, Cycle::FourStroke) => CrankPlace::new(fires, 720.0),
            (DeadCentre::Overlap, Cycle::FourStroke) => CrankPlace::new(fires + 360.0, 720.0),
        }
    }
}

impl CrankPlace {
    fn new(degrees: f64, again: f64) -> CrankPlace {
        CrankPlace { degrees: degrees.rem_euclid(again), again }
    }

    /// How far to turn, the way it runs or backwards, from here until the crankshaft first stands at `to`: less than
    /// what brings it there again. None where this place doesn't tell the two turns of a cycle apart and `to` does.
    pub(crate) fn turn_to(self, to: CrankPlace, backwards: bool) -> Option<Angle> {
        if self.again < to.again {
            return None;
        }
        let ahead = if backwards { self.degrees - to.degrees } else { to.degrees - self.degrees };
        let ahead = ahead.rem_euclid(to.again);
        Some(Angle::from_degrees(if to.again - ahead < SAME { 0.0 } else { ahead }))
    }

    /// Where it stands after so much.
    pub(crate) fn turned(self, angle: Angle, backwards: bool) -> CrankPlace {
        let sign = if backwards { -1.0 } else { 1.0 };
        CrankPlace::new(self.degrees + sign * angle.degrees(), self.again)
    }

    /// Told as finely as this or the other place tells it, where the crankshaft stands at the other.
    pub(crate) fn at(self, other: CrankPlace) -> CrankPlace {
        if self.again > other.again { self } else { other }
    }

    /// Whether this is the other place, as far as the other tells.
    pub(crate) fn is_at(self, other: CrankPlace) -> bool {
        self.turn_to(other, false).is_some_and(|angle| angle.degrees() < SAME)
    }
}

/// After how many turns of the crankshaft all gears of a train stand as they stood, and their marks meet again:
/// `first` has so many teeth and turns with the crankshaft. None where that passes what can be counted.
pub(crate) fn turns_until_marks_meet(first: u32, others: &[u32]) -> Option<u64> {
    let common = others.iter().try_fold(u64::from(first), |common, teeth| {
        let teeth = u64::from(*teeth);
        (common / greatest_common_divisor(common, teeth)).checked_mul(teeth)
    })?;
    Some(common / u64::from(first))
}

fn greatest_common_divisor(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { greatest_common_divisor(b, a % b) }
}
