//! Clauses of a step.

use super::Builder;
use crate::language::grammar::{Node, Rule, all, find, has, need};
use crate::language::row::Row;
use crate::language::tree::{StepClause, StepReference};
use thin_vec::ThinVec;

clauses! {
    STEP: step_clause(self, node) -> StepClause {
        acted "act" many => StepClause::Act(self.acted(node)),
        tools "tools" many => StepClause::Tools(self.references_in(node), self.scope_in(node)),
        step_hazard "hazard" many => StepClause::Hazard(self.reference_in(node), self.scope_in(node)),
        hands "hands" once => StepClause::Hands(Box::new(self.count(&need(node, Rule::count)))),
        time "time" once => StepClause::Time { time: Box::new(self.amount_in(node)), both_ways: has(node, Rule::both_ways) },
        refit_time "refit time" once => StepClause::RefitTime(Box::new(self.amount_in(node))),
        after "after" many => StepClause::After(self.step_names(node)),
        with "with" many => StepClause::With(
            all(node, Rule::position_of)
                .map(|setup| (self.name_in(&setup), self.name(&need(&setup, Rule::position))))
                .collect(),
            self.scope_in(node),
        ),
        when "when" once => StepClause::When(self.settings_in(node)),
        each "each" once => match find(node, Rule::in_turn) {
            Some(turn) => {
                StepClause::InTurn { axis: self.name_in(&turn), firing: has(&turn, Rule::key_firing) }
            }
            None => StepClause::Each {
                axes: self.names_in(node, Rule::name),
                of: find(node, Rule::of_groups).map(|of| self.name_in(&of)),
                apart: has(node, Rule::key_apart),
            },
        },
        supplies "supplies" many => StepClause::Supplies(
            all(node, Rule::supply_use)
                .map(|used| (self.reference_in(&used), self.amount_if(&used)))
                .collect(),
            self.scope_in(node),
        ),
        if_wrong "if" many => {
            let mut quotes = all(node, Rule::quote).map(|quote| self.quote(&quote));
            let mut next = || quotes.next().expect("the grammar demands both texts");
            StepClause::If { condition: next(), action: next(), scope: self.scope_in(node) }
        },
        repeated "repeat until" many => StepClause::Repeat {
            until: Box::new(self.reference_in(node)),
            at_most: Box::new(self.count(&need(node, Rule::count))),
            work: self.quote_in(node),
        },
        needs "needs" many => StepClause::Needs(self.conditions(node), self.scope_in(node)),
        hold "hold" many => StepClause::Hold(self.quote_in(node), self.scope_in(node)),
        before "before" many => StepClause::Before(self.step_names(node)),
        straight_after "straight after" once => StepClause::StraightAfter {
            step: Box::new(self.step_name(&need(node, Rule::step_name))),
            within: self.amount_if(node).map(Box::new),
        },
        strip_only "strip only" once => StepClause::StripOnly,
        except_step "except" many => StepClause::Except {
            rule: Box::new(self.reference_in(node)),
            because: self.quote_in(&need(node, Rule::because)),
        },
    }
}

impl Builder {
    fn step_names(&self, node: &Node<'_>) -> ThinVec<StepReference> {
        all(&need(node, Rule::step_names), Rule::step_name).map(|step| self.step_name(&step)).collect()
    }

    fn step_name(&self, node: &Node<'_>) -> StepReference {
        StepReference { all: find(node, Rule::key_all).is_some(), step: self.reference_in(node) }
    }
}
