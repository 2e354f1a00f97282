//! Search over order ideals for the set-up form: states are (steps done, last step, configuration), part after
//! part, the cheapest way to each kept.
//!
//! With the triangle inequality, the author's next step (with no price on parting: any step) that can be done
//! without a change is done at once, since moving it forward costs nothing; so the states branch only where there
//! is something to decide. If no layer outgrows its allowance the answer is proved; otherwise it is a beam, and the
//! least bound among the states dropped still bounds every order. Each part may take its share of the work by its length,
//! and what the parts before it left over; one that takes more is finished as the order at hand has it.

use super::cost::{Configuration, Costs, MOST_ASPECTS};
use super::parts::Part;

/// What one pass found.
pub(super) struct Outcome {
    /// The cheapest order met that is cheaper than the known one, and its cost.
    pub(super) better: Option<(Vec<usize>, u64)>,
    /// No order costs less, as far as this pass can tell; at most the known or the better cost.
    pub(super) bound: u64,
    /// Whether nothing was dropped.
    pub(super) complete: bool,
    /// Units of work it took.
    pub(super) work: u64,
}

#[derive(Clone)]
struct State {
    done: Vec<u64>,
    last: usize,
    now: Configuration,
    cost: u64,
    /// Lower bound on any order through the state.
    least: u64,
    /// Index of its last step in the trace.
    trace: usize,
}

const NOWHERE: usize = usize::MAX;

/// Units of work that a transition counts.
const TRANSITION: u64 = 12;

/// States of one layer with a table from their key.
#[derive(Default)]
struct Layer {
    states: Vec<State>,
    slots: Vec<u32>,
    full_above: Option<u64>,
}

fn hash(done: &[u64], last: usize, now: &Configuration) -> usize {
    let mut mixed = last as u64;
    let halves = [0, 8].map(|at| now[at..at + 8].iter().fold(0, |word, &byte| word << 8 | u64::from(byte)));
    for &word in done.iter().chain(&halves) {
        mixed = (mixed ^ word).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        mixed ^= mixed >> 29;
    }
    (mixed.wrapping_mul(0xbf58_476d_1ce4_e5b9) >> 20) as usize
}

impl Layer {
    fn rebuild(&mut self) {
        let size = (self.states.len() * 4).next_power_of_two().max(64);
        self.slots.clear();
        self.slots.resize(size, u32::MAX);
        for (index, state) in self.states.iter().enumerate() {
            let mut slot = hash(&state.done, state.last, &state.now) & (size - 1);
            while self.slots[slot] != u32::MAX {
                slot = (slot + 1) & (size - 1);
            }
            self.slots[slot] = index as u32;
        }
    }

    /// Adds the state, or improves the one with its key. A layer of twice the width is cut to the width.
    fn add(&mut self, state: State, width: usize, dropped: &mut u64) {
        if self.full_above.is_some_and(|limit| state.least > limit) {
            *dropped = (*dropped).min(state.least);
            return;
        }
        if self.slots.len() < (self.states.len() + 1) * 2 {
            self.rebuild();
        }
        let mask = self.slots.len() - 1;
        let mut slot = hash(&state.done, state.last, &state.now) & mask;
        while self.slots[slot] != u32::MAX {
            let other = &mut self.states[self.slots[slot] as usize];
            if other.last == state.last && other.now == state.now && other.done == state.done {
                if state.cost < other.cost {
                    *other = state;
                }
                return;
            }
            slot = (slot + 1) & mask;
        }
        self.slots[slot] = self.states.len() as u32;
        self.states.push(state);
        if self.states.len() >= width * 2 {
            self.cut(width, dropped);
        }
    }

    fn cut(&mut self, width: usize, dropped: &mut u64) {
        if self.states.len() <= width {
            return;
        }
        self.states.sort_by(|a, b| {
            (a.least, a.cost, a.last, &a.now, &a.done).cmp(&(b.least, b.cost, b.last, &b.now, &b.done))
        });
        *dropped = (*dropped).min(self.states[width].least);
        self.states.truncate(width);
        self.full_above = self.states.last().map(|state| state.least);
        self.rebuild();
    }
}

/// How much a pass may do.
#[derive(Clone, Copy)]
pub(super) struct Allowance<'a> {
    /// States of a layer.
    pub(super) width: usize,
    /// Units of work.
    pub(super) work: u64,
    /// The place of each step in the order at hand.
    pub(super) places: &'a [usize],
}

/// Searches for an order cheaper than `known`.
pub(super) fn search(costs: &Costs, parts: &[Part], known: u64, allowance: Allowance<'_>) -> Outcome {
    pass(costs, parts, costs.start(), known, allowance, true)
}

/// What the steps of one part cost at least among themselves, whatever the configuration they begin in, and the work
/// to find it.
pub(super) fn least_alone(costs: &Costs, part: &Part, allowance: Allowance<'_>) -> (u64, u64) {
    let outcome = pass(costs, std::slice::from_ref(part), [0; MOST_ASPECTS], u64::MAX, allowance, false);
    (outcome.bound - part.rest, outcome.work)
}

/// One pass over `parts` from the configuration `start`; `ends` says that nothing comes after them.
fn pass(
    costs: &Costs,
    parts: &[Part],
    start: Configuration,
    known: u64,
    Allowance { width, work: most, places }: Allowance<'_>,
    ends: bool,
) -> Outcome {
    let rest_after = parts.last().map_or(0, |part| part.rest);
    let mut dropped = u64::MAX;
    let mut work = 0;
    let mut steps_left: usize = parts.iter().map(|part| part.steps.len()).sum();
    // Each entry: the entry before, and the step done.
    let mut trace: Vec<(usize, usize)> = Vec::new();
    let mut entering =
        vec![State { done: Vec::new(), last: NOWHERE, now: start, cost: 0, least: 0, trace: NOWHERE }];
    for part in parts {
        let count = part.steps.len();
        let until = work + share(most.saturating_sub(work), count, steps_left);
        steps_left -= count;
        let mut layers: Vec<Layer> = (0..=count).map(|_| Layer::default()).collect();
        for mut state in entering {
            state.done = vec![0; count.div_ceil(64)];
            layers[0].add(state, width, &mut dropped);
        }
        for done in 0..count {
            let mut layer = std::mem::take(&mut layers[done]);
            layer.cut(width, &mut dropped);
            if work > until && !layer.states.is_empty() {
                let others = layers[done..].iter().flat_map(|layer| &layer.states);
                dropped = layer.states.iter().chain(others).map(|state| state.least).fold(dropped, u64::min);
                let first = layer.states.into_iter().min_by_key(|state| (state.least, state.trace));
                layers.iter_mut().for_each(|layer| *layer = Layer::default());
                if let Some(mut state) = first {
                    finish_as_written(costs, part, &mut state, places, &mut trace);
                    work += TRANSITION * (count - done) as u64;
                    layers[count].add(state, width, &mut dropped);
                }
                break;
            }
            for state in layer.states {
                expand(costs, part, state, done, known, &mut trace, &mut work, &mut |state, done| {
                    layers[done].add(state, width, &mut dropped);
                });
            }
        }
        entering = std::mem::take(&mut layers[count].states);
    }
    let finish = |state: &State| {
        state.cost + if ends && state.last != NOWHERE { costs.parting(state.last, None) } else { 0 }
    };
    let best = entering.iter().min_by_key(|state| (finish(state), state.trace));
    let better = best.filter(|state| finish(state) < known).map(|state| {
        let mut order = Vec::new();
        let mut at = state.trace;
        while at != NOWHERE {
            order.push(trace[at].1);
            at = trace[at].0;
        }
        order.reverse();
        (order, finish(state))
    });
    let reached = better.as_ref().map_or(known, |(_, cost)| *cost + rest_after);
    Outcome { better, bound: reached.min(dropped), complete: dropped == u64::MAX, work }
}

/// What a part of so many steps may take of the work that is left for it and those after it.
pub(super) fn share(left: u64, steps: usize, steps_left: usize) -> u64 {
    let share = u128::from(left) * steps as u128 / steps_left.max(1) as u128;
    u64::try_from(share).unwrap_or(left)
}

/// Does what is left of a part in the order at hand.
fn finish_as_written(
    costs: &Costs,
    part: &Part,
    state: &mut State,
    places: &[usize],
    trace: &mut Vec<(usize, usize)>,
) {
    let left = (0..part.steps.len()).filter(|index| state.done[index / 64] >> (index % 64) & 1 == 0);
    let mut left: Vec<usize> = left.collect();
    left.sort_by_key(|index| places[part.steps[*index]]);
    for index in left {
        let step = part.steps[index];
        let (change, now) = costs.do_step(&state.now, step);
        let parted = if state.last == NOWHERE { 0 } else { costs.parting(state.last, Some(step)) };
        state.done[index / 64] |= 1 << (index % 64);
        let (last, price) = leave(costs, part, &state.done, index);
        state.cost += change + parted + price;
        (state.last, state.now) = (last, now);
        trace.push((state.trace, step));
        state.trace = trace.len() - 1;
    }
    state.least = state.least.max(state.cost + part.rest);
}

/// The last step as far as it matters to what follows, and the price that is certain: a step whose author's follower
/// is done already, or that has none, need not be told apart.
fn leave(costs: &Costs, part: &Part, done: &[u64], index: usize) -> (usize, u64) {
    let step = part.steps[index];
    if costs.setups.parting == 0 || costs.setups.follower[step].is_none() {
        return (NOWHERE, 0);
    }
    match part.follower[index] {
        Some(follower) if done[follower / 64] >> (follower % 64) & 1 == 1 => {
            (NOWHERE, costs.parting(step, None))
        }
        _ => (step, 0),
    }
}

/// Hands on every state that one step makes of `state` and that can still beat `known`.
#[allow(clippy::too_many_arguments, reason = "one call site; the pieces belong to different owners")]
fn expand(
    costs: &Costs,
    part: &Part,
    mut state: State,
    mut done: usize,
    known: u64,
    trace: &mut Vec<(usize, usize)>,
    work: &mut u64,
    hand_on: &mut dyn FnMut(State, usize),
) {
    let is_done = |set: &[u64], index: usize| set[index / 64] >> (index % 64) & 1 == 1;
    let can = |set: &[u64], index: usize| {
        !is_done(set, index) && part.before[index].iter().all(|&b| is_done(set, b))
    };
    // Steps that cost nothing to do now.
    let mut moved = false;
    while costs.closure_is_free && done < part.steps.len() {
        let follower = if state.last == NOWHERE { None } else { costs.setups.follower[state.last] };
        let follower = follower.and_then(|step| part.index_of(step));
        let is_free = |index: usize| {
            let step = part.steps[index];
            let settled =
                |d: &super::cost::Demand| d.entry == d.exit && state.now[d.aspect] == d.entry as u8 + 1;
            can(&state.done, index) && costs.setups.demands[step].iter().all(settled)
        };
        *work += TRANSITION + part.scan;
        let free = if costs.setups.parting == 0 {
            (0..part.steps.len()).find(|&index| is_free(index))
        } else {
            follower.filter(|&index| is_free(index))
        };
        let Some(index) = free else { break };
        state.done[index / 64] |= 1 << (index % 64);
        trace.push((state.trace, part.steps[index]));
        state.trace = trace.len() - 1;
        let price;
        (state.last, price) = leave(costs, part, &state.done, index);
        state.cost += price;
        done += 1;
        moved = true;
    }
    if moved {
        state.least = state.least.max(state.cost + part.bound(&state.done, &state.now) + part.rest);
        hand_on(state, done);
        return;
    }
    *work += part.scan;
    for (index, &step) in part.steps.iter().enumerate() {
        if !can(&state.done, index) {
            continue;
        }
        *work += TRANSITION + part.bounding;
        let (change, now) = costs.do_step(&state.now, step);
        let parted = if state.last == NOWHERE { 0 } else { costs.parting(state.last, Some(step)) };
        let mut set = state.done.clone();
        set[index / 64] |= 1 << (index % 64);
        let (last, price) = leave(costs, part, &set, index);
        let cost = state.cost + change + parted + price;
        let least = state.least.max(cost + part.bound(&set, &now) + part.rest);
        if least >= known {
            continue;
        }
        trace.push((state.trace, step));
        hand_on(State { done: set, last, now, cost, least, trace: trace.len() - 1 }, done + 1);
    }
}
