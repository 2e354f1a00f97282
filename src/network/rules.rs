//! Joint rules as links: undo smaller sizes before larger, tighten larger before smaller, and the author's own.
//!
//! *Smaller* is smaller nominal thread diameter; equal diameters have no rule. A maker's stated sequence beats
//! the house rules, and a departure that says why is left alone.

use std::collections::BTreeMap;

use super::acts::fastened;
use super::expand::Nodes;
use super::types::*;
use crate::procedure::Way;
use crate::procedure::model::*;
use crate::source::Span;

/// Work on one set: node, place of the event within it, member, where it is said.
#[derive(Clone, Copy)]
struct Worked {
    node: NodeId,
    at: usize,
    span: Span,
    excused: bool,
}

/// Rule links of a phase, and what departs from a rule within one step.
pub(super) fn rule_links(
    procedure: &Procedure,
    nodes: &Nodes,
    derived: &[DerivedStep],
    phase: Phase,
) -> (Vec<Link>, Vec<Link>) {
    let work = worked(procedure, nodes, derived, phase);
    let mut found = Found { links: Vec::new(), within: Vec::new() };
    for (id, joint) in procedure.joints.numbered() {
        let excepted = |rule: &Rule| rule.exceptions.iter().any(|(target, _)| target.id == id);
        let house_excepted = |undoing: bool| {
            procedure.rules.iter().any(|rule| {
                excepted(rule) && rule.orders.iter().any(|order| order.undoing == undoing && by_size(order))
            })
        };
        for place in procedure.places(&joint.axes) {
            let sets = joint_sets(procedure, joint, place);
            let undoing_free =
                joint.undo_sequence.as_ref().is_some_and(|s| s.origin.is_some()) || house_excepted(true);
            let tightening_free = joint.tighten_sequence.as_ref().is_some_and(|s| s.origin.is_some())
                || joint.pass_by_pass
                || house_excepted(false);
            for (a, small) in &sets {
                for (b, large) in &sets {
                    if !smaller(procedure, a.0, b.0) {
                        continue;
                    }
                    if !undoing_free {
                        for kind in [FasteningWork::Slacken, FasteningWork::Undo] {
                            found.order(work.get(&(kind, *a)), work.get(&(kind, *b)), None, *small);
                        }
                    }
                    if !tightening_free {
                        found.order(
                            work.get(&(FasteningWork::Tighten, *b)),
                            work.get(&(FasteningWork::Tighten, *a)),
                            None,
                            *large,
                        );
                    }
                }
            }
        }
    }
    for (id, rule) in procedure.rules.numbered() {
        for order in &rule.orders {
            own_rule(procedure, &work, &mut found, id, rule, order);
        }
    }
    (found.links, found.within)
}

fn by_size(order: &RuleOrder) -> bool {
    matches!(order.first, RuleSide::Smaller | RuleSide::Larger)
        || matches!(order.then, RuleSide::Smaller | RuleSide::Larger)
}

/// Whether the first set is of a smaller size than the second; `false` where either is unknown.
fn smaller(procedure: &Procedure, a: SetId, b: SetId) -> bool {
    let (a, b) = (procedure.set(a), procedure.set(b));
    let known = a.diameter.is_some() && b.diameter.is_some();
    known && Way::Release.by_size(a, b).is_lt()
}

fn joint_sets(procedure: &Procedure, joint: &Joint, place: Place) -> Vec<((SetId, Place), Span)> {
    let binding = procedure.bound(&joint.axes, place);
    let mut sets = Vec::new();
    for member in &joint.members {
        for (_, at) in procedure.meant(&member.set, &binding) {
            sets.push(((member.set.id, at), member.set.span));
        }
    }
    sets
}

/// A rule of the author's that names sets, or gives the sizes another order.
fn own_rule(
    procedure: &Procedure,
    work: &BTreeMap<(FasteningWork, (SetId, Place)), Vec<Worked>>,
    found: &mut Found,
    id: RuleId,
    rule: &Rule,
    order: &RuleOrder,
) {
    let kinds: &[FasteningWork] = if order.undoing {
        &[FasteningWork::Slacken, FasteningWork::Undo]
    } else {
        &[FasteningWork::Tighten]
    };
    for (joint_id, joint) in procedure.joints.numbered() {
        let meant = rule.joints.is_empty() || rule.joints.iter().any(|target| target.id == joint_id);
        if !meant || rule.exceptions.iter().any(|(target, _)| target.id == joint_id) {
            continue;
        }
        for place in procedure.places(&joint.axes) {
            let sets = joint_sets(procedure, joint, place);
            for (a, _) in &sets {
                for (b, _) in &sets {
                    let matches = match (&order.first, &order.then) {
                        (RuleSide::Set(first), RuleSide::Set(then)) => first.id == a.0 && then.id == b.0,
                        // The house rules say the same; only the opposite adds anything.
                        (RuleSide::Smaller, RuleSide::Larger) => {
                            !order.undoing && smaller(procedure, a.0, b.0)
                        }
                        (RuleSide::Larger, RuleSide::Smaller) => {
                            order.undoing && smaller(procedure, b.0, a.0)
                        }
                        _ => false,
                    };
                    if matches {
                        for kind in kinds {
                            found.order(work.get(&(*kind, *a)), work.get(&(*kind, *b)), Some(id), order.span);
                        }
                    }
                }
            }
        }
    }
}

struct Found {
    links: Vec<Link>,
    within: Vec<Link>,
}

impl Found {
    fn order(
        &mut self,
        first: Option<&Vec<Worked>>,
        then: Option<&Vec<Worked>>,
        rule: Option<RuleId>,
        fact: Span,
    ) {
        let (Some(first), Some(then)) = (first, then) else { return };
        for a in first {
            for b in then {
                if a.excused || b.excused {
                    continue;
                }
                let link = Link {
                    from: a.node,
                    to: b.node,
                    reason: Reason::Rule(rule),
                    thing: None,
                    brings: true,
                    fact,
                };
                if a.node != b.node {
                    self.links.push(link);
                } else if a.at > b.at {
                    self.within.push(Link { fact: b.span, ..link });
                }
            }
        }
    }
}

/// All work on sets outside trials, by kind and set.
fn worked(
    procedure: &Procedure,
    nodes: &Nodes,
    derived: &[DerivedStep],
    phase: Phase,
) -> BTreeMap<(FasteningWork, (SetId, Place)), Vec<Worked>> {
    let mut work: BTreeMap<(FasteningWork, (SetId, Place)), Vec<Worked>> = BTreeMap::new();
    for (id, node) in (0u32..).map(NodeId).zip(&nodes.nodes) {
        if node.phase != phase || node.trial {
            continue;
        }
        let mut at = 0;
        for member in &node.members {
            let step = match member.step {
                StepSource::Written(step) => procedure.step(step),
                StepSource::Derived(index) => &derived[index].step,
            };
            for act in step.acts() {
                let Deed::Fasten { work: kind, what, .. } = &act.deed else { continue };
                let Some(binding) = procedure.narrowed(&member.binding, &act.scope.at) else { continue };
                for (set, place, span) in fastened(procedure, *kind, what, &binding) {
                    at += 1;
                    let entry = Worked { node: id, at, span, excused: !step.departures.is_empty() };
                    work.entry((*kind, (set, place))).or_default().push(entry);
                }
            }
        }
    }
    work
}
