//! Iterated local search on a matrix problem: adjacent segments change places until no such exchange helps, then a
//! few random exchanges begin the next round.
//!
//! The exchange keeps the direction of every segment (path-preserving 3-exchange, Gambardella and Dorigo 2000), so
//! with asymmetric costs its gain is six look-ups, and it keeps precedence if no edge leads from the first segment
//! to the second.

use super::instance::Instance;
use super::random::Random;

/// Segments `[first, second)` and `[second, end)` change places.
#[derive(Clone, Copy)]
struct Exchange {
    first: usize,
    second: usize,
    end: usize,
}

/// One order under improvement, with the best seen.
pub(super) struct Improver {
    instance: Instance,
    random: Random,
    order: Vec<u32>,
    place: Vec<u32>,
    cost: i64,
    best: Vec<u32>,
    best_cost: i64,
    queue: Vec<u32>,
    queued: Vec<bool>,
    log: Vec<Exchange>,
    work: u64,
}

impl Improver {
    pub(super) fn new(instance: Instance, order: Vec<u32>, seed: u64) -> Improver {
        let cost = instance.length(&order);
        let mut place = vec![0; order.len()];
        for (at, &node) in order.iter().enumerate() {
            place[node as usize] = at as u32;
        }
        let mut improver = Improver {
            instance,
            random: Random::new(seed),
            best: order.clone(),
            queue: order.clone(),
            queued: vec![true; order.len()],
            order,
            place,
            cost,
            best_cost: i64::MAX,
            log: Vec::new(),
            work: 0,
        };
        improver.descend();
        improver.keep_if_best();
        improver.log.clear();
        improver
    }

    pub(super) fn instance(&self) -> &Instance {
        &self.instance
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
        self.order.copy_from_slice(&self.best);
        self.cost = self.best_cost;
        for (at, &node) in self.order.iter().enumerate() {
            self.place[node as usize] = at as u32;
        }
    }

    fn keep_if_best(&mut self) {
        if self.cost < self.best_cost {
            self.best_cost = self.cost;
            self.best.copy_from_slice(&self.order);
        }
    }

    fn apply(&mut self, exchange: Exchange) {
        let Exchange { first, second, end } = exchange;
        self.order[first..end].rotate_left(second - first);
        for at in first..end {
            self.place[self.order[at] as usize] = at as u32;
        }
    }

    fn undo(&mut self, exchange: Exchange) {
        let Exchange { first, second, end } = exchange;
        self.apply(Exchange { first, second: first + (end - second), end });
    }

    fn arc(&self, x: u32, y: u32) -> i64 {
        i64::from(self.instance.arc(x as usize, y as usize))
    }

    fn gain(&self, Exchange { first, second, end }: Exchange) -> i64 {
        let at = &self.order;
        self.arc(at[first - 1], at[first])
            + self.arc(at[second - 1], at[second])
            + self.arc(at[end - 1], at[end])
            - self.arc(at[first - 1], at[second])
            - self.arc(at[end - 1], at[first])
            - self.arc(at[second - 1], at[end])
    }

    fn enqueue(&mut self, node: u32) {
        if !self.queued[node as usize] {
            self.queued[node as usize] = true;
            self.queue.push(node);
        }
    }

    fn enqueue_ends(&mut self, Exchange { first, second, end }: Exchange) {
        for at in [first - 1, first, second - 1, second, end - 1, end] {
            self.enqueue(self.order[at]);
        }
    }

    /// Whether an edge leads from `node` into the places `from..to`.
    fn leads_into(&self, node: u32, from: usize, to: usize) -> bool {
        self.instance
            .graph
            .graph()
            .successors(node as usize)
            .iter()
            .any(|&next| (from..to).contains(&(self.place[next] as usize)))
    }

    /// Whether an edge leads to `node` from the places `from..to`.
    fn comes_from(&self, node: u32, from: usize, to: usize) -> bool {
        self.instance
            .graph
            .graph()
            .predecessors(node as usize)
            .iter()
            .any(|&last| (from..to).contains(&(self.place[last] as usize)))
    }

    /// The best exchange that gives `node` a nearer follower.
    fn best_exchange(&self, node: u32, work: &mut u64) -> Option<(i64, Exchange)> {
        let instance = &self.instance;
        let here = self.place[node as usize] as usize;
        if here + 1 >= self.order.len() {
            return None;
        }
        let now = self.arc(node, self.order[here + 1]);
        let mut best: Option<(i64, Exchange)> = None;
        let mut best_gain = 0;
        for &near in &instance.nearest[node as usize] {
            if self.arc(node, near) >= now {
                break;
            }
            let there = self.place[near as usize] as usize;
            if there > here + 1 {
                // `node` before the first segment, `near` at the head of the second.
                let (first, second) = (here + 1, there);
                for end in second + 1..self.order.len() {
                    *work += 1;
                    if self.comes_from(self.order[end - 1], first, second) {
                        break;
                    }
                    let gain = self.gain(Exchange { first, second, end });
                    if gain > best_gain {
                        best_gain = gain;
                        best = Some((gain, Exchange { first, second, end }));
                    }
                }
                // `node` at the tail of the first segment, `near` behind the second.
                let (second, end) = (here + 1, there);
                for first in (1..second).rev() {
                    *work += 1;
                    if self.leads_into(self.order[first], second, end) {
                        break;
                    }
                    let gain = self.gain(Exchange { first, second, end });
                    if gain > best_gain {
                        best_gain = gain;
                        best = Some((gain, Exchange { first, second, end }));
                    }
                }
            } else if there >= 1 && there < here {
                // `node` at the tail of the second segment, `near` at the head of the first.
                let (first, end) = (there, here + 1);
                let mut reach = 0;
                for second in first + 1..end {
                    *work += 1;
                    for &next in instance.graph.graph().successors(self.order[second - 1] as usize) {
                        let place = self.place[next] as usize;
                        if place < end {
                            reach = reach.max(place);
                        }
                    }
                    if reach == here {
                        break;
                    }
                    if reach >= second {
                        continue;
                    }
                    let gain = self.gain(Exchange { first, second, end });
                    if gain > best_gain {
                        best_gain = gain;
                        best = Some((gain, Exchange { first, second, end }));
                    }
                }
            }
        }
        best
    }

    fn descend(&mut self) {
        while let Some(node) = self.queue.pop() {
            self.queued[node as usize] = false;
            let mut work = 0;
            while let Some((gain, exchange)) = self.best_exchange(node, &mut work) {
                self.cost -= gain;
                self.enqueue_ends(exchange);
                self.apply(exchange);
                self.log.push(exchange);
            }
            self.work += work;
        }
    }

    /// A random exchange that precedence allows, in a stretch of at most `reach` places from `near`.
    fn kick(&mut self, near: usize, reach: usize) -> bool {
        let last = self.order.len() - 1;
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
        if self.leads_into(self.order[first], second, end) {
            return false;
        }
        // Grow both segments as far as wanted, or as precedence allows.
        while second - first < wanted_first && !self.leads_into(self.order[first - 1], second, end) {
            first -= 1;
        }
        while end - second < wanted_second && end < last && !self.comes_from(self.order[end], first, second) {
            end += 1;
        }
        self.work += (end - first) as u64;
        let exchange = Exchange { first, second, end };
        self.cost -= self.gain(exchange);
        self.enqueue_ends(exchange);
        self.apply(exchange);
        self.log.push(exchange);
        true
    }

    /// Spends `work` units in one round of annealing, from the order at hand.
    pub(super) fn run(&mut self, work: u64) {
        let from = self.work;
        let length = self.order.len();
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
                for exchange in std::mem::take(&mut self.log).into_iter().rev() {
                    self.undo(exchange);
                }
                self.cost = before;
            }
        }
        self.restart();
    }
}

/// Most random exchanges at the start of a round, the places they reach over, and the temperature at which
/// annealing begins, in mean arc costs.
const KICKS: usize = 3;
const REACH: usize = 50;
const HEAT: f64 = 2.0;

/// e to the power of `-x`, from multiplications alone: the library's differs between platforms in the last bit.
pub(in crate::sequence) fn chance(x: f64) -> f64 {
    if x.is_nan() || x > 40.0 {
        return 0.0;
    }
    let mut power = 1.0 - x / 1024.0;
    for _ in 0..10 {
        power *= power;
    }
    power
}
