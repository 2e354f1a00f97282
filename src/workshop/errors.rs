//! Complaints of the way through itself.

use std::path::Path;

use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::workshop as codes;
use crate::source::Span;

pub(super) fn no_procedure(folder: &Path) -> Diagnostic {
    Diagnostic::new(
        &codes::NO_PROCEDURE,
        format!("no `.rebuild` file below `{}` declares a family", folder.display()),
    )
    .help("name a folder that holds a procedure, or the file itself")
}

pub(super) fn former_fingerprint(first: Span, steps: usize) -> Diagnostic {
    let (whose, they) = match steps {
        1 => ("the fingerprint of a step done is".to_owned(), "it"),
        _ => (format!("the fingerprints of {steps} steps done are"), "they"),
    };
    Diagnostic::new(
        &codes::FORMER_FINGERPRINT,
        format!("{whose} of another edition of the program: whether {they} changed since can't be told"),
    )
    .at(first, "taken by another edition of the program")
    .help("read it again if in doubt, and take the fingerprint out of the record")
}

pub(super) fn done_step_changed(span: Span, id: &str, declared: Option<Span>) -> Diagnostic {
    let complaint =
        Diagnostic::new(&codes::DONE_STEP_CHANGED, format!("`{id}` reads differently since it was done"))
            .at(span, "done by what stood there then")
            .help("read it again; if what was done still holds, take this fingerprint out of the record");
    match declared {
        Some(declared) => complaint.at(declared, "as it is now"),
        None => complaint,
    }
}
