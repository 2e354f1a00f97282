//! A value with the least and the most that the truth may be.
//!
//! A reading may be off by half the smallest step of the instrument, or of the way it was written down if that
//! is coarser, and by the error that is stated of the instrument. Bounds are carried through by interval arithmetic: they hold for every true value within the
//! readings' bounds, and claim nothing about what is likely. Reference for interval arithmetic: R. E. Moore,
//! Interval Analysis, 1966 (from memory).

use std::ops::{Add, Div, Mul, Sub};

use super::nearness::same;

/// A value with its bounds, in base units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// The least that it may be.
    pub low: f64,
    /// As read or computed.
    pub value: f64,
    /// The most that it may be.
    pub high: f64,
}

impl Measured {
    /// A value without doubt, such as a stated nominal size.
    pub fn exact(value: f64) -> Self {
        Measured { low: value, value, high: value }
    }

    /// A reading taken with an instrument whose smallest step is `step`.
    pub fn read(value: f64, step: f64) -> Self {
        let off = step.abs() / 2.0;
        Measured { low: value - off, value, high: value + off }
    }

    /// The same, read with an instrument that may itself be off by `error` to either side.
    pub fn off_by(self, error: f64) -> Self {
        Measured { low: self.low - error.abs(), value: self.value, high: self.high + error.abs() }
    }

    /// Itself, or without doubt where it lies on one of `limits` and no reading one `step` away would be in doubt of
    /// it: what is read as the limit is what the limit allows. With more doubt than a step a value just inside is in
    /// doubt, and so is one on the limit.
    pub fn as_read_on(self, limits: impl IntoIterator<Item = f64>, step: f64) -> Self {
        let known = self.doubt() <= step * (1.0 + 1e-6);
        if known && limits.into_iter().any(|limit| same(limit, self.value)) {
            Measured::exact(self.value)
        } else {
            self
        }
    }

    /// Those of several values that reach furthest to either side, as read and in doubt: what is between them is
    /// between their bounds.
    pub fn extremes(values: &[Measured]) -> Vec<Measured> {
        let by = |key: fn(&Measured) -> f64| move |a: &&Measured, b: &&Measured| key(a).total_cmp(&key(b));
        let ends = [
            values.iter().min_by(by(|one| one.value)),
            values.iter().max_by(by(|one| one.value)),
            values.iter().min_by(by(|one| one.low)),
            values.iter().max_by(by(|one| one.high)),
        ];
        let mut kept: Vec<Measured> = Vec::new();
        for end in ends.into_iter().flatten() {
            if !kept.contains(end) {
                kept.push(*end);
            }
        }
        kept
    }

    /// The most by which the value may be off, to either side.
    pub fn doubt(self) -> f64 {
        (self.high - self.value).max(self.value - self.low)
    }

    fn all(values: &[Measured], of: impl Fn(&[f64]) -> f64) -> Option<Measured> {
        if values.is_empty() {
            return None;
        }
        let column = |pick: fn(&Measured) -> f64| values.iter().map(pick).collect::<Vec<f64>>();
        Some(Measured {
            low: of(&column(|measured| measured.low)),
            value: of(&column(|measured| measured.value)),
            high: of(&column(|measured| measured.high)),
        })
    }

    /// The largest; none of none.
    pub fn max(values: &[Measured]) -> Option<Measured> {
        Measured::all(values, |column| column.iter().copied().fold(f64::NEG_INFINITY, f64::max))
    }

    /// The smallest; none of none.
    pub fn min(values: &[Measured]) -> Option<Measured> {
        Measured::all(values, |column| column.iter().copied().fold(f64::INFINITY, f64::min))
    }

    /// All of them together; none of none.
    pub fn sum(values: &[Measured]) -> Option<Measured> {
        Measured::all(values, |column| column.iter().sum())
    }

    /// The arithmetic mean; none of none.
    pub fn mean(values: &[Measured]) -> Option<Measured> {
        // A record can't hold so many readings that their number loses digits as a float.
        #[expect(clippy::cast_precision_loss, reason = "a few hundred readings at most")]
        let mean = |column: &[f64]| column.iter().sum::<f64>() / column.len() as f64;
        Measured::all(values, mean)
    }

    /// Largest less smallest, such as the total indicator reading of a shaft turned under a dial; none of none.
    ///
    /// It is never less than nothing: readings that may all be equal give a lower bound of nought.
    pub fn spread(values: &[Measured]) -> Option<Measured> {
        let (max, min) = (Measured::max(values)?, Measured::min(values)?);
        Some(Measured {
            low: (max.low - min.high).max(0.0),
            value: max.value - min.value,
            high: max.high - min.low,
        })
    }

    /// The quotient; none where the divisor may be nought.
    pub fn over(self, divisor: Measured) -> Option<Measured> {
        if divisor.low <= 0.0 && divisor.high >= 0.0 {
            return None;
        }
        Some(self * Measured { low: 1.0 / divisor.high, value: 1.0 / divisor.value, high: 1.0 / divisor.low })
    }
}

impl Add for Measured {
    type Output = Measured;

    fn add(self, other: Measured) -> Measured {
        Measured { low: self.low + other.low, value: self.value + other.value, high: self.high + other.high }
    }
}

impl Sub for Measured {
    type Output = Measured;

    fn sub(self, other: Measured) -> Measured {
        Measured { low: self.low - other.high, value: self.value - other.value, high: self.high - other.low }
    }
}

impl Mul for Measured {
    type Output = Measured;

    fn mul(self, other: Measured) -> Measured {
        let corners =
            [self.low * other.low, self.low * other.high, self.high * other.low, self.high * other.high];
        Measured {
            low: corners.into_iter().fold(f64::INFINITY, f64::min),
            value: self.value * other.value,
            high: corners.into_iter().fold(f64::NEG_INFINITY, f64::max),
        }
    }
}

impl Div<f64> for Measured {
    type Output = Measured;

    fn div(self, divisor: f64) -> Measured {
        self * Measured::exact(1.0 / divisor)
    }
}
