//! A joint's holes, to scale: a shape per size of fastener, the number in the order of work large inside it,
//! the letter of the hole small beside it.

use super::outline::outline;
use super::scales::Scale;
use super::shapes::{TICK_BOX, circle, regular, text};
use super::{Drawn, front, text_centred};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Area, Ink, Item, Position, Stroke};
use crate::page::setup::points;
use crate::page::words::{CAPITALS, Characters};
use crate::sheet::{HoleMark, JointDrawing};

/// Radius of a mark whose number can be read at arm's length.
pub(super) const RADIUS: f32 = 15.0;
/// Room for letters and notes around the outermost holes.
pub(super) const MARGIN: f32 = 26.0;
/// Size of letters and notes: below what else is set at the bench, so that those of neighbouring holes never touch.
pub(super) const LETTER: f32 = 11.0;
/// Shapes of marks; further sizes begin again with the first.
const SHAPES: usize = 6;
/// Half of the width of a head across its corners, as a share of its thread. Common practice, no source.
const HEAD: f32 = 1.0;
/// Least room between a mark and the outline.
const CLEAR: f32 = 4.0;

/// A joint as drawn.
pub(in crate::page) struct DrawnJoint {
    pub drawn: Drawn,
    /// Its scale in words, empty if there are no holes.
    pub scale: String,
    /// Radius of its marks.
    pub radius: f32,
    /// Whether some letter found no place of its own: more room would help.
    pub crowded: bool,
    /// For each hole where its boxes stand, from the left; empty where no boxes were asked for, or one found no room.
    pub boxes: Vec<Vec<Area>>,
}

/// White space between the boxes of a hole, and between them and other marks.
const BOXES_APART: f32 = 2.5;

/// Room above and below the outermost holes where their boxes stand there.
const BOXES_OUTSIDE: f32 = 36.0;

/// Draws the joint at its scale, with so many boxes at each of its holes; without any where one finds no room of its own.
/// At a smaller one only where the paper is narrower than what the scale was chosen for.
pub(in crate::page) fn draw(
    joint: &JointDrawing,
    scale: Scale,
    width: f32,
    boxes: &[usize],
    characters: &mut Characters,
) -> DrawnJoint {
    let holes = placed_holes(&joint.holes);
    let Some(extent) = Extent::of(&holes) else {
        return DrawnJoint {
            drawn: Drawn::default(),
            scale: String::new(),
            radius: RADIUS,
            crowded: false,
            boxes: Vec::new(),
        };
    };
    let scale = scale.within((width - 2.0 * MARGIN) / extent.wide.max(1.0));
    if boxes.len() == holes.len() && boxes.iter().any(|count| *count > 0) {
        let made = at_scale(joint, scale, width, boxes, characters);
        if !made.boxes.is_empty() {
            return made;
        }
    }
    at_scale(joint, scale, width, &[], characters)
}

/// Holes that can be drawn.
pub(super) fn placed_holes(holes: &[HoleMark]) -> Vec<&HoleMark> {
    holes.iter().filter(|hole| hole.x.is_finite() && hole.y.is_finite()).collect()
}

/// The room that holes take at full size, in points, and where it begins in millimetres.
pub(super) struct Extent {
    left: f64,
    top: f64,
    pub(super) wide: f32,
    pub(super) tall: f32,
}

impl Extent {
    /// None without holes.
    pub(super) fn of(holes: &[&HoleMark]) -> Option<Extent> {
        let low = |pick: fn(&HoleMark) -> f64| holes.iter().map(|h| pick(h)).reduce(f64::min);
        let high = |pick: fn(&HoleMark) -> f64| holes.iter().map(|h| pick(h)).reduce(f64::max);
        let (left, right) = (low(|h| h.x)?, high(|h| h.x)?);
        let (bottom, top) = (low(|h| h.y)?, high(|h| h.y)?);
        let (wide, tall) = (points((right - left) as f32), points((top - bottom) as f32));
        Some(Extent { left, top, wide, tall })
    }
}

/// Draws the joint at a scale, in this width; with room for boxes above and below its outermost holes only where they find
/// none between them.
pub(super) fn at_scale(
    joint: &JointDrawing,
    scale: Scale,
    width: f32,
    boxes: &[usize],
    characters: &mut Characters,
) -> DrawnJoint {
    let close = within_margin(joint, scale, (width, MARGIN), boxes, characters);
    if boxes.is_empty() || !close.boxes.is_empty() {
        return close;
    }
    let wide = within_margin(joint, scale, (width, BOXES_OUTSIDE), boxes, characters);
    if wide.boxes.is_empty() { close } else { wide }
}

/// Draws the joint with such a margin above and below: to the right of the outermost hole there is room for what is noted of
/// it, as far as the width has it.
fn within_margin(
    joint: &JointDrawing,
    scale: Scale,
    (width, margin): (f32, f32),
    boxes: &[usize],
    characters: &mut Characters,
) -> DrawnJoint {
    let holes = placed_holes(&joint.holes);
    let nearest = nearest(&holes);
    let Extent { left, top, wide, tall } =
        Extent::of(&holes).unwrap_or(Extent { left: 0.0, top: 0.0, wide: 0.0, tall: 0.0 });
    let words = scale.words();
    let scale = scale.paper();
    let noted = |hole: &&HoleMark| fonts::width(Face::Regular, LETTER, &hole.note);
    let beyond =
        (holes.iter().map(noted).fold(0.0, f32::max) + RADIUS).min(width - MARGIN - wide * scale).max(MARGIN);
    let arrow = front::mark(joint.front, &joint.front_name, characters);

    // Where holes lie below the mark of the front they stand clear of it.
    let below =
        holes.iter().filter(|hole| MARGIN + points((hole.x - left) as f32) * scale < arrow.width + RADIUS);
    let highest = below.map(|hole| points((top - hole.y) as f32) * scale).fold(f32::INFINITY, f32::min);
    let above = (arrow.height + RADIUS + 2.0 - margin - highest).max(0.0);
    let (x0, y0) = (MARGIN, margin + above);
    let at = |hole: &HoleMark| {
        Position::new(x0 + points((hole.x - left) as f32) * scale, y0 + points((top - hole.y) as f32) * scale)
    };
    // Between the marks there must be room for their letters.
    let radius = RADIUS.min(nearest * scale * 0.31).max(2.5);
    let mut drawn = Drawn {
        items: Vec::new(),
        width: wide * scale + MARGIN + beyond,
        height: tall * scale + 2.0 * margin + above,
    };
    let mut taken: Vec<Area> = holes.iter().map(|hole| around(at(hole), radius * 0.78)).collect();
    let heads: Vec<(Position, f32)> = holes
        .iter()
        .map(|hole| {
            (at(hole), (points(hole.diameter as f32) * scale * HEAD).clamp(radius + CLEAR, MARGIN - 2.0))
        })
        .collect();
    let outline = outline(&heads);
    let edge: Vec<Area> = outline.iter().flat_map(|outline| outline.along.iter().copied()).collect();
    drawn.items.extend(outline.map(|outline| outline.item));
    for hole in &holes {
        drawn.items.push(mark(at(hole), radius, hole.size));
    }
    // No letter stands on the arrow or its word.
    taken.extend(arrow.items.iter().map(Item::bounds));
    let marks: Vec<(Position, f32)> =
        holes.iter().map(|hole| (at(hole), radius * reach(hole.size))).collect();
    let boxes = beside_marks(&marks, boxes, &taken, &edge, &drawn);
    taken.extend(boxes.iter().flatten().copied());
    let mut crowded = false;
    for hole in &holes {
        let number = characters.line(&hole.number);
        let letter = characters.line(&hole.letter);
        let note = characters.line(&hole.note);
        let centre = at(hole);
        // Two figures stand clear of their circle.
        let widest = fonts::width(Face::Bold, 1.0, &number).max(0.9);
        let size = fonts::of_scale((radius * 1.5 / widest).min(radius * 1.35));
        if size >= 7.0 {
            drawn.items.extend(text_centred(centre, Face::Bold, size, &number));
        } else {
            let hole = (centre, radius, hole.size);
            crowded |= beside(&mut drawn, (&mut taken, &edge), hole, Face::Bold, LETTER, &number);
        }
        let hole = (centre, radius, hole.size);
        crowded |= beside(&mut drawn, (&mut taken, &edge), hole, Face::Bold, LETTER, &letter);
        crowded |= beside(&mut drawn, (&mut taken, &edge), hole, Face::Regular, LETTER, &note);
    }
    drawn.items.extend(arrow.items);
    drawn.width = drawn.width.max(arrow.width);
    DrawnJoint { drawn, scale: words, radius, crowded, boxes }
}

/// Where rows of so many boxes stand beside marks, each with its middle and how far it reaches: towards the middle of the joint
/// rather than outside, on nothing else, and where they may clear of the edge. Nothing where one finds no such place.
fn beside_marks(
    marks: &[(Position, f32)],
    counts: &[usize],
    taken: &[Area],
    edge: &[Area],
    drawn: &Drawn,
) -> Vec<Vec<Area>> {
    if counts.len() != marks.len() {
        return Vec::new();
    }
    let middle = marks.iter().map(|(at, _)| at.y).sum::<f32>() / marks.len() as f32;
    let mut standing: Vec<Area> = marks
        .iter()
        .map(|(at, reach)| around(*at, reach + 1.0))
        .chain(taken[marks.len()..].iter().copied())
        .collect();
    let mut rows = Vec::new();
    for ((at, reach), count) in marks.iter().zip(counts) {
        if *count == 0 {
            rows.push(Vec::new());
            continue;
        }
        let width = *count as f32 * (TICK_BOX + BOXES_APART) - BOXES_APART;
        let (under, over) = (at.y + reach + BOXES_APART, at.y - reach - BOXES_APART - TICK_BOX);
        let (inner, outer) = if at.y <= middle { (under, over) } else { (over, under) };
        let beside = at.y - TICK_BOX / 2.0;
        let places = [
            (at.x - width / 2.0, inner),
            (at.x + reach + BOXES_APART, beside),
            (at.x - reach - BOXES_APART - width, beside),
            (at.x - width / 2.0, outer),
        ];
        let areas = places.into_iter().map(|(x, y)| Area::new(x, y, width, TICK_BOX));
        let free = areas.filter(|area| {
            let around = Area::new(area.x - 1.0, area.y - 1.0, area.width + 2.0, area.height + 2.0);
            area.x >= 0.0
                && area.x + area.width <= drawn.width
                && area.y >= 0.0
                && area.y + area.height <= drawn.height
                && standing.iter().all(|other| !other.overlaps(&around))
        });
        let crossed = |area: &Area| edge.iter().map(|other| other.overlap(area)).sum::<f32>();
        let Some(row) = free.min_by(|a, b| crossed(a).total_cmp(&crossed(b))) else { return Vec::new() };
        standing.push(row);
        let each = |place: usize| {
            Area::new(row.x + place as f32 * (TICK_BOX + BOXES_APART), row.y, TICK_BOX, TICK_BOX)
        };
        rows.push((0..*count).map(each).collect());
    }
    rows
}

/// How far a mark of a size reaches, as a share of its radius.
fn reach(size: usize) -> f32 {
    match size % SHAPES {
        0 => 1.0,
        1 => 0.85,
        3 => 1.25,
        _ => 1.12,
    }
}

/// Least distance of two holes in points at full size.
fn nearest(holes: &[&HoleMark]) -> f32 {
    let mut nearest = f64::INFINITY;
    for (index, a) in holes.iter().enumerate() {
        for b in &holes[index + 1..] {
            let distance = (a.x - b.x).hypot(a.y - b.y);
            if distance > 0.01 {
                nearest = nearest.min(distance);
            }
        }
    }
    if nearest.is_finite() { points(nearest as f32) } else { points(40.0) }
}

fn around(centre: Position, radius: f32) -> Area {
    Area::new(centre.x - radius, centre.y - radius, 2.0 * radius, 2.0 * radius)
}

/// The mark of a size: sizes are told apart by shape.
fn mark(centre: Position, radius: f32, size: usize) -> Item {
    let (fill, stroke) = (Some(Ink::White), Some(Stroke::solid(1.3)));
    match size % SHAPES {
        0 => circle(centre, radius, fill, stroke),
        1 => regular(centre, radius * 1.2, 4, 45.0, fill, stroke),
        2 => regular(centre, radius * 1.08, 6, 0.0, fill, stroke),
        3 => regular(centre, radius * 1.25, 4, 0.0, fill, stroke),
        4 => regular(centre, radius * 1.1, 8, 22.5, fill, stroke),
        _ => regular(centre, radius * 1.12, 5, -90.0, fill, stroke),
    }
}

/// Puts words beside a mark, where they cover least of what is there already, and of those places where they stand clear of
/// the edge; whether they cover anything.
fn beside(
    drawn: &mut Drawn,
    (taken, edge): (&mut Vec<Area>, &[Area]),
    (centre, radius, shape): (Position, f32, usize),
    face: Face,
    size: f32,
    words: &str,
) -> bool {
    if words.is_empty() {
        return false;
    }
    let free = |area: &Area| {
        area.x >= 0.0
            && area.y >= 0.0
            && area.x + area.width <= drawn.width
            && area.y + area.height <= drawn.height
    };
    let cost = |area: &Area| {
        let covered: f32 = taken.iter().map(|other| other.overlap(area)).sum();
        covered + if free(area) { 0.0 } else { 1000.0 }
    };
    let crosses = |area: &Area| edge.iter().map(|other| other.overlap(area)).sum::<f32>();
    // Smaller only where there is no room for the usual size.
    let mut best: Option<(f32, f32, Area)> = None;
    let mut line = f32::INFINITY;
    for size in [size, size * 0.82, size * 0.7, size * 0.57] {
        for area in places(centre, radius, shape, fonts::width(face, size, words), size * 0.96) {
            let cost = cost(&area);
            let crossed = crosses(&area);
            let as_free = |least: f32| cost < least + 0.01 && crossed < line - 0.01;
            if best.is_none_or(|(least, _, _)| cost < least - 0.01 || as_free(least)) {
                best = Some((cost, size, area));
                line = crossed;
            }
        }
        if best.is_some_and(|(least, _, _)| least <= 0.01) {
            break;
        }
    }
    let Some((covered, size, area)) = best else { return false };
    drawn.items.extend(text(area.x, area.y + size * 0.76, face, size, words));
    taken.push(area);
    covered > 0.01
}

/// Where words of this size may stand beside a mark, the best place first.
fn places(centre: Position, radius: f32, shape: usize, width: f32, height: f32) -> Vec<Area> {
    // Clear of the mark at its slant, where a square has a corner.
    let near = radius * if shape % SHAPES == 1 { 0.86 } else { 0.76 } + 1.6;
    let (right, left) = (centre.x + near, centre.x - near - width);
    let (below, above) = (centre.y + near - 1.0, centre.y - near - height + 1.0);
    let middle = (centre.x - width / 2.0, centre.y - height / 2.0);
    let (under, over) = (centre.y + radius + 2.5, centre.y - radius - height - 2.5);
    let places = [
        (right, below),
        (right, above),
        (left, below),
        (left, above),
        (middle.0, under),
        (middle.0, over),
        (centre.x + radius + 3.0, middle.1),
        (centre.x - radius - width - 3.0, middle.1),
        (centre.x, under),
        (centre.x - width, under),
        (centre.x, over),
        (centre.x - width, over),
    ];
    places.into_iter().map(|(x, y)| Area::new(x, y, width, height)).collect()
}

/// Which shape is which size, in rows.
pub(in crate::page) fn legend(sizes: &[String], width: f32, characters: &mut Characters) -> Drawn {
    const ROW: f32 = 18.0;
    const SIZE: f32 = 11.0;
    const GAP: f32 = 18.0;
    let mut drawn = Drawn { items: Vec::new(), width, height: 0.0 };
    let (mut x, mut y) = (0.0, 0.0);
    for (index, size) in sizes.iter().enumerate() {
        let words = fonts::shortened(Face::Regular, SIZE, &characters.line(size), width - 20.0);
        let entry = 20.0 + fonts::width(Face::Regular, SIZE, &words);
        if x > 0.0 && x + entry > width {
            x = 0.0;
            y += ROW;
        }
        let middle = y + ROW / 2.0;
        drawn.items.push(mark(Position::new(x + 7.0, middle), 5.5, index));
        drawn.items.extend(text(x + 20.0, middle + CAPITALS * SIZE / 2.0, Face::Regular, SIZE, &words));
        x += entry + GAP;
        drawn.height = y + ROW;
    }
    drawn
}
