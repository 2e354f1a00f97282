//! Signs drawn by ourselves in the general manner of ISO 7010 and ISO 3864: shape and meaning, not artwork.

use super::shapes::{circle, polygon};
use crate::page::pages::{Ink, Item, Position, Stroke};

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
