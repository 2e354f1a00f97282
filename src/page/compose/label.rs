//! Sheets of labels to cut out: a grid with cut marks, each label with its words large and a QR code.

use super::Composer;
use crate::packet::sheet::{Block, LabelBlock, LabelSize, Text};
use crate::page::draw;
use crate::page::flow::{Flow, Piece};
use crate::page::pages::{Area, Ink, Item, Mark, Position, Ring, Role, Segment, Stroke};
use crate::page::setup::{PageSetup, TOP, points};
use crate::page::words::Type;
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

impl Composer {
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
            // The title takes the whole width if the code still fits below it, and keeps its size as long as
            // there is room.
            let mut y = PADDING - 2.0;
            for size in [24.0, 21.0, 18.0, 15.0, 12.0, 10.0, 8.0, 6.0] {
                let kind = Type::bold(size, size * 1.15);
                let above = composer.set(&Text::bold(&label.title), kind, room);
                let setting = if y + above.height() + side <= height {
                    above
                } else {
                    composer.set(&Text::bold(&label.title), kind, beside)
                };
                if y + setting.height() <= bottom - 34.0 || size == 6.0 {
                    let element = composer.element(Role::Paragraph);
                    let fitting = ((bottom - y) / kind.leading) as usize;
                    let lines = &setting.lines[..setting.lines.len().min(fitting)];
                    composer.put(&mut piece, element, &setting, lines, PADDING, y);
                    y += lines.len() as f32 * kind.leading + 3.0;
                    break;
                }
            }
            let mut lines: Vec<(Text, Type)> =
                label.lines.iter().map(|line| (Text::plain(line), Type::new(11.0, 14.0))).collect();
            if !label.number.is_empty() {
                lines.insert(0, (Text::bold(format!("no. {}", label.number)), Type::bold(15.0, 19.0)));
            }
            for (text, kind) in lines {
                let wide = composer.set(&text, kind, room);
                let setting =
                    if y + wide.height() + side <= height { wide } else { composer.set(&text, kind, beside) };
                let fitting = ((bottom - y) / kind.leading).max(0.0) as usize;
                let shown = &setting.lines[..setting.lines.len().min(fitting)];
                if shown.is_empty() {
                    continue;
                }
                let element = composer.element(Role::Paragraph);
                composer.put(&mut piece, element, &setting, shown, PADDING, y);
                y += shown.len() as f32 * kind.leading;
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
