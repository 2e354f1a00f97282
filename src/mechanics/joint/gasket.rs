//! The gasket under a plate: what its cells come to for a displacement of the plate.
//!
//! Under a plate that only shifts and tilts the cells of a row that are pressed lie side by side, since what a plane rises
//! by grows or falls along a row all the way: a row is then two sums up to its last pressed cell, in place of its
//! cells one by one.

use super::linear::{Matrix, add_scaled, dot};
use super::outline::Cell;
use super::plate::Modes;

/// What the cells come to for some displacement. They are hundreds, and fasteners a few: it is worked out once for
/// each displacement, whatever is done to the fasteners there.
pub(super) struct Pressed {
    pub energy: f64,
    pub gradient: Vec<f64>,
    pub matrix: Matrix,
}

/// Springs that only push, in N/mm.
pub(super) enum Gasket {
    /// Each cell with its stiffness and its rise for a unit of each way of moving.
    Cells(Vec<(f64, Vec<f64>)>),
    /// Of a plate that only shifts and tilts.
    Rows(Vec<Row>),
}

/// Cells side by side, all as stiff and as far across.
pub(super) struct Row {
    stiffness: f64,
    y: f64,
    /// How far along each of them is, from one end to the other.
    along: Vec<f64>,
    /// Sums of that and of its squares over the cells before each, and over all of them.
    sums: Vec<(f64, f64)>,
}

impl Gasket {
    /// Cells row by row, as the outline gives them, each `stiffness` N/mm³ over its area.
    pub(super) fn new(cells: &[Cell], modes: &Modes, stiffness: f64) -> Gasket {
        if !modes.only_shift_and_tilt() {
            let spring = |cell: &Cell| (stiffness * cell.area_mm2, modes.at(cell.at));
            return Gasket::Cells(cells.iter().map(spring).collect());
        }
        let rows = cells.chunk_by(|a, b| a.at.y == b.at.y && a.area_mm2 == b.area_mm2);
        Gasket::Rows(rows.map(|cells| Row::of(cells, modes, stiffness)).collect())
    }

    /// What it comes to for a displacement; the matrix holds the plate's own stiffness as well.
    pub(super) fn pressed(&self, amounts: &[f64], bending: &Matrix) -> Pressed {
        let mut pressed =
            Pressed { energy: 0.0, gradient: vec![0.0; amounts.len()], matrix: bending.clone() };
        match self {
            Gasket::Rows(rows) => {
                for row in rows {
                    row.press(amounts[0], amounts[1], amounts[2], &mut pressed);
                }
            }
            Gasket::Cells(cells) => {
                for (stiffness, shape) in cells {
                    let rise = dot(shape, amounts);
                    if rise <= 0.0 {
                        pressed.energy += 0.5 * stiffness * rise * rise;
                        add_scaled(&mut pressed.gradient, stiffness * rise, shape);
                        pressed.matrix.add_outer(*stiffness, shape);
                    }
                }
            }
        }
        pressed
    }
}

impl Row {
    fn of(cells: &[Cell], modes: &Modes, stiffness: f64) -> Row {
        let places: Vec<(f64, f64)> = cells.iter().map(|cell| modes.scaled_place(cell.at)).collect();
        let mut sums = vec![(0.0, 0.0)];
        sums.extend(places.iter().scan((0.0, 0.0), |(sum, squares), (x, _)| {
            (*sum, *squares) = (*sum + x, *squares + x * x);
            Some((*sum, *squares))
        }));
        Row {
            stiffness: stiffness * cells[0].area_mm2,
            y: places[0].1,
            along: places.into_iter().map(|(x, _)| x).collect(),
            sums,
        }
    }

    /// Adds what the cells come to that are pressed where the plate has shifted by so much at the middle, and rises by so much
    /// along and across.
    fn press(&self, shift: f64, tip: f64, lean: f64, pressed: &mut Pressed) {
        let base = shift + lean * self.y;
        let (from, to) = if tip >= 0.0 {
            (0, self.along.partition_point(|x| base + tip * x <= 0.0))
        } else {
            (self.along.partition_point(|x| base + tip * x > 0.0), self.along.len())
        };
        let (count, y) = ((to - from) as f64, self.y);
        let x = self.sums[to].0 - self.sums[from].0;
        let xx = self.sums[to].1 - self.sums[from].1;
        let (rises, turned) = (count * base + tip * x, base * x + tip * xx);
        pressed.energy += 0.5 * self.stiffness * (base * rises + tip * turned);
        add_scaled(&mut pressed.gradient, self.stiffness, &[rises, turned, y * rises]);
        let rows = [[count, x, y * count], [x, xx, y * x], [y * count, y * x, y * y * count]];
        for (row, values) in rows.iter().enumerate() {
            for (column, value) in values.iter().enumerate() {
                pressed.matrix.add(row, column, self.stiffness * value);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::joint::outline::cells;
    use crate::mechanics::joint::plate::Plate;
    use crate::mechanics::pattern::Point;
    use crate::quantity::Length;

    /// Rows come to what their cells come to, one by one, however the plate lies.
    #[test]
    fn rows_come_to_what_their_cells_come_to() {
        let holes: Vec<Point> = [(0.0, 0.0), (140.0, -20.0), (180.0, 60.0), (90.0, 130.0), (-30.0, 70.0)]
            .map(|(x, y)| Point::from_mm(x, y))
            .to_vec();
        let all = cells(&holes, Length::from_mm(8.0));
        let modes = Modes::new(Plate::Rigid, &holes, &all, 300.0);
        let rows = Gasket::new(&all, &modes, 300.0);
        assert!(matches!(&rows, Gasket::Rows(rows) if rows.len() > 10));
        let single = all.iter().map(|cell| (300.0 * cell.area_mm2, modes.at(cell.at))).collect();
        let single = Gasket::Cells(single);
        let bending = Matrix::zero(3);
        let steps = [-0.2, -0.05, 0.0, 0.03, 0.11];
        for shift in steps {
            for tip in steps {
                for lean in steps {
                    let amounts = [shift, tip, lean];
                    let (one, other) = (rows.pressed(&amounts, &bending), single.pressed(&amounts, &bending));
                    let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * (1.0 + a.abs().max(b.abs()));
                    assert!(near(one.energy, other.energy), "{amounts:?}");
                    assert!(
                        one.gradient.iter().zip(&other.gradient).all(|(a, b)| near(*a, *b)),
                        "{amounts:?}"
                    );
                    let unit = |matrix: &Matrix, way: usize| {
                        matrix.times(&[0, 1, 2].map(|other| f64::from(u8::from(other == way))))
                    };
                    for way in 0..3 {
                        let (one, other) = (unit(&one.matrix, way), unit(&other.matrix, way));
                        assert!(one.iter().zip(&other).all(|(a, b)| near(*a, *b)), "{amounts:?}");
                    }
                }
            }
        }
    }
}
