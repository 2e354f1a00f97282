//! Matches of the grammar to the tree. It must not know how a fault is recovered from.

#![warn(clippy::wildcard_enum_match_arm)]

/// What is made of a match, by its rule. A rule of the grammar that has no row here is a fault of this program; a test
/// feeds one sample of each rule.
macro_rules! by_rule {
    ($rule:expr, { $($known:ident => $made:expr,)* }) => {{
        #[allow(clippy::wildcard_enum_match_arm, reason = "a grammar has hundreds of rules, few of them at one place")]
        let made = match $rule {
            $(Rule::$known => $made,)*
            other => unreachable!("the grammar puts no `{other:?}` here"),
        };
        made
    }};
}

/// The name under which a clause may stand only once: its own words, or those given behind it.
macro_rules! once {
    (many $words:literal) => {
        None
    };
    (once $words:literal) => {
        Some($words)
    };
    (once $words:literal $name:expr) => {
        Some($name)
    };
    // Once of all positions, and as often as it names some.
    (placed $words:literal $node:expr) => {
        (!has($node, Rule::scope)).then_some($words)
    };
}

/// The clauses of a declaration: each a rule of the grammar, the words it begins with, whether it may stand once or
/// many times (under which name, if not its own words), and what is made of its match. Rows stand in the order of the grammar;
/// tests hold rules, words and order to the grammar, and each row to the reference in `grammar/README.md`.
macro_rules! clauses {
    ($table:ident: $lower:ident($self:ident, $node:ident) -> $clause:ident {
        $($rule:ident $words:literal $often:ident $(as $name:expr)? => $made:expr,)*
    }) => {
        pub(in crate::language) static $table: &[Row] = &[$(Row { rule: Rule::$rule, words: $words }),*];

        impl Builder {
            pub(super) fn $lower(&$self, $node: &Node<'_>) -> (Option<&'static str>, $clause) {
                by_rule!($node.as_rule(), { $($rule => (once!($often $words $($name)?), $made),)* })
            }
        }
    };
}

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
use thin_vec::ThinVec;

use super::grammar::Node;
use crate::diagnostics::Diagnostic;
use crate::source::{FileId, Span, Spanned};

pub(super) use act::ACTS;
pub(super) use fasteners::FASTENERS;
pub(super) use item::Run;
pub(super) use joint::JOINT;
pub(super) use part::{FAMILY, FATES, PART, SUPPLY, TEMPORARY, TOOL};
pub(super) use reading::{GAUGE, LOOK};
pub(super) use rule::{HAZARD, RULE};
pub(super) use step::STEP;

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
    faults: ThinVec<Diagnostic>,
}

impl Found {
    /// Adds what was found further on in the same file.
    pub(super) fn add(&mut self, later: Found) {
        for (name, span) in later.names {
            self.names.entry(name).or_insert(span);
        }
        self.faults.extend(later.faults);
    }

    /// Whether there was nothing.
    pub(super) fn is_empty(&self) -> bool {
        self.names.is_empty() && self.faults.is_empty()
    }

    /// All of it as complaints.
    pub(super) fn faults(self) -> ThinVec<Diagnostic> {
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
