//! The declarations as a table: which words start one, and which rules and clauses make up those with clauses.

use super::grammar::{Node, Rule};
use super::lower::{self, Builder};
use super::row::Shape;
use super::tree::Item;

/// A row of the table below.
macro_rules! shape {
    ($words:expr, $declaration:ident, $head:ident, $body:ident, $clauses:ident, $clause:ident, $($rows:expr),*) => {
        Shape {
            words: &$words,
            declaration: Rule::$declaration,
            head: Rule::$head,
            body: Rule::$body,
            clauses: Rule::$clauses,
            clause: Rule::$clause,
            rows: [$($rows),*],
        }
    };
}

/// Every declaration with clauses.
#[rustfmt::skip]
static SHAPES: [Shape; 13] = [
    shape!(["strip", "survey", "build", "start"], step, step_head, step_body, step_clauses, step_clause, lower::ACTS, lower::STEP),
    shape!(["part"], part, part_head, part_body, part_clauses, part_clause, lower::PART, &[]),
    shape!(["fasteners"], fasteners, fasteners_head, fasteners_body, fasteners_clauses, fasteners_clause, lower::FASTENERS, &[]),
    shape!(["joint"], joint, joint_head, joint_body, joint_clauses, joint_clause, lower::JOINT, &[]),
    shape!(["tool"], tool, tool_head, tool_body, tool_clauses, tool_clause, lower::TOOL, &[]),
    shape!(["supply"], supply, supply_head, supply_body, supply_clauses, supply_clause, lower::SUPPLY, &[]),
    shape!(["hazard"], hazard, hazard_head, hazard_body, hazard_clauses, hazard_clause, lower::HAZARD, &[]),
    shape!(["gauge"], gauge, gauge_head, gauge_body, gauge_clauses, gauge_clause, lower::GAUGE, &[]),
    shape!(["look"], look, look_head, look_body, look_clauses, look_clause, lower::LOOK, &[]),
    shape!(["temporary"], temporary, temporary_head, temporary_body, temporary_clauses, temporary_clause, lower::TEMPORARY, &[]),
    shape!(["family"], family, family_head, family_body, family_clauses, family_clause, lower::FAMILY, &[]),
    shape!(["rule"], ordering_rule, rule_head, rule_body, rule_clauses, rule_clause, lower::RULE, &[]),
    shape!(["block", "trial"], group, group_head, group_body, group_clauses, step, &[], &[]),
];

/// The words that start a declaration without clauses, and its rule.
static PLAIN: [(&str, Rule); 6] = [
    ("use", Rule::use_file),
    ("section", Rule::section),
    ("axis", Rule::axis),
    ("ask", Rule::ask),
    ("setup", Rule::setup),
    ("state", Rule::state),
];

impl Shape {
    /// All of them.
    pub(super) fn all() -> impl Iterator<Item = &'static Shape> {
        SHAPES.iter()
    }

    /// The word that starts it, or the first of several.
    pub(super) fn word(&self) -> &'static str {
        self.words.first().copied().unwrap_or_default()
    }

    /// The words that its clauses begin with, in the order of the grammar.
    pub(super) fn clause_words(&self) -> Vec<&'static str> {
        let mut words = Vec::new();
        if self.declaration == Rule::group {
            words.extend(Shape::of(self.clause).iter().flat_map(|step| step.words));
        }
        for row in self.rows.iter().flat_map(|rows| *rows).filter(|row| row.rule != Rule::acted) {
            for word in row.first_words().filter(|word| !words.contains(word)).collect::<Vec<_>>() {
                words.push(word);
            }
        }
        words
    }

    /// Whether one of its clauses begins with this word.
    pub(super) fn has_clause(&self, word: &str) -> bool {
        self.clause_words().contains(&word)
    }

    /// The shape of the declaration that this rule matches.
    pub(super) fn of(declaration: Rule) -> Option<&'static Shape> {
        SHAPES.iter().find(|shape| shape.declaration == declaration)
    }

    /// The shape of the declaration that this word starts.
    pub(super) fn started_by(word: &str) -> Option<&'static Shape> {
        SHAPES.iter().find(|shape| shape.words.contains(&word))
    }
}

/// What a match of one of the rules of `item` says.
pub(super) fn item(builder: &Builder, node: &Node<'_>) -> Item {
    match Shape::of(node.as_rule()) {
        Some(shape) => builder.declaration(shape, node),
        None => builder.plain(node),
    }
}

/// The rule of the declaration without clauses that this word starts.
pub(super) fn plain(word: &str) -> Option<Rule> {
    PLAIN.iter().find(|(start, _)| *start == word).map(|(_, rule)| *rule)
}

/// Every word that starts a declaration or a step.
pub(super) fn declaration_words() -> impl Iterator<Item = &'static str> {
    SHAPES.iter().flat_map(|shape| shape.words.iter().copied()).chain(PLAIN.iter().map(|(word, _)| *word))
}

/// Whether this word starts a declaration or a step.
pub(super) fn is_declaration(word: &str) -> bool {
    declaration_words().any(|known| known == word)
}
