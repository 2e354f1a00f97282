//! Rounding to the side of a limit that it allows.

/// Which side of a limit is allowed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Bound {
    /// It, and what is more.
    Least,
    /// It, and what is less.
    Most,
}

/// A number rounded up or down to so many places; with places below nothing, to tens and hundreds. What is off by no more
/// than the arithmetic leaves is on the step.
pub(super) fn inward(number: f64, places: i32, bound: Bound) -> f64 {
    let scale = 10f64.powi(places);
    let steps = number * scale;
    let nearest = steps.round();
    let whole = if (steps - nearest).abs() <= noise(steps) {
        nearest
    } else {
        match bound {
            Bound::Least => steps.ceil(),
            Bound::Most => steps.floor(),
        }
    };
    whole / scale
}

/// What the arithmetic may leave of a number: a millionth of a millionth of it.
pub(super) fn noise(number: f64) -> f64 {
    1e-12 * number.abs()
}
