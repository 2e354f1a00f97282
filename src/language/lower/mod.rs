//! Matches of the grammar to the tree. It must not know how a fault is recovered from.

mod act;
mod declaration;
mod fasteners;
mod item;
mod joint;
mod part;
mod reading;
mod rule;
mod step;
mod words;

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

use super::grammar::Node;
use crate::diagnostics::Diagnostic;
use crate::source::{FileId, Span, Spanned};

pub(super) use item::Run;
pub(super) use words::{name_for_title, proper_name};

/// Builds the tree of one file, stretch by stretch.
pub(super) struct Builder {
    file: FileId,
    /// Where the text of the matches at hand starts in the file.
    base: Cell<usize>,
    /// Bytes of the file: braces that were added behind its end are no place in it.
    length: usize,
    found: RefCell<Found>,
}

/// What was found while building, and that no grammar can say.
#[derive(Debug, Default)]
pub(super) struct Found {
    /// Misspelt names with their first place: each is complained of once.
    names: BTreeMap<String, Span>,
    faults: Vec<Diagnostic>,
}

impl Found {
    /// Adds what was found further on in the same file.
    pub(super) fn add(&mut self, later: Found) {
        for (name, span) in later.names {
            self.names.entry(name).or_insert(span);
        }
        self.faults.extend(later.faults);
    }

    /// All of it as complaints.
    pub(super) fn faults(self) -> Vec<Diagnostic> {
        let mut faults = self.faults;
        faults.extend(self.names.iter().map(|(name, span)| super::errors::bad_name(*span, name)));
        faults
    }
}

impl Builder {
    /// For this file of `length` bytes.
    pub(super) fn new(file: FileId, length: usize) -> Self {
        Builder { file, base: Cell::new(0), length, found: RefCell::default() }
    }

    /// The text of the matches given from now on starts at this byte of the file. It may wrap below nought where a
    /// longer word was put in the place of a misspelt one: only places behind that word are asked for.
    pub(super) fn start_at(&self, base: usize) {
        self.base.set(base);
    }

    /// What was found while building.
    pub(super) fn finish(self) -> Found {
        self.found.into_inner()
    }

    /// Bytes `start..end` of the text at hand.
    fn place(&self, start: usize, end: usize) -> Span {
        let base = self.base.get();
        let at = |offset: usize| base.wrapping_add(offset).min(self.length);
        Span::new(self.file, at(start), at(end))
    }

    /// The place of a match, without the spaces behind it that pest may count in.
    fn span(&self, node: &Node<'_>) -> Span {
        let start = node.as_span().start();
        self.place(start, start + node.as_str().trim_end().len())
    }

    /// `value` with the place of the match it comes from.
    fn spanned<T>(&self, node: &Node<'_>, value: T) -> Spanned<T> {
        Spanned::new(value, self.span(node))
    }
}
