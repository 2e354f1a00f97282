//! Iterated local search on the set-up form: a short run of steps changes places with its neighbours.
//!
//! A step without a demand hands the configuration through, so a change of places is judged aspect by aspect from
//! the first and the last demand in each run: what stood before every place, and which step next demands it, is
//! kept for the order at hand.

use super::super::super::acyclic::Acyclic;
use super::super::super::random::{Random, chance};
use super::cost::{Configuration, Costs, MOST_ASPECTS};

/// Longest run moved, and the most places it is moved by.
const LONGEST: usize = 16;
const FARTHEST: usize = 200;
/// Most random exchanges in a round, their reach, and the first temperature in mean costs a step.
const KICKS: usize = 3;
const REACH: usize = 30;
const HEAT: f64 = 2.0;

/// Runs `[first, second)` and `[second, end)` change places.
#[derive(Clone, Copy)]
struct Exchange {
    first: usize,
    second: usize,
    end: usize,
}

const NEVER: u32 = u32::MAX;

/// One order under improvement, with the best seen.
pub(super) struct Improver {
    random: Random,
    order: Vec<usize>,
    place: Vec<usize>,
    /// For each place the end of its part, and where the part begins: no exchange crosses them.
    part: Vec<(usize, usize)>,
    cost: i64,
    best: Vec<usize>,
    best_cost: i64,
    /// Configuration before each place, and the place of the next demand of each aspect from each place on.
    standing: Vec<Configuration>,
    demand: Vec<[u32; MOST_ASPECTS]>,
    queue: Vec<usize>,
    queued: Vec<bool>,
    log: Vec<Exchange>,
    pub(super) work: u64,
}

impl Improver {
    /// `lengths` are the lengths of the parts that no exchange may cross.
    pub(super) fn new(costs: &Costs, order: Vec<usize>, lengths: &[usize], seed: u64) -> Improver {
        let mut part = Vec::with_capacity(order.len());
        for &length in lengths {
            let start = part.len();
            part.extend(std::iter::repeat_n((start, start + length), length));
        }
        let cost = costs.of(&order) as i64;
        let mut improver = Improver {
            random: Random::new(seed),
            place: vec![0; order.len()],
            part,
            cost,
            best: order.clone(),
            best_cost: cost,
            standing: vec![[0; MOST_ASPECTS]; order.len() + 1],
            demand: vec![[NEVER; MOST_ASPECTS]; order.len() + 1],
            queue: order.iter().rev().copied().collect(),
            queued: vec![true; order.len()],
            order,
            log: Vec::new(),
            work: 0,
        };
        improver.standing[0] = costs.start();
        improver.refresh(costs, 0, improver.order.len(), true);
        improver
    }

    pub(super) fn best(&self) -> (&[usize], u64) {
        (&self.best, self.best_cost as u64)
    }

    /// Takes over an order found elsewhere.
    pub(super) fn offer(&mut self, costs: &Costs, order: &[usize], cost: u64) {
        if (cost as i64) < self.best_cost {
            self.best_cost = cost as i64;
            self.best.copy_from_slice(order);
            self.restart(costs);
        }
    }

    fn restart(&mut self, costs: &Costs) {
        self.order.copy_from_slice(&self.best);
        self.cost = self.best_cost;
        self.refresh(costs, 0, self.order.len(), true);
    }

    /// Brings places, standing configurations and next demands up to date after the places `from..to` changed.
    fn refresh(&mut self, costs: &Costs, from: usize, to: usize, all: bool) {
        for at in from..to {
            self.place[self.order[at]] = at;
        }
        for at in from..self.order.len() {
            let (_, after) = costs.do_step(&self.standing[at], self.order[at]);
            if at + 1 > to && !all && self.standing[at + 1] == after {
                break;
            }
            self.standing[at + 1] = after;
        }
        for at in (0..to).rev() {
            let mut next = self.demand[at + 1];
            for demand in &costs.setups.demands[self.order[at]] {
                next[demand.aspect] = at as u32;
            }
            if at < from && !all && self.demand[at] == next {
                break;
            }
            self.demand[at] = next;
        }
    }

    fn apply(&mut self, costs: &Costs, Exchange { first, second, end }: Exchange) {
        self.order[first..end].rotate_left(second - first);
        self.refresh(costs, first, end, false);
    }

    fn undo(&mut self, costs: &Costs, Exchange { first, second, end }: Exchange) {
        self.apply(costs, Exchange { first, second: first + (end - second), end });
    }

    /// By how much the exchange raises the cost.
    fn rise(&self, costs: &Costs, Exchange { first, second, end }: Exchange) -> i64 {
        let mut rise = 0;
        for aspect in 0..costs.aspects() {
            let (in_first, in_second) = (self.demand[first][aspect], self.demand[second][aspect]);
            if in_first as usize >= second || in_second as usize >= end {
                continue;
            }
            let before = self.standing[first][aspect];
            let first_entry = costs.entry(self.order[in_first as usize], aspect);
            let first_exit = self.standing[second][aspect];
            let second_entry = costs.entry(self.order[in_second as usize], aspect);
            let second_exit = self.standing[end][aspect];
            let after = match self.demand[end][aspect] {
                NEVER => 0,
                place => costs.entry(self.order[place as usize], aspect),
            };
            let change = |from, to| costs.change(aspect, from, to) as i64;
            rise +=
                change(before, second_entry) + change(second_exit, first_entry) + change(first_exit, after)
                    - change(before, first_entry)
                    - change(first_exit, second_entry)
                    - change(second_exit, after);
        }
        if costs.setups.parting > 0 {
            let at = |place: usize| self.order.get(place).copied();
            let price = |step: Option<usize>, next| step.map_or(0, |step| costs.parting(step, next) as i64);
            let before = first.checked_sub(1).and_then(at);
            rise +=
                price(before, at(second)) + price(at(end - 1), at(first)) + price(at(second - 1), at(end))
                    - price(before, at(first))
                    - price(at(second - 1), at(second))
                    - price(at(end - 1), at(end));
        }
        rise
    }

    fn blocked(&self, neighbours: &[usize], from: usize, to: usize) -> bool {
        neighbours.iter().any(|&other| (from..to).contains(&self.place[other]))
    }

    /// Whether a step of the places `from..to` must come after the step at `place`.
    fn leads_into(&self, graph: &Acyclic, place: usize, from: usize, to: usize) -> bool {
        self.blocked(graph.graph().successors(self.order[place]), from, to)
    }

    fn comes_from(&self, graph: &Acyclic, place: usize, from: usize, to: usize) -> bool {
        self.blocked(graph.graph().predecessors(self.order[place]), from, to)
    }

    /// The exchange that lowers the cost most among those that move a run which begins or ends with `step`.
    fn best_exchange(&mut self, graph: &Acyclic, costs: &Costs, step: usize) -> Option<(i64, Exchange)> {
        let place = self.place[step];
        let (low, high) = self.part[place];
        let mut best: Option<(i64, Exchange)> = None;
        let mut work = 0;
        let mut consider = |improver: &Improver, exchange| {
            let rise = improver.rise(costs, exchange);
            if rise < best.map_or(0, |(rise, _)| rise) {
                best = Some((rise, exchange));
            }
        };
        for length in 1..=LONGEST {
            for start in [Some(place), (place + 1).checked_sub(length)] {
                let Some(start) = start.filter(|&start| start >= low && start + length <= high) else {
                    continue;
                };
                let stop = start + length;
                for first in (low.max(start.saturating_sub(FARTHEST))..start).rev() {
                    work += 1;
                    if self.leads_into(graph, first, start, stop) {
                        break;
                    }
                    consider(self, Exchange { first, second: start, end: stop });
                }
                for end in stop + 1..=high.min(stop + FARTHEST) {
                    work += 1;
                    if self.comes_from(graph, end - 1, start, stop) {
                        break;
                    }
                    consider(self, Exchange { first: start, second: stop, end });
                }
                if length == 1 {
                    break;
                }
            }
        }
        self.work += work * (2 + costs.aspects() as u64);
        best
    }

    fn enqueue_ends(&mut self, Exchange { first, second, end }: Exchange) {
        for at in [first.wrapping_sub(1), first, second - 1, second, end - 1, end] {
            if let Some(&step) = self.order.get(at)
                && !self.queued[step]
            {
                self.queued[step] = true;
                self.queue.push(step);
            }
        }
    }

    fn descend(&mut self, graph: &Acyclic, costs: &Costs, until: u64) {
        while let Some(step) = self.queue.pop() {
            self.queued[step] = false;
            if self.work >= until {
                continue;
            }
            while let Some((rise, exchange)) = self.best_exchange(graph, costs, step) {
                self.cost += rise;
                self.enqueue_ends(exchange);
                self.apply(costs, exchange);
                self.log.push(exchange);
                self.work += (exchange.end - exchange.first) as u64;
            }
        }
        if self.cost < self.best_cost {
            self.best_cost = self.cost;
            self.best.copy_from_slice(&self.order);
        }
    }

    fn kick(&mut self, graph: &Acyclic, costs: &Costs, near: usize) {
        let (low, high) = self.part[near];
        let (low, high) = (low.max(near.saturating_sub(REACH / 2)), high.min(near + REACH / 2));
        if high - low < 2 {
            return;
        }
        let second = low + 1 + self.random.below(high - low - 1);
        let wanted_first = 1 + self.random.below(second - low);
        let wanted_second = 1 + self.random.below(high - second);
        let (mut first, mut end) = (second - 1, second + 1);
        if self.leads_into(graph, first, second, end) {
            return;
        }
        while second - first < wanted_first && !self.leads_into(graph, first - 1, second, end) {
            first -= 1;
        }
        while end - second < wanted_second && !self.comes_from(graph, end, first, second) {
            end += 1;
        }
        let exchange = Exchange { first, second, end };
        self.cost += self.rise(costs, exchange);
        self.enqueue_ends(exchange);
        self.apply(costs, exchange);
        self.log.push(exchange);
        self.work += (end - first) as u64;
    }

    /// Spends `work` units in one round of annealing from the order at hand.
    pub(super) fn run(&mut self, graph: &Acyclic, costs: &Costs, work: u64) {
        let from = self.work;
        self.descend(graph, costs, from + work);
        let length = self.order.len();
        let heat = HEAT * self.best_cost as f64 / length as f64;
        while self.work < from + work {
            let left = 1.0 - (self.work - from) as f64 / work as f64;
            let before = self.cost;
            self.log.clear();
            let near = self.random.below(length);
            for _ in 0..1 + self.random.below(KICKS) {
                self.kick(graph, costs, near);
            }
            self.work += 10;
            self.descend(graph, costs, u64::MAX);
            let worse = (self.cost - before) as f64;
            if worse > 0.0 && self.random.unit() >= chance(worse / (heat * left * left)) {
                for exchange in std::mem::take(&mut self.log).into_iter().rev() {
                    self.undo(costs, exchange);
                }
                self.cost = before;
            }
        }
        self.restart(costs);
    }
}
