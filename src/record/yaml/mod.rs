//! YAML text to a tree that knows where every key and value stands.
//!
//! serde_yaml says what a text means but not where; [`scan`] finds the places and [`agree`] holds the two
//! against each other, so a place can never belong to another value than the one that counts. Records are
//! written by hand and by this program, so only plain YAML is taken: mappings, lists, quoted, plain and block
//! scalars, comments. Anchors, aliases and tags are refused. It must not know what a key means.

mod agree;
mod scan;

pub(super) use agree::agree;
pub(super) use scan::{scan, scan_all};

use crate::source::{Span, Spanned};

/// A value and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Node {
    /// From its first to past its last byte; for a value that is missing, the key before it.
    pub(super) span: Span,
    /// What it is.
    pub(super) value: Value,
}

/// What a value is.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Value {
    /// Nothing, `~` or `null`.
    Null,
    /// Text, as written: `80.030` keeps its last nought.
    Scalar {
        /// What was written.
        text: String,
        /// Not between quotes and not in a block: it may stand for a number or a truth value.
        plain: bool,
    },
    /// A list.
    List(Vec<Node>),
    /// A mapping in written order.
    Mapping(Vec<Entry>),
}

/// A key with its value.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Entry {
    /// The key.
    pub(super) key: Spanned<String>,
    /// The value.
    pub(super) value: Node,
}

impl Node {
    /// Every value and key below it that holds other than plain letters, with its place, in written order.
    pub(super) fn special_texts(&self) -> Vec<(Span, String)> {
        let special = |span: Span, text: &String| (!text.is_ascii()).then(|| (span, text.clone()));
        match &self.value {
            Value::Null => Vec::new(),
            Value::Scalar { text, .. } => special(self.span, text).into_iter().collect(),
            Value::List(items) => items.iter().flat_map(Node::special_texts).collect(),
            Value::Mapping(entries) => {
                let of_one = |entry: &Entry| {
                    special(entry.key.span, &entry.key.value).into_iter().chain(entry.value.special_texts())
                };
                entries.iter().flat_map(of_one).collect()
            }
        }
    }

    /// What it is, with its article, for complaints.
    pub(super) fn kind(&self) -> &'static str {
        match &self.value {
            Value::Null => "nothing",
            Value::Scalar { text, .. } if text.trim().is_empty() => "an empty text",
            Value::Scalar { .. } => "a single value",
            Value::List(_) => "a list",
            Value::Mapping(_) => "a mapping",
        }
    }
}

/// Why a text is not a plain YAML tree.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Fault {
    /// It is not YAML, or not plain enough; what is wrong in words.
    Syntax(Span, String),
    /// A value without quotes that has a colon and a space in it: where it stands.
    Colon(Spanned<String>),
    /// In curly brackets, a number with a comma for its point, which parts two entries there: both as they stand.
    Comma(Spanned<String>),
    /// An anchor, an alias or a tag.
    Anchor(Span),
    /// Nested too deep.
    Deep(Span),
    /// A key that stands twice: here, and before at the second place.
    Duplicate(Spanned<String>, Span),
}
