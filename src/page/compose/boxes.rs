//! Tick boxes with their names, beside the words or in rows below them, and the numbers of what is ticked and filled in.

use super::{Composer, LEFT, NUMBERS, SMALL};
use crate::page::draw::{self, TICK_BOX};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Mark, Role};
use crate::page::pieces::Piece;
use crate::page::words::Type;
use crate::sheet::Text;

/// Type of the names of boxes.
const BOX_NAME: Type = Type::bold(12.0, 16.0);
/// White space between the name of a box and the next box.
const BOX_APART: f32 = 11.0;

impl Composer {
    /// Tick boxes at the end of the last line of words where it leaves them room, of two rows the second below the first,
    /// else all in rows below.
    pub(super) fn grid_beside(
        &mut self,
        made: &mut Vec<Piece>,
        number: Option<&str>,
        names: &[String],
        ticked: Option<usize>,
        width: f32,
    ) {
        let mut rows = Vec::new();
        let elements = self.elements.len();
        self.grid(&mut rows, None, names, ticked, width);
        let reach = rows.iter().map(Piece::reach).fold(0.0, f32::max);
        match (made.last_mut(), rows.len()) {
            (Some(last), 1 | 2) if last.reach() + 14.0 + reach - LEFT <= LEFT + width => {
                let mut rows = rows.into_iter();
                last.with_next |= rows.len() > 1;
                if let Some(row) = rows.next() {
                    beside(last, row, LEFT + width - reach);
                }
                for mut row in rows {
                    row.shift(LEFT + width - reach, 0.0);
                    if let Some(number) = number {
                        row_number(&mut row, number, names.len().div_ceil(2));
                    }
                    made.push(row);
                }
            }
            _ => {
                self.elements.truncate(elements);
                self.grid(made, number, names, ticked, width);
            }
        }
    }

    /// Tick boxes with their names, in rows, one of them ticked; with a number each has its own below it.
    pub(super) fn grid(
        &mut self,
        made: &mut Vec<Piece>,
        number: Option<&str>,
        names: &[String],
        ticked: Option<usize>,
        width: f32,
    ) {
        let kind = BOX_NAME;
        let room = width - TICK_BOX - 6.0;
        let settings: Vec<_> =
            names.iter().map(|name| self.set(&Text::bold(name), kind, room.min(240.0))).collect();
        let widest = settings.iter().map(|setting| setting.width()).fold(0.0, f32::max);
        let cell = TICK_BOX + 5.0 + widest + BOX_APART;
        let columns = balanced(names.len(), ((width + BOX_APART) / cell) as usize);
        if let Some(last) = made.last_mut() {
            last.with_next = true;
        }
        let element = self.element(Role::Paragraph);
        let rows = settings.len().div_ceil(columns);
        for (index, row) in settings.chunks(columns).enumerate() {
            let tallest = row.iter().map(|setting| setting.height()).fold(TICK_BOX, f32::max);
            let mut piece = Piece::new(4.0, tallest);
            piece.with_next = rows <= 4 && index + 1 < rows;
            for (column, setting) in row.iter().enumerate() {
                let x = LEFT + column as f32 * cell;
                piece.add(Mark::Element(element), vec![draw::tick_box(x, 0.0)]);
                if ticked == Some(index * columns + column) {
                    piece.add(Mark::Element(element), draw::tick(x, 0.0));
                }
                let y = (TICK_BOX - kind.leading) / 2.0;
                self.put(&mut piece, element, setting, &setting.lines, x + TICK_BOX + 5.0, y);
            }
            if let Some(number) = number.filter(|_| names.len() > 1) {
                row_number(&mut piece, number, index * columns);
            }
            made.push(piece);
        }
    }
}

/// Puts a row of boxes on the line of a piece, `right` of where it was made.
fn beside(line: &mut Piece, mut row: Piece, right: f32) {
    row.shift(right, (line.height - row.height) / 2.0);
    if row.height > line.height {
        let more = (row.height - line.height) / 2.0;
        line.shift(0.0, more);
        row.shift(0.0, more);
        line.height = row.height;
    }
    line.absorb(row);
}

/// Puts the number of what is ticked or filled in beside it, ending at `right`; it is read before what stands there.
pub(super) fn number_beside(piece: &mut Piece, number: &str, right: f32, baseline: f32) {
    let x = right - fonts::width(Face::Regular, SMALL.size, number);
    let Some(item) = draw::text(x, baseline, Face::Regular, SMALL.size, &format!("{number} ")) else {
        return;
    };
    match piece.groups.first_mut() {
        Some(group) => group.items.insert(0, item),
        None => piece.add(Mark::Artefact, vec![item]),
    }
}

/// Puts the number of its first box beside a row of boxes, `before` of them before it.
fn row_number(row: &mut Piece, number: &str, before: usize) {
    let base = (TICK_BOX - BOX_NAME.leading) / 2.0 + BOX_NAME.baseline();
    number_beside(row, &format!("{number}.{}", before + 1), NUMBERS, base);
}

/// Columns of a grid with at most `most` of them, so that its rows are of about the same length.
pub(super) fn balanced(count: usize, most: usize) -> usize {
    let rows = count.div_ceil(most.max(1)).max(1);
    count.div_ceil(rows).max(1)
}
