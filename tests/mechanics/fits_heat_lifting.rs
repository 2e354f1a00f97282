//! Limits and fits, heating for a fit, and the lifting equation.

use benchleaf::mechanics::Band;
use benchleaf::mechanics::displacement::{compression_ratio, swept};
use benchleaf::mechanics::fit::{Fit, FitError, FitKind, ToleranceClass, fit, parse};
use benchleaf::mechanics::heat::{
    Gap, METALS, NITROGEN, change_at, cool_to, difference, heat_to, metal_named, most_contraction, passes,
};
use benchleaf::mechanics::lifting::{
    Grip, Lift, Lifter, Recommended, SetDown, Stretch, System, advise, recommended, recommended_at_end,
};
use benchleaf::quantity::{Angle, Length, Mass, Temperature, Volume};
use proptest::prelude::*;

use super::{Known, Row, Source, compare};

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

fn found(size: f64, text: &str) -> Fit {
    let (hole, shaft) = parse(text).expect("a fit of the table");
    fit(mm(size), hole, shaft).expect("within the tables")
}

/// In whole or half micrometres.
fn um(length: Length) -> f64 {
    (length.mm() * 1e4).round() / 10.0
}

fn clearance(size: f64, text: &str) -> (f64, f64) {
    let clearance = found(size, text).clearance();
    (um(clearance.low), um(clearance.high))
}

/// An independent open table, read; 50 mm and the H7 column also in two web copies of ISO 286.
#[test]
fn holes_and_shafts_of_five_sizes() {
    for (size, hole, p6, s6) in [
        (6.0, 12.0, (12.0, 20.0), (19.0, 27.0)),
        (12.0, 18.0, (18.0, 29.0), (28.0, 39.0)),
        (25.0, 21.0, (22.0, 35.0), (35.0, 48.0)),
        (50.0, 25.0, (26.0, 42.0), (43.0, 59.0)),
        (100.0, 35.0, (37.0, 59.0), (71.0, 93.0)),
    ] {
        for (class, shaft) in [("p6", p6), ("s6", s6)] {
            let fit = found(size, &format!("H7/{class}"));
            assert_eq!((um(fit.hole.low), um(fit.hole.high)), (0.0, hole), "{size} H7");
            assert_eq!((um(fit.shaft.low), um(fit.shaft.high)), shaft, "{size} {class}");
        }
    }
}

/// From the same open table and the two web copies (read): clearances in micrometres, below nought an interference.
#[test]
fn clearances_and_interferences_that_were_read() {
    assert_eq!(clearance(50.0, "H7/g6"), (9.0, 50.0));
    assert_eq!(clearance(25.0, "H7/g6"), (7.0, 41.0));
    assert_eq!(clearance(25.0, "H7/h6"), (0.0, 34.0));
    assert_eq!(clearance(25.0, "H7/k6"), (-15.0, 19.0));
    assert_eq!(clearance(80.0, "H7/u6"), (-121.0, -72.0));
    assert_eq!(found(50.0, "H7/g6").kind(), FitKind::Clearance);
    assert_eq!(found(25.0, "H7/k6").kind(), FitKind::Transition);
    assert_eq!(found(50.0, "H7/p6").kind(), FitKind::Interference);
}

/// Holes other than H, as recalled from ISO 286-2.
#[test]
fn holes_by_rule_from_memory() {
    for (size, class, low, high) in [
        (50.0, "K7", -18.0, 7.0),
        (50.0, "N7", -33.0, -8.0),
        (50.0, "P7", -42.0, -17.0),
        (50.0, "M7", -25.0, 0.0),
        (50.0, "F7", 25.0, 50.0),
        (50.0, "G7", 9.0, 34.0),
        (50.0, "JS7", -12.5, 12.5),
        (25.0, "K8", -23.0, 10.0),
        (25.0, "N9", -52.0, 0.0),
        (2.0, "N9", -29.0, -4.0),
        (300.0, "M6", -41.0, -9.0),
        (30.0, "R7", -41.0, -20.0),
        // Grade 4 and 5: ES = −ei + Δ with Δ = IT4 − IT3 and IT5 − IT4, worked by hand from the tables of ISO 286-1.
        (5.0, "P4", -14.5, -10.5),
        (50.0, "K4", -6.0, 1.0),
        (500.0, "K4", -20.0, 0.0),
        (50.0, "M4", -13.0, -6.0),
        (100.0, "N4", -29.0, -19.0),
        (30.0, "R4", -32.0, -26.0),
        (80.0, "S4", -64.0, -56.0),
        (40.0, "U4", -64.0, -57.0),
        (40.0, "T4", -52.0, -45.0),
        (5.0, "P5", -16.0, -11.0),
        (50.0, "K5", -9.0, 2.0),
        (30.0, "R5", -34.0, -25.0),
        (3.0, "P4", -9.0, -6.0),
    ] {
        let deviations =
            ToleranceClass::parse(class).and_then(|class| class.deviations(mm(size))).expect("tabled");
        assert_eq!((um(deviations.low), um(deviations.high)), (low, high), "{size} {class}");
    }
}

/// The standard's own formula for grades 5 to 11, i = 0.45 ∛D + 0.001 D at the geometric mean of the range, from
/// memory. The standard rounds its results: whole micrometres below 100, fives and tens above.
#[test]
fn tolerances_follow_the_formula_before_rounding() {
    let ends = [3.0, 6.0, 10.0, 18.0, 30.0, 50.0, 80.0, 120.0, 180.0, 250.0, 315.0, 400.0, 500.0];
    for (grade, units) in [(5, 7.0), (6, 10.0), (7, 16.0), (8, 25.0), (9, 40.0), (10, 64.0), (11, 100.0)] {
        for range in ends.windows(2) {
            let mean = f64::sqrt(range[0] * range[1]);
            let formula = units * (0.45 * mean.cbrt() + 0.001 * mean);
            let class = ToleranceClass::parse(&format!("h{grade}")).expect("a grade of the table");
            let tabled = -um(class.deviations(mm(range[1])).expect("within the tables").low);
            let allowed = f64::max(0.7, 0.04 * formula);
            assert!(
                (tabled - formula).abs() <= allowed,
                "IT{grade} up to {}: {tabled}, formula {formula:.2}",
                range[1]
            );
        }
    }
}

#[test]
fn what_is_no_fit_says_why() {
    assert!(matches!(parse("H7"), Err(FitError::NotAFit { .. })));
    assert!(matches!(parse("h7/P6"), Err(FitError::NotAFit { .. })));
    for text in ["H7/q6", "H7/p", "H3/p6", "H99/p6", "Hh7/p6", "7/6"] {
        assert!(matches!(parse(text), Err(FitError::NoSuchClass { .. })), "{text}");
    }
    let (hole, shaft) = parse("H7/p6").expect("a fit");
    assert_eq!(fit(mm(501.0), hole, shaft), Err(FitError::SizeOutOfRange));
    assert_eq!(fit(mm(0.0), hole, shaft), Err(FitError::SizeOutOfRange));
    let (hole, shaft) = parse("H7/t6").expect("a fit");
    assert!(matches!(fit(mm(10.0), hole, shaft), Err(FitError::NotAtThisSize { .. })));
}

/// ΔL of 100 mm from 20 to 90 °C, worked by hand from Callister's table (read in copies).
#[test]
fn expansion_of_a_hundred_millimetres() {
    let source = Source { document: "ΔL = α L ΔT worked by hand", known: Known::Derived };
    let rows = [("aluminium", 0.1652), ("grey iron", 0.0798), ("bronze", 0.1260)];
    let warm = Temperature::from_celsius(90.0);
    compare(
        &source,
        0.001,
        rows.into_iter().map(|(name, expected)| Row {
            input: name.into(),
            expected,
            computed: change_at(mm(100.0), metal_named(name).expect("tabled"), warm)
                .expect("known")
                .high
                .mm(),
        }),
    );
}

/// Contraction from 293 K by the polynomial of NIST's cryogenic data for aluminium 6061-T6 (from memory), and by NBS
/// Monograph 29 for iron at 77 K, 0.190 %, and brass, 0.353 % (from memory). The band over the grades holds each.
#[test]
fn metals_shrink_less_the_colder_they_are() {
    let shrinks = |name: &str, kelvin: f64| {
        let metal = metal_named(name).expect("tabled");
        let found = change_at(mm(1.0), metal, Temperature::from_kelvin(kelvin)).expect("known");
        (-found.high.mm(), -found.low.mm())
    };
    for kelvin in (78..=293).step_by(5).map(f64::from) {
        let nist =
            1e-5 * (412.77 + 0.30389 * kelvin - 8.7696e-3 * kelvin.powi(2) + 9.9821e-6 * kelvin.powi(3));
        let (least, most) = shrinks("aluminium", kelvin);
        assert!(least <= nist + 1e-5 && nist <= most + 1e-5, "{kelvin} K: {least} to {most}, {nist}");
    }
    for (name, expected) in [("steel", 0.00190), ("bronze", 0.00333)] {
        let (least, most) = shrinks(name, 77.4);
        assert!(least * 0.995 <= expected && expected <= most * 1.005, "{name}: {least} to {most}");
    }
    // Evenly by the expansion of 20 °C steel would shrink by 0.24 to 0.27 %: the part would jam half way.
    assert!(shrinks("steel", 77.4).1 < 0.00205);
}

/// The same data backwards: 50 mm of steel with 0.10 mm to overcome can't be got small enough by nitrogen; with 0.05 mm
/// dry ice is not enough, and nitrogen is.
#[test]
fn cooling_says_what_it_cannot_do() {
    let steel = metal_named("steel").expect("tabled");
    let room = Temperature::from_celsius(20.0);
    let gap = |interference: f64| Gap { diameter: mm(50.0), interference: mm(interference), slip: mm(0.0) };
    assert_eq!(cool_to(gap(0.10), steel, room, 0.0), None);
    assert!((0.092..0.095).contains(&most_contraction(mm(50.0), steel, room).mm()));
    let needed = cool_to(gap(0.06), steel, room, 0.0).expect("within reach");
    assert!(needed.low.celsius() < -78.0 && needed.low > NITROGEN && needed.low < needed.high);
    // There and back: at the temperature found, each grade is smaller by what was asked for.
    for at in [needed.low, needed.high] {
        let found = change_at(mm(50.0), steel, at).expect("known");
        assert!(found.low.mm() <= -0.06 + 1e-9 && found.high.mm() >= -0.066, "{found:?}");
    }
    assert_eq!(change_at(mm(50.0), steel, Temperature::from_celsius(3560.0)), None);
}

#[test]
fn heating_for_a_fit() {
    let source = Source {
        document: "ΔT = δ/(α D), by definition, worked by hand: 50 mm, 0.042 mm, 11.5e-6",
        known: Known::Derived,
    };
    let gap = |slip: f64| Gap { diameter: mm(50.0), interference: mm(0.042), slip: mm(slip) };
    let alpha = Band::exactly(11.5);
    let start = Temperature::from_celsius(20.0);
    compare(
        &source,
        0.001,
        [
            Row { input: "no slip".into(), expected: 73.0, computed: difference(gap(0.0), alpha).low },
            Row { input: "slip 0.020".into(), expected: 107.8, computed: difference(gap(0.020), alpha).low },
            Row {
                input: "from 20 °C".into(),
                expected: 127.8,
                computed: heat_to(gap(0.020), alpha, start, 0.0).high.celsius(),
            },
        ],
    );
    // The author's top temperature holds: 99 °C as in TM 9-6115-604-34 (read) is too little here, 150 °C is not.
    let needed = heat_to(gap(0.020), alpha, start, 0.0);
    assert!(passes(needed, Temperature::from_celsius(99.0)));
    assert!(!passes(needed, Temperature::from_celsius(150.0)));
    let iron = metal_named("grey iron").expect("tabled");
    let band = heat_to(gap(0.0), iron.millionths, start, 10.0);
    assert!(band.low < band.high && band.low.celsius() > 100.0);
    // There and back: heated so far, the bore of the slowest grade has grown by what was in the way, and the readiest's
    // by no less.
    for (name, interference) in [("grey iron", 0.042), ("aluminium", 0.06), ("bronze", 0.03)] {
        let metal = metal_named(name).expect("tabled");
        let needed = heat_to(gap(0.010 + interference - 0.042), metal.millionths, start, 0.0);
        let grown = change_at(mm(50.0), metal, needed.high).expect("below its bound");
        assert!((grown.low.mm() - (interference + 0.010)).abs() < 1e-9 && grown.high >= grown.low, "{name}");
    }
    assert!(cool_to(gap(0.0), iron, start, 0.0).expect("within reach").high < start);
    assert!(METALS.iter().all(|metal| !metal.source.document.is_empty()));
}

/// A lift with all multipliers at one, except where a test says otherwise.
fn best() -> Lift {
    Lift {
        system: System::Metric,
        reach: mm(250.0),
        height: mm(750.0),
        travel: mm(250.0),
        twist: Angle::ZERO,
        per_minute: 0.0,
        stretch: Stretch::OneHour,
        grip: Grip::Good,
    }
}

fn inches(value: f64) -> Length {
    Length::from_inches(value)
}

/// The product of the six multipliers, each to two places as the handbook prints them.
fn product_of_two_places(result: &Recommended) -> f64 {
    [result.horizontal, result.vertical, result.distance, result.asymmetry, result.frequency, result.coupling]
        .iter()
        .map(|multiplier| (multiplier.fraction() * 100.0).round() / 100.0)
        .product()
}

/// Multipliers to two places and products to one, as the handbook prints them (94-110 p. 29).
#[test]
fn lifting_examples() {
    let handbook = Source { document: "DHHS (NIOSH) 94-110 example 4, p. 46 fig. 14", known: Known::Read };
    // 51 × 1.0 × .94 × .87 × 1.0 × .88 × .95, printed 34.9, exact product of the rounded multipliers 34.81.
    let lift = Lift {
        system: System::Inch,
        reach: inches(10.0),
        height: inches(22.0),
        travel: inches(38.0),
        per_minute: 3.0,
        grip: Grip::Fair,
        ..best()
    };
    let result = recommended(&lift);
    let row = |input: &str, expected: f64, computed: f64| Row { input: input.into(), expected, computed };
    compare(
        &handbook,
        0.006,
        [
            row("VM", 0.94, result.vertical.fraction()),
            row("DM", 0.87, result.distance.fraction()),
            row("FM", 0.88, result.frequency.fraction()),
            row("CM", 0.95, result.coupling.fraction()),
            row("weight in lb", 34.9, 51.0 * product_of_two_places(&result)),
        ],
    );
    // 23 × 1.00 × .93 × 1.00 × .71 × .13 × 1.00 = 1.97 kg: reach 25 cm, twist 90°, 10 a minute for eight hours with
    // the hands high. The page takes DM and AM from coarse table steps.
    let ccohs = Source { document: "ccohs.ca frequency example", known: Known::Read };
    let lift = Lift {
        height: mm(980.0),
        twist: Angle::from_degrees(90.0),
        per_minute: 10.0,
        stretch: Stretch::EightHours,
        ..best()
    };
    let result = recommended(&lift);
    compare(
        &ccohs,
        0.006,
        [
            row("VM", 0.93, result.vertical.fraction()),
            row("AM", 0.71, result.asymmetry.fraction()),
            row("FM", 0.13, result.frequency.fraction()),
            row("weight in kg", 1.97, 23.0 * product_of_two_places(&result)),
        ],
    );
}

#[test]
fn lifting_multipliers_by_table() {
    // The asymmetry table, quoted in public pages (read): two places.
    for (degrees, expected) in [
        (0.0, 1.00),
        (15.0, 0.95),
        (30.0, 0.90),
        (45.0, 0.86),
        (60.0, 0.81),
        (75.0, 0.76),
        (90.0, 0.71),
        (105.0, 0.66),
        (120.0, 0.62),
        (135.0, 0.57),
    ] {
        let found = recommended(&Lift { twist: Angle::from_degrees(degrees), ..best() }).asymmetry;
        assert_eq!((found.fraction() * 100.0).round() / 100.0, expected, "twist {degrees}°");
    }
    // Formula values at the printed slips of the handbook's tables: H 22 in .4545, H 23 in .4348, D 130 cm .8546.
    let formula = Source { document: "NIOSH 94-110 formulas", known: Known::Derived };
    let inch = |lift: Lift| recommended(&Lift { system: System::Inch, ..lift });
    let horizontal = |reach: f64| inch(Lift { reach: inches(reach), ..best() }).horizontal.fraction();
    compare(
        &formula,
        0.0003,
        [
            Row { input: "H 22 in".into(), expected: 0.4545, computed: horizontal(22.0) },
            Row { input: "H 23 in".into(), expected: 0.4347, computed: horizontal(23.0) },
            // At the limits of the inch form, worked by hand: 10/25, 1 − 0.0075 · 40, 0.82 + 1.8/70.
            Row { input: "H 25 in".into(), expected: 0.40, computed: horizontal(25.0) },
            Row {
                input: "V 70 in".into(),
                expected: 0.70,
                computed: inch(Lift { height: inches(70.0), ..best() }).vertical.fraction(),
            },
            Row {
                input: "D 70 in".into(),
                expected: 0.8457,
                computed: inch(Lift { travel: inches(70.0), ..best() }).distance.fraction(),
            },
            Row {
                input: "D 130 cm".into(),
                expected: 0.8546,
                computed: recommended(&Lift { travel: mm(1300.0), ..best() }).distance.fraction(),
            },
        ],
    );
}

#[test]
fn limits_of_the_equation() {
    let weight = |lift: Lift| recommended(&lift).weight.kilograms();
    assert!((weight(best()) - 23.0).abs() < 1e-9);
    assert!((weight(Lift { reach: mm(100.0), ..best() }) - 23.0).abs() < 1e-9);
    assert_eq!(weight(Lift { reach: mm(640.0), ..best() }), 0.0);
    assert_eq!(weight(Lift { height: mm(1760.0), ..best() }), 0.0);
    assert_eq!(weight(Lift { travel: mm(1760.0), ..best() }), 0.0);
    assert_eq!(weight(Lift { twist: Angle::from_degrees(136.0), ..best() }), 0.0);
    assert_eq!(weight(Lift { per_minute: 20.0, ..best() }), 0.0);
    // Above the last row of table 5 that allows anything it has 0, and nothing between.
    let high = Lift { per_minute: 15.0, ..best() };
    assert!((weight(high) / 23.0 - 0.28).abs() < 1e-9);
    assert_eq!(weight(Lift { per_minute: 15.5, ..high }), 0.0);
    assert_eq!(weight(Lift { per_minute: 12.5, height: mm(500.0), ..best() }), 0.0);
    // Exactly on a row of the table, and halfway between two.
    assert!((weight(Lift { per_minute: 2.0, ..best() }) / 23.0 - 0.91).abs() < 1e-9);
    assert!((weight(Lift { per_minute: 2.5, ..best() }) / 23.0 - 0.895).abs() < 1e-9);
}

/// Where a load is set down with care the end of the lift may govern: from hands at the best height, 25 cm off, to a shelf
/// at 130 cm and 50 cm off. Worked by hand: 23 × 25/50 × (1 − 0.003 · 55) × (0.82 + 4.5/55), FM by the start's height.
#[test]
fn setting_down_may_govern() {
    let lift = Lift { travel: mm(550.0), ..best() };
    let end = SetDown { reach: mm(500.0), height: mm(1300.0), twist: Angle::ZERO };
    let weight = recommended_at_end(&lift, &end).weight;
    assert!((weight.kilograms() - 8.660).abs() < 0.001, "{}", weight.kilograms());
    assert!(weight < recommended(&lift).weight);
}

/// Two people: two thirds of the sum of their limits, common practice, no source.
#[test]
fn who_should_lift() {
    let recommended = recommended(&best());
    let lifter = |kilograms: f64, shop: Option<f64>| {
        advise(Mass::from_kilograms(kilograms), &recommended, shop.map(Mass::from_kilograms)).lifter
    };
    assert_eq!(lifter(22.0, None), Lifter::OnePerson);
    assert_eq!(lifter(30.0, None), Lifter::TwoPeople);
    assert_eq!(lifter(31.0, None), Lifter::Hoist);
    assert_eq!(lifter(22.0, Some(20.0)), Lifter::TwoPeople);
    // A shop's limit above the recommended weight changes nothing.
    assert_eq!(lifter(24.0, Some(50.0)), Lifter::TwoPeople);
}

proptest! {
    #[test]
    fn limits_stand_in_order(size in 0.5..500.0f64, letter in 0..14usize, grade in 5..11u8) {
        let letter = ["c", "d", "e", "f", "g", "h", "js", "k", "m", "n", "p", "r", "s", "u"][letter];
        let shaft = ToleranceClass::parse(&format!("{letter}{grade}")).expect("known");
        let deviations = shaft.deviations(mm(size)).expect("within the tables");
        prop_assert!(deviations.low < deviations.high);
        let coarser = ToleranceClass::parse(&format!("{letter}{}", grade + 1)).expect("known");
        let wider = coarser.deviations(mm(size)).expect("within the tables");
        prop_assert!(wider.high - wider.low > deviations.high - deviations.low);
    }

    #[test]
    fn lifting_gets_no_easier(reach in 250.0..620.0f64, more in 1.0..10.0f64, height in 0.0..1700.0f64) {
        let near = recommended(&Lift { reach: mm(reach), height: mm(height), ..best() });
        let far = recommended(&Lift { reach: mm(reach + more), height: mm(height), ..best() });
        prop_assert!(far.weight < near.weight);
    }
}

/// Aviation Maintenance Technician Handbook, General, ch. 1 (read in a reprint): bore 5.5 in and stroke 5.4 in give
/// 128.29 in³. A practice question of the same body: bore 3.78, depth 8.5 less 4.0 in, four cylinders: 202 in³.
/// Compression ratio by definition: 120 over a chamber of 20 is 7 : 1.
#[test]
fn swept_volume_and_compression_ratio() {
    let cubic_inches = |bore: f64, stroke: f64| {
        swept(Length::from_inches(bore), Length::from_inches(stroke)).cubic_centimetres() / 2.54f64.powi(3)
    };
    assert!((cubic_inches(5.5, 5.4) - 128.29).abs() < 0.006);
    assert!((4.0 * cubic_inches(3.78, 8.5 - 4.0) - 201.997).abs() < 0.001);
    let [piston, chamber] = [120.0, 20.0].map(Volume::from_cubic_centimetres);
    assert!((compression_ratio(piston, chamber).fraction() - 7.0).abs() < 1e-12);
}
