//! A place in a text to what may be written there: for editors, which offer it. The reference of the language says a line
//! about each clause.

use std::sync::OnceLock;

use super::expected::Expected;
use super::grammar::{Failure, Rule, read};
use super::row::Shape;
use super::scan::{self, MarkKind};
use super::shape::CHANGE;
use super::stretch;
use super::tree::Phase;
use crate::quantity::Unit;
use crate::source::FileId;

/// The reference of the language, whose tables have a row for each clause.
const REFERENCE: &str = include_str!("../../grammar/README.md");

/// What may be written at a place.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Wanted {
    /// Fixed words, those that start a clause with a line about it.
    pub words: Vec<(String, Option<&'static str>)>,
    /// A name may stand there.
    pub name: bool,
    /// The unit of a number.
    pub unit: bool,
    /// A text in quotes may stand there.
    pub text: bool,
    /// The clause at hand begins with these words: they say which names are meant.
    pub clause: String,
    /// The declaration at hand begins with this word; empty outside all.
    pub owner: String,
}

/// What may be written at this byte of a text, where a word begins or there is space. Nothing inside a comment or a text
/// in quotes.
pub(crate) fn wanted(file: FileId, text: &str, at: usize) -> Wanted {
    let around = stretch::around(text, at);
    let (text, at) = (&text[around.clone()], at - around.start);
    let mut scanned = scan::scan(file, text);
    if scanned.comments.iter().any(|comment| comment.span.start() < at && at <= comment.span.end()) {
        return Wanted::default();
    }
    // Braces are put in for those that are missing: up to the place nothing is missing yet.
    let text = scanned.text.clone();
    let stretches = stretch::cut(file, &mut scanned);
    let start = stretches.iter().rfind(|stretch| stretch.start <= at).map_or(0, |stretch| stretch.start);
    let before = &text[start..at];
    let owner = owner(&text, &scanned.marks, start, at);
    let shape = Shape::started_by(owner);
    let Err(Failure::Mismatch { at: reached, expected }) = read(Rule::stretch, before) else {
        return outside(before);
    };
    if !before[reached.min(before.len())..].trim().is_empty() {
        return Wanted::default();
    }
    let expected = Expected { rules: &expected, shape, owner };
    let mut words: Vec<(String, Option<&'static str>)> =
        expected.words().into_iter().filter(|word| !word.contains('`')).map(|word| (word, None)).collect();
    if let (true, Some(shape)) = (expected.clause(), shape) {
        for row in shape.rows.iter().flat_map(|rows| *rows).filter(|row| row.rule != Rule::acted) {
            words.extend(row.words.split(" | ").map(|start| (start.to_owned(), help(owner, start))));
        }
        if shape.holds_steps() {
            words.extend(Phase::ALL.map(|phase| (phase.word().to_owned(), None)));
        }
    }
    // What differs in a step is begun with its phase, which no rule of the grammar stands for.
    let differs = before.split_whitespace().next_back() == Some(CHANGE);
    if differs && owner.is_empty() && !expected.number() {
        words.extend(Phase::ALL.map(|phase| (phase.word().to_owned(), None)));
    }
    words.sort_by(|one, other| (&one.0, one.1.is_none()).cmp(&(&other.0, other.1.is_none())));
    words.dedup_by(|later, earlier| later.0 == earlier.0);
    Wanted {
        words,
        name: expected.name(),
        unit: expected.has(&[Rule::unit, Rule::amount])
            && before.trim_end().ends_with(|c: char| c.is_ascii_digit()),
        text: expected.text(),
        clause: clause(before, shape),
        owner: owner.to_owned(),
    }
}

/// Every unit that may stand behind a number.
pub(crate) fn units() -> impl Iterator<Item = &'static str> {
    Unit::all().iter().map(|unit| unit.symbol)
}

/// Outside all declarations: the words that start one.
fn outside(before: &str) -> Wanted {
    if !before.is_empty()
        && !before.ends_with('\n')
        && !before.trim().is_empty()
        && !before.trim_end().ends_with('}')
    {
        return Wanted::default();
    }
    let words = super::shape::declaration_words().map(|word| (word.to_owned(), None)).collect();
    Wanted { words, ..Wanted::default() }
}

/// The word that the innermost declaration begins with that is open at a place.
fn owner<'t>(text: &'t str, marks: &[scan::Mark], start: usize, at: usize) -> &'t str {
    let word = |from: usize| {
        let rest = &text[from..];
        rest.split(|c: char| !c.is_ascii_alphabetic()).next().unwrap_or_default()
    };
    // Of something that is changed, the word behind `change`.
    let declared = |from: usize| match word(from) {
        CHANGE => word(
            from + CHANGE.len() + text[from + CHANGE.len()..].len()
                - text[from + CHANGE.len()..].trim_start().len(),
        ),
        found => found,
    };
    let mut open: Vec<&str> = Vec::new();
    let mut head = declared(start);
    for mark in marks.iter().filter(|mark| mark.at >= start && mark.at < at) {
        match mark.kind {
            MarkKind::Line(_) => {
                let found = declared(mark.at);
                if Shape::started_by(found).is_some() {
                    head = found;
                }
            }
            MarkKind::Open => open.push(head),
            MarkKind::Close => {
                open.pop();
            }
        }
    }
    open.last().copied().unwrap_or_default()
}

/// The words that the clause before a place begins with.
fn clause(before: &str, shape: Option<&Shape>) -> String {
    let Some(shape) = shape else { return String::new() };
    let mut last: (usize, &str) = (0, "");
    for row in shape.rows.iter().flat_map(|rows| *rows) {
        for words in row.words.split(" | ").filter(|words| !words.is_empty()) {
            for (at, _) in before.match_indices(words) {
                let edge = |letter: Option<char>| {
                    letter.is_none_or(|letter| !letter.is_ascii_alphanumeric() && letter != '_')
                };
                let whole =
                    edge(before[..at].chars().next_back()) && edge(before[at + words.len()..].chars().next());
                if whole && (at, words.len()) > (last.0, last.1.len()) {
                    last = (at, words);
                }
            }
        }
    }
    last.1.to_owned()
}

/// The line that the reference says about a clause.
pub(crate) fn help(owner: &str, words: &str) -> Option<&'static str> {
    static ROWS: OnceLock<Vec<(&str, &str, &str)>> = OnceLock::new();
    let rows = ROWS.get_or_init(|| {
        let mut rows = Vec::new();
        let mut head = "";
        for line in REFERENCE.lines() {
            if let Some(rest) = line.strip_prefix("<!-- rows stand in: ") {
                head = rest.split(' ').next().unwrap_or_default();
            } else if line.starts_with('#') {
                head = "";
            }
            let cells = line.strip_prefix("| `").and_then(|rest| rest.split_once(" | "));
            if let Some((code, meaning)) = cells.filter(|_| !head.is_empty()) {
                rows.push((head, code, meaning.trim_end_matches('|').trim_end()));
            }
        }
        rows
    });
    let of = |head: &str| head == owner || is_phase(head) && is_phase(owner);
    let begins = |code: &str| {
        code.strip_prefix(words).is_some_and(|rest| rest.starts_with([' ', '`']))
            || code
                .split("`, `")
                .any(|code| code.strip_prefix(words).is_some_and(|rest| rest.starts_with([' ', '`'])))
    };
    rows.iter().find(|(head, code, _)| of(head) && begins(code)).map(|(_, _, meaning)| *meaning)
}

fn is_phase(word: &str) -> bool {
    Phase::of_word(word).is_some()
}
