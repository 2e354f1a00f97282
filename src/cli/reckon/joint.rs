//! What the forms on a joint of a procedure begin with: the procedure read, the joint found.

use std::path::Path;

use super::Stop;
use crate::cli::{errors, output};
use crate::diagnostics::{Diagnostic, Severity};
use crate::procedure;
use crate::procedure::model::{JointId, Procedure};
use crate::source::Sources;

/// A procedure and one of its joints. A procedure with errors is complained of, and nothing reckoned.
pub(super) fn find(path: &Path, name: &str) -> Result<(Procedure, JointId), Stop> {
    let mut sources = Sources::new();
    let loaded = procedure::load(&mut sources, path);
    let errors: Vec<Diagnostic> = loaded
        .diagnostics
        .into_iter()
        .filter(|diagnostic| diagnostic.severity() == Severity::Error)
        .collect();
    let procedure = match loaded.value {
        Some(procedure) if errors.is_empty() => procedure,
        _ => {
            output::report(&sources, &errors, output::Format::Text);
            return Err(Stop::Told(output::exit_code(&errors)));
        }
    };
    let place = procedure.joints.iter().position(|joint| joint.naming.id == name);
    match place.and_then(|place| u32::try_from(place).ok()) {
        Some(place) => Ok((procedure, JointId(place))),
        None => {
            let known: Vec<&str> = procedure.joints.iter().map(|joint| joint.naming.id.as_str()).collect();
            Err(Stop::Complaint(Box::new(errors::unknown_joint(name, &known))))
        }
    }
}
