//! Operators of page content: marks, inks, text, lines and shapes (ISO 32000-1, 8.5, 9.4 and 14.6).

use super::set_words::SetWords;
use super::tokens::whole;
use crate::page::fonts::Face;
use crate::page::pages::{Area, Dash, Ink, Position, Ring, Segment, Stroke};

/// The content of a page as it grows. The page is turned over: its own origin is below.
pub(super) struct Content {
    /// The operators.
    pub bytes: Vec<u8>,
    height: f32,
}

impl Content {
    pub(super) fn new(height: f32) -> Self {
        Content { bytes: Vec::with_capacity(4096), height }
    }

    /// Begins content of the element that this mark leads to.
    pub(super) fn begin_mark(&mut self, number: u32) {
        self.bytes.extend_from_slice(b"/P <</MCID ");
        whole(&mut self.bytes, u64::from(number));
        self.bytes.extend_from_slice(b">> BDC\n");
    }

    /// Begins what is skipped when the page is read aloud.
    pub(super) fn begin_artefact(&mut self) {
        self.bytes.extend_from_slice(b"/Artifact BMC\n");
    }

    pub(super) fn end_mark(&mut self) {
        self.bytes.extend_from_slice(b"EMC\n");
    }

    pub(super) fn begin_text(&mut self) {
        self.bytes.extend_from_slice(b"BT\n");
    }

    pub(super) fn end_text(&mut self) {
        self.bytes.extend_from_slice(b"ET\n");
    }

    pub(super) fn font(&mut self, name: &str, size: f32) {
        self.bytes.push(b'/');
        self.bytes.extend_from_slice(name.as_bytes());
        self.bytes.push(b' ');
        self.operator(&[size], b"Tf");
    }

    /// Moves the text cursor to the right and up.
    pub(super) fn move_text(&mut self, right: f32, up: f32) {
        self.operator(&[right, up], b"Td");
    }

    /// Shows words that have been set.
    pub(super) fn show(&mut self, words: &SetWords<'_>, face: Face, text: &str) {
        self.bytes.push(b'(');
        words.show(face, text, &mut self.bytes);
        self.bytes.extend_from_slice(b") Tj\n");
    }

    /// Ink inside shapes and letters.
    pub(super) fn fill(&mut self, ink: Ink) {
        self.bytes.extend_from_slice(if ink == Ink::Black { b"0 g\n" } else { b"1 g\n" });
    }

    /// Ink of lines.
    pub(super) fn stroke(&mut self, ink: Ink) {
        self.bytes.extend_from_slice(if ink == Ink::Black { b"0 G\n" } else { b"1 G\n" });
    }

    pub(super) fn width(&mut self, width: f32) {
        self.operator(&[width], b"w");
    }

    pub(super) fn dash(&mut self, dash: Dash) {
        let pattern: &[u8] = match dash {
            Dash::Solid => b"[] 0 d\n",
            Dash::Dashed => b"[5 3.5] 0 d\n",
            Dash::Dotted => b"[1.2 2.4] 0 d\n",
            Dash::DashDot => b"[6 2.5 1.2 2.5] 0 d\n",
        };
        self.bytes.extend_from_slice(pattern);
    }

    pub(super) fn line(&mut self, from: Position, to: Position) {
        self.point(from, b"m");
        self.point(to, b"l");
        self.bytes.extend_from_slice(b"S\n");
    }

    pub(super) fn rectangle(&mut self, area: &Area) {
        let bottom = self.height - area.y - area.height;
        self.operator(&[area.x, bottom, area.width, area.height], b"re");
    }

    pub(super) fn ring(&mut self, ring: &Ring) {
        self.point(ring.start, b"m");
        for segment in &ring.segments {
            match segment {
                Segment::Line(to) => self.point(*to, b"l"),
                Segment::Curve(a, b, to) => {
                    let up = |y: f32| self.height - y;
                    self.operator(&[a.x, up(a.y), b.x, up(b.y), to.x, up(to.y)], b"c");
                }
            }
        }
        self.bytes.extend_from_slice(b"h\n");
    }

    /// Paints the outline that was drawn.
    pub(super) fn paint(&mut self, fill: Option<Ink>, stroke: Option<Stroke>) {
        self.bytes.extend_from_slice(match (fill, stroke) {
            (Some(_), Some(_)) => b"B\n",
            (Some(_), None) => b"f\n",
            (None, Some(_)) => b"S\n",
            (None, None) => b"n\n",
        });
    }

    fn point(&mut self, at: Position, operator: &[u8]) {
        self.operator(&[at.x, self.height - at.y], operator);
    }

    fn operator(&mut self, operands: &[f32], operator: &[u8]) {
        for operand in operands {
            hundredths(&mut self.bytes, *operand);
            self.bytes.push(b' ');
        }
        self.bytes.extend_from_slice(operator);
        self.bytes.push(b'\n');
    }
}

/// Hundredths of a point: finer than any printer, and short to write. Anything infinite becomes nothing, since a PDF
/// can't hold it.
pub(super) fn rounded(length: f32) -> f32 {
    if length.is_finite() { (length * 100.0).round() / 100.0 } else { 0.0 }
}

/// Writes a length in hundredths, without zeros at its end.
fn hundredths(out: &mut Vec<u8>, length: f32) {
    let all = if length.is_finite() { (f64::from(length) * 100.0).round() as i64 } else { 0 };
    if all < 0 {
        out.push(b'-');
    }
    let all = all.unsigned_abs();
    whole(out, all / 100);
    let part = (all % 100) as u8;
    if part > 0 {
        out.extend_from_slice(&[b'.', b'0' + part / 10]);
        if !part.is_multiple_of(10) {
            out.push(b'0' + part % 10);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_written_as_short_as_they_are() {
        for (length, written) in [
            (0.0, "0"),
            (60.0, "60"),
            (776.91, "776.91"),
            (11.5, "11.5"),
            (0.05, "0.05"),
            (-3.25, "-3.25"),
            (-0.001, "0"),
            (1e7, "10000000"),
            (f32::NAN, "0"),
            (f32::INFINITY, "0"),
        ] {
            let mut out = Vec::new();
            hundredths(&mut out, length);
            assert_eq!(String::from_utf8(out).unwrap(), written);
        }
    }
}
