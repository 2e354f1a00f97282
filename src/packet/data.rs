//! The plan as data, carried inside the file: what another program needs of a packet without reading its pages.

use serde_json::{Value, json};

use super::bench::Bench;
use super::numbers::Numbered;
use super::step_marks;
use crate::plan::{PlannedStep, Standing};
use crate::sheet::{Attachment, Entry, Footer, Form};

/// Name of the file inside the PDF.
const NAME: &str = "plan.json";

/// The plan of the phase as JSON, with what each number on the sheets means; keys are in alphabetical order, so that equal plans are equal bytes.
pub(super) fn attachment(
    bench: &Bench,
    footer: &Footer,
    sheets: &[(String, String)],
    numbered: &[Numbered],
) -> Attachment {
    let marks = step_marks(bench.procedure, bench.network);
    let steps = bench.plan.steps.iter().map(|step| self::step(bench, step, marks.of(&step.key)));
    let steps: Vec<Value> = steps.collect();
    let numbers: Vec<Value> = numbered.iter().map(number).collect();
    let sheets: Vec<Value> =
        sheets.iter().map(|(sheet, mark)| json!({ "sheet": sheet, "fingerprint": mark })).collect();
    let plan = json!({
        "procedure": footer.procedure,
        "invented": bench.invented(),
        "job": bench.material.job.name.as_deref().unwrap_or_default(),
        "engine_no": bench.material.job.engine_no.as_ref().map(|number| &number.value),
        "phase": bench.phase.word(),
        "fingerprint": footer.fingerprint,
        "sheets": sheets,
        "steps": steps,
        "numbers": numbers,
    });
    Attachment {
        name: NAME.to_owned(),
        media_type: "application/json".to_owned(),
        description: "The plan of this packet: its steps in order, what each number on it means, and the fingerprints of its sheets"
            .to_owned(),
        bytes: format!("{plan:#}\n").into_bytes(),
    }
}

fn number(Numbered { number, what, step, also, entry, tick }: &Numbered) -> Value {
    let mut value = json!({ "number": number, "what": what });
    if let Some(step) = step {
        value["step"] = json!(step);
    }
    if !also.is_empty() {
        value["also"] = json!(also);
    }
    if *tick {
        value["form"] = json!("tick");
    }
    if let Some(Entry { keys, form, .. }) = entry {
        value["keys"] = json!(keys);
        value["form"] = json!(match form {
            Form::Quantity(_) => "quantity",
            Form::Word(_) => "word",
            Form::Count => "count",
            Form::Day => "day",
            Form::Text => "text",
            Form::Item => "item",
        });
        match form {
            Form::Quantity(unit) => value["unit"] = json!(unit),
            Form::Word(words) => value["words"] = json!(words),
            _ => {}
        }
    }
    value
}

fn step(bench: &Bench, step: &PlannedStep, mark: Option<&str>) -> Value {
    let (standing, held_by) = match &step.standing {
        Standing::Present => ("to do", Vec::new()),
        Standing::Absent => ("absent", Vec::new()),
        Standing::Done => ("done", Vec::new()),
        Standing::NotDone(because) => ("not done", vec![because.clone()]),
        Standing::Held(holds) => ("held", holds.iter().map(|hold| hold.text.clone()).collect()),
    };
    let waits: Vec<String> =
        step.waits_for.iter().map(|index| bench.plan.steps[*index].key.id(bench.procedure)).collect();
    let written = bench.step(step);
    json!({
        "id": step.key.id(bench.procedure),
        "fingerprint": mark,
        "number": step.number,
        "title": bench.step_title(step),
        "standing": standing,
        "held_by": held_by,
        "waits_for": waits,
        "hands": written.hands,
        "minutes": written.time.map(|time| time.base() / 60.0),
    })
}
