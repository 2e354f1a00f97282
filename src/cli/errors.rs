//! Complaints about the command line itself.

use std::path::Path;

use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::cli as codes;

pub(super) fn no_procedure(folder: &Path) -> Diagnostic {
    Diagnostic::new(
        &codes::NO_PROCEDURE,
        format!("no `.leaf` file below `{}` declares a family", folder.display()),
    )
    .help("name a folder that holds a procedure, or the file itself")
}

pub(super) fn unknown_code(name: &str, nearest: Option<&str>) -> Diagnostic {
    let complaint = Diagnostic::new(&codes::UNKNOWN_CODE, format!("no code is called `{name}`"));
    match nearest {
        Some(near) => complaint.help(format!("did you mean `{near}`?")),
        None => complaint.help("`benchleaf explain` without a code lists them all"),
    }
}
