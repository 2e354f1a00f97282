//! Signs drawn by ourselves in the general manner of ISO 7010 and ISO 3864: shape and meaning, not artwork.

use super::shapes::{circle, polygon, polyline_arrow, regular};
use crate::page::pages::{Area, Ink, Item, Position, Ring, Segment, Stroke};
use crate::sheet::Lies;

/// The alert triangle with its exclamation mark, `height` tall. `solid` fills the triangle.
pub(in crate::page) fn alert(x: f32, y: f32, height: f32, solid: bool) -> Vec<Item> {
    let width = height * 1.1547;
    let at = |across: f32, down: f32| Position::new(x + across * width, y + down * height);
    let line = height * 0.085;
    let (paper, mark) = if solid { (Ink::Black, Ink::White) } else { (Ink::White, Ink::Black) };
    let inset = line / 2.0 / height;
    let triangle = polygon(
        &[at(0.5, inset * 2.0), at(1.0 - inset * 1.7, 1.0 - inset), at(inset * 1.7, 1.0 - inset)],
        Some(paper),
        Some(Stroke::solid(line)),
    );
    let stem = polygon(&[at(0.445, 0.34), at(0.555, 0.34), at(0.527, 0.7), at(0.473, 0.7)], Some(mark), None);
    vec![triangle, stem, circle(at(0.5, 0.82), height * 0.065, Some(mark), None)]
}

/// Side of the square in which an engine is shown as it lies.
pub(in crate::page) const LYING: f32 = 28.0;

/// The engine as it lies: a block with its head narrower on top, the bar of the stand behind it; where an end is above, the
/// end with a wedge is its front.
pub(in crate::page) fn lying(lies: Lies, x: f32, y: f32) -> Vec<Item> {
    let centre = Position::new(x + LYING / 2.0, y + LYING / 2.0);
    // Corners as it runs, seen from an end or from the side, about the middle of the square; turned by quarters clockwise.
    let (from_the_side, quarters) = match lies {
        Lies::Upright => (false, 0),
        Lies::TopRight => (false, 1),
        Lies::Inverted => (false, 2),
        Lies::TopLeft => (false, 3),
        Lies::FrontUp => (true, 1),
        Lies::RearUp => (true, 3),
    };
    let turned = |(across, down): (f32, f32)| {
        let (across, down) = (0..quarters).fold((across, down), |(across, down), _| (-down, across));
        Position::new(centre.x + across * LYING, centre.y + down * LYING)
    };
    let outline = |corners: &[(f32, f32)]| {
        let corners: Vec<Position> = corners.iter().copied().map(turned).collect();
        polygon(&corners, Some(Ink::White), Some(Stroke::solid(1.3)))
    };
    // From the side its front is to the left.
    let half = if from_the_side { 0.38 } else { 0.24 };
    let mut items = vec![
        outline(&[(-half, -0.14), (half, -0.14), (half, 0.2), (-half, 0.2)]),
        outline(&[(-half * 0.8, -0.38), (half * 0.8, -0.38), (half * 0.8, -0.14), (-half * 0.8, -0.14)]),
        outline(&[(-half * 0.7, 0.2), (half * 0.7, 0.2), (half * 0.5, 0.38), (-half * 0.5, 0.38)]),
    ];
    if from_the_side {
        let wedge: Vec<Position> =
            [(-0.5, 0.03), (-0.38, -0.08), (-0.38, 0.14)].into_iter().map(turned).collect();
        items.push(polygon(&wedge, Some(Ink::Black), None));
    }
    items.push(circle(centre, LYING * 0.06, Some(Ink::Black), None));
    items
}

/// The head of a bolt with an arrow round it, `side` wide and tall.
pub(in crate::page) fn turned_hexagon(x: f32, y: f32, side: f32, clockwise: bool) -> Vec<Item> {
    let centre = Position::new(x + side / 2.0, y + side / 2.0);
    let radius = side * 0.46;
    let mut items = vec![
        regular(centre, side * 0.26, 6, 0.0, None, Some(Stroke::solid(1.4))),
        circle(centre, side * 0.07, Some(Ink::Black), None),
    ];
    // Most of a circle, open where its head is.
    let points: Vec<Position> = (0..=20u8)
        .map(|step| {
            let turned = 285.0 * f32::from(step) / 20.0;
            let angle: f32 = if clockwise { -60.0 + turned } else { 240.0 - turned };
            let angle = angle.to_radians();
            Position::new(centre.x + radius * angle.cos(), centre.y + radius * angle.sin())
        })
        .collect();
    items.extend(polyline_arrow(&points, side * 0.26, Stroke::solid(1.8)));
    items
}

/// The sign for a piece of protective equipment, white on a black disc; none for a name that isn't known.
pub(in crate::page) fn protective(name: &str, x: f32, y: f32, height: f32) -> Option<Vec<Item>> {
    let name = name.to_lowercase();
    let is = |words: &[&str]| words.iter().any(|word| name.contains(word));
    let sign: fn(&Canvas) -> Vec<Item> = if is(&["glove"]) {
        glove
    } else if is(&["face shield", "visor"]) {
        shield
    } else if is(&["goggle", "glasses", "eye"]) {
        goggles
    } else if is(&["ear", "hearing"]) && !is(&["gear", "clear", "near", "year"]) {
        muffs
    } else if is(&["boot", "shoe"]) {
        boot
    } else if is(&["mask", "respirator"]) {
        mask
    } else {
        return None;
    };
    let canvas = Canvas { x, y, side: height };
    let mut items = vec![circle(canvas.at(0.5, 0.5), height / 2.0, Some(Ink::Black), None)];
    items.extend(sign(&canvas));
    Some(items)
}

/// A square in which a sign is drawn with coordinates from 0 to 1.
struct Canvas {
    x: f32,
    y: f32,
    side: f32,
}

impl Canvas {
    fn at(&self, across: f32, down: f32) -> Position {
        Position::new(self.x + across * self.side, self.y + down * self.side)
    }

    fn plane(&self, corners: &[(f32, f32)], ink: Ink) -> Item {
        let corners: Vec<Position> = corners.iter().map(|(across, down)| self.at(*across, *down)).collect();
        polygon(&corners, Some(ink), None)
    }

    fn white(&self, corners: &[(f32, f32)]) -> Item {
        self.plane(corners, Ink::White)
    }

    fn block(&self, across: f32, down: f32, width: f32, height: f32, ink: Ink) -> Item {
        let corner = self.at(across, down);
        let area = Area::new(corner.x, corner.y, width * self.side, height * self.side);
        Item::Rectangle { area, fill: Some(ink), stroke: None }
    }

    fn disc(&self, across: f32, down: f32, radius: f32, ink: Ink) -> Item {
        circle(self.at(across, down), radius * self.side, Some(ink), None)
    }

    fn line(&self, width: f32) -> Stroke {
        Stroke { ink: Ink::White, ..Stroke::solid(width * self.side) }
    }
}

fn glove(c: &Canvas) -> Vec<Item> {
    let mut items: Vec<Item> =
        [0.34, 0.44, 0.54, 0.64].iter().map(|x| c.block(*x, 0.2, 0.08, 0.34, Ink::White)).collect();
    items.push(c.block(0.34, 0.46, 0.38, 0.22, Ink::White));
    items.push(c.white(&[(0.36, 0.5), (0.36, 0.64), (0.2, 0.48), (0.26, 0.42)]));
    items.push(c.block(0.37, 0.72, 0.32, 0.09, Ink::White));
    items
}

fn goggles(c: &Canvas) -> Vec<Item> {
    let strap = Item::Line { from: c.at(0.1, 0.44), to: c.at(0.9, 0.44), stroke: c.line(0.06) };
    vec![
        strap,
        c.disc(0.33, 0.5, 0.165, Ink::White),
        c.disc(0.67, 0.5, 0.165, Ink::White),
        c.disc(0.33, 0.5, 0.095, Ink::Black),
        c.disc(0.67, 0.5, 0.095, Ink::Black),
    ]
}

fn shield(c: &Canvas) -> Vec<Item> {
    let pane = |inset: f32, ink: Ink| {
        let corners = [
            (0.26 + inset, 0.36 + inset),
            (0.74 - inset, 0.36 + inset),
            (0.74 - inset, 0.58),
            (0.62 - inset / 2.0, 0.8 - inset),
            (0.38 + inset / 2.0, 0.8 - inset),
            (0.26 + inset, 0.58),
        ];
        c.plane(&corners, ink)
    };
    vec![
        c.white(&[(0.26, 0.33), (0.26, 0.26), (0.36, 0.17), (0.64, 0.17), (0.74, 0.26), (0.74, 0.33)]),
        pane(0.0, Ink::White),
        pane(0.05, Ink::Black),
        c.disc(0.5, 0.54, 0.115, Ink::White),
    ]
}

fn muffs(c: &Canvas) -> Vec<Item> {
    let band = Ring {
        start: c.at(0.24, 0.55),
        segments: vec![
            Segment::Curve(c.at(0.24, 0.08), c.at(0.76, 0.08), c.at(0.76, 0.55)),
            Segment::Line(c.at(0.7, 0.55)),
            Segment::Curve(c.at(0.7, 0.17), c.at(0.3, 0.17), c.at(0.3, 0.55)),
        ],
    };
    vec![
        Item::Shape { rings: vec![band], fill: Some(Ink::White), stroke: None },
        c.block(0.18, 0.5, 0.17, 0.28, Ink::White),
        c.block(0.65, 0.5, 0.17, 0.28, Ink::White),
        c.disc(0.5, 0.56, 0.13, Ink::White),
    ]
}

fn boot(c: &Canvas) -> Vec<Item> {
    vec![
        c.white(&[
            (0.32, 0.18),
            (0.55, 0.18),
            (0.55, 0.48),
            (0.74, 0.56),
            (0.82, 0.64),
            (0.82, 0.7),
            (0.32, 0.7),
        ]),
        c.block(0.32, 0.74, 0.5, 0.06, Ink::White),
    ]
}

fn mask(c: &Canvas) -> Vec<Item> {
    let strap = |down: f32| Item::Line { from: c.at(0.08, down), to: c.at(0.92, down), stroke: c.line(0.05) };
    vec![
        strap(0.42),
        strap(0.58),
        regular(c.at(0.5, 0.52), 0.27 * c.side, 6, 0.0, Some(Ink::White), None),
        c.disc(0.5, 0.6, 0.09, Ink::Black),
    ]
}
