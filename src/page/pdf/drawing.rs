//! What a field looks like: a small drawing of its own, without colours or letters (ISO 32000-1, 8.10).

use lopdf::{Dictionary, Object, Stream, dictionary};

/// Figures that change nothing that can be seen.
pub(super) const PLACES: f32 = 100.0;

/// How a line looks that is still empty. Programs that fill it in write into its drawing, so that each has one.
#[derive(Debug, Clone, Copy)]
pub(super) struct EmptyLine {
    /// Points.
    pub width: f32,
    /// Points.
    pub height: f32,
}

impl EmptyLine {
    /// The drawing.
    pub(super) fn stream(self) -> Stream {
        drawing(self.width, self.height, "/Tx BMC EMC")
    }
}

/// A drawing of some size, in points.
pub(super) fn drawing(width: f32, height: f32, drawn: &str) -> Stream {
    let round = |side: f32| Object::Real((side * PLACES).round() / PLACES);
    let size: Vec<Object> = vec![0.into(), 0.into(), round(width), round(height)];
    let dictionary: Dictionary = dictionary! { "Type" => "XObject", "Subtype" => "Form", "BBox" => size };
    Stream::new(dictionary, drawn.as_bytes().to_vec())
}
