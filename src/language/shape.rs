//! The declarations as a table: which words start one, and which rules and clauses make up those with clauses.

use std::sync::LazyLock;

use super::grammar::{Node, Rule};
use super::lower::{self, Builder};
use super::row::{Change, Shape};
use super::tree::{Item, Phase};

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
            change: None,
        }
    };
}

/// A row of the table of changed declarations.
macro_rules! changed {
    ($words:expr, $of:ident, $declaration:ident, $head:ident, $body:ident, $clauses:ident, $clause:ident, $difference:expr, $inner:ident, $($rows:expr),*) => {
        Shape {
            change: Some(Change { of: Rule::$of, difference: $difference, clauses: Rule::$inner }),
            ..shape!($words, $declaration, $head, $body, $clauses, $clause, $($rows),*)
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

/// Every declaration with clauses as it is changed.
#[rustfmt::skip]
static CHANGED: [Shape; 12] = [
    changed!(["strip", "survey", "build", "start"], step, changed_step, step_head, changed_step_body, changed_step_clauses, step_clause, Some(Rule::step_difference), step_clauses, lower::ACTS, lower::STEP),
    changed!(["part"], part, changed_part, part_head, changed_part_body, changed_part_clauses, part_clause, Some(Rule::part_difference), part_clauses, lower::PART, &[]),
    changed!(["fasteners"], fasteners, changed_fasteners, fasteners_head, changed_fasteners_body, changed_fasteners_clauses, fasteners_clause, Some(Rule::fasteners_difference), fasteners_clauses, lower::FASTENERS, &[]),
    changed!(["joint"], joint, changed_joint, joint_head, changed_joint_body, changed_joint_clauses, joint_clause, Some(Rule::joint_difference), joint_clauses, lower::JOINT, &[]),
    changed!(["tool"], tool, changed_tool, tool_head, changed_tool_body, changed_tool_clauses, tool_clause, Some(Rule::tool_difference), tool_clauses, lower::TOOL, &[]),
    changed!(["supply"], supply, changed_supply, supply_head, changed_supply_body, changed_supply_clauses, supply_clause, Some(Rule::supply_difference), supply_clauses, lower::SUPPLY, &[]),
    changed!(["hazard"], hazard, changed_hazard, hazard_head, changed_hazard_body, changed_hazard_clauses, hazard_clause, Some(Rule::hazard_difference), hazard_clauses, lower::HAZARD, &[]),
    changed!(["gauge"], gauge, changed_gauge, gauge_head, changed_gauge_body, changed_gauge_clauses, gauge_clause, Some(Rule::gauge_difference), gauge_clauses, lower::GAUGE, &[]),
    changed!(["look"], look, changed_look, look_head, changed_look_body, changed_look_clauses, look_clause, Some(Rule::look_difference), look_clauses, lower::LOOK, &[]),
    changed!(["temporary"], temporary, changed_temporary, temporary_head, changed_temporary_body, changed_temporary_clauses, temporary_clause, Some(Rule::temporary_difference), temporary_clauses, lower::TEMPORARY, &[]),
    changed!(["rule"], ordering_rule, changed_rule, rule_head, changed_rule_body, changed_rule_clauses, rule_clause, Some(Rule::rule_difference), rule_clauses, lower::RULE, &[]),
    changed!(["block", "trial"], group, changed_group, group_head, changed_group_body, changed_group_clauses, step, None, group_clauses, &[], &[]),
];

/// The word before a declaration that changes what is declared elsewhere, and the one before names that are taken out.
pub(super) const CHANGE: &str = "change";
pub(super) const WITHOUT: &str = "without";

/// The words that begin a clause which only a changed declaration has; the last two only a step.
const DIFFERENCES: [&str; 4] = ["without", "instead", "ahead", "behind"];

/// The words that start a declaration without clauses, and its rule.
static PLAIN: [(&str, Rule); 7] = [
    ("use", Rule::use_file),
    (WITHOUT, Rule::without),
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

    /// Those of changed declarations.
    pub(super) fn changed(word: &str) -> Option<&'static Shape> {
        CHANGED.iter().find(|shape| shape.words.contains(&word))
    }

    /// The word that starts it, or the first of several.
    pub(super) fn word(&self) -> &'static str {
        self.words.first().copied().unwrap_or_default()
    }

    /// The words that its clauses begin with, in the order of the grammar.
    pub(super) fn clause_words(&self) -> Vec<&'static str> {
        let mut words = Vec::new();
        if self.holds_steps() {
            words.extend(Shape::of(self.clause).iter().flat_map(|step| step.words));
        }
        for row in self.rows.iter().flat_map(|rows| *rows).filter(|row| row.rule != Rule::acted) {
            for word in row.first_words().filter(|word| !words.contains(word)).collect::<Vec<_>>() {
                words.push(word);
            }
        }
        let steps = self.words.iter().any(|word| Phase::of_word(word).is_some());
        if self.change.is_some_and(|change| change.difference.is_some()) {
            words.extend(&DIFFERENCES[..if steps { 4 } else { 2 }]);
        }
        words
    }

    /// Whether steps stand in its braces.
    pub(super) fn holds_steps(&self) -> bool {
        matches!(self.declaration, Rule::group | Rule::changed_group)
    }

    /// Whether one of its clauses begins with this word.
    pub(super) fn has_clause(&self, word: &str) -> bool {
        self.clause_words().contains(&word)
    }

    /// The shape of the declaration that this rule matches.
    pub(super) fn of(declaration: Rule) -> Option<&'static Shape> {
        SHAPES.iter().chain(&CHANGED).find(|shape| shape.declaration == declaration)
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
    let plain = PLAIN.iter().map(|(word, _)| *word);
    SHAPES.iter().flat_map(|shape| shape.words.iter().copied()).chain(plain).chain([CHANGE])
}

/// Whether this word starts a declaration or a step. It is asked of every line of a text.
pub(super) fn is_declaration(word: &str) -> bool {
    static BY_LETTER: LazyLock<[Vec<&str>; 26]> = LazyLock::new(|| {
        let mut words: [Vec<&str>; 26] = Default::default();
        declaration_words().for_each(|word| words[letter(word).unwrap_or_default()].push(word));
        words
    });
    letter(word).is_some_and(|letter| BY_LETTER[letter].contains(&word))
}

/// The number of the small letter that a word begins with.
fn letter(word: &str) -> Option<usize> {
    let first = word.bytes().next().filter(u8::is_ascii_lowercase)?;
    Some(usize::from(first - b'a'))
}
