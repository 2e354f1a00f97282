//! Laws: bounds hold for every true value, bands and limits agree with a plain comparison, sizes are the least.

use benchleaf::metrology::{
    Direction, Fit, Flaw, Limits, Made, Measured, Sizing, Standing, Wear, band_of, flaws, next_size,
};
use proptest::prelude::*;

/// A reading, and a true value within its bounds.
fn reading() -> impl Strategy<Value = (Measured, f64)> {
    (-100.0..100.0f64, 0.0..2.0f64, -1.0..1.0f64)
        .prop_map(|(value, step, off)| (Measured::read(value, step), value + off * step / 2.0))
}

fn holds(bounds: Measured, truth: f64) -> bool {
    let slack = 1e-9 * (1.0 + truth.abs());
    bounds.low <= truth + slack
        && truth <= bounds.high + slack
        && bounds.low <= bounds.value + slack
        && bounds.value <= bounds.high + slack
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn bounds_hold_the_truth(pairs in proptest::collection::vec(reading(), 1..8)) {
        let read: Vec<Measured> = pairs.iter().map(|(read, _)| *read).collect();
        let truth: Vec<f64> = pairs.iter().map(|(_, truth)| *truth).collect();
        let max = truth.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let min = truth.iter().copied().fold(f64::INFINITY, f64::min);
        let sum: f64 = truth.iter().sum();
        prop_assert!(holds(Measured::max(&read).unwrap(), max));
        prop_assert!(holds(Measured::min(&read).unwrap(), min));
        prop_assert!(holds(Measured::sum(&read).unwrap(), sum));
        prop_assert!(holds(Measured::mean(&read).unwrap(), sum / truth.len() as f64));
        prop_assert!(holds(Measured::spread(&read).unwrap(), max - min));
    }

    #[test]
    fn arithmetic_holds_the_truth((a, true_a) in reading(), (b, true_b) in reading()) {
        prop_assert!(holds(a + b, true_a + true_b));
        prop_assert!(holds(a - b, true_a - true_b));
        prop_assert!(holds(a * b, true_a * true_b));
        if let Some(quotient) = a.over(b) {
            prop_assert!(holds(quotient, true_a / true_b));
        }
    }

    /// With bands that cover everything once, a value without doubt is in exactly one, and a value with doubt
    /// names every band that a true value within its bounds may be in.
    #[test]
    fn bands_agree_with_comparison(mut ends in proptest::collection::vec(-50i32..50, 1..5), value in -60i32..60, step in 0u8..6, off in -1.0..1.0f64) {
        ends.sort_unstable();
        ends.dedup();
        let mut bands = vec![Fit { low: None, high: Some(f64::from(ends[0])) }];
        bands.extend(ends.windows(2).map(|pair| Fit { low: Some(f64::from(pair[0])), high: Some(f64::from(pair[1])) }));
        bands.push(Fit { low: ends.last().map(|end| f64::from(*end)), high: None });
        prop_assert_eq!(flaws(&bands), Vec::<Flaw>::new());
        let plain = |truth: f64| ends.iter().position(|end| truth <= f64::from(*end)).unwrap_or(ends.len());
        prop_assert_eq!(band_of(&bands, Measured::exact(f64::from(value))), Standing::In(plain(f64::from(value))));
        let read = Measured::read(f64::from(value), f64::from(step));
        let truth = f64::from(value) + off * f64::from(step) / 2.0;
        match band_of(&bands, read) {
            Standing::In(band) => prop_assert_eq!(band, plain(truth)),
            Standing::Between(list) => prop_assert!(list.contains(&plain(truth))),
            Standing::Outside => prop_assert!(false, "bands cover everything"),
        }
    }

    /// A gap is found exactly if some value between the ends is in no band; an overlap exactly if some is in two.
    #[test]
    fn flaws_are_what_a_search_finds(list in proptest::collection::vec((-8i32..8, 1i32..8), 1..5)) {
        let bands: Vec<Fit> = list
            .iter()
            .map(|(low, length)| Fit { low: Some(f64::from(*low)), high: Some(f64::from(low + length)) })
            .collect();
        let found = flaws(&bands);
        let inside = |value: f64| bands.iter().filter(|band| band.low.unwrap() < value && value < band.high.unwrap()).count();
        let low = list.iter().map(|(low, _)| *low).min().unwrap();
        let high = list.iter().map(|(low, length)| low + length).max().unwrap();
        let middles: Vec<f64> = (low..high).map(|at| f64::from(at) + 0.5).collect();
        let gap = middles.iter().any(|value| inside(*value) == 0);
        let overlap = middles.iter().any(|value| inside(*value) > 1);
        prop_assert_eq!(found.iter().any(|flaw| matches!(flaw, Flaw::Gap { .. })), gap);
        prop_assert_eq!(found.iter().any(|flaw| matches!(flaw, Flaw::Overlap { .. })), overlap);
    }

    /// Whatever is decided in spite of doubt would be decided for every true value.
    #[test]
    fn wear_in_doubt_is_measured_again(value in -20i32..120, step in 0u8..4, off in -1.0..1.0f64) {
        let limits = Limits { made: Some(Made::Within(Some(0.0), Some(20.0))), worn: Some(80.0) };
        let truth = limits.wear(Measured::exact(f64::from(value) + off * f64::from(step) / 2.0));
        let read = limits.wear(Measured::read(f64::from(value), f64::from(step)));
        let back = |wear: Wear| matches!(wear, Wear::AsMade | Wear::WithinWorn);
        prop_assert!(read == truth || read == Wear::MeasureAgain || (back(read) && back(truth)));
    }

    /// Of what is best at nought, no better reading has a worse verdict: with bands that begin at nought and end somewhere, a
    /// reading of nothing, on a limit or just inside one, by instruments of any doubt.
    #[test]
    fn the_better_reading_has_no_worse_verdict(limit in 1i32..40, doubt in 0u8..8, worse in 0i32..60, better in 0i32..60) {
        let bands = [Fit { low: Some(0.0), high: Some(f64::from(limit)) }, Fit { low: Some(f64::from(limit)), high: Some(80.0) }];
        let limits = Limits { made: Some(Made::FromNought), worn: Some(f64::from(limit)) };
        let read = |value: i32| Measured::read(f64::from(value), 1.0).off_by(f64::from(doubt) / 2.0).as_read_on([0.0, f64::from(limit), 80.0], 1.0);
        let (better, worse) = (better.min(worse), better.max(worse));
        let banded = |value: i32| match band_of(&bands, read(value)) {
            Standing::In(band) => 2 * band,
            Standing::Between(_) => 1,
            Standing::Outside => 3,
        };
        let worn = |value: i32| match limits.wear(read(value)) {
            Wear::AsMade | Wear::WithinWorn => 0,
            Wear::MeasureAgain => 1,
            _ => 2,
        };
        prop_assert!(banded(better) <= banded(worse), "{} {}: {} {}", better, worse, banded(better), banded(worse));
        prop_assert!(worn(better) <= worn(worse), "{} {}: {} {}", better, worse, worn(better), worn(worse));
        // What is read as nothing is good wherever the instrument tells it from the limit.
        let told = f64::from(limit) >= 0.5 + f64::from(doubt) / 2.0;
        prop_assert_eq!((banded(0) == 0, worn(0) == 0), (told, told));
    }

    /// What an instrument may be off widens the bounds and moves nothing, and so do extremes of several.
    #[test]
    fn extremes_hold_every_value(pairs in proptest::collection::vec(reading(), 1..8)) {
        let read: Vec<Measured> = pairs.iter().map(|(read, _)| *read).collect();
        let kept = Measured::extremes(&read);
        prop_assert!(kept.len() <= 4 && kept.iter().all(|one| read.contains(one)));
        let ends = |list: &[Measured]| {
            let low = list.iter().map(|one| one.low).fold(f64::INFINITY, f64::min);
            let high = list.iter().map(|one| one.high).fold(f64::NEG_INFINITY, f64::max);
            (low, high)
        };
        prop_assert_eq!(ends(&kept), ends(&read));
    }

    /// The chosen size cleans up every reading, and no smaller one does.
    #[test]
    fn the_size_is_the_least_that_cleans_up(wear in proptest::collection::vec(0u32..120, 1..6), allowance in 0u32..10) {
        let steps = [0.75, 0.25, 1.0, 0.5];
        let readings: Vec<Measured> = wear.iter().map(|wear| Measured::exact(80.0 + f64::from(*wear) / 100.0)).collect();
        let allowance = f64::from(allowance) / 100.0;
        let worst = f64::from(*wear.iter().max().unwrap()) / 100.0;
        let cleans = |step: f64| step + 1e-7 >= worst + allowance;
        match next_size(Direction::Oversize, 80.0, &readings, &steps, allowance).unwrap() {
            Sizing::To { step, .. } => {
                prop_assert!(cleans(steps[step]));
                prop_assert!(steps.iter().filter(|other| **other < steps[step]).all(|other| !cleans(*other)));
            }
            Sizing::None => prop_assert!(steps.iter().all(|step| !cleans(*step))),
            Sizing::MeasureAgain { .. } => prop_assert!(false, "nothing is in doubt"),
        }
    }
}
