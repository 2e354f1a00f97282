//! Which characters can be set: normalising, and noting those that the fonts or the layout can't do.

use crate::page::fonts::{self, Face};
use crate::sheet::Text;
use std::collections::BTreeSet;
use unicode_normalization::UnicodeNormalization;

/// Why a character can't be set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::page) enum Refusal {
    /// No face has it.
    Missing,
    /// Its script needs an order or joining of letters that this layout doesn't do.
    Script(&'static str),
}

/// A character that was refused, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::page) struct Refused {
    /// The character; of a script that can't be set, the first in its text.
    pub character: char,
    /// Why.
    pub refusal: Refusal,
    /// Words around it.
    pub around: String,
}

/// What was refused so far: each missing character, and each script, once for every text that has it.
#[derive(Debug, Default)]
pub(in crate::page) struct Characters {
    seen: BTreeSet<(Refusal, Option<char>, String)>,
    refused: Vec<Refused>,
}

impl Characters {
    /// The character itself, or a question mark after noting that it can't be set.
    pub(crate) fn settable(&mut self, character: char, text: &Text) -> char {
        let Some(refusal) = refusal(character) else { return character };
        let words = text.words();
        let around = around(character, &words);
        let alone = (refusal == Refusal::Missing).then_some(character);
        if self.seen.insert((refusal, alone, words)) {
            self.refused.push(Refused { character, refusal, around });
        }
        '?'
    }

    /// Notes the characters of words that are set without breaking, and gives back what can be set.
    pub(crate) fn line(&mut self, words: &str) -> String {
        let text = Text::plain(words);
        let mut line = String::with_capacity(words.len());
        for character in normalised(words) {
            if character != ' ' || !line.is_empty() && !line.ends_with(' ') {
                line.push(self.settable(character, &text));
            }
        }
        line.truncate(line.trim_end_matches(' ').len());
        line
    }

    /// All that was refused, in the order in which it was set.
    pub(crate) fn refused(&self) -> &[Refused] {
        &self.refused
    }
}

/// The characters of words that can't be set, as they would be complained of.
pub(in crate::page) fn refused_in(words: &str) -> Vec<Refused> {
    let mut characters = Characters::default();
    characters.line(words);
    characters.refused
}

fn refusal(character: char) -> Option<Refusal> {
    if character.is_ascii() {
        return None;
    }
    match script(character) {
        Some(name) => Some(Refusal::Script(name)),
        None if fonts::face_for(Face::Regular, character).is_none()
            || fonts::face_for(Face::Bold, character).is_none() =>
        {
            Some(Refusal::Missing)
        }
        None => None,
    }
}

/// Composed letters, every kind of white space as a space, and nothing that is invisible. A no-break space is
/// kept.
pub(in crate::page) fn normalised(words: &str) -> impl Iterator<Item = char> + '_ {
    words.nfc().filter_map(|character| match character {
        '\u{a0}' | '\u{202f}' => Some('\u{a0}'),
        c if c.is_whitespace() => Some(' '),
        '\u{ad}' | '\u{200b}'..='\u{200d}' | '\u{2060}' | '\u{feff}' | '\u{fe00}'..='\u{fe0f}' => None,
        c if c.is_control() => None,
        c => Some(c),
    })
}

/// Name of a script that can't be set by putting one glyph after the other.
fn script(character: char) -> Option<&'static str> {
    Some(match u32::from(character) {
        0x200e..=0x200f | 0x202a..=0x202e | 0x2066..=0x2069 => "right-to-left",
        0x0590..=0x05ff | 0xfb1d..=0xfb4f => "Hebrew",
        0x0600..=0x08ff | 0xfb50..=0xfdff | 0xfe70..=0xfefe => "Arabic",
        0x10800..=0x10fff | 0x1e800..=0x1efff => "right-to-left",
        0x0900..=0x109f | 0x1780..=0x17ff | 0x1a20..=0x1aaf => "South or South-East Asian",
        0x1100..=0x11ff | 0xa960..=0xa97f | 0xac00..=0xd7ff | 0x3130..=0x318f => "Korean",
        0x2e80..=0x9fff | 0xa000..=0xa4cf | 0xf900..=0xfaff | 0xfe30..=0xfe4f | 0xff00..=0xffef => {
            "East Asian"
        }
        0x1b000..=0x1b16f | 0x20000..=0x3ffff => "East Asian",
        0x1800..=0x18af => "Mongolian",
        _ => return None,
    })
}

/// A few words around the first place of a character, on one line.
fn around(character: char, words: &str) -> String {
    const EACH_SIDE: usize = 24;
    let letters: Vec<char> = normalised(words).collect();
    let at = letters.iter().position(|c| *c == character).unwrap_or(0);
    let start = at.saturating_sub(EACH_SIDE);
    let end = (at + EACH_SIDE + 1).min(letters.len());
    let middle: String = letters[start..end].iter().collect();
    format!(
        "{}{}{}",
        if start > 0 { "…" } else { "" },
        middle.trim(),
        if end < letters.len() { "…" } else { "" }
    )
}
