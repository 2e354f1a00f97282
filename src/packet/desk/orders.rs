//! The order list: what has to be bought, the longest in coming first, and how far each order has got.

use super::super::bench::Bench;
use super::super::fastener;
use super::super::numbers::kept;
use super::super::questions::columns;
use super::used_up::used_up;
use super::{Addressee, agreed, for_quote, heading, letterhead, plain, to_buy};
use crate::decide::{NotCalledFor, OrderLine, OrderList};
use crate::plan::words::list;
use crate::quantity::pair;
use crate::record::{Date, Goods, Order};
use crate::sheet::{Block, Cell, Form, Sheet, SheetKind, Table, Text};

/// The column of costs, which are compared down the page.
const COST: usize = 2;

/// The order list; none if nothing is bought or used up.
pub(in crate::packet) fn orders(bench: &Bench) -> Vec<Sheet> {
    let list = to_buy(bench);
    let used_up = used_up(bench);
    if list.lines.is_empty() && list.not_called_for.is_empty() && used_up.is_empty() {
        return Vec::new();
    }
    let (approved, quoted): (Vec<&OrderLine>, Vec<&OrderLine>) =
        list.lines.iter().partition(|line| line.approved);
    let mut blocks = vec![letterhead(bench, Addressee::Firm(None))];
    if !quoted.is_empty() {
        blocks.push(for_quote(&match approved.len() {
            0 => {
                "The owner has agreed to nothing on this list yet: ask for prices, order nothing.".to_owned()
            }
            _ => "Ask for prices of what stands under \"For quote\"; order only what is agreed.".to_owned(),
        }));
    }
    let caption = "Longest in coming first. Compare each new part with the old one before that goes.";
    let (here, coming): (Vec<&OrderLine>, Vec<&OrderLine>) = approved.iter().partition(|line| is_here(line));
    let title = if here.is_empty() { "Agreed: to order" } else { "Agreed, and not here yet" };
    blocks.extend(table(bench, title, Text::plain(caption), &coming));
    blocks.extend(to_quote(bench, &quoted));
    blocks.extend(arrived(bench, &here));
    blocks.extend(not_called_for(&list));
    if !list.lines.is_empty() {
        blocks.extend(totals(&list));
    }
    let mut items = Vec::new();
    for agreement in agreed(bench) {
        let mut text = Text::plain("Agreed by ");
        text.0.extend(agreement.0);
        items.push(text);
    }
    if !items.is_empty() {
        blocks.push(Block::List { items, tick: false });
    }
    blocks.extend(used_up);
    vec![Sheet::new(SheetKind::Orders, "Order list", "What is bought for this job", blocks)]
}

/// Whether nothing is left to be done or written down for a line.
fn is_here(line: &OrderLine) -> bool {
    let days = [line.ordered, line.due, line.arrived, line.compared];
    days.iter().all(Option::is_some) && line.too_few.is_none() && line.waits_for.is_empty()
}

/// What has come and was compared, with its days told once for all that share them.
fn arrived(bench: &Bench, lines: &[&OrderLine]) -> Vec<Block> {
    let days =
        |line: &OrderLine| (line.supplier.clone(), line.ordered, line.due, line.arrived, line.compared);
    let mut alike: Vec<Vec<&OrderLine>> = Vec::new();
    for line in lines {
        match alike.iter_mut().find(|known| days(known[0]) == days(line)) {
            Some(known) => known.push(line),
            None => alike.push(vec![line]),
        }
    }
    let items = alike.iter().map(|lines| {
        let first = lines[0];
        let told = [("ordered", first.ordered), ("due", first.due), ("arrived", first.arrived)];
        let told = told.into_iter().chain([("compared", first.compared)]);
        let told: Vec<String> = told
            .filter_map(|(word, day)| day.map(|day| format!("{word}\u{a0}{}", day.day_and_month())))
            .collect();
        let supplier = first.supplier.as_deref().unwrap_or("Supplier not known");
        let mut text = Text::bold(supplier).and(format!(", {}:", told.join(", ")));
        for (index, line) in lines.iter().enumerate() {
            text = text.and(format!("{} {} ", if index == 0 { "" } else { ";" }, line.quantity));
            text.0.extend(said(bench, line).0);
            text = text.and(line.cost().map_or_else(
                || ", price open".to_owned(),
                |cost| format!(", {}", cost.to_string().replace(' ', "\u{a0}")),
            ));
        }
        text.and(".")
    });
    let items: Vec<Text> = items.collect();
    if items.is_empty() {
        return Vec::new();
    }
    vec![heading("Arrived and compared"), Block::List { items, tick: false }]
}

/// What was ordered though nothing asks for it.
fn not_called_for(list: &OrderList) -> Vec<Block> {
    let line = |goods: &NotCalledFor| {
        let stages = goods.stages(|date| date.day_and_month()).join(", ");
        let Order { quantity, size, supplier, cost, .. } = &goods.order;
        let told = quantity.map(|quantity| format!("{quantity} pieces")).into_iter();
        let told = told.chain(size.map(|size| format!("size {}", pair(size)))).chain(supplier.clone());
        let told: Vec<String> = told.chain(cost.as_ref().map(ToString::to_string)).chain([stages]).collect();
        Text::bold(goods.title.clone()).and(format!(", {}: {}.", told.join(", "), goods.words()))
    };
    let items: Vec<Text> = list.not_called_for.iter().map(line).collect();
    if items.is_empty() {
        return Vec::new();
    }
    vec![heading("Ordered, and not called for"), Block::List { items, tick: false }]
}

/// The lines by supplier, the one with the longest in coming first.
fn table(bench: &Bench, title: &str, caption: Text, lines: &[&OrderLine]) -> Vec<Block> {
    by_supplier(lines, title, caption, |supplier, lines| of_supplier(bench, supplier, lines))
}

/// A heading, and what is made of the lines of each supplier.
fn by_supplier(
    lines: &[&OrderLine],
    title: &str,
    caption: Text,
    make: impl Fn(&str, &[&OrderLine]) -> Block,
) -> Vec<Block> {
    if lines.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![heading(title)];
    if !caption.words().is_empty() {
        blocks.push(Block::Paragraph(caption));
    }
    let mut suppliers: Vec<(&Option<String>, Vec<&OrderLine>)> = Vec::new();
    for line in lines {
        match suppliers.iter_mut().find(|(supplier, _)| **supplier == line.supplier) {
            Some((_, of)) => of.push(line),
            None => suppliers.push((&line.supplier, vec![line])),
        }
    }
    let open = "Supplier not known";
    let of = |(supplier, lines): (&Option<String>, Vec<&OrderLine>)| {
        make(supplier.as_deref().unwrap_or(open), &lines)
    };
    blocks.extend(suppliers.into_iter().map(of));
    blocks
}

fn of_supplier(bench: &Bench, supplier: &str, lines: &[&OrderLine]) -> Block {
    let widths = [
        ("No.", 0.7),
        ("What, and how long", 12.0),
        ("Cost", 1.0),
        ("Ordered", 1.0),
        ("Due", 1.0),
        ("Arrived", 1.0),
        ("Compared", 1.0),
    ];
    let mut columns = columns(&widths);
    columns[COST].to_the_right = true;
    let rows = lines.iter().map(|line| row(bench, line)).collect();
    Block::Table(Table { caption: Text::bold(supplier), columns, rows })
}

/// What the owner hasn't agreed to: there is nothing to keep but a price, and what was ordered all the same says so.
fn to_quote(bench: &Bench, lines: &[&OrderLine]) -> Vec<Block> {
    by_supplier(lines, "For quote", Text::default(), |supplier, lines| {
        let widths = [("No.", 0.6), ("What, and how long", 12.0), ("Cost", 1.2), ("Quoted", 1.0)];
        let mut columns = columns(&widths);
        columns[COST].to_the_right = true;
        let row = |line: &&OrderLine| {
            let quoted = if line.cost().is_none() { Cell::Blank(String::new()) } else { plain("") };
            let days = [("ordered", line.ordered), ("due", line.due), ("arrived", line.arrived)];
            let days = days.into_iter().chain([("compared", line.compared)]);
            let days: Vec<String> = days
                .filter_map(|(word, day)| day.map(|day| format!("{word}\u{a0}{}", day.day_and_month())))
                .collect();
            let mut what = what(bench, line);
            if !days.is_empty() {
                what = what.and_bold(format!("Not agreed to, though {}.", list(&days)));
            }
            vec![plain(line.quantity.to_string()), Cell::Text(what), cost(line), quoted]
        };
        Block::Table(Table { caption: Text::bold(supplier), columns, rows: lines.iter().map(row).collect() })
    })
}

/// What is bought: its name, its size, its number.
fn said(bench: &Bench, line: &OrderLine) -> Text {
    let mut what = Text::bold(line.title.clone());
    if let Goods::Set(id, place) = line.goods {
        let set = bench.procedure.set(id);
        let places = place.map_or_else(|| bench.procedure.places(&set.axes).collect(), |place| vec![place]);
        let facts = Some(fastener::facts(bench, id, &places, true)).filter(|facts| !facts.is_empty());
        let class = set.class.as_ref().map(|class| format!("class {}", class.written));
        what = facts.into_iter().chain(class).fold(what, |what, fact| what.and(format!(", {fact}")));
    }
    if let Some(size) = line.size {
        what = what.and(format!(", size {}", pair(size)));
    }
    if let Some(number) = &line.catalogue {
        what = what.and(format!(", {}", number.replace('-', "\u{2011}")));
    }
    if let Some((piece, _)) = line.chosen.as_ref().filter(|_| line.size.is_none()) {
        what = what.and(format!(", {piece}"));
    }
    what
}

/// What is bought, and what is to be known of it before it is here.
fn what(bench: &Bench, line: &OrderLine) -> Text {
    let mut what = said(bench, line);
    // What waits is not chosen yet.
    if let Some(from) = line.select_from.as_ref().filter(|_| line.waits_for.is_empty()) {
        what = what.and(format!(". Choose from: {from}"));
    }
    what = what.and(line.lead_time.map_or_else(|| ". ".to_owned(), |lead| format!(". {}. ", lead.printed())));
    if let Some(ordered) = line.too_few {
        what = what.and_bold(format!("Only {ordered} ordered. "));
    }
    if !line.waits_for.is_empty() {
        let waits = line.waits_for.on_paper(bench.procedure, line.goods);
        what = what.and_bold("HOLD: ").and(format!("first {}.", list(&waits)));
    }
    what
}

fn cost(line: &OrderLine) -> Cell {
    line.cost().map_or_else(|| plain("open"), |cost| plain(cost.to_string().replace(' ', "\u{a0}")))
}

fn row(bench: &Bench, line: &OrderLine) -> Vec<Cell> {
    let stage = |stage: &str, cell: Cell| match cell {
        Cell::Text(_) => cell,
        cell => kept(cell, &["orders", &line.id, stage], Form::Day),
    };
    vec![
        plain(line.quantity.to_string()),
        Cell::Text(what(bench, line)),
        cost(line),
        stage("ordered", short_day(line.ordered)),
        stage("due", short_day(line.due)),
        stage("arrived", short_day(line.arrived)),
        stage("compared", line.compared.map_or(Cell::Tick, |date| plain(date.day_and_month()))),
    ]
}

/// A day without its year, which a list of some weeks doesn't need, or room to write it.
fn short_day(date: Option<Date>) -> Cell {
    date.map_or(Cell::Day, |date| plain(date.day_and_month()))
}

/// What the list costs, as far as prices are known.
fn totals(list: &OrderList) -> Vec<Block> {
    let sums: Vec<String> = list.totals.iter().map(ToString::to_string).collect();
    let rest = match list.unpriced {
        0 => String::new(),
        1 => " 1 line has no price yet and comes on top.".to_owned(),
        count => format!(" {count} lines have no price yet and come on top."),
    };
    let text = if sums.is_empty() {
        Text::bold("Total: not known.").and(rest)
    } else {
        Text::bold(format!("Total: {}.", sums.join(" and "))).and(rest)
    };
    vec![Block::Paragraph(text)]
}
