//! The torque wrench: adapters, range, drag.

use benchleaf::mechanics::Band;
use benchleaf::mechanics::wrench::{
    Adapter, DragRule, Suits, Wrench, WrenchError, choose, setting, with_drag,
};
use benchleaf::quantity::{Angle, Length, Torque};
use proptest::prelude::*;

use super::{Known, Row, Source, compare};

fn adapter(inches: f64, degrees: f64) -> Adapter {
    Adapter { length: Length::from_inches(inches), angle: Angle::from_degrees(degrees) }
}

fn set(torque: f64, length: f64, adapter_length: f64, degrees: f64) -> f64 {
    setting(
        Torque::from_pound_force_inches(torque),
        Length::from_inches(length),
        adapter(adapter_length, degrees),
    )
    .expect("there is a lever")
    .pound_force_inches()
}

/// Torque at the fastener and lengths in pound-force inches and inches.
#[test]
fn published_settings() {
    let row = |torque: f64, length: f64, adapter: f64, degrees: f64, expected: f64| Row {
        input: format!("{torque} lbf·in, {length} in, {adapter} in at {degrees}°"),
        expected,
        computed: set(torque, length, adapter, degrees),
    };
    let army = Source { document: "US Army TM 1-1500-204-23-9 fig. 8-16", known: Known::Read };
    compare(&army, 1e-5, [row(300.0, 10.0, 4.0, 0.0, 214.286)]);
    let navy = Source { document: "US Navy NAVEDTRA 14315 figs 3-44 and 3-45", known: Known::Read };
    compare(&navy, 1e-4, [row(100.0, 12.0, 6.0, 0.0, 66.667)]);
    let faa = Source { document: "FAA AC 43.13-1B fig. 7-2", known: Known::FromMemory };
    compare(&faa, 1e-4, [row(135.0, 10.0, 1.5, 0.0, 117.39), row(135.0, 10.0, 1.5, 180.0, 158.82)]);
}

#[test]
fn square_on_needs_no_correction_and_no_lever_is_refused() {
    assert!((set(135.0, 10.0, 4.0, 90.0) - 135.0).abs() < 1e-12);
    let torque = Torque::from_newton_metres(50.0);
    let error =
        |length: f64, inches: f64| setting(torque, Length::from_inches(length), adapter(inches, 180.0));
    assert_eq!(error(10.0, 10.0), Err(WrenchError::NoLever));
    assert_eq!(error(0.0, 0.0), Err(WrenchError::NoLength));
}

fn wrench(low: f64, high: f64) -> Wrench {
    Wrench { scale: Band::between(Torque::from_newton_metres(low), Torque::from_newton_metres(high)) }
}

/// ±4 % from a fifth of full scale, US Army TM 1-1500-204-23-9 table 8-1; best from 25 to 75 %, TM
/// 9-2350-311-20-2 appendix F; both read.
#[test]
fn the_trusted_part_of_a_range() {
    let middle = wrench(10.0, 100.0);
    let suits = |newton_metres: f64| middle.suits(Band::exactly(Torque::from_newton_metres(newton_metres)));
    assert_eq!(suits(19.0), Suits::No);
    assert_eq!(suits(22.0), Suits::Enough);
    assert_eq!(suits(50.0), Suits::Well);
    assert_eq!(suits(95.0), Suits::Enough);
    assert_eq!(suits(101.0), Suits::No);
    assert_eq!(middle.tolerance().percent().round(), 4.0);
    assert_eq!(wrench(1.0, 10.0).tolerance().percent().round(), 6.0);
}

#[test]
fn a_wrench_is_chosen_from_the_list() {
    let list = [wrench(40.0, 340.0), wrench(5.0, 25.0), wrench(20.0, 110.0)];
    let pick = |low: f64, high: f64| {
        choose(&list, Band::between(Torque::from_newton_metres(low), Torque::from_newton_metres(high)))
    };
    assert_eq!(pick(24.0, 24.0), Some(1));
    assert_eq!(pick(60.0, 60.0), Some(2));
    assert_eq!(pick(95.0, 95.0), Some(0));
    assert_eq!(pick(3.0, 3.0), None);
    assert_eq!(pick(400.0, 400.0), None);
    assert_eq!(pick(10.0, 300.0), None);
}

/// The example of US Army TB 43-0218 §7c (read): 50 to 70 lbf·in with 30 of drag are set as 80 to 100; the FAA
/// rule (read) always adds. The two disagree on small drags. A drag between a third of the lower end and a third of the
/// upper one counts at both, since one nut has one drag.
#[test]
fn drag_by_either_rule() {
    let lbf_in = Torque::from_pound_force_inches;
    let set = |drag: f64, rule: DragRule| {
        let found = with_drag(Band::between(lbf_in(50.0), lbf_in(70.0)), lbf_in(drag), rule);
        [found.low, found.high].map(|end| (end.pound_force_inches() * 1e6).round() / 1e6)
    };
    for rule in [DragRule::Always, DragRule::FromAThird] {
        assert_eq!(set(30.0, rule), [80.0, 100.0], "{rule:?}");
        assert_eq!(set(22.0, rule), [72.0, 92.0], "{rule:?}");
    }
    assert_eq!(set(16.0, DragRule::FromAThird), [50.0, 70.0]);
    assert_eq!(set(16.0, DragRule::Always), [66.0, 86.0]);
}

proptest! {
    /// A castle nut's range keeps its width, whatever the drag: AC 43.13-1B para 7-40 (read) starts at the least plus
    /// drag and never goes above the greatest plus drag.
    #[test]
    fn a_range_keeps_its_width(low in 1.0..100.0f64, wide in 0.0..50.0f64, drag in 0.1..60.0f64, third in any::<bool>()) {
        let torque = Torque::from_newton_metres;
        let rule = if third { DragRule::FromAThird } else { DragRule::Always };
        let found = with_drag(Band::between(torque(low), torque(low + wide)), torque(drag), rule);
        prop_assert!((found.high.newton_metres() - found.low.newton_metres() - wide).abs() < 1e-9);
    }

    #[test]
    fn an_adapter_straight_on_lowers_the_setting_and_mirrored_angles_agree(
        torque in 1.0..500.0f64, length in 100.0..800.0f64, reach in 1.0..90.0f64, degrees in 0.0..180.0f64,
    ) {
        let set = |degrees: f64| setting(
            Torque::from_newton_metres(torque),
            Length::from_mm(length),
            Adapter { length: Length::from_mm(reach), angle: Angle::from_degrees(degrees) },
        ).expect("the adapter is shorter than the wrench").newton_metres();
        prop_assert!(set(0.0) < torque && set(180.0) > torque);
        prop_assert!((set(degrees) - set(-degrees)).abs() < 1e-9 * torque);
        prop_assert!(set(0.0) <= set(degrees) + 1e-9 && set(degrees) <= set(180.0) + 1e-9);
    }
}
