//! The overview of an order too long for boxes and lines on one page: steps in columns from top to bottom, each with
//! the numbers of the steps that must come before it, marked by the kind of reason.

use super::Drawn;
use super::shapes::{line, text};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Area, Item, Stroke};
use crate::page::words::{self, Characters, Type};
use crate::sheet::{OrderDrawing, StepName, Text};

/// Type of titles and numbers.
const ROW: Type = Type::new(11.0, 14.0);
/// White space between columns.
const GUTTER: f32 = 18.0;
/// Columns of a page.
const COLUMNS: usize = 2;
/// Room of a step's own number.
const NUMBER: f32 = 38.0;
/// Least room of a title that is cut.
const TITLE: f32 = 110.0;
/// Letters of a place at the end of a title.
const PLACE: usize = 16;
/// Signs of the kinds of reason, set behind the number of the step before.
const SIGNS: [&str; 4] = ["", "*", "†", "‡"];

/// A step as it is listed.
struct Entry {
    node: usize,
    number: String,
    /// Its title, in lines.
    title: Vec<String>,
    /// Steps before it, in lines; the first may stand beside the last line of the title.
    before: Vec<String>,
    beside: bool,
}

impl Entry {
    fn height(&self) -> f32 {
        ROW.leading * (self.title.len() + self.before.len() - usize::from(self.beside)) as f32 + 1.6
    }
}

/// Pictures of the order, each to be continued by the next, with the area of each node by its index.
pub(super) fn draw(
    order: &OrderDrawing,
    width: f32,
    height: f32,
    characters: &mut Characters,
) -> Vec<(Drawn, Vec<(Area, usize)>)> {
    let column_width = (width - GUTTER * (COLUMNS - 1) as f32) / COLUMNS as f32;
    let key = key(order, width, characters);
    let room = height - key.height - 8.0;
    // Whole titles, unless that takes more pages than titles cut to a line.
    let whole = columns(entries(order, column_width, false, characters), room);
    let cut = columns(entries(order, column_width, true, characters), room);
    let pages = |columns: &[Vec<Entry>]| columns.len().div_ceil(COLUMNS);
    let columns = if pages(&whole) > pages(&cut) { cut } else { whole };
    let mut pictures = Vec::new();
    for (index, page) in columns.chunks(COLUMNS).enumerate() {
        let mut drawn = Drawn { items: Vec::new(), width, height: 0.0 };
        let mut areas = Vec::new();
        let top = if index == 0 { key.height + 8.0 } else { 0.0 };
        if index == 0 {
            drawn.items.extend(key.items.iter().cloned());
        }
        for (place, column) in page.iter().enumerate() {
            let x = place as f32 * (column_width + GUTTER);
            let mut y = top;
            for entry in column {
                paint(&mut drawn.items, entry, x, y, column_width);
                areas.push((Area::new(x, y, column_width, ROW.leading), entry.node));
                y += entry.height();
                drawn.items.push(line(x, y, x + column_width, y, Stroke::solid(0.25)));
            }
            drawn.height = drawn.height.max(y + 1.0);
        }
        pictures.push((drawn, areas));
    }
    pictures
}

/// Columns of about the same height, unless they need more than a page.
fn columns(entries: Vec<Entry>, room: f32) -> Vec<Vec<Entry>> {
    let total: f32 = entries.iter().map(Entry::height).sum();
    let tallest = entries.iter().map(Entry::height).fold(0.0, f32::max);
    let aim = (total / COLUMNS as f32 + tallest).min(room).max(tallest);
    let mut columns: Vec<Vec<Entry>> = vec![Vec::new()];
    let mut used = 0.0;
    for entry in entries {
        if used + entry.height() > aim + 0.01 && used > 0.0 {
            columns.push(Vec::new());
            used = 0.0;
        }
        used += entry.height();
        if let Some(column) = columns.last_mut() {
            column.push(entry);
        }
    }
    columns
}

fn entries(order: &OrderDrawing, width: f32, cut: bool, characters: &mut Characters) -> Vec<Entry> {
    let mut before: Vec<Vec<(usize, usize)>> = vec![Vec::new(); order.nodes.len()];
    for (from, to, kind) in &order.links {
        if let Some(list) = before.get_mut(*to).filter(|_| *from < order.nodes.len()) {
            list.push((*from, *kind));
        }
    }
    before
        .into_iter()
        .enumerate()
        .map(|(node, mut before)| {
            before.sort_unstable();
            let step = &order.nodes[node].step;
            let signed: Vec<String> = before
                .iter()
                .map(|(from, kind)| {
                    format!("{}{}", order.nodes[*from].step.number, SIGNS[kind % SIGNS.len()])
                })
                .collect();
            let words =
                if signed.is_empty() { String::new() } else { format!("after {}", signed.join(", ")) };
            let mut lines = |words: String, width: f32| -> Vec<String> {
                words::set(&Text::plain(words), &ROW, width, characters)
                    .iter()
                    .map(|line| line.parts.iter().map(|part| part.words.as_str()).collect::<String>())
                    .map(|line| line.trim_end().to_owned())
                    .collect()
            };
            let room = width - NUMBER;
            let mut title = lines(place_whole(step), room);
            let before = lines(words, room - 8.0);
            if cut || title.is_empty() {
                // Beside one line of steps before it, if that leaves a title that says something.
                let list =
                    before.first().map_or(0.0, |line| fonts::width(Face::Regular, ROW.size, line) + 8.0);
                let own = fonts::width(Face::Regular, ROW.size, &title.join(" "));
                let beside = before.len() == 1 && own.min(TITLE) + list <= room;
                let room = if beside { room - list } else { room };
                title =
                    vec![shortened(&StepName { title: characters.line(&step.title), ..step.clone() }, room)];
            }
            let long =
                |line: Option<&String>| line.map_or(0.0, |line| fonts::width(Face::Regular, ROW.size, line));
            let beside = before.len() == 1 && long(title.last()) + 8.0 + long(before.first()) <= room;
            Entry { node, number: characters.line(&step.number), title, before, beside }
        })
        .collect()
}

/// A title whose place at its end is not parted.
fn place_whole(step: &StepName) -> String {
    if step.position.chars().count() <= PLACE {
        StepName { position: step.position.replace(' ', "\u{a0}"), ..step.clone() }.words()
    } else {
        step.words()
    }
}

/// A title cut to a line; the place that ends it stays, since it is all that tells the same work on several apart.
fn shortened(step: &StepName, room: f32) -> String {
    let whole = step.words();
    let cut = |room: f32| fonts::shortened(Face::Regular, ROW.size, &whole, room);
    let width = |words: &str| fonts::width(Face::Regular, ROW.size, words);
    let tail = width(&step.position) + 2.0;
    if !step.position.is_empty() && tail <= room * 0.5 && cut(room) != whole {
        format!("{} {}", cut(room - tail - width(" ")), step.position)
    } else {
        cut(room)
    }
}

fn paint(items: &mut Vec<Item>, entry: &Entry, x: f32, y: f32, width: f32) {
    let baseline = y + ROW.baseline();
    let number = fonts::shortened(Face::Bold, ROW.size, &entry.number, NUMBER - 4.0);
    items.extend(text(x, baseline, Face::Bold, ROW.size, &number));
    for (row, title) in entry.title.iter().enumerate() {
        items.extend(text(x + NUMBER, baseline + row as f32 * ROW.leading, Face::Regular, ROW.size, title));
    }
    for (index, before) in entry.before.iter().enumerate() {
        let row = entry.title.len() + index - usize::from(entry.beside);
        let left = x + width - fonts::width(Face::Regular, ROW.size, before);
        let baseline = baseline + row as f32 * ROW.leading;
        items.extend(text(left, baseline, Face::Regular, ROW.size, before));
    }
}

/// What the signs mean.
fn key(order: &OrderDrawing, width: f32, characters: &mut Characters) -> Drawn {
    let used = |kind: usize| order.links.iter().any(|(_, _, own)| *own == kind);
    let kinds: Vec<String> = order
        .kinds
        .iter()
        .enumerate()
        .filter(|(kind, _)| used(*kind))
        .map(|(kind, name)| format!("“after\u{a0}5{}”: {name}", SIGNS[kind % SIGNS.len()]))
        .collect();
    let mut drawn = Drawn { items: Vec::new(), width, height: 0.0 };
    for line in words::set(&Text::plain(kinds.join("   ·   ")), &ROW, width, characters) {
        for part in &line.parts {
            let baseline = drawn.height + ROW.baseline();
            drawn.items.extend(text(part.x, baseline, part.face, ROW.size, &part.words));
        }
        drawn.height += ROW.leading;
    }
    drawn
}
