//! The entry: one phase after another is expanded, settled and walked through; then everything is tested.

use std::collections::{BTreeMap, BTreeSet};

use super::acts::Habits;
use super::answers::Case;
use super::derive::{Builder, reverse_rank};
use super::expand::Nodes;
use super::facts::Facts;
use super::links::{Settled, backwards};
use super::proof::Proof;
use super::reach::PhaseOrder;
use super::report::Findings;
use super::settling::{Phased, Supported, Without, settled, settled_without};
use super::types::Thing;
use super::types::*;
use super::values::{self, Fit, Inside, Is, ThingKind, Tightness, Values};
use super::walk::Walk;
use crate::diagnostics::codes::network as codes;
use crate::diagnostics::{Diagnostic, Outcome, Severity};
use crate::procedure::model::*;
use crate::procedure::{Judge, Written};
use crate::source::Span;

/// Turns a procedure into its network and says everything that is wrong with its order.
///
/// ```
/// use benchleaf::{Sources, connect, parse, resolve};
///
/// let parts = "family pump \"Pump\" { origin \"invented\" }\n\
///     part cover \"Cover\" { held by bolts }\n\
///     fasteners bolts 4 \"Cover bolt\" { kind bolt  thread M8  reusable }\n";
/// let sound = "strip bolts_out \"Bolts out\" { undo bolts }\nstrip cover_off \"Cover off\" { take cover }\n";
/// let held = "strip cover_off \"Cover off\" { take cover }\n";
/// let faulty = |steps: &str| {
///     let mut sources = Sources::new();
///     let file = sources.add("pump.rebuild", format!("{parts}{steps}"));
///     connect(&resolve(&[parse(file, &sources.file(file).text).value]).value).has_errors()
/// };
/// assert!(!faulty(sound));
/// assert!(faulty(held));
/// ```
pub fn connect(procedure: &Procedure) -> Outcome<Network> {
    let (mut outcome, supported) = connected(procedure);
    let implied: Vec<Span> = outcome.diagnostics.iter().filter_map(implied).collect();
    if implied.is_empty() {
        return outcome;
    }
    // What follows from the facts as they are read with a link there may not follow without it.
    let before = wrongs(&outcome.diagnostics);
    let network = &outcome.value;
    let sound = |links: &[Span]| {
        let procedure = without(procedure, links);
        // Mostly the phases by themselves tell, at a fraction of what all the rest takes.
        let settled = before.is_empty().then(|| settled_without(&procedure, links, network, &supported));
        match settled {
            Some(Without::Alike) => true,
            Some(Without::Contradicted) => false,
            Some(Without::Changed) | None => wrongs(&connected(&procedure).0.diagnostics).is_subset(&before),
        }
    };
    if !sound(&implied) {
        // One alone has just been tried.
        let among_others = implied.len() > 1;
        let stays = |link: Span| among_others && sound(&[link]);
        outcome.diagnostics.retain(|found| self::implied(found).is_none_or(stays));
    }
    outcome
}

/// The place of a link that is told to follow from the facts.
fn implied(found: &Diagnostic) -> Option<Span> {
    let label = found.labels.first().filter(|_| found.code == &codes::AFTER_IMPLIED)?;
    Some(label.span)
}

/// Errors, without their places.
fn wrongs(diagnostics: &[Diagnostic]) -> BTreeSet<(&'static str, String)> {
    let errors = diagnostics.iter().filter(|found| found.severity() == Severity::Error);
    errors.map(|found| (found.code.name, found.message.clone())).collect()
}

/// The same procedure without what is said with `after` or `before` at these places.
fn without(procedure: &Procedure, links: &[Span]) -> Procedure {
    let mut procedure = procedure.clone();
    for step in procedure.steps.iter_mut() {
        step.after.retain(|link| !links.contains(&link.span));
        step.before.retain(|link| !links.contains(&link.span));
    }
    procedure
}

/// The network with all there is to say about it, and the needs for support that were put into its nodes.
fn connected(procedure: &Procedure) -> (Outcome<Network>, Supported) {
    let mut facts = Facts::new(procedure);
    let heavy: BTreeSet<PartId> = procedure.parts.ids().filter(|part| facts.heavy(*part)).collect();
    let habits = Habits::of(procedure, |part| heavy.contains(&part));
    let mut work = Work {
        nodes: Nodes::default(),
        walk: Walk::default(),
        derived: Vec::new(),
        orders: BTreeMap::new(),
        chosen: BTreeMap::new(),
        links: Vec::new(),
        contradictions: Vec::new(),
        departures: Vec::new(),
        supported: Vec::new(),
    };
    for phase in Phase::ALL {
        if phase == Phase::Build {
            work.start_build(&mut facts);
        }
        work.phase(&mut facts, &habits, phase);
    }
    let at_end = ledger_needs(&mut facts, &work.nodes);
    // What only the phases went by makes room for the proof.
    (work.walk, work.nodes.of_step) = Default::default();
    let backwards = backwards(procedure);
    // What rests on a contradiction is not judged: only phases before the first unsound one are.
    let unsound = work.contradictions.iter().flat_map(|ring| ring.0.iter().map(|link| link.from));
    let unsound = unsound.map(|node| work.nodes.nodes[node.index()].phase);
    let unsound = unsound.chain(backwards.iter().map(|link| link.phase)).min();
    let judged = |node: Option<NodeId>| {
        unsound.is_none_or(|unsound| node.is_some_and(|node| work.nodes.nodes[node.index()].phase < unsound))
    };
    let mut verdicts = Proof {
        things: &facts.things,
        questions: &facts.questions,
        nodes: &work.nodes.nodes,
        orders: &mut work.orders,
        at_end: &at_end,
    }
    .test();
    verdicts.faults.retain(|fault| judged(fault.node));
    verdicts.given_up.retain(|(node, _)| judged(*node));
    verdicts.crowded.retain(|(_, need)| judged(need.map(|(node, _)| node)));
    // A set that is missed where it holds something is complained of there.
    let missed: BTreeSet<SetId> = verdicts
        .faults
        .iter()
        .filter_map(|fault| match facts.things[fault.thing.index()].kind {
            ThingKind::Set(set, ..) => Some(set),
            _ => None,
        })
        .collect();
    let mut idle = super::idle::idle(&facts, &missed);
    idle.extend(super::started::not_started(procedure, &work.derived));
    idle.extend(super::held::not_held_again(procedure, &work.derived));
    let network = Network {
        structure: facts.structure,
        things: facts.things,
        questions: facts.questions,
        derived: work.derived,
        nodes: std::mem::take(&mut work.nodes.nodes),
        links: work.links,
        orders: work.chosen,
        contradictions: work.contradictions,
        faults: verdicts.faults,
    };
    let mut never_acts = std::mem::take(&mut work.nodes.never_acts);
    never_acts.retain(|act| !work.nodes.done_acts.contains(act));
    never_acts.sort_unstable();
    never_acts.dedup();
    let findings = Findings {
        procedure,
        network: &network,
        departures: &work.departures,
        backwards: &backwards,
        given_up: &verdicts.given_up,
        crowded: &verdicts.crowded,
        never: &work.nodes.never,
        never_acts: &never_acts,
        orders: &work.orders,
    };
    let mut diagnostics = findings.report();
    diagnostics.extend(idle);
    diagnostics.extend(super::turns::turns(procedure, &network));
    let judge = Judge::of(procedure);
    for derived in &network.derived {
        diagnostics.extend(judge.missing(&derived.step, &derived.key.id(procedure), true));
    }
    (Outcome { value: network, diagnostics }, work.supported)
}

struct Work {
    nodes: Nodes,
    walk: Walk,
    derived: Vec<DerivedStep>,
    orders: BTreeMap<Phase, PhaseOrder>,
    chosen: BTreeMap<Phase, Vec<NodeId>>,
    links: Vec<Link>,
    contradictions: Vec<Contradiction>,
    departures: Vec<Link>,
    supported: Supported,
}

impl Work {
    fn phase(&mut self, facts: &mut Facts<'_>, habits: &Habits, phase: Phase) {
        let procedure = facts.procedure;
        self.nodes.add_phase(facts, habits, &self.derived, phase);
        if phase == Phase::Build {
            self.rank_build(&facts.things);
            self.nodes.join_sections(procedure);
        }
        let Phased { settled, supported } = settled(facts, &mut self.nodes, &self.derived, &self.walk, phase);
        self.supported.extend(supported);
        let Settled { links, order, contradictions, departures } = settled;
        let chosen = order.order(|node| self.nodes.nodes[node.index()].rank);
        self.walk.pass_all(facts, &self.nodes.nodes, &chosen);
        self.links.reserve_exact(links.len());
        self.links.extend(links);
        self.contradictions.extend(contradictions);
        self.departures.extend(departures);
        self.chosen.insert(phase, chosen);
        self.orders.insert(phase, order);
    }

    /// Sets what states are said to be when the build starts, and derives the way back.
    fn start_build(&mut self, facts: &mut Facts<'_>) {
        self.walk.start_build(facts);
        let done: BTreeMap<NodeId, usize> = [Phase::Strip, Phase::Survey]
            .iter()
            .filter_map(|phase| self.chosen.get(phase))
            .flatten()
            .enumerate()
            .map(|(place, node)| (*node, place))
            .collect();
        let written = Written::of(facts.procedure);
        let builder = Builder { facts, nodes: &self.nodes, walk: &self.walk, done: &done, written };
        self.derived = builder.derive();
    }

    /// Author's build steps keep their order; each stands where the derived act that it replaces would, and
    /// derived steps stand in the reverse of the strip.
    fn rank_build(&mut self, things: &[Thing]) {
        let mut order: Vec<(u64, usize, usize)> = Vec::new();
        let mut last = 0;
        let loose = self.loosened(things);
        for (index, node) in
            self.nodes.nodes.iter().enumerate().filter(|(_, node)| node.phase == Phase::Build)
        {
            match node.members.first().map(|member| member.step) {
                Some(StepSource::Derived(derived)) => order.push((self.derived[derived].rank, 1, index)),
                _ => {
                    let own = mirrored_rank(things, &loose, node).unwrap_or(last);
                    last = last.max(own);
                    order.push((last, 0, index));
                }
            }
        }
        order.sort_unstable();
        let first = order.iter().map(|(_, _, index)| *index).min().unwrap_or(0);
        for (place, (_, _, index)) in order.into_iter().enumerate() {
            self.nodes.nodes[index].rank = first + place;
        }
    }

    /// For each thing where in the strip it last came loose: a part off, a set slack, a temporary out.
    fn loosened(&self, things: &[Thing]) -> BTreeMap<ThingId, usize> {
        let mut loose = BTreeMap::new();
        for (place, id) in self.chosen.get(&Phase::Strip).into_iter().flatten().enumerate() {
            for event in &self.nodes.nodes[id.index()].events {
                if matches!(
                    becomes(things, event),
                    Some(
                        Is::Part(Fit::Off)
                            | Is::Set(Tightness::Slack | Tightness::Out)
                            | Is::Temporary(Inside::Gone)
                    )
                ) {
                    loose.insert(event.thing, place);
                }
            }
        }
        loose
    }
}

/// What must hold when the job ends: everything back, every set tight, no temporary in.
fn ledger_needs(facts: &mut Facts<'_>, nodes: &Nodes) -> Vec<(ThingId, Values, Case)> {
    let procedure = facts.procedure;
    let touched: BTreeSet<ThingId> = nodes
        .nodes
        .iter()
        .flat_map(|node| &node.events)
        .filter(|event| matches!(event.effect, Effect::Set(_)))
        .map(|event| event.thing)
        .collect();
    let mut needs = Vec::new();
    for thing in touched {
        let (value, gone) = match facts.things[thing.index()].kind {
            ThingKind::Part(part, place) => {
                (values::part(part, place).values(Fit::Fitted), facts.left_out(part, place))
            }
            ThingKind::Set(set, place, class) => {
                let holes = values::holes(set, place, class);
                (holes.values(Tightness::Tight), facts.nothing_to_hold((set, place)))
            }
            ThingKind::Temporary(temporary, place) if !procedure.temporary(temporary).may_stay => {
                (values::temporary(temporary, place).values(Inside::Gone), Vec::new())
            }
            _ => continue,
        };
        let pieces = facts.outside(Case::always(), gone.iter());
        needs.extend(pieces.into_iter().map(|case| (thing, value, case)));
    }
    needs
}

/// What a thing is once an event has happened to it.
fn becomes(things: &[Thing], event: &Event) -> Option<Is> {
    match event.effect {
        Effect::Set(value) => Some(things[event.thing.index()].kind.is(value)),
        Effect::Need(..) => None,
    }
}

/// Where in the reverse of the strip the first part fitted, set tightened or temporary put in by this node came loose.
fn mirrored_rank(things: &[Thing], loose: &BTreeMap<ThingId, usize>, node: &Node) -> Option<u64> {
    let back = |event: &&Event| {
        matches!(
            becomes(things, event),
            Some(Is::Part(Fit::Fitted) | Is::Set(Tightness::Tight) | Is::Temporary(Inside::In))
        )
    };
    let place = node.events.iter().filter(back).find_map(|event| loose.get(&event.thing));
    place.map(|place| reverse_rank(*place, 0))
}

#[cfg(test)]
mod tests {
    use super::super::types::Member;
    use super::*;

    /// The procedure with a link stated, all positions of both ends.
    fn stating(procedure: &Procedure, first: StepId, then: StepId, span: Span) -> Procedure {
        let mut procedure = procedure.clone();
        let link = StepLink { to: LinkEnd::Step(first), pattern: Pattern::default(), all: true, span };
        procedure.steps[then].after.push(link);
        procedure
    }

    #[test]
    fn phases_by_themselves_tell_what_the_whole_tells() {
        for path in ["procedures/brackwater3.rebuild", "procedures/hallowmere4.rebuild"] {
            let mut sources = crate::source::Sources::new();
            let loaded = crate::procedure::load(&mut sources, std::path::Path::new(path));
            let procedure = loaded.value.expect("it is shipped");
            let network = connected(&procedure).0.value;
            let step = |node: NodeId| match network.nodes[node.index()].members.as_slice() {
                [Member { step: StepSource::Written(id), .. }] => Some(*id),
                _ => None,
            };
            let derived = network.links.iter().filter(|link| link.reason != Reason::Stated);
            let pairs: BTreeSet<(StepId, StepId)> =
                derived.filter_map(|link| Some((step(link.from)?, step(link.to)?))).collect();
            let link = Span::new(procedure.files[0], 0, 1);
            let mut tried = 0;
            for (first, then) in pairs.into_iter().step_by(60) {
                let stated = stating(&procedure, first, then, link);
                let (outcome, supported) = connected(&stated);
                if !outcome.diagnostics.iter().filter_map(implied).any(|span| span == link) {
                    continue;
                }
                tried += 1;
                let less = without(&stated, &[link]);
                let told = settled_without(&less, &[link], &outcome.value, &supported);
                let whole = wrongs(&connected(&less).0.diagnostics).is_empty();
                let right = if whole { Without::Alike } else { Without::Contradicted };
                assert!([right, Without::Changed].contains(&told), "{path}: {first:?}, {then:?}: {told:?}");
            }
            assert!(tried > 0, "{path}: some links follow from the facts");
        }
    }

    #[test]
    fn a_link_that_holds_the_order_together_is_told_by_the_phases() {
        let mut sources = crate::source::Sources::new();
        let path = std::path::Path::new("procedures/brackwater3.rebuild");
        let procedure = crate::procedure::load(&mut sources, path).value.expect("it is shipped");
        let (outcome, supported) = connected(&procedure);
        let links: Vec<Span> = outcome.diagnostics.iter().filter_map(implied).collect();
        assert!(!links.is_empty(), "one link looks as if it followed from the facts");
        let less = without(&procedure, &links);
        assert_eq!(settled_without(&less, &links, &outcome.value, &supported), Without::Contradicted);
        assert_eq!(settled_without(&procedure, &[], &outcome.value, &supported), Without::Alike);
    }
}
