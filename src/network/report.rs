//! Findings to complaints: faults of one kind at one act are one complaint that lists places and answers.

use std::collections::{BTreeMap, BTreeSet};

use super::acts::{fastened, stands};
use super::answers::Case;
use super::errors::{self, FallInRing, TrialInRing, Unmet};
use super::links::Backwards;
use super::reach::{PhaseOrder, precedence};
use super::types::Member;
use super::types::*;
use super::values::{Fit, ThingKind, Value, Values};
use super::words;
use crate::diagnostics::codes::network as codes;
use crate::diagnostics::{Code, Diagnostic};
use crate::procedure::model::*;
use crate::sequence::{Acyclic, before_each};
use crate::source::Span;
use crate::structure::HoleClass;

/// Everything that was found, and what is needed to say it.
pub(super) struct Findings<'a> {
    pub procedure: &'a Procedure,
    pub network: &'a Network,
    pub departures: &'a [Link],
    pub backwards: &'a [Backwards],
    pub given_up: &'a [(Option<NodeId>, usize)],
    pub crowded: &'a [(ThingId, Option<(NodeId, usize)>)],
    pub never: &'a [StepId],
    pub never_acts: &'a [Span],
    pub orders: &'a BTreeMap<Phase, PhaseOrder>,
}

/// What went wrong with a need, in kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Sort {
    Nothing,
    Later,
    Open,
    Between,
    /// An earlier act of the same step, block or trial undid it.
    Within,
    /// What brings it about comes before what undoes it, and that before the step, in every order.
    Before,
}

/// So many of what puts a need right are looked at for a step that could be waited for at all of its positions.
const MOST_PROPOSED: usize = 256;

impl Findings<'_> {
    /// All complaints, in no particular order.
    pub(super) fn report(&self) -> Vec<Diagnostic> {
        let mut found = Vec::new();
        found.extend(self.rings());
        found.extend(
            self.backwards.iter().map(|link| errors::phase_order(&link.first, &link.then, link.span)),
        );
        found.extend(self.departed());
        found.extend(self.unmet_needs());
        found.extend(self.single_use());
        found.extend(self.trials());
        found.extend(self.too_many());
        found.extend(self.never.iter().map(|step| {
            let step = self.procedure.step(*step);
            errors::never_done(&step.naming.id, step.when_span.unwrap_or(step.naming.span))
        }));
        found.extend(self.never_acts.iter().map(|act| errors::act_never_done(*act)));
        found.extend(self.implied());
        found.extend(self.formulas());
        found
    }

    fn node(&self, id: NodeId) -> &Node {
        &self.network.nodes[id.index()]
    }

    fn id(&self, node: NodeId) -> String {
        self.node(node).id(self.procedure)
    }

    fn thing(&self, id: ThingId) -> String {
        words::thing_name(self.procedure, &self.network.questions, &self.network.things[id.index()])
    }

    /// Rings of the first phase that has any, each set of steps once: the way back repeats what the strip says.
    fn rings(&self) -> Vec<Diagnostic> {
        let phase = |ring: &Contradiction| ring.0.first().map(|link| self.node(link.from).phase);
        let first = self.network.contradictions.iter().map(phase).min();
        let mut told = BTreeSet::new();
        let mut found = Vec::new();
        for ring in self.network.contradictions.iter().filter(|ring| Some(phase(ring)) == first) {
            let mut steps: Vec<NodeId> = ring.0.iter().map(|link| link.from).collect();
            steps.sort();
            if told.insert(steps) {
                found.push(self.ring(ring));
            }
        }
        found
    }

    fn ring(&self, ring: &Contradiction) -> Diagnostic {
        let steps: Vec<String> = ring.0.iter().map(|link| self.id(link.from)).collect();
        let links: Vec<(Span, String)> = ring
            .0
            .iter()
            .map(|link| {
                let (from, to) = (self.id(link.from), self.id(link.to));
                (link.fact, format!("`{from}` before `{to}`: {}", self.reason(link)))
            })
            .collect();
        let nodes = ring.0.iter().map(|link| self.node(link.from));
        let trial = nodes.filter(|node| node.trial && node.phase == Phase::Build).find_map(|node| {
            let sets = |node: &Node, fit: Fit| {
                let parts = node.events.iter().filter(|event| {
                    let is_part =
                        matches!(self.network.things[event.thing.index()].kind, ThingKind::Part(..));
                    is_part && event.effect == Effect::Set(Value::of(fit))
                });
                parts.map(|event| event.thing).collect::<Vec<ThingId>>()
            };
            let off = sets(node, Fit::Off);
            let part = self.thing(*off.first()?);
            // The author's own step that fits for good what the trial takes off.
            let own = self.network.nodes.iter().find_map(|own| {
                let mut steps = own.members.iter().filter_map(|member| match member.step {
                    StepSource::Written(id) => Some(self.procedure.step(id)),
                    StepSource::Derived(_) => None,
                });
                let linked = |step: &Step| {
                    step.after.iter().any(|link| Some(link.to) == node.group.map(LinkEnd::Group))
                };
                let unlinked = steps.find(|step| !linked(step))?;
                let fits = || sets(own, Fit::Fitted).iter().any(|thing| off.contains(thing));
                (own.phase == Phase::Build && !own.trial && fits()).then(|| unlinked.naming.id.clone())
            });
            Some(TrialInRing { trial: node.id(self.procedure), part, own })
        });
        errors::contradiction(&steps, &links, trial, self.falls_in(ring))
    }

    /// What would fall between two steps of a ring that nobody wrote.
    fn falls_in(&self, ring: &Contradiction) -> Option<FallInRing> {
        let derived = |link: &&Link| {
            let members = &self.node(link.from).members;
            members.iter().all(|member| matches!(member.step, StepSource::Derived(_)))
        };
        let steady = ring.0.iter().filter(derived).find(|link| link.reason == Reason::Steady)?;
        let (ThingKind::Part(id, _) | ThingKind::Steady(id, _)) =
            self.network.things[steady.thing?.index()].kind
        else {
            return None;
        };
        let part = self.procedure.part(id);
        let mut sets: Vec<SetId> = part.held_by.iter().map(|held| held.what.id).collect();
        sets.dedup();
        let name = |set: &SetId| self.procedure.set(*set).naming.id.clone();
        let joint = |set: &SetId| self.procedure.joints.iter().find(|joint| joint.has(*set));
        let mut tightened: Vec<String> = sets
            .iter()
            .map(|set| joint(set).map_or_else(|| name(set), |joint| joint.naming.id.clone()))
            .collect();
        tightened.dedup();
        (!sets.is_empty()).then(|| FallInRing {
            part: part.naming.id.clone(),
            sets: sets.iter().map(name).collect(),
            tightened,
        })
    }

    /// A link's reason in a few words.
    fn reason(&self, link: &Link) -> String {
        match (link.thing, link.brings) {
            (Some(thing), true) => format!("{} `{}`", link.reason.word(), self.thing(thing)),
            (Some(thing), false) => format!("it relies on `{}` ({})", self.thing(thing), link.reason.word()),
            (None, _) if link.reason == Reason::Stated => "stated here".to_owned(),
            (None, _) => link.reason.word().to_owned(),
        }
    }

    fn departed(&self) -> Vec<Diagnostic> {
        let mut seen = BTreeSet::new();
        let mut found = Vec::new();
        for link in self.departures {
            let (from, to) = (self.node(link.from), self.node(link.to));
            // Places of one step are told together.
            let step = |node: &Node| (node.group, node.members.first().map(|member| member.step));
            if !seen.insert((step(from), step(to), link.fact)) {
                continue;
            }
            let undoing = matches!(from.phase, Phase::Strip | Phase::Survey);
            let place = if link.from == link.to { link.fact } else { to.span };
            found.push(errors::rule_departed(
                &self.id(link.from),
                &self.id(link.to),
                undoing,
                place,
                link.fact,
            ));
        }
        found
    }

    fn unmet_needs(&self) -> Vec<Diagnostic> {
        let mut groups: BTreeMap<(Span, Span, Reason, Sort, ThingKind), Vec<&Fault>> = BTreeMap::new();
        let mut told: BTreeSet<(Option<StepSource>, Span, Reason, ThingKind)> = BTreeSet::new();
        let mut written: BTreeSet<(Span, Reason, ThingKind)> = BTreeSet::new();
        let (derived, own): (Vec<&Fault>, Vec<&Fault>) =
            self.network.faults.iter().partition(|f| self.is_derived(f));
        for fault in own.into_iter().chain(derived) {
            let (act, why) = self.place(fault);
            let base = self.everywhere(fault.thing);
            // What an author's step lacks, the way back lacks as well: that follows and is not told again.
            let cause = (why.fact, why.reason, base);
            if self.is_derived(fault) && written.contains(&cause) {
                continue;
            }
            if !self.is_derived(fault) {
                written.insert(cause);
            }
            // Acts of one step that lack the same thing for the same reason are told at the first.
            let step = fault.node.map(|node| self.member(node, fault.event).step);
            let key = (act, why.fact, why.reason, self.sort(fault), base);
            if told.insert((step, why.fact, why.reason, base)) || groups.contains_key(&key) {
                groups.entry(key).or_default().push(fault);
            }
        }
        groups
            .into_iter()
            .map(|((_, _, reason, sort, _), faults)| self.unmet(reason, sort, &faults))
            .collect()
    }

    fn is_derived(&self, fault: &Fault) -> bool {
        let member = fault.node.and_then(|node| self.node(node).members.first());
        member.is_some_and(|member| matches!(member.step, StepSource::Derived(_)))
    }

    fn place(&self, fault: &Fault) -> (Span, Why) {
        if let Some(node) = fault.node {
            let event = &self.node(node).events[fault.event];
            if let Effect::Need(_, why) = &event.effect {
                return (event.span, why.clone());
            }
        }
        let declared = self.declared(fault.thing);
        let act = fault.wrong.map_or(declared, |wrong| self.setting(wrong, fault.thing));
        (act, Why { reason: Reason::Ledger, fact: declared })
    }

    fn declared(&self, thing: ThingId) -> Span {
        let procedure = self.procedure;
        match self.network.things[thing.index()].kind {
            ThingKind::Part(part, _)
            | ThingKind::Errand(part, _)
            | ThingKind::Support(part, _)
            | ThingKind::Steady(part, _)
            | ThingKind::Clean(part, _) => procedure.part(part).naming.span,
            ThingKind::Set(set, _, _) => procedure.set(set).naming.span,
            ThingKind::Reading(gauge, _) => procedure.gauge(gauge).naming.span,
            ThingKind::Seen(look, _) => procedure.look(look).naming.span,
            ThingKind::Answered(question) => match self.network.questions[question.0 as usize].kind {
                QuestionKind::Ask(ask) => procedure.ask(ask).naming.span,
                QuestionKind::Gauge(gauge, _) => procedure.gauge(gauge).naming.span,
                QuestionKind::Look(look, _) => procedure.look(look).naming.span,
            },
            ThingKind::State(state) => procedure.state(state).start_span,
            ThingKind::Temporary(temporary, _) => procedure.temporary(temporary).naming.span,
        }
    }

    /// The thing at the first of its places, so that all of them are told together.
    fn everywhere(&self, thing: ThingId) -> ThingKind {
        let first = Place(0);
        match self.network.things[thing.index()].kind {
            ThingKind::Part(part, _) => ThingKind::Part(part, first),
            ThingKind::Errand(part, _) => ThingKind::Errand(part, first),
            ThingKind::Support(part, _) => ThingKind::Support(part, first),
            ThingKind::Steady(part, _) => ThingKind::Steady(part, first),
            ThingKind::Clean(part, _) => ThingKind::Clean(part, first),
            ThingKind::Set(set, ..) => ThingKind::Set(set, first, HoleClass(0)),
            ThingKind::Reading(gauge, _) => ThingKind::Reading(gauge, first),
            ThingKind::Seen(look, _) => ThingKind::Seen(look, first),
            ThingKind::Temporary(temporary, _) => ThingKind::Temporary(temporary, first),
            ThingKind::State(state) => ThingKind::State(state),
            ThingKind::Answered(question) => match self.network.questions[question.0 as usize].kind {
                QuestionKind::Gauge(gauge, _) => ThingKind::Reading(gauge, first),
                QuestionKind::Look(look, _) => ThingKind::Seen(look, first),
                QuestionKind::Ask(_) => ThingKind::Answered(question),
            },
        }
    }

    /// Where a node gives a thing its value.
    fn setting(&self, node: NodeId, thing: ThingId) -> Span {
        let node = self.node(node);
        let sets = node.events.iter().rev().find(|e| e.thing == thing && matches!(e.effect, Effect::Set(_)));
        sets.map_or(node.span, |event| event.span)
    }

    fn before(&self, x: NodeId, y: NodeId) -> bool {
        let (a, b) = (self.node(x).phase, self.node(y).phase);
        if a == b { self.orders.get(&a).is_some_and(|order| order.before(x, y)) } else { a < b }
    }

    fn sort(&self, fault: &Fault) -> Sort {
        if fault.node.is_some() && fault.wrong == fault.node {
            return Sort::Within;
        }
        if fault.right.is_empty() {
            return Sort::Nothing;
        }
        let Some(node) = fault.node else {
            return if fault.wrong.is_some() { Sort::Between } else { Sort::Open };
        };
        if fault.right.iter().all(|right| self.before(node, *right)) {
            return Sort::Later;
        }
        match fault.wrong {
            Some(wrong) if !self.before(wrong, node) => Sort::Between,
            Some(wrong) if fault.right.iter().all(|right| self.before(*right, wrong)) => Sort::Before,
            _ => Sort::Open,
        }
    }

    fn code(reason: Reason, sort: Sort) -> &'static Code {
        match (reason, sort) {
            (Reason::Releases, _) => &codes::STATE_RELEASED,
            (Reason::Supported, _) => &codes::UNSUPPORTED,
            (Reason::Steady, _) => &codes::MAY_FALL,
            (Reason::Temporary, _) => &codes::TEMPORARY_IN,
            (Reason::Errand, _) => &codes::NOT_ACCEPTED,
            (Reason::Question, _) => &codes::DECIDED_TOO_SOON,
            (Reason::Reading, _) => &codes::READING_MISSING,
            (Reason::Ledger, _) => &codes::UNBALANCED_LEDGER,
            (_, Sort::Nothing | Sort::Later) => &codes::NOTHING_FREES,
            (_, Sort::Open) => &codes::ORDER_OPEN,
            (_, Sort::Between | Sort::Within | Sort::Before) => &codes::UNDONE_BETWEEN,
        }
    }

    fn unmet(&self, reason: Reason, sort: Sort, faults: &[&Fault]) -> Diagnostic {
        let first = faults[0];
        let (act, why) = self.place(first);
        let kind = self.network.things[first.thing.index()].kind;
        let name = |fault: &&Fault| fault.node.map(|node| self.step_of(node, fault.event));
        let mut steps: Vec<String> = faults.iter().filter_map(name).collect();
        steps.dedup();
        let mut things: Vec<String> = faults.iter().map(|fault| self.thing(fault.thing)).collect();
        things.sort();
        things.dedup();
        let unmet = Unmet {
            all_after: self.all_after(faults),
            steps,
            things,
            wanted: words::values(self.procedure, kind, first.allowed),
            act,
            fact: (why.fact, self.fact_words(reason)),
            answers: self.answers(faults),
            mend: words::mend(
                self.procedure,
                &self.network.questions,
                &self.network.things[first.thing.index()],
                first.allowed,
            ),
        };
        let code = Self::code(reason, sort);
        // To come after what is before it anyway mends nothing: such a step is named only where there is no other.
        let comes_first = |node: &NodeId| first.node.is_some_and(|own| self.before(*node, own));
        let right = first.right.iter().find(|node| !comes_first(node)).or(first.right.first());
        let right = right.map(|node| (self.id(*node), self.setting(*node, first.thing)));
        if first.node.is_none() {
            let last = first.wrong.map(|wrong| (self.id(wrong), self.setting(wrong, first.thing)));
            return errors::unbalanced_ledger(&unmet, last.as_ref().map(|(id, span)| (id.as_str(), *span)));
        }
        if let Some(stance) = self.unsaid_stance(first, reason) {
            return errors::stance_unsaid(&unmet, stance);
        }
        match (sort, first.wrong, right) {
            (Sort::Later, _, right) => {
                errors::nothing_frees(code, &unmet, right.as_ref().map(|(id, span)| (id.as_str(), *span)))
            }
            (Sort::Open, _, Some((id, span))) => {
                let right = (id.as_str(), span, first.right.len() - 1);
                errors::order_open(code, &unmet, right, &self.wrong_order(first))
            }
            (Sort::Between, Some(wrong), _) => {
                let id = self.id(wrong);
                let span = self.setting(wrong, first.thing);
                errors::undone_between(code, &unmet, (&id, span), &self.wrong_order(first))
            }
            (Sort::Before, Some(wrong), _) => {
                errors::undone_before(code, &unmet, (&self.id(wrong), self.setting(wrong, first.thing)))
            }
            (Sort::Within, Some(node), _) => {
                let events = &self.node(node).events[..first.event];
                let sets =
                    |event: &Event| event.thing == first.thing && matches!(event.effect, Effect::Set(_));
                let at = events.iter().rposition(sets).unwrap_or(first.event);
                let earlier = self.step_of(node, at);
                errors::undone_within(code, &unmet, (&earlier, self.node(node).events[at].span))
            }
            _ => errors::nothing_frees(code, &unmet, None),
        }
    }

    /// Waiting for a step at all of its positions, where that puts right what is wrong at each and contradicts nothing.
    fn all_after(&self, faults: &[&Fault]) -> Option<String> {
        let written = |node: NodeId| match self.node(node).members.as_slice() {
            [Member { step: StepSource::Written(id), .. }] => Some(*id),
            _ => None,
        };
        let own = written(faults.first()?.node?)?;
        let nodes_of = |step: StepId| {
            let nodes = (0u32..).map(NodeId).zip(&self.network.nodes).map(|(id, _)| id);
            nodes.filter(move |node| written(*node) == Some(step)).collect::<Vec<_>>()
        };
        let apart =
            |right: &NodeId| written(*right).filter(|step| *step != own && self.procedure.step(*step).apart);
        let mut steps: Vec<StepId> =
            faults.first()?.right.iter().take(MOST_PROPOSED).filter_map(apart).collect();
        steps.dedup();
        steps.into_iter().find_map(|step| {
            let needing = nodes_of(own);
            let putting_right = nodes_of(step);
            let free =
                needing.iter().all(|node| putting_right.iter().all(|right| !self.before(*node, *right)));
            let mended = |fault: &&Fault| {
                fault.node.and_then(written) == Some(own)
                    && fault.right.iter().any(|right| {
                        putting_right.contains(right)
                            && fault.wrong.is_none_or(|wrong| self.before(wrong, *right))
                    })
            };
            let same_phase = putting_right.iter().chain(&needing).map(|node| self.node(*node).phase);
            let phases: BTreeSet<Phase> = same_phase.collect();
            let id = |step: StepId| &self.procedure.step(step).naming.id;
            (free && phases.len() == 1 && faults.iter().all(mended))
                .then(|| format!("`after all {}` in `{}`", id(step), id(own)))
        })
    }

    /// A part that may fall in a step that says nothing of the setup: its id, the setup, the value at which it falls and
    /// another.
    fn unsaid_stance(&self, fault: &Fault, reason: Reason) -> Option<[&str; 3]> {
        let kind = self.network.things[fault.thing.index()].kind;
        let (Reason::Steady, ThingKind::Steady(part, _), Some(node)) = (reason, kind, fault.node) else {
            return None;
        };
        let falls = self.procedure.part(part).falls.first()?;
        let member = self.member(node, fault.event);
        let step = match member.step {
            StepSource::Written(id) => self.procedure.step(id),
            StepSource::Derived(index) => &self.network.derived[index].step,
        };
        if stands(self.procedure, step, &member.binding, falls.setup).is_some() {
            return None;
        }
        let setup = &self.procedure.setups[falls.setup];
        let other = setup.values.iter().enumerate().find(|(index, _)| *index != falls.value)?;
        Some([&setup.naming.id, &setup.values[falls.value], other.1])
    }

    /// The id of the step within a node that an event belongs to.
    fn step_of(&self, node: NodeId, event: usize) -> String {
        self.member(node, event).key.id(self.procedure)
    }

    fn member(&self, node: NodeId, event: usize) -> &Member {
        let node = self.node(node);
        &node.members[node.events[event].member as usize]
    }

    fn fact_words(&self, reason: Reason) -> String {
        match reason {
            Reason::Under => "this says what is over it",
            Reason::HeldBy => "this says what holds it",
            Reason::Within => "this says what it belongs to",
            Reason::Releases => "this says what it holds back",
            Reason::Supported => "this is why it must be supported",
            Reason::Steady => "this says when it falls",
            Reason::Temporary | Reason::Ledger => "declared here",
            Reason::Errand => "this says what becomes of it",
            Reason::Question => "this depends on it",
            _ => "this asks for it",
        }
        .to_owned()
    }

    fn answers(&self, faults: &[&Fault]) -> Vec<String> {
        let cases: BTreeSet<&Case> = faults.iter().flat_map(|fault| &fault.cases).collect();
        if cases.iter().any(|case| case.is_always()) {
            return Vec::new();
        }
        let mut said: Vec<String> =
            cases.iter().map(|case| words::case(self.procedure, &self.network.questions, case)).collect();
        if said.len() > 4 {
            let more = said.len() - 3;
            said.truncate(3);
            said.push(format!("{more} more combinations"));
        }
        said
    }

    /// An allowed order in which the need is not met, told by the steps that matter: the wrong step before the
    /// needing one, and what could mend it only afterwards.
    fn wrong_order(&self, fault: &Fault) -> String {
        let mut order: Vec<String> = Vec::new();
        if let Some(wrong) = fault.wrong {
            order.push(format!("`{}`", self.id(wrong)));
        }
        order.push(fault.node.map_or_else(|| "the end".to_owned(), |node| format!("`{}`", self.id(node))));
        let late = |right: &&NodeId| {
            let after_need = fault.node.is_none_or(|node| !self.before(**right, node));
            after_need && fault.wrong.is_none_or(|wrong| !self.before(**right, wrong))
        };
        order.extend(fault.right.iter().find(late).map(|right| format!("`{}`", self.id(*right))));
        order.join(", then ")
    }

    fn single_use(&self) -> Vec<Diagnostic> {
        let mut found = Vec::new();
        for step in &self.procedure.steps {
            let trial = step.group.is_some_and(|group| self.procedure.group(group).kind == GroupKind::Trial);
            if trial || !matches!(step.phase, Phase::Strip | Phase::Survey) {
                continue;
            }
            for act in step.acts() {
                let Deed::Fasten { work: FasteningWork::Tighten, what, .. } = &act.deed else { continue };
                let mut sets: Vec<SetId> =
                    fastened(self.procedure, FasteningWork::Tighten, what, &Binding::default())
                        .into_iter()
                        .map(|(set, _, _)| set)
                        .collect();
                sets.dedup();
                for set in sets {
                    let set = self.procedure.set(set);
                    if let Some(once) = set.reuse.values().find(|said| said.value == Reuse::Once) {
                        found.push(errors::single_use_back(
                            &step.naming.id,
                            &set.naming.id,
                            act.span,
                            once.span,
                        ));
                    }
                }
            }
        }
        found
    }

    fn trials(&self) -> Vec<Diagnostic> {
        let mut found = Vec::new();
        for node in self.network.nodes.iter().filter(|node| node.trial) {
            let mut last: BTreeMap<ThingId, (Value, Span)> = BTreeMap::new();
            let mut first: BTreeMap<ThingId, Values> = BTreeMap::new();
            for event in &node.events {
                let kind = self.network.things[event.thing.index()].kind;
                if !matches!(kind, ThingKind::Part(..) | ThingKind::Set(..)) {
                    continue;
                }
                match &event.effect {
                    Effect::Need(allowed, why) if why.reason == Reason::Itself => {
                        first.entry(event.thing).or_insert(*allowed);
                    }
                    Effect::Set(value) => {
                        last.insert(event.thing, (*value, event.span));
                    }
                    Effect::Need(..) => {}
                }
            }
            let mut told = BTreeSet::new();
            for (thing, (value, act)) in last {
                let began = first.get(&thing).copied().unwrap_or(value.into());
                if !began.contains(value) && told.insert((self.everywhere(thing), act)) {
                    let kind = self.network.things[thing.index()].kind;
                    let mend = words::mend(
                        self.procedure,
                        &self.network.questions,
                        &self.network.things[thing.index()],
                        began,
                    );
                    let value = words::values(self.procedure, kind, value.into());
                    found.push(errors::trial_leaves(
                        &node.id(self.procedure),
                        &self.thing(thing),
                        &value,
                        node.span,
                        act,
                        &mend,
                    ));
                }
            }
        }
        found
    }

    fn too_many(&self) -> Vec<Diagnostic> {
        let mut seen = BTreeSet::new();
        let crowded = self.crowded.iter().filter_map(|(thing, need)| {
            let at = match need {
                Some((node, index)) => self.node(*node).events[*index].span,
                None => self.procedure.family.as_ref()?.naming.span,
            };
            Some(errors::too_many_acts(&self.thing(*thing), at))
        });
        let mut found: Vec<Diagnostic> = crowded.collect();
        for (node, index) in self.given_up {
            match node {
                Some(node) => {
                    let event = &self.node(*node).events[*index];
                    if seen.insert(event.span) {
                        found.push(errors::too_many_answers(&self.step_of(*node, *index), event.span));
                    }
                }
                None => {
                    if let Some(family) = &self.procedure.family
                        && seen.insert(family.naming.span)
                    {
                        found.push(errors::too_many_answers(&family.naming.id, family.naming.span));
                    }
                }
            }
        }
        found
    }

    /// Stated links that follow from the facts and rules alone; a clause is told only if all it says follows.
    fn implied(&self) -> Vec<Diagnostic> {
        let mut clauses: BTreeMap<Span, (bool, String, String)> = BTreeMap::new();
        for (phase, order) in self.orders {
            let of_phase = |link: &&Link| self.node(link.from).phase == *phase;
            let facts =
                self.network.links.iter().filter(of_phase).filter(|link| link.reason != Reason::Stated);
            let Ok(graph) = Acyclic::new(precedence(&order.nodes, facts)) else { continue };
            let index: BTreeMap<NodeId, usize> =
                order.nodes.iter().copied().enumerate().map(|(at, id)| (id, at)).collect();
            let stated: Vec<&Link> = self
                .network
                .links
                .iter()
                .filter(of_phase)
                .filter(|link| link.reason == Reason::Stated)
                .collect();
            let pairs: Vec<(usize, usize)> =
                stated.iter().map(|link| (index[&link.from], index[&link.to])).collect();
            for (link, implied) in stated.iter().zip(before_each(&graph, &pairs)) {
                let entry =
                    clauses.entry(link.fact).or_insert_with(|| (true, self.id(link.from), self.id(link.to)));
                entry.0 &= implied;
            }
        }
        clauses
            .into_iter()
            .filter(|(_, (implied, _, _))| *implied)
            .map(|(span, (_, first, then))| errors::after_implied(&first, &then, span))
            .collect()
    }

    fn formulas(&self) -> Vec<Diagnostic> {
        let taken: BTreeSet<GaugeId> = self
            .procedure
            .steps
            .iter()
            .flat_map(Step::acts)
            .filter_map(|act| match &act.deed {
                Deed::Gauge(what) => Some(what),
                _ => None,
            })
            .flatten()
            .map(|target| target.id)
            .collect();
        let mut found = Vec::new();
        for gauge in &self.procedure.gauges {
            let Some((formula, _)) = &gauge.formula else { continue };
            for input in formula.readings() {
                let read = self.procedure.gauge(input.id);
                if read.formula.is_none() && !taken.contains(&input.id) {
                    found.push(errors::reading_never_taken(
                        &gauge.naming.id,
                        &read.naming.id,
                        input.span,
                        read.naming.span,
                    ));
                }
            }
        }
        found
    }
}
