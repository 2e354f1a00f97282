//! A torque at an act outside a trial to the complaint that says where it belongs: at what is tightened, the set or its joint.
//! It must not know what the torque does there.

use super::collect::Declared;
use super::errors;
use super::locks::sets_of;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::{ActKind, Amount, StepClause};
use crate::source::Span;

impl Resolver {
    /// Complains of every torque at an act of a step that is in no trial.
    pub(super) fn torques_outside_trials(&mut self, declared: &Declared) {
        let mut complaints = Vec::new();
        for (id, step) in declared.steps.numbered() {
            let group = self.procedure.step(id).group;
            if group.is_some_and(|group| self.procedure.group(group).kind == GroupKind::Trial) {
                continue;
            }
            for clause in &step.clauses {
                let StepClause::Act(act) = &clause.value else { continue };
                let ActKind::Tighten { what, to: Some(to) } = &act.kind else { continue };
                let behind = what.last().map_or(to.span.start(), |last| last.span.end());
                let at_act = Span::new(to.span.file, behind, to.span.end());
                let home = self.only_set(id, to).map(|set| self.home(set, declared));
                complaints.push(errors::trial_only(to, at_act, home));
            }
        }
        self.diagnostics.extend(complaints);
    }

    /// The set that alone is tightened to this torque, where that can be told.
    fn only_set(&self, step: StepId, to: &Amount) -> Option<SetId> {
        let act = self.procedure.step(step).acts().find(|act| act.span.holds(to.span))?;
        let Deed::Fasten { what, .. } = &act.deed else { return None };
        let sets: Vec<SetId> =
            what.iter().flat_map(|what| sets_of(&self.procedure, what)).map(|set| set.id).collect();
        let first = *sets.first()?;
        sets.iter().all(|set| *set == first).then_some(first)
    }

    fn home(&self, id: SetId, declared: &Declared) -> errors::Home<'_> {
        let joint = self.procedure.joints.numbered().find(|(_, joint)| joint.has(id));
        let end = match joint {
            Some((joint, _)) => declared.joints[joint].clauses.last().map(|clause| clause.span),
            None => declared.sets[id].clauses.last().map(|clause| clause.span),
        };
        errors::Home {
            set: &self.procedure.set(id).naming,
            joint: joint.map(|(_, joint)| &joint.naming),
            said: self.procedure.tightening(id).0.first().map(|(stated, _)| stated.span),
            end: end.map(|span| Span::new(span.file, span.end(), span.end())),
        }
    }
}
