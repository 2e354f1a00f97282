//! Text to tree, with every fault of spelling in one go. It must not know what names mean.
//!
//! The way through: `scan` goes once over the characters (comments, quotes, lines, braces), `stretch` cuts the text where
//! declarations start and mends braces, the grammar of `grammar/*.pest` matches each stretch (`matching`),
//! `lower` makes the tree of the matches. A stretch that doesn't match is gone through clause by clause by
//! `recover`.
//!
//! pest is used in this room only.

mod lower;
mod diagnose;
mod digits;
mod errors;
mod expected;
mod facts;
mod grammar;
mod kept;
mod lexeme;
mod matching;
mod names;
mod otherwise;
mod otherwise_errors;
mod place;
mod quoted;
mod recover;
mod scan;
mod row;
mod shape;
mod spelled;
mod stretch;
#[cfg(test)]
#[path = "../../tests/syntax/tables.rs"]
mod tables;
mod tidy;
pub mod tree;
mod vocabulary;
mod wanted;
mod worded;

use crate::diagnostics::{Diagnostic, Outcome, sort};
use crate::source::{FileId, Span, character_from, character_over};
use tree::Tree;

pub(crate) use diagnose::begins_like_a_procedure;
pub(crate) use facts::{Said, said};
pub(crate) use kept::{Kept, Since};
pub(crate) use otherwise::parted_name;
pub(crate) use quoted::special_texts;
pub(crate) use spelled::{Outlined, Part, Spelled, spelled, spelled_at};
pub use tidy::tidied;
pub(crate) use wanted::{help, units, wanted};
pub(crate) use worded::{begins_with, on_one_line, same_words, without_names};

/// Bytes that a file may have. A procedure of fifty thousand steps has about half as many.
const LARGEST: usize = 16 * 1024 * 1024;

/// Faults that are told of one file; after so many the rest says nothing new.
const MOST_FAULTS: usize = 100;

/// Reads the text of a `.rebuild` file. There is always a tree: what could not be understood is left out of it, and
/// complained of at the smallest place.
///
/// ```
/// use benchleaf::{Sources, parse};
///
/// let mut sources = Sources::new();
/// let file = sources.add("cover.rebuild", "part cover \"Cover\"\nstrip off \"Cover off\" { take cover }\n");
/// let tree = parse(file, &sources.file(file).text);
/// assert!(tree.diagnostics.is_empty());
/// assert_eq!(tree.value.items.len(), 2);
///
/// let cut_short = parse(file, "part cover \"Cover");
/// assert!(cut_short.has_errors());
/// ```
pub fn parse(file: FileId, text: &str) -> Outcome<Tree> {
    parse_again(file, text, None)
}

/// The same, for a text that is nearly one that was read before.
pub(crate) fn parse_again(file: FileId, text: &str, mut kept: Option<&mut Kept>) -> Outcome<Tree> {
    if let Some(kept) = &mut kept {
        kept.begin(file);
    }
    let mut tree = Tree { file, items: Vec::new(), comments: Vec::new() };
    if text.len() > LARGEST {
        let start = Span::new(file, 0, 0);
        return Outcome { value: tree, diagnostics: vec![errors::too_large(start, "this file")] };
    }
    let mut scanned = scan::scan(file, text);
    tree.comments = std::mem::take(&mut scanned.comments);
    if scanned.hopeless {
        return Outcome { value: tree, diagnostics: scanned.faults };
    }
    let stretches = stretch::cut(file, &mut scanned);
    let (items, found) = matching::matched(
        &matching::Cut {
            file,
            text: &scanned.text,
            length: text.len(),
            faults: &scanned.faults,
            faulty_lines: &scanned.faulty_lines,
        },
        &stretches,
        kept,
    );
    let mut faults = scanned.faults;
    tree.items = items;
    faults.extend(found);
    if tree.items.is_empty() && faults.is_empty() {
        faults.push(errors::empty(Span::new(file, 0, 0)));
    }
    within(text, &mut faults);
    sort(&mut faults);
    if faults.len() > MOST_FAULTS {
        faults.truncate(MOST_FAULTS);
        let last = faults.last().and_then(|fault| fault.labels.first()).map(|label| label.span);
        faults.extend(last.map(errors::too_many));
    }
    Outcome { value: tree, diagnostics: faults }
}

/// Drops complaints about braces that were added behind the end of the text, and keeps all places within it and on whole
/// characters: in the mended text a straight quote stands for the last byte of a curly one.
fn within(text: &str, faults: &mut Vec<Diagnostic>) {
    faults.retain(|fault| fault.labels.iter().all(|label| label.span.start() <= text.len()));
    for fault in faults {
        let labels = fault.labels.iter_mut().map(|label| &mut label.span);
        for span in labels.chain(fault.edit.iter_mut().map(|edit| &mut edit.span)) {
            *span =
                Span::new(span.file, character_over(text, span.start()), character_from(text, span.end()));
        }
    }
}
