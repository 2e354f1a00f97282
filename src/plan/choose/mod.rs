//! The order of a phase that a good mechanic would choose: nodes with their links in, the order with its cost, what it
//! saves against the author's and why each moved step moved out.
//!
//! Cost is set-up changes in seconds, plus a price for each of the author's neighbours parted. What is hard is never
//! weighed: links, blocks, sections, a hold and what follows it, a load that hangs. It must not know the job: there is one
//! order for all answers.

mod aspects;
mod cost;
mod explain;
mod times;
mod units;

use std::collections::BTreeMap;

use super::{Bench, Known};
use crate::network::{Network, NodeId};
use crate::quantity::{Bound, limit_figure};
use crate::sequence::search::{self, Effort, Problem, Setups, best_order};
use crate::sequence::{Acyclic, Precedence};
use aspects::Aspects;
pub(crate) use cost::Cost;
pub(crate) use explain::Moved;
pub(crate) use times::ChangeTimes;
use units::{Unit, units};

/// Per cent above the bound beyond which the bound itself says more than its distance. Our own line, no source.
const TELLING: u64 = 25;

/// How the order is chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Choosing {
    /// Keep the author's order.
    pub as_written: bool,
    /// What changes at the bench take.
    pub times: ChangeTimes,
}

impl Default for Choosing {
    fn default() -> Choosing {
        Choosing { as_written: false, times: ChangeTimes::PLANNING }
    }
}

/// The order of a phase, with the author's beside it.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// Whether the author's order was asked for.
    pub as_written: bool,
    /// What changes at the bench were taken to last.
    pub times: ChangeTimes,
    /// Every node once.
    pub order: Vec<NodeId>,
    /// The author's order.
    pub author: Vec<NodeId>,
    /// What the order costs.
    pub cost: Cost,
    /// What the author's order costs.
    pub author_cost: Cost,
    /// No order costs less than this, in tenths of a second.
    pub bound: u64,
    /// Whether nothing costs less: the bound was reached.
    pub proved: bool,
    /// Steps that stand elsewhere than the author put them, in the order of work.
    pub moved: Vec<Moved>,
    /// The costs, to ask what another place would cost.
    weights: Weights,
}

/// What an order is weighed by: the problem that was searched, and the nodes of each of its steps.
#[derive(Debug, Clone)]
struct Weights {
    problem: Option<Problem>,
    units: Vec<Unit>,
}

/// A choice is what it chose; the weights follow from the procedure.
impl PartialEq for Weights {
    fn eq(&self, other: &Weights) -> bool {
        self.units == other.units
    }
}

/// Work for an order of so many steps: the larger, the less is left to prove, and the more a pass costs; 80 microseconds a step
/// however many there are.
fn effort(steps: usize) -> Effort {
    let steps = steps as u64;
    Effort { work: (6_000_000 + 1_000 * steps).max(8_000 * steps), seed: 1 }
}

/// Chooses the order of one phase; `author` is the author's, which keeps all links.
pub(super) fn choose(known: &Known, bench: &Bench, author: &[NodeId]) -> Choice {
    let Known { procedure, network, options, .. } = known;
    let choosing = &options.choosing;
    let aspects = Aspects::of(known, author, bench, &choosing.times);
    let units = units(procedure, network, author);
    let problem = problem(network, &aspects, &units, author, &choosing.times);
    let written: Vec<usize> = (0..units.len()).collect();
    let author_weight = problem.as_ref().map_or(0, |problem| problem.cost_of(&written));
    let (mut chosen, mut bound, mut proved) = (written.clone(), 0, false);
    if let Some(problem) = problem.as_ref().filter(|_| !choosing.as_written) {
        let found = best_order(problem, effort(units.len()));
        (bound, proved) = (found.bound, found.proved);
        // Of two orders of one cost the author's stands.
        if found.cost < author_weight {
            chosen = found.order;
        }
    }
    let order: Vec<NodeId> = chosen.iter().flat_map(|unit| units[*unit].nodes.iter().copied()).collect();
    let cost = aspects.cost(&order, explain::parted(&units, &chosen), &choosing.times);
    let author_cost = aspects.cost(author, 0, &choosing.times);
    // What changes within blocks, and what is put on once and stays on, is the same in every order and no part of the
    // search.
    let within = author_cost.total.saturating_sub(author_weight);
    let weights = Weights { problem, units };
    let moved = explain::moved(&aspects, &weights, &chosen);
    Choice {
        as_written: choosing.as_written,
        times: choosing.times,
        order,
        author: author.to_vec(),
        cost,
        author_cost,
        bound: bound + within,
        proved,
        moved,
        weights,
    }
}

/// The search problem; none if a link leads back from a later section, which the author's order rules out.
fn problem(
    network: &Network,
    aspects: &Aspects,
    units: &[Unit],
    author: &[NodeId],
    times: &ChangeTimes,
) -> Option<Problem> {
    let mut unit_of: BTreeMap<NodeId, usize> = BTreeMap::new();
    for (index, unit) in units.iter().enumerate() {
        unit_of.extend(unit.nodes.iter().map(|node| (*node, index)));
    }
    debug_assert_eq!(unit_of.len(), author.len());
    let links = network.links.iter().filter_map(|link| {
        let (from, to) = (unit_of.get(&link.from)?, unit_of.get(&link.to)?);
        (from != to).then_some((*from, *to))
    });
    let graph = Acyclic::new(Precedence::new(units.len(), links)).ok()?;
    let follower = (0..units.len())
        .map(|unit| Some(unit + 1).filter(|next| units.get(*next).is_some_and(|n| n.run == units[unit].run)));
    let setups = Setups {
        aspects: aspects.tables(),
        demands: units.iter().map(|unit| aspects.demands(&unit.nodes)).collect(),
        start: aspects.start(),
        follower: follower.collect(),
        parting: times.parting,
        section: units.iter().map(|unit| unit.run).collect(),
    };
    Problem::setups(graph, setups).ok()
}

/// What it would cost to do a step elsewhere, all others staying as they stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shift {
    /// How many places of the order it moves, at least one.
    pub places: usize,
    /// Extra cost in tenths of a second; less than nothing only where the least was not found.
    pub extra: i64,
}

/// Why a step can't be moved past its neighbour, all others staying.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bar {
    /// It must come after this node, or before it.
    Node(NodeId),
    /// There its section begins or ends.
    Section,
    /// There the phase begins or ends.
    End,
}

impl Choice {
    /// The cheapest place earlier and the cheapest place later for the step of a node, or what bars it from moving at
    /// all.
    pub fn shifts(&self, node: NodeId) -> (Result<Shift, Bar>, Result<Shift, Bar>) {
        let nowhere = (Err(Bar::End), Err(Bar::End));
        let Some(problem) = &self.weights.problem else { return nowhere };
        let units = &self.weights.units;
        let Some(own) = units.iter().position(|unit| unit.nodes.contains(&node)) else { return nowhere };
        let order: Vec<usize> = self.unit_order();
        let shifts = search::Shifts::new(problem, &order);
        let at = shifts.place(own);
        let bar = |over: usize, later: bool| {
            shifts.bar(at, over).map(|bar| match bar {
                search::Bar::Step(unit) => {
                    let nodes = &units[unit].nodes;
                    Bar::Node(if later { nodes[0] } else { nodes[nodes.len() - 1] })
                }
                search::Bar::Section => Bar::Section,
            })
        };
        let best = |places: &mut dyn Iterator<Item = usize>, later: bool| {
            let mut best: Result<Shift, Bar> = Err(Bar::End);
            for place in places {
                if let Some(bar) = bar(place, later) {
                    return best.or(Err(bar));
                }
                let Some(extra) = shifts.extra(at, place) else { break };
                if best.is_err() || best.is_ok_and(|best| extra < best.extra) {
                    best = Ok(Shift { places: place.abs_diff(at), extra });
                }
            }
            best
        };
        (best(&mut (0..at).rev(), false), best(&mut (at + 1..order.len()), true))
    }

    fn unit_order(&self) -> Vec<usize> {
        let units = &self.weights.units;
        let first: BTreeMap<NodeId, usize> =
            units.iter().enumerate().map(|(index, unit)| (unit.nodes[0], index)).collect();
        self.order.iter().filter_map(|node| first.get(node).copied()).collect()
    }

    /// How the cost stands to the least possible, in words.
    pub fn standing(&self) -> String {
        if self.as_written {
            return "the author's order, as asked".to_owned();
        }
        if self.proved {
            return "least possible".to_owned();
        }
        if self.bound == 0 {
            return "how far from the least possible isn't known".to_owned();
        }
        let gap = self.cost.total.saturating_sub(self.bound) as f64 / self.bound as f64 * 100.0;
        let gap = (gap.ceil() as u64).max(1);
        if gap > TELLING {
            let minutes = limit_figure(self.bound as f64 / 600.0, 0, Bound::Most);
            return format!("not proved least; any order takes {minutes} min or more");
        }
        format!("within {gap} % of the least possible")
    }
}
