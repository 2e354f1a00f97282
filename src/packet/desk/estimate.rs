//! The estimate: what was found, in plain words, and what it comes to, for the owner to decide on.

use super::super::bench::Bench;
use super::super::bench_notes::about_title;
use super::super::word;
use super::quoted::{quoted, since, tax, together, with_tax};
use super::{
    Addressee, agreed, heading, labour, letterhead, listed, plain, titled, to_buy, to_machine, to_sign,
};
use crate::decide::{
    Asked, Because, OrderList, PartDecision, Verdict, decide, machine_shop_order, order_list, totals,
};
use crate::english::{counted, spaced};
use crate::plan::words::{capital, list};
use crate::procedure::model::{AskId, PartId, Place};
use crate::quantity::Money;
use crate::record::{Goods, Job, Note};
use crate::sheet::{Block, Cell, Sheet, SheetKind, Text};
use crate::source::Spanned;

/// The estimate; none as long as nothing was read, looked at or noted, and there is no extra work.
pub(in crate::packet) fn estimate(bench: &Bench) -> Vec<Sheet> {
    let job = bench.material.job;
    let nothing_found = job.readings.is_empty() && job.looks.is_empty() && job.notes.is_empty();
    if nothing_found && job.extra_steps.is_empty() && job.extra_parts.is_empty() {
        return Vec::new();
    }
    let quoted = quoted(bench);
    let mut blocks = vec![letterhead(bench, Addressee::Owner), Block::Notice(Text::bold("An estimate, not a bill. ").and(
        "What is still open, or has no price yet, comes on top. Nothing is bought or sent out before it is agreed.",
    ))];
    blocks.push(Block::Paragraph(Text::plain("Estimate number ").and_bold(quoted.number.clone()).and(
        ". What is agreed is agreed by this number: what is found later, or costs more, is for quote again.",
    )));
    blocks.extend(notes(bench));
    blocks.extend(found(bench));
    let mut extra = super::extra(bench);
    extra.extend(super::extra_outside(bench));
    if !extra.is_empty() {
        blocks.push(heading(&format!("Extra work on this {}", bench.procedure.whole())));
        blocks.push(Block::List { items: extra, tick: false });
    }
    let mut words = word::words(bench, |_| true);
    words.extend(word::judged(bench));
    if !words.is_empty() {
        blocks.push(heading("Decided all the same"));
        blocks.push(Block::List { items: words, tick: false });
    }
    blocks.extend(labour::labour(bench));
    blocks.extend(sums(bench));
    blocks.extend(since(bench, &quoted));
    blocks.extend(options(bench));
    blocks.extend(agreement(bench));
    vec![Sheet::new(
        SheetKind::Estimate,
        "Estimate",
        "What was found, and what putting it right comes to",
        blocks,
    )]
}

fn notes(bench: &Bench) -> Vec<Block> {
    let said = super::said_when_it_came(bench);
    let title =
        if said.is_empty() { "Seen at the bench" } else { "Said when it came, and seen at the bench" };
    let notes = bench.material.job.notes.iter().filter_map(|note| told(bench, note));
    let items: Vec<Text> = said.into_iter().chain(notes).collect();
    if items.is_empty() {
        return Vec::new();
    }
    vec![heading(title), Block::List { items, tick: false }]
}

/// A note as it is told to the owner; what only the procedure's author needs is left out.
fn told(bench: &Bench, note: &Note) -> Option<Text> {
    let says = note.says.as_ref()?;
    Some(Text::bold(format!("{}: ", about_title(bench, &note.about))).and(says.clone()))
}

/// Parts that don't simply go back, those with one verdict and one reason together.
fn found(bench: &Bench) -> Vec<Block> {
    let mut groups: Vec<(PartId, Vec<Place>, &PartDecision)> = Vec::new();
    for ((id, place), decision) in &bench.material.decisions.fates {
        let speaks = match &decision.verdict {
            Verdict::Machine { .. } | Verdict::Keep | Verdict::Open => true,
            // What is always renewed stands on the order list and needs no finding.
            Verdict::Renew { .. } => judged(bench, *id),
            Verdict::GoesBack | Verdict::CleanAndBack | Verdict::LeaveOut(_) => false,
        };
        if !speaks {
            continue;
        }
        match groups.iter_mut().find(|(known, _, other)| {
            known == id && (&other.verdict, &other.because) == (&decision.verdict, &decision.because)
        }) {
            Some((_, places, _)) => places.push(*place),
            None => groups.push((*id, vec![*place], decision)),
        }
    }
    let rows = groups
        .iter()
        .map(|(id, places, decision)| {
            let part = bench.procedure.part(*id);
            let title = if places.len() == bench.procedure.places(&part.axes).len() {
                part.naming.title.clone()
            } else {
                let places: Vec<String> =
                    places.iter().map(|place| bench.place_name(&part.axes, *place)).collect();
                format!("{} {}", part.naming.title, list(&places))
            };
            vec![
                plain(title),
                Cell::Text(Text::bold(verdict(&decision.verdict))),
                plain(why(bench, *id, places, decision)),
            ]
        })
        .chain(fasteners(bench))
        .collect();
    let widths = [("Part", 3.4), ("What becomes of it", 2.8), ("Why", 5.0)];
    titled("Found by measuring and looking", Text::default(), &widths, rows)
}

/// Fasteners that are renewed by what was found of them; those that serve once stand on the order list.
fn fasteners(bench: &Bench) -> Vec<Vec<Cell>> {
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    for ((id, place), decision) in &bench.material.decisions.sets {
        let among = &decision.new_among;
        let (what, why) = match &decision.verdict {
            Verdict::Renew { .. } if !matches!(decision.because, Because::OnceOnly | Because::Record(_)) => {
                ("Renew".to_owned(), decision.because.plain())
            }
            Verdict::Renew { .. } | Verdict::LeaveOut(_) => continue,
            _ if among.pieces() > 0 => {
                let of = bench.procedure.set_pieces(*id, &[*place]);
                (format!("Renew {} of {of}", among.pieces()), among.because.join("; "))
            }
            _ => continue,
        };
        let title = super::goods_title(bench, Goods::Set(*id, Some(*place)));
        rows.push(vec![plain(title), Cell::Text(Text::bold(what)), plain(why)]);
    }
    rows
}

/// The reason of a verdict, or what it is still open for.
fn why(bench: &Bench, part: PartId, places: &[Place], decision: &PartDecision) -> String {
    if decision.verdict != Verdict::Open {
        return if decision.because == Because::Always { String::new() } else { decision.because.plain() };
    }
    let first = |place: &Place| {
        decision.before_fitting(false).map(|hold| hold.words_of_part(bench.procedure, part, *place)).collect()
    };
    let waits: Vec<String> = places.first().map(first).unwrap_or_default();
    if waits.is_empty() { String::new() } else { format!("Waits for {}", list(&waits)) }
}

/// Whether a part's fate hangs on something, so that its being renewed is a finding.
fn judged(bench: &Bench, part: PartId) -> bool {
    bench.procedure.part(part).fate.as_ref().is_some_and(|fate| {
        !fate.cases.is_empty() || !matches!(fate.otherwise, Some(crate::procedure::model::Fate::Renew))
    })
}

fn verdict(verdict: &Verdict) -> String {
    match verdict {
        Verdict::Machine { what, .. } => format!("Send out: {what}"),
        Verdict::Renew { size: Some(size) } => format!("Renew, {}", size.printed()),
        Verdict::Renew { size: None } => "Renew".to_owned(),
        Verdict::Keep => "Kept until it is settled".to_owned(),
        Verdict::Open => "Not settled".to_owned(),
        Verdict::GoesBack => "Goes back".to_owned(),
        Verdict::CleanAndBack => "Clean, and back".to_owned(),
        Verdict::LeaveOut(why) => format!("Left out: {why}"),
    }
}

/// What is bought and sent out, against the sum that may be spent without asking.
fn sums(bench: &Bench) -> Vec<Block> {
    let labour = labour::cost(bench);
    let parts = to_buy(bench);
    let work = to_machine(bench);
    let waiting = work.iter().filter(|line| !line.waits_for.is_empty()).count();
    let mut out = format!("{} to send out", counted(work.len(), "piece"));
    if waiting > 0 {
        out += &format!(", {waiting} of them waiting for something to be settled first");
    }
    let priced_work: Vec<Money> = work.iter().filter_map(|line| line.price.clone()).collect();
    let unpriced = work.len() - priced_work.len();
    if !priced_work.is_empty() {
        out += &format!(": {}", list_of(&totals(priced_work.iter().cloned())));
    }
    if unpriced > 0 {
        out += &format!(", {unpriced} without a price");
    }
    let together = together(bench);
    let mut rows = vec![
        vec![plain("Parts, fasteners and gaskets, see the order list"), plain(priced(&parts))],
        vec![plain("Machining and testing, see the machine-shop order"), plain(out)],
        vec![
            plain("Labour, worked and left"),
            plain(labour.map_or("no price of an hour is known".to_owned(), |cost| cost.to_string())),
        ],
        vec![plain("Together, as far as prices are known"), Cell::Text(Text::bold(list_of(&together)))],
    ];
    rows.extend(on_top(bench, &together));
    let mut blocks =
        titled("What it comes to", Text::default(), &[("", 5.0), ("As far as known", 5.0)], rows);
    if let Some(limit) = &bench.material.job.intake.spend_limit {
        blocks.push(Block::Paragraph(against(limit, &with_tax(bench))));
    }
    blocks
}

/// Tax as the shop states it, what was paid on account, and what is left to pay. Nobody knows of tax what nobody has stated.
fn on_top(bench: &Bench, together: &[Money]) -> Vec<Vec<Cell>> {
    let job = bench.material.job;
    let bold = |words: String| Cell::Text(Text::bold(words));
    let mut rows = match (job.prices.tax, tax(bench, together)) {
        (Some(rate), Some(tax)) => vec![
            vec![plain(format!("Tax, {}", rate.printed())), plain(list_of(&tax))],
            vec![plain("Together with tax"), bold(list_of(&with_tax(bench)))],
        ],
        _ => vec![vec![plain("Tax"), plain("not stated: whether it is in the prices isn't known")]],
    };
    let Some(paid) = &job.intake.deposit else { return rows };
    rows.push(vec![plain("Paid on account"), plain(paid.to_string())]);
    let mut left = with_tax(bench);
    match left.iter_mut().find(|sum| sum.currency == paid.currency) {
        Some(sum) => {
            sum.hundredths -= paid.hundredths;
            let words = if sum.hundredths < 0 { "More was paid than this comes to" } else { "Left to pay" };
            sum.hundredths = sum.hundredths.abs();
            rows.push(vec![plain(format!("{words}, as far as prices are known")), bold(list_of(&left))]);
        }
        None => rows.push(vec![plain("Left to pay"), plain("paid in another currency than what is priced")]),
    }
    rows
}

fn priced(list: &OrderList) -> String {
    let sum = list_of(&list.totals);
    match list.unpriced {
        0 => sum,
        count => format!("{sum}, and {} without a price", counted(count, "line")),
    }
}

fn against(limit: &Money, together: &[Money]) -> Text {
    let same = together.iter().find(|sum| sum.currency == limit.currency);
    let text = Text::plain(format!("The owner's limit without asking is {limit}. "));
    match same {
        Some(sum) if sum.hundredths > limit.hundredths => {
            text.and_bold("What is priced is above it: ask before anything is ordered.")
        }
        Some(_) => text.and("What is priced is within it; what has no price comes on top."),
        None => text.and("Nothing is priced in its currency."),
    }
}

fn list_of(sums: &[Money]) -> String {
    if sums.is_empty() {
        return "no price known".to_owned();
    }
    sums.iter().map(ToString::to_string).collect::<Vec<_>>().join(" and ")
}

/// What each answer to a question that is still open would mean for what is bought and sent out.
fn options(bench: &Bench) -> Vec<Block> {
    let material = bench.material;
    let mut rows = Vec::new();
    for (id, ask) in bench.procedure.asks.numbered() {
        if material.decisions.answer(Asked::Ask(id)).is_some() {
            continue;
        }
        for (index, answer) in ask.answers.iter().enumerate() {
            let (parts, work) = supposing(bench, id, index);
            let title = if index == 0 { ask.naming.title.clone() } else { String::new() };
            rows.push(vec![
                plain(title),
                Cell::Text(Text::bold(capital(&spaced(answer)))),
                plain(priced(&parts)),
                plain(counted(work, "piece")),
                Cell::Tick,
                Cell::Tick,
            ]);
        }
    }
    let caption = "If this alone were settled so, everything on the lists would come to:";
    let widths =
        [("Question", 4.0), ("Answer", 1.8), ("Parts", 3.2), ("Sent out", 1.4), ("Yes", 0.6), ("No", 0.6)];
    titled("Options", Text::plain(caption), &widths, rows)
}

/// The lists as they would be if one question were answered so.
fn supposing(bench: &Bench, ask: AskId, answer: usize) -> (OrderList, usize) {
    let mut job: Job = bench.material.job.clone();
    // A supposed answer stands nowhere in the record; the question itself is its place.
    job.answers.insert(ask, Spanned::new(answer, bench.procedure.ask(ask).naming.span));
    let decisions = decide(bench.procedure, &bench.network.structure, &job).value;
    let parts = order_list(bench.procedure, &job, &decisions);
    let work = machine_shop_order(bench.procedure, &job, &decisions).len();
    (parts, work)
}

fn agreement(bench: &Bench) -> Vec<Block> {
    let agreements = agreed(bench);
    let signed = to_sign("Agreed", "The owner");
    if agreements.is_empty() {
        let mut blocks = listed("Agreed", &[], "Everything, or which items; up to what sum", 2);
        blocks.insert(
            1,
            Block::List {
                items: [
                    "Go on with everything",
                    "Go on with the items named below",
                    "Stop, and put it back as it is",
                ]
                .map(Text::plain)
                .to_vec(),
                tick: true,
            },
        );
        blocks.push(signed);
        return blocks;
    }
    vec![heading("Agreed"), Block::List { items: agreements, tick: false }, signed]
}
