//! Tables: column widths, rows that are never cut, heads that come again, and tables wider than the page.

use std::borrow::Cow;
use std::ops::Range;

use super::boxes::number_beside;
use super::columns::{Place, groups, places};
use super::{Composer, FIELD, LEFT, NUMBERS, SMALL, Setting};
use crate::page::draw::{self, TICK_BOX};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Area, ElementId, Filling, Ink, Mark, Position, Role, Stroke};
use crate::page::pieces::{Piece, Unit};
use crate::page::words::{self, Type};
use crate::sheet::{AGAIN, Cell, Field, Style, Table, Text};

/// Type of headings.
const HEAD: Type = Type::bold(11.0, 13.6);
/// White space above and below the words of a row.
const PADDING: f32 = 1.3;
/// Least height of a row that is written in: 7.5 mm, as a line with a box has. Common practice, no source: paper is ruled at
/// 7 to 8 mm.
const RULED: f32 = 21.3;
/// White space between columns.
const GAP: f32 = 9.0;
/// Columns from which a table has little room between them.
const MANY: usize = 7;
/// Blanks in a row from which each has no more room than figures take.
const BLANKS: usize = 3;
/// The same where each reading is written down twice.
const MANY_TO_FILL: usize = 5;
/// The same in a table half as wide as the page, or of many columns.
const NARROW_GAP: f32 = 5.0;
/// White space between the halves of a table.
const HALVES_APART: f32 = 16.0;
/// White space between the number of a row and the row.
const NUMBER_APART: f32 = 5.0;
/// Side of a box for one piece that is counted: 3.7 mm, room for the dot of a pencil.
const PIECE_BOX: f32 = 10.5;
/// White space between such boxes.
const PIECES_APART: f32 = 3.0;
/// Least width of a blank to write a reading in.
const BLANK: f32 = 62.0;
/// How far the unit behind a line to write on stands above it.
const UNIT_ABOVE: f32 = 4.0;
/// How far the lines of a list stand behind their points.
const HUNG: f32 = 9.0;
/// Width that the figures of a reading take by hand: 17 mm.
const WRITTEN: f32 = 48.0;
/// Least width of a blank for a day: 16 mm.
const DAY: f32 = 46.0;
/// Room that a long word may claim before it is cut.
const WIDEST_WORD: f32 = 170.0;

/// How many boxes for pieces a column has room for.
fn pieces_abreast(width: f32) -> usize {
    (((width + PIECES_APART) / (PIECE_BOX + PIECES_APART)) as usize).max(1)
}

/// A part of a table that fits the width: its pieces, and the head that comes again after a page end.
pub(super) struct Band {
    pub pieces: Vec<Piece>,
    pub head: Piece,
}

/// A cell of a row, its words set.
struct Filled<'a> {
    place: &'a Place,
    cell: Cow<'a, Cell>,
    setting: Setting,
    element: ElementId,
    /// Where it can be filled in.
    field: Option<&'a Field>,
}

impl Composer<'_> {
    pub(super) fn table(&mut self, table: &Table, x: f32, width: f32) -> Vec<Unit> {
        let bands = self.table_bands(table, x, width);
        bands
            .into_iter()
            .map(|band| {
                let mut pieces = band.pieces;
                for piece in &mut pieces {
                    piece.head = piece.head.map(|_| 0);
                }
                Unit { heads: vec![band.head], ..Unit::flowing(pieces) }
            })
            .collect()
    }

    /// A table half as wide as the page, the columns of which stand side by side; as wide as the page where its columns need that.
    pub(super) fn halves(&mut self, table: &Table) -> Vec<Unit> {
        let half = (self.setup.content_width() - HALVES_APART) / 2.0;
        let elements = self.elements.len();
        let mut units = self.table(table, 0.0, half);
        if units.len() > 1 {
            self.elements.truncate(elements);
            return self.table(table, 0.0, self.setup.content_width());
        }
        for unit in &mut units {
            unit.beside = Some(half + HALVES_APART);
            // A row that stands alone has others beside it; only what announces others stays with the first of them.
            let rows = unit.pieces.iter().filter(|piece| piece.head.is_some()).count();
            let rows = if rows == table.rows.len() { table.rows.as_slice() } else { &[] };
            let mut told = rows.iter().map(|row| announces(row)).chain(std::iter::repeat(false));
            for row in unit.pieces.iter_mut().filter(|piece| piece.head.is_some()) {
                row.with_next = told.next().unwrap_or_default();
            }
        }
        units
    }

    /// A table wider than the page comes in several bands, one below the other, each with the first column.
    pub(super) fn table_bands(&mut self, table: &Table, x: f32, width: f32) -> Vec<Band> {
        if table.columns.is_empty() {
            return Vec::new();
        }
        let numbers = if x < LEFT { self.number_room(table) } else { 0.0 };
        let (x, width) = (x + numbers, width - numbers);
        let least = self.least_widths(table, width);
        let mut bands = Vec::new();
        let twice = table.rows.iter().flatten().any(|cell| matches!(cell.printed(), Cell::Twice(_)));
        let many =
            table.columns.len() >= if twice { MANY_TO_FILL } else { MANY } || blanks_abreast(table) >= BLANKS;
        let narrow = width < self.setup.content_width() / 2.0 || many;
        let gap = if narrow { NARROW_GAP } else { GAP };
        let groups = groups(&least, width, gap);
        let count = groups.len();
        for (number, group) in groups.into_iter().enumerate() {
            let hung = if is_list(table) { HUNG } else { 0.0 };
            let places = places(&group, &least, &table.columns, (x + hung, width - hung), gap);
            let band =
                self.within(Role::Table, |composer| composer.band(table, &places, number, count, x, width));
            bands.push(band);
        }
        bands
    }

    /// Room for the numbers of the rows, which stand before them.
    fn number_room(&self, table: &Table) -> f32 {
        let cells = table.rows.iter().flatten();
        let numbers = cells.filter_map(|cell| match cell.printed() {
            Cell::Text(text) => text.number(),
            _ => None,
        });
        let widest =
            numbers.map(|number| fonts::width(Face::Regular, SMALL.size, number)).fold(0.0, f32::max);
        if widest > 0.0 { widest + NUMBER_APART } else { 0.0 }
    }

    fn least_widths(&mut self, table: &Table, width: f32) -> Vec<f32> {
        // Where many stand beside each other a blank has the room that figures take by hand, and no more.
        let blank = if blanks_abreast(table) >= BLANKS { WRITTEN } else { BLANK };
        let mut least = Vec::with_capacity(table.columns.len());
        for (index, column) in table.columns.iter().enumerate() {
            let mut widest =
                words::widest_word(&Text::bold(&column.heading), &HEAD, &mut self.characters).max(18.0);
            let rows = table.rows.iter().filter(|row| !table.is_heading(row));
            for cell in rows.filter_map(|row| row.get(index)) {
                let cell = match cell.printed() {
                    Cell::Text(text) | Cell::Counted(text, _) => {
                        words::widest_word(&text.unnumbered(), &SMALL, &mut self.characters)
                    }
                    Cell::Tick | Cell::Ticked => TICK_BOX,
                    Cell::Day => DAY,
                    // What it is written in says the heading: figures alone.
                    Cell::Blank(unit) if unit.is_empty() => WRITTEN,
                    Cell::Blank(unit) | Cell::Twice(unit) => {
                        blank + 4.0 + words::widest_word(&Text::plain(unit), &SMALL, &mut self.characters)
                    }
                    Cell::Field(..) => 0.0,
                };
                widest = widest.max(cell);
            }
            least.push(widest.min(WIDEST_WORD).min(width) + 0.5);
        }
        least
    }

    fn band(
        &mut self,
        table: &Table,
        places: &[Place],
        number: usize,
        count: usize,
        x: f32,
        width: f32,
    ) -> Band {
        let mut pieces = Vec::new();
        let mut caption = table.caption.unnumbered();
        if count > 1 {
            caption = if number == 0 { caption } else { caption.and(" ").and("(further columns)") };
        }
        if !caption.words().trim().is_empty() {
            let element = self.element(Role::Caption);
            pieces = self.text_pieces(element, &caption, Type::bold(12.0, 16.0), x, width);
            for piece in &mut pieces {
                piece.with_next = true;
            }
            if let (Some(first), Some(number)) = (pieces.first_mut(), table.caption.number()) {
                number_beside(first, number, NUMBERS, Type::bold(12.0, 16.0).baseline());
            }
        }
        let mut head = self.head(table, places, x, width);
        head.above = if pieces.is_empty() { 0.0 } else { 4.0 };
        let again = head.repeated();
        head.with_next = true;
        pieces.push(head);
        if let Some(first) = pieces.first_mut() {
            first.above = 7.0;
        }
        let last = table.rows.len();
        // Rows with a heading across all columns stay with it, and the rule is below the last of them.
        let first = table.rows.iter().position(|row| table.is_heading(row)).unwrap_or(last);
        let stays = |index: usize| {
            first <= index && table.rows.get(index + 1).is_some_and(|next| !table.is_heading(next))
        };
        let across = [Place { index: 0, x, width, to_the_right: false }];
        for (index, row) in table.rows.iter().enumerate() {
            let headed = stays(index);
            let below = first < index;
            let mut row_pieces = if table.is_heading(row) {
                self.row(row, &across, (places.len(), true))
            } else {
                self.row(row, places, (1, !below))
            };
            if is_list(table) {
                // Lines below each other without columns need neither rules nor room for them: each has a point before it.
                if let [only] = row_pieces.as_mut_slice() {
                    only.shift(0.0, -PADDING);
                    only.height -= 2.0 * PADDING;
                }
                if let Some(first) = row_pieces.first_mut().filter(|_| !announces(row)) {
                    let middle = Position::new(x + 3.0, SMALL.leading / 2.0 + 0.6);
                    first.add(Mark::Artefact, vec![draw::circle(middle, 1.6, Some(Ink::Black), None)]);
                }
            } else if let (true, Some(end)) = (headed, row_pieces.last_mut()) {
                end.height -= PADDING;
            } else if let Some(end) = row_pieces.last_mut().filter(|_| !row.iter().any(is_written_in)) {
                let weight = if index + 1 == last { 0.9 } else { 0.35 };
                let y = end.height;
                end.add(Mark::Artefact, vec![draw::line(x, y, x + width, y, Stroke::solid(weight))]);
            }
            for piece in &mut row_pieces {
                piece.head = Some(0);
            }
            // No row stands alone on either side of a page end.
            if let ([row], true) = (row_pieces.as_mut_slice(), index == 0 || index + 2 == last) {
                row.with_next = index + 1 < last;
            }
            row_pieces.iter_mut().filter(|_| headed).for_each(|row| row.with_next = true);
            if let (Some(end), true) = (row_pieces.last_mut(), index + 1 < last && announces(row)) {
                end.with_next = true;
            }
            pieces.extend(row_pieces);
        }
        Band { pieces, head: again }
    }

    fn head(&mut self, table: &Table, places: &[Place], x: f32, width: f32) -> Piece {
        self.within(Role::TableRow, |composer| {
            let settings: Vec<Setting> = places
                .iter()
                .map(|place| {
                    let heading = Text::bold(&table.columns[place.index].heading);
                    composer.set(&heading, HEAD, place.width)
                })
                .collect();
            let tallest = settings.iter().map(Setting::height).fold(HEAD.leading, f32::max);
            let mut piece = Piece::new(0.0, tallest + PADDING + 1.0);
            for (place, setting) in places.iter().zip(&settings) {
                let element = composer.element(Role::ColumnHeading);
                let y = tallest - setting.height();
                composer.put_cell(&mut piece, element, setting, 0..setting.lines.len(), place, y);
            }
            if !is_list(table) {
                let y = piece.height - 0.6;
                piece.add(Mark::Artefact, vec![draw::line(x, y, x + width, y, Stroke::solid(1.2))]);
            }
            piece
        })
    }

    fn put_cell(
        &mut self,
        piece: &mut Piece,
        element: ElementId,
        setting: &Setting,
        lines: Range<usize>,
        place: &Place,
        y: f32,
    ) {
        for (row, line) in setting.lines[lines].iter().enumerate() {
            let x = place.begin(line.width);
            let y = y + row as f32 * setting.kind.leading;
            self.put(piece, element, setting, std::slice::from_ref(line), x, y);
        }
    }

    /// A row is one piece, unless it is so high that it would hardly fit a page. Its cells stand each across so many
    /// columns; its first words name it, unless a heading above it does.
    fn row(&mut self, row: &[Cell], places: &[Place], (across, named): (usize, bool)) -> Vec<Piece> {
        let limit = ((self.setup.content_height() * 0.5) / SMALL.leading) as usize;
        self.within(Role::TableRow, |composer| {
            let empty = Cell::Text(Text::default());
            let says = |cell: &Cell| matches!(cell.printed(), Cell::Text(text) if !text.0.is_empty());
            let name = row.iter().position(says).filter(|_| named);
            let beside = Self::number_of(row, places).map(str::to_owned);
            let cells: Vec<Filled> = places
                .iter()
                .map(|place| {
                    let role = if Some(place.index) == name { Role::RowHeading } else { Role::TableCell };
                    let cell = row.get(place.index).unwrap_or(&empty);
                    let field = cell.field().filter(|field| !field.number.is_empty());
                    match cell.printed() {
                        Cell::Text(text) if beside.is_some() && text.number().is_some() => {
                            composer.fill(Cow::Owned(Cell::Text(text.unnumbered())), field, place, role)
                        }
                        cell => composer.fill(Cow::Borrowed(cell), field, place, role),
                    }
                })
                .collect();
            for filled in &cells {
                composer.elements[filled.element.0].across = across;
            }
            let lines = cells.iter().map(|filled| filled.setting.lines.len()).max().unwrap_or(0).max(1);
            (0..lines)
                .step_by(limit.max(1))
                .map(|start| {
                    let mut piece = composer.stretch(&cells, start..(start + limit).min(lines));
                    if let Some(number) = beside.as_ref().filter(|_| start == 0) {
                        let in_step = places.first().is_some_and(|place| place.x >= LEFT);
                        let right = places.first().map_or(0.0, |place| place.x) - NUMBER_APART;
                        let middle = (piece.height - SMALL.leading) / 2.0;
                        let top = if in_step || lines == 1 { middle } else { PADDING };
                        let right = if in_step { NUMBERS } else { right };
                        number_beside(&mut piece, number, right, top + SMALL.baseline());
                    }
                    piece
                })
                .collect()
        })
    }

    /// The number of a row, which stands to the left of it.
    fn number_of<'a>(row: &'a [Cell], places: &[Place]) -> Option<&'a str> {
        places.first().filter(|place| place.index == 0)?;
        row.iter().find_map(|cell| match cell.printed() {
            Cell::Text(text) => text.number(),
            _ => None,
        })
    }

    /// Sets the words of a cell, and says what is drawn in it.
    fn fill<'a>(
        &mut self,
        cell: Cow<'a, Cell>,
        field: Option<&'a Field>,
        place: &'a Place,
        role: Role,
    ) -> Filled<'a> {
        let none = Text::default();
        let (setting, said) = match &*cell {
            Cell::Text(text) => (self.set(text, SMALL, place.width), String::new()),
            Cell::Tick => (self.set(&none, SMALL, place.width), "tick box".to_owned()),
            Cell::Ticked => (self.set(&none, SMALL, place.width), "tick box, ticked".to_owned()),
            Cell::Counted(text, _) => (self.set(text, SMALL, place.width), String::new()),
            Cell::Day => (self.set(&none, SMALL, place.width), "blank for a day".to_owned()),
            Cell::Blank(unit) | Cell::Twice(unit) => {
                let blanks = if matches!(*cell, Cell::Twice(_)) { "two blanks" } else { "blank" };
                let setting = self.set(&Text::plain(unit), SMALL, place.width - BLANK * 0.6);
                (setting, format!("{blanks} {unit}").trim_end().to_owned())
            }
            Cell::Field(..) => (self.set(&none, SMALL, place.width), String::new()),
        };
        let element = self.element(role);
        // What can be filled in says so itself.
        if field.is_none() || matches!(*cell, Cell::Ticked) {
            self.elements[element.0].alternative = said;
        }
        Filled { place, cell, setting, element, field }
    }

    /// The piece of a row that holds these of its lines; what is drawn in a cell stands in the first.
    fn stretch(&mut self, cells: &[Filled], lines: Range<usize>) -> Piece {
        // Boxes stand below the last line of their words.
        let boxed = |filled: &Filled| match *filled.cell {
            Cell::Counted(_, count) if lines.end >= filled.setting.lines.len() => {
                count.div_ceil(pieces_abreast(filled.place.width))
            }
            _ => 0,
        };
        let rows_of_boxes = cells.iter().map(boxed).max().unwrap_or(0);
        let any = |wanted: fn(&Cell) -> bool| cells.iter().any(|filled| wanted(&filled.cell));
        let by_hand = lines.start == 0 && any(|cell| !matches!(cell, Cell::Text(_) | Cell::Counted(..)));
        let blank = any(|cell| matches!(cell, Cell::Blank(_) | Cell::Twice(_) | Cell::Day));
        let least = match (by_hand, blank) {
            (false, _) => 0.0,
            (true, true) => RULED,
            (true, false) => TICK_BOX + 4.0,
        };
        let height = lines.len() as f32 * SMALL.leading + 2.0 * PADDING;
        let boxes = rows_of_boxes as f32 * (PIECE_BOX + PIECES_APART);
        let mut piece = Piece::new(0.0, (height + boxes).max(least));
        let middle = if by_hand && lines.end == 1 && rows_of_boxes == 0 {
            (piece.height - SMALL.leading) / 2.0
        } else {
            PADDING
        };
        for filled in cells {
            let Filled { place, cell, setting, element, field } = filled;
            match &**cell {
                Cell::Text(_) | Cell::Counted(..) => {
                    let shown = lines.start.min(setting.lines.len())..lines.end.min(setting.lines.len());
                    let below = middle + shown.len() as f32 * SMALL.leading + 2.0;
                    self.put_cell(&mut piece, *element, setting, shown, place, middle);
                    if let (Cell::Counted(_, count), true) = (&**cell, boxed(filled) > 0) {
                        let abreast = pieces_abreast(place.width);
                        let boxes = (0..*count).map(|index| {
                            let (row, column) = (index / abreast, index % abreast);
                            let x = place.x + column as f32 * (PIECE_BOX + PIECES_APART);
                            draw::small_box(x, below + row as f32 * (PIECE_BOX + PIECES_APART), PIECE_BOX)
                        });
                        piece.add(Mark::Element(*element), boxes.collect());
                    }
                }
                _ if lines.start > 0 => {}
                Cell::Tick | Cell::Ticked => {
                    let mark = Mark::Element(*element);
                    let x = place.begin(TICK_BOX);
                    let y = (middle + (SMALL.leading - TICK_BOX) / 2.0).max(2.0);
                    piece.add(mark, vec![draw::tick_box(x, y)]);
                    if matches!(**cell, Cell::Ticked) {
                        piece.add(mark, draw::tick(x, y));
                    } else if let Some(field) = field {
                        let filling = field.choice.clone().map_or(Filling::Tick, Filling::Choice);
                        let area = Area::new(x, y, TICK_BOX, TICK_BOX);
                        self.field(&mut piece, *element, &field.number, area, filling);
                    }
                }
                Cell::Blank(_) | Cell::Twice(_) | Cell::Day => self.line_to_fill(&mut piece, filled),
                Cell::Field(..) => {}
            }
        }
        piece
    }

    /// A line to write on, two where there is room for two hands' width of figures, and the unit behind it. It closes its
    /// row instead of a rule: two lines close together look like a mistake.
    fn line_to_fill(&mut self, piece: &mut Piece, filled: &Filled) {
        let Filled { place, cell, setting, element, field } = filled;
        let unit = setting.width();
        let y = piece.height - 0.2;
        let end = place.x + place.width - if unit > 0.0 { unit + 4.0 } else { 0.0 };
        let width = end - place.x;
        let parts: &[(f32, f32, f32)] = if matches!(**cell, Cell::Twice(_)) && width >= 2.0 * WRITTEN + 8.0 {
            &[(0.0, 0.5, -4.0), (0.5, 1.0, 4.0)]
        } else {
            &[(0.0, 1.0, 0.0)]
        };
        let ends = |(from, to, gap): &(f32, f32, f32)| {
            (place.x + width * from + gap.max(0.0), place.x + width * to + gap.min(0.0))
        };
        let lines = parts.iter().map(ends).map(|(from, to)| draw::line(from, y, to, y, Stroke::solid(0.7)));
        piece.add(Mark::Element(*element), lines.collect());
        for ((from, to), again) in parts.iter().map(ends).zip(["", AGAIN]) {
            let Some(field) = field else { continue };
            let area = Area::new(from, y - FIELD, to - from, FIELD);
            self.field(piece, *element, &format!("{}{again}", field.number), area, Filling::Line);
        }
        let top = (y - UNIT_ABOVE - setting.kind.baseline() - (setting.height() - SMALL.leading)).max(0.0);
        self.put(piece, *element, setting, &setting.lines, end + 4.0, top);
    }
}

/// Whether a table is a list: words below each other, in one column.
fn is_list(table: &Table) -> bool {
    table.columns.len() == 1
        && table.rows.iter().flatten().all(|cell| matches!(cell.printed(), Cell::Text(_)))
}

/// Whether a row says what the rows below it are, as a supplier's name does: bold alone, and nothing beside it.
fn announces(row: &[Cell]) -> bool {
    let mut said = row.iter().filter(|cell| !matches!(cell.printed(), Cell::Text(text) if text.0.is_empty()));
    let (Some(Cell::Text(text)), None) = (said.next().map(Cell::printed), said.next()) else { return false };
    text.0.iter().all(|run| run.style == Style::Bold)
}

/// Whether a cell has a line to write on.
fn is_written_in(cell: &Cell) -> bool {
    matches!(cell.printed(), Cell::Blank(_) | Cell::Twice(_) | Cell::Day)
}

/// How many blanks the row with the most of them has.
fn blanks_abreast(table: &Table) -> usize {
    let is_blank = |cell: &&Cell| matches!(cell.printed(), Cell::Blank(_));
    table.rows.iter().map(|row| row.iter().filter(is_blank).count()).max().unwrap_or(0)
}
