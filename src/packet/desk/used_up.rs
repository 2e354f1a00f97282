//! What the build and the start use up beside parts and fasteners, as a table of the order list.

use super::super::bench::Bench;
use super::super::numbers::kept;
use super::super::questions::columns;
use super::{heading, plain};
use crate::decide::UsedUp;
use crate::plan;
use crate::record::Date;
use crate::sheet::{Block, Cell, Form, Table, Text};

/// What is used up and not in stock, as a table; nothing where there is none.
pub(super) fn used_up(bench: &Bench) -> Vec<Block> {
    let material = bench.material;
    let crib = material.shop.map(|shop| &shop.crib);
    let lines = plan::used_up(bench.procedure, bench.network, material.plan, material.job, crib);
    let Some(first) = lines.first() else { return Vec::new() };
    let widths = [("What, and what for", 14.0), ("Ordered", 0.5), ("Arrived", 0.5)];
    let rows = lines.iter().map(row).collect();
    vec![
        heading("Used up in the build and at the start"),
        Block::Paragraph(Text::plain(format!("{} Their cost is not in the total.", first.stock_words()))),
        Block::Table(Table { caption: Text::default(), columns: columns(&widths), rows }),
    ]
}

fn row(line: &UsedUp) -> Vec<Cell> {
    let mut what = Text::bold(line.title.clone());
    if let Some(amount) = &line.amount {
        what = what.and(format!(", {amount}"));
    }
    if let Some(sold) = &line.sold {
        what = what.and(format!(", sold by {sold}"));
    }
    let day = |stage: &str, date: Option<Date>| match date {
        Some(date) => plain(date.day_and_month()),
        None => kept(Cell::Day, &["orders", &line.id, stage], Form::Day),
    };
    vec![
        Cell::Text(what.and(format!(". {}.", line.purposes.join(". ")))),
        day("ordered", line.ordered),
        day("arrived", line.arrived),
    ]
}
