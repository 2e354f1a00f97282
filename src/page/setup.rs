//! Paper and margins.

/// Size of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// ISO 216 A4, 210 × 297 mm.
    #[default]
    A4,
    /// US Letter, 8.5 × 11 in.
    Letter,
}

/// What the pages are laid out for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PageSetup {
    /// Size of the sheet.
    pub paper: Paper,
    /// Printed on both sides: margins change sides, and each sheet of the packet starts on a right-hand page so
    /// that it can still be taken out alone.
    pub two_sided: bool,
}

/// Turns millimetres into points.
///
/// ```
/// assert!((benchleaf::points(25.4) - 72.0).abs() < 1e-3);
/// ```
pub fn points(millimetres: f32) -> f32 {
    millimetres * 72.0 / 25.4
}

/// Distance from the upper edge to the content: 7.4 mm, more than printers leave white. Common practice, no source.
pub(super) const TOP: f32 = 21.0;
/// Distance from the lower edge to the content; the footer stands in it.
pub(super) const BOTTOM: f32 = 50.0;
/// Margin on the side of the holes or the staple: 17 mm.
pub(super) const INNER: f32 = 48.2;
/// Margin on the other side: 12 mm.
pub(super) const OUTER: f32 = 34.02;

impl PageSetup {
    /// Width and height of the sheet in points.
    pub fn size(&self) -> (f32, f32) {
        match self.paper {
            Paper::A4 => (points(210.0), points(297.0)),
            Paper::Letter => (612.0, 792.0),
        }
    }

    /// Width of the content.
    pub(super) fn content_width(&self) -> f32 {
        self.size().0 - INNER - OUTER
    }

    /// Height of the content.
    pub(super) fn content_height(&self) -> f32 {
        self.size().1 - TOP - BOTTOM
    }

    /// Left edge of the content on the page with this number, counted from 1.
    pub(super) fn left(&self, page: usize) -> f32 {
        if self.two_sided && page.is_multiple_of(2) { OUTER } else { INNER }
    }
}
