//! The declarations as a table: which words start one, and which rules make up those with clauses.

use super::grammar::Rule;

/// The rules of a declaration that has a head and clauses in braces.
#[derive(Debug)]
pub(super) struct Shape {
    /// The words that start it.
    pub words: &'static [&'static str],
    /// The whole.
    pub declaration: Rule,
    /// Keyword, name, title.
    pub head: Rule,
    /// Braces and clauses.
    pub body: Rule,
    /// What stands in the braces.
    pub clauses: Rule,
    /// One of them.
    pub clause: Rule,
}

/// A row of the table below.
macro_rules! shape {
    ($words:expr, $declaration:ident, $head:ident, $body:ident, $clauses:ident, $clause:ident) => {
        Shape {
            words: &$words,
            declaration: Rule::$declaration,
            head: Rule::$head,
            body: Rule::$body,
            clauses: Rule::$clauses,
            clause: Rule::$clause,
        }
    };
}

/// Every declaration with clauses.
#[rustfmt::skip]
static SHAPES: [Shape; 13] = [
    shape!(["strip", "survey", "build", "start"], step, step_head, step_body, step_clauses, step_clause),
    shape!(["part"], part, part_head, part_body, part_clauses, part_clause),
    shape!(["fasteners"], fasteners, fasteners_head, fasteners_body, fasteners_clauses, fasteners_clause),
    shape!(["joint"], joint, joint_head, joint_body, joint_clauses, joint_clause),
    shape!(["tool"], tool, tool_head, tool_body, tool_clauses, tool_clause),
    shape!(["supply"], supply, supply_head, supply_body, supply_clauses, supply_clause),
    shape!(["hazard"], hazard, hazard_head, hazard_body, hazard_clauses, hazard_clause),
    shape!(["gauge"], gauge, gauge_head, gauge_body, gauge_clauses, gauge_clause),
    shape!(["look"], look, look_head, look_body, look_clauses, look_clause),
    shape!(["temporary"], temporary, temporary_head, temporary_body, temporary_clauses, temporary_clause),
    shape!(["family"], family, family_head, family_body, family_clauses, family_clause),
    shape!(["rule"], ordering_rule, rule_head, rule_body, rule_clauses, rule_clause),
    shape!(["block", "trial"], group, group_head, group_body, group_clauses, step),
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

    /// The shape of the declaration that this rule matches.
    pub(super) fn of(declaration: Rule) -> Option<&'static Shape> {
        SHAPES.iter().find(|shape| shape.declaration == declaration)
    }

    /// The shape of the declaration that this word starts.
    pub(super) fn started_by(word: &str) -> Option<&'static Shape> {
        SHAPES.iter().find(|shape| shape.words.contains(&word))
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
