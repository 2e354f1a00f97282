//! Words in columns: how wide they are, and lines of no more than so many columns.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

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
    for paragraph in text.lines() {
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
