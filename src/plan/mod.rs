//! Network and decisions to the plan of this job: every step in its chosen place, every repeat expanded, each
//! present, absent, done, or held by named questions, with the reasons for its place in words.
//!
//! It must not know pages: what a step looks like on paper is decided further on.

mod beforehand;
mod choose;
mod crew;
mod danger;
mod decided;
mod expand;
mod hold;
mod ledger;
mod left_out;
mod occasion;
mod ready;
mod reason;
mod setting;
mod standing;
mod turned;
mod types;
mod used_up;
pub(crate) mod words;

pub(crate) use beforehand::pieces;
pub use choose::Choosing;
pub(crate) use choose::{Bar, ChangeTimes, Choice, Cost, Moved, Shift};
pub use crew::crew;
pub(crate) use crew::{Alone, Crew, Stint, whole_words};
pub(crate) use decided::{may_go_back, verdict};
pub(crate) use hold::{fastened, no_value};
pub(crate) use ledger::{LedgerLine, LedgerStep, ledger};
pub(crate) use occasion::acts;
pub(crate) use ready::can_be_done;
pub(crate) use reason::{line_of, node_title, reason_words};
pub(crate) use setting::{done_at, fills, put_on};
pub use types::*;
pub(crate) use used_up::{total, used_up};

use std::collections::BTreeMap;

use crate::decide::Decisions;
use crate::network::{Network, NodeId, StepSource};
use crate::procedure::model::{Phase, Procedure, SetupId, Stance, Step};
use crate::sequence::{Acyclic, Precedence, Window, redundant_edges, windows};

/// Plans every phase that has an order: the steps in the network's order, numbered as they will be worked.
///
/// ```
/// use benchleaf::model::Phase;
/// use benchleaf::{
///     Choosing, Job, PlanOptions, Sources, Standing, connect, decide, parse, plan, resolve,
/// };
///
/// let text = "family pump \"Pump\" { origin \"invented\" }\n\
///     ask fan \"Is a fan fitted?\" = yes, no\n\
///     part cover \"Cover\"\n\
///     strip cover_off \"Take the cover off\" { take cover }\n\
///     strip fan_seen \"Look at the fan\" { when fan = yes  do \"Look at the fan.\" }\n";
/// let mut sources = Sources::new();
/// let pump = resolve(&[parse(sources.add("pump.rebuild", text), text).value]).value;
/// let network = connect(&pump).value;
/// let decisions = decide(&pump, &network.structure, &Job::default()).value;
/// let options = PlanOptions { recorded: false, choosing: Choosing::default() };
/// let planned = plan(&pump, &network, &decisions, options);
///
/// let strip = planned.phase(Phase::Strip).expect("there is a strip");
/// assert_eq!(strip.steps[0].standing, Standing::Present);
/// assert!(matches!(strip.steps[1].standing, Standing::Held(_)));
/// ```
pub fn plan(procedure: &Procedure, network: &Network, decisions: &Decisions, options: PlanOptions) -> Plan {
    plan_to(procedure, network, decisions, options, Phase::Start)
}

/// Plans the phases up to `last` alone: no phase depends on what comes after it.
///
/// ```
/// use benchleaf::model::Phase;
/// use benchleaf::{Choosing, Memory, PlanOptions, Request, Workshop, plan_to};
///
/// let files = Memory::new().with(
///     "pump.rebuild",
///     "family pump \"Pump\" { origin \"invented\"  invented }\n\
///      part cover \"Cover\"\n\
///      strip cover_off \"Take the cover off\" { take cover }\n",
/// );
/// let mut workshop = Workshop::over(files);
/// let view = workshop.job(&Request::of("pump.rebuild")).value.expect("nothing is wrong with it");
/// let options = PlanOptions { recorded: false, choosing: Choosing::default() };
/// let strip = plan_to(&view.procedure, &view.network, &view.decisions, options, Phase::Strip);
/// assert!(strip.phase(Phase::Strip).is_some());
/// assert!(strip.phase(Phase::Build).is_none());
/// ```
pub fn plan_to(
    procedure: &Procedure,
    network: &Network,
    decisions: &Decisions,
    options: PlanOptions,
    last: Phase,
) -> Plan {
    let known = Known { procedure, network, decisions, options };
    // Each phase starts with the bench as the last one left it.
    let mut bench = Bench::at_first(procedure);
    let wanted = network.orders.iter().filter(|(phase, _)| **phase <= last);
    let phases = wanted.map(|(phase, order)| plan_phase(&known, &mut bench, *phase, order)).collect();
    let mut plan = Plan { phases };
    let setting = setting::setting_still(&known, &plan);
    standing::wait_to_set(procedure, &mut plan, &setting);
    let before = beforehand::beforehand(&known, &plan);
    for (phase, before) in plan.phases.iter_mut().zip(before) {
        phase.before = before;
    }
    plan
}

/// What a plan is made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PlanOptions {
    /// Whether the record follows what is ordered and sent out. If not, parts that would have to arrive or come back
    /// hold nothing: the kit sheet lists them to be ticked by hand.
    pub recorded: bool,
    /// How the order is chosen.
    pub choosing: Choosing,
}

/// What every step is judged by.
#[derive(Clone, Copy)]
struct Known<'a> {
    procedure: &'a Procedure,
    network: &'a Network,
    decisions: &'a Decisions,
    options: PlanOptions,
}

/// The step as its author, or the build, wrote it.
///
/// ```
/// use benchleaf::model::Phase;
/// use benchleaf::{Memory, Request, Workshop, step_of};
///
/// let files = Memory::new().with(
///     "pump.rebuild",
///     "family pump \"Pump\" { origin \"invented\"  invented }\n\
///      part cover \"Cover\"\n\
///      strip cover_off \"Take the cover off\" { take cover }\n",
/// );
/// let mut workshop = Workshop::over(files);
/// let view = workshop.job(&Request::of("pump.rebuild")).value.expect("nothing is wrong with it");
/// let strip = view.plan.phase(Phase::Strip).expect("there is a strip");
/// let step = step_of(&view.procedure, &view.network, strip.steps[0].source);
/// assert_eq!(step.naming.title, "Take the cover off");
/// ```
pub fn step_of<'a>(procedure: &'a Procedure, network: &'a Network, source: StepSource) -> &'a Step {
    match source {
        StepSource::Written(id) => procedure.step(id),
        StepSource::Derived(index) => &network.derived[index].step,
    }
}

fn plan_phase(known: &Known, bench: &mut Bench, phase: Phase, author: &[NodeId]) -> PhasePlan {
    let Known { procedure, network, .. } = *known;
    let choice = choose::choose(known, bench, author);
    let order = choice.order.as_slice();
    let places: BTreeMap<NodeId, usize> = order.iter().enumerate().map(|(at, node)| (*node, at)).collect();
    let links = Links::of(network, order, &places);
    let mut steps: Vec<PlannedStep> = Vec::new();
    bench.dangers.begin(procedure, phase);
    for (place, node_id) in order.iter().enumerate() {
        let node = &network.nodes[node_id.index()];
        for (index, member) in node.members.iter().enumerate() {
            let step = step_of(procedure, network, member.step);
            let all = expand::lines(procedure, step, &member.binding);
            let lines = expand::present(known, node, index, &all);
            let acts = |lines: &[PlannedLine]| lines.iter().any(|line| matches!(line, PlannedLine::Act(_)));
            let standing = if step.acts().next().is_some() && !acts(&lines) {
                Standing::Absent
            } else {
                standing::standing(known, node, index, &lines)
            };
            let present = standing != Standing::Absent;
            let changes = if present { bench.change_to(step.setups_at(&member.binding)) } else { Vec::new() };
            let mut lines: Vec<PlannedLine> = set_up(procedure, &changes).chain(lines).collect();
            if present {
                let certain = !matches!(standing, Standing::Held(_));
                lines = bench.dangers.warn(procedure, lines, certain);
            }
            steps.push(PlannedStep {
                key: member.key.clone(),
                node: *node_id,
                member: index,
                trial: node.trial,
                source: member.step,
                binding: member.binding.clone(),
                number: None,
                setups: bench.values.clone(),
                changes,
                window: links
                    .windows
                    .get(place)
                    .copied()
                    .unwrap_or(Window { earliest: 1, latest: order.len() }),
                reasons: if index == 0 { links.reasons[place].clone() } else { Vec::new() },
                waits_for: Vec::new(),
                standing,
                lines,
            });
        }
    }
    mark_waiting(&mut steps, &links, order);
    number_steps(network, &mut steps);
    turned::reckon(procedure, phase, &mut steps);
    PhasePlan {
        phase,
        order: order.to_vec(),
        edges: links.edges,
        steps,
        before: Vec::new(),
        choice: Some(choice),
    }
}

/// Numbers the steps that the answers leave in. Derived steps that follow each other and undo one and the same step are one
/// piece of work with one number, unless one of them is held by something that doesn't hold another; what is done already
/// parts nothing, so that numbers stay while the work goes on.
fn number_steps(network: &Network, steps: &mut [PlannedStep]) {
    let mut number = 0;
    let mut undone: Option<NodeId> = None;
    let mut standing: Option<Standing> = None;
    for step in steps.iter_mut().filter(|step| step.standing != Standing::Absent) {
        let undoes = match step.source {
            StepSource::Derived(index) => network.derived[index].mirrors,
            StepSource::Written(_) => None,
        };
        let own = step.standing.is_left().then(|| step.standing.clone());
        let alike = own.is_none() || standing.is_none() || own == standing;
        if undoes.is_some() && undoes == undone && alike {
            standing = own.or(standing);
        } else {
            number += 1;
            standing = own;
        }
        undone = undoes;
        step.number = Some(number);
    }
}

/// How the engine is set anew before the first act, each change behind its hazard. Where a person stands is no work.
fn set_up<'p>(
    procedure: &'p Procedure,
    changes: &'p [(SetupId, usize)],
) -> impl Iterator<Item = PlannedLine> + 'p {
    let shared = changes.iter().filter(|(setup, _)| !procedure.setup(*setup).each_person);
    shared.flat_map(|(setup, value)| {
        let hazard = procedure.setup(*setup).hazard.map(|(hazard, _)| PlannedLine::Hazard(hazard));
        hazard.into_iter().chain([PlannedLine::SetUp(*setup, *value)])
    })
}

/// What the links of a phase say about its order; nodes are counted by their place in it.
struct Links {
    edges: Vec<(usize, usize)>,
    windows: Vec<Window>,
    reasons: Vec<Vec<Reasoned>>,
    graph: Precedence,
}

impl Links {
    fn of(network: &Network, order: &[NodeId], places: &BTreeMap<NodeId, usize>) -> Links {
        let mut reasons: Vec<Vec<Reasoned>> = vec![Vec::new(); order.len()];
        let mut pairs = Vec::new();
        for (index, link) in network.links.iter().enumerate() {
            if let (Some(from), Some(to)) = (places.get(&link.from), places.get(&link.to)) {
                pairs.push((*from, *to));
                reasons[*to].push(Reasoned { from: *from, link: index });
            }
        }
        let graph = Precedence::new(order.len(), pairs);
        let (edges, windows) = match Acyclic::new(graph.clone()) {
            Ok(acyclic) => {
                let redundant = redundant_edges(&acyclic);
                let kept = graph.edges().iter().filter(|edge| redundant.binary_search(edge).is_err());
                (kept.copied().collect(), windows(&acyclic))
            }
            Err(_) => (graph.edges().to_vec(), Vec::new()),
        };
        for reasons in &mut reasons {
            reasons.sort_by_key(|reasoned| (std::cmp::Reverse(reasoned.from), reasoned.link));
        }
        Links { edges, windows, reasons, graph }
    }
}

/// How the bench stands while the order is walked through: a step that demands nothing keeps what was.
struct Bench {
    values: Vec<(SetupId, usize)>,
    dangers: danger::Dangers,
}

impl Bench {
    fn at_first(procedure: &Procedure) -> Bench {
        let values = procedure.setups.numbered();
        Bench {
            values: values.map(|(id, setup)| (id, setup.at_first)).collect(),
            dangers: danger::Dangers::at_first(procedure),
        }
    }

    /// Puts the bench as the step demands and tells what had to be changed.
    fn change_to<'s>(&mut self, stances: impl Iterator<Item = &'s Stance>) -> Vec<(SetupId, usize)> {
        let mut changes = Vec::new();
        for Stance { setup, value, .. } in stances {
            for (known, now) in &mut self.values {
                if known == setup && now != value {
                    *now = *value;
                    changes.push((*setup, *value));
                }
            }
        }
        changes
    }
}

/// Tells each step which held steps stand before it in every order, the nearest on each way: until they are settled it
/// can't be reached.
fn mark_waiting(steps: &mut [PlannedStep], links: &Links, order: &[NodeId]) {
    let mut held: Vec<Vec<usize>> = vec![Vec::new(); order.len()];
    let mut at = 0;
    for place in 0..order.len() {
        let mut waits: Vec<usize> = Vec::new();
        for before in links.graph.predecessors(place) {
            // In the order of a graph without cycles a predecessor has been visited.
            waits.extend(&held[*before]);
        }
        waits.sort_unstable();
        waits.dedup();
        let first = at;
        while at < steps.len() && steps[at].node == order[place] {
            at += 1;
        }
        // Only the nearest held steps are told: whoever waits for them waits for what they wait for. Steps that no order splits
        // wait for those of their own before them.
        let mut own: Vec<usize> = Vec::new();
        for (index, step) in steps.iter_mut().enumerate().take(at).skip(first) {
            step.waits_for.clone_from(if own.is_empty() { &waits } else { &own });
            if matches!(step.standing, Standing::Held(_)) {
                own.push(index);
            }
        }
        held[place] = if own.is_empty() { waits } else { own };
    }
}
