//! Where cylinders stand: published strokes and pairs of pistons, and what must hold for any firing order.

use benchleaf::mechanics::firing::{Cycle, DeadCentre, Firing, turns_until_marks_meet};
use benchleaf::quantity::Angle;
use proptest::prelude::*;

use super::{Known, Row, Source, compare};

/// Degrees ahead from one cylinder at a dead centre to another; cylinders by number in `order`.
fn ahead(firing: &Firing, order: &[u32], from: (u32, DeadCentre), to: (u32, DeadCentre)) -> Option<f64> {
    let place = |(cylinder, centre): (u32, DeadCentre)| {
        firing.place(order.iter().position(|own| *own == cylinder).unwrap(), centre)
    };
    place(from).turn_to(place(to), false).map(|angle| (angle.degrees() * 1e6).round() / 1e6)
}

#[test]
fn a_four_fires_as_in_a_table_of_its_strokes() {
    let source = Source {
        document: "strokes of a four-cylinder four-stroke with the firing order 1-3-4-2, half turn by half turn, in a \
                   table of an engineering question page (tutorsglobe.com, firing order)",
        known: Known::Read,
    };
    let order = [1, 3, 4, 2];
    let firing = Firing::even(4, Cycle::FourStroke);
    // The power stroke of each cylinder begins at this angle.
    let rows = [(3, 180.0), (4, 360.0), (2, 540.0)].map(|(cylinder, expected)| Row {
        input: format!("from 1 to {cylinder}"),
        expected,
        computed: ahead(&firing, &order, (1, DeadCentre::Firing), (cylinder, DeadCentre::Firing)).unwrap(),
    });
    compare(&source, 1e-9, rows);
    // Where 1 begins its power stroke, 4 begins to draw in: its overlap.
    assert_eq!(ahead(&firing, &order, (1, DeadCentre::Firing), (4, DeadCentre::Overlap)), Some(0.0));
    // And at the end of that stroke 1 is down and so is 4.
    assert_eq!(ahead(&firing, &order, (1, DeadCentre::Firing), (1, DeadCentre::Bottom)), Some(180.0));
    assert_eq!(ahead(&firing, &order, (1, DeadCentre::Bottom), (4, DeadCentre::Bottom)), Some(0.0));
}

/// From memory: in a straight six fired 1-5-3-6-2-4 the pistons 1 and 6, 2 and 5, 3 and 4 rise together, 120° apart.
#[test]
fn the_pistons_of_a_straight_six_rise_in_pairs() {
    let order = [1, 5, 3, 6, 2, 4];
    let firing = Firing::even(6, Cycle::FourStroke);
    for (a, b) in [(1, 6), (2, 5), (3, 4)] {
        assert_eq!(ahead(&firing, &order, (a, DeadCentre::Top), (b, DeadCentre::Top)), Some(0.0));
    }
    assert_eq!(ahead(&firing, &order, (1, DeadCentre::Firing), (5, DeadCentre::Firing)), Some(120.0));
}

/// By hand: fired 1-3-2 at 240°, the tops stand at 0, 240 and 480°, so the bottoms at 180, 60 and 300° of a turn.
#[test]
fn in_a_three_the_next_bottom_is_not_that_of_the_next_to_fire() {
    let order = [1, 3, 2];
    let firing = Firing::even(3, Cycle::FourStroke);
    let bottom = |cylinder| (cylinder, DeadCentre::Bottom);
    assert_eq!(ahead(&firing, &order, bottom(1), bottom(2)), Some(120.0));
    assert_eq!(ahead(&firing, &order, bottom(1), bottom(3)), Some(240.0));
    assert_eq!(ahead(&firing, &order, (1, DeadCentre::Firing), (3, DeadCentre::Firing)), Some(240.0));
    assert_eq!(ahead(&firing, &order, bottom(1), (1, DeadCentre::Firing)), None, "one of two turns");
    let two_stroke = Firing::even(3, Cycle::TwoStroke);
    assert_eq!(ahead(&two_stroke, &order, bottom(1), bottom(3)), Some(120.0));
}

/// By hand: a twin whose pistons move against each other fires 180° and then 540° apart.
#[test]
fn uneven_firing_goes_by_its_intervals() {
    let degrees = |angles: &[f64]| angles.iter().map(|angle| Angle::from_degrees(*angle)).collect::<Vec<_>>();
    let twin = Firing::spaced(&degrees(&[180.0, 540.0]), Cycle::FourStroke).unwrap();
    assert_eq!(ahead(&twin, &[1, 2], (1, DeadCentre::Top), (2, DeadCentre::Bottom)), Some(0.0));
    assert_eq!(ahead(&twin, &[1, 2], (2, DeadCentre::Firing), (1, DeadCentre::Firing)), Some(540.0));
    assert_eq!(Firing::spaced(&degrees(&[180.0, 180.0]), Cycle::FourStroke), None);
}

#[test]
fn marks_meet_when_every_gear_has_made_whole_turns() {
    // By hand: 24 and 48 teeth meet every other turn; an idler of 35 shares nothing with 24.
    assert_eq!(turns_until_marks_meet(24, &[48]), Some(2));
    assert_eq!(turns_until_marks_meet(24, &[35]), Some(35));
    assert_eq!(turns_until_marks_meet(24, &[35, 48]), Some(70));
    assert_eq!(turns_until_marks_meet(28, &[35, 56]), Some(10));
    assert_eq!(turns_until_marks_meet(4_294_967_291, &[4_294_967_279, 4_294_967_231]), None);
}

fn centres() -> impl Strategy<Value = DeadCentre> {
    prop_oneof![
        Just(DeadCentre::Bottom),
        Just(DeadCentre::Top),
        Just(DeadCentre::Firing),
        Just(DeadCentre::Overlap)
    ]
}

fn engines() -> impl Strategy<Value = Firing> {
    let cycle = prop_oneof![Just(Cycle::TwoStroke), Just(Cycle::FourStroke)];
    (proptest::collection::vec(1..40u32, 1..13), cycle, any::<bool>()).prop_map(|(parts, cycle, even)| {
        let whole = if cycle == Cycle::TwoStroke { 360.0 } else { 720.0 };
        let sum: u32 = parts.iter().sum();
        let intervals: Vec<Angle> =
            parts.iter().map(|part| Angle::from_degrees(whole * f64::from(*part) / f64::from(sum))).collect();
        if even { Firing::even(parts.len(), cycle) } else { Firing::spaced(&intervals, cycle).unwrap() }
    })
}

proptest! {
    #[test]
    fn what_is_turned_to_stands_there_and_the_way_round_is_whole(
        firing in engines(), a in 0..12usize, b in 0..12usize, from in centres(), to in centres(), back in any::<bool>(),
    ) {
        let (a, b) = (a % firing.cylinders(), b % firing.cylinders());
        let (here, there) = (firing.place(a, from), firing.place(b, to));
        if let Some(angle) = here.turn_to(there, back) {
            prop_assert!(angle.degrees() >= 0.0 && angle.degrees() < 720.0);
            prop_assert!(here.turned(angle, back).is_at(there));
            // The other way round is the rest of a turn or of two.
            let other = here.turn_to(there, !back).unwrap();
            let whole = (angle + other).degrees() / 360.0;
            prop_assert!((whole - whole.round()).abs() < 0.01, "{angle:?} and {other:?}");
        } else {
            // Only what one turn can't tell from the next is unknown.
            prop_assert!(matches!(to, DeadCentre::Firing | DeadCentre::Overlap));
            prop_assert!(matches!(from, DeadCentre::Top | DeadCentre::Bottom));
        }
        // A cylinder at the top comes to the bottom after half a turn.
        let half = firing.place(a, DeadCentre::Top).turn_to(firing.place(a, DeadCentre::Bottom), back);
        prop_assert!((half.unwrap().degrees() - 180.0).abs() < 1e-6);
    }

    #[test]
    fn gears_are_back_where_they_stood_no_sooner(first in 1..60u32, others in proptest::collection::vec(1..60u32, 1..4)) {
        let turns = turns_until_marks_meet(first, &others).unwrap();
        let back = |turns: u64| others.iter().all(|teeth| (turns * u64::from(first)).is_multiple_of(u64::from(*teeth)));
        prop_assert!(back(turns));
        prop_assert!(turns > 3_000 || (1..turns).all(|sooner| !back(sooner)));
    }
}
