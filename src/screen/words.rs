//! Running text to markup: emphasis, codes, and links to places that the text has.

use std::collections::BTreeSet;

use super::markup::{Tag, escaped};
use crate::sheet::{Anchor, Style, Text};

/// Places that a link may lead to.
pub(super) type Places = BTreeSet<Anchor>;

/// Writes text; its number, if it has one, stands with what is filled in and not here.
pub(super) fn text(out: &mut String, text: &Text, places: &Places) {
    for run in text.0.iter().filter(|run| run.style != Style::Number) {
        let styled = |out: &mut String| match run.style {
            Style::Bold => Tag::new("strong").of(out, &run.text),
            Style::Mono => Tag::new("code").of(out, &run.text),
            Style::Plain | Style::Number => out.push_str(&escaped(&run.text)),
        };
        match run.link.as_ref().filter(|link| places.contains(link)) {
            Some(link) => Tag::new("a").with("href", format!("#{}", id(link))).around(out, styled),
            None => styled(out),
        }
    }
}

/// The id of a place: it has no spaces.
pub(super) fn id(Anchor(anchor): &Anchor) -> String {
    anchor.replace(char::is_whitespace, "_")
}

/// The number of what is filled in, without the space that only paper needs.
pub(super) fn number(text: &Text) -> Option<String> {
    text.number().map(|number| number.replace('\u{a0}', " "))
}
