//! What the grammar looked for at a place, asked about as a person would: a name, a text, a number, one of some words.

use super::grammar::Rule;
use super::row::Shape;
use super::vocabulary::{choices, phrase};
use crate::english::alternatives;

/// What the grammar looked for at a place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Expected<'r> {
    /// The rules that were tried.
    pub rules: &'r [Rule],
    /// The declaration that the place stands in, if it stands in one.
    pub shape: Option<&'r Shape>,
    /// The word that started it.
    pub owner: &'r str,
}

impl Expected<'_> {
    /// Whether any of these rules was tried.
    pub(super) fn has(&self, wanted: &[Rule]) -> bool {
        self.rules.iter().any(|tried| wanted.contains(tried))
    }

    /// A new clause could start there.
    pub(super) fn clause(&self) -> bool {
        self.shape.is_some_and(|shape| self.has(&[shape.clause, shape.clauses]))
    }

    /// A name could stand there.
    #[rustfmt::skip]
    pub(super) fn name(&self) -> bool {
        self.has(&[
            Rule::name, Rule::position, Rule::reference, Rule::references, Rule::step_name, Rule::cover, Rule::setting,
            Rule::settings, Rule::need, Rule::listed_value, Rule::listed_values, Rule::station, Rule::band,
            Rule::axis_list, Rule::cylinder,
        ])
    }

    /// A text in quotes could stand there.
    pub(super) fn text(&self) -> bool {
        self.has(&[Rule::quote, Rule::quotes, Rule::text_case, Rule::note, Rule::title])
    }

    /// A number could stand there.
    #[rustfmt::skip]
    pub(super) fn number(&self) -> bool {
        self.has(&[
            Rule::number, Rule::amount, Rule::range, Rule::span, Rule::count, Rule::passes, Rule::tightening,
            Rule::tightenings, Rule::tightening_case, Rule::limits, Rule::amount_case,
            Rule::amount_or_unknown, Rule::range_or_unknown, Rule::range_case, Rule::allowance, Rule::circle_first, Rule::price,
            Rule::drive, Rule::lengths, Rule::length, Rule::length_case, Rule::factor, Rule::term, Rule::formula,
        ])
    }

    /// Fixed words that could stand there, without the words that start clauses.
    pub(super) fn words(&self) -> Vec<String> {
        let mut words: Vec<String> = self.rules.iter().flat_map(|tried| choices(*tried)).collect();
        words.sort_unstable();
        words.dedup();
        words
    }

    /// All of it as a choice in plain words.
    pub(super) fn phrase(&self) -> String {
        let mut phrases: Vec<String> = Vec::new();
        // Brackets that might go on with what stands before say less than what must come.
        let said =
            self.rules.iter().filter(|tried| !matches!(tried, Rule::axes | Rule::positions | Rule::EOI));
        for text in said.filter_map(|tried| phrase(*tried)) {
            if !phrases.contains(&text) {
                phrases.push(text);
            }
        }
        if self.clause() {
            phrases.push(format!("what else may stand in `{}`", self.owner));
        }
        alternatives(&phrases)
    }
}
