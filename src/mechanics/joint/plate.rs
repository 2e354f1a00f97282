//! The plate's ways of moving: a rigid one shifts and tilts, a thin one bends as well.
//!
//! Displacement is a sum of products of Legendre polynomials in scaled coordinates. A rigid plate has those of
//! first degree; a thin one goes up to degree six and resists by the bending energy of plate theory, summed over
//! the cells of the face.

use super::linear::Matrix;
use super::outline::{Cell, half_extents_mm};
use crate::mechanics::pattern::Point;
use crate::quantity::{Length, Pressure, stated_figure};

/// What lies on the gasket.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Plate {
    /// So stiff that it only shifts and tilts: heads, housings.
    Rigid,
    /// A cover that bends.
    Thin {
        /// Its thickness.
        thickness: Length,
        /// Young's modulus of its material.
        modulus: Pressure,
    },
}

/// Young's moduli of common metals: orders of magnitude, from memory.
const MODULI: [(&str, f64); 5] = [
    ("steel", 205_000.0),
    ("grey iron", 110_000.0),
    ("ductile iron", 170_000.0),
    ("aluminium", 70_000.0),
    ("bronze", 105_000.0),
];

/// Young's modulus of a metal by its name.
pub(crate) fn modulus_of(metal: &str) -> Option<Pressure> {
    MODULI.iter().find(|(name, _)| *name == metal).map(|(_, modulus)| Pressure::from_megapascals(*modulus))
}

/// Names of the metals whose modulus is known.
pub(crate) fn plate_metals() -> impl Iterator<Item = &'static str> {
    MODULI.iter().map(|(name, _)| *name)
}

/// Poisson's ratio of common metals, from memory.
const POISSON: f64 = 0.3;
/// Highest degree of a thin plate's displacement. Our own choice, no source.
const DEGREE: usize = 6;

/// A plate that carries a load on over so many of its half extents doesn't bend that way: of a shape of the second degree the
/// bending then resists 45 times its fourth power as much as the gasket does, over two hundred times. By the formulas of
/// [`Modes::bending`].
const STIFF: f64 = 1.5;

impl Plate {
    /// What is assumed, in words.
    pub(super) fn words(self) -> String {
        match self {
            Plate::Rigid => "the part on the gasket is rigid: it shifts and tilts, and doesn't bend".into(),
            Plate::Thin { thickness, modulus } => format!(
                "the part on the gasket bends as a flat plate {} mm thick, {} GPa, without ribs",
                stated_figure(thickness.mm(), 1),
                stated_figure(modulus.megapascals() / 1e3, 0)
            ),
        }
    }
}

impl Plate {
    /// How far on a gasket of this stiffness, in N/mm³, the plate carries a load on: (D/k)^¼ of a plate on springs, standard
    /// statics, from memory. None of a rigid one, which carries it everywhere.
    pub(super) fn reach_mm(self, stiffness: f64) -> Option<f64> {
        let Plate::Thin { thickness, modulus } = self else { return None };
        Some((rigidity(thickness, modulus) / stiffness).powf(0.25))
    }
}

/// How far the polynomials follow a plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Followed {
    /// It bends in shapes that they have.
    Well,
    /// It bends a little more finely, so that what they tell errs to the high side.
    AtMost,
    /// It bends so finely that each fastener is on its own.
    Alone,
    /// It bends too finely for them, and not finely enough for that: nothing can be told.
    Not,
}

/// Polynomials follow shapes of about their half extent over their degree, and half as fine again without much harm: of a ring of
/// eight, such figures were within an eighth of those with polynomials to the eighteenth degree. Our own line, no source.
const HARMLESS: f64 = 1.5;
/// So many reaches away the plate gives by less than a fiftieth of what it gives under a load: 4/π · kei, plate on springs, from
/// memory.
const OUT_OF_REACH: f64 = 5.0;

/// How far the polynomials follow a plate on a gasket of a stiffness in N/mm³ between these, of this half extent, whose nearest
/// fasteners stand so far apart.
pub(super) fn followed(plate: Plate, (soft, hard): (f64, f64), half_extent: f64, nearest: f64) -> Followed {
    let (Some(far), Some(near)) = (plate.reach_mm(soft), plate.reach_mm(hard)) else { return Followed::Well };
    let finest = half_extent / DEGREE as f64;
    if near >= finest {
        Followed::Well
    } else if nearest >= far * OUT_OF_REACH {
        Followed::Alone
    } else if near * HARMLESS >= finest {
        Followed::AtMost
    } else {
        Followed::Not
    }
}

/// D of plate theory, in newton millimetres.
fn rigidity(thickness: Length, modulus: Pressure) -> f64 {
    modulus.megapascals() * thickness.mm().powi(3) / (12.0 * (1.0 - POISSON * POISSON))
}

/// The plate's ways of moving over one joint.
#[derive(Debug, Clone)]
pub(super) struct Modes {
    middle: Point,
    /// Half extents along x and y: a row is much longer than wide, and its shapes across would be lost beside those along.
    half: (f64, f64),
    degree: usize,
    pub powers: Vec<(usize, usize)>,
}

impl Modes {
    /// Of a plate on a gasket of this stiffness, in N/mm³.
    pub(super) fn new(plate: Plate, holes: &[Point], gasket: &[Cell], stiffness: f64) -> Self {
        let degree = match plate {
            Plate::Rigid => 1,
            Plate::Thin { .. } => DEGREE,
        };
        let mut all = holes.to_vec();
        all.extend(gasket.iter().map(|cell| cell.at));
        let half = half_extents_mm(&all);
        let stiff = |half: f64| plate.reach_mm(stiffness).is_none_or(|reach| half * STIFF <= reach);
        let most = |half: f64| if stiff(half) { 1 } else { degree };
        let (along, across) = (most(half.0), most(half.1));
        let powers = (0..=degree)
            .flat_map(|sum| (0..=sum).map(move |j| (sum - j, j)))
            .filter(|(i, j)| *i <= along && *j <= across)
            .collect();
        Modes { middle: Point::middle(holes), half, degree, powers }
    }

    /// Displacement at a point for a unit of each way of moving.
    pub(super) fn at(&self, point: Point) -> Vec<f64> {
        let (x, y) = self.scaled(point);
        self.powers.iter().map(|&(i, j)| x[i].0 * y[j].0).collect()
    }

    /// Whether it has no other ways of moving than those two.
    pub(super) fn only_shift_and_tilt(&self) -> bool {
        self.powers == [(0, 0), (1, 0), (0, 1)]
    }

    /// How far along and across a point is from the middle, in half extents: what it rises by for a unit of tilt.
    pub(super) fn scaled_place(&self, point: Point) -> (f64, f64) {
        let (x, y) = self.middle.to(point);
        (x / self.half.0, y / self.half.1)
    }

    /// The part of the displacement that is shift and tilt alone.
    pub(super) fn rigid_part(&self, amounts: &[f64]) -> Vec<f64> {
        self.powers
            .iter()
            .zip(amounts)
            .map(|(&(i, j), amount)| if i + j <= 1 { *amount } else { 0.0 })
            .collect()
    }

    /// Resistance to bending, D ∫ of (∇²w)² − 2(1 − ν)(w_xx w_yy − w_xy²), over the cells of the face.
    pub(super) fn bending(&self, plate: Plate, face: &[Cell]) -> Matrix {
        let mut matrix = Matrix::zero(self.powers.len());
        let Plate::Thin { thickness, modulus } = plate else { return matrix };
        let rigidity = rigidity(thickness, modulus);
        for cell in face {
            let (x, y) = self.scaled(cell.at);
            // Curvatures of each way of moving: along x, along y, twist; in 1/mm² of the scaled polynomial.
            let (along, across) = (1.0 / self.half.0, 1.0 / self.half.1);
            let curvatures: Vec<(f64, f64, f64)> = self
                .powers
                .iter()
                .map(|&(i, j)| {
                    let twist = along * across * x[i].1 * y[j].1;
                    (along * along * x[i].2 * y[j].0, across * across * x[i].0 * y[j].2, twist)
                })
                .collect();
            let weight = rigidity * cell.area_mm2;
            for (row, a) in curvatures.iter().enumerate() {
                for (column, b) in curvatures.iter().enumerate() {
                    let value = (a.0 + a.1) * (b.0 + b.1)
                        - (1.0 - POISSON) * (a.0 * b.1 + a.1 * b.0 - 2.0 * a.2 * b.2);
                    matrix.add(row, column, weight * value);
                }
            }
        }
        matrix
    }

    fn scaled(&self, point: Point) -> (Polynomials, Polynomials) {
        let (x, y) = self.scaled_place(point);
        (legendre(x, self.degree), legendre(y, self.degree))
    }
}

/// A polynomial at one place, with its first and second derivative there.
type Polynomial = (f64, f64, f64);
/// Those of every degree, nothing above the one that is asked for.
type Polynomials = [Polynomial; DEGREE + 1];

/// Legendre polynomials up to a degree.
fn legendre(x: f64, degree: usize) -> Polynomials {
    let mut list = [(0.0, 0.0, 0.0); DEGREE + 1];
    (list[0], list[1]) = ((1.0, 0.0, 0.0), (x, 1.0, 0.0));
    for n in 1..degree {
        let (p, first, second) = list[n];
        let (before, before_first, before_second) = list[n - 1];
        let (a, b) = ((2 * n + 1) as f64 / (n + 1) as f64, n as f64 / (n + 1) as f64);
        list[n + 1] = (
            a * x * p - b * before,
            a * (p + x * first) - b * before_first,
            a * (2.0 * first + x * second) - b * before_second,
        );
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::joint::linear::dot;
    use crate::mechanics::joint::outline::{cells, face};

    /// A sheet rolled to curvature κ along one side holds ½ D κ² for each area (plate theory).
    #[test]
    fn a_rolled_sheet_holds_the_energy_of_plate_theory() {
        let holes: Vec<Point> = [(0.0, 0.0), (120.0, 0.0), (120.0, 80.0), (0.0, 80.0)]
            .map(|(x, y)| Point::from_mm(x, y))
            .to_vec();
        let plate =
            Plate::Thin { thickness: Length::from_mm(3.0), modulus: Pressure::from_megapascals(70_000.0) };
        let gasket = cells(&holes, Length::from_mm(10.0));
        let face = face(&holes, &gasket);
        let modes = Modes::new(plate, &holes, &gasket, 100.0);
        // P2(s) = (3 s² − 1)/2, so its curvature is 3/half².
        let amounts: Vec<f64> =
            modes.powers.iter().map(|power| if *power == (2, 0) { 0.5 } else { 0.0 }).collect();
        let stored = 0.5 * dot(&modes.bending(plate, &face).times(&amounts), &amounts);
        let curvature = 0.5 * 3.0 / (modes.half.0 * modes.half.0);
        let rigidity = 70_000.0 * 27.0 / (12.0 * 0.91);
        let area: f64 = face.iter().map(|cell| cell.area_mm2).sum();
        assert!((stored / (0.5 * rigidity * curvature * curvature * area) - 1.0).abs() < 1e-9);
    }
}
