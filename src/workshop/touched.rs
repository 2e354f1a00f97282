//! Steps that are done and that the procedure has changed since, by the fingerprints in the record.

use super::errors;
use crate::diagnostics::Diagnostic;
use crate::network::Network;
use crate::packet::{Compared, step_marks};
use crate::procedure::model::{Procedure, StepKey};
use crate::record::Job;
use crate::source::Span;

/// Complains of each such step, and gives all of them. Torques of the shop's own table are not part of a
/// fingerprint.
///
/// ```
/// use std::path::Path;
///
/// use benchleaf::{Memory, Request, Workshop};
///
/// let text = "family pump \"Pump\" { origin \"invented\" }\n\
///     part cover \"Cover\"\n\
///     strip cover_off \"Take the cover off\" { take cover }\n";
/// let record = "job: \"2026-001\"\nprocedure: pump.rebuild\n\
///     done:\n  cover_off: {by: JS, date: 2026-03-05, fingerprint: 2-0000}\n";
/// let files = Memory::new().with("pump.rebuild", text).with("job.yaml", record);
/// let request = Request { record: Some(Path::new("job.yaml")), ..Request::of("pump.rebuild") };
/// let view = Workshop::over(files).job(&request).value.expect("only a warning is given");
/// assert_eq!(view.touched.len(), 1);
/// ```
pub fn touched(
    procedure: &Procedure,
    network: &Network,
    job: &Job,
    diagnostics: &mut Vec<Diagnostic>,
) -> Vec<StepKey> {
    if job.done.iter().all(|done| done.fingerprint.is_none()) {
        return Vec::new();
    }
    let marks = step_marks(procedure, network);
    let mut touched = Vec::new();
    let mut untold: Vec<Span> = Vec::new();
    for done in &job.done {
        let Some(then) = &done.fingerprint else { continue };
        let compared = marks.compare(&done.step, &then.value);
        if compared == Some(Compared::OtherEdition) {
            untold.push(then.span);
        }
        if compared == Some(Compared::Changed) {
            let declared = match done.step {
                StepKey::Written(id, _) => Some(procedure.step(id).naming.span),
                StepKey::Derived(_) => None,
            };
            diagnostics.push(errors::done_step_changed(then.span, &done.step.id(procedure), declared));
            touched.extend(marks.meant(&done.step).map(|(key, _)| key.clone()));
        }
    }
    diagnostics.extend(untold.first().map(|first| errors::former_fingerprint(*first, untold.len())));
    touched
}
