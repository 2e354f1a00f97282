//! A match of the grammar to its words and marks, each with what may stand before it: nothing, a space, a line end, a
//! column of a table.

use super::super::grammar::{Node, Rule};

/// A word or a mark.
#[derive(Debug, Clone)]
pub(super) struct Word {
    /// Its letters.
    pub text: String,
    /// It follows the word before it without a space.
    pub joined: bool,
    /// Whether a line may end before it.
    pub breaks: Break,
    /// It begins this column of a table, counted from one.
    pub column: Option<usize>,
    /// It begins a place of a pattern of holes.
    pub hole: bool,
}

/// Whether a line may end before a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Break {
    /// Never.
    Never,
    /// Behind a comma of a list, where nothing better is near.
    List,
    /// Where something new is said.
    Part,
    /// Where something new is said that stands apart on the line too.
    Apart,
}

/// The column of where a torque comes from: behind those of as many passes as anybody writes.
const ORIGIN_COLUMN: usize = 100;

/// The words of a match, in order.
pub(super) fn words_of(node: &Node<'_>) -> Vec<Word> {
    let mut speller = Speller { words: Vec::new(), depth: 0, tight: false, at: node.as_span().start() };
    speller.walk(node, Within::default());
    let mut words = speller.words;
    // Of several torques the passes would begin their columns anew.
    let columns: Vec<usize> = words.iter().filter_map(|word| word.column).collect();
    if !columns.is_sorted_by(|one, other| one < other) {
        words.iter_mut().for_each(|word| word.column = word.column.filter(|column| *column <= 2));
    }
    words
}

/// What a word stands in.
#[derive(Debug, Clone, Copy, Default)]
struct Within {
    /// A point of a pattern: its comma is followed by no space.
    point: bool,
    /// A clause of a joint that is set as a row of a table.
    table: bool,
}

struct Speller {
    words: Vec<Word>,
    /// Brackets that are open.
    depth: usize,
    /// The next word follows without a space.
    tight: bool,
    /// How far the text has been spelt.
    at: usize,
}

impl Speller {
    fn walk(&mut self, node: &Node<'_>, within: Within) {
        let rule = node.as_rule();
        let within = Within {
            point: within.point || rule == Rule::point,
            table: within.table
                || matches!(rule, Rule::holes_clause | Rule::tighten_clause | Rule::state | Rule::ask),
        };
        let first = self.words.len();
        let text = node.as_str().trim_end();
        let (mut pass, base) = (0, node.as_span().start());
        let mut inner = node.clone().into_inner().peekable();
        if inner.peek().is_none() {
            self.word(&spaced_once(text, rule), rule, within);
            self.at = base + text.len();
        }
        for child in inner {
            let start = child.as_span().start();
            self.marks(node.as_str(), base, start, rule, within);
            let before = self.words.len();
            self.at = start;
            self.walk(&child, within);
            self.at = start + child.as_str().trim_end().len();
            // What is tried again is said in one breath; what is done between two tries is a sentence.
            if let (Rule::repeated, Some(word)) = (rule, self.words.get_mut(before)) {
                match child.as_rule() {
                    Rule::key_within => word.breaks = Break::Never,
                    Rule::quote => word.breaks = Break::Part,
                    _ => {}
                }
            }
            if within.table {
                let column = match (rule, child.as_rule()) {
                    (Rule::holes_clause | Rule::tighten_clause, Rule::reference) => Some(1),
                    (Rule::state | Rule::ask, Rule::title) => Some(1),
                    (Rule::state, Rule::equals) => Some(2),
                    (Rule::holes_clause, Rule::layout) | (Rule::tighten_clause, Rule::tightenings) => Some(2),
                    (Rule::tightening_case, Rule::origin) => Some(ORIGIN_COLUMN),
                    (Rule::passes, Rule::range) => {
                        pass += 1;
                        (pass > 1).then_some(pass + 1)
                    }
                    _ => None,
                };
                if let (Some(word), Some(column)) = (self.words.get_mut(before), column) {
                    word.column = Some(column);
                }
            }
        }
        self.marks(text, base, base + text.len(), rule, within);
        if let Some(word) = self.words.get_mut(first) {
            if first > 0 {
                word.breaks = word.breaks.max(break_before(rule));
            }
            word.hole |= rule == Rule::point;
        }
    }

    /// Spells the marks up to this byte that are no rule of their own.
    fn marks(&mut self, text: &str, base: usize, to: usize, rule: Rule, within: Within) {
        let from = self.at.max(base);
        if from >= to {
            return;
        }
        for mark in text[from - base..to - base].chars().filter(|mark| !mark.is_whitespace() && *mark != ';')
        {
            self.word(&mark.to_string(), rule, within);
        }
        self.at = to;
    }

    fn word(&mut self, text: &str, rule: Rule, within: Within) {
        let closes = matches!(text, "," | ")" | "]");
        let joined = self.tight || closes || text == "[" || text == "(" && rule == Rule::call || text == ":1";
        let listed = self.words.last().is_some_and(|last| last.text == ",") && self.depth == 0;
        let breaks = if listed { Break::List } else { Break::Never };
        match text {
            "(" | "[" => self.depth += 1,
            ")" | "]" => self.depth = self.depth.saturating_sub(1),
            _ => {}
        }
        self.tight = matches!(text, "(" | "[") || text == "," && within.point;
        self.words.push(Word { text: text.to_owned(), joined, breaks, column: None, hole: false });
    }
}

/// A word as written, with one space where it has several between its parts.
fn spaced_once(text: &str, rule: Rule) -> String {
    if rule == Rule::quote { text.to_owned() } else { text.split_whitespace().collect::<Vec<_>>().join(" ") }
}

/// Whether a line may end before what this rule matches.
fn break_before(rule: Rule) -> Break {
    match rule {
        Rule::axis_groups
        | Rule::turns_engine
        | Rule::each_person
        | Rule::change
        | Rule::show_hazard
        | Rule::state_hazard
        | Rule::refit_title => Break::Apart,
        Rule::origin
        | Rule::given
        | Rule::scope
        | Rule::less
        | Rule::because
        | Rule::note
        | Rule::key_do
        | Rule::key_if
        | Rule::key_within
        | Rule::allowance => Break::Part,
        Rule::point | Rule::sum_sign => Break::List,
        _ => Break::Never,
    }
}
