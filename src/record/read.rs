//! Text to [`Record`]: keys, kinds and quantities. Names are not looked up here.

use super::at_bench::{done, lengths, looks, not_done, notes, readings};
use super::dealings::{
    approved, chosen, estimates, handover, intake, orders, present, prints, refused, sent, settled,
};
use super::extra::extra;
use super::fields::Taker;
use super::yaml::{self, Node, Value};
use super::{Handover, Intake, Record, WrittenExtra, errors};
use crate::diagnostics::{Diagnostic, Outcome};
use crate::source::FileId;

/// Largest record that is read. That of a large engine with every reading has about a hundredth of this.
pub(super) const LIMIT_BYTES: usize = 4 * 1024 * 1024;

/// Every key of a record.
pub(crate) const KEYS: [&str; 31] = [
    "job",
    "procedure",
    "family",
    "edition",
    "engine_no",
    "customer",
    "promised",
    "stand",
    "changes",
    "prices",
    "crib",
    "present",
    "chosen",
    "settled",
    "answers",
    "intake",
    "readings",
    "looks",
    "notes",
    "done",
    "not_done",
    "lengths",
    "orders",
    "sent",
    "refused",
    "extra",
    "approved",
    "estimates",
    "prints",
    "handover",
    "origin",
];

/// Reads the record of a job. What can't be understood is complained of and left out; the value is empty where
/// the text is not YAML at all.
///
/// ```
/// use benchleaf::{Sources, read_record};
///
/// let yaml = "job: \"2026-001\"\nprocedure: pump.rebuild\nanswers:\n  fan: yes\n";
/// let mut sources = Sources::new();
/// let file = sources.add("job.yaml", yaml);
/// let record = read_record(file, yaml);
/// assert!(record.diagnostics.is_empty());
/// assert_eq!(record.value.procedure.expect("it is named").value, "pump.rebuild");
/// assert!(read_record(file, "answers: [").has_errors());
/// ```
pub fn read(file: FileId, text: &str) -> Outcome<Record> {
    let mut taker = Taker::default();
    let root = tree(file, text, errors::RECORD_EXAMPLE, &mut taker.diagnostics);
    let record = root.map_or_else(|| Record::empty(file), |root| record(&mut taker, file, &root));
    Outcome { value: record, diagnostics: taker.diagnostics }
}

/// The tree of a whole record or crib, which must be a mapping; none, and why, where it can't be had. Of keys that stand
/// twice the first counts, and each is complained of. `example` says how such a file begins.
pub(super) fn tree(
    file: FileId,
    text: &str,
    example: &str,
    diagnostics: &mut Vec<Diagnostic>,
) -> Option<Node> {
    if text.len() > LIMIT_BYTES {
        diagnostics.push(errors::too_large(file, text.len(), LIMIT_BYTES));
        return None;
    }
    let scanned = yaml::scan_all(file, text).and_then(|(root, twice)| {
        // A text with a key that stands twice is no YAML for serde_yaml: the two can't be compared.
        if twice.is_empty() {
            yaml::agree(file, text, &root)?;
        }
        Ok((root, twice))
    });
    let root = match scanned {
        Ok((root, twice)) => {
            diagnostics.extend(twice.into_iter().map(errors::fault));
            root
        }
        Err(fault) => {
            diagnostics.push(errors::fault(fault));
            return None;
        }
    };
    match root.value {
        Value::Mapping(_) => return Some(root),
        Value::Null => diagnostics.push(errors::empty(file, example)),
        _ => diagnostics.push(errors::not_a_mapping(&root, example)),
    }
    None
}

impl Record {
    /// A record that says nothing.
    pub fn empty(file: FileId) -> Record {
        Record {
            file,
            job: None,
            procedure: None,
            family: None,
            edition: None,
            engine_no: None,
            customer: None,
            promised: None,
            stand: None,
            changes: None,
            prices: None,
            crib: None,
            answers: Vec::new(),
            intake: Intake::default(),
            readings: Vec::new(),
            looks: Vec::new(),
            notes: Vec::new(),
            done: Vec::new(),
            not_done: Vec::new(),
            lengths: Vec::new(),
            orders: Vec::new(),
            sent: Vec::new(),
            refused: Vec::new(),
            present: Vec::new(),
            chosen: Vec::new(),
            settled: Vec::new(),
            extra: WrittenExtra::default(),
            approved: Vec::new(),
            estimates: Vec::new(),
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
    record.family = taker.text_of(&fields, "family");
    record.edition = taker.count_of(&fields, "edition");
    record.engine_no = taker.text_of(&fields, "engine_no");
    record.customer = taker.text_of(&fields, "customer");
    record.promised = taker.date_of(&fields, "promised");
    record.stand = taker.text_of(&fields, "stand");
    record.changes = taker.text_of(&fields, "changes");
    record.prices = taker.text_of(&fields, "prices");
    record.crib = taker.text_of(&fields, "crib");
    for (key, example) in [("job", "job: \"2026-001\""), ("procedure", "procedure: family.rebuild")] {
        if fields.get(key).is_none() {
            let top = fields.span.ending(fields.span.start());
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
    record.not_done = not_done(taker, &fields);
    record.lengths = lengths(taker, &fields);
    record.orders = orders(taker, &fields);
    record.sent = sent(taker, &fields);
    record.refused = refused(taker, &fields);
    record.present = present(taker, &fields);
    record.chosen = chosen(taker, &fields);
    record.settled = settled(taker, &fields);
    record.extra = extra(taker, &fields);
    record.approved = approved(taker, &fields);
    record.estimates = estimates(taker, &fields);
    record.prints = prints(taker, &fields);
    record.handover = handover(taker, &fields);
    record
}
