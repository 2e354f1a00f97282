//! Whether the steps that are done could have been done: they must be a beginning of some allowed order.
//!
//! A step that the answers leave out does nothing, but order through it is kept. A step whose answers are still open
//! is not called skipped: nobody knows yet whether it belongs to this job.
//!
//! What is left needs no proof of its own then: the proof holds in every allowed order, and every way to finish from a
//! beginning of one is the rest of one. That ends where a step was done that the answers now leave out, which is told.

use std::collections::{BTreeMap, BTreeSet};

use super::{Decisions, Truth, errors};
use crate::diagnostics::Diagnostic;
use crate::network::answers::Case;
use crate::network::{Member, Network, NodeId};
use crate::procedure::model::{Phase, Procedure, StepKey};
use crate::record::Job;
use crate::source::Span;

/// Complains of each done step that does not exist, of each that extra work names as a neighbour, and of each step that was skipped before one that is done.
pub(crate) fn progress(
    procedure: &Procedure,
    network: &Network,
    job: &Job,
    decisions: &Decisions,
) -> Vec<Diagnostic> {
    let mut diagnostics = Vec::new();
    let bench = Bench { procedure, network, decisions };
    let mut done: BTreeMap<(NodeId, usize), Span> = BTreeMap::new();
    let unknown = |key: &StepKey, span: Span| {
        let members = network.nodes.iter().flat_map(|node| &node.members);
        let ids: Vec<String> = members.map(|member| member.key.id(procedure)).collect();
        errors::unknown_step(span, &key.id(procedure), &ids)
    };
    // A step that is put behind or before one that isn't there would stand anywhere.
    for step in &procedure.steps {
        let keys = step.after_derived.iter().chain(&step.before_derived);
        let keys = keys.map(|key| StepKey::Derived(key.clone()));
        let missing = keys.filter(|key| bench.members(key).is_empty());
        diagnostics.extend(missing.map(|key| unknown(&key, step.naming.span)));
    }
    for entry in &job.done {
        let members = bench.members(&entry.step);
        if members.is_empty() {
            diagnostics.push(unknown(&entry.step, entry.span));
        }
        done.extend(members.into_iter().map(|member| (member, entry.span)));
    }
    // What is not done any more is behind as well, and so is what was passed over with a reason.
    let mut behind = done.clone();
    for entry in &job.not_done {
        behind.extend(bench.members(&entry.step).into_iter().map(|member| (member, entry.span)));
    }
    let whole = job.done.iter().map(|entry| (entry.step.clone(), entry.out_of_order.is_some(), entry.span));
    let partly = job.partly.iter();
    let partly =
        partly.map(|entry| (StepKey::Written(entry.step.0, None), entry.out_of_order.is_some(), entry.span));
    for (step, _, span) in whole.chain(partly).filter(|(_, out_of_order, _)| *out_of_order) {
        for (node, member) in bench.members(&step) {
            let passed = bench.skipped(&behind, node, member);
            behind.extend(passed.into_iter().map(|member| (member, span)));
        }
    }
    for entry in &job.partly {
        let whole = StepKey::Written(entry.step.0, None);
        done.extend(bench.members(&whole).into_iter().map(|member| (member, entry.span)));
    }
    let mut told: BTreeSet<(NodeId, usize)> = BTreeSet::new();
    for skipped in bench.half_done(&behind) {
        told.insert((skipped.node, skipped.missing));
        let span = network.nodes[skipped.node.index()].span;
        let (missing, other) = (bench.id((skipped.node, skipped.missing)), bench.id(skipped.other));
        diagnostics.push(errors::half_done(behind[&skipped.other], &other, &missing, span));
    }
    for ((node, member), span) in &done {
        let later = bench.id((*node, *member));
        if bench.truth(&network.nodes[node.index()].members[*member].case) == Truth::No {
            diagnostics.push(errors::done_but_left_out(*span, &later, network.nodes[node.index()].span));
        }
        for skipped in bench.skipped(&behind, *node, *member) {
            if told.insert(skipped) {
                let declared = network.nodes[skipped.0.index()].span;
                diagnostics.push(errors::skipped_step(*span, &later, &bench.id(skipped), declared));
            }
        }
    }
    diagnostics
}

/// A block begun and not finished.
struct HalfDone {
    /// The block.
    node: NodeId,
    /// Its first step that is not done.
    missing: usize,
    /// A step of another block that is under way.
    other: (NodeId, usize),
}

struct Bench<'a> {
    procedure: &'a Procedure,
    network: &'a Network,
    decisions: &'a Decisions,
}

impl Bench<'_> {
    fn nodes(&self) -> impl Iterator<Item = NodeId> + use<> {
        (0u32..).map(NodeId).take(self.network.nodes.len())
    }

    /// The members that an entry of the record speaks of: without a place, at every place.
    fn members(&self, step: &StepKey) -> Vec<(NodeId, usize)> {
        let mut found = Vec::new();
        for id in self.nodes() {
            let members = self.network.nodes[id.index()].members.iter().enumerate();
            let meant = members.filter(|(_, member)| step.meets(&member.key));
            found.extend(meant.map(|(index, _)| (id, index)));
        }
        found
    }

    /// Steps that had to be done before this one, are part of this job, and are not done.
    fn skipped(
        &self,
        done: &BTreeMap<(NodeId, usize), Span>,
        node: NodeId,
        member: usize,
    ) -> Vec<(NodeId, usize)> {
        let missing = |node: NodeId, before: usize| {
            let members = self.network.nodes[node.index()].members.iter().enumerate().take(before);
            members
                .filter(|(index, member)| {
                    self.truth(&member.case) == Truth::Yes
                        && !done.contains_key(&(node, *index))
                        && !self.decisions.done.iter().any(|key| key.meets(&member.key))
                })
                .map(|(index, _)| (node, index))
                .collect::<Vec<(NodeId, usize)>>()
        };
        // Steps of a block run in written order.
        let mut skipped = missing(node, member);
        let phase = self.network.nodes[node.index()].phase;
        for other in self.nodes() {
            if before(self.network.nodes[other.index()].phase, phase) {
                skipped.extend(missing(other, usize::MAX));
            }
        }
        let mut waiting = vec![node];
        let mut seen = BTreeSet::from([node]);
        while let Some(here) = waiting.pop() {
            for link in self.network.links.iter().filter(|link| link.to == here) {
                if !seen.insert(link.from) {
                    continue;
                }
                let found = missing(link.from, usize::MAX);
                if found.is_empty() && !done.keys().any(|(done, _)| *done == link.from) {
                    // It is not part of this job: what comes before it still comes before this step.
                    waiting.push(link.from);
                }
                skipped.extend(found);
            }
        }
        skipped
    }

    fn id(&self, (node, member): (NodeId, usize)) -> String {
        self.network.nodes[node.index()].members[member].key.id(self.procedure)
    }

    /// Blocks that are begun and not finished, though steps outside them were done after: of several such blocks all but
    /// the last. Nothing comes between the steps of a block, so that only one can be under way.
    fn half_done(&self, done: &BTreeMap<(NodeId, usize), Span>) -> Vec<HalfDone> {
        let mut under_way: Vec<(NodeId, usize, usize)> = Vec::new();
        for id in self.nodes() {
            let members = || self.network.nodes[id.index()].members.iter().enumerate();
            let last =
                members().filter(|(at, _)| done.contains_key(&(id, *at))).map(|(at, _)| at).next_back();
            let missing = |(at, member): &(usize, &Member)| {
                self.truth(&member.case) == Truth::Yes && !done.contains_key(&(id, *at))
            };
            if let (Some(last), Some((missing, _))) = (last, members().find(missing)) {
                under_way.push((id, last, missing));
            }
        }
        // Which of them is really under way only the bench knows: the one written down last is taken to be.
        under_way.sort_by_key(|(id, last, _)| done[&(*id, *last)].start());
        let Some((latest, at, _)) = under_way.pop() else { return Vec::new() };
        let halves = under_way.into_iter();
        halves.map(|(node, _, missing)| HalfDone { node, missing, other: (latest, at) }).collect()
    }

    /// Whether a case holds.
    fn truth(&self, case: &Case) -> Truth {
        self.decisions.case(self.procedure, self.network, case)
    }
}

/// Whether all of one phase comes before another.
fn before(a: Phase, b: Phase) -> bool {
    let number = |phase: Phase| match phase {
        Phase::Strip => 0,
        Phase::Survey => 1,
        Phase::Build => 2,
        Phase::Start => 3,
    };
    number(a) < number(b)
}
