//! Clauses of fasteners, and what a set is tightened to.

use super::Builder;
use crate::language::grammar::{Node, Rule, all, find, has, inside, need};
use crate::language::row::Row;
use crate::language::tree::{
    Case, Direction, Drive, FastenerClause, Handling, Lengths, Less, Pass, Reuse, Tightened, Tightening,
};
use thin_vec::ThinVec;

clauses! {
    FASTENERS: fasteners_clause(self, node) -> FastenerClause {
        like "like" once => FastenerClause::Like(self.name_in(node)),
        off_with "off with" many => FastenerClause::Handling(Box::new(Handling::With(Direction::Off, self.references_in(node), self.scope_in(node)))),
        on_with "on with" many => FastenerClause::Handling(Box::new(Handling::With(Direction::On, self.references_in(node), self.scope_in(node)))),
        both_with "both ways with" many => FastenerClause::Handling(Box::new(Handling::With(Direction::Both, self.references_in(node), self.scope_in(node)))),
        meets_hazard "hazard" many => FastenerClause::Handling(Box::new(self.meets_hazard(node))),
        comes_off "comes off" placed as node => FastenerClause::Handling(Box::new(Handling::ComesOff(self.quote_in(node), self.scope_in(node)))),
        goes_on "goes on" placed as node => FastenerClause::Handling(Box::new(Handling::GoesOn(self.quote_in(node), self.scope_in(node)))),
        thread_clause "thread" once => FastenerClause::Thread(self.phrase(&need(node, Rule::thread))),
        class_clause "class" once => FastenerClause::Class(self.phrase(&need(node, Rule::class))),
        drive "drive" once => FastenerClause::Drive(match find(node, Rule::quote) {
            Some(words) => Drive::Words(self.quote(&words)),
            None if has(node, Rule::by_hand) => Drive::ByHand,
            None => Drive::AcrossFlats(Box::new(self.amount_in(node))),
        }),
        kind_of_set "kind" once => FastenerClause::Kind(self.word(&need(node, Rule::set_kind))),
        lengths "lengths | length" once as "lengths" => FastenerClause::Lengths(
            self.cases(node, Rule::length_case, |case| self.length(&need(case, Rule::length))),
        ),
        reused "once | reusable | reuse" once as "reuse" => FastenerClause::Reuse(
            self.cases(node, Rule::reuse_case, |case| self.reuse(case)),
        ),
        into_clause "into" once => FastenerClause::Into(self.word(&need(node, Rule::into_kind))),
        under "under" many => FastenerClause::Under(self.covers(node)),
        present "present when" many => FastenerClause::Present(self.settings_in(node), self.scope_in(node)),
        oil "oil" once => FastenerClause::Oil { places: self.words_in(node, Rule::oiled), with: find(node, Rule::reference).map(|with| Box::new(self.reference(&with))) },
        tighten_set "tighten" once => FastenerClause::Tighten(self.tightenings_in(node)),
        to_water "to water" once => FastenerClause::ToWater,
        to_oil "to oil" once => FastenerClause::ToOil,
        blind "blind" once => FastenerClause::Blind,
        stays "stays" once => FastenerClause::Stays,
        engagement "engagement" once => FastenerClause::Engagement(Box::new(self.amount_in(node))),
        stand_out "stand out" once => FastenerClause::StandOut(Box::new(self.amount_in(node))),
        left_hand "left-hand" once => FastenerClause::LeftHand,
        captive "captive" once => FastenerClause::Captive,
        locked_by "locked by" many => FastenerClause::LockedBy {
            how: self.phrase(&need(node, Rule::lock)),
            piece: find(node, Rule::reference).map(|piece| Box::new(self.reference(&piece))),
            scope: self.scope_in(node),
        },
        dry "dry" once => FastenerClause::Dry,
        apply "apply" many => FastenerClause::Apply(Box::new(self.reference_in(node)), self.scope_in(node)),
        soft "soft" once => FastenerClause::Soft,
        drag "drag" once => FastenerClause::Drag { when_large: has(node, Rule::added_when_large) },
        critical "critical" once => FastenerClause::Critical,
        friction "friction" once => FastenerClause::Friction {
            range: Box::new(self.range(&need(node, Rule::range))),
            origin: self.origin_in(node),
        },
        then_act "then" many => FastenerClause::Then(Box::new(self.act(&need(node, Rule::later_act)))),
        catalogue "catalogue" once => FastenerClause::Catalogue(self.text_cases(node)),
        price_clause "price" once => FastenerClause::Price(Box::new(self.price_in(node))),
    }
}

impl Builder {
    fn length(&self, node: &Node<'_>) -> Lengths {
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

    fn reuse(&self, case: &Node<'_>) -> Reuse {
        if has(case, Rule::once) {
            return Reuse::Once;
        }
        let Some(reuse) = find(case, Rule::reuse) else { return Reuse::Reusable };
        find(&reuse, Rule::reference).map_or(Reuse::Unknown, |gauge| Reuse::By(self.reference(&gauge)))
    }

    /// What a set is tightened to, which the grammar demands inside this match.
    pub(super) fn tightenings_in(&self, node: &Node<'_>) -> ThinVec<Case<Tightened>> {
        let cases = need(node, Rule::tightenings);
        self.cases(&cases, Rule::tightening_case, |case| Tightened {
            to: self.tightening(&need(case, Rule::tightening)),
            less: find(case, Rule::less).map(|less| Less {
                share: self.amount_in(&less),
                because: self.quote_in(&need(&less, Rule::because)),
                origin: self.origin_in(&less),
                span: self.span(&less),
            }),
        })
    }

    fn tightening(&self, tightening: &Node<'_>) -> Tightening {
        let kind = inside(tightening);
        by_rule!(kind.as_rule(), {
            key_unknown => Tightening::Unknown,
            key_general => Tightening::General,
            by_feel => Tightening::ByFeel,
            passes => Tightening::Passes(
                all(&kind, Rule::range).map(|range| Pass { amount: self.range(&range) }).collect(),
            ),
        })
    }
}
