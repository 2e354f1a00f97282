//! An order and the moves that improve it: neighbouring segments change places, turned round or not.
//!
//! A move that turns no segment round is the path-preserving 3-exchange of Gambardella and Dorigo (2000); precedence is
//! kept if no edge leads from the first segment to the second, and the saving is six look-ups, whatever the asymmetry.
//! A short segment of independent nodes may be turned round as well, at what its arcs cost the other way.

use super::instance::Instance;

/// Segments `[first, second)` and `[second, end)` change places, each turned round if so said.
#[derive(Clone, Copy)]
pub(super) struct Move {
    pub(super) first: usize,
    pub(super) second: usize,
    pub(super) end: usize,
    turn_first: bool,
    turn_second: bool,
}

impl Move {
    pub(super) fn exchange(first: usize, second: usize, end: usize) -> Move {
        Move { first, second, end, turn_first: false, turn_second: false }
    }

    /// One segment turned round where it stands: both halves change places and are turned.
    fn turn(first: usize, end: usize) -> Move {
        Move { first, second: first + 1, end, turn_first: true, turn_second: true }
    }
}

/// Of the two segments that change places, the shorter has at most so many nodes, and the longer at most so many.
const SHORT: usize = 20;
const LONG: usize = 40;
/// How many followers are tried for a node.
const NEAREST: usize = 12;

/// An order of an instance's nodes, with the place of each.
pub(super) struct Line {
    pub(super) instance: Instance,
    pub(super) order: Vec<u32>,
    place: Vec<u32>,
}

impl Line {
    pub(super) fn new(instance: Instance, order: Vec<u32>) -> Line {
        let mut line = Line { instance, place: vec![0; order.len()], order };
        line.refresh(0, line.order.len());
        line
    }

    /// Takes the whole order from elsewhere.
    pub(super) fn set(&mut self, order: &[u32]) {
        self.order.copy_from_slice(order);
        self.refresh(0, order.len());
    }

    /// Brings the places of the nodes at `from..to` up to date.
    fn refresh(&mut self, from: usize, to: usize) {
        for at in from..to {
            self.place[self.order[at] as usize] = at as u32;
        }
    }

    pub(super) fn apply(&mut self, step: Move) {
        let Move { first, second, end, turn_first, turn_second } = step;
        if turn_first && turn_second {
            self.order[first..end].reverse();
        } else {
            if turn_first {
                self.order[first..second].reverse();
            }
            if turn_second {
                self.order[second..end].reverse();
            }
            self.order[first..end].rotate_left(second - first);
        }
        self.refresh(first, end);
    }

    pub(super) fn undo(&mut self, step: Move) {
        self.apply(Move {
            second: step.first + (step.end - step.second),
            turn_first: step.turn_second,
            turn_second: step.turn_first,
            ..step
        });
    }

    fn arc(&self, x: u32, y: u32) -> i64 {
        i64::from(self.instance.arc(x as usize, y as usize))
    }

    /// What the move saves at the ends of its segments.
    pub(super) fn gain(&self, step: Move) -> i64 {
        let Move { first, second, end, turn_first, turn_second } = step;
        let at = &self.order;
        let (mut head, mut tail) = (at[second], at[end - 1]);
        if turn_second {
            std::mem::swap(&mut head, &mut tail);
        }
        let (mut next_head, mut next_tail) = (at[first], at[second - 1]);
        if turn_first {
            std::mem::swap(&mut next_head, &mut next_tail);
        }
        self.arc(at[first - 1], at[first])
            + self.arc(at[second - 1], at[second])
            + self.arc(at[end - 1], at[end])
            - self.arc(at[first - 1], head)
            - self.arc(tail, next_head)
            - self.arc(next_tail, at[end])
    }

    /// What turning the arc at `at` and `at + 1` round saves.
    fn turned(&self, at: usize) -> i64 {
        self.arc(self.order[at], self.order[at + 1]) - self.arc(self.order[at + 1], self.order[at])
    }

    /// What turning the places `from..to` round saves inside, if they are few and independent.
    fn turnable(&self, from: usize, to: usize) -> Option<i64> {
        let independent = || (from + 1..to).all(|at| !self.comes_from(self.order[at], from, at));
        let fits = to - from > 1 && to - from <= SHORT && independent();
        fits.then(|| (from..to - 1).map(|at| self.turned(at)).sum())
    }

    /// Whether an edge leads from `node` into the places `from..to`.
    pub(super) fn leads_into(&self, node: u32, from: usize, to: usize) -> bool {
        let next = self.instance.graph.graph().successors(node as usize);
        next.iter().any(|&next| (from..to).contains(&(self.place[next] as usize)))
    }

    /// Whether an edge leads to `node` from the places `from..to`.
    pub(super) fn comes_from(&self, node: u32, from: usize, to: usize) -> bool {
        let last = self.instance.graph.graph().predecessors(node as usize);
        last.iter().any(|&last| (from..to).contains(&(self.place[last] as usize)))
    }

    /// The best move that gives `node` a nearer follower.
    pub(super) fn best_move(&self, node: u32, work: &mut u64) -> Option<(i64, Move)> {
        let here = self.place[node as usize] as usize;
        let last = self.order.len() - 1;
        if here == last {
            return None;
        }
        let now = self.arc(node, self.order[here + 1]);
        let mut best: Option<(i64, Move)> = None;
        let mut best_gain = 0;
        let mut looked = 0;
        let mut consider = |step: Move, inside: i64| {
            let gain = self.gain(step) + inside;
            if gain > best_gain {
                best_gain = gain;
                best = Some((gain, step));
            }
        };
        for &near in self.instance.nearest[node as usize].iter().take(NEAREST) {
            if self.arc(node, near) >= now {
                break;
            }
            let there = self.place[near as usize] as usize;
            looked += 2;
            if there > here + 1 {
                // The places between `node` and `near`.
                let (from, to) = (here + 1, there);
                let inside = self.turnable(from, to);
                looked += if to - from <= SHORT { 3 } else { 0 };
                let step_work = if inside.is_some() { 3 } else { 2 };
                // `near` heads what is moved before them.
                let far = last.min(to + if to - from <= SHORT { LONG } else { SHORT });
                for end in to + 1..=far {
                    looked += step_work;
                    if self.comes_from(self.order[end - 1], from, to) {
                        break;
                    }
                    consider(Move::exchange(from, to, end), 0);
                    if let Some(inside) = inside {
                        consider(Move { turn_first: true, ..Move::exchange(from, to, end) }, inside);
                    }
                }
                // `node` ends what is moved behind them.
                let far = from.saturating_sub(if to - from <= SHORT { LONG } else { SHORT }).max(1);
                for first in (far..from).rev() {
                    looked += step_work;
                    if self.leads_into(self.order[first], from, to) {
                        break;
                    }
                    consider(Move::exchange(first, from, to), 0);
                    if let Some(inside) = inside {
                        consider(Move { turn_second: true, ..Move::exchange(first, from, to) }, inside);
                    }
                }
                if there < last {
                    // `near` ends what is turned and moved before the rest.
                    let mut inside = 0;
                    for second in (from..=there).rev().take(SHORT) {
                        looked += 3;
                        if self.leads_into(self.order[second], second + 1, there + 1) {
                            break;
                        }
                        if second < there {
                            inside += self.turned(second);
                        }
                        if second == from {
                            let step = Move::turn(from, there + 1);
                            consider(step, inside - self.turned(from));
                        } else if (second..=there).all(|at| !self.comes_from(self.order[at], from, second)) {
                            consider(
                                Move { turn_second: true, ..Move::exchange(from, second, there + 1) },
                                inside,
                            );
                        }
                    }
                }
            } else if there >= 1 && there < here {
                // `node` ends what is moved before `near`.
                let (first, end) = (there, here + 1);
                let mut reach = 0;
                for second in first + 1..end {
                    looked += 1;
                    for &next in self.instance.graph.graph().successors(self.order[second - 1] as usize) {
                        let place = self.place[next] as usize;
                        if place < end {
                            reach = reach.max(place);
                        }
                    }
                    if reach == here {
                        break;
                    }
                    if reach >= second || (second - first > SHORT && end - second > SHORT) {
                        continue;
                    }
                    consider(Move::exchange(first, second, end), 0);
                }
                // What `near` ends is turned and moved behind `node`.
                let mut inside = 0;
                for first in (1..=there).rev().take(SHORT) {
                    looked += 2;
                    if self.leads_into(self.order[first], first + 1, here + 1) {
                        break;
                    }
                    if first < there {
                        inside += self.turned(first);
                    }
                    let step = Move { turn_first: true, ..Move::exchange(first, there + 1, here + 1) };
                    consider(step, inside);
                }
            }
        }
        *work += looked;
        best
    }
}
