//! The nodes of an order as work: how long, with how many hands, where, and what it shares with others.

use std::collections::{BTreeMap, BTreeSet};

use super::moment::{Known, Moment};
use super::whole::{Whole, away, whole};
use crate::network::{Effect, Network, Node, NodeId, StepSource, ThingId};
use crate::plan::{PhasePlan, PlannedLine, PlannedStep, Standing, step_of};
use crate::procedure::model::*;

/// A node of the order: a step, or steps that no order splits.
pub(super) struct Unit {
    /// Its node.
    pub node: NodeId,
    /// Its steps that are still to be done, as indices into [`PhasePlan::steps`].
    pub steps: Vec<usize>,
    /// Seconds of work, and of waiting at its beginning or end.
    pub work: u64,
    pub wait: u64,
    pub waits_first: bool,
    /// Whether nothing else is done in it.
    pub only_waits: bool,
    pub hands: u32,
    /// How the engine stands, for each setup that all share; none where it doesn't matter.
    pub stands: Vec<Option<usize>>,
    /// Tools of which there is one.
    pub tools: BTreeSet<ToolId>,
    pub sets: BTreeSet<ThingId>,
    pub needs: BTreeSet<ThingId>,
    /// Whether it is done at the engine; else only with parts that lie off it.
    pub at_engine: bool,
    /// Parts that must lie off for that.
    pub away_with: BTreeSet<ThingId>,
    /// Why it takes the whole engine.
    pub whole: BTreeSet<Whole>,
    /// Whether the engine is turned before it.
    pub turns_stand: bool,
    /// Whether one of its steps is held, or waits for one that is.
    pub held: bool,
    /// Steps of which no time is stated.
    pub untimed: Vec<usize>,
}

/// The nodes of a phase in the planned order.
pub(super) fn units(known: Known<'_>, plan: &PhasePlan, shared: &[SetupId], people: u32) -> Vec<Unit> {
    let Known { network, .. } = known;
    // What undoes one strip step takes that step's time together, however many steps it is.
    let mut sharing: BTreeMap<NodeId, u64> = BTreeMap::new();
    for mirror in plan.steps.iter().filter(|step| open(step)).filter_map(|step| mirror(network, step)) {
        *sharing.entry(mirror).or_default() += 1;
    }
    let mut steps: BTreeMap<NodeId, Vec<usize>> = BTreeMap::new();
    for (at, step) in plan.steps.iter().enumerate().filter(|(_, step)| open(step)) {
        steps.entry(step.node).or_default().push(at);
    }
    let mut moment = Moment::beginning(known, plan.phase);
    let mut units = Vec::new();
    for id in &plan.order {
        let node = &network.nodes[id.index()];
        let mut unit = blank(*id, steps.remove(id).unwrap_or_default());
        if !unit.steps.is_empty() {
            unit.conditions(known, node);
            unit.place(known, plan, &moment, shared);
            unit.work(known, plan, &sharing, people);
        }
        units.push(unit);
        moment.pass(known, node);
    }
    units
}

fn blank(node: NodeId, steps: Vec<usize>) -> Unit {
    Unit {
        node,
        steps,
        work: 0,
        wait: 0,
        waits_first: false,
        only_waits: true,
        hands: 0,
        stands: Vec::new(),
        tools: BTreeSet::new(),
        sets: BTreeSet::new(),
        needs: BTreeSet::new(),
        at_engine: false,
        away_with: BTreeSet::new(),
        whole: BTreeSet::new(),
        turns_stand: false,
        held: false,
        untimed: Vec::new(),
    }
}

impl Unit {
    fn conditions(&mut self, known: Known<'_>, node: &Node) {
        for (thing, effect, _) in known.events(node) {
            match effect {
                Effect::Set(_) => self.sets.insert(thing),
                Effect::Need(..) => self.needs.insert(thing),
            };
        }
    }

    /// Where it is done, and what it takes for itself there.
    fn place(&mut self, known: Known<'_>, plan: &PhasePlan, moment: &Moment, shared: &[SetupId]) {
        let planned: Vec<&PlannedStep> = self.steps.iter().map(|at| &plan.steps[*at]).collect();
        let states_stand = |step: &PlannedStep| {
            let mut stated = step_of(known.procedure, known.network, step.source).setups_at(&step.binding);
            stated.any(|stance| shared.contains(&stance.setup))
        };
        let off: Option<Vec<BTreeSet<ThingId>>> = planned
            .iter()
            .map(|step| if states_stand(step) { None } else { away(known, moment, step) })
            .collect();
        self.at_engine = off.is_none();
        self.away_with = off.into_iter().flatten().flatten().collect();
        self.needs.extend(&self.away_with);
        for (index, step) in planned.iter().enumerate() {
            self.whole.extend(whole(known.procedure, step, index > 0));
        }
        let first = planned.first();
        let turned = |line: &PlannedLine| matches!(line, PlannedLine::SetUp(..));
        self.turns_stand = first.is_some_and(|step| step.lines.iter().any(turned));
        self.stands = shared
            .iter()
            .map(|setup| {
                let value = first?.setups.iter().find(|(own, _)| own == setup)?.1;
                self.at_engine.then_some(value)
            })
            .collect();
        self.held = planned
            .iter()
            .any(|step| matches!(step.standing, Standing::Held(_)) || !step.waits_for.is_empty());
    }

    /// How long it takes, with how many hands and which tools.
    fn work(&mut self, known: Known<'_>, plan: &PhasePlan, sharing: &BTreeMap<NodeId, u64>, people: u32) {
        let Known { procedure, network, .. } = known;
        for at in self.steps.clone() {
            let planned = &plan.steps[at];
            let step = step_of(procedure, network, planned.source);
            self.hands = self.hands.max(step.hands);
            // Whoever checks is a second person, if there is one.
            if step.holds_at(&planned.binding) {
                self.hands = self.hands.max(people.min(2));
            }
            let one = |tool: &ToolId| {
                let tool = procedure.tool(*tool);
                tool.special || tool.kind == ToolKind::Hoist
            };
            self.tools.extend(step.tools_at(&planned.binding).filter(one));
            let wait = waits(step);
            let shared_by =
                mirror(network, planned).and_then(|mirror| sharing.get(&mirror)).copied().unwrap_or(1);
            match step.time.map(|time| time.base().round() as u64 / shared_by) {
                Some(time) if time >= wait => self.work += time - wait,
                Some(time) => self.work += time,
                None => self.untimed.push(at),
            }
            let is_wait = |act: Option<&Act>| act.is_some_and(|act| matches!(act.deed, Deed::Wait(_)));
            self.waits_first |= is_wait(step.acts().next());
            self.only_waits &= step.acts().all(|act| matches!(act.deed, Deed::Wait(_)));
            let at_an_end = self.waits_first || is_wait(step.acts().last());
            // In the midst of a step, or of a block, somebody stays with it.
            *(if at_an_end { &mut self.wait } else { &mut self.work }) += wait;
        }
        if self.steps.len() > 1 {
            self.work += std::mem::take(&mut self.wait);
        }
    }
}

/// Whether a step is still to be done.
fn open(step: &PlannedStep) -> bool {
    step.standing.is_left()
}

/// The strip step that a derived one undoes.
fn mirror(network: &Network, step: &PlannedStep) -> Option<NodeId> {
    match step.source {
        StepSource::Derived(index) => network.derived[index].mirrors,
        StepSource::Written(_) => None,
    }
}

/// How long a step waits, in seconds.
fn waits(step: &Step) -> u64 {
    let of = |deed: &Deed| if let Deed::Wait(time) = deed { time.base().round() as u64 } else { 0 };
    step.acts().map(|act| of(&act.deed)).sum()
}
