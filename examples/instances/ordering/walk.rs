//! A lower bound from walks: at each place stands a node whose window holds that place, each step costs its arc,
//! and nodes may be met twice or never, but at a price that draws each towards once.
//!
//! The prices are Lagrangean multipliers found in `ascent`; the walk by place is the state-space relaxation of
//! Christofides, Mingozzi and Toth (1981). Numbers are scaled integers, so that the bound
//! holds exactly whatever the prices.

use super::ascent::{Ascent, Relaxation, Step};
use super::assignment::assign;
use super::instance::{Instance, NEVER};

/// A stride below which the climb ends.
const SHORTEST: f64 = 0.002;
/// More than any walk costs.
pub(super) const FAR: i32 = 1 << 29;

/// The cheapest way to go on from each node at each place, under one set of prices.
pub(super) struct Walk {
    pub(super) nodes: usize,
    /// Costs are multiplied by this.
    pub(super) scale: i32,
    /// Price paid back on entering each node; the ends have none.
    pub(super) price: Vec<i32>,
    /// Sum of all prices.
    pub(super) total: i64,
    /// Scaled cost of each arc less the price of its head, or `FAR`.
    arc: Vec<i32>,
    /// At `place * nodes + node`: the least from there to the end, or `FAR`.
    pub(super) to_go: Vec<i32>,
    /// For each place, the first node that can take it and one more than the last.
    range: Vec<(usize, usize)>,
    /// Word operations spent.
    pub(super) work: u64,
}

impl Walk {
    /// The walk under the prices of the assignment relaxation. `most` is the cost of a known order.
    pub(super) fn new(instance: &Instance, most: i64) -> Walk {
        let nodes = instance.nodes;
        let scale = ((1_i64 << 26) / (most + 1)).clamp(1, 1024) as i32;
        let mut range = vec![(usize::MAX, 0); nodes];
        let mut to_go = vec![0; nodes * nodes];
        for place in 0..nodes {
            for node in 0..nodes {
                let window = &instance.windows[node];
                if (window.earliest..=window.latest).contains(&(place + 1)) {
                    range[place] = (range[place].0.min(node), node + 1);
                } else {
                    to_go[place * nodes + node] = FAR;
                }
            }
        }
        let prices = assign(instance, most + 1);
        let mut walk =
            Walk { nodes, scale, price: vec![0; nodes], total: 0, arc: Vec::new(), to_go, range, work: 0 };
        let price: Vec<f64> = (0..nodes)
            .map(|node| {
                let inner = node != 0 && node != nodes - 1;
                if inner {
                    ((prices.leave[node] + prices.enter[node]) * i64::from(scale)) as f64
                } else {
                    0.0
                }
            })
            .collect();
        walk.arc = (0..nodes * nodes)
            .map(|index| {
                let cost = instance.cost[index];
                if cost >= NEVER { FAR } else { (i64::from(cost).min(most + 1) * i64::from(scale)) as i32 }
            })
            .collect();
        walk.set_prices(&price);
        walk.fill();
        walk
    }

    fn set_prices(&mut self, wanted: &[f64]) {
        let nodes = self.nodes;
        let limit = f64::from(1 << 27);
        let price: Vec<i32> = wanted.iter().map(|&price| price.clamp(-limit, limit) as i32).collect();
        for row in self.arc.chunks_exact_mut(nodes) {
            for ((arc, new), old) in row.iter_mut().zip(&price).zip(&self.price) {
                if *arc < FAR {
                    *arc += old - new;
                }
            }
        }
        self.total = price.iter().map(|&price| i64::from(price)).sum();
        self.price = price;
    }

    /// Fills `to_go` under the present prices.
    fn fill(&mut self) {
        let nodes = self.nodes;
        for place in (0..nodes - 1).rev() {
            let (low, high) = self.range[place + 1];
            let (here, next) = self.to_go[place * nodes..(place + 2) * nodes].split_at_mut(nodes);
            let (first, last) = self.range[place];
            for (node, rest) in here.iter_mut().enumerate().take(last).skip(first) {
                if *rest >= FAR {
                    continue;
                }
                let row = &self.arc[node * nodes + low..node * nodes + high];
                let least =
                    row.iter().zip(&next[low..high]).fold(FAR, |least, (arc, rest)| least.min(arc + rest));
                *rest = least.min(FAR - 1);
            }
            self.work += ((last - first) * (high - low) / 8 + 1) as u64;
        }
    }

    /// The bound, scaled.
    pub(super) fn bound(&self) -> i64 {
        i64::from(self.to_go[0]) + self.total
    }

    /// How often the cheapest walk meets each node.
    fn visits(&self) -> Vec<i32> {
        let nodes = self.nodes;
        let mut visits = vec![0; nodes];
        let mut node = 0;
        visits[0] = 1;
        for place in 1..nodes {
            let (low, high) = self.range[place];
            let next = &self.to_go[place * nodes..(place + 1) * nodes];
            let row = &self.arc[node * nodes..(node + 1) * nodes];
            node = (low..high).min_by_key(|&next_node| row[next_node] + next[next_node]).unwrap_or(nodes - 1);
            visits[node] += 1;
        }
        visits
    }

    /// Improves the prices in `steps` subgradient steps; keeps the best found.
    pub(super) fn improve(&mut self, most: i64, steps: usize) {
        let target = (most * i64::from(self.scale)) as f64;
        let mut ascent = Ascent::new(&self.price, self.bound(), 1.0);
        for _ in 0..steps {
            let visits = self.visits();
            if ascent.stride < SHORTEST || ascent.step(self, &visits, target) == Step::Over {
                break;
            }
        }
        self.reprice(&ascent.best_price);
    }
}

impl Relaxation for Walk {
    fn reprice(&mut self, wanted: &[f64]) {
        self.set_prices(wanted);
        self.fill();
    }

    fn bound(&self) -> i64 {
        Walk::bound(self)
    }
}
