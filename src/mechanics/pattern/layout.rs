//! How holes lie (row, ring, rows, grid, anything), and the order that goes with each lie.

use super::Point;

/// How the holes of a pattern lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Layout {
    /// On one straight line.
    Row,
    /// Evenly on one circle, or on the corners of a rectangle.
    Ring,
    /// On two parallel lines, opposite each other.
    TwoRows,
    /// On three or more parallel lines, in columns.
    Grid,
    /// None of these.
    Irregular,
}

/// A hole may lie off a line, circle or column by this share of the pattern's size. Our own choice, no source.
const SLACK: f64 = 0.02;
/// Largest gap between neighbours on a ring, as a multiple of the mean gap. Our own choice, no source.
const WIDEST_GAP: f64 = 1.6;

impl Layout {
    /// What the layout is called.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Layout::Row => "row",
            Layout::Ring => "ring",
            Layout::TwoRows => "two rows",
            Layout::Grid => "grid",
            Layout::Irregular => "irregular",
        }
    }

    /// Recognises how holes lie. Up to two holes are a row.
    pub(crate) fn of(holes: &[Point]) -> Layout {
        let middle = Point::middle(holes);
        let size = holes.iter().map(|hole| middle.distance_mm(*hole)).fold(0.0, f64::max);
        let slack = SLACK * size;
        if holes.len() <= 2 || is_row(holes, slack) {
            return Layout::Row;
        }
        if is_ring(holes) {
            return Layout::Ring;
        }
        let rows = levels(holes.iter().map(|hole| hole.y.mm()), slack);
        let columns = levels(holes.iter().map(|hole| hole.x.mm()), slack);
        let full = rows * columns == holes.len();
        match (full, rows.min(columns)) {
            (true, 2) => Layout::TwoRows,
            (true, 3..) => Layout::Grid,
            _ => Layout::Irregular,
        }
    }
}

/// How many distinct values there are, where values closer than `slack` count as one.
fn levels(values: impl Iterator<Item = f64>, slack: f64) -> usize {
    let mut values: Vec<f64> = values.collect();
    values.sort_by(f64::total_cmp);
    let steps = values.windows(2).filter(|pair| pair[1] - pair[0] > slack.max(1e-9)).count();
    if values.is_empty() { 0 } else { steps + 1 }
}

/// The two holes farthest apart; the first such pair in declared order.
fn farthest_pair(holes: &[Point]) -> (usize, usize) {
    let mut best = (0, 0, -1.0);
    for (i, a) in holes.iter().enumerate() {
        for (j, b) in holes.iter().enumerate().skip(i + 1) {
            let distance = a.distance_mm(*b);
            if distance > best.2 + 1e-9 {
                best = (i, j, distance);
            }
        }
    }
    (best.0, best.1)
}

fn is_row(holes: &[Point], slack: f64) -> bool {
    let (a, b) = farthest_pair(holes);
    let (x, y) = holes[a].to(holes[b]);
    let length = x.hypot(y);
    holes.iter().all(|hole| {
        let (u, v) = holes[a].to(*hole);
        (x * v - y * u).abs() <= slack * length
    })
}

/// Whether the holes lie on a circle about their middle with no wide gap. The corners of a rectangle do as
/// well, whatever its sides: they are taken crosswise like a ring of four.
fn is_ring(holes: &[Point]) -> bool {
    let middle = Point::middle(holes);
    let radii: Vec<f64> = holes.iter().map(|hole| middle.distance_mm(*hole)).collect();
    let mean = radii.iter().sum::<f64>() / radii.len() as f64;
    if radii.iter().any(|radius| (radius - mean).abs() > SLACK * mean) {
        return false;
    }
    let mut angles: Vec<f64> = holes.iter().map(|hole| clockwise_angle(middle, *hole)).collect();
    angles.sort_by(f64::total_cmp);
    let turn = std::f64::consts::TAU;
    let gaps = (0..angles.len())
        .map(|i| if i + 1 < angles.len() { angles[i + 1] - angles[i] } else { angles[0] + turn - angles[i] });
    let widest = gaps.fold(0.0, f64::max);
    holes.len() == 4 || widest <= WIDEST_GAP * turn / holes.len() as f64
}

/// Angle from twelve o'clock, clockwise, from 0 up to one turn.
fn clockwise_angle(middle: Point, hole: Point) -> f64 {
    let (x, y) = middle.to(hole);
    x.atan2(y).rem_euclid(std::f64::consts::TAU)
}

/// Where the fours of a ring begin within its first quarter, for 16, 20, 24, 28 and 32: of [`super::RING_SOURCE`].
const PUBLISHED_STARTS: [&[usize]; 5] =
    [&[0, 2, 1, 3], &[0, 2, 4, 1, 3], &[0, 3, 1, 4, 2, 5], &[0, 3, 5, 1, 4, 6, 2], &[0, 4, 2, 6, 1, 5, 3, 7]];

/// How the order on a ring of `count` runs, in words.
pub(crate) fn ring_rule(count: usize) -> &'static str {
    match count {
        0..=3 => "one after the other",
        5 => "as a star, each one two places on",
        _ if count.is_multiple_of(4) => {
            "crosswise: each even one opposite its predecessor, in pairs at right angles"
        }
        _ if count.is_multiple_of(2) => "crosswise: each even one opposite its predecessor",
        _ => "in steps of about a quarter turn, so that it is drawn down evenly all round",
    }
}

/// The cross pattern on a ring of `count`: positions from 0, counted clockwise, in order of work.
///
/// Multiples of four go in fours at right angles, each even one opposite its predecessor; other even counts
/// in opposite pairs, as near to a right angle from pair to pair as the count allows; odd counts in steps of about a
/// quarter turn, five as a star.
pub(crate) fn ring_positions(count: usize) -> Vec<usize> {
    match count {
        0 => Vec::new(),
        5 => vec![0, 2, 4, 1, 3],
        _ if count.is_multiple_of(4) => {
            let quarter = count / 4;
            let starts = match quarter {
                0..4 => (0..quarter).collect(),
                4..9 => PUBLISHED_STARTS[quarter - 4].to_vec(),
                _ => spread_out(quarter),
            };
            starts
                .into_iter()
                .flat_map(|start| [start, start + 2 * quarter, start + quarter, start + 3 * quarter])
                .collect()
        }
        _ if count.is_multiple_of(2) => {
            let pairs = count / 2;
            let stride = ((pairs - 1) / 2).max(1);
            (0..pairs)
                .map(|step| step * stride % pairs)
                .flat_map(|position| [position, position + pairs])
                .collect()
        }
        _ => {
            // Four steps make a turn less or more one place, so that every place is met once.
            let stride = ((count + 1) / 4).max(1);
            (0..count).map(|step| step * stride % count).collect()
        }
    }
}

/// Places of a quarter, which goes on as the next one, each as far as can be from those before it.
fn spread_out(quarter: usize) -> Vec<usize> {
    let mut order = vec![0];
    while order.len() < quarter {
        let apart = |place: usize, other: usize| place.abs_diff(other).min(quarter - place.abs_diff(other));
        let nearest = |place: usize| order.iter().map(|&other| apart(place, other)).min().unwrap_or(0);
        // The first of those that are as far, so that the order is always the same.
        let Some(next) = (0..quarter).rev().max_by_key(|&place| nearest(place)) else { break };
        order.push(next);
    }
    order
}

/// Crosswise, with the first declared hole as position one, counted clockwise as one looks at the face.
pub(super) fn ring_order(holes: &[Point]) -> Vec<usize> {
    let middle = Point::middle(holes);
    let first = holes.first().map_or(0.0, |hole| clockwise_angle(middle, *hole));
    let turn = std::f64::consts::TAU;
    let from_first = |hole: usize| {
        let angle = (clockwise_angle(middle, holes[hole]) - first).rem_euclid(turn);
        // A hair short of a full turn is the start itself.
        if turn - angle < 1e-9 { 0.0 } else { angle }
    };
    let mut around: Vec<usize> = (0..holes.len()).collect();
    around.sort_by(|&a, &b| from_first(a).total_cmp(&from_first(b)));
    ring_positions(holes.len()).into_iter().map(|position| around[position]).collect()
}

/// From the middle outwards, right and left in turn; counted from the end that holds the leftmost hole (the
/// lowest one where the row stands upright).
pub(super) fn row_order(holes: &[Point]) -> Vec<usize> {
    let count = holes.len();
    if count == 0 {
        return Vec::new();
    }
    let (a, b) = farthest_pair(holes);
    let left_first = |p: usize, q: usize| {
        let (dx, dy) = holes[p].to(holes[q]);
        if dx.abs() > 1e-9 { dx > 0.0 } else { dy >= 0.0 }
    };
    let (start, end) = if left_first(a, b) { (a, b) } else { (b, a) };
    let (x, y) = holes[start].to(holes[end]);
    let along = |hole: usize| {
        let (u, v) = holes[start].to(holes[hole]);
        u * x + v * y
    };
    let mut line: Vec<usize> = (0..count).collect();
    line.sort_by(|&p, &q| along(p).total_cmp(&along(q)));
    let centre = (count - 1) / 2;
    (0..count)
        .map(|step| if step % 2 == 1 { centre + step.div_ceil(2) } else { centre - step / 2 })
        .map(|place| line[place])
        .collect()
}

/// From the middle outwards, each time to the hole that lies most nearly opposite the last one, seen from the
/// middle, among those about equally far out.
pub(super) fn spiral_order(holes: &[Point]) -> Vec<usize> {
    let middle = Point::middle(holes);
    let tie = tie_width_mm(holes);
    let mut left: Vec<usize> = (0..holes.len()).collect();
    let mut order = Vec::with_capacity(holes.len());
    let mut last: Option<(f64, f64)> = None;
    while !left.is_empty() {
        let nearest = left.iter().map(|&hole| middle.distance_mm(holes[hole])).fold(f64::INFINITY, f64::min);
        let rank = |hole: usize| {
            let (x, y) = middle.to(holes[hole]);
            let size = x.hypot(y);
            let opposite = match last {
                Some((u, v)) if size > 1e-9 && u.hypot(v) > 1e-9 => (x * u + y * v) / (size * u.hypot(v)),
                _ => 0.0,
            };
            // Rounded, so that equal positions stay equal whatever the last digit.
            ((opposite * 1e6).round() as i64, (size * 1e6).round() as i64, hole)
        };
        let within = left.iter().copied().filter(|&hole| middle.distance_mm(holes[hole]) <= nearest + tie);
        let Some(next) = within.min_by_key(|&hole| rank(hole)) else { break };
        left.retain(|&hole| hole != next);
        last = Some(middle.to(holes[next]));
        order.push(next);
    }
    order
}

/// Holes whose distances from the middle differ by less than this count as equally far out: a quarter of the
/// mean distance from a hole to its nearest neighbour.
pub(super) fn tie_width_mm(holes: &[Point]) -> f64 {
    let nearest = |hole: usize| {
        (0..holes.len())
            .filter(|&other| other != hole)
            .map(|other| holes[hole].distance_mm(holes[other]))
            .fold(f64::INFINITY, f64::min)
    };
    if holes.len() < 2 {
        return 0.0;
    }
    0.25 * (0..holes.len()).map(nearest).sum::<f64>() / holes.len() as f64
}
