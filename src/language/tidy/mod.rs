//! The text of a `.rebuild` file to the same text in its one form: the same words and comments, laid out anew.
//!
//! `pieces` takes the matches of the grammar apart into declarations, clauses and words, with the comments at their
//! places; `spacing` says what stands between two words; `rows` which clauses may share a line; `lay` sets the lines.
//! How a text was spaced and broken into lines doesn't come through, but for the empty lines that part what belongs
//! together. None of it may know what a name means.

mod lay;
mod pieces;
mod rows;
mod spacing;
#[cfg(test)]
#[path = "../../../tests/syntax/tidy.rs"]
mod tests;

use super::grammar::{Node, Rule, read};
use super::{errors, parse, scan, stretch};
use crate::diagnostics::{Outcome, Severity};
use crate::source::{FileId, Span};

/// The text in its one form. There is none where the text has faults: what can't be read isn't moved about.
///
/// The form proves itself: what comes out is read again, and has the same words and the same comments in the same order.
///
/// ```
/// use benchleaf::{Sources, tidied};
///
/// let mut sources = Sources::new();
/// let text = "part cover \"Cover\"\n strip off \"Cover off\" {  take   cover  -- mind the gasket\n}";
/// let file = sources.add("cover.rebuild", text);
/// let tidy = tidied(file, text).value.expect("the text has no fault");
/// assert_eq!(
///     tidy,
///     "part cover \"Cover\"\nstrip off \"Cover off\" {\n    take cover  -- mind the gasket\n}\n"
/// );
/// assert_eq!(tidied(file, &tidy).value, Some(tidy));
/// ```
pub fn tidied(file: FileId, text: &str) -> Outcome<Option<String>> {
    let diagnostics = parse(file, text).diagnostics;
    if diagnostics.iter().any(|diagnostic| diagnostic.severity() == Severity::Error) {
        return Outcome { value: None, diagnostics };
    }
    let before = apart(file, text);
    let mut laid = before.as_ref().map(|before| lay::text(&before.members)).unwrap_or_default();
    // Line ends stay what they were.
    if text.contains("\r\n") {
        laid = laid.replace('\n', "\r\n");
    }
    let proved = proved(file, before.as_ref(), laid);
    Outcome { value: proved.value, diagnostics: [diagnostics, proved.diagnostics].concat() }
}

/// What was laid out, if it says what the text said: nobody's text is replaced by another, whatever is wrong here.
fn proved(file: FileId, before: Option<&Apart>, laid: String) -> Outcome<Option<String>> {
    let same = match (before, apart(file, &laid)) {
        (Some(before), Some(after)) => before.words == after.words && before.comments == after.comments,
        _ => false,
    };
    if same {
        Outcome { value: Some(laid), diagnostics: Vec::new() }
    } else {
        Outcome { value: None, diagnostics: vec![errors::not_laid_out(Span::new(file, 0, 0))] }
    }
}

/// What the grammar matched, in its one form on one line.
pub(super) fn one_line(node: &Node<'_>) -> String {
    lay::plain(&spacing::words_of(node))
}

/// A text taken apart.
struct Apart {
    /// Declarations and comments, with what stands in them.
    members: Vec<pieces::Member>,
    /// Every word and mark, in order.
    words: Vec<String>,
    /// Every comment, in order, without the spaces behind it.
    comments: Vec<String>,
}

/// Takes a text apart; none where it has faults.
fn apart(file: FileId, text: &str) -> Option<Apart> {
    let mut scanned = scan::scan(file, text);
    let found = std::mem::take(&mut scanned.comments);
    let stretches = stretch::cut(file, &mut scanned);
    if !scanned.faults.is_empty() {
        return None;
    }
    let comments = found.iter().map(|comment| comment.value.trim_end().to_owned()).collect();
    let mut taken = pieces::Pieces::new(&scanned.text, found);
    for stretch in stretches {
        let node = read(Rule::stretch, &scanned.text[stretch.start..stretch.end]).ok()?;
        taken.stretch(stretch.start, &node);
    }
    let (members, words) = taken.finish();
    Some(Apart { members, words, comments })
}
