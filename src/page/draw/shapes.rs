//! Plain shapes.

use crate::page::fonts::{self, Face};
use crate::page::pages::{Area, Ink, Item, Position, Ring, Segment, Stroke, TextRun};
use crate::page::words::{CAPITALS, Characters};

/// A straight line.
pub(in crate::page) fn line(x1: f32, y1: f32, x2: f32, y2: f32, stroke: Stroke) -> Item {
    Item::Line { from: Position::new(x1, y1), to: Position::new(x2, y2), stroke }
}

/// An upright line as a filled bar.
pub(in crate::page) fn vertical(x: f32, y: f32, width: f32, height: f32) -> Item {
    Item::Rectangle { area: Area::new(x, y, width, height), fill: Some(Ink::Black), stroke: None }
}

/// A rectangle with its line inside the area.
pub(in crate::page) fn rectangle(area: Area, width: f32) -> Item {
    let half = width / 2.0;
    Item::Rectangle {
        area: Area::new(area.x + half, area.y + half, area.width - width, area.height - width),
        fill: None,
        stroke: Some(Stroke::solid(width)),
    }
}

/// Side of a tick box: 5.5 mm.
pub(in crate::page) const TICK_BOX: f32 = 15.6;

/// An empty tick box, 5.5 mm from outer edge to outer edge.
pub(in crate::page) fn tick_box(x: f32, y: f32) -> Item {
    rectangle(Area::new(x, y, TICK_BOX, TICK_BOX), 1.1)
}

/// An empty box of this side.
pub(in crate::page) fn small_box(x: f32, y: f32, side: f32) -> Item {
    rectangle(Area::new(x, y, side, side), 0.8)
}

/// The tick of a tick box at the same place.
pub(in crate::page) fn tick(x: f32, y: f32) -> Vec<Item> {
    let at = |across: f32, down: f32| Position::new(x + across * TICK_BOX, y + down * TICK_BOX);
    let (left, foot, right) = (at(0.2, 0.5), at(0.42, 0.76), at(0.82, 0.2));
    let stroke = Stroke::solid(2.4);
    vec![line(left.x, left.y, foot.x, foot.y, stroke), line(foot.x, foot.y, right.x, right.y, stroke)]
}

/// A closed outline through points.
pub(in crate::page) fn polygon(points: &[Position], fill: Option<Ink>, stroke: Option<Stroke>) -> Item {
    let mut rest = points.iter().copied();
    let start = rest.next().unwrap_or_default();
    Item::Shape { rings: vec![Ring { start, segments: rest.map(Segment::Line).collect() }], fill, stroke }
}

/// A circle of four curves.
pub(in crate::page) fn circle(
    centre: Position,
    radius: f32,
    fill: Option<Ink>,
    stroke: Option<Stroke>,
) -> Item {
    // Length of the handles for a quarter of a circle: 4/3 · (√2 − 1).
    let handle = radius * 0.552_284_8;
    let at = |dx: f32, dy: f32| Position::new(centre.x + dx, centre.y + dy);
    let segments = vec![
        Segment::Curve(at(radius, handle), at(handle, radius), at(0.0, radius)),
        Segment::Curve(at(-handle, radius), at(-radius, handle), at(-radius, 0.0)),
        Segment::Curve(at(-radius, -handle), at(-handle, -radius), at(0.0, -radius)),
        Segment::Curve(at(handle, -radius), at(radius, -handle), at(radius, 0.0)),
    ];
    Item::Shape { rings: vec![Ring { start: at(radius, 0.0), segments }], fill, stroke }
}

/// A regular polygon; `turn` is the direction of its first corner in degrees, clockwise from the right.
pub(in crate::page) fn regular(
    centre: Position,
    radius: f32,
    corners: usize,
    turn: f32,
    fill: Option<Ink>,
    stroke: Option<Stroke>,
) -> Item {
    let points: Vec<Position> = (0..corners)
        .map(|corner| {
            let angle = (turn + 360.0 * corner as f32 / corners as f32).to_radians();
            Position::new(centre.x + radius * angle.cos(), centre.y + radius * angle.sin())
        })
        .collect();
    polygon(&points, fill, stroke)
}

/// How much of an arrow's head its line reaches into: its end is hidden there, and doesn't blunt the tip.
const INTO_HEAD: f32 = 0.2;

/// Lines through points with an arrow head at the last. The head lies along the last stretch that it covers, so that it
/// follows an arc.
pub(in crate::page) fn polyline_arrow(points: &[Position], head: f32, stroke: Stroke) -> Vec<Item> {
    let [path @ .., tip] = points else { return Vec::new() };
    let to_tip = |from: &Position| (tip.x - from.x).hypot(tip.y - from.y);
    let covered = head * (1.0 - INTO_HEAD);
    let outside = path.iter().rposition(|point| to_tip(point) > covered);
    let mut drawn: Vec<Position> = outside.map_or_else(Vec::new, |last| path[..=last].to_vec());
    let base = match outside.map(|last| (path[last], points[last + 1])) {
        Some((before, next)) => {
            let share = (to_tip(&before) - covered) / (to_tip(&before) - to_tip(&next));
            Position::new(before.x + (next.x - before.x) * share, before.y + (next.y - before.y) * share)
        }
        None => path.first().copied().unwrap_or(*tip),
    };
    drawn.push(base);
    let mut items: Vec<Item> =
        drawn.windows(2).map(|ends| Item::Line { from: ends[0], to: ends[1], stroke }).collect();
    let length = to_tip(&base).max(0.001);
    let (ux, uy) = ((tip.x - base.x) / length, (tip.y - base.y) / length);
    let corner = |side: f32| {
        Position::new(tip.x - ux * head - uy * head * 0.4 * side, tip.y - uy * head + ux * head * 0.4 * side)
    };
    items.push(polygon(&[*tip, corner(1.0), corner(-1.0)], Some(stroke.ink), None));
    items
}

/// Words on one line, from a left end on a baseline. None if there are no words.
pub(in crate::page) fn text(x: f32, baseline: f32, face: Face, size: f32, words: &str) -> Option<Item> {
    (!words.is_empty()).then(|| {
        Item::Text(TextRun {
            at: Position::new(x, baseline),
            width: fonts::width(face, size, words),
            face,
            size,
            ink: Ink::Black,
            text: words.to_string(),
        })
    })
}

/// Words on one line with their middle at a point.
pub(in crate::page) fn text_centred(middle: Position, face: Face, size: f32, words: &str) -> Option<Item> {
    let x = middle.x - fonts::width(face, size, words) / 2.0;
    text(x, middle.y + CAPITALS * size / 2.0, face, size, words)
}

/// Most width for the name of the front over its arrow.
const FRONT_NAME: f32 = 56.0;

/// The name of the front in capitals over its arrow: a line for each of its words, of which the last stands at the middle.
pub(in crate::page) fn front_name(
    middle: Position,
    size: f32,
    name: &str,
    characters: &mut Characters,
) -> Vec<Item> {
    let words = characters.line(&name.to_uppercase());
    let lines: Vec<&str> = words.split(' ').collect();
    let last = lines.len() - 1;
    let line = |(at, word): (usize, &&str)| {
        let up = (last - at) as f32 * (size + 1.0);
        let word = fonts::shortened(Face::Bold, size, word, FRONT_NAME);
        text_centred(Position::new(middle.x, middle.y - up), Face::Bold, size, &word)
    };
    lines.iter().enumerate().filter_map(line).collect()
}
