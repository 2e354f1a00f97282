//! The stages that every command on a procedure begins with: reading, resolving and proving it.

use std::path::{Path, PathBuf};

use super::errors;
use crate::decide;
use crate::diagnostics::{Diagnostic, Outcome, sort, unreadable};
use crate::network::{self, Network};
use crate::procedure::{self, model::Procedure};
use crate::source::Sources;

/// A procedure that was read, and its network if nothing was wrong with it before.
pub struct Checked {
    /// The procedure.
    pub procedure: Procedure,
    /// What must be before what, and the way back; none if the procedure has errors.
    pub network: Option<Network>,
}

/// A procedure with everything there is to say about it; none if it can't be read.
pub fn checked(sources: &mut Sources, path: &Path) -> Outcome<Option<Checked>> {
    let loaded = procedure::load(sources, path);
    let sound = !loaded.has_errors();
    let mut diagnostics = loaded.diagnostics;
    let Some(procedure) = loaded.value else { return Outcome { value: None, diagnostics } };
    diagnostics.extend(decide::lint(&procedure));
    // A network made of a procedure with faults would only repeat them in other words.
    let network = sound.then(|| network::connect(&procedure)).map(|connected| {
        diagnostics.extend(connected.diagnostics);
        connected.value
    });
    sort(&mut diagnostics);
    Outcome { value: Some(Checked { procedure, network }), diagnostics }
}

/// The procedures meant by paths: a file is one, a folder holds some. Each once, in the order given.
pub fn procedures(sources: &mut Sources, paths: &[PathBuf]) -> Outcome<Vec<PathBuf>> {
    let mut found: Vec<PathBuf> = Vec::new();
    let mut diagnostics = Vec::new();
    for path in paths {
        let here = if path.is_dir() {
            match procedure::roots(sources, path) {
                Ok(roots) if roots.is_empty() => {
                    diagnostics.push(errors::no_procedure(path));
                    continue;
                }
                Ok(roots) => roots,
                Err(failure) => {
                    diagnostics.push(unreadable(path, &failure));
                    continue;
                }
            }
        } else {
            vec![path.clone()]
        };
        for path in here {
            if !found.contains(&path) {
                found.push(path);
            }
        }
    }
    Outcome { value: found, diagnostics }
}

/// Puts complaints of several procedures together; one that comes from a file they share stands once.
pub fn together(mut diagnostics: Vec<Diagnostic>) -> Vec<Diagnostic> {
    sort(&mut diagnostics);
    diagnostics.dedup_by(|a, b| {
        a.code.name == b.code.name && a.message == b.message && a.labels == b.labels && a.mend == b.mend
    });
    diagnostics
}
