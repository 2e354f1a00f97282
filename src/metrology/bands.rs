//! Bands: named ranges that a value falls into, and what is wrong with a list of them.

use super::Measured;
use super::nearness::{below, same};

/// A range; none at an end is open. It holds its upper end, and its lower end only if no other band ends there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Fit {
    /// Lower end.
    pub low: Option<f64>,
    /// Upper end.
    pub high: Option<f64>,
}

/// Where a value stands among bands, by their index.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Standing {
    /// Without doubt in this band.
    In(usize),
    /// It may be in any of these: the instrument can't tell, or the bands overlap. Only one: it may be in none.
    Between(Vec<usize>),
    /// In none: below all, above all, or in a gap.
    Outside,
}

/// Where `value` stands. A value on a limit belongs to the band below it if there is no doubt about it: a limit
/// of so much allows so much. Nought, where the lowest band begins, is no limit that doubt could reach over: what is
/// read as nothing is not less.
pub(crate) fn band_of(bands: &[Fit], value: Measured) -> Standing {
    let doubtless = same(value.low, value.high);
    let touches = |band: &Fit| {
        let above_low = band.low.is_none_or(|low| {
            if !doubtless {
                return below(low, value.high);
            }
            let ends_there = bands.iter().any(|other| {
                other.high.is_some_and(|high| same(high, low))
                    && !other.low.is_some_and(|other| same(other, low))
            });
            below(low, value.value) || (same(low, value.value) && !ends_there)
        });
        let below_high = band
            .high
            .is_none_or(|high| if doubtless { !below(high, value.value) } else { below(value.low, high) });
        above_low && below_high
    };
    let touched: Vec<usize> = (0..bands.len()).filter(|index| touches(&bands[*index])).collect();
    match touched.as_slice() {
        [] => Standing::Outside,
        [one] if covers(&bands[*one], value) => Standing::In(*one),
        [one] if covers(&bands[*one], Measured::exact(value.value)) => {
            let from_nought = bands[*one].low == Some(0.0)
                && bands.iter().all(|other| other.low.is_some_and(|low| low >= 0.0))
                && covers(&Fit { low: None, ..bands[*one] }, value);
            if from_nought { Standing::In(*one) } else { Standing::Between(vec![*one]) }
        }
        [_] => Standing::Outside,
        _ => Standing::Between(touched),
    }
}

fn covers(band: &Fit, value: Measured) -> bool {
    band.low.is_none_or(|low| !below(value.low, low)) && band.high.is_none_or(|high| !below(high, value.high))
}

/// What is wrong with a list of bands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Flaw {
    /// No band holds what lies between two.
    Gap {
        /// The band below.
        below: usize,
        /// The band above.
        above: usize,
    },
    /// Two bands hold the same values.
    Overlap {
        /// One.
        first: usize,
        /// The other.
        second: usize,
    },
    /// Its lower end lies above its upper end.
    Reversed(usize),
}

/// Gaps between neighbours, overlaps, and bands that hold nothing; bands may stand in any order.
pub(crate) fn flaws(bands: &[Fit]) -> Vec<Flaw> {
    let mut found: Vec<Flaw> = Vec::new();
    let mut order: Vec<usize> = Vec::new();
    for (index, band) in bands.iter().enumerate() {
        match (band.low, band.high) {
            (Some(low), Some(high)) if below(high, low) => found.push(Flaw::Reversed(index)),
            _ => order.push(index),
        }
    }
    let low = |index: &usize| bands[*index].low.unwrap_or(f64::NEG_INFINITY);
    let high = |index: &usize| bands[*index].high.unwrap_or(f64::INFINITY);
    order.sort_by(|a, b| low(a).total_cmp(&low(b)).then(high(a).total_cmp(&high(b))));
    let mut reached: Option<usize> = None;
    for index in order {
        if let Some(before) = reached {
            if below(high(&before), low(&index)) {
                found.push(Flaw::Gap { below: before, above: index });
            } else if below(low(&index), high(&before)) {
                found.push(Flaw::Overlap { first: before, second: index });
            }
        }
        if reached.is_none_or(|before| high(&index) > high(&before)) {
            reached = Some(index);
        }
    }
    found
}
