//! Ordering rules, and departures from them.

use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::{self, Declaration, Quote, Reference, RuleClause};
use crate::source::{Span, Spanned};

/// What `except` names where a step departs from the rules that hold without being declared.
const HOUSE_RULES: &str = "house_rules";

const DIRECTIONS: [(&str, bool); 2] = [("undo", true), ("tighten", false)];

impl Resolver {
    pub(super) fn rule_clauses(&mut self, id: RuleId, declaration: &Declaration<RuleClause>) {
        let mut rule = self.procedure.rule(id).clone();
        let mut every: Option<Span> = None;
        let mut named: Option<Span> = None;
        for clause in &declaration.clauses {
            match &clause.value {
                RuleClause::Order { act, first, then } => {
                    let undoing = self.word(act, "`undo` or `tighten`", &DIRECTIONS);
                    let first = self.side(first);
                    let then = self.side(then);
                    if let (Some(undoing), Some(first), Some(then)) = (undoing, first, then) {
                        rule.orders.push(RuleOrder { undoing, first, then, span: clause.span });
                    }
                }
                RuleClause::ForEveryJoint => every = Some(clause.span),
                RuleClause::For(joints) => {
                    named = Some(clause.span);
                    rule.joints.extend(joints.iter().filter_map(|joint| self.target(joint)));
                }
                RuleClause::Except { joints, because } => {
                    let joints: Vec<_> = joints.iter().filter_map(|joint| self.target(joint)).collect();
                    rule.exceptions.extend(joints.into_iter().map(|joint| (joint, because.value.clone())));
                }
            }
        }
        if let (Some(every), Some(named)) = (every, named) {
            self.complain(errors::duplicate_clause("for", named.max(every), named.min(every)));
        }
        if !declaration.clauses.iter().any(|clause| matches!(clause.value, RuleClause::Order { .. })) {
            let example = "undo smaller before larger";
            let complaint = errors::missing_clause("rule", &declaration.name, "undo` or `tighten", example);
            self.complain_of_absence(declaration.span, complaint);
        }
        self.procedure.rules[id] = rule;
    }

    fn side(&mut self, side: &Spanned<tree::RuleSide>) -> Option<RuleSide> {
        Some(match &side.value {
            tree::RuleSide::Smaller => RuleSide::Smaller,
            tree::RuleSide::Larger => RuleSide::Larger,
            tree::RuleSide::Set(set) => RuleSide::Set(self.target(set)?),
        })
    }

    /// A step's departure from a rule.
    pub(super) fn departure(&mut self, rule: &Reference, because: &Quote, span: Span) -> Option<Departure> {
        let because = because.value.clone();
        if rule.name.value == HOUSE_RULES && !self.procedure.names.contains(HOUSE_RULES) {
            return Some(Departure { rule: None, because, span });
        }
        match self.thing(rule, &["a rule"])? {
            (Name::Rule(id), _) => Some(Departure { rule: Some(id), because, span }),
            _ => None,
        }
    }
}
