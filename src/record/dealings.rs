//! Dealings with the owner, with suppliers and with those who do work outside, from the tree of a record: intake, orders,
//! work sent out, approvals, packets printed, handover. Names are not looked up here.

use super::fields::{Fields, Taker};
use super::yaml::Value;
use super::{
    Approval, Estimate, Handover, Intake, Named, Order, Print, Refused, Sent, Signature, WrittenChoice,
    WrittenSettled, errors,
};
use crate::quantity::{Dimension, Money, Quantity};
use crate::source::Spanned;

pub(super) fn intake(taker: &mut Taker, top: &Fields) -> Intake {
    const KEYS: [&str; 11] = [
        "received",
        "hours",
        "complaint",
        "seller",
        "came_with",
        "missing",
        "broken",
        "photographs",
        "spend_limit",
        "deposit",
        "leave_to_strip",
    ];
    let fields = top.get("intake").and_then(|node| taker.fields("intake", node, "`intake`", &KEYS));
    let Some(fields) = fields else { return Intake::default() };
    Intake {
        received: taker.date_of(&fields, "received"),
        hours: taker.quantity_of(&fields, "hours", Dimension::DURATION).map(|hours| hours.value),
        complaint: taker.plain_of(&fields, "complaint"),
        seller: taker.plain_of(&fields, "seller"),
        came_with: taker.plain_list_of(&fields, "came_with"),
        missing: taker.plain_list_of(&fields, "missing"),
        broken: taker.plain_list_of(&fields, "broken"),
        photographs: taker.plain_list_of(&fields, "photographs"),
        spend_limit: taker.money_of(&fields, "spend_limit"),
        deposit: taker.money_of(&fields, "deposit"),
        leave_to_strip: taker.plain_of(&fields, "leave_to_strip"),
    }
}

pub(super) fn orders(taker: &mut Taker, top: &Fields) -> Vec<(Named, Order)> {
    const KEYS: [&str; 8] = ["ordered", "due", "arrived", "compared", "size", "quantity", "supplier", "cost"];
    let Some(node) = top.get("orders") else { return Vec::new() };
    let mut orders = Vec::new();
    for (key, value) in taker.entries("orders", node, "orders: {head_gasket: {ordered: 2026-03-05}}") {
        let Some(thing) = taker.named(key) else { continue };
        let Some(fields) = taker.fields(&key.value, value, "an order", &KEYS) else { continue };
        let order = Order {
            ordered: taker.date_of(&fields, "ordered"),
            due: taker.date_of(&fields, "due"),
            arrived: taker.date_of(&fields, "arrived"),
            compared: taker.date_of(&fields, "compared"),
            size: taker.quantity_of(&fields, "size", Dimension::LENGTH).map(|size| size.value),
            quantity: taker.count_of(&fields, "quantity").map(|count| count.value),
            supplier: taker.plain_of(&fields, "supplier"),
            cost: taker.money_of(&fields, "cost"),
            span: thing.span,
        };
        orders.push((thing, order));
    }
    orders
}

pub(super) fn sent(taker: &mut Taker, top: &Fields) -> Vec<(Named, Sent)> {
    const KEYS: [&str; 5] = ["to", "sent", "back", "accepted", "by"];
    let Some(node) = top.get("sent") else { return Vec::new() };
    let mut sent = Vec::new();
    for (key, value) in taker.entries("sent", node, "sent: {cylinder_block: {to: \"...\", sent: 2026-03-05}}")
    {
        let Some(part) = taker.named(key) else { continue };
        let Some(fields) = taker.fields(&key.value, value, "work sent out", &KEYS) else { continue };
        let work = Sent {
            to: taker.plain_of(&fields, "to"),
            sent: taker.date_of(&fields, "sent"),
            back: taker.date_of(&fields, "back"),
            accepted: taker.date_of(&fields, "accepted"),
            by: taker.plain_of(&fields, "by"),
            span: part.span,
        };
        sent.push((part, work));
    }
    sent
}

/// What came back and didn't pass: `- {part: crankshaft, because: "pin 2 too small", by: HK, date: 2026-03-20}`.
pub(super) fn refused(taker: &mut Taker, top: &Fields) -> Vec<Refused<Named>> {
    const KEYS: [&str; 4] = ["part", "because", "by", "date"];
    let mut refused = Vec::new();
    let Some(list) = top.get("refused") else { return refused };
    for node in taker.list("refused", list, "refused: [{part: crankshaft, because: \"pin 2 too small\"}]") {
        let Some(fields) = taker.fields("refused", node, "what was refused", &KEYS) else { continue };
        for (wanted, example) in [("part", "part: crankshaft"), ("because", "because: \"pin 2 too small\"")] {
            if fields.get(wanted).is_none() {
                taker.diagnostics.push(errors::missing_key(node.span, wanted, "what was refused", example));
            }
        }
        let part = taker.text_of(&fields, "part").and_then(|part| taker.named(&part));
        let because = taker.plain_of(&fields, "because");
        let signature = taker.signature(&fields);
        refused.extend(part.zip(because).map(|(part, because)| Refused { part, because, signature }));
    }
    refused
}

/// Sizes that the engine has already: `bore: 0.25 mm`, or of one place, `"bore[2]": 0.50 mm`.
pub(super) fn present(taker: &mut Taker, top: &Fields) -> Vec<(Named, Spanned<Quantity>)> {
    const EXAMPLE: &str = "present: {bore: 0.25 mm}";
    let Some(node) = top.get("present") else { return Vec::new() };
    let mut sizes = Vec::new();
    for (key, value) in taker.entries("present", node, EXAMPLE) {
        let (Some(named), Some(size)) = (taker.named(key), taker.quantity(&key.value, value)) else {
            continue;
        };
        sizes.push((named, size));
    }
    sizes
}

/// Which of the pieces that are sold goes in, by whom and when:
/// `head_gasket: {piece: 1.2 mm, by: HK, date: 2026-03-05}`.
pub(super) fn chosen(taker: &mut Taker, top: &Fields) -> Vec<WrittenChoice> {
    const KEYS: [&str; 4] = ["piece", "why", "by", "date"];
    const EXAMPLE: &str = "chosen: {head_gasket: {piece: 1.2 mm, by: HK, date: 2026-03-05}}";
    let Some(node) = top.get("chosen") else { return Vec::new() };
    let mut chosen = Vec::new();
    for (key, value) in taker.entries("chosen", node, EXAMPLE) {
        let Some(part) = taker.named(key) else { continue };
        let Some(fields) = taker.fields(&key.value, value, "a choice", &KEYS) else { continue };
        for (wanted, example) in [("piece", "piece: 1.2 mm"), ("by", "by: HK"), ("date", "date: 2026-03-05")]
        {
            if fields.get(wanted).is_none() {
                taker.diagnostics.push(errors::missing_key(value.span, wanted, "the choice", example));
            }
        }
        let piece = taker.text_of(&fields, "piece");
        let signature = Signature { by: taker.plain_of(&fields, "by"), date: taker.date_of(&fields, "date") };
        let why = taker.plain_of(&fields, "why");
        // What nobody signs is not chosen.
        if let (Some(piece), Some(_), Some(_)) = (piece, &signature.by, &signature.date) {
            chosen.push(WrittenChoice { part, piece, why, signature });
        }
    }
    chosen
}

/// What was settled by hand: `alternator: goes_back`, or with its reason, `alternator: {leave_out: "the owner has one"}`; in
/// spite of the procedure with name and day, `exchanger: {declined: "too dear", by: "the owner", date: 2026-03-05}`; of a
/// reading in doubt, `flatness: {good: "no feeler of 0.04 goes in", by: HK, date: 2026-03-05}`.
pub(super) fn settled(taker: &mut Taker, top: &Fields) -> Vec<WrittenSettled> {
    const EXAMPLE: &str = "settled: {alternator: {renew: \"the owner wants a new one\"}}";
    const BESIDE: [&str; 4] = ["by", "date", "second", "risk"];
    let Some(node) = top.get("settled") else { return Vec::new() };
    let mut settled = Vec::new();
    for (key, value) in taker.entries("settled", node, EXAMPLE) {
        let Some(thing) = taker.named(key) else { continue };
        let (mut signature, mut second, mut risk) = (Signature::default(), None, None);
        let (word, why) = match &value.value {
            Value::Mapping(entries) => {
                let beside = Fields::of(value, entries);
                signature = taker.signature(&beside);
                second = taker.plain_of(&beside, "second");
                risk = taker.plain_of(&beside, "risk");
                let words = entries.iter().filter(|entry| !BESIDE.contains(&entry.key.value.as_str()));
                let words: Vec<_> = words.collect();
                let [entry] = words.as_slice() else {
                    let expected = "one word with its reason";
                    taker.diagnostics.push(errors::wrong_type(&key.value, value, expected, EXAMPLE));
                    continue;
                };
                (Some(entry.key.clone()), taker.text(&entry.key.value, &entry.value))
            }
            _ => (taker.text(&key.value, value), None),
        };
        // A reason that can't be read is complained of already; without it something else would be settled.
        if matches!(value.value, Value::Mapping(_)) && why.is_none() {
            continue;
        }
        settled.extend(word.map(|word| WrittenSettled { thing, word, why, signature, second, risk }));
    }
    settled
}

pub(super) fn approved(taker: &mut Taker, top: &Fields) -> Vec<Approval<Named>> {
    const KEYS: [&str; 5] = ["by", "date", "items", "up_to", "estimate"];
    let example = "approved: [{by: \"the owner\", date: 2026-03-05, up_to: 1800 EUR}]";
    let Some(node) = top.get("approved") else { return Vec::new() };
    let mut approvals = Vec::new();
    for item in taker.list("approved", node, example) {
        let Some(fields) = taker.fields("approved", item, "an approval", &KEYS) else { continue };
        if fields.get("by").is_none() {
            taker.diagnostics.push(errors::missing_key(item.span, "by", "the approval", "by: \"the owner\""));
        }
        let items = taker.texts_of(&fields, "items");
        let items = items.iter().filter_map(|text| taker.named(text)).collect();
        let by = taker.plain_of(&fields, "by");
        let date = taker.date_of(&fields, "date");
        let up_to = taker.money_of(&fields, "up_to");
        let estimate = taker.text_of(&fields, "estimate");
        approvals.extend(by.map(|by| Approval { by, date, items, up_to, estimate, span: item.span }));
    }
    approvals
}

/// Estimates as they were printed, with what of them had a price.
pub(super) fn estimates(taker: &mut Taker, top: &Fields) -> Vec<Estimate<Named>> {
    const KEYS: [&str; 5] = ["number", "date", "sum", "goods", "work"];
    let example = "estimates: [{number: 3f2a9-0c1d4, sum: 1800 EUR, goods: {head_gasket: 24 EUR}}]";
    let Some(node) = top.get("estimates") else { return Vec::new() };
    let mut estimates = Vec::new();
    for item in taker.list("estimates", node, example) {
        let Some(fields) = taker.fields("estimates", item, "an estimate", &KEYS) else { continue };
        if fields.get("number").is_none() {
            let example = "number: 3f2a9-0c1d4";
            taker.diagnostics.push(errors::missing_key(item.span, "number", "the estimate", example));
        }
        let date = taker.date_of(&fields, "date");
        let sum = taker.money_of(&fields, "sum");
        let [goods, work] = ["goods", "work"].map(|key| costs(taker, &fields, key));
        let number = taker.text_of(&fields, "number");
        estimates.extend(number.map(|number| Estimate { number, date, sum, goods, work }));
    }
    estimates
}

fn costs(taker: &mut Taker, fields: &Fields, key: &str) -> Vec<(Named, Money)> {
    let Some(node) = fields.get(key) else { return Vec::new() };
    let mut costs = Vec::new();
    for (name, value) in taker.entries(key, node, "goods: {head_gasket: 24 EUR}") {
        let (Some(named), Some(cost)) = (taker.named(name), taker.money(&name.value, value)) else {
            continue;
        };
        costs.push((named, cost));
    }
    costs
}

pub(super) fn prints(taker: &mut Taker, top: &Fields) -> Vec<Print> {
    const KEYS: [&str; 4] = ["date", "phase", "fingerprint", "sheets"];
    let Some(node) = top.get("prints") else { return Vec::new() };
    let mut prints = Vec::new();
    for item in taker.list("prints", node, "prints: [{date: 2026-03-05, fingerprint: 3f2a9c11}]") {
        let Some(fields) = taker.fields("prints", item, "a print", &KEYS) else { continue };
        let mut sheets = Vec::new();
        if let Some(node) = fields.get("sheets") {
            for (name, value) in taker.entries("sheets", node, "sheets: {kit: 3f2a9c11}") {
                sheets.extend(taker.text(&name.value, value).map(|print| (name.value.clone(), print.value)));
            }
        }
        let date = taker.date_of(&fields, "date");
        let phase = taker.text_of(&fields, "phase");
        if fields.get("fingerprint").is_none() {
            let example = "fingerprint: 3f2a9c11";
            taker.diagnostics.push(errors::missing_key(item.span, "fingerprint", "the print", example));
        }
        let fingerprint = taker.text_of(&fields, "fingerprint");
        prints.extend(fingerprint.map(|fingerprint| Print { date, phase, fingerprint, sheets }));
    }
    prints
}

pub(super) fn handover(taker: &mut Taker, top: &Fields) -> Handover {
    const KEYS: [&str; 5] = ["date", "declined", "returned", "running_in", "labour"];
    let fields = top.get("handover").and_then(|node| taker.fields("handover", node, "`handover`", &KEYS));
    let Some(fields) = fields else { return Handover::default() };
    Handover {
        date: taker.date_of(&fields, "date"),
        declined: taker.plain_list_of(&fields, "declined"),
        returned: taker.plain_list_of(&fields, "returned"),
        running_in: taker.plain_list_of(&fields, "running_in"),
        labour: taker.quantity_of(&fields, "labour", Dimension::DURATION).map(|labour| labour.value),
    }
}
