//! Placed items to the content of pages, compressed at once, on as many threads as there are.
//!
//! The text is what printpdf set, word by word; where it stands, and the marks, lines and shapes around it, are written
//! here.

use super::content::{Content, rounded};
use super::deflate::Deflater;
use super::embed::{Fonts, name};
use super::set_words::SetWords;
use crate::page::fonts::Face;
use crate::page::pages::{Dash, Group, Ink, Item, Mark, Page, Pages, Stroke, TextRun};
use rayon::prelude::*;

/// Pages that are worth a compressor of their own.
const FEWEST: usize = 8;

/// The content of each page, compressed.
pub(super) fn pages(pages: &Pages, fonts: &Fonts) -> Vec<Vec<u8>> {
    let words = SetWords::of(pages, fonts);
    let paint = |deflater: &mut Deflater, page: &Page| {
        deflater.deflate(&Painter::new(pages.height, &words).page(page))
    };
    pages.pages.par_iter().with_min_len(FEWEST).map_init(Deflater::new, paint).collect()
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

struct Painter<'a> {
    height: f32,
    words: &'a SetWords<'a>,
    content: Content,
    state: State,
    /// Where the text cursor is, inside a text section.
    cursor: Option<(f32, f32)>,
}

impl<'a> Painter<'a> {
    fn new(height: f32, words: &'a SetWords<'a>) -> Self {
        Painter { height, words, content: Content::new(height), state: State::default(), cursor: None }
    }

    fn page(mut self, page: &Page) -> Vec<u8> {
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
        self.content.bytes
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
            self.content.begin_text();
        }
        self.fill(run.ink);
        if self.state.font != Some((run.face, run.size)) {
            self.content.font(name(run.face), run.size);
            self.state.font = Some((run.face, run.size));
        }
        self.content.move_text(x - last_x, y - last_y);
        self.content.show(self.words, run.face, &run.text);
        self.cursor = Some((x, y));
    }

    fn end_text(&mut self) {
        if self.cursor.take().is_some() {
            self.content.end_text();
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
        if let Some(ink) = fill {
            self.fill(ink);
        }
        if let Some(stroke) = stroke {
            self.stroke(stroke);
        }
    }

    fn fill(&mut self, ink: Ink) {
        if self.state.fill != Some(ink) {
            self.content.fill(ink);
            self.state.fill = Some(ink);
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
