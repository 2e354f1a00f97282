//! Placed items to the content of pages: printpdf sets the text, and around it stand marks, lines and shapes.
//!
//! Pages go to printpdf some at a time, so that the operations of a thousand pages never stand in memory together. What
//! comes back are the text sections of each page in order; they are woven into the rest of its content, their strings
//! written as bytes instead of hexadecimal figures, and compressed at once, on as many threads as there are.

use super::content::{Content, literal, rounded};
use super::deflate::Deflater;
use super::embed::{Fonts, resource};
use crate::page::fonts::Face;
use crate::page::pages::{Dash, Group, Ink, Item, Mark, Page, Pages, Stroke, TextRun};
use printpdf::{
    Color, FontId, Greyscale, Op, PdfDocument, PdfFontHandle, PdfPage, PdfSaveOptions, Point, Pt, TextItem,
};
use std::collections::BTreeMap;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// How many pages printpdf has in hand at once: it makes ready its fonts anew for each batch.
const BATCH: usize = 64;

/// The content of each page, compressed.
pub(super) fn pages(pages: &Pages, fonts: &Fonts) -> Vec<Vec<u8>> {
    let map = fonts.without_programs();
    let threads = std::thread::available_parallelism().map_or(1, usize::from).min(4);
    let batch = pages.pages.len().div_ceil(threads).clamp(1, BATCH);
    let batches: Vec<&[Page]> = pages.pages.chunks(batch).collect();
    let done: Mutex<BTreeMap<usize, Vec<Vec<u8>>>> = Mutex::new(BTreeMap::new());
    let next = AtomicUsize::new(0);
    let work = || {
        let mut document = Fonts::document(map.clone());
        let mut deflater = Deflater::new();
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            let Some(batch) = batches.get(index) else { break };
            let content = batch_content(batch, pages.height, &mut document, &mut deflater);
            if let Ok(mut done) = done.lock() {
                done.insert(index, content);
            }
        }
    };
    std::thread::scope(|scope| {
        for _ in 1..threads.min(batches.len()) {
            scope.spawn(work);
        }
        work();
    });
    done.into_inner().unwrap_or_default().into_values().flatten().collect()
}

fn batch_content(
    batch: &[Page],
    height: f32,
    document: &mut PdfDocument,
    deflater: &mut Deflater,
) -> Vec<Vec<u8>> {
    let mut frames = Vec::with_capacity(batch.len());
    document.pages = batch
        .iter()
        .map(|page| {
            let (frame, ops) = Painter::new(height).page(page);
            frames.push(frame);
            PdfPage::new(printpdf::Mm(1.0), printpdf::Mm(1.0), ops)
        })
        .collect();
    let options = PdfSaveOptions { optimize: false, subset_fonts: false, ..PdfSaveOptions::default() };
    let mut graph = printpdf::serialize::to_lopdf_doc(document, &options, &mut Vec::new());
    document.pages.clear();
    let ids: Vec<_> = graph.page_iter().collect();
    ids.into_iter()
        .zip(frames)
        .map(|(id, frame)| {
            let text = graph
                .get_page_contents(id)
                .first()
                .and_then(|content| graph.objects.remove(content))
                .and_then(|object| object.as_stream().map(|stream| stream.content.clone()).ok())
                .unwrap_or_default();
            deflater.deflate(&frame.woven(&text))
        })
        .collect()
}

/// What stands around the text sections of a page.
struct Frame {
    content: Vec<u8>,
    /// Where text sections go, in order.
    gaps: Vec<usize>,
}

impl Frame {
    /// The whole content of the page, with its text sections in their places.
    fn woven(&self, text: &[u8]) -> Vec<u8> {
        let mut out = Vec::with_capacity(self.content.len() + text.len());
        let (mut from, mut rest) = (0, text);
        for gap in &self.gaps {
            out.extend_from_slice(&self.content[from..*gap]);
            from = *gap;
            rest = take_section(&mut out, rest);
        }
        out.extend_from_slice(&self.content[from..]);
        out
    }
}

/// Copies text up to the end of its first section, and gives back what comes after that. Nothing but strings begins
/// with an angle bracket in a text section, and nothing but its end is spelt `ET`.
fn take_section<'a>(out: &mut Vec<u8>, text: &'a [u8]) -> &'a [u8] {
    let mut at = 0;
    while at < text.len() {
        match text[at] {
            b'<' => {
                let figures = text[at + 1..].iter().take_while(|byte| **byte != b'>').count();
                let hex = &text[at + 1..at + 1 + figures];
                literal(out, hex.chunks(2).map(|pair| pair.iter().fold(0, |byte, c| byte * 16 + figure(*c))));
                at += figures + 2;
            }
            b'E' if text[at..].starts_with(b"ET") => {
                out.extend_from_slice(b"ET\n");
                return text[at + 2..].trim_ascii_start();
            }
            byte => {
                out.push(byte);
                at += 1;
            }
        }
    }
    &[]
}

fn figure(hex: u8) -> u8 {
    match hex {
        b'0'..=b'9' => hex - b'0',
        b'a'..=b'f' => hex - b'a' + 10,
        b'A'..=b'F' => hex - b'A' + 10,
        _ => 0,
    }
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
    content: Content,
    gaps: Vec<usize>,
    /// Text sections, for printpdf.
    ops: Vec<Op>,
    state: State,
    /// Where the text cursor is, inside a text section.
    cursor: Option<(f32, f32)>,
}

impl Painter {
    fn new(height: f32) -> Self {
        let content = Content::new(height);
        Painter { height, content, gaps: Vec::new(), ops: Vec::new(), state: State::default(), cursor: None }
    }

    fn page(mut self, page: &Page) -> (Frame, Vec<Op>) {
        let mut mark = 0;
        for group in &page.groups {
            match group.mark {
                Mark::Artefact => self.content.begin_artefact(),
                Mark::Element(_) => {
                    self.content.begin_mark(mark);
                    mark += 1;
                }
            }
            self.group(group);
            self.end_text();
            self.content.end_mark();
        }
        (Frame { content: self.content.bytes, gaps: self.gaps }, self.ops)
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
            self.gaps.push(self.content.bytes.len());
            self.ops.push(Op::StartTextSection);
        }
        if self.state.fill != Some(run.ink) {
            self.ops.push(Op::SetFillColor { col: grey(run.ink) });
            self.state.fill = Some(run.ink);
        }
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
                self.content.line(*from, *to);
            }
            Item::Rectangle { area, fill, stroke } => {
                self.inks(*fill, *stroke);
                self.content.rectangle(area);
                self.content.paint(*fill, *stroke);
            }
            Item::Shape { rings, fill, stroke } => {
                self.inks(*fill, *stroke);
                for ring in rings {
                    self.content.ring(ring);
                }
                self.content.paint(*fill, *stroke);
            }
        }
    }

    fn inks(&mut self, fill: Option<Ink>, stroke: Option<Stroke>) {
        if let Some(ink) = fill
            && self.state.fill != Some(ink)
        {
            self.content.fill(ink);
            self.state.fill = Some(ink);
        }
        if let Some(stroke) = stroke {
            self.stroke(stroke);
        }
    }

    fn stroke(&mut self, stroke: Stroke) {
        if self.state.line != Some(stroke.ink) {
            self.content.stroke(stroke.ink);
            self.state.line = Some(stroke.ink);
        }
        if self.state.width != Some(stroke.width) {
            self.content.width(stroke.width);
            self.state.width = Some(stroke.width);
        }
        if self.state.dash != Some(stroke.dash) {
            self.content.dash(stroke.dash);
            self.state.dash = Some(stroke.dash);
        }
    }
}

fn grey(ink: Ink) -> Color {
    let percent = if ink == Ink::Black { 0.0 } else { 1.0 };
    Color::Greyscale(Greyscale { percent, icc_profile: None })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_sections_stand_in_their_gaps() {
        let frame =
            Frame { content: b"/P <</MCID 0>> BDC\nEMC\n0 0 1 1 re\nf\n".to_vec(), gaps: vec![19, 23] };
        let text = b"BT\n/R 13 Tf\n<00280A5c> Tj\nET\nBT\n<0041> Tj\nET";
        let woven = frame.woven(text);
        let wanted: &[u8] = b"/P <</MCID 0>> BDC\nBT\n/R 13 Tf\n(\x00\\(\n\\\\) Tj\nET\nEMC\nBT\n(\x00A) Tj\nET\n0 0 1 1 re\nf\n";
        assert_eq!(woven, wanted);
    }
}
