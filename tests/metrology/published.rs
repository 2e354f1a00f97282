//! Worked examples from published sources, each with its source, and rules of thumb marked as such.

use benchleaf::metrology::{
    Direction, Fit, Flaw, Grid, Limits, Made, Measured, Side, Sizing, Slip, Spot, Standing, Wear, band_of,
    flaws, next_size, on_old_centre, questioned,
};

fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: found {found}, expected {expected}");
}

fn exact(values: &[f64]) -> Vec<Measured> {
    values.iter().map(|value| Measured::exact(*value)).collect()
}

/// TM 10-3930-664-24 p. 3-41: dial readings 0.000, +0.003, −0.002, +0.003 in give a total indicator reading of
/// 0.005 in, against a limit of 0.008 in.
#[test]
fn total_indicator_reading() {
    let reading = Measured::spread(&exact(&[0.0, 0.003, -0.002, 0.003])).unwrap();
    close(reading.value, 0.005, 1e-12, "total indicator reading");
    let limits = Limits { made: Some(Made::Within(Some(0.0), Some(0.008))), worn: None };
    assert_eq!(limits.wear(reading), Wear::AsMade);
}

/// Aviation Maintenance Technician Handbook, engine overhaul, "Cylinder Grinding and Honing" (read in a
/// reprint): oversizes 0.010, 0.015, 0.020, 0.030 in; a 3.875 in bore at 0.015 oversize is 3.890 in;
/// worn beyond the first oversize, take the next. The worn sizes are invented; the rule gives the rest.
#[test]
fn next_oversize() {
    let steps = [0.010, 0.015, 0.020, 0.030];
    let table = [
        // worst spot, clean-up, expected step and size
        (3.8872, 0.002, Some((1, 3.890))),
        (3.8800, 0.002, Some((0, 3.885))),
        (3.8830, 0.002, Some((0, 3.885))),
        (3.8831, 0.002, Some((1, 3.890))),
        (3.9030, 0.002, Some((3, 3.905))),
        (3.9031, 0.002, None),
    ];
    for (worst, allowance, expected) in table {
        let bores = exact(&[3.876, worst, 3.877]);
        let found = next_size(Direction::Oversize, 3.875, &bores, &steps, allowance).unwrap();
        match (found, expected) {
            (Sizing::To { step, size }, Some((wanted, wanted_size))) => {
                assert_eq!(step, wanted, "worst {worst}");
                close(size, wanted_size, 1e-9, "size");
            }
            (Sizing::None, None) => {}
            other => panic!("worst {worst}: {other:?}"),
        }
    }
}

/// The same rule on a journal, mirrored: invented figures.
#[test]
fn next_undersize() {
    let found = next_size(Direction::Undersize, 50.0, &exact(&[49.93, 49.96]), &[0.5, 0.25], 0.05);
    assert_eq!(found, Some(Sizing::To { step: 1, size: 49.75 }));
    let found = next_size(Direction::Undersize, 50.0, &exact(&[49.79]), &[0.5, 0.25], 0.05);
    assert_eq!(found, Some(Sizing::To { step: 0, size: 49.5 }));
    assert_eq!(
        next_size(Direction::Undersize, 50.0, &exact(&[49.4]), &[0.5, 0.25], 0.05),
        Some(Sizing::None)
    );
    assert_eq!(next_size(Direction::Undersize, 50.0, &[], &[0.5], 0.05), None);
}

/// A reading whose doubt reaches over what a size cleans up must be taken again.
#[test]
fn a_size_that_only_just_cleans_up_is_measured_again() {
    let steps = [0.25, 0.50];
    let read = |value| [Measured::read(value, 0.01)];
    let sizing = |value| next_size(Direction::Oversize, 80.0, &read(value), &steps, 0.05);
    assert_eq!(sizing(80.19), Some(Sizing::To { step: 0, size: 80.25 }));
    assert_eq!(sizing(80.20), Some(Sizing::MeasureAgain { step: 0, surely: Some(1) }));
    assert_eq!(sizing(80.21), Some(Sizing::To { step: 1, size: 80.5 }));
    assert_eq!(sizing(80.45), Some(Sizing::MeasureAgain { step: 1, surely: None }));
    // Read as 80.451 it may be 80.446, which the second size cleans up.
    assert_eq!(sizing(80.451), Some(Sizing::MeasureAgain { step: 1, surely: None }));
    assert_eq!(sizing(80.456), Some(Sizing::None));
    let ground = |value| next_size(Direction::Undersize, 80.0, &read(value), &steps, 0.05);
    assert_eq!(ground(79.549), Some(Sizing::MeasureAgain { step: 1, surely: None }));
    assert_eq!(ground(79.544), Some(Sizing::None));
}

/// Worn by 0.20 on one side and bored on its old centre, 80.00 takes twice that on the diameter. Geometry; invented figures.
#[test]
fn wear_on_one_side_counts_twice_on_the_old_centre() {
    let counted = [on_old_centre(80.0, Measured::exact(80.20))];
    close(counted[0].value, 80.40, 1e-9, "on one side");
    let found = next_size(Direction::Oversize, 80.0, &counted, &[0.25, 0.50], 0.05);
    assert_eq!(found, Some(Sizing::To { step: 1, size: 80.5 }));
    close(on_old_centre(50.0, Measured::exact(49.9)).value, 49.8, 1e-9, "a journal");
}

/// TM 5-4210-233-14&P-2, 6-29 steps 16–19, end float: below 0.016 the standard washer (0.119–0.122); 0.017–0.026
/// one 0.005 thicker; 0.027–0.036 one 0.010 thicker; above 0.036 the shaft is renewed. The printed table has
/// holes at 0.016–0.017 and 0.026–0.027.
#[test]
fn a_published_selection_table_has_holes() {
    let bands = [
        Fit { low: None, high: Some(0.016) },
        Fit { low: Some(0.017), high: Some(0.026) },
        Fit { low: Some(0.027), high: Some(0.036) },
        Fit { low: Some(0.036), high: None },
    ];
    assert_eq!(flaws(&bands), [Flaw::Gap { below: 0, above: 1 }, Flaw::Gap { below: 1, above: 2 }]);
    let chosen = |value| band_of(&bands, Measured::exact(value));
    assert_eq!(chosen(0.012), Standing::In(0));
    assert_eq!(chosen(0.017), Standing::In(1));
    assert_eq!(chosen(0.030), Standing::In(2));
    assert_eq!(chosen(0.036), Standing::In(2));
    assert_eq!(chosen(0.041), Standing::In(3));
    assert_eq!(chosen(0.0165), Standing::Outside);
}

/// Overlaps and reversed ends, in whatever order bands are written; invented figures.
#[test]
fn overlaps_are_found() {
    let bands = [
        Fit { low: Some(0.3), high: None },
        Fit { low: Some(0.0), high: Some(0.1) },
        Fit { low: Some(0.08), high: Some(0.3) },
        Fit { low: Some(0.6), high: Some(0.5) },
    ];
    assert_eq!(flaws(&bands), [Flaw::Reversed(3), Flaw::Overlap { first: 1, second: 2 }]);
    assert_eq!(band_of(&bands, Measured::exact(0.09)), Standing::Between(vec![1, 2]));
    // The same end written in two units is the same end: 0.002 in and 0.0508 mm, both in metres.
    let inch = [Fit { low: None, high: Some(0.002 * 0.0254) }, Fit { low: Some(0.0508e-3), high: None }];
    assert_eq!(flaws(&inch), []);
}

/// TM 5-3805-281-24-2: a journal of 95.2 mm has an oil clearance of 0.030–0.107 mm; taper at most 0.0025 mm in
/// 25.4 mm, out-of-round at most 0.025 mm. TM 9-6115-604-34 Table 1-4: main clearance 0.0036–0.0075 in as made,
/// 0.0095 in as worn; end clearance 0.005–0.015, as worn 0.020.
#[test]
fn limits_as_made_and_as_worn() {
    let main = Limits { made: Some(Made::Within(Some(0.0036), Some(0.0075))), worn: Some(0.0095) };
    assert_eq!(main.side(), Some(Side::Grows));
    let table = [
        (0.0036, Wear::AsMade),
        (0.0050, Wear::AsMade),
        (0.0075, Wear::AsMade),
        (0.0080, Wear::WithinWorn),
        (0.0095, Wear::WithinWorn),
        (0.0096, Wear::Beyond),
        (0.0030, Wear::WrongSide),
    ];
    for (clearance, expected) in table {
        assert_eq!(main.wear(Measured::exact(clearance)), expected, "{clearance}");
    }
    // Read to a ten-thousandth, the limit itself is in doubt; one step inside it is not.
    assert_eq!(main.wear(Measured::read(0.0095, 0.0001)), Wear::MeasureAgain);
    assert_eq!(main.wear(Measured::read(0.0094, 0.0001)), Wear::WithinWorn);
    // As made or merely worn does not matter: it goes back either way.
    assert_eq!(main.wear(Measured::read(0.0075, 0.0001)), Wear::WithinWorn);
    let journal = Limits { made: Some(Made::Within(Some(95.18), Some(95.20))), worn: Some(95.15) };
    assert_eq!(journal.side(), Some(Side::Shrinks));
    assert_eq!(journal.wear(Measured::exact(95.16)), Wear::WithinWorn);
    assert_eq!(journal.wear(Measured::exact(95.14)), Wear::Beyond);
    assert_eq!(Limits::default().wear(Measured::exact(1.0)), Wear::Unknown);
    let no_side = Limits { made: Some(Made::Within(Some(1.0), Some(2.0))), worn: Some(1.5) };
    assert_eq!(no_side.wear(Measured::exact(1.2)), Wear::Unknown);
}

/// TM 9-2815-255-24: a big-end bore is read three times at 45°, out-of-round at most 0.0015 in. The definitions of
/// taper and out-of-round are those of the Aviation Maintenance Technician Handbook; the readings are invented.
#[test]
fn taper_and_out_of_round() {
    let mut bore = Grid::default();
    let readings = [[80.06, 80.09], [80.04, 80.05], [80.02, 80.02]];
    for (station, row) in readings.iter().enumerate() {
        for (direction, reading) in row.iter().enumerate() {
            bore.insert(Spot { station, direction }, Measured::read(*reading, 0.01));
        }
    }
    let out_of_round = bore.out_of_round().unwrap().spread;
    close(out_of_round.value, 0.03, 1e-9, "out-of-round at the top");
    close(out_of_round.high, 0.04, 1e-9, "each reading may be half a step off");
    let taper = bore.taper().unwrap().spread;
    close(taper.value, 0.07, 1e-9, "taper across");
    let mut single = Grid::default();
    single.insert(Spot { station: 0, direction: 0 }, Measured::exact(80.0));
    assert_eq!((single.taper(), single.out_of_round()), (None, None));
    let big_end = Measured::spread(&exact(&[2.2510, 2.2516, 2.2524])).unwrap();
    let limit = Limits { made: Some(Made::Within(Some(0.0), Some(0.0015))), worn: None };
    close(big_end.value, 0.0014, 1e-9, "three readings at 45°");
    assert_eq!(limit.wear(big_end), Wear::AsMade);
}

/// Rules of thumb (from memory, shop practice, in no handbook that we found): ring gap 0.004 in for each inch of
/// bore. As a band on gap ÷ bore it needs only a quotient.
#[test]
fn ring_gap_rule_of_thumb() {
    let ratio = Measured::read(0.016, 0.001).over(Measured::read(4.0, 0.001)).unwrap();
    close(ratio.value, 0.004, 1e-9, "gap for each inch of bore");
    assert!(ratio.low > 0.0038 && ratio.high < 0.0042);
    assert_eq!(Measured::exact(1.0).over(Measured::read(0.0, 0.01)), None);
}

/// Slipped decimals and inches for millimetres: common practice, no source.
#[test]
fn readings_that_cannot_be() {
    let asked = |value| questioned(value, 79.0, 83.0, false);
    assert_eq!(asked(80.02), None);
    assert_eq!(asked(79.0), None);
    assert_eq!(asked(8.002).map(|(slip, _)| slip), Some(Slip::Decimal(10.0)));
    assert_eq!(asked(800.2).map(|(slip, _)| slip), Some(Slip::Decimal(0.1)));
    let (slip, meant) = asked(3.15).unwrap();
    assert_eq!(slip, Slip::InchesReadAsMillimetres);
    close(meant.unwrap(), 80.01, 1e-9, "3.15 in");
    let in_inches = questioned(80.02 * 25.4, 79.0, 83.0, true).map(|(slip, _)| slip);
    assert_eq!(in_inches, Some(Slip::MillimetresReadAsInches));
    assert_eq!(asked(80.02 * 25.4), Some((Slip::Unexplained, None)));
    assert_eq!(asked(3150.0).map(|(slip, _)| slip), Some(Slip::Thousandths));
    assert_eq!(asked(60.0), Some((Slip::Unexplained, None)));
    assert_eq!(asked(-80.0), Some((Slip::Unexplained, None)));
}
