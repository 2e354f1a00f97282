//! When two sizes are one, whatever the arithmetic left of them.

/// Share of a limit that counts as rounding of the arithmetic, not as a difference: two ends that were written
/// the same in different units may differ by this much. Our own choice, far below what any instrument shows; no source.
const ROUNDING: f64 = 1e-9;

/// Whether two ends are one.
pub(crate) fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= ROUNDING * a.abs().max(b.abs())
}

/// Whether one end lies below another, and is not the same.
pub(super) fn below(a: f64, b: f64) -> bool {
    a < b && !same(a, b)
}
