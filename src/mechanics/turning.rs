//! Dials on what turns: run-out to a bend, a gap over a span to a twist, a play at one radius to the play at another; and
//! a pull at a radius to a torque.

use super::band::Band;
use super::citation::{Citation, Seen};
use crate::quantity::{Force, Length, Ratio, Torque};

/// Run-out.
pub(crate) const RUN_OUT_SOURCE: Citation = Citation::new(
    "run-out = greatest − least reading (US Army TM 10-3930-664-24 p. 3-41); bend = half of it",
    Seen::Read,
);
/// Twist of a rod.
pub(crate) const TWIST_SOURCE: Citation =
    Citation::new("gap over the span between the blocks, FAA-H-8083-32 chapter 10", Seen::ReadCopy);
/// Play of gears.
pub(crate) const BACKLASH_SOURCE: Citation =
    Citation::new("play at the pitch circle = dial · pitch radius/dial radius, by geometry", Seen::Derived);
/// A pull.
pub(crate) const PULL_SOURCE: Citation =
    Citation::new("T = F · r, square to the lever, by definition", Seen::Derived);

/// Run-out of readings all round.
pub(crate) fn run_out(readings: &[Length]) -> Option<Length> {
    let low = readings.iter().copied().reduce(Length::min)?;
    let high = readings.iter().copied().reduce(Length::max)?;
    Some(high - low)
}

/// How far the middle of a shaft lies off its line: half of the run-out.
pub(crate) fn bend(run_out: Length) -> Length {
    run_out / 2.0
}

/// Gap for each length of span.
pub(crate) fn over_span(gap: Length, span: Length) -> Ratio {
    Ratio::from_fraction(gap / span)
}

/// Play at the pitch radius, from a dial at another.
pub(crate) fn backlash(dial: Band<Length>, dial_radius: Length, pitch_radius: Length) -> Band<Length> {
    dial.map(|play| play * (pitch_radius / dial_radius))
}

/// Torque of a pull square to a lever.
pub(crate) fn torque_of(pull: Band<Force>, radius: Length) -> Band<Torque> {
    pull.map(|pull| Torque::from_newton_metres(pull.newtons() * radius.metres()))
}
