//! Which way round a part lies: the row of its places seen from above with the engine's front to the left, in each an
//! arrow the way its mark points, and the words beside it. A diagram, not to scale.

use super::shapes::{circle, polyline_arrow, text};
use super::{Drawn, front_name, text_centred};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Position, Stroke};
use crate::page::words::{self, Characters, Type};
use crate::sheet::{Text, Toward, WayDrawing};

/// Height of the row.
const HEIGHT: f32 = 34.0;
/// Radius of a place.
const RADIUS: f32 = 14.0;
/// Least from one place to the next, and most.
const APART: (f32, f32) = (36.0, 100.0);
/// Width of a name that stands inside its place.
const INSIDE: f32 = 14.0;
/// Room at the front for its word and arrow.
const FRONT: f32 = 62.0;
/// Least room for the words beside the row; with less they go below it.
const BESIDE: f32 = 120.0;
/// Type of the words.
const WORDS: Type = Type::new(12.0, 15.5);
/// Size of names.
const NAME: f32 = 11.0;

/// Draws the way round in at most this width.
pub(in crate::page) fn draw(way: &WayDrawing, width: f32, characters: &mut Characters) -> Drawn {
    let names: Vec<String> = way.places.iter().map(|name| characters.line(name)).collect();
    let widest = names.iter().map(|name| fonts::width(Face::Bold, NAME, name)).fold(0.0, f32::max);
    let inside = widest <= INSIDE;
    let apart = if inside { APART.0 } else { (widest + 10.0).clamp(APART.0, APART.1) };
    let row = if inside { HEIGHT } else { HEIGHT + NAME + 3.0 };
    let mut drawn = Drawn { items: Vec::new(), width, height: row };
    let middle = HEIGHT / 2.0;
    let front = [Position::new(50.0, middle + 6.0), Position::new(4.0, middle + 6.0)];
    drawn.items.extend(polyline_arrow(&front, 9.0, Stroke::solid(1.8)));
    drawn.items.extend(front_name(Position::new(27.0, middle - 6.0), NAME, &way.front, characters));
    // Places that don't fit the row have the words alone, which say the same of all.
    let count = names.len().min(((width - FRONT) / apart).max(1.0) as usize);
    for (index, name) in names.iter().take(count).enumerate() {
        let centre = Position::new(FRONT + apart * (index as f32 + 0.5), middle);
        drawn.items.push(circle(centre, RADIUS, None, Some(Stroke::solid(1.1))));
        // The name stands behind the arrow, so that the arrow is longest where it points.
        let (across, down) = match way.toward {
            Toward::Left => (-1.0, 0.0),
            Toward::Right => (1.0, 0.0),
            Toward::Up => (0.0, -1.0),
            Toward::Down | Toward::Reader | Toward::Away => (0.0, 1.0),
        };
        let at = |along: f32| Position::new(centre.x + across * along, centre.y + down * along);
        let behind = inside && !name.is_empty();
        let tail = if behind { 1.0 } else { -9.0 };
        drawn.items.extend(polyline_arrow(&[at(tail), at(RADIUS + 2.0)], 8.0, Stroke::solid(1.8)));
        let below = Position::new(centre.x, HEIGHT + NAME / 2.0);
        let name = fonts::shortened(Face::Bold, NAME, name, apart - 6.0);
        drawn.items.extend(text_centred(if behind { at(-7.0) } else { below }, Face::Bold, NAME, &name));
    }
    let end = FRONT + apart * count as f32 + 6.0;
    let beside = width - end >= BESIDE;
    let (x, room) = if beside { (end, width - end) } else { (0.0, width) };
    let says = Text::bold("Way round: ").and(format!("{}.", way.words));
    let lines = words::set(&says, &WORDS, room, characters);
    let height = lines.len() as f32 * WORDS.leading;
    let top = if beside { ((HEIGHT - height) / 2.0).max(0.0) } else { row + 2.0 };
    for (index, line) in lines.iter().enumerate() {
        let baseline = top + index as f32 * WORDS.leading + WORDS.baseline();
        for part in &line.parts {
            drawn.items.extend(text(x + part.x, baseline, part.face, WORDS.size, &part.words));
        }
    }
    drawn.height = drawn.height.max(top + height);
    drawn
}
