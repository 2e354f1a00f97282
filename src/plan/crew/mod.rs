//! Several pairs of hands at one engine: the steps of a phase as a schedule.
//!
//! Steps keep the order that facts and the author demand, and overlap only if neither sets a condition that the other
//! needs or sets. The author's order is given up only so far: what takes the whole engine keeps its written place
//! (`whole`, `kept`), and what is held stays off the chart. A block, a trial and a chain of steps stay whole. Waits take no
//! hands. A setup `for each person` is everybody's own affair, such as where he stands; what the engine's stand does is
//! not.
//!
//! Times are estimates, so the chart also says what must be over before each stint, whatever the clock says; `proof`
//! shows that nothing more is needed.

mod kept;
mod moment;
mod proof;
mod units;
mod whole;

use std::collections::BTreeSet;

use super::PhasePlan;
use super::choose::ChangeTimes;
use crate::decide::Decisions;
use crate::network::{Network, ThingId, ThingKind};
use crate::procedure::model::{Procedure, SetupId, ToolId};
use crate::sequence::schedule::{Job, Task, best_schedule};
use crate::sequence::search::Effort;
use crate::sequence::{Acyclic, Before, Precedence, redundant_edges};
use kept::Kept;
use moment::Known;
use units::{Unit, units};
pub(crate) use whole::{Whole, whole_words};

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
    /// Steps of others that must be over before it begins, whatever the clock says; only the last of each block, and only
    /// where no other of these implies it.
    pub not_before: Vec<usize>,
}

/// What takes the whole engine, and keeps its written place among what is done at it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Alone {
    /// Its steps.
    pub steps: Vec<usize>,
    /// Why.
    pub because: BTreeSet<Whole>,
    /// The nearest steps behind it that only the written order puts there.
    pub only_written: Vec<usize>,
}

/// A phase as a schedule.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
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
    /// What takes the whole engine.
    pub alone: Vec<Alone>,
    /// Steps that are to be done and aren't on it: held, or behind what is held.
    pub left_out: Vec<usize>,
}

/// Schedules the steps of a phase that can be worked for so many pairs of hands. Changes take what they took when the order
/// was chosen.
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
/// let shared = crew(&view.procedure, &view.network, &view.decisions, strip, 2).expect("no step needs more than two");
/// assert!(shared.bound <= shared.span);
/// ```
pub fn crew(
    procedure: &Procedure,
    network: &Network,
    decisions: &Decisions,
    plan: &PhasePlan,
    hands: u32,
) -> Result<Crew, usize> {
    let known = Known { procedure, network, decisions };
    let shared: Vec<SetupId> =
        procedure.setups.numbered().filter(|(_, setup)| !setup.each_person).map(|(id, _)| id).collect();
    let units = units(known, plan, &shared, hands);
    let hazardous = hazardous(known);
    let kept = Kept::new(&units, &hazardous);
    let out = kept.left_out(&plan.edges);
    let mut crew = Crew {
        left_out: (0..units.len())
            .filter(|unit| out[*unit])
            .flat_map(|unit| units[unit].steps.clone())
            .collect(),
        ..Crew::default()
    };
    let chart = Chart::of(plan, &units, &kept, &out);
    let Some(chart) = chart else { return Ok(crew) };
    let times = plan.choice.as_ref().map_or(ChangeTimes::PLANNING, |choice| choice.times);
    let change = |id: &SetupId| {
        let stated = procedure.setup(*id).change.map(|change| change.base().round() as u64);
        stated.unwrap_or(u64::from(times.setup) / 10)
    };
    let changes: Vec<u64> = shared.iter().map(change).collect();
    let (job, parts) = chart.job(hands, changes);
    let first: Vec<usize> = (0..job.tasks.len()).collect();
    let effort =
        Effort { work: (EFFORT_EACH * job.tasks.len() as u64).min(EFFORT_MOST), ..Effort::default() };
    let found = best_schedule(&job, &first, effort)
        .map_err(|task| chart.units[parts[task].0].steps.first().copied().unwrap_or_default())?;
    let mut stints: Vec<(usize, Stint)> = Vec::new();
    for (task, (unit, waits)) in parts.iter().enumerate() {
        let own = chart.units[*unit];
        let duration = job.tasks[task].duration;
        // A step that only waits takes nobody; one of which no time is stated is work all the same.
        let idle = duration == 0 && (*waits || own.only_waits);
        if own.steps.is_empty() || idle {
            continue;
        }
        let start = found.start[task];
        // How many, for now; which, when all are in order of time.
        let hands = if *waits { Vec::new() } else { vec![0; own.hands as usize] };
        let stint =
            Stint { steps: own.steps.clone(), start, end: start + duration, hands, not_before: Vec::new() };
        stints.push((*unit, stint));
    }
    stints.sort_by_key(|(unit, stint)| (stint.start, stint.end, *unit));
    assign(stints.iter_mut().map(|(_, stint)| stint), hands as usize);
    let Some(()) = chart.wait_for(known, plan, &mut stints) else {
        // Never seen: then nothing is shared out, rather than something wrong.
        crew.left_out = units.iter().flat_map(|unit| unit.steps.clone()).collect();
        return Ok(crew);
    };
    crew.in_a_row = job.tasks.iter().map(|task| task.duration).sum();
    crew.stints = stints.into_iter().map(|(_, stint)| stint).collect();
    crew.span = found.span;
    crew.bound = found.bound;
    crew.untimed = chart.units.iter().flat_map(|unit| unit.untimed.iter().copied()).collect();
    crew.alone = chart.alone();
    Ok(crew)
}

/// States whose values bring hazards with them.
fn hazardous(Known { procedure, network, .. }: Known<'_>) -> BTreeSet<ThingId> {
    let things = (0u32..).map(ThingId).zip(&network.things);
    things
        .filter(|(_, thing)| match thing.kind {
            ThingKind::State(state) => !procedure.state(state).hazards.is_empty(),
            _ => false,
        })
        .map(|(id, _)| id)
        .collect()
}

/// The units that are worked, in planned order, and what keeps them in order.
struct Chart<'u> {
    units: Vec<&'u Unit>,
    /// What must be over before what, the written places included.
    graph: Acyclic,
    /// What facts and the author's links alone demand.
    stated: Before,
}

impl<'u> Chart<'u> {
    /// None if nothing can be worked.
    fn of(plan: &PhasePlan, units: &'u [Unit], kept: &Kept<'_>, out: &[bool]) -> Option<Chart<'u>> {
        let places: Vec<usize> = (0..units.len()).filter(|place| !out[*place]).collect();
        let on: Vec<Option<usize>> =
            (0..units.len()).map(|place| places.binary_search(&place).ok()).collect();
        let links = plan.edges.iter().filter_map(|(from, to)| Some((on[*from]?, on[*to]?)));
        let links: Vec<(usize, usize)> = links.collect();
        let count = places.len();
        let pairs = (0..count).flat_map(|first| (first + 1..count).map(move |then| (first, then)));
        let written = pairs.filter(|(first, then)| kept.apart(places[*first], places[*then]));
        let written: Vec<(usize, usize)> = written.collect();
        let graph = |pairs: Vec<(usize, usize)>| Acyclic::new(Precedence::new(count, pairs)).ok();
        let stated = Before::new(&graph(links.clone())?);
        let all = graph([links, written].concat())?;
        let needless = redundant_edges(&all);
        let edges = all.graph().edges().iter().copied();
        let graph = graph(edges.filter(|edge| needless.binary_search(edge).is_err()).collect())?;
        let units: Vec<&Unit> = places.iter().map(|place| &units[*place]).collect();
        units.iter().any(|unit| !unit.steps.is_empty()).then_some(Chart { units, graph, stated })
    }

    /// The tasks, and of each the unit and whether it only waits: a unit is one task, or a wait and its work one after
    /// the other.
    fn job(&self, hands: u32, change: Vec<u64>) -> (Job, Vec<(usize, bool)>) {
        let tools: BTreeSet<ToolId> = self.units.iter().flat_map(|unit| unit.tools.iter().copied()).collect();
        let mut tasks = Vec::new();
        let mut parts: Vec<(usize, bool)> = Vec::new();
        let mut ends: Vec<(usize, usize)> = Vec::new();
        for (index, unit) in self.units.iter().enumerate() {
            let first = tasks.len();
            let mut stretches = vec![(unit.work, unit.hands, false)];
            if unit.wait > 0 {
                stretches.insert(usize::from(!unit.waits_first), (unit.wait, 0, true));
            }
            for (duration, hands, waits) in stretches {
                let one = |tool: &ToolId| u32::from(!waits && unit.tools.contains(tool));
                let stands =
                    if unit.stands.is_empty() { vec![None; change.len()] } else { unit.stands.clone() };
                tasks.push(Task {
                    duration,
                    needs: std::iter::once(hands).chain(tools.iter().map(one)).collect(),
                    states: stands,
                    sets: unit.sets.iter().map(|thing| thing.index()).collect(),
                    relies: unit.needs.iter().map(|thing| thing.index()).collect(),
                });
                parts.push((index, waits));
            }
            ends.push((first, tasks.len() - 1));
        }
        let mut pairs: Vec<(usize, usize)> =
            self.graph.graph().edges().iter().map(|(from, to)| (ends[*from].1, ends[*to].0)).collect();
        pairs.extend(ends.iter().filter(|(first, last)| first < last).copied());
        let graph =
            Acyclic::new(Precedence::new(tasks.len(), pairs)).expect("units stand in an allowed order");
        let capacity = std::iter::once(hands).chain(tools.iter().map(|_| 1)).collect();
        (Job { graph, tasks, capacity, change }, parts)
    }

    /// Says of each stint what must be over before it, and proves that this is enough; none if it isn't. Stints stand in
    /// the order of their times, each with its unit.
    fn wait_for(&self, known: Known<'_>, plan: &PhasePlan, stints: &mut [(usize, Stint)]) -> Option<()> {
        let work: Vec<usize> = (0..stints.len()).filter(|at| !stints[*at].1.hands.is_empty()).collect();
        let own: Vec<usize> = work.iter().map(|at| stints[*at].0).collect();
        let ordered = Before::new(&self.graph);
        let stint = |at: usize| &stints[work[at]].1;
        let same = |a: usize, b: usize| stint(a).hands.iter().any(|person| stint(b).hands.contains(person));
        let over = |a: usize, b: usize| stint(a).end <= stint(b).start;
        let waits = |a: usize, b: usize| {
            let (one, other) = (self.units[own[a]], self.units[own[b]]);
            ordered.before(own[a], own[b])
                || over(a, b)
                    && (same(a, b) || !proof::disjoint(one, other) || !one.tools.is_disjoint(&other.tools))
        };
        let pairs = (0..work.len()).flat_map(|a| (a + 1..work.len()).map(move |b| (a, b)));
        let pairs: Vec<(usize, usize)> = pairs.filter(|(a, b)| waits(*a, *b)).collect();
        let graph = Acyclic::new(Precedence::new(work.len(), pairs)).ok()?;
        let units: Vec<&Unit> = own.iter().map(|unit| self.units[*unit]).collect();
        if !proof::holds(known, plan.phase, &units, &graph) {
            return None;
        }
        let needless = redundant_edges(&graph);
        let nearest = graph.graph().edges().iter().filter(|edge| needless.binary_search(edge).is_err());
        let others = nearest.filter(|(a, b)| !same(*a, *b));
        let over_first: Vec<(usize, usize)> =
            others.filter_map(|(a, b)| Some((work[*b], *stint(*a).steps.last()?))).collect();
        for (then, step) in over_first {
            stints[then].1.not_before.push(step);
        }
        Some(())
    }

    /// What takes the whole engine, with the nearest behind it that nothing but the written order puts there.
    fn alone(&self) -> Vec<Alone> {
        let whole = |unit: &Unit| !unit.whole.is_empty() && unit.at_engine;
        let places = (0..self.units.len()).filter(|place| whole(self.units[*place]));
        places
            .map(|place| {
                let behind = (place + 1..self.units.len()).filter(|then| self.units[*then].at_engine);
                // As far as the next one that takes the whole engine too.
                let mut near = Vec::new();
                for then in behind {
                    if !self.stated.before(place, then) {
                        near.extend(self.units[then].steps.first().copied());
                    }
                    if whole(self.units[then]) {
                        break;
                    }
                }
                Alone {
                    steps: self.units[place].steps.clone(),
                    because: self.units[place].whole.clone(),
                    only_written: near,
                }
            })
            .collect()
    }
}

/// Gives each stint the pairs of hands that are free when it begins. What takes no time, so far as is stated, may fall
/// where too few are free: then it goes to those who are busy too, since somebody does it all the same.
fn assign<'s>(stints: impl Iterator<Item = &'s mut Stint>, hands: usize) {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_of_no_time_has_its_hands_even_where_nobody_is_free() {
        let stint = |start, end, hands: usize| Stint {
            steps: vec![0],
            start,
            end,
            hands: vec![0; hands],
            not_before: Vec::new(),
        };
        // Two at work from 0 to 60; meanwhile a step without a stated time for one, then one for two.
        let mut stints = [
            stint(0, 60, 1),
            stint(0, 60, 1),
            stint(0, 30, 0),
            stint(30, 30, 1),
            stint(40, 40, 2),
            stint(60, 90, 2),
        ];
        assign(stints.iter_mut(), 2);
        let hands: Vec<&[usize]> = stints.iter().map(|stint| stint.hands.as_slice()).collect();
        assert_eq!(hands, [&[0][..], &[1], &[], &[0], &[0, 1], &[0, 1]]);
    }
}
