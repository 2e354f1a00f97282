//! The head that declarations share, and what is made of a head and its clauses.

use super::Builder;
use crate::language::grammar::{Node, Rule, find, need};
use crate::language::tree::{Amount, Case, Clause, Declaration, Quote, Word};
use crate::source::Span;
use thin_vec::ThinVec;

/// `KEYWORD NAME[axes] COUNT "Title"`.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Head {
    /// Its id.
    pub name: Word,
    /// Axes in square brackets.
    pub axes: ThinVec<Word>,
    /// How many.
    pub count: ThinVec<Case<Amount>>,
    /// Its title.
    pub title: Option<Quote>,
}

impl Head {
    /// The declaration with this head.
    pub(super) fn with<C>(self, clauses: Vec<Clause<C>>, span: Span) -> Declaration<C> {
        Declaration { name: self.name, axes: self.axes, count: self.count, title: self.title, clauses, span }
    }
}

impl Builder {
    /// A match of one of the `*_head` rules.
    pub(super) fn head(&self, node: &Node<'_>) -> Head {
        Head {
            name: self.name_in(node),
            axes: find(node, Rule::axes).map(|axes| self.names_in(&axes, Rule::name)).unwrap_or_default(),
            count: self.cases(node, Rule::count_case, |case| self.count(&need(case, Rule::count))),
            title: self.title_in(node),
        }
    }
}
