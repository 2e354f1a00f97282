//! Placed items to the content of pages.
//!
//! Pages go to printpdf some at a time, so that the operations of a thousand pages never stand in memory
//! together; the content that comes back is compressed at once, on as many threads as there are.

use super::embed::{Fonts, resource};
use crate::page::fonts::Face;
use crate::page::pages::{
    Dash, Group, Ink, Item, Mark, Page, Pages, Position, Ring, Segment, Stroke, TextRun,
};
use flate2::Compression;
use flate2::write::ZlibEncoder;
use printpdf::{
    Color, DictItem, FontId, Greyscale, Line, LineDashPattern, LinePoint, Op, PaintMode, PdfDocument,
    PdfFontHandle, PdfPage, PdfSaveOptions, Point, Polygon, PolygonRing, Pt, Rect, TextItem, WindingOrder,
};
use std::collections::BTreeMap;
use std::io::Write;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// How many pages printpdf has in hand at once.
const BATCH: usize = 16;

/// The content of each page, compressed.
pub(super) fn pages(pages: &Pages, fonts: &Fonts) -> Vec<Vec<u8>> {
    let map = fonts.without_programs();
    let batches: Vec<&[Page]> = pages.pages.chunks(BATCH).collect();
    let done: Mutex<BTreeMap<usize, Vec<Vec<u8>>>> = Mutex::new(BTreeMap::new());
    let next = AtomicUsize::new(0);
    let threads = std::thread::available_parallelism().map_or(1, usize::from).min(4).min(batches.len());
    let work = || {
        let mut document = Fonts::document(map.clone());
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            let Some(batch) = batches.get(index) else { break };
            let content = batch_content(batch, pages.height, &mut document);
            if let Ok(mut done) = done.lock() {
                done.insert(index, content);
            }
        }
    };
    std::thread::scope(|scope| {
        for _ in 1..threads {
            scope.spawn(work);
        }
        work();
    });
    done.into_inner().unwrap_or_default().into_values().flatten().collect()
}

fn batch_content(batch: &[Page], height: f32, document: &mut PdfDocument) -> Vec<Vec<u8>> {
    document.pages = batch
        .iter()
        .map(|page| {
            let ops = Painter::new(height).page(page);
            PdfPage::new(printpdf::Mm(1.0), printpdf::Mm(1.0), ops)
        })
        .collect();
    let options = PdfSaveOptions { optimize: false, subset_fonts: false, ..PdfSaveOptions::default() };
    let mut graph = printpdf::serialize::to_lopdf_doc(document, &options, &mut Vec::new());
    document.pages.clear();
    let ids: Vec<_> = graph.page_iter().collect();
    ids.into_iter()
        .map(|id| {
            let content = graph
                .get_page_contents(id)
                .first()
                .and_then(|content| graph.objects.remove(content))
                .and_then(|object| object.as_stream().map(|stream| stream.content.clone()).ok())
                .unwrap_or_default();
            deflate(&content)
        })
        .collect()
}

/// Compresses at the level where more effort hardly makes pages smaller.
pub(super) fn deflate(content: &[u8]) -> Vec<u8> {
    let mut encoder = ZlibEncoder::new(Vec::with_capacity(content.len() / 3), Compression::new(6));
    encoder.write_all(content).and_then(|()| encoder.finish()).expect("writing to memory can't fail")
}

/// What the page is set to, so that nothing is said twice.
#[derive(Default)]
struct State {
    font: Option<(Face, f32)>,
    fill: Option<Ink>,
    line: Option<Ink>,
    width: Option<f32>,
    dash: Option<Dash>,
}

struct Painter {
    height: f32,
    ops: Vec<Op>,
    state: State,
    /// Where the text cursor is, inside a text section.
    cursor: Option<(f32, f32)>,
}

impl Painter {
    fn new(height: f32) -> Self {
        Painter { height, ops: Vec::new(), state: State::default(), cursor: None }
    }

    fn page(mut self, page: &Page) -> Vec<Op> {
        let mut mark = 0;
        for group in &page.groups {
            match group.mark {
                Mark::Artefact => self.ops.push(Op::BeginMarkedContent { tag: "Artifact".to_string() }),
                Mark::Element(_) => {
                    let id = BTreeMap::from([("MCID".to_string(), DictItem::Int(mark))]);
                    self.ops.push(Op::BeginMarkedContentWithProperties {
                        tag: "P".to_string(),
                        properties: DictItem::Dict { map: id },
                    });
                    mark += 1;
                }
            }
            self.group(group);
            self.end_text();
            self.ops.push(Op::EndMarkedContent);
        }
        self.ops
    }

    fn group(&mut self, group: &Group) {
        for item in &group.items {
            match item {
                Item::Text(run) => self.text(run),
                other => {
                    self.end_text();
                    self.shape(other);
                }
            }
        }
    }

    fn text(&mut self, run: &TextRun) {
        if run.text.is_empty() {
            return;
        }
        let (x, y) = (rounded(run.at.x), rounded(self.height - run.at.y));
        let (last_x, last_y) = self.cursor.unwrap_or((0.0, 0.0));
        if self.cursor.is_none() {
            self.ops.push(Op::StartTextSection);
        }
        self.fill(run.ink);
        if self.state.font != Some((run.face, run.size)) {
            let font = PdfFontHandle::External(FontId(resource(run.face).0));
            self.ops.push(Op::SetFont { font, size: Pt(run.size) });
            self.state.font = Some((run.face, run.size));
        }
        let pos = Point { x: Pt(rounded(x - last_x)), y: Pt(rounded(y - last_y)) };
        self.ops.push(Op::SetTextCursor { pos });
        self.ops.push(Op::ShowText { items: vec![TextItem::Text(run.text.clone())] });
        self.cursor = Some((x, y));
    }

    fn end_text(&mut self) {
        if self.cursor.take().is_some() {
            self.ops.push(Op::EndTextSection);
        }
    }

    fn shape(&mut self, item: &Item) {
        match item {
            Item::Text(_) => {}
            Item::Line { from, to, stroke } => {
                self.stroke(*stroke);
                let points = vec![self.corner(*from), self.corner(*to)];
                self.ops.push(Op::DrawLine { line: Line { points, is_closed: false } });
            }
            Item::Rectangle { area, fill, stroke } => {
                let Some(mode) = self.inks(*fill, *stroke) else { return };
                let rectangle = Rect {
                    x: Pt(rounded(area.x)),
                    y: Pt(rounded(self.height - area.y - area.height)),
                    width: Pt(rounded(area.width)),
                    height: Pt(rounded(area.height)),
                    mode: Some(mode),
                    winding_order: None,
                };
                self.ops.push(Op::DrawRectangle { rectangle });
            }
            Item::Shape { rings, fill, stroke } => {
                let Some(mode) = self.inks(*fill, *stroke) else { return };
                let rings = rings.iter().map(|ring| PolygonRing { points: self.outline(ring) }).collect();
                let polygon = Polygon { rings, mode, winding_order: WindingOrder::NonZero };
                self.ops.push(Op::DrawPolygon { polygon });
            }
        }
    }

    fn outline(&self, ring: &Ring) -> Vec<LinePoint> {
        let mut points = vec![self.corner(ring.start)];
        for segment in &ring.segments {
            match segment {
                Segment::Line(to) => points.push(self.corner(*to)),
                Segment::Curve(first, second, to) => {
                    points.push(LinePoint { bezier: true, ..self.corner(*first) });
                    points.push(LinePoint { bezier: true, ..self.corner(*second) });
                    points.push(self.corner(*to));
                }
            }
        }
        points
    }

    fn corner(&self, at: Position) -> LinePoint {
        let p = Point { x: Pt(rounded(at.x)), y: Pt(rounded(self.height - at.y)) };
        LinePoint { p, bezier: false }
    }

    fn inks(&mut self, fill: Option<Ink>, stroke: Option<Stroke>) -> Option<PaintMode> {
        if let Some(ink) = fill {
            self.fill(ink);
        }
        if let Some(stroke) = stroke {
            self.stroke(stroke);
        }
        match (fill, stroke) {
            (Some(_), Some(_)) => Some(PaintMode::FillStroke),
            (Some(_), None) => Some(PaintMode::Fill),
            (None, Some(_)) => Some(PaintMode::Stroke),
            (None, None) => None,
        }
    }

    fn fill(&mut self, ink: Ink) {
        if self.state.fill != Some(ink) {
            self.ops.push(Op::SetFillColor { col: grey(ink) });
            self.state.fill = Some(ink);
        }
    }

    fn stroke(&mut self, stroke: Stroke) {
        if self.state.line != Some(stroke.ink) {
            self.ops.push(Op::SetOutlineColor { col: grey(stroke.ink) });
            self.state.line = Some(stroke.ink);
        }
        if self.state.width != Some(stroke.width) {
            self.ops.push(Op::SetOutlineThickness { pt: Pt(stroke.width) });
            self.state.width = Some(stroke.width);
        }
        if self.state.dash != Some(stroke.dash) {
            let pattern: &[f32] = match stroke.dash {
                Dash::Solid => &[],
                Dash::Dashed => &[5.0, 3.5],
                Dash::Dotted => &[1.2, 2.4],
                Dash::DashDot => &[6.0, 2.5, 1.2, 2.5],
            };
            let dash = LineDashPattern { offset: 0.0, pattern: pattern.iter().copied().collect() };
            self.ops.push(Op::SetLineDashPattern { dash });
            self.state.dash = Some(stroke.dash);
        }
    }
}

fn grey(ink: Ink) -> Color {
    let percent = if ink == Ink::Black { 0.0 } else { 1.0 };
    Color::Greyscale(Greyscale { percent, icc_profile: None })
}

/// Hundredths of a point: finer than any printer, and short to write. Anything infinite becomes nothing, since
/// a PDF can't hold it.
fn rounded(length: f32) -> f32 {
    if length.is_finite() { (length * 100.0).round() / 100.0 } else { 0.0 }
}
