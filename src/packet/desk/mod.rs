//! The sheets at the desk, from the engine's arrival to its handover: filled from the record, with blanks for what it
//! doesn't say. They must not know how a verdict is reached.

mod estimate;
mod handover;
mod intake;
mod labour;
mod machining;
mod orders;
mod quoted;
mod used_up;

pub(super) use estimate::estimate;
pub(super) use handover::{handover, sizes_found, sizes_now};
pub(super) use intake::intake;
pub(super) use labour::left;
pub(super) use machining::{goods_back, machining};
pub(super) use orders::orders;
pub(crate) use quoted::Quoted;
pub(super) use quoted::quoted;

use super::bench::Bench;
use crate::decide::{OrderList, WorkLine, machine_shop_order, order_list, within_the_limit};
use crate::procedure::model::{PartId, Place, StepId, StepKey};
use crate::record::{Approval, Date, Goods, WrittenWork};
use crate::sheet::{Block, Cell, Table, Text};
use crate::structure::PartAt;

fn heading(text: &str) -> Block {
    Block::Heading { level: 2, text: Text::plain(text), anchor: None }
}

fn plain(text: impl Into<String>) -> Cell {
    Cell::Text(Text::plain(text))
}

fn bold(text: impl Into<String>) -> Cell {
    Cell::Text(Text::bold(text))
}

/// What the record says, or room to write it.
fn known(value: Option<String>) -> Cell {
    value.map_or_else(|| Cell::Blank(String::new()), bold)
}

/// A day, or room to write it.
fn day(date: Option<Date>) -> Cell {
    date.map_or(Cell::Day, |date| plain(date.to_string()))
}

/// A heading with a table under it; nothing if the table has no rows.
fn titled(title: &str, caption: Text, widths: &[(&str, f64)], rows: Vec<Vec<Cell>>) -> Vec<Block> {
    if rows.is_empty() {
        return Vec::new();
    }
    vec![heading(title), Block::Table(Table { caption, columns: super::questions::columns(widths), rows })]
}

/// A heading with what the record lists, or with empty lines where it lists nothing.
fn listed(title: &str, items: &[String], label: &str, lines: usize) -> Vec<Block> {
    if items.is_empty() {
        let label = Text::bold(format!("{title}. ")).and(label);
        return vec![Block::Lines { label, count: lines }];
    }
    let below =
        Block::List { items: items.iter().map(|item| Text::plain(item.clone())).collect(), tick: true };
    vec![heading(title), below]
}

/// For whom a sheet that leaves the shop is.
enum Addressee {
    /// The owner, with how long it holds.
    Owner,
    /// A firm, as far as the record names it, with room for the day by which it is wanted.
    Firm(Option<String>),
}

/// The head of a sheet that leaves the shop: from whom, to whom, as of which day, and until when. What isn't known is left
/// to be written in.
fn letterhead(bench: &Bench, to: Addressee) -> Block {
    let job = bench.material.job;
    let shop = bench.material.shop;
    let head = shop.map(|shop| &shop.crib.head);
    let name = head.and_then(|head| head.name.clone());
    let rest = head.into_iter().flat_map(|head| [head.address.clone(), head.contact.clone()]).flatten();
    let rest: Vec<String> = rest.collect();
    let from = name.map_or_else(
        || Text::plain("not known: the crib has no name of the shop"),
        |name| {
            let rest = if rest.is_empty() { String::new() } else { format!(". {}", rest.join(". ")) };
            Text::bold(name).and(rest)
        },
    );
    let of = match shop {
        Some(shop) => super::shop::today(bench, shop),
        None => job.last_day(),
    };
    let until = head.and_then(|head| head.estimate_days).zip(of);
    let until = until.and_then(|(days, of)| of.after_days(i64::from(days)));
    let (to, whom, last) = match to {
        Addressee::Owner => ("For", known(job.customer.clone()), ("Holds until", day(until))),
        Addressee::Firm(firm) => ("To", known(firm), ("Wanted by", Cell::Day)),
    };
    let widths = [("From", 6.0), (to, 2.4), ("As of", 1.2), (last.0, 1.5)];
    let row = vec![Cell::Text(from), whom, day(of), last.1];
    Block::Table(Table {
        caption: Text::default(),
        columns: super::questions::columns(&widths),
        rows: vec![row],
    })
}

/// A line to sign for what is agreed, or sent.
fn to_sign(title: &str, who: &str) -> Block {
    let row = vec![plain(who), Cell::Blank(String::new()), Cell::Blank(String::new()), Cell::Day];
    let widths = [(title, 2.6), ("Name", 3.0), ("Signed", 3.6), ("Date", 1.4)];
    Block::Table(Table {
        caption: Text::default(),
        columns: super::questions::columns(&widths),
        rows: vec![row],
    })
}

/// What is bought for the job.
fn to_buy(bench: &Bench) -> OrderList {
    order_list(bench.procedure, bench.material.job, bench.material.decisions)
}

/// What is sent out for the job.
fn to_machine(bench: &Bench) -> Vec<WorkLine> {
    machine_shop_order(bench.procedure, bench.material.job, bench.material.decisions)
}

/// The title of a part with its place, such as `Connecting rod, cylinder 2`.
fn part_title(bench: &Bench, id: PartId, place: Place) -> String {
    let part = bench.procedure.part(id);
    crate::plan::words::at_place(bench.procedure, &part.naming, &part.axes, Some(place))
}

fn goods_title(bench: &Bench, goods: Goods) -> String {
    let procedure = bench.procedure;
    let at = |naming, axes: &[_], place| crate::plan::words::at_place(procedure, naming, axes, place);
    match goods {
        Goods::Part(id, place) => at(&procedure.part(id).naming, &procedure.part(id).axes, place),
        Goods::Set(id, place) => at(&procedure.set(id).naming, &procedure.set(id).axes, place),
        Goods::Supply(id) => procedure.supply(id).naming.title.clone(),
    }
}

/// What the owner and the seller said of it when it came.
fn said_when_it_came(bench: &Bench) -> Vec<Text> {
    let intake = &bench.material.job.intake;
    let said = [
        ("The owner's complaint: ", &intake.complaint),
        ("Said by the seller, not measured: ", &intake.seller),
    ];
    let told = said.into_iter().filter_map(|(who, said)| {
        said.as_ref().map(|said| Text::bold(who).and(format!("{}.", said.trim_end_matches('.'))))
    });
    told.collect()
}

/// The steps that this engine alone needed, each with why and the day on which it was done.
fn extra(bench: &Bench) -> Vec<Text> {
    let job = bench.material.job;
    let line = |(id, why): &(StepId, Option<String>)| {
        let why = why.as_ref().map(|why| format!(": {why}")).unwrap_or_default();
        let done = job.done.iter().find(|done| matches!(done.step, StepKey::Written(step, _) if step == *id));
        let day = done
            .and_then(|done| done.signature.date)
            .map(|date| format!("; done {date}"))
            .unwrap_or_default();
        Text::bold(bench.procedure.step(*id).naming.title.clone()).and(format!("{why}{day}."))
    };
    job.extra_steps.iter().map(line).collect()
}

/// The work outside that this engine alone needs, on what part.
fn extra_outside(bench: &Bench) -> Vec<Text> {
    let line = |((part, place), work): (&PartAt, &WrittenWork)| {
        Text::bold(part_title(bench, *part, *place)).and(format!(": {}.", work.what))
    };
    bench.material.job.extra_work.iter().map(line).collect()
}

/// Who agreed to what, one line an approval.
fn agreed(bench: &Bench) -> Vec<Text> {
    let line = |approval: &Approval| {
        let mut text = Text::bold(approval.by.clone());
        if let Some(date) = approval.date {
            text = text.and(format!(", {date}"));
        }
        if let Some(number) = &approval.estimate {
            let estimate = bench.material.job.estimate(&number.value);
            let sum = estimate.and_then(|estimate| estimate.sum.as_ref());
            let sum = sum.map(|sum| format!(", which came to {sum}")).unwrap_or_default();
            text = text.and(format!(", of estimate {}{sum}", number.value));
        }
        let items: Vec<String> = approval.items.iter().map(|item| goods_title(bench, *item)).collect();
        let what = match (&approval.estimate, items.as_slice()) {
            (Some(_), []) => "everything that has a price in it".to_owned(),
            (None, []) => "nothing, for no estimate was printed before it".to_owned(),
            _ => items.join("; "),
        };
        let up_to = approval.up_to.as_ref().map(|sum| format!(", up to {sum}")).unwrap_or_default();
        text.and(format!(": {what}{up_to}"))
    };
    let job = bench.material.job;
    let within = within_the_limit(job).zip(&job.intake.spend_limit).map(|(estimate, limit)| {
        let sum = estimate.sum.as_ref().map(|sum| format!(", which came to {sum}")).unwrap_or_default();
        Text::bold(format!("Within {limit} without asking"))
            .and(format!(", as the owner lets it be spent: estimate {}{sum}", estimate.number.value))
    });
    job.approvals.iter().map(line).chain(within).collect()
}

/// The notice over what the owner hasn't agreed to.
fn for_quote(text: &str) -> Block {
    Block::Notice(Text::bold("For quote. ").and(text))
}
