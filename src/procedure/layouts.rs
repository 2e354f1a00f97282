//! Layouts of holes to coordinates in millimetres, as one looks at the face: x to the right, y up.

use super::errors;
use super::resolver::Resolver;
use crate::language::tree::{Amount, Layout, Point, Word};
use crate::quantity::{Dimension, Quantity, Unit};

/// Most holes that one layout may have; more than any engine has in a joint, and few enough to check quickly.
pub(super) const MOST_HOLES: u32 = 1_000;

/// Coordinates of a hole.
type Place = (Quantity, Quantity);

impl Resolver {
    /// The holes of a layout in declared order: points as listed, a circle anticlockwise from its first hole, a
    /// grid row by row from the lower left.
    pub(super) fn layout(&mut self, layout: &Layout) -> Option<Vec<Place>> {
        match layout {
            Layout::Points { points, unit } => {
                let unit = self.length_unit(unit)?;
                Some(points.iter().map(|point| place(unit.to_base(point.x), unit.to_base(point.y))).collect())
            }
            Layout::Circle { count, diameter, first, centre } => {
                let count = self.hole_count(count);
                let diameter = self.positive(diameter, Dimension::LENGTH);
                let first = match first {
                    Some(angle) => self.quantity(angle, Dimension::ANGLE).map(Quantity::base),
                    None => Some(0.0),
                };
                let (x, y) = self.origin(centre.as_ref())?;
                let (count, radius, first) = (count?, diameter?.base() / 2.0, first?);
                let angle = |index: u32| first + std::f64::consts::TAU * f64::from(index) / f64::from(count);
                Some(
                    (0..count)
                        .map(|index| {
                            let (sin, cos) = angle(index).sin_cos();
                            place(x + radius * cos, y + radius * sin)
                        })
                        .collect(),
                )
            }
            Layout::Grid { columns, rows, pitch_x, pitch_y, corner } => {
                let columns = self.hole_count(columns);
                let rows = self.hole_count(rows);
                let pitch_x = self.positive(pitch_x, Dimension::LENGTH);
                let pitch_y = self.positive(pitch_y, Dimension::LENGTH);
                let (x, y) = self.origin(corner.as_ref())?;
                let (columns, rows, pitch_x, pitch_y) = (columns?, rows?, pitch_x?.base(), pitch_y?.base());
                let at = |row: u32, column: u32| {
                    place(x + pitch_x * f64::from(column), y + pitch_y * f64::from(row))
                };
                Some((0..rows).flat_map(|row| (0..columns).map(move |column| at(row, column))).collect())
            }
        }
    }

    fn hole_count(&mut self, amount: &Amount) -> Option<u32> {
        let count = self.count(amount, "holes")?;
        if count > MOST_HOLES {
            self.complain(errors::too_many_holes(amount, MOST_HOLES));
            return None;
        }
        Some(count)
    }

    fn length_unit(&mut self, word: &Word) -> Option<&'static Unit> {
        let unit = self.lone_unit(word)?;
        if unit.dimension != Dimension::LENGTH {
            self.complain(errors::not_a_length_unit(word, unit));
            return None;
        }
        Some(unit)
    }

    /// A point that a layout counts from, in metres.
    fn origin(&mut self, point: Option<&(Point, Word)>) -> Option<(f64, f64)> {
        match point {
            None => Some((0.0, 0.0)),
            Some((point, unit)) => {
                let unit = self.length_unit(unit)?;
                Some((unit.to_base(point.x), unit.to_base(point.y)))
            }
        }
    }
}

/// A place from metres, to a thousandth of a millimetre.
fn place(x: f64, y: f64) -> Place {
    let unit = Unit::find("mm").expect("millimetres are a unit");
    (Quantity::from_base(x, unit, 3), Quantity::from_base(y, unit, 3))
}
