//! Steps to nodes: one per position of a step done apart, one for a block, trial or chain that no order splits.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use super::acts::{Habits, Scene, Writer};
use super::answers::Case;
use super::facts::Facts;
use super::types::Member;
use super::types::*;
use crate::procedure::model::*;
use crate::source::Span;

/// Nodes, and where each step went.
#[derive(Default)]
pub(super) struct Nodes {
    pub nodes: Vec<Node>,
    /// Of each step: its positions with node and member.
    pub of_step: BTreeMap<StepSource, Vec<(Binding, NodeId, u32)>>,
    /// Of each block or trial.
    pub of_group: BTreeMap<GroupId, NodeId>,
    /// Steps whose answers exclude each other, so that they are never done.
    pub never: Vec<StepId>,
    /// Acts of which that is so, and acts that are done under some answers somewhere.
    pub never_acts: Vec<Span>,
    pub done_acts: BTreeSet<Span>,
}

/// One step at one position, before it is known to which node it belongs.
#[derive(Clone)]
struct Piece {
    step: StepSource,
    place: Option<Place>,
    binding: Binding,
}

impl Nodes {
    /// Of nodes that are there already: where each step went.
    pub(super) fn again(nodes: Vec<Node>) -> Nodes {
        let mut again = Nodes::default();
        for (id, node) in (0u32..).map(NodeId).zip(&nodes) {
            for (number, member) in (0u32..).zip(&node.members) {
                let places = again.of_step.entry(member.step).or_default();
                places.push((member.binding.clone(), id, number));
            }
            again.of_group.extend(node.group.map(|group| (group, id)));
        }
        Nodes { nodes, ..again }
    }

    /// Adds the nodes of one phase: the author's steps, and for the build the derived ones.
    pub(super) fn add_phase(
        &mut self,
        facts: &mut Facts<'_>,
        habits: &Habits,
        derived: &[DerivedStep],
        phase: Phase,
    ) {
        let procedure = facts.procedure;
        let mut pieces: Vec<Piece> = Vec::new();
        let mut of_step: BTreeMap<StepSource, Range<usize>> = BTreeMap::new();
        let written = (0u32..).zip(&procedure.steps).map(|(i, step)| (StepSource::Written(StepId(i)), step));
        let mirrored = derived.iter().enumerate().map(|(i, derived)| (StepSource::Derived(i), &derived.step));
        let both =
            written.chain(mirrored.filter(|_| phase == Phase::Build)).filter(|(_, step)| step.phase == phase);
        for (source, step) in both {
            let first = pieces.len();
            for place in positions(procedure, step) {
                let binding = place.map(|place| procedure.bound(&step.each, place)).unwrap_or_default();
                pieces.push(Piece { step: source, place, binding });
            }
            of_step.insert(source, first..pieces.len());
        }
        let chains = chains(procedure, &pieces, &of_step);
        self.nodes.reserve_exact(chains.len());
        for chain in chains {
            self.add_node(facts, habits, derived, phase, &pieces, &chain);
        }
    }

    /// Nodes of the build with a step that is derived and meant by one of these; a key without places means all of them.
    pub(super) fn derived(&self, keys: &[DerivedKey]) -> Vec<NodeId> {
        if keys.is_empty() {
            return Vec::new();
        }
        let meant = |member: &Member| {
            keys.iter().any(|key| {
                matches!(&member.key, StepKey::Derived(_)) && StepKey::Derived(key.clone()).meets(&member.key)
            })
        };
        let nodes = (0u32..).map(NodeId).zip(&self.nodes);
        nodes.filter(|(_, node)| node.members.iter().any(meant)).map(|(id, _)| id).collect()
    }

    /// What comes after a step that is derived belongs to its section.
    pub(super) fn join_sections(&mut self, procedure: &Procedure) {
        for index in 0..self.nodes.len() {
            let Some(StepSource::Written(id)) = self.nodes[index].members.first().map(|member| member.step)
            else {
                continue;
            };
            let step = procedure.step(id);
            let ends = [self.derived(&step.after_derived), self.derived(&step.before_derived)].concat();
            if let (None, Some(first)) = (step.section, ends.first()) {
                self.nodes[index].section = self.nodes[first.index()].section;
            }
        }
    }

    fn add_node(
        &mut self,
        facts: &mut Facts<'_>,
        habits: &Habits,
        derived: &[DerivedStep],
        phase: Phase,
        pieces: &[Piece],
        chain: &[usize],
    ) {
        let procedure = facts.procedure;
        let step_of = |source: StepSource| match source {
            StepSource::Written(id) => procedure.step(id),
            StepSource::Derived(index) => &derived[index].step,
        };
        let id = NodeId(u32::try_from(self.nodes.len()).expect("fewer nodes than that"));
        let first = step_of(pieces[chain[0]].step);
        let group = first.group;
        let trial = group.is_some_and(|group| procedure.group(group).kind == GroupKind::Trial);
        let mut node = Node {
            phase,
            section: first.section,
            group,
            trial,
            members: Vec::with_capacity(chain.len()),
            events: Vec::new(),
            rank: id.index(),
            span: group.map_or(first.naming.span, |group| procedure.group(group).naming.span),
        };
        for index in chain {
            let piece = &pieces[*index];
            let step = step_of(piece.step);
            let case = match piece.step {
                StepSource::Written(_) => facts.case(&step.when, &piece.binding),
                StepSource::Derived(index) => Some(derived[index].case.clone()),
            };
            let member = u32::try_from(node.members.len()).expect("a block has few steps");
            // Most steps have one place: a list that makes room for more of each would be most of the memory.
            let places = self.of_step.entry(piece.step).or_insert_with(|| Vec::with_capacity(1));
            places.push((piece.binding.clone(), id, member));
            match (&case, piece.step) {
                (None, StepSource::Written(step)) if !self.never.contains(&step) => self.never.push(step),
                _ => {}
            }
            for act in step.acts().filter(|act| !act.scope.when.0.is_empty()) {
                let Some(here) = procedure.narrowed(&piece.binding, &act.scope.at) else { continue };
                let given = facts.case(&act.scope.when, &here);
                let both = case.as_ref().zip(given).and_then(|(case, given)| case.and(&given));
                match both {
                    Some(_) => drop(self.done_acts.insert(act.span)),
                    None if case.is_some() => self.never_acts.push(act.span),
                    None => {}
                }
            }
            if let Some(case) = &case {
                let scene = Scene { step, binding: &piece.binding, case, trial, member };
                let writer = Writer {
                    facts,
                    habits,
                    case: scene.case.clone(),
                    scene,
                    events: std::mem::take(&mut node.events),
                    act: None,
                    span: step.naming.span,
                };
                node.events = writer.write();
            }
            node.members.push(Member {
                key: match piece.step {
                    StepSource::Written(id) => StepKey::Written(id, piece.place),
                    StepSource::Derived(index) => StepKey::Derived(derived[index].key.clone()),
                },
                step: piece.step,
                binding: piece.binding.clone(),
                case: case.unwrap_or_else(Case::always),
            });
        }
        if let Some(group) = group {
            self.of_group.insert(group, id);
        }
        node.events.shrink_to_fit();
        self.nodes.push(node);
    }
}

/// The places of a step that is done apart; one without a place for any other.
fn positions(procedure: &Procedure, step: &Step) -> Vec<Option<Place>> {
    if !step.apart || step.each.is_empty() {
        return vec![None];
    }
    let mut places: Vec<Place> = procedure.places(&step.each).collect();
    if let Some(by) = step.by_group {
        places.sort_by_key(|place| procedure.bound(&step.each, *place).position(by));
    }
    places.into_iter().map(Some).collect()
}

/// Pieces that no order splits, each list in the order in which they are done: blocks and trials in written
/// order, and a step that comes straight after another behind it. Lists stand in written order of their firsts.
fn chains(
    procedure: &Procedure,
    pieces: &[Piece],
    of_step: &BTreeMap<StepSource, Range<usize>>,
) -> Vec<Vec<usize>> {
    let mut chain_of: Vec<usize> = (0..pieces.len()).collect();
    let mut chains: Vec<Vec<usize>> = (0..pieces.len()).map(|index| vec![index]).collect();
    let mut join = |chains: &mut Vec<Vec<usize>>, first: usize, then: usize| {
        let (into, from) = (chain_of[first], chain_of[then]);
        if into != from {
            let moved = std::mem::take(&mut chains[from]);
            let at =
                chains[into].iter().position(|index| *index == first).map_or(chains[into].len(), |at| at + 1);
            for index in &moved {
                chain_of[*index] = into;
            }
            chains[into].splice(at..at, moved);
        }
    };
    for group in &procedure.groups {
        let members: Vec<usize> = group
            .steps
            .iter()
            .filter_map(|step| of_step.get(&StepSource::Written(*step)))
            .flat_map(Range::clone)
            .collect();
        for pair in members.windows(2) {
            join(&mut chains, pair[0], pair[1]);
        }
    }
    for (source, places) in of_step {
        let StepSource::Written(id) = source else { continue };
        let Some(straight) = &procedure.step(*id).straight_after else { continue };
        let link = &straight.0;
        let LinkEnd::Step(target) = link.to else { continue };
        let Some(targets) = of_step.get(&StepSource::Written(target)) else { continue };
        for place in places.clone() {
            let wanted =
                targets.clone().find(|target| agree(&pieces[*target].binding, &pieces[place].binding));
            if let Some(first) = wanted {
                join(&mut chains, first, place);
            }
        }
    }
    let mut chains: Vec<Vec<usize>> = chains.into_iter().filter(|chain| !chain.is_empty()).collect();
    chains.sort_by_cached_key(|chain| chain.iter().min().copied());
    chains
}

/// Whether two positions name the same place on every axis that both have.
pub(super) fn agree(a: &Binding, b: &Binding) -> bool {
    a.iter().all(|(axis, at)| b.position(axis).is_none_or(|other| other == at))
}
