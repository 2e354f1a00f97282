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

/// Where nobody is named to buy from.
const NO_SUPPLIER: &str = "Supplier not known";

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
    if !quoted.is_empty() && approved.is_empty() {
        blocks.push(for_quote(
            "The owner has agreed to nothing on this list yet: ask for prices, order nothing.",
        ));
    }
    let (here, coming): (Vec<&OrderLine>, Vec<&OrderLine>) = approved.iter().partition(|line| is_here(line));
    let title = if here.is_empty() { "Agreed, to order" } else { "Agreed, not here yet" };
    blocks.extend(table(bench, title, &coming));
    blocks.extend(to_quote(bench, &quoted, !approved.is_empty()));
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
    let currency = one_currency(lines);
    let mut rows = Vec::new();
    for lines in &alike {
        let first = lines[0];
        let told = stages(first);
        let supplier = first.supplier.as_deref().unwrap_or(NO_SUPPLIER);
        rows.push(vec![Cell::Text(Text::bold(format!("{supplier}: {}", told.join(", "))))]);
        rows.extend(lines.iter().map(|line| vec![in_one(line, &said(bench, line), currency.as_deref())]));
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let columns = columns(&[(&cost_of_all("How many, what", currency.as_deref()), 1.0)]);
    vec![heading("Arrived and compared"), Block::Halves(Table { caption: Text::default(), columns, rows })]
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
fn table(bench: &Bench, title: &str, lines: &[&OrderLine]) -> Vec<Block> {
    if lines.is_empty() {
        return Vec::new();
    }
    let mut rows = Vec::new();
    for (supplier, lines) in suppliers(lines) {
        let name = [plain(""), Cell::Text(Text::bold(format!("{supplier}:")))];
        rows.push(name.into_iter().chain((0..5).map(|_| plain(""))).collect());
        rows.extend(lines.iter().map(|line| row(bench, line)));
    }
    let widths = [
        ("Pcs", 0.7),
        ("What, and how long", 12.0),
        ("Cost", 1.0),
        ("Ordered", 1.0),
        ("Due", 1.0),
        ("Arrived", 1.0),
        ("Compared", 1.0),
    ];
    let mut columns = columns(&widths);
    columns[COST].to_the_right = true;
    let mut blocks = vec![heading(&format!("{title}: compare each before the old one goes"))];
    if lines.len() > 1 {
        blocks.push(Block::Paragraph(Text::plain("Longest in coming first.")));
    }
    blocks.push(Block::Table(Table { caption: Text::default(), columns, rows }));
    blocks
}

/// The lines of each supplier, in the order in which the first of each comes.
fn suppliers<'l>(lines: &[&'l OrderLine]) -> Vec<(&'l str, Vec<&'l OrderLine>)> {
    let mut found: Vec<(&str, Vec<&OrderLine>)> = Vec::new();
    for line in lines {
        let supplier = line.supplier.as_deref().unwrap_or(NO_SUPPLIER);
        match found.iter_mut().find(|(known, _)| *known == supplier) {
            Some((_, of)) => of.push(line),
            None => found.push((supplier, vec![line])),
        }
    }
    found
}

/// Lines of one supplier from which those that have a price stand in two columns. Our own choice, no source.
const LONG_LIST: usize = 10;

/// What the owner hasn't agreed to: there is nothing to keep but a price, and what was ordered all the same says so.
fn to_quote(bench: &Bench, lines: &[&OrderLine], some_agreed: bool) -> Vec<Block> {
    if lines.is_empty() {
        return Vec::new();
    }
    let title =
        if some_agreed { "For quote: ask for prices, order only what is agreed" } else { "For quote" };
    let mut blocks = vec![heading(title)];
    let (mut rows, mut long) = (Vec::new(), Vec::new());
    for (supplier, lines) in suppliers(lines) {
        // What waits is told with the weight that it has in a column.
        let priced =
            |line: &&OrderLine| line.cost().is_some() && line.waits_for.is_empty() && stages(line).is_empty();
        let (apart, here): (Vec<&OrderLine>, Vec<&OrderLine>) =
            lines.into_iter().partition(|line| priced(line));
        let (apart, here) =
            if apart.len() < LONG_LIST { (Vec::new(), [apart, here].concat()) } else { (apart, here) };
        rows.extend(here.into_iter().map(|line| {
            let cost = if line.cost().is_none() { Cell::Blank(String::new()) } else { cost(line) };
            let mut what = what(bench, line);
            let days = stages(line);
            if !days.is_empty() {
                what = what.and_bold(format!("Not agreed to, though {}.", list(&days)));
            }
            let apart = if what.words().ends_with(' ') { "" } else { " " };
            vec![plain(pieces(line)), Cell::Text(what.and(apart).and(format!("{supplier}."))), cost]
        }));
        if !apart.is_empty() {
            long.push((supplier, apart));
        }
    }
    if !rows.is_empty() {
        let widths = [("Pcs", 0.6), ("What, and how long", 12.0), ("Cost", 1.2)];
        let mut columns = columns(&widths);
        columns[COST].to_the_right = true;
        blocks.push(Block::Table(Table { caption: Text::default(), columns, rows }));
    }
    if !long.is_empty() {
        let all: Vec<&OrderLine> = long.iter().flat_map(|(_, lines)| lines).copied().collect();
        let currency = one_currency(&all);
        let columns = columns(&[(&cost_of_all("How many, what, how long", currency.as_deref()), 1.0)]);
        let mut rows = Vec::new();
        for (supplier, lines) in long {
            rows.push(vec![Cell::Text(Text::bold(format!("{supplier}:")))]);
            rows.extend(lines.iter().map(|line| vec![in_one(line, &what(bench, line), currency.as_deref())]));
        }
        blocks.push(Block::Halves(Table { caption: Text::default(), columns, rows }));
    }
    blocks
}

/// How far a line has got, with its days: `ordered 5 Mar`, `arrived and compared 11 Mar`.
fn stages(line: &OrderLine) -> Vec<String> {
    let apart = [("ordered", line.ordered), ("due", line.due)];
    let here = [("arrived", line.arrived), ("compared", line.compared)];
    let both = ("arrived and compared", line.arrived);
    let here = if line.arrived == line.compared { vec![both] } else { here.to_vec() };
    let days = apart.into_iter().chain(here);
    days.filter_map(|(word, day)| day.map(|day| format!("{word}\u{a0}{}", day.day_and_month()))).collect()
}

/// The currency of some lines, where they have but one.
fn one_currency(lines: &[&OrderLine]) -> Option<String> {
    let mut costs = lines.iter().filter_map(|line| line.cost());
    let first = costs.next()?.currency;
    costs.all(|cost| cost.currency == first).then_some(first)
}

/// What stands above lines without columns.
fn cost_of_all(what: &str, currency: Option<&str>) -> String {
    currency.map_or_else(|| format!("{what}, cost of all"), |currency| format!("{what}, cost in {currency}"))
}

/// A line without columns: how many, what, and what they cost, in the currency that is told above if it is told there.
fn in_one(line: &OrderLine, what: &Text, currency: Option<&str>) -> Cell {
    let cost = line.cost().map_or("price open".to_owned(), |cost| match currency {
        Some(_) => cost.amount(),
        None => cost.to_string().replace(' ', "\u{a0}"),
    });
    let what = what.words();
    plain(format!("{} {}, {cost}", pieces(line), what.trim_end().trim_end_matches('.')))
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
        plain(pieces(line)),
        Cell::Text(what(bench, line)),
        cost(line),
        stage("ordered", short_day(line.ordered)),
        // When it should have come is of no use once it is here.
        if line.due.is_none() && line.arrived.is_some() {
            plain("")
        } else {
            stage("due", short_day(line.due))
        },
        stage("arrived", short_day(line.arrived)),
        stage("compared", line.compared.map_or(Cell::Tick, |date| plain(date.day_and_month()))),
    ]
}

/// How many, so that it isn't read as part of the line's own number, which stands before it.
fn pieces(line: &OrderLine) -> String {
    format!("{}\u{a0}×", line.quantity)
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
