//! The overview of the order: steps in layers from top to bottom, links as lines, a line style per kind of reason; where
//! that would go over a page or be a thicket, a list.

use super::Drawn;
use super::shapes::{line, polyline_arrow, rectangle, text};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Area, Dash, Ink, Item, Position, Stroke};
use crate::page::words::{self, CAPITALS, Characters, Type};
use crate::sheet::{OrderDrawing, Text};

/// Type of labels.
const LABEL: Type = Type::new(11.0, 13.0);
/// Widest box.
const WIDEST: f32 = 140.0;
/// Narrowest box: a layer with more nodes goes into several rows.
const NARROWEST: f32 = 86.0;
/// White space between boxes of a row.
const GAP: f32 = 12.0;
/// White space between rows, where the links run.
const CHANNEL: f32 = 26.0;
/// More steps than this are a thicket of lines.
const DRAWN: usize = 20;
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
    if order.nodes.len() > DRAWN {
        return super::order_list::draw(order, width, height, characters);
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
    if bands.len() > 1 {
        return super::order_list::draw(order, width, height, characters);
    }
    let mut places: Vec<Place> = vec![Place::default(); order.nodes.len()];
    let mut heights = Vec::new();
    let mut rows: Vec<Passage> = Vec::new();
    for (band, band_rows) in bands.iter().enumerate() {
        let mut y = if band == 0 { key.height + 6.0 } else { CHANNEL };
        for row in band_rows {
            for (node, x, box_width, box_height) in row.boxes() {
                places[node] = Place { row: rows.len(), area: Area::new(x, y, box_width, box_height) };
            }
            rows.push(Passage { band, y, height: row.height, gaps: row.gaps() });
            y += row.height + CHANNEL;
        }
        let last = band + 1 == bands.len();
        heights.push(if last { y - CHANNEL + 2.0 } else { y });
    }
    let routes = routes(order, &places, &rows, &heights);
    let mut drawings = Vec::new();
    for (band, rows) in bands.iter().enumerate() {
        let mut drawn = Drawn { items: Vec::new(), width, height: heights[band] };
        if band == 0 {
            drawn.items.extend(key.items.iter().cloned());
        }
        for (kind, route) in &routes {
            let points: Vec<Position> =
                route.iter().filter(|(b, _)| *b == band).map(|(_, point)| *point).collect();
            if route.last().is_some_and(|(last, _)| *last == band) {
                drawn.items.extend(polyline_arrow(&points, 6.0, style(*kind)));
            } else {
                drawn
                    .items
                    .extend(points.windows(2).map(|p| line(p[0].x, p[0].y, p[1].x, p[1].y, style(*kind))));
            }
        }
        let mut areas = Vec::new();
        for row in rows {
            for (node, lines) in &row.nodes {
                let area = places[*node].area;
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
        // At both sides there is room for links to pass.
        let box_width = ((width - GAP * (count + 1.0)) / count).min(WIDEST);
        let left = (width - box_width * count - GAP * (count - 1.0)) / 2.0;
        let nodes: Vec<(usize, Vec<String>)> = nodes
            .into_iter()
            .map(|node| {
                let label = Text::plain(order.nodes[node].step.to_string());
                let lines = words::set(&label, &LABEL, box_width - 2.0 * PADDING - 2.0, characters);
                let lines = lines.iter().map(|line| line.parts.iter().map(|p| p.words.as_str()).collect());
                (node, lines.collect())
            })
            .collect();
        let lines = nodes.iter().map(|(_, lines)| lines.len()).max().unwrap_or(0).max(1);
        Row { nodes, box_width, left, height: lines as f32 * LABEL.leading + 2.0 * PADDING }
    }

    /// The middle of each gap between boxes, and a place beside the first and the last.
    fn gaps(&self) -> Vec<f32> {
        (0..=self.nodes.len())
            .map(|place| self.left + place as f32 * (self.box_width + GAP) - GAP / 2.0)
            .collect()
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
    let most = (((width - GAP) / (NARROWEST + GAP)).floor() as usize).max(1);
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

/// Where a box stands.
#[derive(Clone, Copy, Default)]
struct Place {
    row: usize,
    area: Area,
}

/// A row as links see it: where they can pass between its boxes.
struct Passage {
    band: usize,
    y: f32,
    height: f32,
    gaps: Vec<f32>,
}

/// The way of each link as points in bands, with its kind: from the lower edge of a box, through the gaps of the
/// rows between, to the upper edge of another.
fn routes(
    order: &OrderDrawing,
    places: &[Place],
    rows: &[Passage],
    heights: &[f32],
) -> Vec<(usize, Vec<(usize, Position)>)> {
    let links: Vec<(Place, Place, usize)> = order
        .links
        .iter()
        .filter_map(|(from, to, kind)| Some((*places.get(*from)?, *places.get(*to)?, *kind)))
        .collect();
    let starts = ports(&links, |link| (link.0, link.1));
    let ends = ports(&links, |link| (link.1, link.0));
    let mut routes = Vec::with_capacity(links.len());
    for (index, (from, to, kind)) in links.iter().enumerate() {
        let start = Position::new(starts[index], from.area.y + from.area.height);
        let end = Position::new(ends[index], to.area.y);
        let mut route = vec![(rows[from.row].band, start)];
        let between = (from.row + 1..to.row).len() as f32 + 1.0;
        for (step, row) in rows.iter().take(to.row).skip(from.row + 1).enumerate() {
            let wanted = start.x + (end.x - start.x) * (step as f32 + 1.0) / between;
            let near = |gap: &f32| (gap - wanted).abs();
            let gap = row.gaps.iter().copied().min_by(|a, b| near(a).total_cmp(&near(b))).unwrap_or(wanted);
            // Links that share a gap run beside each other.
            let x = gap + (index % 3) as f32 * 2.6 - 2.6;
            pass(&mut route, heights, row.band, Position::new(x, row.y - 5.0));
            pass(&mut route, heights, row.band, Position::new(x, row.y + row.height + 5.0));
        }
        pass(&mut route, heights, rows[to.row].band, end);
        routes.push((*kind, route));
    }
    routes
}

/// Goes on to a point, over the edge from one band to the next if need be.
fn pass(route: &mut Vec<(usize, Position)>, heights: &[f32], band: usize, to: Position) {
    if let Some((last, _)) = route.last().copied()
        && last != band
    {
        route.push((last, Position::new(to.x, heights[last])));
        route.push((band, Position::new(to.x, 0.0)));
    }
    route.push((band, to));
}

/// Where each link touches the box at one of its ends: side by side, in the order of where they come from.
fn ports(links: &[(Place, Place, usize)], ends: fn(&(Place, Place, usize)) -> (Place, Place)) -> Vec<f32> {
    let middle = |area: Area| area.x + area.width / 2.0;
    let key = |place: Place| (place.row, place.area.x.to_bits());
    let mut sorted: Vec<usize> = (0..links.len()).collect();
    sorted.sort_by(|a, b| {
        let ((own_a, other_a), (own_b, other_b)) = (ends(&links[*a]), ends(&links[*b]));
        key(own_a).cmp(&key(own_b)).then(middle(other_a.area).total_cmp(&middle(other_b.area))).then(a.cmp(b))
    });
    let mut ports = vec![0.0; links.len()];
    for group in sorted.chunk_by(|a, b| key(ends(&links[*a]).0) == key(ends(&links[*b]).0)) {
        for (place, link) in group.iter().enumerate() {
            let area = ends(&links[*link]).0.area;
            ports[*link] = area.x + area.width * (place as f32 + 1.0) / (group.len() as f32 + 1.0);
        }
    }
    ports
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
