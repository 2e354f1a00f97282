//! Which way the front of the engine lies in a picture: an arrow that points there with its name beside it, always in the
//! upper left corner, so that nobody has to look for it.

use super::Drawn;
use super::shapes::{circle, polygon, polyline_arrow, text};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Ink, Position, Stroke};
use crate::page::words::{CAPITALS, Characters};
use crate::sheet::Toward;

/// Heights of an arrow that lies, of a sign, and of an arrow that stands.
const HEIGHTS: [f32; 3] = [13.0, 16.0, 24.0];
/// Length of an arrow that lies.
const LENGTH: f32 = 40.0;
/// Size of its word.
const WORD: f32 = 11.0;

/// The mark, its upper left corner at the origin; nothing where it isn't known.
pub(super) fn mark(toward: Option<Toward>, name: &str, characters: &mut Characters) -> Drawn {
    let mut drawn = Drawn::default();
    let Some(toward) = toward else { return drawn };
    let height = match toward {
        Toward::Left | Toward::Right => HEIGHTS[0],
        Toward::Reader | Toward::Away => HEIGHTS[1],
        Toward::Up | Toward::Down => HEIGHTS[2],
    };
    let middle = height / 2.0;
    let name = characters.line(&name.to_uppercase());
    let arrow = |from: Position, to: Position| polyline_arrow(&[from, to], 11.0, Stroke::solid(2.2));
    let (left, right) = (Position::new(2.0, middle), Position::new(2.0 + LENGTH, middle));
    let (up, down) = (Position::new(9.0, 0.5), Position::new(9.0, height - 0.5));
    let (items, width, words) = match toward {
        Toward::Left => (arrow(right, left), LENGTH + 2.0, name),
        Toward::Right => (arrow(left, right), LENGTH + 2.0, name),
        Toward::Up => (arrow(down, up), 18.0, name),
        Toward::Down => (arrow(up, down), 18.0, name),
        Toward::Reader | Toward::Away => {
            let centre = Position::new(9.0, middle);
            let mut items = vec![circle(centre, 7.0, None, Some(Stroke::solid(1.4)))];
            if toward == Toward::Reader {
                items.push(circle(centre, 2.4, Some(Ink::Black), None));
            } else {
                let d = 4.4;
                let at = |x: f32, y: f32| Position::new(centre.x + x, centre.y + y);
                for ends in [[at(-d, -d), at(d, d)], [at(-d, d), at(d, -d)]] {
                    items.push(polygon(&ends, None, Some(Stroke::solid(1.4))));
                }
            }
            let points = if toward == Toward::Reader { "towards you" } else { "away from you" };
            (items, 16.0, format!("{name} {points}"))
        }
    };
    drawn.items = items;
    let x = width + 6.0;
    drawn.items.extend(text(x, middle + CAPITALS * WORD / 2.0, Face::Bold, WORD, &words));
    (drawn.width, drawn.height) = (x + fonts::width(Face::Bold, WORD, &words) + 2.0, height);
    drawn
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::pages::Item;

    /// Where the tip of the arrow's head is, seen from its other end.
    fn points(toward: Toward) -> (f32, f32) {
        let drawn = mark(Some(toward), "front", &mut Characters::default());
        let tail = drawn.items.iter().find_map(|item| match item {
            Item::Line { from, .. } => Some(*from),
            _ => None,
        });
        let tip = drawn.items.iter().find_map(|item| match item {
            Item::Shape { rings, .. } => rings.first().map(|ring| ring.start),
            _ => None,
        });
        tail.zip(tip).map(|(tail, tip)| (tip.x - tail.x, tip.y - tail.y)).unwrap_or_default()
    }

    #[test]
    fn the_arrow_points_to_the_front_and_stands_in_its_corner() {
        assert!(points(Toward::Left).0 < -30.0 && points(Toward::Right).0 > 30.0);
        // Down the page is more.
        assert!(points(Toward::Up).1 < -15.0 && points(Toward::Down).1 > 15.0);
        for toward in [Toward::Left, Toward::Right, Toward::Up, Toward::Down, Toward::Reader, Toward::Away] {
            let drawn = mark(Some(toward), "front", &mut Characters::default());
            for area in drawn.items.iter().map(Item::bounds) {
                assert!(area.x >= 0.0 && area.y >= 0.0, "{toward:?} {area:?}");
                assert!(area.x + area.width <= drawn.width + 0.5, "{toward:?} {area:?}");
                assert!(area.y + area.height <= drawn.height + 3.0, "{toward:?} {area:?}");
            }
        }
        assert!(mark(None, "front", &mut Characters::default()).items.is_empty());
    }
}
