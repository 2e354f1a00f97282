//! Crank and piston: an angle to how far the piston has come down, and back; and what opening and closing angles of the
//! valves make on a degree wheel.

use super::citation::{Citation, Seen};
use crate::quantity::{Angle, Length};

/// The way of the piston.
pub(crate) const PISTON_SOURCE: Citation =
    Citation::new("x = r (1 − cos θ) + l − √(l² − r² sin² θ), by geometry", Seen::Derived);
/// The wheel.
pub(crate) const WHEEL_SOURCE: Citation = Citation::new(
    "duration = opens before + 180° + closes after; lobe centre = duration/2 − opens before; overlap = inlet opens \
     before + exhaust closes after; by definition",
    Seen::Derived,
);

/// How far a piston has come down from top dead centre at a crank angle; the rod longer than half the stroke.
pub(crate) fn piston_down(stroke: Length, rod: Length, angle: Angle) -> Length {
    let (r, l) = (stroke.mm() / 2.0, rod.mm());
    let (sine, cosine) = angle.radians().sin_cos();
    Length::from_mm(r * (1.0 - cosine) + l - (l * l - r * r * sine * sine).sqrt())
}

/// The crank angle after top dead centre at which a piston has come down so far. None beyond the stroke.
pub(crate) fn angle_at(stroke: Length, rod: Length, down: Length) -> Option<Angle> {
    if down < Length::ZERO || down > stroke {
        return None;
    }
    // It only comes down from 0 to 180°, so halving finds the angle to the last digit.
    let (mut above, mut below) = (0.0, 180.0);
    for _ in 0..60 {
        let middle = (above + below) / 2.0;
        if piston_down(stroke, rod, Angle::from_degrees(middle)) < down {
            above = middle;
        } else {
            below = middle;
        }
    }
    Some(Angle::from_degrees((above + below) / 2.0))
}

/// One valve on a degree wheel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Opening {
    /// Before the dead centre at which its stroke begins; below nothing where it opens after it.
    pub opens_before: Angle,
    /// After the dead centre at which its stroke ends.
    pub closes_after: Angle,
}

impl Opening {
    /// How long it is open.
    pub(crate) fn duration(&self) -> Angle {
        self.opens_before + Angle::from_degrees(180.0) + self.closes_after
    }

    /// Middle of the opening, from the dead centre at which its stroke begins.
    pub(crate) fn middle(&self) -> Angle {
        self.duration() / 2.0 - self.opens_before
    }
}

/// How long both valves are open about top dead centre; below nothing where they aren't.
pub(crate) fn overlap(inlet: &Opening, exhaust: &Opening) -> Angle {
    inlet.opens_before + exhaust.closes_after
}

/// Angle between the middles of the two lobes, of the camshaft: half of what the crank turns between them.
pub(crate) fn between_lobes(inlet: &Opening, exhaust: &Opening) -> Angle {
    // The exhaust stroke begins at the bottom, half a turn before the inlet's at the top.
    (inlet.middle() + Angle::from_degrees(180.0) - exhaust.middle()) / 2.0
}
