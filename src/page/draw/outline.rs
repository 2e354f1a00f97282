//! The outline round the holes of a joint: their hull with room for a head, dashed, because the shape of the part isn't
//! known.

use super::shapes::polygon;
use crate::page::pages::{Area, Dash, Item, Position, Stroke};

/// Corners by which the edge of a head is followed.
const CORNERS: usize = 16;
/// How far the areas along an outline lie apart at most.
const APART: f32 = 3.0;

/// An outline, and small areas along it that letters keep clear of.
pub(super) struct Outline {
    pub item: Item,
    pub along: Vec<Area>,
}

/// The outline round heads, each with its middle and its radius; nothing round fewer than three, which show no shape.
pub(super) fn outline(heads: &[(Position, f32)]) -> Option<Outline> {
    if heads.len() < 3 {
        return None;
    }
    let edge = |(middle, radius): &(Position, f32)| {
        let (middle, radius) = (*middle, *radius);
        (0..CORNERS).map(move |corner| {
            let angle = std::f32::consts::TAU * corner as f32 / CORNERS as f32;
            Position::new(middle.x + radius * angle.cos(), middle.y + radius * angle.sin())
        })
    };
    let corners = hull(heads.iter().flat_map(edge).collect());
    let mut along = Vec::new();
    for (from, to) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let steps = ((to.x - from.x).hypot(to.y - from.y) / APART).ceil().max(1.0);
        along.extend((0..steps as u16).map(|step| {
            let share = f32::from(step) / steps;
            let (x, y) = (from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share);
            Area::new(x - 1.0, y - 1.0, 2.0, 2.0)
        }));
    }
    let item = polygon(&corners, None, Some(Stroke { dash: Dash::Dashed, ..Stroke::solid(0.6) }));
    Some(Outline { item, along })
}

/// The corners of the convex hull of some points, in one sense of rotation. Andrew's monotone chain: "Another efficient
/// algorithm for convex hulls in two dimensions", Information Processing Letters 9 (1979), from memory.
fn hull(mut points: Vec<Position>) -> Vec<Position> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let mut corners: Vec<Position> = Vec::new();
    for forward in [true, false] {
        let first = corners.len();
        let along: Vec<&Position> =
            if forward { points.iter().collect() } else { points.iter().rev().collect() };
        for point in along {
            while let [.., before, last] = corners[first..] {
                let turn =
                    (last.x - before.x) * (point.y - before.y) - (last.y - before.y) * (point.x - before.x);
                if turn > 0.0 {
                    break;
                }
                corners.pop();
            }
            corners.push(*point);
        }
        // The last of one half is the first of the other.
        corners.pop();
    }
    corners
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(points: &[(f32, f32)]) -> Vec<Position> {
        points.iter().map(|(x, y)| Position::new(*x, *y)).collect()
    }

    #[test]
    fn a_hull_leaves_out_what_lies_inside_and_on_its_edges() {
        let found = hull(at(&[(0.0, 0.0), (4.0, 0.0), (2.0, 1.0), (2.0, 0.0), (4.0, 3.0), (0.0, 3.0)]));
        let mut found: Vec<(f32, f32)> = found.into_iter().map(|point| (point.x, point.y)).collect();
        found.sort_by(|a, b| a.partial_cmp(b).unwrap());
        assert_eq!(found, [(0.0, 0.0), (0.0, 3.0), (4.0, 0.0), (4.0, 3.0)]);
    }

    #[test]
    fn every_head_lies_within_the_outline() {
        let heads: Vec<(Position, f32)> = at(&[(10.0, 10.0), (60.0, 14.0), (30.0, 50.0), (32.0, 20.0)])
            .into_iter()
            .map(|at| (at, 6.0))
            .collect();
        let Some(Outline { item: Item::Shape { rings, stroke, .. }, along }) = outline(&heads) else {
            panic!("no outline")
        };
        assert!(along.len() > 30, "{}", along.len());
        assert_eq!(stroke.map(|stroke| stroke.dash), Some(Dash::Dashed));
        let reach = |pick: fn(&Position) -> f32| {
            let ends = rings[0].segments.iter().filter_map(|segment| match segment {
                crate::page::pages::Segment::Line(end) => Some(*end),
                crate::page::pages::Segment::Curve(..) => None,
            });
            let all: Vec<f32> = ends.chain([rings[0].start]).map(|end| pick(&end)).collect();
            (all.iter().copied().fold(f32::INFINITY, f32::min), all.iter().copied().fold(0.0, f32::max))
        };
        assert!(reach(|at| at.x).0 < 4.01 && reach(|at| at.x).1 > 65.99);
        assert!(reach(|at| at.y).0 < 4.01 && reach(|at| at.y).1 > 55.9);
        assert!(outline(&heads[..2]).is_none());
    }
}
