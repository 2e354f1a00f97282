//! A phase settled from all that bears on its order, and phases settled once more without some of the links that are stated. It
//! must not know what is said of the outcome.

use std::collections::BTreeMap;

use super::acts::fastened;
use super::expand::Nodes;
use super::facts::Facts;
use super::links::{Settled, settle, stated};
use super::rules::rule_links;
use super::support::add_support_needs;
use super::types::*;
use super::walk::Walk;
use crate::procedure::model::*;
use crate::source::Span;

/// Needs for support that were put into nodes, each with its place in the events, in the order in which they were put.
pub(super) type Supported = Vec<(NodeId, usize)>;

/// A settled phase.
pub(super) struct Phased {
    pub settled: Settled,
    /// What was put into its nodes.
    pub supported: Supported,
}

/// Settles a phase whose nodes stand. The support that loads need follows from the order, and is put into the nodes.
pub(super) fn settled(
    facts: &mut Facts<'_>,
    nodes: &mut Nodes,
    derived: &[DerivedStep],
    walk: &Walk,
    phase: Phase,
) -> Phased {
    let procedure = facts.procedure;
    let mut stated = stated(procedure, nodes, phase);
    if phase == Phase::Build {
        stated.extend(reopening(facts, &nodes.nodes, derived));
    }
    let (rules, mut departures) = rule_links(procedure, nodes, derived, phase);
    let once = |facts: &Facts<'_>, nodes: &[Node], rules: Vec<Link>| {
        settle((&facts.things, &facts.questions), nodes, phase, walk, &stated, rules)
    };
    let mut settled = once(facts, &nodes.nodes, rules.clone());
    let supported = add_support_needs(facts, &mut nodes.nodes, derived, &mut settled.order, phase);
    if !supported.is_empty() {
        settled = once(facts, &nodes.nodes, rules);
    }
    departures.append(&mut settled.departures);
    Phased { settled: Settled { departures, ..settled }, supported }
}

/// How phases come out without some links.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Without {
    /// With the same links but for these, and the same needs: all that rests on them is the same.
    Alike,
    /// With links that contradict each other.
    Contradicted,
    /// Otherwise.
    Changed,
}

/// Settles each phase of a network without these links, which its other links imply, and `procedure` no longer states.
pub(super) fn settled_without(
    procedure: &Procedure,
    links: &[Span],
    network: &Network,
    supported: &[(NodeId, usize)],
) -> Without {
    let phase_of = |node: NodeId| network.nodes[node.index()].phase;
    let is_one = |link: &&Link| link.reason == Reason::Stated && links.contains(&link.fact);
    let mut facts = Facts::known(procedure, network);
    let mut nodes = Nodes::again(network.nodes.clone());
    for (node, event) in supported.iter().rev() {
        nodes.nodes[node.index()].events.remove(*event);
    }
    let mut walk = Walk::default();
    let mut found = Without::Alike;
    for phase in Phase::ALL {
        if phase == Phase::Build {
            walk.start_build(&mut facts);
        }
        let of_phase = |link: &&Link| phase_of(link.from) == phase;
        // Where none of them is, and all before it is the same, a phase is the same.
        if network.links.iter().filter(of_phase).any(|link| is_one(&link)) {
            let again = settled(&mut facts, &mut nodes, &network.derived, &walk, phase).settled;
            let others = network.links.iter().filter(of_phase).filter(|link| !is_one(link));
            let both = network.nodes.iter().zip(&nodes.nodes).filter(|(node, _)| node.phase == phase);
            if !again.contradictions.is_empty() {
                found = Without::Contradicted;
            } else if !others.eq(&again.links)
                || both.into_iter().any(|(was, node)| was.events != node.events)
            {
                found = Without::Changed;
            }
        }
        if found != Without::Alike {
            break;
        }
        walk.pass_all(&facts, &nodes.nodes, network.orders.get(&phase).map_or(&[], Vec::as_slice));
    }
    found
}

/// What was only put back is opened, fitted and tightened in that order.
fn reopening(facts: &Facts<'_>, nodes: &[Node], derived: &[DerivedStep]) -> Vec<Link> {
    let procedure = facts.procedure;
    let mut opened: BTreeMap<(PartId, Place), NodeId> = BTreeMap::new();
    let mut fitted: BTreeMap<(PartId, Place), NodeId> = BTreeMap::new();
    let mut tightened: BTreeMap<(SetId, Place), NodeId> = BTreeMap::new();
    for (id, node) in (0u32..).map(NodeId).zip(nodes).filter(|(_, node)| node.phase == Phase::Build) {
        let Some(StepSource::Derived(index)) = node.members.first().map(|member| member.step) else {
            continue;
        };
        for act in derived[index].step.acts() {
            match &act.deed {
                Deed::Part { work, what } => {
                    for target in what {
                        let axes = &procedure.part(target.id).axes;
                        for place in procedure.matching(axes, &target.pattern, &Binding::default()) {
                            let into = if *work == PartWork::Take { &mut opened } else { &mut fitted };
                            into.insert((target.id, place), id);
                        }
                    }
                }
                Deed::Fasten { work: FasteningWork::Tighten, what, .. } => {
                    for (set, place, _) in
                        fastened(procedure, FasteningWork::Tighten, what, &Binding::default())
                    {
                        tightened.insert((set, place), id);
                    }
                }
                _ => {}
            }
        }
    }
    let mut links = Vec::new();
    for (part, open) in &opened {
        let Some(fit) = fitted.get(part) else { continue };
        let fact = nodes[fit.index()].span;
        let link = |from: NodeId, to: NodeId| Link {
            from,
            to,
            reason: Reason::Reopened,
            thing: None,
            brings: true,
            fact,
        };
        links.push(link(*open, *fit));
        for hold in facts.structure.holders(*part) {
            links.extend(tightened.get(&hold.set).map(|tighten| link(*fit, *tighten)));
        }
    }
    links
}
