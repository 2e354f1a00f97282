//! The words of all pages, each set by printpdf once in each face that it stands in.
//!
//! printpdf has its own list of operations for a page, which costs more than all the rest of a page together. Words come
//! again and again, on one page and from page to page: what printpdf shows for a word is kept, and repeated wherever the
//! word stands.

use super::embed::{self, Fonts};
use super::tokens::escaped;
use crate::page::fonts::Face;
use crate::page::pages::{Item, Pages};
use printpdf::{Codepoint, ParsedFont, TextItem};
use std::collections::HashMap;
use std::ops::Range;

/// Words as they stand inside the literal strings of a page's content.
pub(super) struct SetWords<'p> {
    /// Where each word stands in `bytes`, by face.
    places: [HashMap<&'p str, Range<usize>>; Face::ALL.len()],
    bytes: Vec<u8>,
}

impl<'p> SetWords<'p> {
    /// Sets every word of the pages.
    pub(super) fn of(pages: &'p Pages, fonts: &Fonts) -> Self {
        let mut places = Face::ALL.map(|_| HashMap::new());
        let mut bytes = Vec::new();
        for item in pages.pages.iter().flat_map(|page| &page.groups).flat_map(|group| &group.items) {
            let Item::Text(run) = item else { continue };
            let Some(font) = fonts.map.get(embed::name(run.face)) else { continue };
            for word in split(&run.text) {
                places[run.face as usize].entry(word).or_insert_with(|| {
                    let start = bytes.len();
                    escaped(&mut bytes, shown(word, font).into_iter());
                    start..bytes.len()
                });
            }
        }
        SetWords { places, bytes }
    }

    /// Writes what shows a text, word after word, as it stands inside a literal string.
    pub(super) fn show(&self, face: Face, text: &str, out: &mut Vec<u8>) {
        for word in split(text) {
            if let Some(place) = self.places[face as usize].get(word) {
                out.extend_from_slice(&self.bytes[place.clone()]);
            }
        }
    }
}

/// The words of a text and the spaces between them.
fn split(text: &str) -> impl Iterator<Item = &str> {
    text.split_inclusive(' ')
        .flat_map(|piece| match piece.strip_suffix(' ') {
            Some(word) => [word, &piece[word.len()..]],
            None => [piece, ""],
        })
        .filter(|piece| !piece.is_empty())
}

/// The string by which printpdf shows a word: two bytes for each letter, its glyph as printpdf finds it in the font.
fn shown(word: &str, font: &ParsedFont) -> Vec<u8> {
    let glyph = |letter: char| Codepoint::new(font.lookup_glyph_index(letter.into()).unwrap_or(0), 0.0);
    let glyphs = TextItem::GlyphIds(word.chars().map(glyph).collect());
    let strings = printpdf::encode_text_items(&[glyphs]);
    strings.iter().filter_map(|string| string.as_str().ok()).flatten().copied().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_and_the_spaces_between_them() {
        let words: Vec<&str> = split("12 N\u{a0}m  at last ").collect();
        assert_eq!(words, ["12", " ", "N\u{a0}m", " ", " ", "at", " ", "last", " "]);
    }
}
