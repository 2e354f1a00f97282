//! The overview of the order: steps in layers from top to bottom, links as lines, a line style per kind of reason.

use super::Drawn;
use super::shapes::{line, polyline_arrow, rectangle, text};
use crate::packet::sheet::{OrderDrawing, Text};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Area, Dash, Ink, Item, Position, Stroke};
use crate::page::words::{self, CAPITALS, Characters, Type};

/// Type of labels.
const LABEL: Type = Type::new(9.0, 11.0);
/// Widest box.
const WIDEST: f32 = 130.0;
/// Narrowest box: a layer with more nodes goes into several rows.
const NARROWEST: f32 = 74.0;
/// White space between boxes of a row.
const GAP: f32 = 12.0;
/// White space between rows, where the links run.
const CHANNEL: f32 = 26.0;
/// White space inside a box.
const PADDING: f32 = 4.0;

/// Pictures of the order, each to be continued by the next, with the area of each node by its index.
pub(in crate::page) fn draw(
    order: &OrderDrawing,
    width: f32,
    height: f32,
    characters: &mut Characters,
) -> Vec<(Drawn, Vec<(Area, usize)>)> {
    if order.nodes.is_empty() {
        return Vec::new();
    }
    let key = key(order, width, characters);
    let rows = rows(order, width);
    let mut bands: Vec<Vec<Row>> = vec![Vec::new()];
    let mut used = key.height + CHANNEL;
    for row in rows {
        let row = Row::new(row, order, width, characters);
        if used + row.height + CHANNEL > height && bands.last().is_some_and(|band| !band.is_empty()) {
            bands.push(Vec::new());
            used = CHANNEL;
        }
        used += row.height + CHANNEL;
        if let Some(band) = bands.last_mut() {
            band.push(row);
        }
    }
    let mut places: Vec<(usize, Area)> = vec![(0, Area::default()); order.nodes.len()];
    let mut heights = Vec::new();
    for (band, rows) in bands.iter().enumerate() {
        let mut y = if band == 0 { key.height + 6.0 } else { CHANNEL };
        for row in rows {
            for (node, x, box_width, box_height) in row.boxes() {
                places[node] = (band, Area::new(x, y, box_width, box_height));
            }
            y += row.height + CHANNEL;
        }
        let last = band + 1 == bands.len();
        heights.push(if last { y - CHANNEL + 2.0 } else { y });
    }
    let mut drawings = Vec::new();
    for (band, rows) in bands.iter().enumerate() {
        let mut drawn = Drawn { items: Vec::new(), width, height: heights[band] };
        if band == 0 {
            drawn.items.extend(key.items.iter().cloned());
        }
        for (from, to, kind) in &order.links {
            if let (Some(from), Some(to)) = (places.get(*from), places.get(*to)) {
                drawn.items.extend(link(*from, *to, *kind, band, heights[band]));
            }
        }
        let mut areas = Vec::new();
        for row in rows {
            for (node, lines) in &row.nodes {
                let area = places[*node].1;
                drawn.items.push(Item::Rectangle { area, fill: Some(Ink::White), stroke: None });
                drawn.items.push(rectangle(area, 0.8));
                for (index, words) in lines.iter().enumerate() {
                    let baseline = area.y + PADDING + index as f32 * LABEL.leading + LABEL.baseline();
                    drawn.items.extend(text(
                        area.x + PADDING + 1.0,
                        baseline,
                        Face::Regular,
                        LABEL.size,
                        words,
                    ));
                }
                areas.push((area, *node));
            }
        }
        drawings.push((drawn, areas));
    }
    drawings
}

/// Nodes side by side, each with the lines of its label.
struct Row {
    nodes: Vec<(usize, Vec<String>)>,
    box_width: f32,
    left: f32,
    height: f32,
}

impl Row {
    fn new(nodes: Vec<usize>, order: &OrderDrawing, width: f32, characters: &mut Characters) -> Self {
        let count = nodes.len() as f32;
        let box_width = ((width - GAP * (count - 1.0)) / count).min(WIDEST);
        let left = (width - box_width * count - GAP * (count - 1.0)) / 2.0;
        let nodes: Vec<(usize, Vec<String>)> = nodes
            .into_iter()
            .map(|node| {
                let label = Text::plain(order.nodes[node].label.clone());
                let lines = words::set(&label, &LABEL, box_width - 2.0 * PADDING - 2.0, characters);
                let lines = lines.iter().map(|line| line.parts.iter().map(|p| p.words.as_str()).collect());
                (node, lines.collect())
            })
            .collect();
        let lines = nodes.iter().map(|(_, lines)| lines.len()).max().unwrap_or(0).max(1);
        Row { nodes, box_width, left, height: lines as f32 * LABEL.leading + 2.0 * PADDING }
    }

    fn boxes(&self) -> impl Iterator<Item = (usize, f32, f32, f32)> + '_ {
        self.nodes.iter().enumerate().map(|(place, (node, lines))| {
            let x = self.left + place as f32 * (self.box_width + GAP);
            (*node, x, self.box_width, lines.len().max(1) as f32 * LABEL.leading + 2.0 * PADDING)
        })
    }
}

/// Nodes by layer and place; a layer too wide for the page goes into rows of about the same length.
fn rows(order: &OrderDrawing, width: f32) -> Vec<Vec<usize>> {
    let mut sorted: Vec<usize> = (0..order.nodes.len()).collect();
    sorted.sort_by_key(|node| (order.nodes[*node].layer, order.nodes[*node].place, *node));
    let most = (((width + GAP) / (NARROWEST + GAP)).floor() as usize).max(1);
    let mut rows = Vec::new();
    for layer in sorted.chunk_by(|a, b| order.nodes[*a].layer == order.nodes[*b].layer) {
        let count = layer.len().div_ceil(most);
        rows.extend(layer.chunks(layer.len().div_ceil(count)).map(<[usize]>::to_vec));
    }
    rows
}

fn style(kind: usize) -> Stroke {
    let dash = [Dash::Solid, Dash::Dashed, Dash::Dotted, Dash::DashDot][kind % 4];
    Stroke { width: if kind % 8 < 4 { 0.9 } else { 1.8 }, ink: Ink::Black, dash }
}

/// The part of a link that lies in a band: from box to box, or from and to the edges of the band.
fn link(from: (usize, Area), to: (usize, Area), kind: usize, band: usize, height: f32) -> Vec<Item> {
    let stroke = style(kind);
    let start = Position::new(from.1.x + from.1.width / 2.0, from.1.y + from.1.height);
    let end = Position::new(to.1.x + to.1.width / 2.0, to.1.y);
    let crossing = end.x;
    if from.0 == band && to.0 == band {
        polyline_arrow(&[start, end], 6.0, stroke)
    } else if from.0 == band && to.0 > band {
        vec![line(start.x, start.y, crossing, height, stroke)]
    } else if to.0 == band && from.0 < band {
        polyline_arrow(&[Position::new(crossing, 0.0), end], 6.0, stroke)
    } else if from.0 < band && band < to.0 {
        vec![line(crossing, 0.0, crossing, height, stroke)]
    } else {
        Vec::new()
    }
}

/// Which line is which kind of reason.
fn key(order: &OrderDrawing, width: f32, characters: &mut Characters) -> Drawn {
    const SIZE: f32 = 11.0;
    const ROW: f32 = 18.0;
    let mut drawn = Drawn::default();
    let (mut x, mut y) = (0.0, 0.0);
    for (kind, name) in order.kinds.iter().enumerate() {
        let words = fonts::shortened(Face::Regular, SIZE, &characters.line(name), width - 42.0);
        let entry = 42.0 + fonts::width(Face::Regular, SIZE, &words) + 20.0;
        if x > 0.0 && x + entry - 20.0 > width {
            x = 0.0;
            y += ROW;
        }
        let middle = y + ROW / 2.0;
        let ends = [Position::new(x, middle), Position::new(x + 34.0, middle)];
        drawn.items.extend(polyline_arrow(&ends, 6.0, style(kind)));
        drawn.items.extend(text(x + 42.0, middle + CAPITALS * SIZE / 2.0, Face::Regular, SIZE, &words));
        x += entry;
        drawn.height = y + ROW;
    }
    drawn
}
