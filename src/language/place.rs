//! A stretch of text with its place in its file.

use super::lexeme::{Lexeme, end_before};
use crate::source::{FileId, Span};

/// A stretch of text and where it stands.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place<'t> {
    /// Its file.
    pub file: FileId,
    /// Where it starts in the file.
    pub base: usize,
    /// Its text.
    pub text: &'t str,
}

impl Place<'_> {
    /// Bytes of the stretch as a place in the file.
    pub(super) fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.file, self.base + start, self.base + end)
    }

    pub(super) fn of(&self, lexeme: &Lexeme<'_>) -> Span {
        self.span(lexeme.start, lexeme.end)
    }

    /// Just behind the last thing before `at`.
    pub(super) fn behind(&self, at: usize) -> Span {
        let end = end_before(self.text, at);
        self.span(end, end)
    }
}
