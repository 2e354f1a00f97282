//! Words in columns: how wide they are, and lines of no more than so many columns.

use std::borrow::Cow;

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// A text without signs that act on a terminal instead of being seen: control characters but line ends and tabs, and those that
/// turn the direction of reading. They are written as JSON writes them, `\u001b`, so that JSON with them means the same.
pub(crate) fn harmless(text: &str) -> Cow<'_, str> {
    let mut signs = text.chars().peekable();
    if !text.chars().any(acts) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    while let Some(sign) = signs.next() {
        let ends_line = sign == '\r' && signs.peek() == Some(&'\n');
        if acts(sign) && !ends_line {
            out.push_str(&format!("\\u{:04x}", u32::from(sign)));
        } else {
            out.push(sign);
        }
    }
    Cow::Owned(out)
}

/// Whether a sign acts on a terminal: C0 and C1 control characters, DEL, and the marks of the Unicode bidirectional algorithm.
pub(super) fn acts(sign: char) -> bool {
    let turns = matches!(sign, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{061c}');
    turns || sign.is_control() && !matches!(sign, '\n' | '\t')
}

/// Columns that a text takes on a screen.
pub(super) fn columns(text: &str) -> usize {
    text.width()
}

/// Columns of one sign; what has none of its own, such as a control sign, is drawn as one blank.
pub(super) fn column(sign: char) -> usize {
    sign.width().unwrap_or(1)
}

/// Lines broken at spaces, none wider than `width` but for a word that is wider by itself.
pub(crate) fn wrapped(text: &str, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in harmless(text).lines() {
        let mut line = String::new();
        for word in paragraph.split_whitespace() {
            if !line.is_empty() && columns(&line) + 1 + columns(word) > width {
                lines.push(std::mem::take(&mut line));
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
        lines.push(line);
    }
    lines
}
