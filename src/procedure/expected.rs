//! Lints of safety: what usually brings a hazard with it, heavy parts without a hook, new parts without a way round.
//!
//! The signs are masses, kinds of tool and words in titles: common practice, no source.

use super::collect::Declared;
use super::errors;
use super::missing::{Judge, coated_hot, nothing_on_it, states};
use super::model::*;
use super::resolver::{BATCH, Resolver};
use crate::language::tree::{JointClause, PartClause};
use crate::source::Span;

impl Resolver {
    /// What each written step lacks of what its acts ask for.
    pub(super) fn missing_in_steps(&mut self) {
        // Where something couldn't be parsed, it may stand there.
        if self.any_trouble() {
            return;
        }
        let judge = Judge::of(&self.procedure);
        let missing =
            self.procedure.steps.each_told(BATCH, |step| judge.missing(step, &step.naming.id, false));
        let dry = nothing_on_it(&self.procedure);
        let hot = coated_hot(&self.procedure);
        self.diagnostics.extend(missing.into_iter().chain(dry).chain(hot));
        self.diagnostics.extend(states(&self.procedure));
    }

    /// All lints of this file.
    pub(super) fn safety_lints(&mut self, declared: &Declared) {
        let mut complaints = Vec::new();
        let limit = self.procedure.lifting_limit_printed();
        for (part, mass) in self.heavy_parts(declared).filter(|(part, _)| part.lift_at.is_none()) {
            let word = crate::source::Spanned::new(part.naming.id.clone(), part.naming.span);
            complaints.push(errors::no_lift_at(&word, mass, &limit));
        }
        if self.heavy_parts(declared).next().is_some() {
            let turned = |setup: SetupId| {
                let at_first = self.procedure.setup(setup).at_first;
                let mut stances = self.procedure.steps.iter().flat_map(|step| &step.setups);
                stances.any(|stance| stance.setup == setup && stance.value != at_first)
            };
            let silent = |(id, setup): &(SetupId, &Setup)| {
                !setup.uppermost.is_empty() && setup.hazard.is_none() && turned(*id)
            };
            let silent = self.procedure.setups.numbered().filter(silent);
            complaints.extend(
                silent.map(|(_, setup)| errors::turns_what_is_heavy(&setup.naming, self.procedure.whole())),
            );
        }
        for (part, declaration) in self.procedure.parts.iter().zip(&declared.parts) {
            let marked = declaration.clauses.iter().find(|clause| marks_direction(&clause.value));
            if let (Some(marked), true, true) = (marked, part.way.is_empty(), may_be_renewed(part)) {
                complaints.push(errors::new_part_way(&declaration.name, marked.span));
            }
        }
        self.diagnostics.extend(complaints);
    }

    /// Complains, once, where joints say from which side they are seen and steps change a setup that all share, but no
    /// setup says how the engine lies then: figures of joints stay as they are declared.
    pub(super) fn figures_turned(&mut self, declared: &Declared) {
        if declared.setups.iter().any(|setup| !setup.turns_engine.is_empty()) {
            return;
        }
        let seen =
            declared.joints.iter().flat_map(|joint| &joint.clauses).find_map(|clause| {
                matches!(clause.value, JointClause::SeenFrom { .. }).then_some(clause.span)
            });
        let shared = |stance: &Stance| {
            let setup = self.procedure.setup(stance.setup);
            let other = !setup.each_person && stance.value != setup.at_first;
            other.then_some((setup, stance.value, stance.span))
        };
        let changed = self.procedure.steps.iter().flat_map(|step| &step.setups).find_map(shared);
        if let (Some(seen), Some((setup, value, span))) = (seen, changed) {
            let complaint = errors::figures_not_turned(seen, setup, &setup.values[value], span);
            self.complain(complaint);
        }
    }

    /// Parts above the lifting limit, with the place of their mass.
    fn heavy_parts<'a>(&'a self, declared: &'a Declared) -> impl Iterator<Item = (&'a Part, Span)> {
        self.procedure.parts.iter().zip(&declared.parts).filter_map(move |(part, declaration)| {
            if !self.procedure.is_heavy(part) {
                return None;
            }
            let clause =
                declaration.clauses.iter().find(|clause| matches!(clause.value, PartClause::Mass(_)))?;
            Some((part, clause.span))
        })
    }
}

/// Words in a mark of ours that tell a direction.
const DIRECTIONS: [&str; 10] =
    ["front", "rear", "arrow", "up", "upwards", "top", "down", "downwards", "round", "forward"];

/// Whether a mark that we make on the old part tells its direction: a new part comes without it.
fn marks_direction(clause: &PartClause) -> bool {
    let PartClause::Mark { kind, text, .. } = clause else { return false };
    let text = text.value.to_lowercase();
    kind.value == "ours" && text.split(|c: char| !c.is_alphanumeric()).any(|word| DIRECTIONS.contains(&word))
}

fn may_be_renewed(part: &Part) -> bool {
    part.fate.as_ref().is_some_and(|choice| {
        let mut fates = choice.cases.iter().map(|(fate, _)| fate).chain(&choice.otherwise);
        fates.any(|fate| matches!(fate, Fate::Renew | Fate::By(_)))
    })
}
