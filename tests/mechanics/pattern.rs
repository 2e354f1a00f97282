//! Tightening patterns: published orders, and what must hold for any layout.

use std::collections::BTreeSet;

use benchleaf::mechanics::pattern::{
    Layout, OrderFault, Point, compare, faults, propose_passes, ring_positions, tightening,
    tightening_by_size,
};
use benchleaf::quantity::{Length, Torque};
use proptest::prelude::*;

/// Holes on a circle, clockwise from twelve o'clock.
fn ring(count: usize, radius: f64) -> Vec<Point> {
    (0..count)
        .map(|position| {
            let angle = std::f64::consts::TAU * position as f64 / count as f64;
            Point::from_mm(radius * angle.sin(), radius * angle.cos())
        })
        .collect()
}

fn grid(rows: usize, columns: usize) -> Vec<Point> {
    (0..rows)
        .flat_map(|row| {
            (0..columns).map(move |column| Point::from_mm(90.0 * column as f64, 100.0 * row as f64))
        })
        .collect()
}

fn from_one(order: &[usize]) -> Vec<usize> {
    order.iter().map(|hole| hole + 1).collect()
}

/// Cross pattern as in older editions of ASME PCC-1, from memory; 4 and 8 read on a gasket maker's work sheet,
/// 12 on a web list; the others from memory alone.
#[test]
fn rings_follow_the_cross_pattern() {
    for (count, expected) in [
        (4, vec![1, 3, 2, 4]),
        (8, vec![1, 5, 3, 7, 2, 6, 4, 8]),
        (12, vec![1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12]),
        (16, vec![1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16]),
        (20, vec![1, 11, 6, 16, 3, 13, 8, 18, 5, 15, 10, 20, 2, 12, 7, 17, 4, 14, 9, 19]),
        (24, vec![1, 13, 7, 19, 4, 16, 10, 22, 2, 14, 8, 20, 5, 17, 11, 23, 3, 15, 9, 21, 6, 18, 12, 24]),
        (
            28,
            vec![
                1, 15, 8, 22, 4, 18, 11, 25, 6, 20, 13, 27, 2, 16, 9, 23, 5, 19, 12, 26, 7, 21, 14, 28, 3,
                17, 10, 24,
            ],
        ),
        (
            32,
            vec![
                1, 17, 9, 25, 5, 21, 13, 29, 3, 19, 11, 27, 7, 23, 15, 31, 2, 18, 10, 26, 6, 22, 14, 30, 4,
                20, 12, 28, 8, 24, 16, 32,
            ],
        ),
    ] {
        let pattern = tightening(&ring(count, 60.0));
        assert_eq!(pattern.layout, Layout::Ring);
        assert_eq!(from_one(&pattern.order), expected, "ring of {count}");
    }
}

/// Labels that stand side by side, left and right of the vertical, on the gasket maker's figures (read). Of the two pairs
/// read for 24 the published order has one, 14 and 19; the other, 20 and 5, is the pair of the ring of 20.
#[test]
fn labels_side_by_side_on_larger_rings() {
    for (count, pairs) in [
        (12, vec![(8, 9), (10, 7), (6, 11)]),
        (16, vec![(14, 11), (6, 7)]),
        (20, vec![(20, 5), (18, 7), (6, 19)]),
        (24, vec![(14, 19)]),
    ] {
        let numbers = tightening(&ring(count, 60.0)).numbers();
        for (a, b) in pairs {
            let place = |label: usize| numbers.iter().position(|n| *n == label).expect("a label of the ring");
            assert_eq!((place(a) + place(b)) % count, 0, "{a} and {b} on a ring of {count}");
        }
    }
}

/// US Army TM 5-3805-298-23-2 WP 0176, straight torque pattern: labels from left to right (read).
#[test]
fn a_row_of_nine_starts_in_the_middle() {
    let row: Vec<Point> = (0..9).map(|place| Point::from_mm(40.0 * f64::from(place), 5.0)).collect();
    let pattern = tightening(&row);
    assert_eq!(pattern.layout, Layout::Row);
    assert_eq!(pattern.numbers(), [9, 7, 5, 3, 1, 2, 4, 6, 8]);
    // Declared from the other end the figure stays the same: it is counted from the left.
    let mirrored: Vec<Point> = row.iter().rev().copied().collect();
    let mut numbers = tightening(&mirrored).numbers();
    numbers.reverse();
    assert_eq!(numbers, [9, 7, 5, 3, 1, 2, 4, 6, 8]);
}

/// Common practice, no source: from the middle outwards, crossing at each step.
#[test]
fn a_head_of_two_rows_goes_outwards_and_crosses() {
    let holes = grid(2, 5);
    let pattern = tightening(&holes);
    assert_eq!(pattern.layout, Layout::TwoRows);
    assert_eq!(pattern.numbers(), [9, 3, 1, 6, 8, 7, 5, 2, 4, 10]);
    let comparison = compare(&pattern.order, &holes).expect("our own order has no faults");
    assert!(comparison.same);
    assert_eq!(comparison.inward_steps, 0);
}

#[test]
fn layouts_are_recognised() {
    assert_eq!(Layout::of(&grid(3, 4)), Layout::Grid);
    assert_eq!(Layout::of(&grid(2, 2)), Layout::Ring);
    assert_eq!(Layout::of(&grid(1, 7)), Layout::Row);
    assert_eq!(Layout::of(&ring(5, 40.0)), Layout::Ring);
    assert_eq!(Layout::of(&[]), Layout::Row);
    let mut sump = grid(2, 5);
    sump.push(Point::from_mm(-40.0, 50.0));
    assert_eq!(Layout::of(&sump), Layout::Irregular);
    // A ring of six with one left out has too wide a gap to be taken crosswise by number.
    assert_eq!(Layout::of(&ring(6, 40.0)[..4]), Layout::Irregular);
}

#[test]
fn larger_sizes_first_and_release_reversed() {
    let (large, small) = (Length::from_mm(12.0), Length::from_mm(8.0));
    let mut holes: Vec<(Point, Length)> = vec![(Point::from_mm(0.0, -30.0), small)];
    holes.extend(grid(2, 4).into_iter().map(|point| (point, large)));
    holes.push((Point::from_mm(200.0, -30.0), small));
    let order = tightening_by_size(&holes);
    let sizes: Vec<f64> = order.iter().map(|hole| holes[*hole].1.mm().round()).collect();
    assert_eq!(sizes[..8], [12.0; 8]);
    assert_eq!(sizes[8..], [8.0; 2]);
    assert!(faults(&order, holes.len()).is_empty());
}

#[test]
fn an_authors_order_is_checked() {
    assert_eq!(faults(&[2, 0, 1], 3), []);
    assert_eq!(
        faults(&[0, 5, 0], 3),
        [
            OrderFault::NoSuchHole { place: 1 },
            OrderFault::Repeated { hole: 0, first: 0, again: 2 },
            OrderFault::Missing { hole: 1 },
            OrderFault::Missing { hole: 2 },
        ]
    );
    let holes = grid(2, 5);
    let around = compare(&[0, 1, 2, 3, 4, 9, 8, 7, 6, 5], &holes).expect("takes each hole once");
    assert!(!around.same && around.inward_steps > 0);
    assert_eq!(compare(&[0, 0], &holes), None);
}

#[test]
fn proposed_passes_never_go_round_after_an_angle() {
    let torque = Torque::from_newton_metres(82.0);
    let plain = propose_passes(torque, 8, false);
    assert_eq!(
        plain.shares.iter().map(|share| share.percent().round()).collect::<Vec<_>>(),
        [30.0, 60.0, 100.0]
    );
    assert!(plain.last_circular);
    assert!(!propose_passes(torque, 8, true).last_circular);
    assert_eq!(propose_passes(Torque::from_newton_metres(9.0), 8, false).shares.len(), 1);
}

fn points() -> impl Strategy<Value = Vec<Point>> {
    proptest::collection::vec((-500..500i32, -300..300i32), 0..24)
        .prop_map(|list| list.into_iter().map(|(x, y)| Point::from_mm(f64::from(x), f64::from(y))).collect())
}

fn is_permutation(order: &[usize], count: usize) -> bool {
    order.len() == count && order.iter().copied().collect::<BTreeSet<_>>() == (0..count).collect()
}

/// How far the first fasteners of an order lie to one side (`around` 1), or along one line (`around` 2): from 0, evenly
/// all round, to 1. Roots of unity add up to nothing, by definition.
fn one_sided(order: &[usize], around: f64) -> f64 {
    let count = order.iter().max().map_or(1, |most| most + 1) as f64;
    let half = &order[..order.len().div_ceil(2)];
    let turn = |place: &usize| around * std::f64::consts::TAU * *place as f64 / count;
    let x: f64 = half.iter().map(|place| turn(place).cos()).sum();
    let y: f64 = half.iter().map(|place| turn(place).sin()).sum();
    x.hypot(y) / half.len() as f64
}

#[test]
fn half_of_a_ring_is_drawn_down_evenly() {
    for count in 7..61 {
        let order = ring_positions(count);
        for around in [1.0, 2.0] {
            let found = one_sided(&order, around);
            assert!(found < 0.35, "ring of {count}: {found:.2} around {around}");
        }
    }
}

proptest! {
    #[test]
    fn any_pattern_is_a_permutation(holes in points()) {
        let pattern = tightening(&holes);
        prop_assert!(is_permutation(&pattern.order, holes.len()));
        prop_assert!(faults(&pattern.order, holes.len()).is_empty());
    }

    #[test]
    fn rings_of_any_count_cross(count in 1..60usize) {
        let positions = ring_positions(count);
        prop_assert!(is_permutation(&positions, count));
        if count % 2 == 0 {
            for pair in positions.chunks(2) {
                prop_assert_eq!((pair[0] + count / 2) % count, pair[1]);
            }
        }
        if count % 4 == 0 {
            let first: BTreeSet<usize> = positions[..4].iter().copied().collect();
            prop_assert_eq!(first, (0..4).map(|k| k * count / 4).collect());
        }
    }

    #[test]
    fn the_pattern_does_not_depend_on_where_the_face_lies(
        holes in points(), dx in -1000..1000i32, dy in -1000..1000i32,
    ) {
        let moved: Vec<Point> = holes
            .iter()
            .map(|hole| Point::from_mm((hole.x.mm() + f64::from(dx)).round(), (hole.y.mm() + f64::from(dy)).round()))
            .collect();
        prop_assert_eq!(Layout::of(&holes), Layout::of(&moved));
    }

    #[test]
    fn grids_go_outwards_and_cross(rows in 2..5usize, columns in 3..8usize) {
        let holes = grid(rows, columns);
        let pattern = tightening(&holes);
        let comparison = compare(&pattern.order, &holes).expect("our own order has no faults");
        prop_assert_eq!(comparison.inward_steps, 0);
        // Every other step at least goes to the opposite side of the middle.
        prop_assert!(2 * comparison.crossing_steps + 2 >= comparison.steps, "{:?}", comparison);
    }

    #[test]
    fn sizes_form_one_chain(holes in points(), sizes in proptest::collection::vec(0..3usize, 24)) {
        let sized: Vec<(Point, Length)> = holes
            .iter()
            .zip(&sizes)
            .map(|(point, size)| (*point, Length::from_mm([8.0, 10.0, 12.0][*size])))
            .collect();
        let order = tightening_by_size(&sized);
        prop_assert!(is_permutation(&order, holes.len()));
        prop_assert!(order.windows(2).all(|pair| sized[pair[0]].1 >= sized[pair[1]].1));
    }
}
