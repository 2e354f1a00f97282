//! Readings of a step: what is read and its limits, and below or beside them the blanks, or what was written there. It
//! must not know what is measured.

use super::LEFT;
use super::boxes::{balanced, number_beside};

use super::{Composer, FIELD, NUMBERS, Setting, WORK};
use crate::page::draw;
use crate::page::pages::{Area, ElementId, Filling, Mark, Role, Stroke};
use crate::page::pieces::Piece;
use crate::page::words::Type;
use crate::sheet::{AGAIN, Blank, Boxes, Text};

/// Type of limits and units.
const LIMIT: Type = Type::new(12.0, 16.0);
/// Type of the names of blanks.
const NAME: Type = Type::bold(12.0, 16.0);
/// Least width of a blank to write a reading in.
const BLANK: f32 = 68.0;
/// The same of a single number without a unit, such as that of a photograph.
const SHORT_BLANK: f32 = 48.0;

impl Composer<'_> {
    /// What is read and its limits, to stand above the blanks.
    pub(super) fn reading_head(&mut self, text: &Text, limit: &str, held: bool, width: f32) -> Vec<Piece> {
        let mut made = self.act(text, &Boxes::None, held, width);
        self.add_text(&mut made, &Text::plain(limit), LIMIT, width, 2.0);
        for piece in &mut made {
            piece.with_next = true;
        }
        made
    }

    pub(super) fn reading(
        &mut self,
        text: &Text,
        limit: &str,
        unit: &str,
        blanks: &[Blank],
        held: bool,
        width: f32,
    ) -> Vec<Piece> {
        let single = blanks.len() == 1;
        let unit = self.set(&Text::plain(unit), LIMIT, width / 3.0);
        let names: Vec<_> =
            blanks.iter().map(|blank| self.set(&Text::bold(&blank.name), NAME, width * 0.4)).collect();
        let written: Vec<_> =
            blanks.iter().map(|blank| self.set(&Text::bold(&blank.written), NAME, width * 0.4)).collect();
        let widest = |settings: &[Setting]| settings.iter().map(Setting::width).fold(0.0, f32::max);
        let name_room = if widest(&names) > 0.0 { widest(&names) + 6.0 } else { 0.0 };
        let unit_room = if unit.lines.is_empty() { 0.0 } else { unit.width() + 5.0 };
        let least = if single && unit_room == 0.0 { SHORT_BLANK } else { BLANK };
        let field = least.max(widest(&written) - unit_room);
        let least = name_room + field + unit_room + 14.0;
        let columns = balanced(names.len(), ((width + 14.0) / least) as usize);
        let blank = (((width + 14.0) / columns as f32).min(least + 40.0) - (least - field)).max(field);
        let cell = least - field + blank;
        // A short limit stands beside a single blank, a longer one above.
        let beside = self.set(&Text::plain(limit), LIMIT, width);
        let left = name_room + blank + unit_room + 16.0;
        // A reading is taken twice where it stands alone; a number of a photograph is not.
        let again =
            self.set(&Text::plain(if single && unit_room > 0.0 { "again" } else { "" }), LIMIT, width);
        let again_room =
            if again.lines.is_empty() { 0.0 } else { again.width() + 6.0 + field + unit_room + 16.0 };
        let second = again_room > 0.0 && left + again_room <= width && blanks[0].written.is_empty();
        let left = if second { left + again_room } else { left };
        let limit_beside = single && beside.lines.len() == 1 && left + beside.width() <= width;
        let mut made = self.reading_head(text, if limit_beside { "" } else { limit }, held, width);
        let element = self.element(Role::Paragraph);
        let in_one_line = |settings: &[Setting]| settings.iter().all(|setting| setting.lines.len() <= 1);
        let whole = made.len() == 1
            && single
            && beside.lines.is_empty()
            && in_one_line(&names)
            && in_one_line(&written);
        if let Some(first) =
            made.first_mut().filter(|first| whole && first.reach() + left + 16.0 <= LEFT + width)
        {
            // A blank and no more stands at the end of the line.
            let start = LEFT + width - left + 16.0;
            self.blank(
                first,
                element,
                (&names[0], &written[0], &unit),
                &blanks[0].field.number,
                start,
                name_room,
                blank,
                WORK.leading - 3.0,
            );
            first.with_next = false;
            return made;
        }
        let rows = names.chunks(columns).zip(written.chunks(columns));
        for ((names, written), blanks) in rows.zip(blanks.chunks(columns)) {
            let heights = names.iter().chain(written).map(Setting::height);
            let height = heights.fold(unit.height().max(16.0), f32::max) + 12.0;
            let mut piece = Piece::new(1.0, height);
            let base = height - 4.0;
            for (column, ((name, written), filled)) in names.iter().zip(written).zip(blanks).enumerate() {
                let x = LEFT + column as f32 * cell;
                let (words, number) = ((name, written, &unit), filled.field.number.as_str());
                self.blank(&mut piece, element, words, number, x, name_room, blank, base);
                if second {
                    let x = x + name_room + blank + unit_room + 16.0;
                    let fields = (&again, written, &unit);
                    let number = if number.is_empty() { String::new() } else { format!("{number}{AGAIN}") };
                    self.blank(&mut piece, element, fields, &number, x, again.width() + 6.0, field, base);
                }
                if limit_beside {
                    let x = x + left;
                    self.put(&mut piece, element, &beside, &beside.lines, x, base - beside.height() + 4.0);
                }
            }
            if held || !single {
                number_beside(&mut piece, &blanks[0].field.number, NUMBERS, base);
            }
            made.push(piece);
        }
        made
    }

    /// A blank with its name before and its unit behind it, or what was written there.
    #[expect(clippy::too_many_arguments, reason = "three words and a number, and where each stands")]
    fn blank(
        &mut self,
        piece: &mut Piece,
        element: ElementId,
        (name, written, unit): (&Setting, &Setting, &Setting),
        number: &str,
        x: f32,
        name_room: f32,
        width: f32,
        base: f32,
    ) {
        self.put(piece, element, name, &name.lines, x, base - name.height() + 4.0);
        let (from, to) = (x + name_room, x + name_room + width);
        if written.lines.is_empty() {
            let line = draw::line(from, base, to, base, Stroke::solid(0.8));
            piece.add(Mark::Element(element), vec![line]);
            self.field(
                piece,
                element,
                number,
                Area::new(from, base - FIELD, to - from, FIELD),
                Filling::Line,
            );
            self.put(piece, element, unit, &unit.lines, to + 5.0, base - unit.height() + 4.0);
        } else {
            self.put(piece, element, written, &written.lines, from, base - written.height() + 4.0);
        }
    }
}
