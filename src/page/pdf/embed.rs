//! Fonts cut down to the letters that are used.

use crate::page::fonts::{Face, measured};
use crate::page::pages::{Item, Pages};
use printpdf::{FontMetrics, FontType, ParsedFont, PdfFontMetricsStub};
use std::collections::{BTreeMap, BTreeSet};
use subsetter::GlyphRemapper;

/// The faces in use with the letters that are used of each.
pub(super) struct Fonts {
    /// Fonts by the name of their face; their programs are cut down to the letters used.
    pub map: BTreeMap<&'static str, ParsedFont>,
}

/// Name of a face in the content of pages: short, and not one of those that printpdf keeps for its own fonts.
pub(super) fn name(face: Face) -> &'static str {
    match face {
        Face::Regular => "R",
        Face::Bold => "B",
        Face::Mono => "M",
    }
}

/// Letters that are noted in a plain list: Latin, Greek and Cyrillic.
const COMMON: usize = 0x530;

/// Characters as they are met.
struct Used {
    common: [bool; COMMON],
    others: BTreeSet<char>,
}

impl Used {
    fn all(&self) -> BTreeSet<char> {
        let common = (0u32..).zip(&self.common).filter(|(_, used)| **used);
        common.filter_map(|(code, _)| char::from_u32(code)).chain(self.others.iter().copied()).collect()
    }
}

/// Finds the letters that are used and cuts the fonts down to them.
pub(super) fn fonts(pages: &Pages) -> Fonts {
    let mut used = Face::ALL.map(|_| Used { common: [false; COMMON], others: BTreeSet::new() });
    for item in pages.pages.iter().flat_map(|page| &page.groups).flat_map(|group| &group.items) {
        let Item::Text(run) = item else { continue };
        let used = &mut used[run.face as usize];
        for character in run.text.chars() {
            match used.common.get_mut(character as usize) {
                Some(place) => *place = true,
                None => {
                    used.others.insert(character);
                }
            }
        }
    }
    let mut map = BTreeMap::new();
    for (face, used) in Face::ALL.into_iter().zip(&used) {
        let characters = used.all();
        if characters.is_empty() {
            continue;
        }
        map.insert(name(face), subset(face, &characters));
    }
    Fonts { map }
}

fn subset(face: Face, characters: &BTreeSet<char>) -> ParsedFont {
    let measured = measured(face);
    let mut remapper = GlyphRemapper::new();
    let mut codepoint_to_glyph = BTreeMap::new();
    let mut glyph_widths = BTreeMap::new();
    for character in characters {
        let Some(glyph) = measured.glyph(*character) else { continue };
        let new = remapper.remap(glyph.0);
        codepoint_to_glyph.insert(u32::from(*character), new);
        glyph_widths.insert(new, measured.file().glyph_hor_advance(glyph).unwrap_or(0));
    }
    let program = subsetter::subset(face.data(), 0, &remapper)
        .expect("the fonts that are linked in are sound, and every glyph comes from them");
    let file = measured.file();
    let bounds = file.global_bounding_box();
    let name = format!("{}+{}", tag(face, characters), face.name());
    ParsedFont {
        original_bytes: program,
        font_index: 0,
        font_name: Some(name),
        codepoint_to_glyph,
        glyph_widths,
        units_per_em: file.units_per_em(),
        font_metrics: FontMetrics { ascent: file.ascender(), descent: file.descender() },
        font_type: FontType::TrueType,
        pdf_font_metrics: PdfFontMetricsStub {
            units_per_em: file.units_per_em(),
            x_min: bounds.x_min,
            y_min: bounds.y_min,
            x_max: bounds.x_max,
            y_max: bounds.y_max,
            caret_slope_rise: 1,
            caret_slope_run: 0,
            us_weight_class: if face == Face::Bold { 700 } else { 400 },
        },
    }
}

/// Six letters that differ between subsets (ISO 32000-1, 9.6.4).
fn tag(face: Face, characters: &BTreeSet<char>) -> String {
    let letters: String = characters.iter().collect();
    let mut hash = super::bytes::fingerprint(&[face.name().as_bytes(), letters.as_bytes()])[0];
    (0..6)
        .map(|_| {
            let letter = char::from(b'A' + (hash % 26) as u8);
            hash /= 26;
            letter
        })
        .collect()
}
