//! Tables of a sheet: columns with their share of the width, and cells to read or to fill.

use super::{Field, Text};

/// A table: its head is repeated on every page that it runs over, rows are never cut.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Table {
    /// Words above the table, or empty.
    pub caption: Text,
    /// The columns from left to right.
    pub columns: Vec<Column>,
    /// The rows; each has as many cells as there are columns, or one alone: the heading across all of them of the rows below
    /// it.
    pub rows: Vec<Vec<Cell>>,
}

/// A column of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Its heading.
    pub heading: String,
    /// Share of the width relative to the other columns.
    pub share: f64,
    /// Whether numbers are set to the right.
    pub to_the_right: bool,
}

/// A cell of a table.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// Words.
    Text(Text),
    /// A tick box.
    Tick,
    /// A tick box that is ticked already: what the record has.
    Ticked,
    /// Words, and below them so many small boxes, one for each piece, to be ticked as they are counted.
    Counted(Text, usize),
    /// A blank to write in, with the unit printed behind it (may be empty).
    Blank(String),
    /// The same twice, for a reading and the one that checks it.
    Twice(String),
    /// A short blank, for a day or initials.
    Day,
    /// One of the others that has a number, or a place in the record.
    Field(Box<Cell>, Field),
}

impl Table {
    /// Whether a row is a heading across all columns, of the rows below it.
    pub fn is_heading(&self, row: &[Cell]) -> bool {
        row.len() == 1 && self.columns.len() > 1
    }

    /// Whether anything in it is ticked or filled in.
    pub fn is_filled_in(&self) -> bool {
        self.rows.iter().flatten().any(Cell::is_filled_in)
    }
}

impl Cell {
    /// What is printed in it.
    pub fn printed(&self) -> &Cell {
        match self {
            Cell::Field(cell, _) => cell,
            cell => cell,
        }
    }

    /// Its number, and where it belongs; none of a cell to read.
    pub fn field(&self) -> Option<&Field> {
        match self {
            Cell::Field(_, field) => Some(field),
            _ => None,
        }
    }

    /// Whether it is ticked or filled in, by now or later.
    pub fn is_filled_in(&self) -> bool {
        !matches!(self, Cell::Text(_) | Cell::Counted(..))
    }

    /// The same with its place in the record.
    #[must_use]
    pub fn belonging(self, field: Field) -> Cell {
        Cell::Field(Box::new(self), field)
    }
}
