//! What follows each tightening, as the joint or the set says with `then`: turning by hand after each main cap, the
//! turning torque, end float once all caps are down.

use std::collections::BTreeMap;

use super::due::AuthorDoes;
use super::key;
use crate::network::answers::Case;
use crate::network::types::{DerivedStep, NodeId};
use crate::procedure::model::*;

/// Readings and looks that are taken once, after the last of several tightenings.
#[derive(Default)]
pub(super) struct Once {
    waiting: BTreeMap<Name, Waiting>,
}

struct Waiting {
    act: Act,
    sets: Vec<SetId>,
    cases: Vec<Case>,
    rank: u64,
    mirrors: Option<NodeId>,
    section: Option<SectionId>,
    setups: Seldom<Stance>,
}

impl Once {
    /// Adds to a step that tightens what follows it at its place. A reading or look without the axes of what is
    /// tightened waits until all places are; one that the author's own build steps take is theirs.
    pub(super) fn follow(
        &mut self,
        procedure: &Procedure,
        own: &AuthorDoes,
        step: &mut DerivedStep,
        then: &[Act],
        binding: &Binding,
        sets: &[SetId],
    ) {
        for act in then {
            let names: Vec<(Name, &[AxisId])> = match &act.deed {
                Deed::Gauge(what) => what
                    .iter()
                    .map(|target| (Name::Gauge(target.id), procedure.gauge(target.id).axes.as_slice()))
                    .collect(),
                Deed::Look(what) => what
                    .iter()
                    .map(|target| (Name::Look(target.id), procedure.look(target.id).axes.as_slice()))
                    .collect(),
                _ => Vec::new(),
            };
            if !names.is_empty() && names.iter().all(|(name, _)| own.taken.contains(name)) {
                continue;
            }
            // What stands along an axis stands along its groups as well.
            let along = |axes: &[AxisId], wanted: AxisId| {
                axes.iter().any(|own| {
                    *own == wanted || procedure.axis(*own).groupings.iter().any(|group| group.by == wanted)
                })
            };
            let bound = || binding.stated.iter().map(|(axis, _)| *axis);
            let late = names.iter().find(|(_, axes)| bound().any(|axis| !along(axes, axis)));
            match late {
                Some((name, _)) => self.wait(*name, act, step, sets),
                None => step.step.lines.push(StepLine::Act(at(procedure, act, binding))),
            }
        }
    }

    fn wait(&mut self, name: Name, act: &Act, step: &DerivedStep, sets: &[SetId]) {
        let waiting = self.waiting.entry(name).or_insert_with(|| Waiting {
            act: act.clone(),
            sets: sets.to_vec(),
            cases: Vec::new(),
            rank: step.rank,
            mirrors: step.mirrors,
            section: step.step.section,
            setups: step.step.setups.clone(),
        });
        waiting.rank = waiting.rank.max(step.rank);
        if !waiting.cases.contains(&step.case) {
            waiting.cases.push(step.case.clone());
        }
    }

    /// The steps of what waited, behind the last tightening; under every answer that tightens.
    pub(super) fn steps(self, procedure: &Procedure) -> Vec<DerivedStep> {
        let mut steps = Vec::new();
        for (name, waiting) in self.waiting {
            let (work, title) = match name {
                Name::Gauge(id) => {
                    let naming = &procedure.gauge(id).naming;
                    (DerivedWork::Gauge(id), format!("Measure: {}", naming.title))
                }
                Name::Look(id) => {
                    let naming = &procedure.look(id).naming;
                    (DerivedWork::Look(id), format!("Look: {}", naming.title))
                }
                _ => continue,
            };
            let span = waiting.act.span;
            for case in waiting.cases {
                let needs = waiting.sets.iter().map(|set| {
                    let target = Target { id: *set, pattern: Pattern::default(), span };
                    Local::everywhere(Condition::Set(target, SetCondition::Tight))
                });
                let step = Step {
                    section: waiting.section,
                    setups: waiting.setups.clone(),
                    needs: needs.collect(),
                    lines: vec![StepLine::Act(waiting.act.clone())].into(),
                    ..Step::blank(
                        Naming { id: String::new(), title: title.clone(), span },
                        Phase::Build,
                        span,
                    )
                };
                steps.push(DerivedStep {
                    key: key(work, Vec::new()),
                    step,
                    case,
                    mirrors: waiting.mirrors,
                    rank: waiting.rank + 1,
                });
            }
        }
        steps
    }
}

/// The act with every axis that is bound at its position.
fn at(procedure: &Procedure, act: &Act, binding: &Binding) -> Act {
    fn bind<Id: Sited>(procedure: &Procedure, target: &Target<Id>, binding: &Binding) -> Target<Id> {
        let axes = target.id.axes(procedure);
        let positions = axes.iter().enumerate().map(|(index, axis)| {
            match target.pattern.0.get(index).copied().unwrap_or(At::Axis) {
                At::Axis => match binding.position(*axis) {
                    Some(at) => At::Position(at),
                    None => {
                        let mut groupings = procedure.axis(*axis).groupings.iter();
                        let group = groupings.find_map(|group| Some((group.by, binding.position(group.by)?)));
                        group.map_or(At::Axis, |(by, at)| At::Group(by, at))
                    }
                },
                fixed @ (At::Position(_) | At::Group(..)) => fixed,
            }
        });
        Target { id: target.id, pattern: Pattern(positions.collect()), span: target.span }
    }
    let deed = match &act.deed {
        Deed::Gauge(what) => Deed::Gauge(what.iter().map(|t| bind(procedure, t, binding)).collect()),
        Deed::Look(what) => Deed::Look(what.iter().map(|t| bind(procedure, t, binding)).collect()),
        other => other.clone(),
    };
    Act { deed, ..act.clone() }
}
