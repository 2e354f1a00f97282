//! The plan as data, carried inside the file: what another program needs of a packet without reading its pages.

use serde_json::{Value, json};

use super::bench::{Bench, phase_title};
use crate::plan::{PlannedStep, Standing};
use crate::sheet::{Attachment, Footer};

/// Name of the file inside the PDF.
const NAME: &str = "plan.json";

/// The plan of the phase as JSON; keys are in alphabetical order, so that equal plans are equal bytes.
pub(super) fn attachment(bench: &Bench, footer: &Footer, sheets: &[(String, String)]) -> Attachment {
    let steps: Vec<Value> = bench.plan.steps.iter().map(|step| self::step(bench, step)).collect();
    let sheets: Vec<Value> =
        sheets.iter().map(|(sheet, mark)| json!({ "sheet": sheet, "fingerprint": mark })).collect();
    let plan = json!({
        "procedure": footer.procedure,
        "invented": bench.invented(),
        "job": bench.material.job.name.as_deref().unwrap_or_default(),
        "engine_no": bench.material.job.engine_no.as_ref().map(|number| &number.value),
        "phase": phase_title(bench.phase),
        "fingerprint": footer.fingerprint,
        "sheets": sheets,
        "steps": steps,
    });
    Attachment {
        name: NAME.to_owned(),
        media_type: "application/json".to_owned(),
        description: "The plan of this packet: its steps in order, and the fingerprints of its sheets"
            .to_owned(),
        bytes: format!("{plan:#}\n").into_bytes(),
    }
}

fn step(bench: &Bench, step: &PlannedStep) -> Value {
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
        "number": step.number,
        "title": bench.step_title(step),
        "standing": standing,
        "held_by": held_by,
        "waits_for": waits,
        "hands": written.hands,
        "minutes": written.time.map(|time| time.base() / 60.0),
    })
}
