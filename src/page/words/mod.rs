//! Runs of text in, measured lines out: normalising, choosing faces, and breaking lines.
//!
//! It must not know where the lines will stand.

mod breaking;
mod characters;

pub(super) use characters::{Characters, Refusal, Refused, normalised, refused_in};

use super::fonts::{self, Face};
use super::pages::Ink;
use crate::sheet::{Anchor, Style, Text};

/// How words are set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Type {
    /// Size.
    pub size: f32,
    /// Distance from baseline to baseline.
    pub leading: f32,
    /// Whether plain words are set bold.
    pub bold: bool,
    /// Ink.
    pub ink: Ink,
}

impl Type {
    pub(super) const fn new(size: f32, leading: f32) -> Self {
        Type { size, leading, bold: false, ink: Ink::Black }
    }

    pub(super) const fn bold(size: f32, leading: f32) -> Self {
        Type { size, leading, bold: true, ink: Ink::Black }
    }

    /// Distance from the top of a line to its baseline: capitals stand in the middle of the line.
    pub(super) fn baseline(&self) -> f32 {
        (self.leading + CAPITALS * self.size) / 2.0
    }

    /// The face of a style.
    fn face(&self, style: Style) -> Face {
        match style {
            Style::Number => Face::Regular,
            Style::Plain if !self.bold => Face::Regular,
            Style::Plain | Style::Bold => Face::Bold,
            Style::Mono => Face::Mono,
        }
    }
}

/// What parts a number from the text that it stands behind.
const NUMBER_APART: &str = " · ";

/// Height of capitals as a share of the size, in all faces used.
pub(super) const CAPITALS: f32 = 0.729;

/// A line of words, measured.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    /// Width without spaces at its end.
    pub width: f32,
    /// Words in one face and of one link each.
    pub parts: Vec<Part>,
}

/// A part of a line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Part {
    /// Distance from the beginning of the line.
    pub x: f32,
    /// Width.
    pub width: f32,
    /// Face.
    pub face: Face,
    /// The words, never empty.
    pub words: String,
    /// Where they lead.
    pub link: Option<Anchor>,
}

/// A character with all that breaking needs to know of it.
struct Letter {
    character: char,
    face: Face,
    /// Width in thousandths of the size.
    advance: u16,
    /// Index of its run.
    run: usize,
}

/// Breaks `text` into lines no wider than `width`. There is always at least one line unless the text is empty.
pub(super) fn set(text: &Text, kind: &Type, width: f32, characters: &mut Characters) -> Vec<Line> {
    let letters = letters(text, kind, characters);
    let size = kind.size;
    breaking::lines(&letters, (width * 1000.0 / size).max(0.0) as u32)
        .into_iter()
        .map(|range| line(&letters[range], text, size))
        .collect()
}

/// Width of the widest piece of `text` that can't be broken.
pub(super) fn widest_word(text: &Text, kind: &Type, characters: &mut Characters) -> f32 {
    breaking::widest(&letters(text, kind, characters)) as f32 * kind.size / 1000.0
}

fn letters(text: &Text, kind: &Type, characters: &mut Characters) -> Vec<Letter> {
    let mut letters: Vec<Letter> = Vec::new();
    for (run, piece) in text.0.iter().enumerate() {
        let asked = kind.face(piece.style);
        let apart = piece.style == Style::Number && !letters.is_empty();
        let before = if apart { NUMBER_APART } else { "" };
        for character in before.chars().chain(normalised(&piece.text)) {
            if character == ' ' && letters.last().is_none_or(|last| last.character == ' ') {
                continue;
            }
            let character = characters.settable(character, text);
            let (face, advance) = fonts::face_for(asked, character).unwrap_or((asked, 0));
            letters.push(Letter { character, face, advance, run });
        }
    }
    while letters.last().is_some_and(|last| last.character == ' ') {
        letters.pop();
    }
    letters
}

fn line(letters: &[Letter], text: &Text, size: f32) -> Line {
    let mut parts: Vec<Part> = Vec::new();
    let mut thousandths = 0u32;
    let mut last: Option<(Face, &Option<Anchor>)> = None;
    for letter in letters {
        let link = &text.0[letter.run].link;
        if last != Some((letter.face, link)) {
            let x = thousandths as f32 * size / 1000.0;
            parts.push(Part { x, width: 0.0, face: letter.face, words: String::new(), link: link.clone() });
            last = Some((letter.face, link));
        }
        thousandths += u32::from(letter.advance);
        if let Some(part) = parts.last_mut() {
            part.words.push(letter.character);
            part.width = thousandths as f32 * size / 1000.0 - part.x;
        }
    }
    Line { width: thousandths as f32 * size / 1000.0, parts }
}
