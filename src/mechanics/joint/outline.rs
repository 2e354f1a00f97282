//! Where plate and gasket lie: the outline round the holes, cut into cells.

use super::Joint;
use crate::mechanics::pattern::Point;
use crate::quantity::Length;

/// A piece of face or gasket.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Cell {
    pub at: Point,
    pub area_mm2: f64,
}

/// Cells along the longer side: finer ones change no load by what matters. Our own choice, no source.
const CELLS_ACROSS: usize = 24;
/// A face reaches at least this far beyond the outermost holes. Our own estimate, no source.
const LEAST_MARGIN_MM: f64 = 5.0;

/// Where a joint lies, whatever is done to its fasteners: worked out once for all that is asked of it.
pub(crate) struct Ground {
    /// Cells of the gasket, row by row.
    pub(super) gasket: Vec<Cell>,
    /// Cells of the plate's face, row by row.
    pub(super) face: Vec<Cell>,
}

impl Ground {
    /// Round the holes of a joint.
    pub(crate) fn of(joint: &Joint) -> Ground {
        let holes: Vec<Point> = joint.bolts.iter().map(|bolt| bolt.at).collect();
        let gasket = cells(&holes, joint.margin);
        let face = face(&holes, &gasket);
        Ground { gasket, face }
    }

    /// First and last cell of each row of the face.
    pub(super) fn ends_of_rows(&self) -> Vec<Cell> {
        let ends = |row: &[Cell]| [row[0], row[row.len() - 1]];
        self.face.chunk_by(|a, b| a.at.y == b.at.y).flat_map(ends).collect()
    }
}

/// The cells of a gasket on the whole face, out to a margin round the outermost holes.
pub(super) fn cells(holes: &[Point], margin: Length) -> Vec<Cell> {
    let edge = hull(holes);
    let margin = margin.mm().max(LEAST_MARGIN_MM);
    grid(holes, margin, |point| inside(&edge, point) || to_edge(&edge, point) <= margin)
}

/// The plate's own cells: the face out to the gasket's edge.
pub(super) fn face(holes: &[Point], gasket: &[Cell]) -> Vec<Cell> {
    let reach = gasket.iter().map(|cell| cell.at);
    let mut all: Vec<Point> = holes.to_vec();
    all.extend(reach);
    let edge = hull(&all);
    grid(&all, LEAST_MARGIN_MM, |point| inside(&edge, point) || to_edge(&edge, point) <= LEAST_MARGIN_MM)
}

/// Half of the extents of points in x and y, for scaling.
pub(super) fn half_extents_mm(points: &[Point]) -> (f64, f64) {
    let ((x0, x1), (y0, y1)) = bounds(points);
    (0.5 * (x1 - x0).max(1.0), 0.5 * (y1 - y0).max(1.0))
}

fn bounds(points: &[Point]) -> ((f64, f64), (f64, f64)) {
    let span = |values: &mut dyn Iterator<Item = f64>| {
        values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)))
    };
    (span(&mut points.iter().map(|p| p.x.mm())), span(&mut points.iter().map(|p| p.y.mm())))
}

fn grid(points: &[Point], margin: f64, keep: impl Fn(Point) -> bool) -> Vec<Cell> {
    if points.is_empty() {
        return Vec::new();
    }
    let ((x0, x1), (y0, y1)) = bounds(points);
    let (width, height) = (x1 - x0 + 2.0 * margin, y1 - y0 + 2.0 * margin);
    let side = width.max(height) / CELLS_ACROSS as f64;
    let (columns, rows) = ((width / side).round().max(2.0), (height / side).round().max(2.0));
    let (dx, dy) = (width / columns, height / rows);
    let mut cells = Vec::new();
    for row in 0..rows as usize {
        for column in 0..columns as usize {
            let at = Point::from_mm(
                x0 - margin + (column as f64 + 0.5) * dx,
                y0 - margin + (row as f64 + 0.5) * dy,
            );
            if keep(at) {
                cells.push(Cell { at, area_mm2: dx * dy });
            }
        }
    }
    cells
}

/// Corners of the convex outline, counter-clockwise.
fn hull(points: &[Point]) -> Vec<(f64, f64)> {
    let mut sorted: Vec<(f64, f64)> = points.iter().map(|p| (p.x.mm(), p.y.mm())).collect();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    sorted.dedup();
    if sorted.len() < 3 {
        return sorted;
    }
    let half = |points: &mut dyn Iterator<Item = (f64, f64)>| {
        let mut chain: Vec<(f64, f64)> = Vec::new();
        for point in points {
            while chain.len() >= 2 && turns_right(chain[chain.len() - 2], chain[chain.len() - 1], point) {
                chain.pop();
            }
            chain.push(point);
        }
        chain.pop();
        chain
    };
    let mut edge = half(&mut sorted.iter().copied());
    edge.extend(half(&mut sorted.iter().rev().copied()));
    edge
}

fn turns_right(a: (f64, f64), b: (f64, f64), c: (f64, f64)) -> bool {
    (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0) <= 0.0
}

fn sides(edge: &[(f64, f64)]) -> impl Iterator<Item = ((f64, f64), (f64, f64))> {
    (0..edge.len()).map(|i| (edge[i], edge[(i + 1) % edge.len()]))
}

fn inside(edge: &[(f64, f64)], point: Point) -> bool {
    let p = (point.x.mm(), point.y.mm());
    edge.len() >= 3 && sides(edge).all(|(a, b)| !turns_right(a, b, p))
}

/// Distance from the outline itself, in millimetres.
fn to_edge(edge: &[(f64, f64)], point: Point) -> f64 {
    let (px, py) = (point.x.mm(), point.y.mm());
    sides(edge)
        .map(|(a, b)| {
            let (dx, dy) = (b.0 - a.0, b.1 - a.1);
            let length = dx * dx + dy * dy;
            let along = if length > 0.0 {
                (((px - a.0) * dx + (py - a.1) * dy) / length).clamp(0.0, 1.0)
            } else {
                0.0
            };
            (px - a.0 - along * dx).hypot(py - a.1 - along * dy)
        })
        .fold(f64::INFINITY, f64::min)
}
