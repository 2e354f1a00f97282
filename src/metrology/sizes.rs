//! Next oversize of a bore, next undersize of a journal.
//!
//! Choose the least allowed step that leaves the stated allowance everywhere, even at the worst spot. From the
//! practice of regrinding cylinders: the size is the standard bore plus the oversize; if any spot is worn beyond
//! the first oversize, take the next (Aviation Maintenance Technician Handbook, engine overhaul, "Cylinder
//! Grinding and Honing", read in a reprint).

use super::Measured;

/// Whether metal is taken from a hole or from a shaft.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Direction {
    /// A bore: sizes go up.
    Oversize,
    /// A journal: sizes go down.
    Undersize,
}

/// Which size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Sizing {
    /// The step with this index, to this finished size.
    To {
        /// Index of the step as it was given.
        step: usize,
        /// Nominal size after machining.
        size: f64,
    },
    /// This step cleans up as read, but not if the instrument was off by its doubt, or the other way round: the next that
    /// surely does is given where there is one.
    MeasureAgain {
        /// Index of the step that may do.
        step: usize,
        /// Index of the least step that surely does.
        surely: Option<usize>,
    },
    /// No step cleans up: resleeve, build up or renew.
    None,
}

/// What a reading comes to where it is machined on the centre that it has: wear lies on one side at worst, and as much has
/// to go from the other, so that it counts twice from the `standard` size. Geometry: the circle about the old centre that
/// holds the worn side.
pub(crate) fn on_old_centre(standard: f64, reading: Measured) -> Measured {
    let standard = Measured::exact(standard);
    standard + (reading - standard) * Measured::exact(2.0)
}

/// The least of `steps` (each above nought) that cleans up the worst of `readings`. `standard` is the size to
/// which the step is added (from which it is taken), `allowance` what must come off on the diameter at the
/// worst spot. None if nothing was read.
pub(crate) fn next_size(
    direction: Direction,
    standard: f64,
    readings: &[Measured],
    steps: &[f64],
    allowance: f64,
) -> Option<Sizing> {
    let (best_in_doubt, worst, worst_in_doubt) = match direction {
        Direction::Oversize => Measured::max(readings).map(|worst| (worst.low, worst.value, worst.high))?,
        Direction::Undersize => Measured::min(readings).map(|worst| (worst.high, worst.value, worst.low))?,
    };
    let size = |step: f64| match direction {
        Direction::Oversize => standard + step,
        Direction::Undersize => standard - step,
    };
    // Sums of decimal sizes are off by a few units in the last place of a float.
    let slack = 1e-9 * standard.abs();
    let cleans = |step: f64, spot: f64| match direction {
        Direction::Oversize => size(step) + slack >= spot + allowance,
        Direction::Undersize => size(step) - slack <= spot - allowance,
    };
    let least = |spot: f64| {
        let fitting = steps.iter().enumerate().filter(|(_, step)| cleans(**step, spot));
        fitting.min_by(|a, b| a.1.total_cmp(b.1)).map(|(index, _)| index)
    };
    Some(match (least(worst), least(worst_in_doubt)) {
        (None, surely) => match least(best_in_doubt) {
            Some(step) => Sizing::MeasureAgain { step, surely },
            None => Sizing::None,
        },
        (Some(step), surely) if surely == Some(step) => Sizing::To { step, size: size(steps[step]) },
        (Some(step), surely) => Sizing::MeasureAgain { step, surely },
    })
}
