//! The texts of a file that hold other than plain letters, with their places. What they say isn't looked at.

use crate::source::{FileId, Span};

/// Every text in quotes that isn't ASCII throughout, without its quotes. Comments don't count, nor names of files.
pub(crate) fn special_texts(file: FileId, text: &str) -> Vec<Span> {
    let mut found = Vec::new();
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        if !line.is_ascii() && !line.trim_start().starts_with("use ") {
            found.extend(on_line(line).map(|(from, to)| Span::new(file, start + from, start + to)));
        }
        start += line.len();
    }
    found
}

fn on_line(line: &str) -> impl Iterator<Item = (usize, usize)> {
    let bytes = line.as_bytes();
    let mut at = 0;
    std::iter::from_fn(move || {
        while at < bytes.len() {
            match bytes[at] {
                b'-' if bytes.get(at + 1) == Some(&b'-') => return None,
                b'"' => {
                    let from = at + 1;
                    at = from;
                    while at < bytes.len() && bytes[at] != b'"' {
                        at += if bytes[at] == b'\\' { 2 } else { 1 };
                    }
                    // What stands behind a backslash may be a letter of several bytes.
                    let to = (at.min(line.len())..=line.len()).find(|to| line.is_char_boundary(*to));
                    let to = to.unwrap_or(line.len());
                    at = to + 1;
                    if !line[from..to].is_ascii() {
                        return Some((from, to));
                    }
                }
                _ => at += 1,
            }
        }
        None
    })
}
