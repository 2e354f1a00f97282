//! The faces, and how wide their letters are.

use std::sync::OnceLock;
use ttf_parser::{Face as FontFile, GlyphId};

/// A face of the one family used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    /// Text.
    Regular,
    /// Titles, numbers, torques.
    Bold,
    /// Codes and part numbers: every letter equally wide, zero with a dot.
    Mono,
}

impl Face {
    /// All faces.
    pub const ALL: [Face; 3] = [Face::Regular, Face::Bold, Face::Mono];

    /// The font file.
    pub(super) fn data(self) -> &'static [u8] {
        match self {
            Face::Regular => dejavu::sans_condensed::regular(),
            Face::Bold => dejavu::sans_condensed::bold(),
            Face::Mono => dejavu::sans_mono::regular(),
        }
    }

    /// PostScript name of the font.
    pub(super) fn name(self) -> &'static str {
        match self {
            Face::Regular => "DejaVuSansCondensed",
            Face::Bold => "DejaVuSansCondensed-Bold",
            Face::Mono => "DejaVuSansMono",
        }
    }

    /// The face to take when this one lacks a character.
    fn stand_in(self) -> Face {
        match self {
            Face::Mono | Face::Regular => Face::Regular,
            Face::Bold => Face::Bold,
        }
    }
}

/// How many characters have their width looked up beforehand: Latin with its extensions.
const COMMON: usize = 0x250;

/// A face made ready for measuring.
pub(super) struct Measured {
    file: FontFile<'static>,
    common: Vec<Option<u16>>,
}

impl Measured {
    fn new(face: Face) -> Self {
        let file = FontFile::parse(face.data(), 0).expect("the fonts that are linked in are sound");
        let mut measured = Measured { file, common: Vec::new() };
        measured.common =
            (0..COMMON as u32).map(|code| char::from_u32(code).and_then(|c| measured.look_up(c))).collect();
        measured
    }

    fn look_up(&self, character: char) -> Option<u16> {
        let glyph = self.glyph(character)?;
        let advance = u32::from(self.file.glyph_hor_advance(glyph)?);
        // Widths stand in a PDF as whole thousandths, cut off: measuring must cut off the same way.
        u16::try_from(advance * 1000 / u32::from(self.file.units_per_em())).ok()
    }

    /// The glyph of a character.
    pub(super) fn glyph(&self, character: char) -> Option<GlyphId> {
        self.file.glyph_index(character).filter(|glyph| glyph.0 != 0)
    }

    /// The font file, parsed.
    pub(super) fn file(&self) -> &FontFile<'static> {
        &self.file
    }

    /// Width of a character in thousandths of the size; none if the face lacks it.
    pub(super) fn advance(&self, character: char) -> Option<u16> {
        match self.common.get(character as usize) {
            Some(known) => *known,
            None => self.look_up(character),
        }
    }
}

/// A face, ready for measuring.
pub(super) fn measured(face: Face) -> &'static Measured {
    static FACES: OnceLock<[Measured; 3]> = OnceLock::new();
    &FACES.get_or_init(|| Face::ALL.map(Measured::new))[face as usize]
}

/// The face that has the character, the one asked for first; none if it can't be set at all.
pub(super) fn face_for(asked: Face, character: char) -> Option<(Face, u16)> {
    [asked, asked.stand_in()]
        .into_iter()
        .find_map(|face| measured(face).advance(character).map(|advance| (face, advance)))
}

/// The sizes of type: the foot and what is read at the desk, remarks and limits, the work, torques and titles, chapters, and
/// titles of sheets with the numbers of steps.
const SCALE: [f32; 6] = [11.0, 12.0, 13.0, 16.0, 20.0, 26.0];

/// The largest size of type that is no larger; a size below all of them stays.
pub(super) fn of_scale(size: f32) -> f32 {
    SCALE.into_iter().rev().find(|known| *known <= size).unwrap_or(size)
}

/// Width of words in one face; characters that the face lacks count as none.
pub(super) fn width(face: Face, size: f32, words: &str) -> f32 {
    let face = measured(face);
    let thousandths: u32 = words.chars().map(|c| u32::from(face.advance(c).unwrap_or(0))).sum();
    thousandths as f32 * size / 1000.0
}

/// The words, cut with an ellipsis where they don't fit, behind a whole word unless that leaves less than half of the room:
/// only for words that stand in full elsewhere.
pub(super) fn shortened(face: Face, size: f32, words: &str, room: f32) -> String {
    if width(face, size, words) <= room {
        return words.to_string();
    }
    let mut kept = String::new();
    let mut used = width(face, size, "…");
    for character in words.chars() {
        used += width(face, size, character.encode_utf8(&mut [0; 4]));
        if used > room {
            break;
        }
        kept.push(character);
    }
    if let Some(end) = kept.rfind(' ').filter(|end| width(face, size, &kept[..*end]) >= room / 2.0) {
        kept.truncate(end);
    }
    format!("{}…", kept.trim_end_matches([' ', ',', ':', '–']))
}
