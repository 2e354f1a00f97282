//! One step of an order put elsewhere, all others staying: whether that is allowed, and what it costs.
//!
//! Only the places between are walked, and those behind them until the set-up is again what it was.

use super::Problem;
use super::setups::Configuration;

/// An order with what is needed to ask about its steps one by one.
pub struct Shifts<'a> {
    problem: &'a Problem,
    order: &'a [usize],
    place: Vec<usize>,
    /// The configuration before each place and behind the last, and what changes cost up to there.
    standing: Vec<(Configuration, u64)>,
}

/// Why a step can't be put past its neighbour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bar {
    /// Precedence holds it to this step.
    Step(usize),
    /// There its section ends.
    Section,
}

impl<'a> Shifts<'a> {
    /// Makes ready; `order` is one that the problem allows.
    pub fn new(problem: &'a Problem, order: &'a [usize]) -> Shifts<'a> {
        let mut place = vec![0; order.len()];
        for (at, &step) in order.iter().enumerate() {
            place[step] = at;
        }
        let mut now = (problem.costs.start(), 0);
        let mut standing = vec![now];
        for &step in order {
            let (cost, after) = problem.costs.do_step(&now.0, step);
            now = (after, now.1 + cost);
            standing.push(now);
        }
        Shifts { problem, order, place, standing }
    }

    /// Where a step stands.
    pub fn place(&self, step: usize) -> usize {
        self.place[step]
    }

    /// What bars the step at `from` from the place of the step at `over`, which is next to it or farther the same way;
    /// nothing if it could change places with that one.
    pub fn bar(&self, from: usize, over: usize) -> Option<Bar> {
        let (step, other) = (self.order[from], self.order[over]);
        let graph = self.problem.graph.graph();
        let (first, then) = if over < from { (other, step) } else { (step, other) };
        if graph.states(first, then) {
            return Some(Bar::Step(other));
        }
        let costs = &self.problem.costs;
        (costs.section(step) != costs.section(other)).then_some(Bar::Section)
    }

    /// What it costs more, or less, to have the step at `from` at place `to`, the others closing up; nothing if
    /// precedence or a section forbids it.
    pub fn extra(&self, from: usize, to: usize) -> Option<i64> {
        let mut passed = from.min(to)..=from.max(to);
        if passed.any(|over| over != from && self.bar(from, over).is_some()) {
            return None;
        }
        Some(if from == to { 0 } else { self.joins(from, to) + self.changes(from, to) })
    }

    /// The difference in what the pairs of neighbours cost.
    fn joins(&self, from: usize, to: usize) -> i64 {
        let at = |place: Option<usize>| place.and_then(|place| self.order.get(place)).copied();
        let join = |before: Option<usize>, behind: Option<usize>| -> i64 {
            before.map_or(0, |before| self.problem.costs.parting(before, behind) as i64)
        };
        let (step, before, behind) = (at(Some(from)), at(from.checked_sub(1)), at(Some(from + 1)));
        // It comes between these two.
        let (left, right) =
            if to < from { (at(to.checked_sub(1)), at(Some(to))) } else { (at(Some(to)), at(Some(to + 1))) };
        join(before, behind) + join(left, step) + join(step, right)
            - join(before, step)
            - join(step, behind)
            - join(left, right)
    }

    /// The difference in what changes of set-up cost.
    fn changes(&self, from: usize, to: usize) -> i64 {
        let (low, high) = (from.min(to), from.max(to));
        let others = |range: std::ops::RangeInclusive<usize>| self.order[range].iter().copied();
        let walked: Vec<usize> = if to < from {
            std::iter::once(self.order[from]).chain(others(low..=high - 1)).collect()
        } else {
            others(low + 1..=high).chain(std::iter::once(self.order[from])).collect()
        };
        let (mut now, before) = self.standing[low];
        let mut total = before;
        let mut place = low;
        let rest = self.order[high + 1..].iter().copied();
        for step in walked.into_iter().chain(rest) {
            // From where nothing differs any more the rest costs what it did.
            if place > high && now == self.standing[place].0 {
                break;
            }
            let (cost, after) = self.problem.costs.do_step(&now, step);
            total += cost;
            now = after;
            place += 1;
        }
        total as i64 - self.standing[place].1 as i64
    }
}
