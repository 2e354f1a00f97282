//! Tables: headings of columns and rows, and what is ticked or written in their cells.

use super::blocks::Writer;
use super::fields::Asked;
use super::markup::Tag;
use super::words::{self, text};
use crate::sheet::{Cell, Entry, Field, Form, Table};

impl Writer<'_> {
    /// Writes a table; a wide one is moved under the finger.
    pub(super) fn table(&mut self, out: &mut String, table: &Table) {
        if table.columns.is_empty() {
            return;
        }
        let caption = table.caption.words();
        let name = if caption.trim().is_empty() { "Table".to_owned() } else { caption };
        let scroll = Tag::new("div").with("class", "wide").with("role", "region").with("tabindex", "0");
        scroll.with("aria-label", format!("{name} {}", self.region())).around(out, |out| {
            Tag::new("table").around(out, |out| {
                if !table.caption.words().trim().is_empty() {
                    Tag::new("caption").around(out, |out| text(out, &table.caption, &self.places));
                }
                Tag::new("thead").around(out, |out| {
                    Tag::new("tr").around(out, |out| {
                        for column in &table.columns {
                            match column.heading.trim() {
                                "" => Tag::new("td").of(out, ""),
                                heading => Tag::new("th").with("scope", "col").of(out, heading),
                            }
                        }
                    });
                });
                Tag::new("tbody").around(out, |out| {
                    for row in &table.rows {
                        Tag::new("tr").around(out, |out| self.row(out, table, row));
                        out.push('\n');
                    }
                });
            });
        });
        out.push('\n');
    }

    fn row(&mut self, out: &mut String, table: &Table, row: &[Cell]) {
        let named = row.iter().find_map(|cell| match cell.printed() {
            Cell::Text(text) if !text.words().trim().is_empty() => Some(text.words()),
            _ => None,
        });
        let named = named.unwrap_or_default();
        let empty = Field::default();
        let across = if table.is_heading(row) { table.columns.len() } else { 1 };
        let mut heading = true;
        // Cells of one number are the results of which one holds, in their order.
        let mut results: Option<(&Entry, usize)> = None;
        for (cell, column) in row.iter().zip(&table.columns) {
            let field = cell.field().unwrap_or(&empty);
            let about = format!("{named} {}", column.heading).trim().to_owned();
            let number = field.number.replace('\u{a0}', " ");
            let asked = Asked { number: &number, about: &about, ..Asked::default() };
            match cell.printed() {
                Cell::Text(words)
                    if !words.words().trim().is_empty() && heading && cell.field().is_none() =>
                {
                    heading = false;
                    let head = Tag::new("th").with("scope", "row");
                    let head = if across > 1 { head.with("colspan", across.to_string()) } else { head };
                    head.around(out, |out| text(out, words, &self.places));
                }
                Cell::Text(words) => Tag::new("td").around(out, |out| text(out, words, &self.places)),
                ticked @ (Cell::Tick | Cell::Ticked) => {
                    let asked = Asked { ticked: matches!(ticked, Cell::Ticked), ..asked };
                    Tag::new("td").around(out, |out| match &field.entry {
                        Some(entry) if matches!(entry.form, Form::Word(_)) => {
                            let index = match results {
                                Some((last, index)) if last == entry => index + 1,
                                _ => 0,
                            };
                            results = Some((entry, index));
                            self.fields.result(out, &asked, index, &column.heading);
                            if index == 0 {
                                Tag::new("span").with("class", "no").of(out, &number);
                            }
                        }
                        _ => self.fields.tick(out, &asked),
                    });
                }
                // On a screen one box for all of them is enough, and it stands in its own column.
                Cell::Counted(words, _) => Tag::new("td").around(out, |out| text(out, words, &self.places)),
                Cell::Blank(unit) => self.written(out, &asked, field, unit, false),
                Cell::Twice(unit) => self.written(out, &asked, field, unit, true),
                Cell::Day => self.written(out, &asked, field, "", false),
                Cell::Field(..) => Tag::new("td").of(out, ""),
            }
        }
    }

    fn written(&mut self, out: &mut String, asked: &Asked, field: &Field, unit: &str, again: bool) {
        Tag::new("td").around(out, |out| self.fields.blank(out, asked, Some(field), unit, again));
    }

    /// The number of a list's item or a line, as a plan has it.
    pub(super) fn numbered(text: &crate::sheet::Text) -> String {
        words::number(text).unwrap_or_default()
    }
}
