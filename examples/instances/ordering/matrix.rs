//! The matrix form: local search and proof take turns, each turn longer than the last.
//!
//! The proof works on the problem and on its mirror image, since one end is often much easier to prove from.

use benchleaf::Acyclic;
use benchleaf::search::Found;

use super::exchange::Improver;
use super::ideals::search;
use super::instance::{Instance, NEVER};
use super::memory::Memory;
use super::walk::Walk;

/// Work of the first turn, and how many times more each further one takes; the last takes all that is left.
const FIRST_TURN: u64 = 3_000_000;
const GROWTH: u64 = 4;
/// Of a turn's work, the tenths that go to the local search until it has had so much, and one part in so many later;
/// the proof gets the rest.
const LOCAL_TENTHS: u64 = 7;
const MOST_LOCAL: u64 = 900_000_000;
const LATER_PART: u64 = 20;
/// Subgradient steps of the plain walk.
const WALK_STEPS: usize = 200;
/// What one step of filling the memory's table counts, in eighths of a unit, and one transition of the search over
/// ideals in units: about the time they take beside a step of the local search.
const FILL_EIGHTHS: u64 = 2;
const TRANSITION: u64 = 3;
/// How many more nodes a node may remember at each turn, how many at most, and how many entries the table may come to.
const MORE_NEAR: usize = 3;
const MOST_NEAR: usize = 12;
const MOST_ENTRIES: usize = 1 << 27;
/// How many times wider each search over ideals is than the last, if its work allows.
const WIDER: usize = 4;
/// Beyond this many nodes no proof is tried: its tables grow with the square and the cube.
const MOST_NODES: usize = 600;

/// One direction of the proof.
struct Direction {
    instance: Instance,
    mirrored: bool,
    memory: Option<Memory>,
    near: usize,
    width: usize,
    /// Work by which the last search over ideals fell short, or nothing if it hasn't run.
    last_bound: i64,
}

impl Direction {
    fn new(instance: Instance, mirrored: bool) -> Direction {
        Direction { instance, mirrored, memory: None, near: 2, width: 500, last_bound: 0 }
    }
}

/// The state of a search of the matrix form.
pub struct MatrixSearch {
    improver: Improver,
    directions: Vec<Direction>,
    turn_work: u64,
    bound: i64,
    work: u64,
    turn: usize,
}

impl MatrixSearch {
    pub(super) fn new(graph: &Acyclic, cost: &[u32], seed: u64) -> MatrixSearch {
        let nodes = graph.nodes();
        let price = |x: usize, y: usize| cost[x * nodes + y] as i32;
        let instance = Instance::new(graph, price);
        let names: Vec<usize> = (0..instance.nodes).collect();
        let start = instance.graph.order_by_rank(&names).into_iter().map(|node| node as u32).collect();
        let mut directions = Vec::new();
        if instance.nodes <= MOST_NODES {
            directions.push(Direction::new(Instance::new(graph, price), false));
            directions.push(Direction::new(Instance::new(&graph.reversed(), |x, y| price(y, x)), true));
        }
        let improver = Improver::new(instance, start, seed);
        MatrixSearch { improver, directions, turn_work: FIRST_TURN, bound: 0, work: 0, turn: 0 }
    }

    /// The best so far.
    pub fn found(&self) -> Found {
        let (order, cost) = self.improver.best();
        Found {
            order: self.improver.instance().named(order),
            cost: cost as u64,
            bound: self.bound as u64,
            proved: self.bound == cost,
            work: self.work,
        }
    }

    fn proved(&self) -> bool {
        self.bound >= self.improver.best().1
    }

    /// Spends about `work` units, or less if the proof succeeds. One long advance is worth more than many short
    /// ones, since it is planned as a whole.
    pub fn advance(&mut self, work: u64) {
        let until = self.work + work;
        while self.work < until && !self.proved() {
            let left = until - self.work;
            let turn = if self.turn_work * 2 > left { left } else { self.turn_work };
            self.turn_work = self.turn_work.saturating_mul(GROWTH);
            let proving = !self.directions.is_empty();
            let allowed = MOST_LOCAL.saturating_sub(self.improver.work()).max(turn / LATER_PART);
            let local = if proving { (turn * LOCAL_TENTHS / 10).min(allowed) } else { turn };
            let before = self.improver.work();
            self.improver.run(local.max(1));
            self.work += self.improver.work() - before;
            if proving {
                self.prove(turn - local);
            }
            self.turn += 1;
        }
    }

    /// Spends about `work` on the proof: both directions by turns at first, later the one that got further.
    fn prove(&mut self, work: u64) {
        if work == 0 {
            return;
        }
        let chosen = if self.turn < 4 {
            self.turn % 2
        } else {
            usize::from(self.directions[1].last_bound > self.directions[0].last_bound)
        };
        let until = self.work + work;
        let (_, known) = self.improver.best();
        let direction = &mut self.directions[chosen];
        let instance = &direction.instance;
        if direction.memory.is_none() {
            let mut walk = Walk::new(instance, known);
            walk.improve(known, WALK_STEPS);
            self.work += walk.work;
            direction.memory = Some(Memory::new(instance, &walk, known));
        }
        let Some(memory) = &mut direction.memory else { return };
        let before = memory.work;
        let nodes = instance.nodes;
        let fits = (MOST_ENTRIES / (nodes * nodes)).max(4).ilog2() as usize;
        direction.near = (direction.near + MORE_NEAR).min(MOST_NEAR).min(fits);
        memory.improve(
            instance,
            known,
            direction.near,
            until.saturating_sub(self.work) / 3 * 8 / FILL_EIGHTHS,
        );
        self.work += (memory.work - before) * FILL_EIGHTHS / 8;
        self.bound = self.bound.max(rounded_up(memory.bound(), memory.scale)).min(known);
        if self.bound >= known {
            return;
        }
        // Narrow first: a proof that needs few states is had at once, and a beam may find a better order.
        while self.work < until && self.bound < known {
            let left = (until - self.work) / TRANSITION;
            let outcome = search(instance, memory, known, direction.width, left);
            self.work += outcome.work * TRANSITION + 1;
            self.bound = self.bound.max(outcome.bound.min(known));
            direction.last_bound = direction.last_bound.max(outcome.bound);
            if let Some((order, cost)) = outcome.better {
                self.improver
                    .offer(&renamed(instance, &order, direction.mirrored, self.improver.instance()), cost);
                self.bound = self.bound.min(cost);
                if outcome.complete {
                    self.bound = cost;
                }
                break;
            }
            if outcome.complete {
                self.bound = known;
            } else if outcome.finished {
                // A pass takes about as many times longer as it is wider; one that doesn't fit isn't begun.
                let left = until.saturating_sub(self.work) / TRANSITION * 9 / 10;
                let fitting = (left / outcome.work.max(1)) as usize;
                direction.width *= WIDER.min(fitting.max(1));
                if fitting < 2 {
                    break;
                }
            } else {
                break;
            }
        }
    }
}

/// The order of one instance in the numbers of another of the same problem.
fn renamed(from: &Instance, order: &[u32], mirrored: bool, to: &Instance) -> Vec<u32> {
    let mut named = from.named(order);
    if mirrored {
        named.reverse();
    }
    to.numbered(&named)
}

fn rounded_up(scaled: i64, scale: i32) -> i64 {
    let scale = i64::from(scale);
    scaled.div_euclid(scale) + i64::from(scaled.rem_euclid(scale) > 0)
}

const _: () =
    assert!(NEVER > 1 << 28, "a cost the problem allows is never taken for an arc that can't be used");
