//! Text to [`Record`]: keys, kinds and quantities. Names are not looked up here.

use super::fields::{Fields, Taker};
use super::yaml::{self, Node, Value};
use super::{
    Found, Handover, Intake, Named, Occasion, Print, Record, Signature, WrittenApproval, WrittenDone,
    WrittenLengths, WrittenLook, WrittenNote, WrittenOrder, WrittenReading, WrittenSent, errors,
};
use crate::diagnostics::Outcome;
use crate::quantity::Dimension;
use crate::source::{FileId, Spanned};

/// Largest record that is read. That of a large engine with every reading has about a hundredth of this.
pub const LIMIT_BYTES: usize = 4 * 1024 * 1024;

const KEYS: [&str; 20] = [
    "job",
    "procedure",
    "engine_no",
    "customer",
    "prices",
    "crib",
    "settled",
    "answers",
    "intake",
    "readings",
    "looks",
    "notes",
    "done",
    "lengths",
    "orders",
    "sent",
    "approved",
    "prints",
    "handover",
    "origin",
];

/// Reads the record of a job. What can't be understood is complained of and left out; the value is empty where
/// the text is not YAML at all.
pub fn read(file: FileId, text: &str) -> Outcome<Record> {
    let mut taker = Taker::default();
    let record = match tree(file, text, errors::RECORD_EXAMPLE) {
        Ok(root) => record(&mut taker, file, &root),
        Err(diagnostic) => {
            taker.diagnostics.push(*diagnostic);
            Record::empty(file)
        }
    };
    Outcome { value: record, diagnostics: taker.diagnostics }
}

/// The tree of a whole record or crib, which must be a mapping.
/// `example` says how such a file begins.
pub(super) fn tree(
    file: FileId,
    text: &str,
    example: &str,
) -> Result<Node, Box<crate::diagnostics::Diagnostic>> {
    if text.len() > LIMIT_BYTES {
        return Err(Box::new(errors::too_large(file, text.len(), LIMIT_BYTES)));
    }
    let fault = |fault| Box::new(errors::fault(fault));
    let root = yaml::scan(file, text).map_err(fault)?;
    yaml::agree(file, text, &root).map_err(fault)?;
    match root.value {
        Value::Null => Err(Box::new(errors::empty(file, example))),
        Value::Mapping(_) => Ok(root),
        _ => Err(Box::new(errors::not_a_mapping(&root, example))),
    }
}

impl Record {
    /// A record that says nothing.
    pub fn empty(file: FileId) -> Record {
        Record {
            file,
            job: None,
            procedure: None,
            engine_no: None,
            customer: None,
            prices: None,
            crib: None,
            answers: Vec::new(),
            intake: Intake::default(),
            readings: Vec::new(),
            looks: Vec::new(),
            notes: Vec::new(),
            done: Vec::new(),
            lengths: Vec::new(),
            orders: Vec::new(),
            sent: Vec::new(),
            settled: Vec::new(),
            approved: Vec::new(),
            prints: Vec::new(),
            handover: Handover::default(),
        }
    }
}

fn record(taker: &mut Taker, file: FileId, root: &Node) -> Record {
    let mut record = Record::empty(file);
    let Some(fields) = taker.fields("record", root, "a record", &KEYS) else { return record };
    // `origin` says in words where the data of a record comes from; nothing depends on it.
    taker.text_of(&fields, "origin");
    record.job = taker.text_of(&fields, "job");
    record.procedure = taker.text_of(&fields, "procedure");
    record.engine_no = taker.text_of(&fields, "engine_no");
    record.customer = taker.text_of(&fields, "customer");
    record.prices = taker.text_of(&fields, "prices");
    record.crib = taker.text_of(&fields, "crib");
    for (key, example) in [("job", "job: \"2026-001\""), ("procedure", "procedure: family.leaf")] {
        if fields.get(key).is_none() {
            let top = crate::source::Span { end: fields.span.start, ..fields.span };
            taker.diagnostics.push(errors::missing_key(top, key, "the record", example));
        }
    }
    if let Some(node) = fields.get("answers") {
        for (key, value) in taker.entries("answers", node, "answers: {valve_gear: reuse}") {
            record.answers.extend(taker.text(&key.value, value).map(|answer| (key.clone(), answer)));
        }
    }
    record.intake = intake(taker, &fields);
    record.readings = readings(taker, &fields);
    record.looks = looks(taker, &fields);
    record.notes = notes(taker, &fields);
    record.done = done(taker, &fields);
    record.lengths = lengths(taker, &fields);
    record.orders = orders(taker, &fields);
    record.sent = sent(taker, &fields);
    if let Some(node) = fields.get("settled") {
        for (key, value) in taker.entries("settled", node, "settled: {alternator: goes_back}") {
            let Some(named) = taker.named(key) else { continue };
            record.settled.extend(taker.text(&key.value, value).map(|word| (named, word)));
        }
    }
    record.approved = approved(taker, &fields);
    record.prints = prints(taker, &fields);
    record.handover = handover(taker, &fields);
    record
}

fn plain(text: Option<Spanned<String>>) -> Option<String> {
    text.map(|text| text.value)
}

fn plain_list(texts: Vec<Spanned<String>>) -> Vec<String> {
    texts.into_iter().map(|text| text.value).collect()
}

fn intake(taker: &mut Taker, top: &Fields) -> Intake {
    const KEYS: [&str; 9] = [
        "received",
        "hours",
        "complaint",
        "came_with",
        "missing",
        "broken",
        "photographs",
        "spend_limit",
        "leave_to_strip",
    ];
    let fields = top.get("intake").and_then(|node| taker.fields("intake", node, "`intake`", &KEYS));
    let Some(fields) = fields else { return Intake::default() };
    Intake {
        received: taker.date_of(&fields, "received"),
        hours: taker.quantity_of(&fields, "hours", Dimension::DURATION).map(|hours| hours.value),
        complaint: plain(taker.text_of(&fields, "complaint")),
        came_with: plain_list(taker.texts_of(&fields, "came_with")),
        missing: plain_list(taker.texts_of(&fields, "missing")),
        broken: plain_list(taker.texts_of(&fields, "broken")),
        photographs: plain_list(taker.texts_of(&fields, "photographs")),
        spend_limit: taker.money_of(&fields, "spend_limit"),
        leave_to_strip: plain(taker.text_of(&fields, "leave_to_strip")),
    }
}

/// The things under each occasion of `readings` or `looks`.
fn by_occasion<'a>(
    taker: &mut Taker,
    top: &Fields<'a>,
    key: &str,
    example: &str,
) -> Vec<(Occasion, Named, &'a Node)> {
    let occasions = Occasion::KEYS.map(|(key, _)| key);
    let what = format!("`{key}`");
    let fields = top.get(key).and_then(|node| taker.fields(key, node, &what, &occasions));
    let Some(fields) = fields else { return Vec::new() };
    let mut found = Vec::new();
    for (occasion_key, occasion) in Occasion::KEYS {
        let Some(node) = fields.get(occasion_key) else { continue };
        for (key, value) in taker.entries(occasion_key, node, example) {
            // A reading without a value is a blank that is still to be filled.
            if value.value != Value::Null {
                found.extend(taker.named(key).map(|named| (occasion, named, value)));
            }
        }
    }
    found
}

fn readings(taker: &mut Taker, top: &Fields) -> Vec<WrittenReading> {
    const KEYS: [&str; 4] = ["value", "with", "by", "date"];
    let example = "as_found: {bore[1] top along: 80.02 mm}";
    let mut readings = Vec::new();
    for (occasion, gauge, node) in by_occasion(taker, top, "readings", example) {
        let (value, instrument, signature) = match &node.value {
            Value::Mapping(_) => {
                let Some(fields) = taker.fields(&gauge.to_string(), node, "a reading", &KEYS) else {
                    continue;
                };
                let value = fields.get("value").and_then(|node| taker.quantity("value", node));
                if fields.get("value").is_none() {
                    taker.diagnostics.push(errors::missing_key(
                        gauge.span,
                        "value",
                        "the reading",
                        "value: 80.02 mm",
                    ));
                }
                (value, plain(taker.text_of(&fields, "with")), taker.signature(&fields))
            }
            _ => (taker.quantity(&gauge.to_string(), node), None, Signature::default()),
        };
        readings.extend(value.map(|value| WrittenReading { gauge, occasion, value, instrument, signature }));
    }
    readings
}

fn looks(taker: &mut Taker, top: &Fields) -> Vec<WrittenLook> {
    const KEYS: [&str; 3] = ["result", "by", "date"];
    let mut looks = Vec::new();
    for (occasion, look, node) in by_occasion(taker, top, "looks", "as_found: {crank_cracks: sound}") {
        let (result, signature) = match &node.value {
            Value::Mapping(_) => {
                let Some(fields) = taker.fields(&look.to_string(), node, "a look", &KEYS) else { continue };
                if fields.get("result").is_none() {
                    taker.diagnostics.push(errors::missing_key(
                        look.span,
                        "result",
                        "the look",
                        "result: sound",
                    ));
                }
                (taker.text_of(&fields, "result"), taker.signature(&fields))
            }
            _ => (taker.text(&look.to_string(), node), Signature::default()),
        };
        looks.extend(result.map(|result| WrittenLook { look, occasion, result, signature }));
    }
    looks
}

fn notes(taker: &mut Taker, top: &Fields) -> Vec<WrittenNote> {
    const KEYS: [&str; 5] = ["about", "says", "found", "by", "date"];
    const FOUND: [&str; 3] = ["length", "count", "thread"];
    let example = "notes: [{about: sump, says: \"one stud bent\"}]";
    let Some(node) = top.get("notes") else { return Vec::new() };
    let mut notes = Vec::new();
    for item in taker.list("notes", node, example) {
        let Some(fields) = taker.fields("notes", item, "a note", &KEYS) else { continue };
        let about = taker.text_of(&fields, "about").and_then(|text| taker.named(&text));
        let says = taker.text_of(&fields, "says");
        let mut found = Vec::new();
        if let Some(fields) =
            fields.get("found").and_then(|node| taker.fields("found", node, "`found`", &FOUND))
        {
            found.extend(taker.quantity_of(&fields, "length", Dimension::LENGTH).map(Found::Length));
            found.extend(taker.count_of(&fields, "count").map(Found::Count));
            found.extend(taker.text_of(&fields, "thread").map(Found::Thread));
        }
        let signature = taker.signature(&fields);
        if fields.get("about").is_none() {
            taker.diagnostics.push(errors::missing_key(item.span, "about", "the note", "about: PART"));
        }
        if fields.get("says").is_none() && fields.get("found").is_none() {
            taker.diagnostics.push(errors::missing_key(item.span, "says", "the note", "says: \"...\""));
        }
        notes.extend(about.map(|about| WrittenNote { about, says, found, signature }));
    }
    notes
}

fn done(taker: &mut Taker, top: &Fields) -> Vec<WrittenDone> {
    const KEYS: [&str; 3] = ["by", "date", "fingerprint"];
    let Some(node) = top.get("done") else { return Vec::new() };
    let mut done = Vec::new();
    for (key, value) in taker.entries("done", node, "done: {drain_oil: {by: JS, date: 2026-03-05}}") {
        let Some(step) = taker.named(key) else { continue };
        let fields = taker.fields(&key.value, value, "a step that is done", &KEYS);
        let Some(fields) = fields else { continue };
        let signature = taker.signature(&fields);
        for (field, example) in [("by", "by: JS"), ("date", "date: 2026-03-05")] {
            if fields.get(field).is_none() {
                let what = format!("the step `{}`", key.value);
                taker.diagnostics.push(errors::missing_key(key.span, field, &what, example));
            }
        }
        done.push(WrittenDone { step, signature, fingerprint: taker.text_of(&fields, "fingerprint") });
    }
    done
}

fn lengths(taker: &mut Taker, top: &Fields) -> Vec<WrittenLengths> {
    let Some(node) = top.get("lengths") else { return Vec::new() };
    let mut lengths = Vec::new();
    let example = "lengths: {sump_bolts: {A: 20 mm, B: 35 mm}}";
    for (key, value) in taker.entries("lengths", node, example) {
        let Some(set) = taker.named(key) else { continue };
        let mut holes = Vec::new();
        for (hole, value) in taker.entries(&key.value, value, example) {
            if value.value == Value::Null {
                continue;
            }
            let Some(length) = taker.quantity(&hole.value, value) else { continue };
            match length.value.expect_dimension(Dimension::LENGTH) {
                Ok(_) => holes.push((hole.clone(), length)),
                Err(error) => taker.diagnostics.push(errors::wrong_dimension(length.span, &error, None)),
            }
        }
        lengths.push((set, holes));
    }
    lengths
}

fn orders(taker: &mut Taker, top: &Fields) -> Vec<WrittenOrder> {
    const KEYS: [&str; 8] = ["ordered", "due", "arrived", "compared", "size", "quantity", "supplier", "cost"];
    let Some(node) = top.get("orders") else { return Vec::new() };
    let mut orders = Vec::new();
    for (key, value) in taker.entries("orders", node, "orders: {head_gasket: {ordered: 2026-03-05}}") {
        let Some(thing) = taker.named(key) else { continue };
        let Some(fields) = taker.fields(&key.value, value, "an order", &KEYS) else { continue };
        orders.push(WrittenOrder {
            thing,
            ordered: taker.date_of(&fields, "ordered"),
            due: taker.date_of(&fields, "due"),
            arrived: taker.date_of(&fields, "arrived"),
            compared: taker.date_of(&fields, "compared"),
            size: taker.quantity_of(&fields, "size", Dimension::LENGTH),
            quantity: taker.count_of(&fields, "quantity").map(|count| count.value),
            supplier: plain(taker.text_of(&fields, "supplier")),
            cost: taker.money_of(&fields, "cost"),
        });
    }
    orders
}

fn sent(taker: &mut Taker, top: &Fields) -> Vec<WrittenSent> {
    const KEYS: [&str; 5] = ["to", "sent", "back", "accepted", "by"];
    let Some(node) = top.get("sent") else { return Vec::new() };
    let mut sent = Vec::new();
    for (key, value) in taker.entries("sent", node, "sent: {cylinder_block: {to: \"...\", sent: 2026-03-05}}")
    {
        let Some(part) = taker.named(key) else { continue };
        let Some(fields) = taker.fields(&key.value, value, "work sent out", &KEYS) else { continue };
        sent.push(WrittenSent {
            part,
            to: plain(taker.text_of(&fields, "to")),
            sent: taker.date_of(&fields, "sent"),
            back: taker.date_of(&fields, "back"),
            accepted: taker.date_of(&fields, "accepted"),
            by: plain(taker.text_of(&fields, "by")),
        });
    }
    sent
}

fn approved(taker: &mut Taker, top: &Fields) -> Vec<WrittenApproval> {
    const KEYS: [&str; 4] = ["by", "date", "items", "up_to"];
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
        let by = taker.text_of(&fields, "by");
        let date = taker.date_of(&fields, "date");
        let up_to = taker.money_of(&fields, "up_to");
        approvals.extend(by.map(|by| WrittenApproval { by, date, items, up_to, span: item.span }));
    }
    approvals
}

fn prints(taker: &mut Taker, top: &Fields) -> Vec<Print> {
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

fn handover(taker: &mut Taker, top: &Fields) -> Handover {
    const KEYS: [&str; 5] = ["date", "declined", "returned", "running_in", "labour"];
    let fields = top.get("handover").and_then(|node| taker.fields("handover", node, "`handover`", &KEYS));
    let Some(fields) = fields else { return Handover::default() };
    Handover {
        date: taker.date_of(&fields, "date"),
        declined: plain_list(taker.texts_of(&fields, "declined")),
        returned: plain_list(taker.texts_of(&fields, "returned")),
        running_in: plain_list(taker.texts_of(&fields, "running_in")),
        labour: taker.quantity_of(&fields, "labour", Dimension::DURATION).map(|labour| labour.value),
    }
}
