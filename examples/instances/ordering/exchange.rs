//! Iterated local search on a matrix problem: the moves of `segments` until none helps, then a few random ones begin
//! the next round, which is kept or undone by the rule of annealing.

use super::instance::Instance;
use super::random::{Random, chance};
use super::segments::{Line, Move};

/// Most random moves at the start of a round, the places they reach over, and the temperature at which annealing
/// begins, in mean arc costs.
const KICKS: usize = 3;
const REACH: usize = 40;
const HEAT: f64 = 2.0;

/// One order under improvement, with the best seen.
pub(super) struct Improver {
    line: Line,
    random: Random,
    cost: i64,
    best: Vec<u32>,
    best_cost: i64,
    queue: Vec<u32>,
    queued: Vec<bool>,
    log: Vec<Move>,
    work: u64,
}

impl Improver {
    pub(super) fn new(instance: Instance, order: Vec<u32>, seed: u64) -> Improver {
        let nodes = order.len();
        let cost = instance.length(&order);
        let mut improver = Improver {
            random: Random::new(seed),
            cost,
            best: order.clone(),
            queue: order.clone(),
            queued: vec![true; nodes],
            line: Line::new(instance, order),
            best_cost: i64::MAX,
            log: Vec::new(),
            work: 0,
        };
        improver.descend();
        improver.keep_if_best();
        improver
    }

    pub(super) fn instance(&self) -> &Instance {
        &self.line.instance
    }

    pub(super) fn best(&self) -> (&[u32], i64) {
        (&self.best, self.best_cost)
    }

    pub(super) fn work(&self) -> u64 {
        self.work
    }

    /// Takes over an order found elsewhere if it is better than the best.
    pub(super) fn offer(&mut self, order: &[u32], cost: i64) {
        if cost < self.best_cost {
            self.best.copy_from_slice(order);
            self.best_cost = cost;
            self.restart();
        }
    }

    fn restart(&mut self) {
        self.line.set(&self.best);
        self.cost = self.best_cost;
    }

    fn keep_if_best(&mut self) {
        if self.cost < self.best_cost {
            self.best_cost = self.cost;
            self.best.copy_from_slice(&self.line.order);
        }
    }

    fn enqueue(&mut self, node: u32) {
        if !self.queued[node as usize] {
            self.queued[node as usize] = true;
            self.queue.push(node);
        }
    }

    fn enqueue_ends(&mut self, step: Move) {
        for at in [step.first - 1, step.first, step.second - 1, step.second, step.end - 1, step.end] {
            self.enqueue(self.line.order[at]);
        }
    }

    fn descend(&mut self) {
        while let Some(node) = self.queue.pop() {
            self.queued[node as usize] = false;
            let mut work = 0;
            while let Some((gain, step)) = self.line.best_move(node, &mut work) {
                self.cost -= gain;
                self.enqueue_ends(step);
                self.line.apply(step);
                self.log.push(step);
            }
            self.work += work;
        }
    }

    /// A random exchange that precedence allows, in a stretch of at most `reach` places from `near`.
    fn kick(&mut self, near: usize, reach: usize) -> bool {
        let last = self.line.order.len() - 1;
        if last < 3 {
            return false;
        }
        let low = near.saturating_sub(reach / 2).max(1);
        let high = (low + reach).min(last);
        if high - low < 2 {
            return false;
        }
        let second = low + 1 + self.random.below(high - low - 1);
        let wanted_first = 1 + self.random.below(second - low);
        let wanted_second = 1 + self.random.below(high - second);
        let mut end = second + 1;
        let mut first = second - 1;
        if self.line.leads_into(self.line.order[first], second, end) {
            return false;
        }
        // Grow both segments as far as wanted, or as precedence allows.
        while second - first < wanted_first && !self.line.leads_into(self.line.order[first - 1], second, end)
        {
            first -= 1;
        }
        while end - second < wanted_second
            && end < last
            && !self.line.comes_from(self.line.order[end], first, second)
        {
            end += 1;
        }
        self.work += (end - first) as u64;
        let step = Move::exchange(first, second, end);
        self.cost -= self.line.gain(step);
        self.enqueue_ends(step);
        self.line.apply(step);
        self.log.push(step);
        true
    }

    /// Spends `work` units in one round of annealing, from the order at hand.
    pub(super) fn run(&mut self, work: u64) {
        let from = self.work;
        let length = self.line.order.len();
        let reach = REACH.min(length);
        let heat = HEAT * self.best_cost as f64 / length as f64;
        while self.work < from + work {
            let left = 1.0 - (self.work - from) as f64 / work as f64;
            let temperature = heat * left * left;
            let before = self.cost;
            self.log.clear();
            let near = self.random.below(length);
            for _ in 0..1 + self.random.below(KICKS) {
                self.kick(near, reach);
            }
            self.work += 10;
            self.descend();
            self.keep_if_best();
            let worse = (self.cost - before) as f64;
            if worse > 0.0 && self.random.unit() >= chance(worse / temperature) {
                for step in std::mem::take(&mut self.log).into_iter().rev() {
                    self.line.undo(step);
                }
                self.cost = before;
            }
        }
        self.restart();
    }
}
