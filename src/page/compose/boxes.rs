//! Tick boxes with their names, beside the words or in rows below them, and the numbers of what is ticked and filled in.

use super::{Composer, LEFT, NUMBERS, SMALL};
use crate::page::draw::{self, TICK_BOX};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Area, ElementId, Filling, Mark, Role};
use crate::page::pieces::Piece;
use crate::page::words::Type;
use crate::sheet::Text;

/// Type of the names of boxes.
const BOX_NAME: Type = Type::bold(12.0, 16.0);
/// White space between the name of a box and the next box.
const BOX_APART: f32 = 11.0;

/// How the boxes of a grid are told apart.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Marks<'a> {
    /// Their number, or that of their line.
    pub number: Option<&'a str>,
    /// Whether each has a number of its own, printed before every row.
    pub shown: bool,
    /// Of boxes of which one is ticked, what each stands for.
    pub choices: Option<&'a [String]>,
    /// Which is ticked already.
    pub ticked: Option<usize>,
}

impl<'a> Marks<'a> {
    /// Boxes that are all ticked in turn.
    pub(super) fn each(number: Option<&'a str>) -> Self {
        Marks { number, shown: true, ..Marks::default() }
    }
}

impl Composer<'_> {
    /// Tick boxes at the end of the last line of words where it leaves them room, of two rows the second below the first,
    /// else all in rows below.
    pub(super) fn grid_beside(
        &mut self,
        made: &mut Vec<Piece>,
        marks: Marks<'_>,
        names: &[String],
        width: f32,
    ) {
        let mut rows = Vec::new();
        let elements = self.elements.len();
        self.grid(&mut rows, Marks { shown: false, ..marks }, names, width);
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
                    if let (Some(number), true) = (marks.number, marks.shown) {
                        row_number(&mut row, number, names.len().div_ceil(2));
                    }
                    made.push(row);
                }
            }
            _ => {
                self.elements.truncate(elements);
                self.grid(made, marks, names, width);
            }
        }
    }

    /// Tick boxes with their names, in rows, one of them ticked; with a number each has its own below it.
    pub(super) fn grid(&mut self, made: &mut Vec<Piece>, marks: Marks<'_>, names: &[String], width: f32) {
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
                let place = index * columns + column;
                if marks.ticked == Some(place) {
                    piece.add(Mark::Element(element), draw::tick(x, 0.0));
                }
                if let (Some(number), None) = (marks.number, marks.ticked) {
                    self.box_field(
                        &mut piece,
                        element,
                        (x, 0.0),
                        number,
                        (place, names.len()),
                        marks.choices,
                    );
                }
                let y = (TICK_BOX - kind.leading) / 2.0;
                self.put(&mut piece, element, setting, &setting.lines, x + TICK_BOX + 5.0, y);
            }
            if let Some(number) = marks.number.filter(|_| marks.shown && names.len() > 1) {
                row_number(&mut piece, number, index * columns);
            }
            made.push(piece);
        }
    }
}

impl Composer<'_> {
    /// Lets a box be ticked on a screen: one of several by its place, one of a choice for what it stands for.
    fn box_field(
        &mut self,
        piece: &mut Piece,
        element: ElementId,
        (x, y): (f32, f32),
        number: &str,
        (place, count): (usize, usize),
        choices: Option<&[String]>,
    ) {
        let area = Area::new(x, y, TICK_BOX, TICK_BOX);
        let choice = choices.and_then(|choices| choices.get(place));
        match choice {
            Some(choice) => self.field(piece, element, number, area, Filling::Choice(choice.clone())),
            None if count == 1 => self.field(piece, element, number, area, Filling::Tick),
            None => {
                self.field(piece, element, &format!("{number}.{}", place + 1), area, Filling::Tick);
            }
        }
    }

    /// A tick box beside the first line, which makes room for it, to be ticked on a screen too.
    pub(super) fn tick_beside(&mut self, pieces: &mut [Piece], number: Option<&str>, x: f32, kind: Type) {
        let short = pieces.len() == 1;
        let Some(first) = pieces.first_mut() else { return };
        let y = (kind.leading - TICK_BOX) / 2.0;
        if y < 0.0 {
            first.shift(0.0, -y);
            first.height -= y;
        }
        let y = y.max(0.0);
        let tick = draw::tick_box(x, y);
        match first.groups.first_mut() {
            Some(group) => group.items.insert(0, tick),
            None => first.add(Mark::Artefact, vec![tick]),
        }
        if short {
            first.height = first.height.max(TICK_BOX + 2.0);
        }
        let mark = first.groups.first().map(|group| group.mark);
        if let (Some(number), Some(Mark::Element(element))) = (number, mark) {
            self.field(first, element, number, Area::new(x, y, TICK_BOX, TICK_BOX), Filling::Tick);
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
