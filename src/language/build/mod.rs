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

use std::cell::RefCell;
use std::collections::BTreeMap;

use super::grammar::{Node, Rule, all};
use crate::diagnostics::Diagnostic;
use crate::source::{FileId, Span, Spanned};

pub(super) use declaration::Head;
pub(super) use words::proper_name;

/// Builds the tree of one file, stretch by stretch.
pub(super) struct Builder {
    file: FileId,
    /// Where the stretch at hand starts in the file.
    base: usize,
    /// Misspelt names with their first place: each is complained of once.
    names: RefCell<BTreeMap<String, Span>>,
    faults: RefCell<Vec<Diagnostic>>,
}

impl Builder {
    /// For this file.
    pub(super) fn new(file: FileId) -> Self {
        Builder { file, base: 0, names: RefCell::default(), faults: RefCell::default() }
    }

    /// Places given from now on are behind this byte.
    pub(super) fn start_at(&mut self, base: usize) {
        self.base = base;
    }

    /// What was found while building, and that no grammar can say.
    pub(super) fn finish(self) -> Vec<Diagnostic> {
        let names = self.names.into_inner();
        let mut faults = self.faults.into_inner();
        faults.extend(names.iter().map(|(name, span)| super::errors::bad_name(*span, name)));
        faults
    }

    /// Bytes `start..end` of the stretch at hand.
    pub(super) fn place(&self, start: usize, end: usize) -> Span {
        Span::new(self.file, self.base + start, self.base + end)
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

    /// Each clause in `clauses` (a `*_clauses` match) built by `build` from what stands inside it.
    pub(super) fn clauses<'i, C>(
        &self,
        clauses: &Node<'i>,
        clause: Rule,
        build: impl Fn(&Self, &Node<'i>) -> C,
    ) -> Vec<Spanned<C>> {
        all(clauses, clause)
            .map(|node| self.spanned(&node, build(self, &super::grammar::inside(&node))))
            .collect()
    }
}
