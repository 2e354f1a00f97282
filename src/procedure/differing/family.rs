//! The family that differs: what it doesn't say itself, the one that it is of says.

use super::super::errors::{self, Revision};
use super::super::model::{Below, Differing};
use super::clauses::subject;
use super::{Merger, quoted};
use crate::english::spaced;
use crate::language::same_words;
use crate::language::tree::{Amount, Clause, Declaration, FamilyClause, Item};

impl Merger<'_> {
    /// Puts a family in the place of the one that it is of, with all that it doesn't say otherwise.
    pub(super) fn family(&mut self, mut family: Declaration<FamilyClause>, of_job: bool) -> Item {
        let Some(base) = self.take_family() else {
            let of = family.clauses.iter().find(|clause| matches!(clause.value, FamilyClause::Of { .. }));
            self.out.diagnostics.extend(of.map(|of| errors::no_family_below(of.span)));
            return Item::Family(family);
        };
        let edition = |clauses: &[Clause<FamilyClause>]| {
            clauses.iter().find_map(|clause| match &clause.value {
                FamilyClause::Edition(amount) => Some((amount.clone(), clause.span)),
                _ => None,
            })
        };
        let written = family.clauses.iter().find_map(|clause| match &clause.value {
            FamilyClause::Of { edition, file } => Some((edition.clone(), file.clone(), clause.span)),
            _ => None,
        });
        let now = edition(&base.clauses);
        self.out.below = Some(Below {
            title: base.title.as_ref().map_or_else(|| spaced(&base.name.value), |title| title.value.clone()),
            edition: now.as_ref().map(|(now, _)| now.digits.clone()),
            span: base.name.span,
        });
        if let (Some((Some(then), ..)), Some((now, at))) = (&written, &now)
            && then.digits != now.digits
        {
            let changed: Vec<&str> = self
                .out
                .differing
                .iter()
                .filter(|one| one.was.is_some())
                .map(|one| one.id.as_str())
                .collect();
            let revisions = revisions(&base.clauses, then, now);
            let differing = &self.out.differing;
            self.out.diagnostics.push(errors::base_edition(then, now, *at, &changed, &revisions, differing));
        }
        if let Some((None, name, span)) = &written {
            let now = now.as_ref().map(|(now, _)| now.digits.as_str());
            self.out.diagnostics.push(errors::no_base_edition(*span, name, now));
        }
        let mut inherited: Vec<Clause<FamilyClause>> =
            base.clauses.iter().filter(|clause| !is_own(clause)).cloned().collect();
        for said in family.clauses.iter().filter(|clause| !is_own(clause)) {
            let at = inherited.iter().position(|clause| subject(clause) == subject(said));
            let was = at.map(|at| inherited.remove(at).span);
            let same = was.is_some_and(|was| same_words(&(self.said)(was), &(self.said)(said.span)));
            if same || describes(&said.value) {
                continue;
            }
            self.out.differing.push(Differing {
                of_job,
                word: "family",
                id: family.name.value.clone(),
                title: family
                    .title
                    .as_ref()
                    .map_or_else(|| spaced(&family.name.value), |title| title.value.clone()),
                was: was.map(|was| quoted(self.said, was)),
                is: Some(quoted(self.said, said.span)),
                whole: false,
                at: said.span,
            });
        }
        inherited.append(&mut family.clauses);
        family.clauses = inherited;
        Item::Family(family)
    }

    fn take_family(&mut self) -> Option<Declaration<FamilyClause>> {
        self.out.trees.iter_mut().find_map(|tree| {
            let at = tree.items.iter().position(|item| matches!(item, Item::Family(_)))?;
            match tree.items.remove(at) {
                Item::Family(family) => Some(family),
                _ => None,
            }
        })
    }
}

/// What was changed behind one edition and up to another, the older before the newer.
fn revisions<'a>(clauses: &'a [Clause<FamilyClause>], then: &Amount, now: &Amount) -> Vec<Revision<'a>> {
    let mut found: Vec<Revision<'_>> = clauses
        .iter()
        .filter_map(|clause| match &clause.value {
            FamilyClause::Revised { edition, what, names } => Some(Revision { edition, what, names }),
            _ => None,
        })
        .filter(|revision| then.value < revision.edition.value && revision.edition.value <= now.value)
        .collect();
    found.sort_by(|one, other| one.edition.value.total_cmp(&other.edition.value));
    found
}

/// What a family is of, which edition it is and what its editions changed, each says for itself.
fn is_own(clause: &Clause<FamilyClause>) -> bool {
    matches!(clause.value, FamilyClause::Edition(_) | FamilyClause::Of { .. } | FamilyClause::Revised { .. })
}

/// What is said of the text and not of the engine.
fn describes(clause: &FamilyClause) -> bool {
    matches!(clause, FamilyClause::Origin(_) | FamilyClause::Summary(_) | FamilyClause::Invented)
}
