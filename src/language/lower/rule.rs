//! Clauses of hazard and rule.

use super::Builder;
use crate::language::grammar::{Node, Rule, all, has, inside, need};
use crate::language::row::Row;
use crate::language::tree::{HazardClause, RuleClause, RuleSide};
use crate::source::Spanned;

clauses! {
    HAZARD: hazard_clause(self, node) -> HazardClause {
        hazard_is "hazard" once => HazardClause::Hazard(self.quote_in(node)),
        consequence "consequence" once => HazardClause::Consequence(self.quote_in(node)),
        avoid "avoid" once => HazardClause::Avoid(self.quote_in(node)),
        wear "wear" once => HazardClause::Wear(
            all(&need(node, Rule::quotes), Rule::quote).map(|quote| self.quote(&quote)).collect(),
        ),
    }
}

clauses! {
    RULE: rule_clause(self, node) -> RuleClause {
        rule_order "undo | tighten" many => {
            let mut sides = all(node, Rule::rule_side).map(|side| self.rule_side(&side));
            let mut next = || sides.next().expect("the grammar demands both sides");
            RuleClause::Order { act: self.word(&inside(node)), first: next(), then: next() }
        },
        for_every "for every joint" many => RuleClause::ForEveryJoint,
        for_joints "for" many => RuleClause::For(self.references_in(node)),
        except_joints "except" many => RuleClause::Except {
            joints: self.references_in(node),
            because: self.quote_in(&need(node, Rule::because)),
        },
    }
}

impl Builder {
    fn rule_side(&self, node: &Node<'_>) -> Spanned<RuleSide> {
        let side = if has(node, Rule::key_smaller) {
            RuleSide::Smaller
        } else if has(node, Rule::key_larger) {
            RuleSide::Larger
        } else {
            RuleSide::Set(self.reference_in(node))
        };
        self.spanned(node, side)
    }
}
