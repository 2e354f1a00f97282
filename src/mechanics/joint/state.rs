//! The one state of equilibrium of a joint, and what tightening, backing off and taking out do to it.
//!
//! Bolt i pulls with k_i (u_i + t_i) where that is positive, t_i being its take-up; gasket cell j pushes with
//! −g_j u_j where that is positive. The energy is convex, so there is one state: Newton's method on the sets of
//! bolts and cells under load, with the step halved while it doesn't bring the energy down.

use std::fmt;

use super::gasket::{Gasket, Pressed};
use super::linear::{Matrix, add_scaled, dot};
use super::outline::Ground;
use super::plate::Modes;
use super::{Joint, Point};
use crate::quantity::{Force, Length};

/// The plate would tip or come off: no state in which all forces balance.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct NoEquilibrium;

impl fmt::Display for NoEquilibrium {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the fasteners left cannot hold the part in balance: it tips or comes off")
    }
}

impl std::error::Error for NoEquilibrium {}

struct Spring {
    stiffness: f64,
    shape: Vec<f64>,
}

/// What stays the same while fasteners are worked.
struct Body {
    modes: Modes,
    bending: Matrix,
    bolts: Vec<Spring>,
    gasket: Gasket,
    push: Vec<f64>,
    corners: Vec<Vec<f64>>,
    /// A force that counts as large, for judging what is left over.
    force_scale: f64,
}

/// A joint with its take-ups, in equilibrium.
pub(crate) struct State {
    body: Body,
    take_up: Vec<Option<f64>>,
    amounts: Vec<f64>,
    /// Of `amounts`.
    pressed: Pressed,
}

/// Rounds of Newton's method before giving up. Our own choice, no source.
const MOST_ROUNDS: usize = 200;

impl State {
    /// The joint on its ground with every fastener at a share of its load, as if brought there together. `stiffness` is that
    /// of the gasket in N/mm³.
    ///
    /// # Errors
    /// Forces don't balance.
    pub(crate) fn all_at(
        joint: &Joint,
        ground: &Ground,
        share: f64,
        stiffness: f64,
    ) -> Result<State, NoEquilibrium> {
        let holes: Vec<Point> = joint.bolts.iter().map(|bolt| bolt.at).collect();
        let modes = Modes::new(joint.plate, &holes, &ground.gasket, stiffness);
        // A plane is highest and lowest at the ends of rows.
        let face = if modes.only_shift_and_tilt() { ground.ends_of_rows() } else { ground.face.clone() };
        let mut push = vec![0.0; modes.powers.len()];
        for (point, force) in &joint.springs {
            add_scaled(&mut push, force.newtons(), &modes.at(*point));
        }
        let loads: f64 = joint.bolts.iter().map(|bolt| bolt.load.newtons()).sum();
        let body = Body {
            bending: modes.bending(joint.plate, &ground.face),
            bolts: joint
                .bolts
                .iter()
                .map(|bolt| Spring { stiffness: bolt.stiffness.newtons_per_mm(), shape: modes.at(bolt.at) })
                .collect(),
            gasket: Gasket::new(&ground.gasket, &modes, stiffness),
            push,
            corners: face.iter().map(|cell| modes.at(cell.at)).collect(),
            force_scale: (loads + joint.spring_load().newtons()).max(1.0),
            modes,
        };
        let size = body.modes.powers.len();
        let count = joint.bolts.len();
        let amounts = vec![0.0; size];
        let pressed = body.gasket.pressed(&amounts, &body.bending);
        let mut state = State { body, take_up: vec![None; count], amounts, pressed };
        let held: Vec<(usize, f64)> =
            joint.bolts.iter().map(|bolt| bolt.load.newtons() * share).enumerate().collect();
        state.settle_holding(&held)?;
        Ok(state)
    }

    /// Tightens one fastener to a load; one that already bears as much is left alone, as a wrench leaves it.
    ///
    /// # Errors
    /// Forces don't balance.
    pub(crate) fn tighten(&mut self, bolt: usize, load: Force) -> Result<(), NoEquilibrium> {
        if self.load(bolt) >= load {
            return Ok(());
        }
        self.take_up[bolt] = None;
        self.settle_holding(&[(bolt, load.newtons())])
    }

    /// Turns one fastener back until its take-up is this.
    ///
    /// # Errors
    /// Forces don't balance.
    pub(crate) fn back_off_to(&mut self, bolt: usize, take_up: Length) -> Result<(), NoEquilibrium> {
        self.take_up[bolt] = Some(take_up.mm());
        self.settle()
    }

    /// Takes one fastener out.
    ///
    /// # Errors
    /// Forces don't balance.
    pub(crate) fn remove(&mut self, bolt: usize) -> Result<(), NoEquilibrium> {
        self.take_up[bolt] = None;
        self.settle()
    }

    /// How far a fastener is taken up beyond finger-tight on the unloaded joint; none if it is out.
    pub(crate) fn take_up(&self, bolt: usize) -> Option<Length> {
        self.take_up[bolt].map(Length::from_mm)
    }

    /// Load on a fastener.
    pub(crate) fn load(&self, bolt: usize) -> Force {
        let spring = &self.body.bolts[bolt];
        let stretch = self.take_up[bolt].map_or(0.0, |take_up| dot(&spring.shape, &self.amounts) + take_up);
        Force::from_newtons(spring.stiffness * stretch.max(0.0))
    }

    /// Load on every fastener.
    pub(crate) fn loads(&self) -> Vec<Force> {
        (0..self.take_up.len()).map(|bolt| self.load(bolt)).collect()
    }

    /// Load on the gasket.
    pub(crate) fn gasket_load(&self) -> Force {
        // All that is pressed pushes for a unit of shift.
        Force::from_newtons(0.0 - self.pressed.gradient[0])
    }

    /// How much farther one end of the face has risen than the other, by shift and tilt alone.
    pub(crate) fn tilt(&self) -> Length {
        let rigid = self.body.modes.rigid_part(&self.amounts);
        let rises = self.body.corners.iter().map(|shape| dot(shape, &rigid));
        let (low, high) = rises.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
        Length::from_mm((high - low).max(0.0))
    }

    /// How far the face is bent out of its plane, from lowest to highest.
    pub(crate) fn bow(&self) -> Length {
        let rigid = self.body.modes.rigid_part(&self.amounts);
        let bent: Vec<f64> = self.amounts.iter().zip(&rigid).map(|(all, rigid)| all - rigid).collect();
        let rises = self.body.corners.iter().map(|shape| dot(shape, &bent));
        let (low, high) = rises.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
        Length::from_mm((high - low).max(0.0))
    }

    /// Finds the equilibrium with some fasteners pulling with given forces instead of as springs, then sets their
    /// take-up so that they bear just that.
    fn settle_holding(&mut self, held: &[(usize, f64)]) -> Result<(), NoEquilibrium> {
        let push = self.body.push.clone();
        for (bolt, force) in held {
            add_scaled(&mut self.body.push, -force, &self.body.bolts[*bolt].shape);
        }
        let settled = self.settle();
        self.body.push = push;
        settled?;
        for (bolt, force) in held {
            let spring = &self.body.bolts[*bolt];
            self.take_up[*bolt] = Some(force / spring.stiffness - dot(&spring.shape, &self.amounts));
        }
        Ok(())
    }

    fn settle(&mut self) -> Result<(), NoEquilibrium> {
        let mut energy = self.energy(&self.amounts, &self.pressed);
        for _ in 0..MOST_ROUNDS {
            let (gradient, mut matrix) = self.derivatives();
            if self.left_over(&gradient) <= 1e-9 {
                return Ok(());
            }
            // A trace of stiffness keeps a plate that hangs free from flying off; what it carries is left over and
            // tells that there is no equilibrium.
            let trace = 1e-12 * matrix.scale().max(1e-6);
            for mode in 0..gradient.len() {
                matrix.add(mode, mode, trace);
            }
            let step = matrix.solve(&gradient).ok_or(NoEquilibrium)?;
            let mut share = 1.0;
            let better = loop {
                let tried: Vec<f64> =
                    self.amounts.iter().zip(&step).map(|(amount, step)| amount - share * step).collect();
                let pressed = self.body.gasket.pressed(&tried, &self.body.bending);
                let reached = self.energy(&tried, &pressed);
                if reached < energy {
                    energy = reached;
                    break Some((tried, pressed));
                }
                share /= 2.0;
                if share < 1e-6 {
                    break None;
                }
            };
            let Some((amounts, pressed)) = better else { break };
            if amounts.iter().any(|amount| !amount.is_finite() || amount.abs() > 1e4) {
                return Err(NoEquilibrium);
            }
            (self.amounts, self.pressed) = (amounts, pressed);
        }
        let (gradient, _) = self.derivatives();
        if self.left_over(&gradient) <= 1e-6 { Ok(()) } else { Err(NoEquilibrium) }
    }

    /// Greatest force or moment that isn't balanced, as a share of the loads.
    fn left_over(&self, gradient: &[f64]) -> f64 {
        gradient.iter().fold(0.0, |worst: f64, part| worst.max(part.abs())) / self.body.force_scale
    }

    fn energy(&self, amounts: &[f64], pressed: &Pressed) -> f64 {
        let body = &self.body;
        let mut sum =
            0.5 * dot(&body.bending.times(amounts), amounts) - dot(&body.push, amounts) + pressed.energy;
        for (spring, take_up) in body.bolts.iter().zip(&self.take_up) {
            if let Some(take_up) = take_up {
                let stretch = (dot(&spring.shape, amounts) + take_up).max(0.0);
                sum += 0.5 * spring.stiffness * stretch * stretch;
            }
        }
        sum
    }

    /// How the energy grows, and how that does.
    fn derivatives(&self) -> (Vec<f64>, Matrix) {
        let body = &self.body;
        let mut matrix = self.pressed.matrix.clone();
        let mut gradient = body.bending.times(&self.amounts);
        add_scaled(&mut gradient, 1.0, &self.pressed.gradient);
        add_scaled(&mut gradient, -1.0, &body.push);
        for (spring, take_up) in body.bolts.iter().zip(&self.take_up) {
            let Some(take_up) = take_up else { continue };
            let stretch = dot(&spring.shape, &self.amounts) + take_up;
            if stretch > 0.0 {
                add_scaled(&mut gradient, spring.stiffness * stretch, &spring.shape);
                matrix.add_outer(spring.stiffness, &spring.shape);
            }
        }
        (gradient, matrix)
    }
}
