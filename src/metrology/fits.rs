//! Fits: what lies between a hole and what goes into it.

use super::Measured;

/// Clearance of a shaft in a hole: the smallest hole less the largest shaft, up to the largest hole less the
/// smallest shaft. The value is of the means, the bounds hold wherever they meet.
pub fn clearance(hole: &[Measured], shaft: &[Measured]) -> Option<Measured> {
    let tight = Measured::min(hole)? - Measured::max(shaft)?;
    let loose = Measured::max(hole)? - Measured::min(shaft)?;
    let mean = Measured::mean(hole)? - Measured::mean(shaft)?;
    Some(Measured { low: tight.low, value: mean.value, high: loose.high })
}

/// Least and most interference of a shaft in a hole from their limits, each as least and largest size; below
/// nought it is a clearance. Definition: ISO 286-1 (limits and fits), as tabled in handbooks.
pub fn interference_limits(hole: (f64, f64), shaft: (f64, f64)) -> (f64, f64) {
    (shaft.0 - hole.1, shaft.1 - hole.0)
}
