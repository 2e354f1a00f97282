//! Clauses of fasteners, and what a set is tightened to.

use super::Builder;
use crate::language::grammar::{Node, Rule, all, find, has, inside, need};
use crate::language::tree::{Drive, FastenerClause, Lengths, Pass, Reuse, Tightening};
use crate::source::Spanned;

impl Builder {
    pub(super) fn fasteners_clause(&self, node: &Node<'_>) -> FastenerClause {
        match node.as_rule() {
            Rule::kind_of_set => FastenerClause::Kind(self.word(&need(node, Rule::set_kind))),
            Rule::thread_clause => FastenerClause::Thread(self.phrase(&need(node, Rule::thread))),
            Rule::class_clause => FastenerClause::Class(self.phrase(&need(node, Rule::class))),
            Rule::drive => FastenerClause::Drive(match find(node, Rule::quote) {
                Some(words) => Drive::Words(self.quote(&words)),
                None => Drive::AcrossFlats(self.amount_in(node)),
            }),
            Rule::lengths => FastenerClause::Lengths(self.spanned(node, self.lengths(node))),
            Rule::stays => FastenerClause::Stays,
            Rule::then_act => FastenerClause::Then(self.act(&need(node, Rule::later_act))),
            Rule::engagement => FastenerClause::Engagement(self.amount_in(node)),
            Rule::stand_out => FastenerClause::StandOut(self.amount_in(node)),
            Rule::blind => FastenerClause::Blind,
            Rule::to_water => FastenerClause::ToWater,
            Rule::to_oil => FastenerClause::ToOil,
            Rule::into_clause => FastenerClause::Into(self.word(&need(node, Rule::into_kind))),
            Rule::left_hand => FastenerClause::LeftHand,
            Rule::captive => FastenerClause::Captive,
            Rule::locked_by => FastenerClause::LockedBy(self.phrase(&need(node, Rule::lock))),
            Rule::once => FastenerClause::Reuse(Reuse::Once),
            Rule::reusable => FastenerClause::Reuse(Reuse::Reusable),
            Rule::reuse => FastenerClause::Reuse(match find(node, Rule::reference) {
                Some(gauge) => Reuse::By(self.reference(&gauge)),
                None => Reuse::Unknown,
            }),
            Rule::under => FastenerClause::Under(self.covers(node)),
            Rule::oil => FastenerClause::Oil(self.words_in(node, Rule::oiled)),
            Rule::dry => FastenerClause::Dry,
            Rule::apply => FastenerClause::Apply(self.reference_in(node)),
            Rule::soft => FastenerClause::Soft,
            Rule::drag => FastenerClause::Drag { when_large: has(node, Rule::added_when_large) },
            Rule::critical => FastenerClause::Critical,
            Rule::friction => FastenerClause::Friction {
                range: self.range(&need(node, Rule::range)),
                origin: self.origin_in(node),
            },
            Rule::catalogue => FastenerClause::Catalogue(self.quote_in(node)),
            Rule::price_clause => FastenerClause::Price(self.price_in(node)),
            _ => FastenerClause::Tighten(self.tightening_in(node).value),
        }
    }

    fn lengths(&self, node: &Node<'_>) -> Lengths {
        if has(node, Rule::key_unknown) {
            return Lengths::Unknown;
        }
        match self.amount_if(node) {
            Some(amount) => Lengths::One(amount),
            None => Lengths::ByHole(
                all(node, Rule::length_at)
                    .map(|at| (self.word(&need(&at, Rule::hole)), self.amount_in(&at)))
                    .collect(),
            ),
        }
    }

    /// The tightening that the grammar demands inside this match.
    pub(super) fn tightening_in(&self, node: &Node<'_>) -> Spanned<Tightening> {
        let tightening = need(node, Rule::tightening);
        let kind = inside(&tightening);
        let value = match kind.as_rule() {
            Rule::key_unknown => Tightening::Unknown,
            Rule::key_general => Tightening::General,
            Rule::passes => Tightening::Passes {
                passes: all(&kind, Rule::range).map(|range| Pass { amount: self.range(&range) }).collect(),
                origin: self.origin_in(&kind),
            },
            _ => Tightening::ByFeel,
        };
        self.spanned(&tightening, value)
    }
}
