//! Steps that are done and that the procedure has changed since, by the fingerprints in the record.

use super::errors;
use crate::diagnostics::Diagnostic;
use crate::network::Network;
use crate::packet::step_marks;
use crate::procedure::model::Procedure;
use crate::record::{DoneStep, Job};
use crate::source::Sources;

/// Complains of each such step, and gives the ids of all of them. Torques of the shop's own table are not part of a
/// fingerprint.
pub fn touched(
    sources: &Sources,
    procedure: &Procedure,
    network: &Network,
    job: &Job,
    diagnostics: &mut Vec<Diagnostic>,
) -> Vec<String> {
    if job.done.iter().all(|done| done.fingerprint.is_none()) {
        return Vec::new();
    }
    let marks = step_marks(sources, procedure, network);
    let mut touched = Vec::new();
    for done in &job.done {
        let Some(then) = &done.fingerprint else { continue };
        let (id, declared) = match &done.step {
            DoneStep::Derived(id) => (id.clone(), None),
            DoneStep::Written(id, place) => {
                let step = procedure.step(*id);
                let place = place.filter(|_| step.apart).map(|place| procedure.place_name(&step.each, place));
                let place = place.map(|place| format!("[{place}]")).unwrap_or_default();
                (format!("{}{place}", step.naming.id), Some(step.naming.span))
            }
        };
        if marks.of(&id).is_some_and(|now| now != then.value) {
            diagnostics.push(errors::done_step_changed(then.span, &id, declared));
            touched.extend(marks.meant(&id).map(|(id, _)| id.to_owned()));
        }
    }
    touched
}
