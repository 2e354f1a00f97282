//! Where a bore or a journal is read: its edge, and to scale from there the distances of its stations. A bore stands, a
//! journal lies; how wide it is doesn't count.

use super::shapes::{line, text, vertical};
use super::{Drawn, text_centred};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Dash, Position, Stroke};
use crate::page::words::Characters;
use crate::sheet::StationsDrawing;

/// Points to a millimetre of paper.
const MILLIMETRE: f32 = 72.0 / 25.4;
/// Scales that are drawn: one to so many.
const SCALES: [f32; 9] = [0.5, 1.0, 1.5, 2.0, 2.5, 4.0, 5.0, 10.0, 20.0];
/// Most of the width that the stations may take.
const SHARE: f32 = 0.7;
/// Most that a bore may be deep, how far it goes on below its last station, and how wide it is drawn.
const DEEPEST: f32 = 100.0;
const BEYOND: f32 = 12.0;
const BORE: f32 = 84.0;
/// Height of the part.
const PART: f32 = 20.0;
/// Size of words.
const WORDS: f32 = 11.0;

/// Draws the stations in at most this width, and gives their scale in words.
pub(in crate::page) fn draw(
    stations: &StationsDrawing,
    width: f32,
    characters: &mut Characters,
) -> (Drawn, String) {
    if stations.upright {
        return upright(stations, width, characters);
    }
    let deepest = stations.stations.iter().map(|station| station.at as f32).fold(0.0, f32::max);
    let scale = SCALES
        .into_iter()
        .find(|scale| deepest * MILLIMETRE / scale <= width * SHARE)
        .unwrap_or(deepest * MILLIMETRE / (width * SHARE));
    let mut drawn = Drawn { items: Vec::new(), width, height: 0.0 };
    let (left, top) = (34.0, 30.0);
    drawn.items.extend(text_centred(Position::new(left / 2.0, top + PART / 2.0), Face::Bold, WORDS, "edge"));
    drawn.items.push(vertical(left, top - 4.0, 2.2, PART + 8.0));
    let end = left + deepest * MILLIMETRE / scale + 22.0;
    for y in [top, top + PART] {
        drawn.items.push(line(left, y, end, y, Stroke::solid(1.0)));
    }
    // Names over each other's place step up a line.
    let mut taken = [f32::NEG_INFINITY; 2];
    for station in &stations.stations {
        let x = left + station.at as f32 * MILLIMETRE / scale;
        drawn.items.push(line(x, top - 3.0, x, top + PART + 3.0, Stroke::solid(1.4)));
        let name = characters.line(&station.name);
        let half = fonts::width(Face::Bold, WORDS, &name).min(width - left - 4.0) / 2.0;
        let start = (x - half).min(width - 2.0 * half).max(left + 4.0);
        let row = usize::from(start < taken[0] + 6.0);
        // A third name at one place has no room: it would lie over another.
        if start < taken[row] + 6.0 {
            continue;
        }
        let name = fonts::shortened(Face::Bold, WORDS, &name, 2.0 * half + 0.1);
        taken[row] = start + 2.0 * half;
        let baseline = top - 5.0 - 13.0 * row as f32;
        drawn.items.extend(text(start, baseline, Face::Bold, WORDS, &name));
    }
    drawn.height = top + PART + 5.0;
    (drawn, in_words(scale))
}

/// A scale in words: one to so many.
fn in_words(scale: f32) -> String {
    let tenths = |ratio: f32| (ratio * 10.0).round() / 10.0;
    if scale < 1.0 {
        format!("scale {} : 1", tenths(1.0 / scale))
    } else {
        format!("scale 1 : {}", tenths(scale))
    }
}

/// A bore cut open as it stands, its edge above: the stations across it, each with its name at the right.
fn upright(stations: &StationsDrawing, width: f32, characters: &mut Characters) -> (Drawn, String) {
    let deepest = stations.stations.iter().map(|station| station.at as f32).fold(0.0, f32::max);
    let room = DEEPEST - BEYOND;
    let scale = SCALES
        .into_iter()
        .find(|scale| deepest * MILLIMETRE / scale <= room)
        .unwrap_or(deepest * MILLIMETRE / room);
    let (left, top) = (40.0, 8.0);
    let (right, foot) = (left + BORE, top + deepest * MILLIMETRE / scale + BEYOND);
    let mut drawn = Drawn { items: Vec::new(), width, height: foot + 2.0 };
    drawn.items.extend(text(2.0, top + 4.0, Face::Bold, WORDS, "edge"));
    for x in [left, right] {
        drawn.items.push(vertical(x, top, 2.2, foot - top));
    }
    for (from, to) in [(left - 10.0, left + 2.0), (right, right + 12.0)] {
        drawn.items.push(line(from, top, to, top, Stroke::solid(2.2)));
    }
    let mut taken = f32::NEG_INFINITY;
    for station in &stations.stations {
        let y = top + station.at as f32 * MILLIMETRE / scale;
        let dash = Stroke { dash: Dash::Dashed, ..Stroke::solid(1.0) };
        drawn.items.push(line(left + 2.2, y, right, y, dash));
        // Names of stations close to each other step down, each with a line to its own.
        let at = y.max(taken + WORDS + 2.0);
        taken = at;
        drawn.items.push(line(right + 2.2, y, right + 16.0, at, Stroke::solid(0.8)));
        let name = characters.line(&station.name);
        let name = fonts::shortened(Face::Bold, WORDS, &name, width - right - 20.0);
        drawn.items.extend(text(right + 19.0, at + 4.0, Face::Bold, WORDS, &name));
        drawn.height = drawn.height.max(at + 8.0);
    }
    (drawn, in_words(scale))
}
