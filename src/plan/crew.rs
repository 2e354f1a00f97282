//! Several pairs of hands at one engine: the steps of a phase as a schedule.
//!
//! Steps keep the order that facts and the author demand, and overlap only if neither sets a condition that the other
//! needs or sets: every single order that fits the schedule is then an allowed one, and the proof for those covers it.
//! A block, a trial and a chain of steps stay whole. Waits take no hands. A setup `for each person` is everybody's own
//! affair, such as where he stands; what the engine's stand does is not.

use std::collections::{BTreeMap, BTreeSet};

use super::choose::ChangeTimes;
use super::{PhasePlan, PlannedStep, Standing, step_of};
use crate::network::{Effect, Network, Node, NodeId, StepSource, ThingId};
use crate::procedure::model::{Deed, Procedure, SetupId, Step};
use crate::sequence::schedule::{Job, Task, best_schedule};
use crate::sequence::search::Effort;
use crate::sequence::{Acyclic, Precedence};

/// Units of work that the search may spend for each task, and in all. Our own choice, no source.
const EFFORT_EACH: u64 = 150_000;
const EFFORT_MOST: u64 = 20_000_000;

/// A stretch of work or of waiting. Times are whole seconds from the start.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stint {
    /// The steps, as indices into [`PhasePlan::steps`]: several for a block.
    pub steps: Vec<usize>,
    /// When it begins.
    pub start: u64,
    /// When it ends.
    pub end: u64,
    /// Which pairs of hands, counted from 0; none for a wait.
    pub hands: Vec<usize>,
}

/// A phase as a schedule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Crew {
    /// Its stints by their beginnings.
    pub stints: Vec<Stint>,
    /// How long all of it takes.
    pub span: u64,
    /// How long it takes one stint after the other, waits included.
    pub in_a_row: u64,
    /// No schedule is shorter than this.
    pub bound: u64,
    /// Steps of which the procedure states no time, as indices: they count as taking none.
    pub untimed: Vec<usize>,
}

/// Schedules the steps of a phase that are still to be done for so many pairs of hands; held steps as if what holds
/// them were settled. Changes take what they took when the order was chosen.
///
/// # Errors
/// The index of a step that needs more hands than there are.
///
/// ```
/// use benchleaf::model::Phase;
/// use benchleaf::{Memory, Request, Workshop, crew};
///
/// let files = Memory::new().with(
///     "pump.rebuild",
///     "family pump \"Pump\" { origin \"invented\"  invented }\n\
///      part cover \"Cover\"\n\
///      strip cover_off \"Take the cover off\" { time 5 min  take cover }\n",
/// );
/// let mut workshop = Workshop::over(files);
/// let view = workshop.job(&Request::of("pump.rebuild")).value.expect("nothing is wrong with it");
/// let strip = view.plan.phase(Phase::Strip).expect("there is a strip");
/// let shared = crew(&view.procedure, &view.network, strip, 2).expect("no step needs more than two");
/// assert!(shared.bound <= shared.span);
/// ```
pub fn crew(procedure: &Procedure, network: &Network, plan: &PhasePlan, hands: u32) -> Result<Crew, usize> {
    let times = plan.choice.as_ref().map_or(ChangeTimes::PLANNING, |choice| choice.times);
    let nodes: Vec<Unit> = units(procedure, network, plan);
    let shared: Vec<SetupId> =
        procedure.setups.numbered().filter(|(_, setup)| !setup.each_person).map(|(id, _)| id).collect();
    let change = |id: &SetupId| {
        let stated = procedure.setup(*id).change.map(|change| change.base().round() as u64);
        stated.unwrap_or(u64::from(times.setup) / 10)
    };
    let states = |unit: &Unit| {
        shared
            .iter()
            .map(|id| unit.setups.iter().find(|(setup, _)| setup == id).map(|(_, value)| *value))
            .collect()
    };
    // A unit is one task, or a wait and its work one after the other.
    let mut tasks = Vec::new();
    let mut of: Vec<(usize, bool)> = Vec::new();
    let mut ends: Vec<(usize, usize)> = Vec::new();
    for (index, unit) in nodes.iter().enumerate() {
        let first = tasks.len();
        let mut parts = vec![(unit.work, unit.hands, false)];
        if unit.wait > 0 {
            parts.insert(usize::from(!unit.waits_first), (unit.wait, 0, true));
        }
        for (duration, hands, waits) in parts {
            tasks.push(Task {
                duration,
                needs: vec![hands],
                states: states(unit),
                sets: unit.sets.iter().map(|thing| thing.index()).collect(),
                relies: unit.needs.iter().map(|thing| thing.index()).collect(),
            });
            of.push((index, waits));
        }
        ends.push((first, tasks.len() - 1));
    }
    let mut pairs: Vec<(usize, usize)> =
        plan.edges.iter().map(|(from, to)| (ends[*from].1, ends[*to].0)).collect();
    pairs.extend(ends.iter().filter(|(first, last)| first < last).copied());
    let Ok(graph) = Acyclic::new(Precedence::new(tasks.len(), pairs)) else {
        return Ok(Crew { stints: Vec::new(), span: 0, in_a_row: 0, bound: 0, untimed: Vec::new() });
    };
    let job = Job { graph, tasks, capacity: vec![hands], change: shared.iter().map(change).collect() };
    let first: Vec<usize> = (0..job.tasks.len()).collect();
    let effort =
        Effort { work: (EFFORT_EACH * job.tasks.len() as u64).min(EFFORT_MOST), ..Effort::default() };
    let found = best_schedule(&job, &first, effort)
        .map_err(|task| nodes[of[task].0].steps.first().copied().unwrap_or_default())?;
    let mut stints: Vec<Stint> = Vec::new();
    for (task, (unit, waits)) in of.iter().enumerate() {
        let unit = &nodes[*unit];
        let duration = job.tasks[task].duration;
        // A step that only waits takes nobody; one of which no time is stated is work all the same.
        let idle = duration == 0 && (*waits || unit.wait > 0 && unit.untimed.is_empty());
        if unit.steps.is_empty() || idle {
            continue;
        }
        let start = found.start[task];
        stints.push(Stint { steps: unit.steps.clone(), start, end: start + duration, hands: Vec::new() });
        if let (Some(last), false) = (stints.last_mut(), *waits) {
            // How many, for now; which, when all are in order of time.
            last.hands = vec![0; unit.hands as usize];
        }
    }
    stints.sort_by_key(|stint| (stint.start, stint.end, stint.steps.first().copied()));
    assign(&mut stints, hands as usize);
    Ok(Crew {
        in_a_row: job.tasks.iter().map(|task| task.duration).sum(),
        stints,
        span: found.span,
        bound: found.bound,
        untimed: nodes.iter().flat_map(|unit| unit.untimed.iter().copied()).collect(),
    })
}

/// Gives each stint the pairs of hands that are free when it begins. What takes no time, so far as is stated, may fall
/// where too few are free: then it goes to those who are busy too, since somebody does it all the same.
fn assign(stints: &mut [Stint], hands: usize) {
    let mut free_from: Vec<u64> = vec![0; hands];
    for stint in stints {
        let wanted = stint.hands.len();
        let (free, busy): (Vec<usize>, Vec<usize>) =
            (0..hands).partition(|person| free_from[*person] <= stint.start);
        stint.hands = free.into_iter().chain(busy).take(wanted).collect();
        stint.hands.sort_unstable();
        for person in &stint.hands {
            free_from[*person] = free_from[*person].max(stint.end);
        }
    }
}

/// A node of the order as work: a step, or steps that no order splits.
struct Unit {
    /// Its steps that are still to be done.
    steps: Vec<usize>,
    work: u64,
    wait: u64,
    waits_first: bool,
    hands: u32,
    setups: Vec<(SetupId, usize)>,
    sets: BTreeSet<ThingId>,
    needs: BTreeSet<ThingId>,
    untimed: Vec<usize>,
}

fn units(procedure: &Procedure, network: &Network, plan: &PhasePlan) -> Vec<Unit> {
    // What undoes one strip step takes that step's time together, however many steps it is.
    let mut sharing: BTreeMap<NodeId, u64> = BTreeMap::new();
    for mirror in plan.steps.iter().filter(|step| open(step)).filter_map(|step| mirror(network, step)) {
        *sharing.entry(mirror).or_default() += 1;
    }
    let mut steps: BTreeMap<NodeId, Vec<usize>> = BTreeMap::new();
    for (at, step) in plan.steps.iter().enumerate().filter(|(_, step)| open(step)) {
        steps.entry(step.node).or_default().push(at);
    }
    let order =
        plan.order.iter().map(|id| (&network.nodes[id.index()], steps.remove(id).unwrap_or_default()));
    order.map(|(node, steps)| unit(procedure, network, plan, (node, steps), &sharing)).collect()
}

/// Whether a step is still to be done.
fn open(step: &PlannedStep) -> bool {
    !matches!(step.standing, Standing::Absent | Standing::Done)
}

/// The strip step that a derived one undoes.
fn mirror(network: &Network, step: &PlannedStep) -> Option<NodeId> {
    match step.source {
        StepSource::Derived(index) => network.derived[index].mirrors,
        StepSource::Written(_) => None,
    }
}

fn unit(
    procedure: &Procedure,
    network: &Network,
    plan: &PhasePlan,
    (node, steps): (&Node, Vec<usize>),
    sharing: &BTreeMap<NodeId, u64>,
) -> Unit {
    let mut unit = Unit {
        steps,
        work: 0,
        wait: 0,
        waits_first: false,
        hands: 0,
        setups: Vec::new(),
        sets: BTreeSet::new(),
        needs: BTreeSet::new(),
        untimed: Vec::new(),
    };
    for event in &node.events {
        match event.effect {
            Effect::Set(_) => unit.sets.insert(event.thing),
            Effect::Need(..) => unit.needs.insert(event.thing),
        };
    }
    for at in unit.steps.clone() {
        let planned = &plan.steps[at];
        let step = step_of(procedure, network, planned.source);
        unit.hands = unit.hands.max(step.hands);
        unit.setups.extend(step.setups.iter().map(|(setup, value, _)| (*setup, *value)));
        let wait = waits(step);
        let shared_by =
            mirror(network, planned).and_then(|mirror| sharing.get(&mirror)).copied().unwrap_or(1);
        match step.time.map(|time| time.base().round() as u64 / shared_by) {
            Some(time) if time >= wait => unit.work += time - wait,
            Some(time) => unit.work += time,
            None => unit.untimed.push(at),
        }
        unit.waits_first |= step.acts().next().is_some_and(|act| matches!(act.deed, Deed::Wait(_)));
        unit.wait += wait;
    }
    if unit.steps.len() > 1 {
        // Inside a block somebody stays with it.
        unit.work += std::mem::take(&mut unit.wait);
    }
    unit
}

/// How long a step waits, in seconds.
fn waits(step: &Step) -> u64 {
    let of = |deed: &Deed| if let Deed::Wait(time) = deed { time.base().round() as u64 } else { 0 };
    step.acts().map(|act| of(&act.deed)).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_of_no_time_has_its_hands_even_where_nobody_is_free() {
        let stint = |start, end, hands: usize| Stint { steps: vec![0], start, end, hands: vec![0; hands] };
        // Two at work from 0 to 60; meanwhile a step without a stated time for one, then one for two.
        let mut stints = [
            stint(0, 60, 1),
            stint(0, 60, 1),
            stint(0, 30, 0),
            stint(30, 30, 1),
            stint(40, 40, 2),
            stint(60, 90, 2),
        ];
        assign(&mut stints, 2);
        let hands: Vec<&[usize]> = stints.iter().map(|stint| stint.hands.as_slice()).collect();
        assert_eq!(hands, [&[0][..], &[1], &[], &[0], &[0, 1], &[0, 1]]);
    }
}
