//! Clauses of a step.

use super::Builder;
use crate::language::grammar::{Node, Rule, all, find, has, need};
use crate::language::tree::{StepClause, StepReference};

impl Builder {
    pub(super) fn step_clause(&self, node: &Node<'_>) -> StepClause {
        match node.as_rule() {
            Rule::act => StepClause::Act(self.act(node)),
            Rule::after => StepClause::After(self.step_names(node)),
            Rule::before => StepClause::Before(self.step_names(node)),
            Rule::straight_after => StepClause::StraightAfter {
                step: self.step_name(&need(node, Rule::step_name)),
                within: self.amount_if(node),
            },
            Rule::when => StepClause::When(self.settings_in(node)),
            Rule::each => {
                StepClause::Each { axes: self.names_in(node, Rule::name), apart: has(node, Rule::key_apart) }
            }
            Rule::tools => StepClause::Tools(self.references_in(node)),
            Rule::supplies => StepClause::Supplies(
                all(node, Rule::supply_use)
                    .map(|used| (self.reference_in(&used), self.amount_if(&used)))
                    .collect(),
            ),
            Rule::with => StepClause::With(
                all(node, Rule::position_of)
                    .map(|setup| (self.name_in(&setup), self.name(&need(&setup, Rule::position))))
                    .collect(),
            ),
            Rule::hands => StepClause::Hands(self.count(&need(node, Rule::count))),
            Rule::time => StepClause::Time(self.amount_in(node)),
            Rule::hold => StepClause::Hold(self.quote_in(node)),
            Rule::show_hazard => StepClause::Hazard(self.reference_in(node)),
            Rule::needs => StepClause::Needs(self.conditions(node)),
            Rule::strip_only => StepClause::StripOnly,
            Rule::if_wrong => {
                let mut quotes = all(node, Rule::quote).map(|quote| self.quote(&quote));
                let mut next = || quotes.next().expect("the grammar demands both texts");
                StepClause::If { condition: next(), action: next() }
            }
            _ => StepClause::Except {
                rule: self.reference_in(node),
                because: self.quote_in(&need(node, Rule::because)),
            },
        }
    }

    fn step_names(&self, node: &Node<'_>) -> Vec<StepReference> {
        all(&need(node, Rule::step_names), Rule::step_name).map(|step| self.step_name(&step)).collect()
    }

    fn step_name(&self, node: &Node<'_>) -> StepReference {
        StepReference { all: find(node, Rule::key_all).is_some(), step: self.reference_in(node) }
    }
}
