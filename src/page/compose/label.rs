//! Sheets of labels to cut out: a grid with cut marks, each label with its words large and a QR code.

use super::{Composer, Setting};
use crate::page::draw;
use crate::page::flow::Flow;
use crate::page::pages::{Area, Ink, Item, Mark, Position, Ring, Role, Segment, Stroke};
use crate::page::pieces::Piece;
use crate::page::setup::{PageSetup, TOP, points};
use crate::page::words::Type;
use crate::sheet::{Block, LabelBlock, LabelSize, Text};
use qrcodegen::{QrCode, QrCodeEcc};

/// White space inside a label.
const PADDING: f32 = 9.0;
/// Least side of a code, without its quiet zone: 15 mm.
const CODE: f32 = 42.6;
/// Least side of a module: 0.4 mm.
const MODULE: f32 = 1.14;
/// Least width and height that words need beside or above a code.
const NARROWEST: f32 = 62.0;
const LOWEST: f32 = 60.0;
/// Size of label where a label stands outside a sheet of labels.
const USUAL: LabelSize = LabelSize { width: 100.0, height: 60.0 };

/// Sizes of a label's title: the largest that fits is taken.
const TITLES: [f32; 8] = [24.0, 21.0, 18.0, 15.0, 12.0, 10.0, 8.0, 6.0];
/// Sizes of a label's other words, tried for each size of the title.
const SMALLS: [f32; 5] = [11.0, 10.0, 9.0, 8.0, 6.0];
/// Smallest size of the other words that is read at the bench; a title gives way to it down to its own.
const READABLE: (f32, f32) = (15.0, 8.0);

impl Composer<'_> {
    pub(super) fn labels(&mut self, blocks: &[Block], size: LabelSize, flow: &mut Flow) {
        let (page_width, content) = (self.setup.content_width(), self.setup.content_height());
        let (width, height) = clamped(size, page_width, content - flow.used() - 12.0);
        let columns = (page_width / width).floor().max(1.0) as usize;
        let (mut column, mut y) = (0, flow.used() + 12.0);
        for block in blocks {
            let Block::Label(label) = block else {
                // A sheet of labels has nothing else on it, by the definition of a sheet.
                continue;
            };
            if column == columns {
                column = 0;
                y += height;
            }
            if y + height > content {
                flow.next_page();
                (column, y) = (0, flow.used());
            }
            let piece = self.label(label, width, height);
            let left = PageSetup::left(&self.setup, flow.number());
            flow.place_at(piece, Area::new(left + column as f32 * width, TOP + y, width, height));
            column += 1;
        }
    }

    /// A label that stands among other blocks.
    pub(super) fn label_piece(&mut self, label: &LabelBlock) -> Piece {
        let (width, height) = clamped(USUAL, self.setup.content_width(), self.setup.content_height());
        let mut piece = self.label(label, width, height);
        piece.above = 12.0;
        piece
    }

    fn label(&mut self, label: &LabelBlock, width: f32, height: f32) -> Piece {
        let mut piece = Piece::new(0.0, height);
        piece.anchors.extend(label.anchor.clone());
        piece.add(Mark::Artefact, cut_marks(width, height));
        self.within(Role::Division, |composer| {
            let code = code(&label.code_text, height - 2.0 * PADDING);
            let side = code.as_ref().map_or(0.0, |(side, _)| *side);
            let room = width - 2.0 * PADDING;
            let beside = room - if side > 0.0 { side + 2.0 } else { 0.0 };
            // On a narrow label the code has the lower end for itself; if that leaves too little for the words,
            // it is left out: they say the same.
            let narrow = beside < NARROWEST;
            let (code, side) = if narrow && height - side < LOWEST { (None, 0.0) } else { (code, side) };
            let (beside, bottom) = match (&code, narrow) {
                (Some(_), true) => (room, height - side),
                (Some(_), false) => (beside, height - PADDING),
                (None, _) => (room, height - PADDING),
            };
            let places = composer.label_words(label, room, beside, height - side, bottom);
            for (setting, y) in places {
                let element = composer.element(Role::Paragraph);
                composer.put(&mut piece, element, &setting, &setting.lines, PADDING, y);
            }
            if let Some((side, mut shape)) = code {
                shape.shift(width - side, height - side);
                let element = composer.element(Role::Figure);
                composer.elements[element.0].alternative = format!("Code that reads: {}", label.code_text);
                piece.add(Mark::Element(element), vec![shape]);
            }
        });
        piece
    }
}

impl Composer<'_> {
    /// The words of a label, each with its distance from the upper edge: the title as large as the rest allows, and
    /// never a word left out unless the smallest type doesn't fit, which is then complained of. Words take the whole
    /// width `room` down to `above`, and below it the width `beside` the code, down to `bottom`.
    fn label_words(
        &mut self,
        label: &LabelBlock,
        room: f32,
        beside: f32,
        above: f32,
        bottom: f32,
    ) -> Vec<(Setting, f32)> {
        let title = match &label.step {
            Some(step) => Text::default().and_bold_link(&label.title, step.clone()),
            None => Text::bold(&label.title),
        };
        let mut lines: Vec<(Text, bool)> = vec![(title, true)];
        if !label.number.is_empty() {
            lines.push((Text::bold(format!("no. {}", label.number)), false));
        }
        lines.extend(label.lines.iter().map(|line| (Text::plain(line), false)));
        let sizes = || TITLES.into_iter().flat_map(|title| SMALLS.map(|small| (title, small)));
        let readable = |(title, small): &(f32, f32)| *title >= READABLE.0 && *small >= READABLE.1;
        for (title, small) in sizes().filter(readable).chain(sizes()) {
            let mut y = PADDING - 2.0;
            let mut placed = Vec::with_capacity(lines.len());
            for (index, (text, first)) in lines.iter().enumerate() {
                let kind = if *first {
                    Type::bold(title, title * 1.15)
                } else if index == 1 && !label.number.is_empty() {
                    Type::bold((small * 1.36).min(title), (small * 1.72).min(title * 1.27))
                } else {
                    Type::new(small, small * 1.27)
                };
                let wide = self.set(text, kind, room);
                let setting = if y + wide.height() <= above { wide } else { self.set(text, kind, beside) };
                let height = setting.height();
                placed.push((setting, y));
                y += height + if *first { 3.0 } else { 0.0 };
            }
            let least = title == TITLES[TITLES.len() - 1] && small == SMALLS[SMALLS.len() - 1];
            if y <= bottom + 0.01 {
                return placed;
            }
            if least {
                self.crowded.push(label.title.clone());
                placed.retain_mut(|(setting, y)| {
                    let fitting = ((bottom - *y) / setting.kind.leading).max(0.0) as usize;
                    setting.lines.truncate(fitting);
                    fitting > 0
                });
                return placed;
            }
        }
        Vec::new()
    }
}

fn clamped(size: LabelSize, width: f32, height: f32) -> (f32, f32) {
    let side = |millimetres: f64, most: f32| {
        let length = points(millimetres as f32);
        if length.is_finite() { length.clamp(points(20.0).min(most), most) } else { most }
    };
    (side(size.width, width), side(size.height, height))
}

/// Short ticks at the corners, where the scissors go.
fn cut_marks(width: f32, height: f32) -> Vec<Item> {
    const TICK: f32 = 6.0;
    let stroke = Stroke::solid(0.5);
    let mut marks = Vec::new();
    for (x, inward_x) in [(0.0, TICK), (width, -TICK)] {
        for (y, inward_y) in [(0.0, TICK), (height, -TICK)] {
            marks.push(draw::line(x, y, x + inward_x, y, stroke));
            marks.push(draw::line(x, y, x, y + inward_y, stroke));
        }
    }
    marks
}

/// A QR code with its quiet zone, as one outline of squares; its side at most `most`. None for no words, or too
/// many to be read at that size.
fn code(words: &str, most: f32) -> Option<(f32, Item)> {
    if words.is_empty() {
        return None;
    }
    let code = QrCode::encode_text(words, QrCodeEcc::Medium).ok()?;
    let size = code.size();
    let module = (CODE / size as f32).max(MODULE).max(most.min(86.0) / (size + 8) as f32);
    let side = module * (size + 8) as f32;
    let mut rings = Vec::new();
    for row in 0..size {
        let mut column = 0;
        while column < size {
            let start = column;
            while column < size && code.get_module(column, row) {
                column += 1;
            }
            if column > start {
                let at = |x: i32, y: i32| Position::new((x + 4) as f32 * module, (y + 4) as f32 * module);
                rings.push(Ring {
                    start: at(start, row),
                    segments: vec![
                        Segment::Line(at(column, row)),
                        Segment::Line(at(column, row + 1)),
                        Segment::Line(at(start, row + 1)),
                    ],
                });
            }
            column += 1;
        }
    }
    (side <= most + 0.01).then_some((side, Item::Shape { rings, fill: Some(Ink::Black), stroke: None }))
}
