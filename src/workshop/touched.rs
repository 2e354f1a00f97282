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
