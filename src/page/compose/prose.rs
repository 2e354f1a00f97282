//! Headings, paragraphs, notices, lists, facts and ruled lines.

use super::{BODY, Composer, SMALL};
use crate::page::draw::{self, TICK_BOX};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Area, Filling, Ink, Mark, Position, Role, Stroke};
use crate::page::pieces::{PageNumber, Piece, Unit};
use crate::page::setup::points;
use crate::page::words::Type;
use crate::sheet::{Anchor, Text};

/// Distance of ruled lines to write on.
const RULED: f32 = 24.0;
/// Ruled lines that stay on one page.
const WHOLE_LINES: usize = 12;

impl Composer<'_> {
    pub(super) fn heading(&mut self, level: u8, text: &Text, anchor: Option<&Anchor>) -> Unit {
        let level = level.clamp(2, 3);
        let (kind, above) =
            if level == 2 { (Type::bold(16.0, 19.5), 13.0) } else { (Type::bold(13.0, 17.0), 10.0) };
        let element = self.element(Role::Heading(level));
        let mut pieces = self.text_pieces(element, text, kind, 0.0, self.setup.content_width());
        for piece in &mut pieces {
            piece.with_next = true;
        }
        if let Some(first) = pieces.first_mut() {
            first.above = above;
            first.anchors.extend(anchor.cloned());
            first.bookmark = Some((level, text.words()));
        }
        self.level = level;
        Unit { with_next: true, ..Unit::flowing(pieces) }
    }

    pub(super) fn paragraph(&mut self, text: &Text) -> Vec<Unit> {
        let element = self.element(Role::Paragraph);
        // Lines of more than about 80 letters are hard to follow.
        let width = self.setup.content_width().min(470.0);
        let mut pieces = self.text_pieces(element, text, BODY, 0.0, width);
        if let Some(first) = pieces.first_mut() {
            first.above = 7.0;
        }
        vec![Unit::flowing(pieces)]
    }

    pub(super) fn notice(&mut self, text: &Text) -> Unit {
        let element = self.element(Role::Paragraph);
        let width = self.setup.content_width();
        let mut pieces = self.text_pieces(element, text, Type::new(12.0, 16.5), 14.0, width - 28.0);
        frame(&mut pieces, Area::new(0.0, 0.0, width, 0.0), 1.2, 9.0);
        if let Some(first) = pieces.first_mut() {
            first.above = 12.0;
        }
        Unit::whole(pieces)
    }

    pub(super) fn list(&mut self, items: &[Text], tick: bool) -> Vec<Unit> {
        let width = self.setup.content_width();
        let indent = if tick { TICK_BOX + 10.0 } else { 14.0 };
        self.within(Role::List, |composer| {
            let mut units: Vec<Unit> = Vec::new();
            for item in items {
                let mut pieces = composer.within(Role::ListItem, |composer| {
                    let element = composer.element(Role::ListBody);
                    composer.text_pieces(element, item, BODY, indent, (width - indent).min(470.0))
                });
                if tick {
                    composer.tick_beside(&mut pieces, item.number(), 0.0, BODY);
                } else if let Some(first) = pieces.first_mut() {
                    let middle = Position::new(4.0, BODY.leading / 2.0 + 0.6);
                    first.add(Mark::Artefact, vec![draw::circle(middle, 1.9, Some(Ink::Black), None)]);
                }
                if let Some(first) = pieces.first_mut() {
                    first.above += if units.is_empty() {
                        7.0
                    } else if tick {
                        4.0
                    } else {
                        2.5
                    };
                }
                units.push(Unit::flowing(pieces));
            }
            units
        })
    }

    /// Entries in one or two columns, down the first and then the second, each with its page at the right.
    pub(super) fn contents(&mut self, entries: &[(String, Anchor)]) -> Vec<Unit> {
        const GUTTER: f32 = 24.0;
        const NUMBER: f32 = 30.0;
        let columns = if entries.len() > 4 { 2 } else { 1 };
        let width = (self.setup.content_width() - GUTTER * (columns - 1) as f32) / columns as f32;
        let rows = entries.len().div_ceil(columns);
        self.within(Role::List, |composer| {
            let set: Vec<_> = entries
                .iter()
                .map(|entry| {
                    let (words, to) = entry;
                    let body = composer.within(Role::ListItem, |composer| composer.element(Role::ListBody));
                    // One line is enough to find it by.
                    let words = composer.characters.line(words);
                    let words = fonts::shortened(Face::Regular, SMALL.size, &words, width - NUMBER);
                    let words = Text::default().and_link(words, to.clone());
                    (body, composer.set(&words, SMALL, width - NUMBER), to)
                })
                .collect();
            let mut pieces = Vec::new();
            for row in 0..rows {
                let mut piece = Piece::new(if row == 0 { 7.0 } else { 3.0 }, SMALL.leading);
                for (column, (body, setting, to)) in set.iter().skip(row).step_by(rows).enumerate() {
                    let x = column as f32 * (width + GUTTER);
                    composer.put(&mut piece, *body, setting, &setting.lines, x, 0.0);
                    let element = composer.child(Role::Span, Some(*body));
                    piece.height = piece.height.max(setting.height());
                    piece.page_numbers.push(PageNumber {
                        at: Position::new(x + width, SMALL.baseline()),
                        size: SMALL.size,
                        to: Anchor::clone(to),
                        element,
                    });
                }
                pieces.push(piece);
            }
            vec![Unit { whole: rows <= 40, ..Unit::flowing(pieces) }]
        })
    }

    pub(super) fn facts(&mut self, facts: &[(Text, Text)]) -> Vec<Unit> {
        let width = self.setup.content_width();
        // The names take what the widest of them needs, so that what is said of them has the more room.
        let most = (width * 0.34).min(points(60.0));
        let widest = facts.iter().map(|(name, _)| self.set(name, SMALL, most - 10.0).width());
        let names = (widest.fold(0.0, f32::max) + 14.0).min(most);
        self.within(Role::Table, |composer| {
            let mut pieces = Vec::new();
            for (index, (name, value)) in facts.iter().enumerate() {
                let mut row = composer.within(Role::TableRow, |composer| {
                    let mut row = composer.text_piece(Role::RowHeading, name, SMALL, 0.0, names - 10.0);
                    let value = composer.text_piece(
                        Role::TableCell,
                        value,
                        Type::bold(12.0, 16.0),
                        names,
                        width - names,
                    );
                    row.shift(0.0, 1.0);
                    row.height = (row.height + 1.0).max(value.height);
                    row.absorb(value);
                    row
                });
                row.above = if index == 0 { 8.0 } else { 2.5 };
                row.with_next = index == 0 && facts.len() > 1;
                pieces.push(row);
            }
            vec![Unit::flowing(pieces)]
        })
    }

    pub(super) fn ruled_lines(&mut self, label: &Text, count: usize) -> Unit {
        let width = self.setup.content_width();
        let mut pieces = Vec::new();
        let element = self.element(Role::Paragraph);
        pieces.extend(self.text_pieces(element, label, BODY, 0.0, width));
        for piece in &mut pieces {
            piece.with_next = true;
        }
        if let Some(first) = pieces.first_mut() {
            first.above = 12.0;
        }
        for line in 0..count {
            let mut piece = Piece::new(0.0, RULED);
            piece.add(
                Mark::Artefact,
                vec![draw::line(0.0, RULED - 2.0, width, RULED - 2.0, Stroke::solid(0.5))],
            );
            if let (0, Some(number)) = (line, label.number()) {
                let height = RULED * count.min(WHOLE_LINES) as f32 - 2.0;
                self.field(&mut piece, element, number, Area::new(0.0, 0.0, width, height), Filling::Lines);
            }
            pieces.push(piece);
        }
        Unit { whole: count <= WHOLE_LINES, ..Unit::flowing(pieces) }
    }
}

/// Draws a frame around pieces: its upper edge above the first, its lower edge below the last, its sides along
/// all of them, so that it can be parted by a page end. `area` gives its left edge and width.
pub(super) fn frame(pieces: &mut [Piece], area: Area, line: f32, padding: f32) {
    let count = pieces.len();
    for (index, piece) in pieces.iter_mut().enumerate() {
        piece.close_gap();
        if index == 0 {
            piece.shift(0.0, padding);
            piece.height += padding;
        }
        if index + 1 == count {
            piece.height += padding;
        }
        let mut bars = vec![
            draw::vertical(area.x, 0.0, line, piece.height),
            draw::vertical(area.x + area.width - line, 0.0, line, piece.height),
        ];
        if index == 0 {
            bars.push(draw::vertical(area.x, 0.0, area.width, line));
        }
        if index + 1 == count {
            bars.push(draw::vertical(area.x, piece.height - line, area.width, line));
        } else {
            piece.with_next = true;
        }
        piece.groups.insert(0, crate::page::pages::Group { mark: Mark::Artefact, items: bars });
    }
}
