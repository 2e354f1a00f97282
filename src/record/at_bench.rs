//! What is written down at the bench, from the tree of a record: readings, looks, notes, steps done, lengths. Names are
//! not looked up here.

use super::fields::{Fields, Taker};
use super::yaml::{Node, Value};
use super::{
    Came, Done, Earlier, Found, Named, NotDone, Note, Occasion, Signature, WrittenLengths, WrittenLook,
    WrittenReading, errors,
};
use crate::quantity::{Dimension, Quantity};
use crate::source::Spanned;

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

pub(super) fn readings(taker: &mut Taker, top: &Fields) -> Vec<WrittenReading> {
    const KEYS: [&str; 6] = ["value", "with", "error", "by", "date", "earlier"];
    let example = "as_found: {bore[1] top along: 80.02 mm}";
    let mut readings = Vec::new();
    for (occasion, gauge, node) in by_occasion(taker, top, "readings", example) {
        let (value, instrument, error, signature, earlier) = match &node.value {
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
                let error = fields.get("error").and_then(|node| taker.quantity("error", node));
                let earlier = earlier(taker, &fields, "value", Taker::quantity);
                (value, taker.plain_of(&fields, "with"), error, taker.signature(&fields), earlier)
            }
            _ => (taker.quantity(&gauge.to_string(), node), None, None, Signature::default(), Vec::new()),
        };
        let reading =
            |value| WrittenReading { gauge, occasion, value, instrument, error, signature, earlier };
        readings.extend(value.map(reading));
    }
    readings
}

/// What was taken before it was taken again, a list of what stands there for one; the value is under `key`.
fn earlier<T>(
    taker: &mut Taker,
    fields: &Fields,
    key: &str,
    mut value_of: impl FnMut(&mut Taker, &str, &Node) -> Option<T>,
) -> Vec<Earlier<T>> {
    let keys = [key, "with", "error", "by", "date"];
    let Some(list) = fields.get("earlier") else { return Vec::new() };
    let example = format!("earlier: [{{{key}: ..., by: MV, date: 2026-03-05}}]");
    let mut found = Vec::new();
    for item in taker.list("earlier", list, &example) {
        let (value, instrument, signature) = match &item.value {
            Value::Mapping(_) => {
                let Some(fields) = taker.fields("earlier", item, "what was taken earlier", &keys) else {
                    continue;
                };
                let Some(node) = fields.get(key) else {
                    let what = "what was taken earlier";
                    taker.diagnostics.push(errors::missing_key(item.span, key, what, &example));
                    continue;
                };
                (value_of(taker, key, node), taker.plain_of(&fields, "with"), taker.signature(&fields))
            }
            _ => (value_of(taker, "earlier", item), None, Signature::default()),
        };
        found.extend(value.map(|value| Earlier { value, instrument, signature }));
    }
    found
}

pub(super) fn looks(taker: &mut Taker, top: &Fields) -> Vec<WrittenLook> {
    const KEYS: [&str; 4] = ["result", "by", "date", "earlier"];
    let mut looks = Vec::new();
    for (occasion, look, node) in by_occasion(taker, top, "looks", "as_found: {crank_cracks: sound}") {
        let (result, signature, earlier) = match &node.value {
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
                let earlier = earlier(taker, &fields, "result", Taker::text);
                (taker.text_of(&fields, "result"), taker.signature(&fields), earlier)
            }
            _ => (taker.text(&look.to_string(), node), Signature::default(), Vec::new()),
        };
        looks.extend(result.map(|result| WrittenLook { look, occasion, result, signature, earlier }));
    }
    looks
}

pub(super) fn notes(taker: &mut Taker, top: &Fields) -> Vec<Note<Named>> {
    const KEYS: [&str; 5] = ["about", "says", "found", "by", "date"];
    const FOUND: [&str; 7] = ["length", "count", "thread", "size", "condition", "came", "added"];
    let example = "notes: [{about: sump, says: \"one stud bent\"}]";
    let Some(node) = top.get("notes") else { return Vec::new() };
    let mut notes = Vec::new();
    for item in taker.list("notes", node, example) {
        let Some(fields) = taker.fields("notes", item, "a note", &KEYS) else { continue };
        let about = taker.text_of(&fields, "about").and_then(|text| taker.named(&text));
        let says = taker.plain_of(&fields, "says");
        let mut found = Vec::new();
        if let Some(fields) =
            fields.get("found").and_then(|node| taker.fields("found", node, "`found`", &FOUND))
        {
            found.extend(taker.quantity_of(&fields, "length", Dimension::LENGTH).map(Found::Length));
            found.extend(taker.count_of(&fields, "count").map(Found::Count));
            found.extend(taker.text_of(&fields, "thread").map(Found::Thread));
            found.extend(fields.get("size").and_then(|node| taker.quantity("size", node)).map(Found::Size));
            found.extend(taker.plain_of(&fields, "condition").map(Found::Condition));
            found.extend(taker.text_of(&fields, "came").and_then(|word| came(taker, &word)));
            found.extend(taker.plain_of(&fields, "added").map(Found::Added));
        }
        let signature = taker.signature(&fields);
        if fields.get("about").is_none() {
            taker.diagnostics.push(errors::missing_key(item.span, "about", "the note", "about: PART"));
        }
        if fields.get("says").is_none() && fields.get("found").is_none() {
            taker.diagnostics.push(errors::missing_key(item.span, "says", "the note", "says: \"...\""));
        }
        notes.extend(about.map(|about| Note { span: about.span, about, says, found, signature }));
    }
    notes
}

/// How a thing came, by its word.
fn came(taker: &mut Taker, word: &Spanned<String>) -> Option<Found> {
    let known = Came::WORDS.iter().find(|(known, _)| *known == word.value);
    if known.is_none() {
        let words = Came::WORDS.map(|(word, _)| word);
        taker.diagnostics.push(errors::unknown_came(word, words));
    }
    known.map(|(_, came)| Found::Came(*came))
}

pub(super) fn done(taker: &mut Taker, top: &Fields) -> Vec<Done<Named>> {
    const KEYS: [&str; 10] = [
        "by",
        "date",
        "at",
        "time",
        "second",
        "wrench",
        "reached",
        "photographs",
        "fingerprint",
        "out_of_order",
    ];
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
        let fingerprint = taker.text_of(&fields, "fingerprint");
        let time = taker.quantity_of(&fields, "time", Dimension::DURATION).map(|time| time.value);
        let second = taker.plain_of(&fields, "second");
        let at = taker.hour_of(&fields, "at");
        let wrenches = wrenches(taker, &fields);
        let reached = reached(taker, &fields);
        let photographs = taker.plain_list_of(&fields, "photographs");
        let out_of_order = taker.plain_of(&fields, "out_of_order");
        let span = step.span;
        done.push(Done {
            span,
            step,
            signature,
            at,
            time,
            second,
            wrenches,
            reached,
            photographs,
            fingerprint,
            out_of_order,
        });
    }
    done
}

/// With what a step was tightened: `wrench: TW 80`; or by the sets where several were used, `wrench: {head_nuts: TW 80}`.
fn wrenches(taker: &mut Taker, fields: &Fields) -> Vec<(Option<Spanned<String>>, String)> {
    let Some(node) = fields.get("wrench") else { return Vec::new() };
    if !matches!(node.value, Value::Mapping(_)) {
        return taker.plain_of(fields, "wrench").map(|wrench| (None, wrench)).into_iter().collect();
    }
    let mut found = Vec::new();
    for (set, value) in taker.entries("wrench", node, "wrench: {head_nuts: TW 80}") {
        let wrench = taker.text(&set.value, value);
        found.extend(wrench.map(|wrench| (Some(set.clone()), wrench.value)));
    }
    found
}

/// What a step was tightened to in the end: `reached: 31 N.m`; or by the sets, `reached: {rod_nuts: 31 N.m}`.
fn reached(taker: &mut Taker, fields: &Fields) -> Vec<(Option<Spanned<String>>, Spanned<Quantity>)> {
    let Some(node) = fields.get("reached") else { return Vec::new() };
    let values = match node.value {
        Value::Mapping(_) => taker
            .entries("reached", node, "reached: {rod_nuts: 31 N.m}")
            .into_iter()
            .map(|(set, value)| (Some(set.clone()), value))
            .collect(),
        _ => vec![(None, node)],
    };
    let mut found = Vec::new();
    for (set, value) in values {
        let Some(value) = taker.quantity("reached", value) else { continue };
        match value.value.expect_dimension(Dimension::TORQUE) {
            Ok(_) => found.push((set, value)),
            Err(error) => taker.diagnostics.push(errors::wrong_dimension(value.span, &error, None)),
        }
    }
    found
}

pub(super) fn not_done(taker: &mut Taker, top: &Fields) -> Vec<NotDone<Named>> {
    const KEYS: [&str; 3] = ["because", "by", "date"];
    let Some(node) = top.get("not_done") else { return Vec::new() };
    let mut not_done = Vec::new();
    let example = "not_done: {lash_found: {because: \"the rocker gear came off first\", by: JS}}";
    for (key, value) in taker.entries("not_done", node, example) {
        let Some(step) = taker.named(key) else { continue };
        let fields = taker.fields(&key.value, value, "a step that is not done", &KEYS);
        let Some(fields) = fields else { continue };
        for (field, example) in [("because", "because: \"it came off already\""), ("by", "by: JS")] {
            if fields.get(field).is_none() {
                let what = format!("the step `{}`", key.value);
                taker.diagnostics.push(errors::missing_key(key.span, field, &what, example));
            }
        }
        let signature = taker.signature(&fields);
        let because = taker.plain_of(&fields, "because").unwrap_or_default();
        not_done.push(NotDone { span: step.span, step, because, signature });
    }
    not_done
}

pub(super) fn lengths(taker: &mut Taker, top: &Fields) -> Vec<WrittenLengths> {
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
