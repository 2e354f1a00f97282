//! The number of an estimate, what the record keeps of it once it is printed, and what is new since the last one.

use super::super::bench::Bench;
use super::super::fingerprint::short;
use super::labour;
use super::{plain, titled, to_buy, to_machine};
use crate::decide::{totals, within};
use crate::quantity::Money;
use crate::record::{Estimate, Goods};
use crate::sheet::{Block, Text};

/// What an estimate comes to, with what of it has a price: by the names that a record uses.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Quoted {
    /// The number on it, a fingerprint of the rest.
    pub number: String,
    /// What it comes to in the shop's own currency, labour included, and tax where that is stated.
    pub sum: Option<Money>,
    /// What is to be bought, and what all pieces of it cost.
    pub goods: Vec<(String, Money)>,
    /// Parts to be sent out, and what the work costs.
    pub work: Vec<(String, Money)>,
}

/// The estimate as it is now.
pub(in crate::packet) fn quoted(bench: &Bench) -> Quoted {
    let mut lines = to_buy(bench).lines;
    // By name, since the list itself follows lead times.
    lines.sort_by(|a, b| a.id.cmp(&b.id));
    let goods: Vec<(String, Money)> =
        lines.iter().filter_map(|line| Some((line.id.clone(), line.cost()?))).collect();
    let work: Vec<(String, Money)> =
        to_machine(bench).into_iter().filter_map(|line| Some((line.id, line.price?))).collect();
    let sum = with_tax(bench).into_iter().next();
    // What is read on it makes its number: the names of a record carry no meaning.
    let bought = lines.iter().filter_map(|line| Some(format!("{} {}", line.title, line.cost()?)));
    let sent = to_machine(bench).into_iter().filter_map(|line| {
        let title = super::part_title(bench, line.part, line.place);
        Some(format!("{title}: {} {}", line.what, line.price?))
    });
    let mut read: Vec<String> = bought.chain(sent).collect();
    read.sort();
    read.extend(sum.as_ref().map(ToString::to_string));
    let number = short(&read.join("\n"));
    Quoted { number, sum, goods, work }
}

/// What everything with a price comes to, labour included; the shop's own currency first.
pub(super) fn together(bench: &Bench) -> Vec<Money> {
    let parts = to_buy(bench).totals;
    let work = to_machine(bench).into_iter().filter_map(|line| line.price);
    let mut together = totals(parts.into_iter().chain(work).chain(labour::cost(bench)));
    let own = bench.material.shop.and_then(|shop| shop.crib.currency.as_deref());
    together.sort_by_key(|sum| Some(sum.currency.as_str()) != own);
    together
}

/// The tax on these sums; none where nobody has stated it.
pub(super) fn tax(bench: &Bench, sums: &[Money]) -> Option<Vec<Money>> {
    let rate = bench.material.job.prices.tax?.base();
    let of = |sum: &Money| Money {
        hundredths: (sum.hundredths as f64 * rate).round() as i64,
        currency: sum.currency.clone(),
    };
    Some(sums.iter().map(of).collect())
}

/// What everything with a price comes to, with tax where that is stated.
pub(super) fn with_tax(bench: &Bench) -> Vec<Money> {
    let mut sums = together(bench);
    for (sum, tax) in sums.clone().iter().zip(&mut sums) {
        let on_top = self::tax(bench, std::slice::from_ref(sum)).into_iter().flatten();
        tax.hundredths += on_top.map(|tax| tax.hundredths).sum::<i64>();
    }
    sums
}

/// What is new since the last estimate that the owner agreed to, or since the last that was printed where none was agreed to, or
/// costs more than it said; nothing where there is none.
pub(super) fn since(bench: &Bench, now: &Quoted) -> Vec<Block> {
    let job = bench.material.job;
    let is_of = |known: &&Estimate| {
        let mut agreed = job.approvals.iter().filter_map(|approval| approval.estimate.as_ref());
        agreed.any(|number| number.value == known.number.value)
    };
    let agreed = job.estimates.iter().rev().find(is_of);
    let Some(last) = agreed.or(job.estimates.last()).filter(|known| known.number.value != now.number) else {
        return Vec::new();
    };
    let bought = to_buy(bench).lines.into_iter().filter_map(|line| {
        let cost = line.cost();
        row(&line.title, (&last.goods, line.goods), cost, line.approved)
    });
    let sent = to_machine(bench).into_iter().filter_map(|line| {
        let goods = Goods::Part(line.part, Some(line.place));
        row(
            &format!("{}: {}", super::part_title(bench, line.part, line.place), line.what),
            (&last.work, goods),
            line.price,
            line.approved,
        )
    });
    let rows: Vec<_> = bought.chain(sent).collect();
    let nothing = rows.is_empty();
    let widths = [("What", 5.6), ("Then", 2.2), ("Now", 2.2)];
    let which = if agreed.is_some() { ", which was agreed to" } else { "" };
    let title = format!("New since estimate {}{}{which}", last.number.value, dated(last));
    let mut blocks = titled(
        &title,
        Text::plain("What stands here is for quote again, unless it was agreed to since."),
        &widths,
        rows,
    );
    let sum = |sum: Option<&Money>| sum.map_or("no sum".to_owned(), ToString::to_string);
    let words = format!(
        "Estimate {}{} came to {}; this one comes to {}.{}",
        last.number.value,
        dated(last),
        sum(last.sum.as_ref()),
        sum(now.sum.as_ref()),
        if nothing { " Nothing on it is new or dearer." } else { "" }
    );
    blocks.push(Block::Paragraph(Text::plain(words)));
    blocks
}

fn dated(estimate: &Estimate) -> String {
    estimate.date.map(|date| format!(" of {date}")).unwrap_or_default()
}

/// A line that was not in an estimate, or not at this cost.
fn row(
    title: &str,
    (known, goods): (&[(Goods, Money)], Goods),
    cost: Option<Money>,
    approved: bool,
) -> Option<Vec<crate::sheet::Cell>> {
    if cost.as_ref().is_some_and(|cost| within(known, goods, cost)) {
        return None;
    }
    let then = known.iter().find(|(other, _)| *other == goods);
    let then = then.map_or("not in it, or no price".to_owned(), |(_, cost)| cost.to_string());
    let mut now = cost.map_or("no price yet".to_owned(), |cost| cost.to_string());
    if approved {
        now += ", agreed to since";
    }
    Some(vec![plain(title), plain(then), plain(now)])
}
