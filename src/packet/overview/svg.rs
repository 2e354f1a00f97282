//! The picture as SVG: boxes in layers, lines round the boxes between them, reasons as line styles and as texts that
//! show when the pointer rests on a line. Units are those of the drawing, about a screen pixel each.

use std::fmt::Write;

use super::{KINDS, Picture, layers};

const BOX_WIDTH: f64 = 168.0;
const BOX_HEIGHT: f64 = 44.0;
const GAP: f64 = 18.0;
/// Width that a line takes where it passes a layer.
const LANE: f64 = 14.0;
const LAYER: f64 = 92.0;
const MARGIN: f64 = 28.0;
const HEAD: f64 = 118.0;
/// Dashes by kind of reason; a joint rule is told by its width.
const DASHES: [&str; 4] = ["none", "7 4", "none", "2 3"];
const WIDTHS: [f64; 4] = [1.3, 1.3, 2.6, 1.3];

/// The picture as SVG.
pub(crate) fn svg(picture: &Picture) -> String {
    let pairs: Vec<(usize, usize)> = picture.links.iter().map(|(from, to, _, _)| (*from, *to)).collect();
    let routed = Routed::of(picture.nodes.len(), &pairs);
    let height = HEAD + routed.depth as f64 * LAYER + MARGIN;
    let width = routed.width + 2.0 * MARGIN;
    let mut out = String::new();
    // Writing to a String can't fail.
    let _ = writeln!(
        out,
        r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0} {height:.0}" width="{width:.0}" height="{height:.0}" font-family="sans-serif">"#
    );
    let _ = writeln!(out, "<title>{}</title>", escaped(&picture.title));
    let _ = writeln!(out, r##"<rect width="100%" height="100%" fill="#fff"/>"##);
    let _ = writeln!(
        out,
        r#"<text x="{MARGIN}" y="34" font-size="20" font-weight="bold">{}</text>"#,
        escaped(&picture.title)
    );
    legend(&mut out);
    for (link, points) in picture.links.iter().zip(&routed.lines) {
        let (_, _, kind, reason) = link;
        let dash = DASHES[*kind];
        let _ = writeln!(
            out,
            r##"<path d="{}" fill="none" stroke="#111" stroke-width="{}" stroke-dasharray="{dash}"><title>{}</title></path>"##,
            path(points),
            WIDTHS[*kind],
            escaped(&format!(
                "{} before {}: {reason}",
                picture.nodes[link.0].number, picture.nodes[link.1].number
            ))
        );
    }
    for (name, (x, y)) in picture.nodes.iter().zip(&routed.boxes) {
        node(&mut out, &name.number, &name.words(), *x + MARGIN, *y);
    }
    out.push_str("</svg>\n");
    out
}

fn legend(out: &mut String) {
    for (kind, name) in KINDS.iter().enumerate() {
        let x = MARGIN + 300.0 * (kind % 2) as f64;
        let y = 60.0 + 22.0 * (kind / 2) as f64;
        let dash = DASHES[kind];
        let _ = writeln!(
            out,
            r##"<path d="M{x} {y} h44" stroke="#111" stroke-width="{}" stroke-dasharray="{dash}"/><text x="{}" y="{}" font-size="13">{}</text>"##,
            WIDTHS[kind],
            x + 52.0,
            y + 4.5,
            escaped(name)
        );
    }
}

fn node(out: &mut String, number: &str, title: &str, x: f64, y: f64) {
    let _ = writeln!(
        out,
        r##"<g><title>{}</title><rect x="{:.1}" y="{:.1}" width="{BOX_WIDTH}" height="{BOX_HEIGHT}" rx="3" fill="#fff" stroke="#111"/>"##,
        escaped(title),
        x - BOX_WIDTH / 2.0,
        y
    );
    let _ = writeln!(
        out,
        r#"<text x="{:.1}" y="{:.1}" font-size="18" font-weight="bold">{}</text>"#,
        x - BOX_WIDTH / 2.0 + 7.0,
        y + 28.0,
        escaped(number)
    );
    let indent = 16.0 + 10.5 * number.chars().count() as f64;
    for (line, text) in two_lines(title, ((BOX_WIDTH - indent - 6.0) / 5.9) as usize).iter().enumerate() {
        let _ = writeln!(
            out,
            r#"<text x="{:.1}" y="{:.1}" font-size="11">{}</text>"#,
            x - BOX_WIDTH / 2.0 + indent,
            y + 18.0 + 14.0 * line as f64,
            escaped(text)
        );
    }
    out.push_str("</g>\n");
}

/// At most two lines of so many characters.
fn two_lines(title: &str, characters: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in title.split(' ') {
        let room = lines.last().map_or(0, |line| line.chars().count());
        if room > 0 && room + 1 + word.chars().count() > characters {
            if lines.len() == 2 {
                lines[1].push('…');
                return lines;
            }
            lines.push(String::new());
        }
        let line = lines.last_mut().expect("there is one from the start");
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    lines
}

fn path(points: &[(f64, f64)]) -> String {
    let mut out = String::new();
    let mut before: Option<(f64, f64)> = None;
    for (x, y) in points.iter().map(|(x, y)| (x + MARGIN, *y)) {
        match before {
            None => {
                let _ = write!(out, "M{x:.1} {y:.1}");
            }
            // Lines run straight down past a layer and bend between layers.
            Some((px, _)) if (px - x).abs() < 0.05 => {
                let _ = write!(out, " L{x:.1} {y:.1}");
            }
            Some((px, py)) => {
                let bend = (y - py) / 2.0;
                let _ = write!(out, " C{px:.1} {:.1} {x:.1} {:.1} {x:.1} {y:.1}", py + bend, y - bend);
            }
        }
        before = Some((x, y));
    }
    out
}

/// Where the boxes and the bends of the lines lie. A link over several layers gets a lane in each that it passes.
struct Routed {
    depth: usize,
    width: f64,
    /// Middle and top of each box.
    boxes: Vec<(f64, f64)>,
    /// Points of each line.
    lines: Vec<Vec<(f64, f64)>>,
}

impl Routed {
    fn of(nodes: usize, links: &[(usize, usize)]) -> Routed {
        let mut layer = layers::layers(nodes, links);
        let mut edges = Vec::new();
        let mut chains = Vec::new();
        for (from, to) in links {
            let mut chain = vec![*from];
            for between in layer[*from] + 1..layer[*to] {
                chain.push(layer.len());
                layer.push(between);
            }
            chain.push(*to);
            edges.extend(chain.windows(2).map(|pair| (pair[0], pair[1])));
            chains.push(chain);
        }
        let mut rows = layers::rows(&layer);
        layers::sort_rows(&mut rows, layer.len(), &edges);
        let span = |node: usize| if node < nodes { BOX_WIDTH + GAP } else { LANE };
        let row_width = |row: &Vec<usize>| row.iter().map(|node| span(*node)).sum::<f64>();
        let width = rows.iter().map(row_width).fold(BOX_WIDTH, f64::max);
        let mut middle = vec![0.0; layer.len()];
        for row in &rows {
            let mut x = (width - row_width(row)) / 2.0;
            for node in row {
                middle[*node] = x + span(*node) / 2.0;
                x += span(*node);
            }
        }
        let top = |node: usize| HEAD + layer[node] as f64 * LAYER;
        let boxes = (0..nodes).map(|node| (middle[node], top(node))).collect();
        let lines = chains
            .iter()
            .map(|chain| {
                let mut points = Vec::new();
                for (at, node) in chain.iter().enumerate() {
                    if at > 0 {
                        points.push((middle[*node], top(*node)));
                    }
                    if at + 1 < chain.len() {
                        points.push((middle[*node], top(*node) + BOX_HEIGHT));
                    }
                }
                points
            })
            .collect();
        Routed { depth: rows.len(), width, boxes, lines }
    }
}

/// A text as XML has it; control signs, which it can't hold, are left out.
pub(super) fn escaped(text: &str) -> String {
    let text: String = text.chars().filter(|sign| !sign.is_control()).collect();
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
