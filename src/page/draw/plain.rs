//! Plain shapes by their coordinates: at full size where a piece is laid on the picture, else as a diagram of the same size,
//! which is smaller only where the page is narrower.

use super::shapes::{circle, polygon, polyline_arrow, text};
use super::{Drawn, text_centred};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Dash, Ink, Item, Position, Stroke};
use crate::page::setup::points;
use crate::page::words::{CAPITALS, Characters};
use crate::sheet::{Shape, ShapesDrawing};

/// Size of words.
const WORDS: f32 = 11.0;
/// Weight of a line, and of a heavy one.
const WEIGHTS: (f32, f32) = (0.8, 2.0);

/// Draws the shapes in at most this width. What is of full size is never drawn smaller: what is wider is left out.
pub(in crate::page) fn draw(shapes: &ShapesDrawing, width: f32, characters: &mut Characters) -> Drawn {
    let wide = points(shapes.width as f32);
    let scale = if wide > width + 0.5 && !shapes.full_size { width / wide } else { 1.0 };
    let height = points(shapes.height as f32) * scale;
    let mut drawn = Drawn { items: Vec::new(), width: wide * scale, height };
    if shapes.full_size && wide > width + 0.5 {
        return Drawn::default();
    }
    let at = |(x, y): (f64, f64)| Position::new(points(x as f32) * scale, height - points(y as f32) * scale);
    let weight = |heavy: bool| if heavy { WEIGHTS.1 } else { WEIGHTS.0 };
    for shape in &shapes.shapes {
        match shape {
            Shape::Line { from, to, heavy, dashed } => {
                let dash = if *dashed { Dash::Dashed } else { Dash::Solid };
                let stroke = Stroke { dash, ..Stroke::solid(weight(*heavy)) };
                drawn.items.push(Item::Line { from: at(*from), to: at(*to), stroke });
            }
            Shape::Circle { middle, radius, heavy } => {
                let stroke = Some(Stroke::solid(weight(*heavy)));
                let radius = points(*radius as f32) * scale;
                drawn.items.push(circle(at(*middle), radius, Some(Ink::White), stroke));
            }
            Shape::Outline(corners) => {
                let corners: Vec<Position> = corners.iter().copied().map(at).collect();
                drawn.items.push(polygon(&corners, Some(Ink::White), Some(Stroke::solid(WEIGHTS.0))));
            }
            Shape::Arrow(through) => {
                let through: Vec<Position> = through.iter().copied().map(at).collect();
                drawn.items.extend(polyline_arrow(&through, 9.0, Stroke::solid(WEIGHTS.1)));
            }
            Shape::Words { at: place, words, bold, around } => {
                let face = if *bold { Face::Bold } else { Face::Regular };
                let place = at(*place);
                let room = if *around { width } else { (width - place.x).max(20.0) };
                let words = fonts::shortened(face, WORDS, &characters.line(words), room);
                drawn.items.extend(if *around {
                    text_centred(place, face, WORDS, &words)
                } else {
                    text(place.x, place.y + CAPITALS * WORDS / 2.0, face, WORDS, &words)
                });
            }
        }
    }
    drawn
}
