//! The words of all pages, each set by printpdf once in each face that it stands in.
//!
//! printpdf has its own list of operations for a page, which costs more than all the rest of a page together. Words come
//! again and again, on one page and from page to page: what printpdf shows for a word is kept, and repeated wherever the
//! word stands.

use super::content::escaped;
use super::embed::{Fonts, resource};
use crate::page::fonts::Face;
use crate::page::pages::{Item, Pages};
use printpdf::{Mm, Op, PdfFontHandle, PdfPage, PdfSaveOptions, Pt, TextItem};
use std::collections::HashMap;
use std::ops::Range;

/// How many words printpdf sets at a time, so that its operations never stand in memory all together.
const AT_ONCE: usize = 8192;

/// Words as they stand inside the literal strings of a page's content.
pub(super) struct SetWords<'p> {
    /// Where each word stands in `bytes`, by face.
    places: [HashMap<&'p str, Range<usize>>; Face::ALL.len()],
    bytes: Vec<u8>,
}

impl<'p> SetWords<'p> {
    /// Sets every word of the pages.
    pub fn of(pages: &'p Pages, fonts: &Fonts) -> Self {
        let mut places = Face::ALL.map(|_| HashMap::new());
        let mut words: Vec<(Face, &str)> = Vec::new();
        for item in pages.pages.iter().flat_map(|page| &page.groups).flat_map(|group| &group.items) {
            let Item::Text(run) = item else { continue };
            for word in split(&run.text) {
                places[run.face as usize].entry(word).or_insert_with(|| {
                    words.push((run.face, word));
                    0..0
                });
            }
        }
        let mut set = SetWords { places, bytes: Vec::new() };
        for words in words.chunks(AT_ONCE) {
            let shown = shown(words, fonts);
            for ((face, word), shown) in words.iter().zip(shown) {
                let start = set.bytes.len();
                escaped(&mut set.bytes, shown.iter().copied());
                set.places[*face as usize].insert(word, start..set.bytes.len());
            }
        }
        set
    }

    /// Writes what shows a text, word after word, as it stands inside a literal string.
    pub fn show(&self, face: Face, text: &str, out: &mut Vec<u8>) {
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

/// The strings by which printpdf shows the words.
fn shown(words: &[(Face, &str)], fonts: &Fonts) -> Vec<Vec<u8>> {
    let mut ops = vec![Op::StartTextSection];
    let mut last = None;
    for (face, word) in words {
        if last != Some(*face) {
            ops.push(Op::SetFont { font: PdfFontHandle::External(resource(*face)), size: Pt(1.0) });
            last = Some(*face);
        }
        ops.push(Op::ShowText { items: vec![TextItem::Text((*word).to_owned())] });
    }
    ops.push(Op::EndTextSection);
    let mut document = Fonts::document(fonts.without_programs());
    document.pages.push(PdfPage::new(Mm(1.0), Mm(1.0), ops));
    let options = PdfSaveOptions { optimize: false, subset_fonts: false, ..PdfSaveOptions::default() };
    let graph = printpdf::serialize::to_lopdf_doc(&document, &options, &mut Vec::new());
    let content = graph.page_iter().next().map(|page| graph.get_page_content(page)).unwrap_or_default();
    strings(&content)
}

/// The strings of a text section, written in hexadecimal figures between angle brackets: nothing else there begins so.
fn strings(content: &[u8]) -> Vec<Vec<u8>> {
    let pieces = content.split(|byte| *byte == b'<').skip(1);
    let figures = pieces.map(|piece| piece.split(|byte| *byte == b'>').next().unwrap_or_default());
    let byte = |pair: &[u8]| pair.iter().fold(0, |byte, hex| byte * 16 + figure(*hex));
    figures.map(|figures| figures.chunks(2).map(byte).collect()).collect()
}

fn figure(hex: u8) -> u8 {
    char::from(hex).to_digit(16).map_or(0, |figure| figure as u8)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_and_the_spaces_between_them() {
        let words: Vec<&str> = split("12 N\u{a0}m  at last ").collect();
        assert_eq!(words, ["12", " ", "N\u{a0}m", " ", " ", "at", " ", "last", " "]);
    }

    #[test]
    fn what_printpdf_shows() {
        let section = b"BT\n/R 1 Tf\n<00280A5c> Tj\n<0041> Tj\nET";
        assert_eq!(strings(section), [vec![0, 0x28, 0x0a, 0x5c], vec![0, 0x41]]);
    }
}
