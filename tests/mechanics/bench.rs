//! Sums of the bench: bearings, rings, compression, shims, springs, stretch, crank and wheel, dials, press fits, slings,
//! injectors, holes for threads. Published figures where there are some; else cases worked by hand, by another way than the
//! code goes.

use benchleaf::mechanics::angle::{STEEL_MODULUS, Shank};
use benchleaf::mechanics::coil_spring::{load, rate, rate_between, solid_height};
use benchleaf::mechanics::crank::{Opening, angle_at, between_lobes, overlap, piston_down};
use benchleaf::mechanics::displacement::{Above, compression_ratio, disc, swept};
use benchleaf::mechanics::press::{Cylinder, PressFit};
use benchleaf::mechanics::rigging::{Sling, centre};
use benchleaf::mechanics::{Band, Thread, bearing, injector, ring_gap, shim, stretch, tapping, turning};
use benchleaf::quantity::{Angle, Force, Length, Mass, Pressure, Ratio, Volume};
use proptest::prelude::*;

use super::{Known, Row, Source, compare};

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

fn band(low: f64, high: f64) -> Band<Length> {
    Band::between(mm(low), mm(high))
}

fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-6 * expected.abs().max(1e-3), "{found}, expected {expected}");
}

fn row(input: &str, expected: f64, computed: f64) -> Row {
    Row { input: input.into(), expected, computed }
}

/// Limits of US Army TM 5-3805-281-24-2 (read): 0.030 to 0.107 mm on a journal of 95.2 mm. Bore and shells are invented.
#[test]
fn a_bearing_loses_both_shells() {
    let found = bearing::clearance(band(100.0, 100.01), band(2.38, 2.385), band(95.17, 95.18));
    // By hand: the narrowest bore less the thickest shells and journal, and the other way round.
    near(found.low.mm(), 0.05);
    near(found.high.mm(), 0.08);
    let wanted = band(0.030, 0.107);
    let shell =
        bearing::shell_for(band(100.0, 100.01), band(95.17, 95.18), wanted).expect("they can be told");
    for shell in [shell.low, shell.high] {
        let found = bearing::clearance(band(100.0, 100.01), Band::exactly(shell), band(95.17, 95.18));
        assert!(found.low.mm() > 0.030 - 1e-9 && found.high.mm() < 0.107 + 1e-9, "{found:?}");
    }
    assert_eq!(bearing::shell_for(band(100.0, 100.2), band(95.17, 95.18), wanted), None);
}

/// The marks are invented: nothing is read beyond them.
#[test]
fn a_strip_is_read_between_its_marks() {
    let marks = [(mm(1.5), mm(0.04)), (mm(1.0), mm(0.06)), (mm(2.0), mm(0.03))];
    near(bearing::by_strip(mm(1.25), &marks).expect("between").mm(), 0.05);
    near(bearing::by_strip(mm(2.0), &marks).expect("on a mark").mm(), 0.03);
    assert_eq!(bearing::by_strip(mm(2.1), &marks), None);
    assert_eq!(bearing::by_strip(mm(0.9), &marks), None);
}

/// A bore 0.010 in larger opens a gap by 0.0314 in: the circumference of a circle, by definition.
#[test]
fn a_gap_opens_by_pi() {
    let inches = Length::from_inches;
    let found = ring_gap::in_bore(Band::exactly(inches(0.012)), inches(3.5), inches(3.51));
    near(found.low.inches(), 0.012 + 0.031_415_926_5);
    let off = ring_gap::to_file(band(0.20, 0.22), band(0.30, 0.45)).expect("it can be told");
    assert_eq!([off.low.mm(), off.high.mm()].map(|end| (end * 1e6).round() / 1e6), [0.10, 0.23]);
    assert_eq!(ring_gap::to_file(band(0.50, 0.52), band(0.30, 0.45)), None);
    assert_eq!(ring_gap::to_file(band(0.20, 0.40), band(0.30, 0.35)), None);
}

/// Worked by hand to four digits: bore 80, stroke 88 (442.3 cm³), chamber 40, gasket 82 by 1.2 (6.337), deck 0.2 (1.005),
/// dish 5 cm³: 52.34 cm³ above the piston, 9.451 : 1; for 10 : 1 there may be 49.15 cm³, which takes 0.6354 mm.
#[test]
fn compression_from_its_parts() {
    let cm3 = Volume::from_cubic_centimetres;
    let above = Above {
        bore: mm(80.0),
        chamber: cm3(40.0),
        gasket_bore: mm(82.0),
        gasket: mm(1.2),
        deck: mm(0.2),
        dish: cm3(5.0),
    };
    let sweeps = swept(mm(80.0), mm(88.0));
    let source = Source { document: "worked by hand", known: Known::Derived };
    compare(
        &source,
        0.0005,
        [
            row("above the piston", 52.342, above.volume().cubic_centimetres()),
            row("ratio", 9.451, compression_ratio(sweeps, above.volume()).fraction()),
            row("cut", 0.6354, above.cut_for(sweeps, Ratio::from_fraction(10.0)).mm()),
        ],
    );
    // A dome and a piston that stands out take volume away.
    let proud = Above { deck: mm(-0.2), dish: cm3(-5.0), ..above };
    near(
        proud.volume().cubic_centimetres(),
        above.volume().cubic_centimetres() - 10.0 - 2.0 * disc(mm(80.0), mm(0.2)).cubic_centimetres(),
    );
}

/// Washers of US Army TM 5-4210-233-14&P-2 steps 16 to 19 (read): a pair of 0.122 in is in; from 0.017 to 0.026 in of play
/// it names 0.124 to 0.127 in, from 0.027 to 0.036 in 0.129 to 0.132 in. Both leave 0.007 to 0.016 in.
#[test]
fn washers_of_an_end_float_table() {
    let inches = Length::from_inches;
    let sold = [0.122, 0.127, 0.132].map(inches);
    let wanted = Band::between(inches(0.007), inches(0.016));
    for (play, expected) in
        [(0.0085, 0.122), (0.015, 0.122), (0.018, 0.127), (0.025, 0.127), (0.028, 0.132), (0.035, 0.132)]
    {
        let range =
            shim::thickness(inches(0.244), Band::exactly(inches(play)), wanted).expect("read exactly");
        let best = shim::choose(&sold, 2, range).expect("some are sold");
        assert!(shim::within(best, 2, range), "{play}");
        near(best.inches(), expected);
    }
    let far = shim::thickness(inches(0.244), Band::exactly(inches(0.040)), wanted).expect("read exactly");
    assert!(!shim::within(shim::choose(&sold, 2, far).expect("some are sold"), 2, far));
}

/// Shigley example 10-1 (from memory): wire 0.037 in, mean diameter 0.400 in as it rounds, 12½ coils of which 10½ work, G
/// 11.85 Mpsi: 4.13 lbf/in; the coils touch at 12.5 · 0.037 = 0.4625 in plus what isn't ground off.
#[test]
fn textbook_spring() {
    let inches = Length::from_inches;
    let (wire, mean) = (inches(0.037), inches(0.400));
    let found = rate(wire, mean, 10.5, Pressure::from_psi(11.85e6)).newtons_per_mm();
    let source = Source { document: "Shigley example 10-1", known: Known::FromMemory };
    compare(&source, 0.002, [row("rate in lbf/in", 4.13, found * 25.4 / 4.448_221_615_260_5)]);
    near(solid_height(wire, 12.5).inches(), 0.4625);
    let newtons = Force::from_newtons;
    let stiffness = rate_between((mm(40.0), newtons(250.0)), (mm(31.0), newtons(610.0)));
    near(stiffness.newtons_per_mm(), 40.0);
    near(load((mm(40.0), newtons(250.0)), stiffness, mm(36.0)).newtons(), 410.0);
}

/// Worked by hand: M16 threaded over 1 m, 100 kN, E 205 GPa. The free thread gives 1000/144.12, the engaged one 8/144.12,
/// head and nut 14.4/201.06, in 1/mm; together 3.4469 mm.
#[test]
fn a_long_bolt_stretches_by_hooke() {
    let bolt = Thread::parse("M16").expect("a thread of the table");
    let shank = Shank::threaded(mm(1000.0));
    let long = stretch::stretch(&bolt, shank, STEEL_MODULUS, Force::from_kilonewtons(100.0));
    let source = Source { document: "Hooke, worked by hand", known: Known::Derived };
    compare(&source, 0.0005, [row("stretch in mm", 3.4468, long.mm())]);
    near(stretch::load(&bolt, shank, STEEL_MODULUS, long).kilonewtons(), 100.0);
}

/// Stroke 88, rod 140: 90° after the top the pin stands level, so x = r + l − √(l² − r²) = 184 − 132.906 = 51.094 mm; at the
/// bottom it is the stroke. Worked by hand.
#[test]
fn a_piston_is_past_half_way_at_a_quarter_turn() {
    let down = |degrees: f64| piston_down(mm(88.0), mm(140.0), Angle::from_degrees(degrees)).mm();
    assert!((down(90.0) - 51.094).abs() < 0.001);
    near(down(0.0), 0.0);
    near(down(180.0), 88.0);
    near(down(-37.0), down(37.0));
    assert_eq!(angle_at(mm(88.0), mm(140.0), mm(88.1)), None);
}

/// An invented wheel: inlet 10° before and 50° after, exhaust 54° before and 14° after.
#[test]
fn a_degree_wheel() {
    let degrees = Angle::from_degrees;
    let inlet = Opening { opens_before: degrees(10.0), closes_after: degrees(50.0) };
    let exhaust = Opening { opens_before: degrees(54.0), closes_after: degrees(14.0) };
    near(inlet.duration().degrees(), 240.0);
    near(exhaust.duration().degrees(), 248.0);
    // Half way between 350° and 590°, the top being 360°; and between 126° and 374°.
    near(inlet.middle().degrees(), 470.0 - 360.0);
    near(180.0 - exhaust.middle().degrees(), 360.0 - 250.0);
    near(overlap(&inlet, &exhaust).degrees(), 24.0);
    near(between_lobes(&inlet, &exhaust).degrees(), (470.0 - 250.0) / 2.0);
}

/// US Army TM 10-3930-664-24 p. 3-41 (read): 0.000, +0.003, −0.002, +0.003 in make 0.005 in. The bend is half.
#[test]
fn dials_on_what_turns() {
    let readings = [0.0, 0.003, -0.002, 0.003].map(Length::from_inches);
    let found = turning::run_out(&readings).expect("some readings");
    near(found.inches(), 0.005);
    near(turning::bend(found).inches(), 0.0025);
    near(turning::over_span(mm(0.03), mm(150.0)).fraction(), 0.0002);
    // A dial at twice the pitch radius shows twice the play.
    near(turning::backlash(Band::exactly(mm(0.30)), mm(120.0), mm(60.0)).low.mm(), 0.15);
    // NIST SP 811 (from memory): 12 lbf at a foot are 16.2698 N·m.
    let torque = turning::torque_of(Band::exactly(Force::from_pounds_force(12.0)), Length::from_inches(12.0));
    near(torque.low.newton_metres(), 16.269_815_4);
}

/// A solid steel shaft in a steel hub: p = E δ/(2 d) · (1 − d²/D²), Shigley eq. 3-57 (from memory), which has no ν left in it.
/// By hand for 50 in 100 mm with 0.04 mm: 61.5 MPa; at friction 0.12 over 30 mm 34.78 kN, and 869.4 N·m.
#[test]
fn one_metal_and_a_solid_shaft_have_a_shorter_formula() {
    for (d, outside, grip) in [(50.0, 100.0, 0.04), (20.0, 35.0, 0.012), (80.0, 110.0, 0.1)] {
        let fit = PressFit {
            diameter: mm(d),
            length: mm(30.0),
            hub: Cylinder::of("steel", mm(outside)).expect("known"),
            shaft: Cylinder::of("steel", mm(0.0)).expect("known"),
        };
        let pressure = fit.pressure(mm(grip));
        near(pressure.megapascals(), 205_000.0 * grip / (2.0 * d) * (1.0 - (d / outside).powi(2)));
        if d == 50.0 {
            let mu = Ratio::from_fraction(0.12);
            near(pressure.megapascals(), 61.5);
            assert!((fit.force(pressure, mu).kilonewtons() - 34.778).abs() < 0.001);
            assert!((fit.torque(pressure, mu).newton_metres() - 869.4).abs() < 0.1);
        }
        // Pull along the hub and pressure on it differ by twice the pressure at the outside, by equilibrium: the mean pull
        // times the wall is the pressure times the radius.
        let hoop = fit.hoop_stress(pressure).megapascals();
        let mean = pressure.megapascals() * d / (outside - d);
        assert!(hoop > mean && hoop < 2.0 * mean + pressure.megapascals());
    }
}

/// Load on each of two even legs, as a share of the weight: 0.577 at 60°, 0.707 at 45°, 1.000 at 30° (rigging tables of US
/// Army manuals, from memory).
#[test]
fn flat_legs_bear_more() {
    let source = Source { document: "US Army rigging tables", known: Known::FromMemory };
    let pull = |degrees: f64| {
        let height = mm(500.0 * degrees.to_radians().tan());
        let sling = Sling { mass: Mass::from_kilograms(100.0), first: mm(500.0), second: mm(500.0), height };
        sling.legs().map(|leg| leg.pull.newtons() / 980.665)
    };
    compare(
        &source,
        0.001,
        [(60.0, 0.577), (45.0, 0.707), (30.0, 1.0)]
            .map(|(degrees, expected)| row("leg", expected, pull(degrees)[0])),
    );
    near(pull(40.0)[0], pull(40.0)[1]);
    near(centre(Mass::from_kilograms(60.0), Mass::from_kilograms(40.0), mm(1000.0)).mm(), 400.0);
}

#[test]
fn shims_of_an_injector() {
    let bar = |value: f64| Pressure::from_kilopascals(100.0 * value);
    near(injector::shim_change(bar(112.0), bar(120.0), (mm(0.1), bar(10.0))).mm(), 0.08);
    near(injector::shim_change(bar(125.0), bar(120.0), (mm(0.1), bar(10.0))).mm(), -0.05);
}

/// Drills as ISO 2306 tables them, rounded to a tenth, and outsides of insert taps, from memory.
#[test]
fn drills_and_insert_taps() {
    for (name, drilled) in [
        ("M5", 4.2),
        ("M6", 5.0),
        ("M8", 6.8),
        ("M10", 8.5),
        ("M10x1.25", 8.8),
        ("M12", 10.2),
        ("M12x1.25", 10.8),
        ("M14", 12.0),
        ("M16", 14.0),
        ("M20", 17.5),
    ] {
        let found = tapping::drill(&Thread::parse(name).expect("known")).mm();
        assert!((found - drilled).abs() < 0.051, "{name}: {found}");
    }
    for (name, minor, major) in
        [("M6", 6.217, 7.299), ("M8", 8.271, 9.624), ("M10", 10.325, 11.949), ("M12", 12.379, 14.273)]
    {
        let hole = tapping::insert_hole(&Thread::parse(name).expect("known"));
        assert!((hole.minor.mm() - minor).abs() < 0.001 && (hole.major.mm() - major).abs() < 0.001, "{name}");
    }
    // A drill of d − P leaves 92 % of the depth: 1/1.0825.
    let thread = Thread::parse("M8").expect("known");
    assert_eq!(tapping::depth_left(&thread, tapping::drill(&thread)).percent().round(), 92.0);
}

proptest! {
    /// There and back; and the pin, the piston and the middle of the crank make a triangle whose sides are known.
    #[test]
    fn crank_rod_and_piston_make_a_triangle(stroke in 40.0..160.0f64, longer in 1.05..4.0f64, degrees in 0.5..179.5f64) {
        let (r, l) = (stroke / 2.0, stroke / 2.0 * longer);
        let down = piston_down(mm(stroke), mm(l), Angle::from_degrees(degrees));
        let height = r + l - down.mm();
        // Law of cosines about the middle of the crank.
        let across = r * r + height * height - 2.0 * r * height * degrees.to_radians().cos();
        prop_assert!((across.sqrt() / l - 1.0).abs() < 1e-9);
        let back = angle_at(mm(stroke), mm(l), down).expect("within the stroke");
        prop_assert!((back.degrees() - degrees).abs() < 1e-5);
    }

    /// Two legs hold the weight and don't pull the hook aside.
    #[test]
    fn legs_balance(first in 0.1..2.0f64, second in 0.1..2.0f64, height in 0.1..3.0f64, kilograms in 1.0..2000.0f64) {
        let sling = Sling {
            mass: Mass::from_kilograms(kilograms),
            first: Length::from_metres(first),
            second: Length::from_metres(second),
            height: Length::from_metres(height),
        };
        let parts = sling.legs().map(|leg| leg.angle.radians().sin_cos()).map(|(sine, cosine)| (sine, cosine));
        let pulls = sling.legs().map(|leg| leg.pull.newtons());
        let up: f64 = (0..2).map(|leg| pulls[leg] * parts[leg].0).sum();
        let aside = pulls[0] * parts[0].1 - pulls[1] * parts[1].1;
        prop_assert!((up / (kilograms * 9.80665) - 1.0).abs() < 1e-9);
        prop_assert!(aside.abs() < 1e-9 * up);
    }

    /// Whatever the play really is, a shim of the range brings it within what is wanted.
    #[test]
    fn a_shim_of_the_range_serves(old in 0.0..4.0f64, play in 0.0..1.0f64, doubt in 0.0..0.05f64, least in 0.0..0.3f64, wide in 0.1..0.3f64, share in 0.0..1.0f64, truth in 0.0..1.0f64) {
        let wanted = band(least, least + wide);
        let range = shim::thickness(mm(old), band(play, play + doubt), wanted).expect("narrower than wanted");
        let size = range.low + (range.high - range.low) * share;
        let comes = old + play + doubt * truth - size.mm();
        prop_assert!(comes >= least - 1e-9 && comes <= least + wide + 1e-9);
    }

    #[test]
    fn deck_cut_meets_the_wanted_ratio(wanted in 7.0..13.0f64, chamber in 20.0..70.0f64, dish in -8.0..15.0f64) {
        let above = Above {
            bore: mm(84.0),
            chamber: Volume::from_cubic_centimetres(chamber),
            gasket_bore: mm(85.5),
            gasket: mm(1.1),
            deck: mm(0.3),
            dish: Volume::from_cubic_centimetres(dish),
        };
        let sweeps = swept(mm(84.0), mm(90.0));
        let cut = above.cut_for(sweeps, Ratio::from_fraction(wanted));
        let after = Above { deck: above.deck - cut, ..above };
        prop_assert!((compression_ratio(sweeps, after.volume()).fraction() / wanted - 1.0).abs() < 1e-9);
    }
}
