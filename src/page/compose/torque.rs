//! Torques: what is tightened, the value large with its condition beside or below it, a box for each hole.

use super::LEFT;
use super::boxes::{Marks, number_beside};
use super::prose::frame;
use super::step::TICKS;
use super::{Composer, PITCH, WORK};
use crate::page::pages::{Area, Role};
use crate::page::pieces::Piece;
use crate::page::words::Type;
use crate::sheet::{Boxes, Text};

/// Type of torques and angles.
const TORQUE: Type = Type::bold(16.0, 20.0);

impl Composer<'_> {
    #[expect(clippy::too_many_arguments, reason = "the fields of a torque line")]
    pub(super) fn torque(
        &mut self,
        text: &Text,
        value: &str,
        condition: &str,
        open: bool,
        held: bool,
        boxes: &Boxes,
        width: f32,
    ) -> Vec<Piece> {
        if !open
            && !held
            && let Some(piece) = self.torque_in_one(text, value, condition, width)
        {
            let mut made = vec![piece];
            match boxes {
                Boxes::One => self.tick_beside(&mut made, text.number(), TICKS, TORQUE),
                Boxes::Grid(names) => {
                    self.grid_beside(&mut made, Marks::each(text.number()), names, width);
                }
                Boxes::None | Boxes::Results(..) => {}
            }
            return made;
        }
        if !open
            && !held
            && let Some(made) = self.torque_in_two(text, value, condition, boxes, width)
        {
            return made;
        }
        let mut made =
            self.act(text, if *boxes == Boxes::One { boxes } else { &Boxes::None }, held || open, width);
        if let Some(last) = made.last_mut() {
            last.with_next = true;
        }
        let element = self.element(Role::Paragraph);
        let mut values = if open {
            let kind = Type::bold(13.0, 17.5);
            let text = Text::bold("Not known yet: ").and_bold(value);
            let mut lines = self.text_pieces(element, &text, kind, LEFT + 10.0, width - 20.0);
            frame(&mut lines, Area::new(LEFT, 0.0, width, 0.0), 1.4, 6.0);
            lines
        } else {
            let kind = Type { bold: false, ..TORQUE };
            let gap = if condition.is_empty() { "" } else { "\u{a0}\u{a0} " };
            let beside = Text::bold(value).and_bold(gap).and(condition);
            let mut lines = self.text_pieces(element, &beside, kind, LEFT, width);
            if lines.len() > 1 && !condition.is_empty() {
                // What it is tightened with stands below the value rather than half beside it.
                lines = self.text_pieces(element, &Text::bold(value), kind, LEFT, width);
                lines.extend(self.text_pieces(element, &Text::plain(condition), WORK, LEFT, width));
            }
            lines
        };
        if let Some(first) = values.first_mut() {
            first.above = 3.0;
        }
        if let (Boxes::Grid(names), false) = (boxes, open || held) {
            // Few boxes stand at the end of the line that the value leaves free.
            let under = values.split_off(values.len().min(1));
            self.grid_beside(&mut values, Marks::each(text.number()), names, width);
            let rows = values.split_off(values.len().min(1));
            values.extend(under);
            let words = if rows.is_empty() { values.len().saturating_sub(1) } else { values.len() };
            values[..words].iter_mut().for_each(|piece| piece.with_next = true);
            values.extend(rows);
        }
        made.append(&mut values);
        made
    }

    /// What is tightened and the value on one line, its condition below with the boxes behind it; none where that needs
    /// more lines.
    fn torque_in_two(
        &mut self,
        text: &Text,
        value: &str,
        condition: &str,
        boxes: &Boxes,
        width: f32,
    ) -> Option<Vec<Piece>> {
        let Boxes::Grid(names) = boxes else { return None };
        let elements = self.elements.len();
        let mut first = self.torque_in_one(text, value, "", width).filter(|_| !condition.is_empty())?;
        let element = self.element(Role::Paragraph);
        let mut made = self.text_pieces(element, &Text::plain(condition), WORK, LEFT, width);
        // The number stands on the line above.
        let marks = Marks { shown: false, ..Marks::each(text.number()) };
        self.grid_beside(&mut made, marks, names, width);
        if made.len() > 1 {
            self.elements.truncate(elements);
            return None;
        }
        first.with_next = true;
        made.insert(0, first);
        Some(made)
    }

    /// What is tightened, the value and its condition on one line; none where they need more.
    fn torque_in_one(&mut self, text: &Text, value: &str, condition: &str, width: f32) -> Option<Piece> {
        const APART: f32 = 9.0;
        let name = self.set(&text.unnumbered(), WORK, width);
        let value = self.set(&Text::bold(value), Type { bold: false, ..TORQUE }, width);
        let condition = self.set(&Text::plain(condition), WORK, width);
        let parts = [&name, &value, &condition];
        let room = parts.iter().map(|part| part.width()).sum::<f32>() + 2.0 * APART;
        if room > width || parts.iter().any(|part| part.lines.len() > 1) {
            return None;
        }
        let element = self.element(Role::Paragraph);
        let mut piece = Piece::new(PITCH, TORQUE.leading);
        let mut x = LEFT;
        for part in parts.into_iter().filter(|part| !part.lines.is_empty()) {
            let y = TORQUE.baseline() - part.kind.baseline();
            self.put(&mut piece, element, part, &part.lines, x, y);
            x += part.width() + APART;
        }
        if let Some(number) = text.number() {
            number_beside(&mut piece, number, TICKS - 3.0, TORQUE.baseline());
        }
        Some(piece)
    }
}
