//! Links of one phase: stated ones, derived ones where the facts leave no choice, and joint rules.

use std::collections::BTreeSet;

use super::answers::Case;
use super::expand::{Nodes, agree};
use super::facts::outside;
use super::reach::{PhaseOrder, precedence};
use super::traffic::Traffic;
use super::types::*;
use super::types::{Question, Thing};
use super::values::{Value, Values};
use super::walk::{Held, Walk};
use crate::procedure::model::*;
use crate::sequence::{Acyclic, feedback_edges};
use crate::source::Span;

/// Links of one phase and the order they allow.
pub(super) struct Settled {
    /// Every link that counts.
    pub links: Vec<Link>,
    /// The order; what contradicted is left out of it.
    pub order: PhaseOrder,
    /// Contradictions among what is stated and what the facts say.
    pub contradictions: Vec<Contradiction>,
    /// Rule links that facts or stated links turn round.
    pub departures: Vec<Link>,
}

/// Links the author stated between the steps of a phase.
pub(super) fn stated(procedure: &Procedure, nodes: &Nodes, phase: Phase) -> Vec<Link> {
    let mut links = Vec::new();
    for (source, places) in &nodes.of_step {
        let StepSource::Written(id) = source else { continue };
        let step = procedure.step(*id);
        if step.phase != phase {
            continue;
        }
        for (_, node, _) in places {
            let ends = |keys: &[DerivedKey]| nodes.derived(keys);
            let before = ends(&step.after_derived).into_iter().map(|other| (other, *node));
            let after = ends(&step.before_derived).into_iter().map(|other| (*node, other));
            let (reason, fact) = (Reason::Stated, step.naming.span);
            let stated = before.chain(after).filter(|(from, to)| from != to);
            links.extend(stated.map(|(from, to)| Link { from, to, reason, thing: None, brings: true, fact }));
        }
        for (link, comes_after, reason) in step_links(step) {
            for (binding, node, _) in places {
                for other in ends(procedure, nodes, link, binding) {
                    let (from, to) = if comes_after { (other, *node) } else { (*node, other) };
                    let same_phase = nodes.nodes[other.index()].phase == phase;
                    if same_phase && from != to {
                        links.push(Link { from, to, reason, thing: None, brings: true, fact: link.span });
                    }
                }
            }
        }
    }
    links
}

/// A step's links with whether it comes after their end.
fn step_links(step: &Step) -> impl Iterator<Item = (&StepLink, bool, Reason)> {
    let after = step.after.iter().map(|link| (link, true, Reason::Stated));
    let before = step.before.iter().map(|link| (link, false, Reason::Stated));
    let straight = step.straight_after.iter().map(|straight| (&straight.0, true, Reason::StraightAfter));
    after.chain(before).chain(straight)
}

/// A stated link that leads back into an earlier phase: which step would have to come first, which then.
pub(super) struct Backwards {
    pub first: String,
    pub then: String,
    pub span: Span,
    /// The earlier of the two phases.
    pub phase: Phase,
}

/// Every stated link that leads back.
pub(super) fn backwards(procedure: &Procedure) -> Vec<Backwards> {
    let mut found = Vec::new();
    for step in &procedure.steps {
        for (link, comes_after, _) in step_links(step) {
            let (id, phase) = match link.to {
                LinkEnd::Step(target) => (&procedure.step(target).naming.id, procedure.step(target).phase),
                LinkEnd::Group(group) => {
                    let group = procedure.group(group);
                    let first = group.steps.first().map(|step| procedure.step(*step).phase);
                    (&group.naming.id, first.unwrap_or(step.phase))
                }
            };
            let own = &step.naming.id;
            if phase > step.phase && comes_after {
                found.push(Backwards {
                    first: id.clone(),
                    then: own.clone(),
                    span: link.span,
                    phase: step.phase,
                });
            } else if phase < step.phase && !comes_after {
                found.push(Backwards { first: own.clone(), then: id.clone(), span: link.span, phase });
            }
        }
    }
    found
}

/// The nodes that a stated link leads to, for the step at one position.
fn ends(procedure: &Procedure, nodes: &Nodes, link: &StepLink, binding: &Binding) -> Vec<NodeId> {
    match link.to {
        LinkEnd::Group(group) => nodes.of_group.get(&group).into_iter().copied().collect(),
        LinkEnd::Step(target) => {
            let step = procedure.step(target);
            let places = nodes.of_step.get(&StepSource::Written(target)).into_iter().flatten();
            places
                .filter(|(other, _, _)| {
                    let named =
                        step.each.iter().enumerate().all(|(index, axis)| match link.pattern.0.get(index) {
                            Some(At::Position(at)) => other.position(*axis).is_none_or(|here| here == *at),
                            Some(At::Group(by, group)) => {
                                other.position(*by).is_none_or(|here| here == *group)
                            }
                            Some(At::Axis) | None => true,
                        });
                    named && (link.all || !link.pattern.0.is_empty() || agree(other, binding))
                })
                .map(|(_, node, _)| *node)
                .collect()
        }
    }
}

/// Settles a phase: adds derived links to the stated ones, then the rules, and looks for contradictions at each
/// stage, so that a fact wins over a rule.
pub(super) fn settle(
    (things, questions): (&[Thing], &[Question]),
    nodes: &[Node],
    phase: Phase,
    walk: &Walk,
    stated: &[Link],
    rules: Vec<Link>,
) -> Settled {
    let members: Vec<NodeId> = node_ids(nodes, phase);
    let traffic = Traffic::of(things.len(), nodes, &members);
    let mut derived = Derived {
        nodes,
        things,
        questions,
        walk,
        found: stated.to_vec(),
        undoing: Vec::new(),
        most_found: 0,
        most_undoing: 0,
    };
    for thing in traffic.needed() {
        let (needs, sets) = (traffic.needs(thing), traffic.sets(thing));
        let more = MOST_DERIVED + MORE_FOR_EACH * (needs.len() + sets.len());
        (derived.most_found, derived.most_undoing) =
            (derived.found.len() + more, derived.undoing.len() + more);
        derived.thing(thing, needs, sets);
    }
    let (mut links, undoing) = (derived.found, derived.undoing);
    drop(traffic);
    links.shrink_to_fit();
    let mut contradictions = Vec::new();
    let graph = acyclic(&members, &mut links, &mut contradictions);
    let mut order = PhaseOrder::new(members.clone(), graph);
    order.ask(undoing.iter().flat_map(|undo| undo.bringers.iter().map(|bringer| (undo.link.to, *bringer))));
    let before = links.len();
    links.extend(undoing.into_iter().filter_map(|undo| {
        let counts =
            undo.from_start || undo.bringers.iter().any(|bringer| !order.before(undo.link.to, *bringer));
        counts.then_some(undo.link)
    }));
    let more = links.len() > before;
    unique(&mut links);
    let changed = more.then(|| acyclic(&members, &mut links, &mut contradictions));
    let (ruled, departures) = add_rules(&members, &mut links, rules);
    if let Some(graph) = ruled.or(changed) {
        order = PhaseOrder::new(members, graph);
    }
    Settled { order, links, contradictions, departures }
}

/// The nodes of a phase.
pub(super) fn node_ids(nodes: &[Node], phase: Phase) -> Vec<NodeId> {
    (0u32..).map(NodeId).zip(nodes).filter(|(_, node)| node.phase == phase).map(|(id, _)| id).collect()
}

/// One link per pair, reason and thing is enough to explain an order.
fn unique(links: &mut Vec<Link>) {
    let mut seen = BTreeSet::new();
    links.retain(|link| seen.insert((link.from, link.to, link.reason, link.fact, link.brings)));
}

/// So many links are derived of one thing, and so many more for each act that needs or sets it: far beyond what work on an
/// engine has, where few acts undo what many need. What isn't derived is still proved: where an order breaks a need, the proof
/// says so.
const MOST_DERIVED: usize = 4_096;
const MORE_FOR_EACH: usize = 16;

/// So many links are looked through for cycles, all searches together; then the rest of them are cut without a word: what is told
/// by then is more than anybody mends at once.
const MOST_SEARCHED: usize = 1_500_000;

/// A graph of the links; each cycle is taken out as a contradiction, and its links with it, until none is left.
fn acyclic(members: &[NodeId], links: &mut Vec<Link>, contradictions: &mut Vec<Contradiction>) -> Acyclic {
    let mut searched = 0;
    loop {
        match Acyclic::new(precedence(members, links.iter())) {
            Ok(graph) => return graph,
            Err(_) if searched > MOST_SEARCHED => {
                let cut: BTreeSet<(NodeId, NodeId)> = feedback_edges(&precedence(members, links.iter()))
                    .into_iter()
                    .map(|(from, to)| (members[from], members[to]))
                    .collect();
                links.retain(|link| !cut.contains(&(link.from, link.to)));
            }
            Err(cycles) => {
                searched += links.len();
                for cycle in cycles {
                    let mut chosen = Vec::new();
                    for (from, to) in cycle.edges() {
                        let (from, to) = (members[from], members[to]);
                        // Among several reasons for one pair, what the author stated is the likelier slip.
                        let best = links
                            .iter()
                            .filter(|l| l.from == from && l.to == to)
                            .min_by_key(|l| l.reason != Reason::Stated);
                        chosen.extend(best.cloned());
                    }
                    let pairs: BTreeSet<(NodeId, NodeId)> =
                        chosen.iter().map(|link| (link.from, link.to)).collect();
                    links.retain(|link| !pairs.contains(&(link.from, link.to)));
                    contradictions.push(Contradiction(chosen));
                }
            }
        }
    }
}

/// Adds rule links; those that close a cycle are left out and given back. With them the graph of all, if there are any.
fn add_rules(
    members: &[NodeId],
    links: &mut Vec<Link>,
    mut rules: Vec<Link>,
) -> (Option<Acyclic>, Vec<Link>) {
    unique(&mut rules);
    let mut departures: Vec<Link> = Vec::new();
    if rules.is_empty() {
        return (None, departures);
    }
    loop {
        let cycles = match Acyclic::new(precedence(members, links.iter().chain(&rules))) {
            Ok(graph) => {
                links.append(&mut rules);
                return (Some(graph), departures);
            }
            Err(cycles) => cycles,
        };
        let mut left_out: BTreeSet<(NodeId, NodeId)> = BTreeSet::new();
        for cycle in cycles {
            for (from, to) in cycle.edges() {
                let pair = (members[from], members[to]);
                let by_rule_only = rules.iter().any(|rule| (rule.from, rule.to) == pair)
                    && !links.iter().any(|link| (link.from, link.to) == pair);
                if by_rule_only {
                    left_out.insert(pair);
                }
            }
        }
        let (out, kept): (Vec<Link>, Vec<Link>) =
            rules.into_iter().partition(|rule| left_out.contains(&(rule.from, rule.to)));
        departures.extend(out);
        rules = kept;
    }
}

/// A link from a step that relies on something to a step that undoes it, before it is known whether that step
/// comes earlier anyway.
struct Undoing {
    link: Link,
    /// Steps that bring about what is relied on.
    bringers: Vec<NodeId>,
    /// Whether the value at the start of the phase may be what is relied on.
    from_start: bool,
}

struct Derived<'a> {
    nodes: &'a [Node],
    things: &'a [Thing],
    questions: &'a [Question],
    walk: &'a Walk,
    found: Vec<Link>,
    undoing: Vec<Undoing>,
    /// How many of either there may be with the thing that is looked at.
    most_found: usize,
    most_undoing: usize,
}

impl Derived<'_> {
    fn event(&self, at: (NodeId, usize)) -> &Event {
        &self.nodes[at.0.index()].events[at.1]
    }

    fn thing(&mut self, thing: ThingId, needs: &[(NodeId, usize)], raw: &[(NodeId, usize)]) {
        if self.walk.is_blurred(thing) {
            return;
        }
        let sets = self.net(raw);
        let start = self.walk.of(self.things, thing);
        // What an act wants of a thing is one need, in however many pieces the answers cut it: a choice in one of them is
        // a choice in all.
        let open = needs.iter().filter(|need| !self.leaves_no_choice(raw, **need, &sets, &start));
        let open: BTreeSet<_> = open.filter_map(|need| self.wish(*need)).collect();
        for need in needs {
            if open.is_empty() || self.wish(*need).is_some_and(|wish| !open.contains(&wish)) {
                self.need(thing, raw, *need, &sets, &start);
            }
        }
    }

    /// Which act wants which values, of the thing that a need is about.
    fn wish(&self, at: (NodeId, usize)) -> Option<(NodeId, u32, Option<ActNumber>, Values)> {
        let event = self.event(at);
        match event.effect {
            Effect::Need(allowed, _) => Some((at.0, event.member, event.act, allowed)),
            Effect::Set(_) => None,
        }
    }

    /// Results that are still there when their node ends, each with the answers under which they are.
    fn net(&self, sets: &[(NodeId, usize)]) -> Vec<(NodeId, Value, Case)> {
        let mut net = Vec::new();
        for (position, at) in sets.iter().enumerate() {
            let event = self.event(*at);
            let Effect::Set(value) = event.effect else { continue };
            let later = sets[position + 1..].iter().take_while(|later| later.0 == at.0);
            let pieces = self.outside(event.case.clone(), later.map(|later| &self.event(*later).case));
            net.extend(pieces.into_iter().map(|case| (at.0, value, case)));
        }
        net
    }

    /// What is left of a case outside others.
    fn outside<'c>(&self, case: Case, others: impl Iterator<Item = &'c Case>) -> Vec<Case> {
        outside(self.questions, case, others)
    }

    /// The answers under which a need is not met by its own node, before it.
    fn cases(&self, raw: &[(NodeId, usize)], at: (NodeId, usize)) -> Vec<Case> {
        let from = raw.partition_point(|set| set.0 < at.0);
        let settled = raw[from..].iter().take_while(|set| set.0 == at.0 && set.1 < at.1);
        self.outside(self.event(at).case.clone(), settled.map(|set| &self.event(*set).case))
    }

    /// Whether no answers give a need two things that bring it about.
    fn leaves_no_choice(
        &self,
        raw: &[(NodeId, usize)],
        at: (NodeId, usize),
        sets: &[(NodeId, Value, Case)],
        start: &[Held],
    ) -> bool {
        let Effect::Need(allowed, _) = self.event(at).effect else { return true };
        let cases = self.cases(raw, at);
        cases
            .iter()
            .all(|case| exclusive(right(at.0, allowed, sets, case), &right_at_start(allowed, start, case)))
    }

    fn need(
        &mut self,
        thing: ThingId,
        raw: &[(NodeId, usize)],
        at: (NodeId, usize),
        sets: &[(NodeId, Value, Case)],
        start: &[Held],
    ) {
        let Effect::Need(allowed, why) = &self.event(at).effect else { return };
        let (allowed, why) = (*allowed, why.clone());
        for case in &self.cases(raw, at) {
            let right: Vec<(NodeId, Case)> = right(at.0, allowed, sets, case).collect();
            let right_start = right_at_start(allowed, start, case);
            let link = |from: NodeId, to: NodeId, brings: bool| Link {
                from,
                to,
                reason: why.reason,
                thing: Some(thing),
                brings,
                fact: why.fact,
            };
            let room = self.most_found.saturating_sub(self.found.len());
            self.found.extend(right.iter().map(|(node, _)| link(*node, at.0, true)).take(room));
            for (node, _, set) in
                sets.iter().filter(|(node, value, _)| *node != at.0 && !allowed.contains(*value))
            {
                if self.undoing.len() >= self.most_undoing {
                    break;
                }
                let Some(both) = set.and(case) else { continue };
                let bringers = right.iter().filter(|(_, c)| c.meets(&both)).map(|(node, _)| *node).collect();
                let from_start = right_start.iter().any(|c| c.meets(&both));
                self.undoing.push(Undoing { link: link(at.0, *node, false), bringers, from_start });
            }
        }
    }
}

/// What brings an allowed value about in another node, with the answers under which it does.
fn right(
    own: NodeId,
    allowed: Values,
    sets: &[(NodeId, Value, Case)],
    case: &Case,
) -> impl Iterator<Item = (NodeId, Case)> {
    let others = sets.iter().filter(move |(node, value, _)| *node != own && allowed.contains(*value));
    others.filter_map(|(node, _, set)| Some((*node, set.and(case)?)))
}

/// The answers under which the value at the start of the phase is allowed.
fn right_at_start(allowed: Values, start: &[Held], case: &Case) -> Vec<Case> {
    start.iter().filter(|held| allowed.contains(held.value)).filter_map(|held| held.case.and(case)).collect()
}

/// Whether no answers give a need two things that bring it about.
fn exclusive(right: impl Iterator<Item = (NodeId, Case)>, start: &[Case]) -> bool {
    let mut met: Vec<(NodeId, Case)> = Vec::new();
    for (node, case) in right {
        if start.iter().any(|start| start.meets(&case))
            || met.iter().any(|(other, second)| *other != node && second.meets(&case))
        {
            return false;
        }
        met.push((node, case));
    }
    true
}
