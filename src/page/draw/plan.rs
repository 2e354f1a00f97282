//! The engine from above as a diagram: its numbered places from end to end, which end is the front, and which way it
//! turns. It is not to scale, and shows the places of a bank in one row each, whatever the engine's form.

use super::shapes::{circle, polyline_arrow, rectangle, text};
use super::{Drawn, front_name, text_centred};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Area, Ink, Item, Position, Stroke};
use crate::page::words::Characters;
use crate::sheet::PlanDrawing;

/// Radius of a place.
const RADIUS: f32 = 17.0;
/// Most room between two places.
const APART: f32 = 62.0;
/// Room at the front for its word and arrow.
const FRONT: f32 = 66.0;
/// Room at an end for the arrow of rotation.
const TURNING: f32 = 52.0;
/// Height of the block.
const BLOCK: f32 = 56.0;
/// Height of the words of a side.
const SIDE: f32 = 18.0;
/// Size of the words beside the block.
const BESIDE: f32 = 13.0;
/// Radius of the dial, and the width that it takes with its words.
const DIAL: f32 = 28.0;
const DIAL_ROOM: f32 = 110.0;
/// Least from one place to the next beside the dial.
const NARROWEST: f32 = 34.0;
/// Size of other words.
const WORDS: f32 = 11.0;

/// Draws the engine in at most this width, its front to the left.
pub(in crate::page) fn draw(plan: &PlanDrawing, width: f32, characters: &mut Characters) -> Drawn {
    let rows: Vec<(String, Vec<String>)> = plan
        .rows
        .iter()
        .map(|row| {
            let places = row.places.iter().map(|place| characters.line(place)).collect();
            (characters.line(&row.name), places)
        })
        .collect();
    let count = rows.iter().map(|(_, places)| places.len()).max().unwrap_or(0).max(1) as f32;
    let name_width = |(name, _): &(String, Vec<String>)| fonts::width(Face::Bold, WORDS, name);
    let named = rows.iter().map(name_width).fold(0.0, f32::max);
    let named = if named > 0.0 { named + 16.0 } else { 0.0 };
    let apart = |room: f32| APART.min((room - FRONT - 2.0 * TURNING - named) / count);
    // The dial stands at the right where the row leaves it room.
    let dial = !plan.clock.is_empty() && apart(width - DIAL_ROOM) >= NARROWEST;
    let (all, width) = (width, if dial { width - DIAL_ROOM } else { width });
    let apart = apart(width);
    let radius = RADIUS.min(apart * 0.4);
    let height = BLOCK * rows.len().max(1) as f32;
    let block = Area::new(FRONT + TURNING, SIDE, apart * count + named, height);
    let middle = block.y + height / 2.0;
    let mut drawn = Drawn { items: Vec::new(), width: all, height: height + 2.0 * SIDE };
    if dial {
        drawn.items.extend(clock(plan, Position::new(all - DIAL_ROOM / 2.0, middle), characters));
    }
    drawn.items.push(rectangle(block, 1.6));
    for (row, (bank, places)) in rows.iter().enumerate() {
        let line = block.y + BLOCK * (row as f32 + 0.5);
        drawn.items.extend(text(block.x + 8.0, line + 4.0, Face::Bold, WORDS, bank));
        for (index, name) in places.iter().enumerate() {
            let centre = Position::new(block.x + named + apart * (index as f32 + 0.5), line);
            drawn.items.push(circle(centre, radius, None, Some(Stroke::solid(1.2))));
            let size = (radius * 1.5 / fonts::width(Face::Bold, 1.0, name).max(0.9)).min(radius * 1.1);
            let size = fonts::of_scale(size);
            drawn.items.extend(text_centred(centre, Face::Bold, size, name));
        }
    }
    // Beside the block, or above it behind the word of the side where the row is long.
    let beside = characters.line(&plan.beside);
    let right = block.x + block.width + TURNING;
    let (x, baseline) = if right + fonts::width(Face::Bold, BESIDE, &beside) <= width {
        (right, middle + 4.5)
    } else {
        (block.x + fonts::width(Face::Bold, WORDS, &characters.line(&plan.above)) + 24.0, SIDE - 6.0)
    };
    let beside = fonts::shortened(Face::Bold, BESIDE, &beside, (width - x).max(0.0));
    drawn.items.extend(text(x, baseline, Face::Bold, BESIDE, &beside));
    let arrow = [Position::new(58.0, middle), Position::new(4.0, middle)];
    drawn.items.extend(polyline_arrow(&arrow, 11.0, Stroke::solid(2.2)));
    drawn.items.extend(front_name(Position::new(32.0, middle - 12.0), WORDS, &plan.front, characters));
    for (name, baseline) in [(&plan.above, SIDE - 6.0), (&plan.below, block.y + height + SIDE - 4.0)] {
        let words = characters.line(name);
        drawn.items.extend(text(block.x, baseline, Face::Bold, WORDS, &words));
    }
    if let Some(turning) = &plan.turns {
        let x = if turning.at_front { FRONT + TURNING / 2.0 } else { block.x + block.width + TURNING / 2.0 };
        drawn.items.extend(turning_arrow(Position::new(x, middle), turning.clockwise));
        let words = characters.line(&turning.words);
        let x = (x - fonts::width(Face::Regular, WORDS, &words) / 2.0).max(0.0);
        let baseline = block.y + height + SIDE - 4.0;
        // Beside the word of the side, never over it.
        let side = block.x + fonts::width(Face::Bold, WORDS, &characters.line(&plan.below)) + 12.0;
        let clear = x + fonts::width(Face::Regular, WORDS, &words) < block.x - 6.0 || x > side;
        let x = if clear { x } else { side };
        drawn.items.extend(text(x, baseline, Face::Regular, WORDS, &words));
    }
    drawn
}

/// A dial with the piston that is up at its top, the others where they come from as it turns.
fn clock(plan: &PlanDrawing, centre: Position, characters: &mut Characters) -> Vec<Item> {
    let clockwise = plan.turns.as_ref().is_none_or(|turns| turns.clockwise);
    let at = |degrees: f32, radius: f32| {
        // What comes to the top next lies behind it, against the way it turns.
        let angle = (if clockwise { -90.0 - degrees } else { -90.0 + degrees }).to_radians();
        Position::new(centre.x + radius * angle.cos(), centre.y + radius * angle.sin())
    };
    let mut items = vec![circle(centre, DIAL, None, Some(Stroke::solid(0.8)))];
    for (degrees, names) in &plan.clock {
        let degrees = *degrees as f32;
        let end = at(degrees, DIAL);
        items.push(Item::Line { from: centre, to: end, stroke: Stroke::solid(2.4) });
        items.push(circle(end, 3.0, Some(Ink::Black), None));
        let names = characters.line(names);
        // Words beside the dial stand clear of it, however long.
        let half = fonts::width(Face::Bold, WORDS, &names) / 2.0;
        let mut middle = at(degrees, DIAL + 10.0);
        let across = (middle.x - centre.x) / (DIAL + 10.0);
        middle.x += across * (half - 4.0).max(0.0);
        items.extend(text_centred(middle, Face::Bold, WORDS, &names));
    }
    let way: Vec<Position> = (0..=6u8).map(|step| at(40.0 - 12.0 * f32::from(step), DIAL * 0.55)).collect();
    items.extend(polyline_arrow(&way, 7.0, Stroke::solid(1.4)));
    items
}

/// Most of a circle with a head at its end, as it is seen by somebody who stands at that end.
fn turning_arrow(centre: Position, clockwise: bool) -> Vec<Item> {
    const RADIUS: f32 = 15.0;
    // From the upper left over the top, or from the upper right.
    let points: Vec<Position> = (0..=24u8)
        .map(|step| {
            let turned = 280.0 * f32::from(step) / 24.0;
            let angle = if clockwise { 170.0 + turned } else { 10.0 - turned };
            let angle = angle.to_radians();
            Position::new(centre.x + RADIUS * angle.cos(), centre.y + RADIUS * angle.sin())
        })
        .collect();
    polyline_arrow(&points, 9.0, Stroke::solid(2.0))
}
