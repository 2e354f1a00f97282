//! Complaints of spelling to what nothing else is said of: words, lines and places on which something couldn't be parsed, and
//! whatever a file may declare that couldn't be read. It must not know what was meant.

use std::collections::BTreeSet;

use crate::diagnostics::codes::procedure as codes;
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::{Sources, Span};

/// What couldn't be parsed: nothing is complained of that may rest on it.
#[derive(Default)]
pub(super) struct Troubles {
    /// Words on the lines of faults: a name among them may be declared or used there.
    pub words: BTreeSet<String>,
    /// The lines of faults: a clause that is missing from a declaration may stand there.
    pub lines: Vec<Span>,
    /// The faults themselves: a number just before one may have its unit there.
    pub places: Vec<Span>,
    /// A file that is brought in couldn't be read: whatever has no name here may have one there.
    pub unread: bool,
}

/// The troubles behind complaints of spelling.
pub(super) fn troubles(sources: &Sources, diagnostics: &[Diagnostic]) -> Troubles {
    let unread = diagnostics.iter().any(|diagnostic| diagnostic.code.name == codes::USE_UNREADABLE.name);
    let mut troubles = Troubles { unread, ..Troubles::default() };
    for diagnostic in diagnostics.iter().filter(|diagnostic| diagnostic.severity() == Severity::Error) {
        for label in &diagnostic.labels {
            let (file, start, end) = (label.span.file, label.span.start(), label.span.end());
            let text = &sources.file(file).text;
            let before = text.get(..start).unwrap_or_default();
            let line_start = before.rfind('\n').map_or(0, |at| at + 1);
            let rest = text.get(end..).unwrap_or_default();
            let line_end = end + rest.find('\n').unwrap_or(rest.len());
            let line = text.get(line_start..line_end).unwrap_or_default();
            let part_of_word = |c: char| c.is_alphanumeric() || c == '_';
            let words = line.split(|c: char| !part_of_word(c)).filter(|word| !word.is_empty());
            troubles.words.extend(words.map(str::to_owned));
            troubles.lines.push(Span::new(file, line_start, line_end));
            troubles.places.push(label.span);
        }
    }
    troubles
}
