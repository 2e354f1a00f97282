//! A problem cut at the places where every order has done the same steps: each part is a search of its own, and
//! only the configuration and the last step pass between them.

use super::super::super::acyclic::Acyclic;
use super::super::super::precedence::Precedence;
use super::super::super::windows::windows;
use super::cost::{Costs, MOST_ASPECTS};

/// One part: steps in a row of places that no order mixes with others.
pub(super) struct Part {
    /// The steps by their author's rank; everything below counts in indices of this list.
    pub(super) steps: Vec<usize>,
    /// Each step with its index in `steps`, by step.
    sorted: Vec<(usize, usize)>,
    /// For each step, the steps of this part directly before it.
    pub(super) before: Vec<Vec<usize>>,
    /// For each step, its author's follower if that is in this part.
    pub(super) follower: Vec<Option<usize>>,
    /// For each aspect, the values entered here: one more than the value, the least cost of coming to it, and the
    /// steps that demand it as words of bits.
    pub(super) entered: Vec<Vec<(u8, u64, Vec<u64>)>>,
    /// No way through the parts after this one costs less; 0 until someone finds out more.
    pub(super) rest: u64,
    /// The steps of this part cost at least this among themselves, as far as is known.
    pub(super) least_alone: u64,
    /// Units of work that going through its steps counts, and those that a bound does, beyond what they do where it has one
    /// word of steps.
    pub(super) scan: u64,
    pub(super) bounding: u64,
}

/// About as many steps looked at, or words of steps compared, make a unit of work.
const LOOKS_A_UNIT: usize = 8;

impl Part {
    /// Where `step` stands in `steps`, if it is of this part.
    pub(super) fn index_of(&self, step: usize) -> Option<usize> {
        self.sorted.binary_search_by_key(&step, |&(step, _)| step).ok().map(|at| self.sorted[at].1)
    }

    /// A lower bound on the changes still to come in this part: each value still demanded, other than the present
    /// one, is come to once; if the present one isn't known, the dearest of them may be free.
    pub(super) fn bound(&self, done: &[u64], now: &[u8; MOST_ASPECTS]) -> u64 {
        let mut sum = 0;
        for (aspect, values) in self.entered.iter().enumerate() {
            let mut free = 0;
            for (value, least, steps) in values {
                if *value != now[aspect] && steps.iter().zip(done).any(|(steps, done)| steps & !done != 0) {
                    sum += least;
                    if now[aspect] == 0 {
                        free = free.max(*least);
                    }
                }
            }
            sum -= free;
        }
        sum
    }
}

/// Cuts the problem; `rank` is each step's place in the order to prefer. The parts come in the order they are done.
pub(super) fn parts(graph: &Acyclic, costs: &Costs, rank: &[usize]) -> Vec<Part> {
    let section = &costs.setups.section;
    let mut order: Vec<usize> = (0..graph.nodes()).collect();
    order.sort_by_key(|&step| (section[step], rank[step], step));
    let mut local = vec![0; graph.nodes()];
    let mut parts = Vec::new();
    for steps in order.chunk_by(|&x, &y| section[x] == section[y]) {
        for (index, &step) in steps.iter().enumerate() {
            local[step] = index;
        }
        let number = section[steps[0]];
        let mut edges = Vec::new();
        for &step in steps {
            let next = graph.graph().successors(step).iter().filter(|&&next| section[next] == number);
            edges.extend(next.map(|&next| (local[step], local[next])));
        }
        let inside =
            Acyclic::new(Precedence::new(steps.len(), edges)).expect("part of a graph without cycle");
        let spans = windows(&inside);
        let mut by_latest: Vec<usize> = (0..steps.len()).collect();
        by_latest.sort_by_key(|&index| (spans[index].latest, index));
        let mut from = 0;
        for done in 1..=steps.len() {
            // The first `done` steps are the same in every order if that many can't come later.
            let settled = spans[by_latest[done - 1]].latest <= done;
            if settled && (done == steps.len() || spans[by_latest[done]].latest > done) {
                let mut chosen: Vec<usize> =
                    by_latest[from..done].iter().map(|&index| steps[index]).collect();
                chosen.sort_by_key(|&step| (rank[step], step));
                parts.push(part(graph, costs, chosen));
                from = done;
            }
        }
    }
    parts
}

fn part(graph: &Acyclic, costs: &Costs, steps: Vec<usize>) -> Part {
    let mut sorted: Vec<(usize, usize)> =
        steps.iter().enumerate().map(|(index, &step)| (step, index)).collect();
    sorted.sort_unstable();
    let index_of =
        |step: &usize| sorted.binary_search_by_key(step, |&(step, _)| step).ok().map(|at| sorted[at].1);
    let before = steps
        .iter()
        .map(|&step| graph.graph().predecessors(step).iter().filter_map(index_of).collect())
        .collect();
    let follower =
        steps.iter().map(|&step| costs.setups.follower[step].as_ref().and_then(index_of)).collect();
    let words = steps.len().div_ceil(64);
    let entered: Vec<Vec<(u8, u64, Vec<u64>)>> = (0..costs.aspects())
        .map(|aspect| {
            let mut values: Vec<(u8, u64, Vec<u64>)> = Vec::new();
            for (index, &step) in steps.iter().enumerate() {
                let value = costs.entry(step, aspect);
                if value == 0 {
                    continue;
                }
                let at = values.iter().position(|(known, _, _)| *known == value).unwrap_or_else(|| {
                    values.push((value, costs.least_into(aspect, value), vec![0; words]));
                    values.len() - 1
                });
                values[at].2[index / 64] |= 1 << (index % 64);
            }
            values
        })
        .collect();
    let scan = (steps.len().saturating_sub(64) / LOOKS_A_UNIT) as u64;
    let values: usize = entered.iter().map(Vec::len).sum();
    let bounding = (values * words.saturating_sub(1) / LOOKS_A_UNIT) as u64;
    Part { steps, sorted, before, follower, entered, rest: 0, least_alone: 0, scan, bounding }
}
