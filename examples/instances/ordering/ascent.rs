//! The climb of a Lagrangean bound: prices that draw each node of a relaxed walk towards being met once.
//!
//! Subgradient steps (Held and Karp 1971) with some of the last direction kept; their length goes with the distance
//! to a known cost and shrinks where nothing has been gained for a while (Held, Wolfe and Crowder 1974).

/// Part of the last direction that is kept, steps without gain before going back to the best, and what the stride
/// shrinks to then.
const KEPT: f64 = 0.6;
const PATIENCE: usize = 10;
const SHRINK: f64 = 0.7;

/// What a climb raises the bound of.
pub(super) trait Relaxation {
    /// Takes new prices and works everything out under them.
    fn reprice(&mut self, wanted: &[f64]);
    /// The bound under the present prices.
    fn bound(&self) -> i64;
}

/// What came of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Step {
    /// Nothing was left to move.
    Over,
    /// Prices were moved.
    On,
    /// Prices went back to the best, and steps are shorter from here.
    Back,
}

/// The state of a climb.
pub(super) struct Ascent {
    /// Prices to try next; the ends of a walk have none.
    price: Vec<f64>,
    /// The prices of the best bound, and that bound.
    pub(super) best_price: Vec<f64>,
    best: i64,
    direction: Vec<f64>,
    /// Length of a step against the distance to the known cost.
    pub(super) stride: f64,
    stale: usize,
}

impl Ascent {
    /// Begins at `price`, where the bound is `bound`.
    pub(super) fn new(price: &[i32], bound: i64, stride: f64) -> Ascent {
        let price: Vec<f64> = price.iter().map(|&price| f64::from(price)).collect();
        let direction = vec![0.0; price.len()];
        Ascent { best_price: price.clone(), price, best: bound, direction, stride, stale: 0 }
    }

    /// One step of the climb from a walk that meets each node so often.
    pub(super) fn step(&mut self, relaxation: &mut impl Relaxation, visits: &[i32], target: f64) -> Step {
        if !self.climb(visits, relaxation.bound(), target) {
            return Step::Over;
        }
        relaxation.reprice(&self.price);
        if !self.turn_back(relaxation.bound()) {
            return Step::On;
        }
        relaxation.reprice(&self.price);
        Step::Back
    }

    /// Moves the prices: a node met too often becomes dearer, one not met cheaper. Returns whether there was anything
    /// to move, `bound` being short of `target`.
    fn climb(&mut self, visits: &[i32], bound: i64, target: f64) -> bool {
        let inner = 1..self.price.len() - 1;
        let mut square = 0.0;
        for node in inner.clone() {
            self.direction[node] = KEPT * self.direction[node] + f64::from(1 - visits[node]);
            square += self.direction[node] * self.direction[node];
        }
        let short = target - bound as f64;
        if square < 1e-9 || short <= 0.0 {
            return false;
        }
        let step = self.stride * short.max(1.0) / square;
        for node in inner {
            self.price[node] += step * self.direction[node];
        }
        true
    }

    /// Takes note of the bound at the present prices if it is the best; returns whether it is.
    pub(super) fn keep_if_best(&mut self, bound: i64) -> bool {
        let better = bound > self.best;
        if better {
            self.best = bound;
            self.best_price.copy_from_slice(&self.price);
        }
        better
    }

    /// Takes note of the bound; after too many without gain it goes back to the best prices with shorter steps, and
    /// returns true.
    fn turn_back(&mut self, bound: i64) -> bool {
        self.stale = if self.keep_if_best(bound) { 0 } else { self.stale + 1 };
        if self.stale < PATIENCE {
            return false;
        }
        self.stale = 0;
        self.stride *= SHRINK;
        self.price.copy_from_slice(&self.best_price);
        self.direction.fill(0.0);
        true
    }
}
