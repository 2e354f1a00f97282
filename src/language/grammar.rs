//! The grammar of `grammar/*.pest`, and the two ways in which it is asked: does this text begin with that rule,
//! and if not, where is the furthest place that was reached and what was looked for there.

use pest::Parser;
use pest::error::{ErrorVariant, InputLocation};
use pest::iterators::Pair;
use thin_vec::ThinVec;

/// Holds the rules; pest's derive adds `Rule` beside it.
#[derive(pest_derive::Parser)]
#[grammar = "../grammar/words.pest"]
#[grammar = "../grammar/keywords.pest"]
#[grammar = "../grammar/file.pest"]
#[grammar = "../grammar/parts.pest"]
#[grammar = "../grammar/joints.pest"]
#[grammar = "../grammar/readings.pest"]
#[grammar = "../grammar/rules.pest"]
#[grammar = "../grammar/steps.pest"]
struct Grammar;

/// A piece of text that a rule matched, with what is inside it.
pub(super) type Node<'i> = Pair<'i, Rule>;

/// Where and why a rule did not match.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Failure {
    /// The furthest place reached, and the rules that were tried there.
    Mismatch {
        /// Byte in the text that was given.
        at: usize,
        /// What would have gone on from there.
        expected: Vec<Rule>,
    },
    /// More work than any sound text of this size needs.
    TooMuch,
}

/// Rule calls allowed for one text: far above what the longest stretch needs, and a bound all the same.
const CALL_LIMIT: usize = 100_000_000;

/// Matches `rule` at the start of `text`; text behind the match is left alone.
pub(super) fn read(rule: Rule, text: &str) -> Result<Node<'_>, Failure> {
    pest::set_call_limit(std::num::NonZeroUsize::new(CALL_LIMIT));
    match Grammar::parse(rule, text) {
        Ok(mut pairs) => Ok(pairs.next().expect("a rule that matches gives one pair")),
        Err(error) => Err(match error.variant {
            ErrorVariant::ParsingError { positives, .. } => {
                let at = match error.location {
                    InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
                };
                Failure::Mismatch { at, expected: positives }
            }
            ErrorVariant::CustomError { .. } => Failure::TooMuch,
        }),
    }
}

/// The first child of this rule, where the grammar allows none.
pub(super) fn find<'i>(node: &Node<'i>, rule: Rule) -> Option<Node<'i>> {
    node.clone().into_inner().find(|child| child.as_rule() == rule)
}

/// The first child of this rule, where the grammar demands one.
pub(super) fn need<'i>(node: &Node<'i>, rule: Rule) -> Node<'i> {
    find(node, rule).expect("the grammar demands this child of every match")
}

/// All children of this rule, in order.
pub(super) fn all<'i>(node: &Node<'i>, rule: Rule) -> impl Iterator<Item = Node<'i>> {
    node.clone().into_inner().filter(move |child| child.as_rule() == rule)
}

/// What `made` makes of every child of this rule, in a list with no room left over: most have one entry, and there are very
/// many of them.
pub(super) fn each<'i, T>(node: &Node<'i>, rule: Rule, made: impl FnMut(Node<'i>) -> T) -> ThinVec<T> {
    let mut built: ThinVec<T> = all(node, rule).map(made).collect();
    built.shrink_to_fit();
    built
}

/// Whether there is a child of this rule.
pub(super) fn has(node: &Node<'_>, rule: Rule) -> bool {
    find(node, rule).is_some()
}

/// The only thing inside, or the first of several.
pub(super) fn inside<'i>(node: &Node<'i>) -> Node<'i> {
    node.clone().into_inner().next().expect("the grammar puts something inside every match")
}
