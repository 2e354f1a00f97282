//! Values out of the tree: each function takes a node of one kind and complains of every other.

use std::collections::BTreeMap;

use super::yaml::{Entry, Node, Value};
use super::{Date, Hour, Named, Signature, errors};
use crate::diagnostics::Diagnostic;
use crate::quantity::{Dimension, Money, Quantity};
use crate::source::{FileId, Span, Spanned};

/// Keys of a mapping by name.
pub(super) struct Fields<'a> {
    entries: BTreeMap<&'a str, &'a Node>,
    /// Where the mapping stands.
    pub(super) span: Span,
}

impl<'a> Fields<'a> {
    /// The entries of a mapping, whichever keys it has.
    pub(super) fn of(node: &Node, entries: &'a [Entry]) -> Self {
        let entries = entries.iter().map(|entry| (entry.key.value.as_str(), &entry.value)).collect();
        Fields { entries, span: node.span }
    }

    /// The value of a key, unless it is nothing: a key without a value says nothing.
    pub(super) fn get(&self, key: &str) -> Option<&'a Node> {
        self.entries.get(key).copied().filter(|node| node.value != Value::Null)
    }
}

/// Takes values out of nodes, and keeps every complaint.
#[derive(Default)]
pub(super) struct Taker {
    pub(super) diagnostics: Vec<Diagnostic>,
}

impl Taker {
    fn complain<T>(&mut self, diagnostic: Diagnostic) -> Option<T> {
        self.diagnostics.push(diagnostic);
        None
    }

    /// A mapping with no other keys than these; `what` has its article, as in `a note`.
    pub(super) fn fields<'a>(
        &mut self,
        key: &str,
        node: &'a Node,
        what: &str,
        known: &[&str],
    ) -> Option<Fields<'a>> {
        let Value::Mapping(entries) = &node.value else {
            let example = format!("{key}: {{{}: ...}}", known.first().copied().unwrap_or_default());
            return self.complain(errors::wrong_type(key, node, "a mapping", &example));
        };
        for entry in entries.iter().filter(|entry| !known.contains(&entry.key.value.as_str())) {
            self.diagnostics.push(errors::unknown_key(&entry.key, known, what));
        }
        Some(Fields::of(node, entries))
    }

    /// A mapping with keys of the user's own.
    pub(super) fn entries<'a>(
        &mut self,
        key: &str,
        node: &'a Node,
        example: &str,
    ) -> Vec<(&'a Spanned<String>, &'a Node)> {
        match &node.value {
            Value::Mapping(entries) => entries.iter().map(|entry| (&entry.key, &entry.value)).collect(),
            Value::Null => Vec::new(),
            _ => {
                self.diagnostics.push(errors::wrong_type(key, node, "a mapping", example));
                Vec::new()
            }
        }
    }

    /// A list.
    pub(super) fn list<'a>(&mut self, key: &str, node: &'a Node, example: &str) -> &'a [Node] {
        match &node.value {
            Value::List(items) => items,
            Value::Null => &[],
            _ => {
                self.diagnostics.push(errors::wrong_type(key, node, "a list", example));
                &[]
            }
        }
    }

    /// A single value as text.
    pub(super) fn text(&mut self, key: &str, node: &Node) -> Option<Spanned<String>> {
        match &node.value {
            Value::Scalar { text, .. } if !text.trim().is_empty() => {
                Some(Spanned::new(text.trim().to_owned(), node.span))
            }
            _ => self.complain(errors::wrong_type(key, node, "a single value", &format!("{key}: ..."))),
        }
    }

    /// The text of a key, if it is there.
    pub(super) fn text_of(&mut self, fields: &Fields, key: &str) -> Option<Spanned<String>> {
        fields.get(key).and_then(|node| self.text(key, node))
    }

    /// The text of a key without its place.
    pub(super) fn plain_of(&mut self, fields: &Fields, key: &str) -> Option<String> {
        self.text_of(fields, key).map(|text| text.value)
    }

    /// A list of texts without their places.
    pub(super) fn plain_list_of(&mut self, fields: &Fields, key: &str) -> Vec<String> {
        self.texts_of(fields, key).into_iter().map(|text| text.value).collect()
    }

    /// A list of texts; a single text counts as a list of one.
    pub(super) fn texts_of(&mut self, fields: &Fields, key: &str) -> Vec<Spanned<String>> {
        let Some(node) = fields.get(key) else { return Vec::new() };
        match &node.value {
            Value::List(items) => items.iter().filter_map(|item| self.text(key, item)).collect(),
            _ => self.text(key, node).into_iter().collect(),
        }
    }

    /// A quantity of any dimension.
    pub(super) fn quantity(&mut self, key: &str, node: &Node) -> Option<Spanned<Quantity>> {
        let text = self.text(key, node)?;
        match Quantity::parse(&text.value) {
            Ok(quantity) => Some(Spanned::new(quantity, text.span)),
            Err(error) => self.complain(errors::not_a_quantity(text.span, &error)),
        }
    }

    /// A quantity of this dimension under a key, if it is there.
    pub(super) fn quantity_of(
        &mut self,
        fields: &Fields,
        key: &str,
        dimension: Dimension,
    ) -> Option<Spanned<Quantity>> {
        let quantity = fields.get(key).and_then(|node| self.quantity(key, node))?;
        match quantity.value.expect_dimension(dimension) {
            // Hours, lengths and masses: none of them can be less than nothing.
            Ok(_) if quantity.value.base() < 0.0 => {
                self.complain(errors::below_nought(quantity.span, key, quantity.value))
            }
            Ok(_) => Some(quantity),
            Err(error) => self.complain(errors::wrong_dimension(quantity.span, &error, None)),
        }
    }

    /// A day.
    pub(super) fn date_of(&mut self, fields: &Fields, key: &str) -> Option<Date> {
        let text = self.text_of(fields, key)?;
        Date::parse(&text.value).or_else(|| self.complain(errors::not_a_date(text.span, &text.value)))
    }

    /// An hour of the day.
    pub(super) fn hour_of(&mut self, fields: &Fields, key: &str) -> Option<Hour> {
        let text = self.text_of(fields, key)?;
        Hour::parse(&text.value).or_else(|| self.complain(errors::not_an_hour(text.span, &text.value)))
    }

    /// A sum of money.
    pub(super) fn money(&mut self, key: &str, node: &Node) -> Option<Money> {
        let text = self.text(key, node)?;
        Money::parse(&text.value).or_else(|| self.complain(errors::not_money(text.span, &text.value)))
    }

    /// A sum of money under a key, if it is there.
    pub(super) fn money_of(&mut self, fields: &Fields, key: &str) -> Option<Money> {
        fields.get(key).and_then(|node| self.money(key, node))
    }

    /// A whole number.
    pub(super) fn count_of(&mut self, fields: &Fields, key: &str) -> Option<Spanned<u32>> {
        let text = self.text_of(fields, key)?;
        match text.value.parse() {
            Ok(count) => Some(Spanned::new(count, text.span)),
            Err(_) => self.complain(errors::not_a_count(text.span, &text.value)),
        }
    }

    /// A thing with its place.
    pub(super) fn named(&mut self, text: &Spanned<String>) -> Option<Named> {
        Named::parse(text).or_else(|| self.complain(errors::not_a_name(text.span, &text.value)))
    }

    /// Who and when.
    pub(super) fn signature(&mut self, fields: &Fields) -> Signature {
        Signature {
            by: self.text_of(fields, "by").map(|text| text.value),
            date: self.date_of(fields, "date"),
        }
    }
}

impl Named {
    /// A name that stands in no file: one that was typed.
    pub fn typed(text: &str) -> Option<Named> {
        Named::parse(&Spanned::new(text.to_owned(), Span::new(FileId(0), 0, 0)))
    }

    /// Reads `push_rod[2, inlet]` or `bore[1] top along`; none if brackets or words are missing.
    pub fn parse(text: &Spanned<String>) -> Option<Named> {
        let whole = text.value.trim();
        let end = whole.find(|c: char| c == '[' || c.is_whitespace()).unwrap_or(whole.len());
        let (name, rest) = whole.split_at(end);
        let sign = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == ':';
        if name.is_empty() || !name.chars().all(sign) {
            return None;
        }
        let (positions, words) = match rest.strip_prefix('[') {
            Some(inside) => {
                let (inside, words) = inside.split_once(']')?;
                (inside.split(',').map(|position| position.trim().to_owned()).collect(), words)
            }
            None => (Vec::new(), rest),
        };
        if positions.iter().any(String::is_empty) || words.contains(['[', ']']) {
            return None;
        }
        let words = words.split_whitespace().map(str::to_owned).collect();
        Some(Named { name: name.to_owned(), positions, words, span: text.span })
    }
}

/// As it is written in a record.
impl std::fmt::Display for Named {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.name)?;
        if !self.positions.is_empty() {
            write!(f, "[{}]", self.positions.join(", "))?;
        }
        self.words.iter().try_for_each(|word| write!(f, " {word}"))
    }
}
