//! The texts of a file that hold other than plain letters, with their places. What they say isn't looked at.

use super::lexeme::{Kind, lexemes};
use super::scan::scan;
use crate::source::{FileId, Span};

/// Every text in quotes that isn't ASCII throughout, without its quotes. Comments don't count, nor names of files.
pub(crate) fn special_texts(file: FileId, text: &str) -> Vec<Span> {
    if text.is_ascii() {
        return Vec::new();
    }
    // Comments are blanked there, and everything else keeps its place.
    let scanned = scan(file, text).text;
    let mut found = Vec::new();
    let mut start = 0;
    for line in scanned.split_inclusive('\n') {
        // Most lines are plain, and no text reaches over the end of its line.
        if !line.is_ascii() {
            let mut before = "";
            for lexeme in lexemes(line, 0) {
                if lexeme.kind == Kind::Text && before != "use" && !lexeme.text.is_ascii() {
                    let words = lexeme.text.trim_matches('"');
                    let first = start + lexeme.start + 1;
                    found.push(Span::new(file, first, first + words.len()));
                }
                before = lexeme.text;
            }
        }
        start += line.len();
    }
    found
}
