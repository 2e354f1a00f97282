//! Clauses of hazard and rule.

use super::Builder;
use crate::language::grammar::{Node, Rule, all, has, inside, need};
use crate::language::tree::{HazardClause, RuleClause, RuleSide};
use crate::source::Spanned;

impl Builder {
    pub(super) fn hazard_clause(&self, node: &Node<'_>) -> HazardClause {
        match node.as_rule() {
            Rule::hazard_is => HazardClause::Hazard(self.quote_in(node)),
            Rule::consequence => HazardClause::Consequence(self.quote_in(node)),
            Rule::avoid => HazardClause::Avoid(self.quote_in(node)),
            _ => HazardClause::Wear(
                all(&need(node, Rule::quotes), Rule::quote).map(|quote| self.quote(&quote)).collect(),
            ),
        }
    }

    pub(super) fn rule_clause(&self, node: &Node<'_>) -> RuleClause {
        match node.as_rule() {
            Rule::rule_order => {
                let mut sides = all(node, Rule::rule_side).map(|side| self.rule_side(&side));
                let mut next = || sides.next().expect("the grammar demands both sides");
                RuleClause::Order { act: self.word(&inside(node)), first: next(), then: next() }
            }
            Rule::for_every => RuleClause::ForEveryJoint,
            Rule::for_joints => RuleClause::For(self.references_in(node)),
            _ => RuleClause::Except {
                joints: self.references_in(node),
                because: self.quote_in(&need(node, Rule::because)),
            },
        }
    }

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
