//! Bars over time in rows.

use super::Drawn;
use super::shapes::{line, rectangle, text, text_centred};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Area, Dash, Ink, Position, Stroke};
use crate::page::words::{self, CAPITALS, Characters, Type};
use crate::sheet::{BarDrawing, Text};

/// Type of labels inside bars.
const LABEL: Type = Type::new(11.0, 12.5);
/// Type of names of rows and of times.
const NAME: f32 = 11.0;
/// Height of a bar.
const BAR: f32 = 30.0;
/// Height of the scale of times.
const SCALE: f32 = 22.0;
/// Steps of the scale in minutes.
const STEPS: [f64; 10] = [5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 240.0, 480.0, 1440.0, 14400.0];

/// Draws the bars in at most this room.
pub(in crate::page) fn draw(
    drawing: &BarDrawing,
    width: f32,
    height: f32,
    characters: &mut Characters,
) -> Drawn {
    let bars: Vec<_> = drawing
        .bars
        .iter()
        .filter(|(row, start, end, _)| {
            *row < drawing.rows.len() && start.is_finite() && end.is_finite() && *start >= 0.0 && end >= start
        })
        .collect();
    if drawing.rows.is_empty() {
        return Drawn::default();
    }
    let latest = bars.iter().map(|(_, _, end, _)| *end).fold(1.0, f64::max);
    let names: Vec<String> = drawing.rows.iter().map(|name| characters.line(name)).collect();
    let widest = names.iter().map(|name| fonts::width(Face::Bold, NAME, name)).fold(0.0, f32::max);
    let left = widest.min(width * 0.25) + 10.0;
    let row = (BAR + 10.0).min((height - SCALE) / drawing.rows.len() as f32);
    let bar = (row - 6.0).max(2.0);
    let bottom = row * drawing.rows.len() as f32;
    let room = width - left - 2.0;
    let at = |minutes: f64| left + (minutes / latest) as f32 * room;
    let mut drawn = Drawn { items: Vec::new(), width, height: bottom + SCALE };
    let step = STEPS.into_iter().find(|step| (step / latest) as f32 * room >= 52.0).unwrap_or(latest);
    let mut time = 0.0;
    while time <= latest {
        let x = at(time);
        let stroke = Stroke { width: 0.4, ink: Ink::Black, dash: Dash::Dotted };
        drawn.items.push(line(x, 0.0, x, bottom, stroke));
        let words = clock(drawing.first + time);
        let half = fonts::width(Face::Regular, NAME, &words) / 2.0;
        if x + half <= width {
            let middle = Position::new(x, bottom + SCALE / 2.0);
            drawn.items.extend(text_centred(middle, Face::Regular, NAME, &words));
        }
        time += step;
    }
    for (index, name) in names.iter().enumerate() {
        let middle = index as f32 * row + row / 2.0;
        let shown = fonts::shortened(Face::Bold, NAME, name, left - 10.0);
        drawn.items.extend(text(0.0, middle + CAPITALS * NAME / 2.0, Face::Bold, NAME, &shown));
    }
    for (index, start, end, label) in bars {
        let top = *index as f32 * row + (row - bar) / 2.0;
        let area = Area::new(at(*start), top, (at(*end) - at(*start)).max(1.0), bar);
        drawn.items.push(crate::page::pages::Item::Rectangle { area, fill: Some(Ink::White), stroke: None });
        drawn.items.push(rectangle(area, 0.9_f32.min(area.width / 2.0)));
        let inside = area.width - 6.0;
        let most = ((bar - 2.0) / LABEL.leading).floor() as usize;
        let label = Text::plain(label.clone());
        if inside < words::widest_word(&label, &LABEL, characters).min(60.0) {
            continue;
        }
        let lines = words::set(&label, &LABEL, inside, characters);
        let shown = lines.len().min(most);
        let first = top + (bar - shown as f32 * LABEL.leading) / 2.0;
        for (place, set) in lines.iter().take(shown).enumerate() {
            let words: String = set.parts.iter().map(|part| part.words.as_str()).collect();
            let baseline = first + place as f32 * LABEL.leading + LABEL.baseline();
            drawn.items.extend(text(area.x + 3.0, baseline, Face::Regular, LABEL.size, &words));
        }
    }
    drawn
}

/// Minutes as hours and minutes.
fn clock(minutes: f64) -> String {
    let whole = minutes.round() as u64;
    format!("{}:{:02} h", whole / 60, whole % 60)
}
