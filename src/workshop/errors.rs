//! Complaints of the way through itself.

use std::path::Path;

use crate::diagnostics::codes::workshop as codes;
use crate::diagnostics::{Diagnostic, told};
use crate::source::{ReadFailure, Span, Spanned};

pub(super) fn no_procedure(folder: &Path) -> Diagnostic {
    Diagnostic::new(
        &codes::NO_PROCEDURE,
        format!("no `.rebuild` file below `{}` declares a family", folder.display()),
    )
    .help("name a folder that holds a procedure, or the file itself")
}

pub(super) fn named_file(
    key: &str,
    written: &Spanned<String>,
    path: &Path,
    failure: &ReadFailure,
) -> Diagnostic {
    let words = told(failure).words;
    let complaint = Diagnostic::new(
        &codes::NAMED_FILE,
        format!("the {key} of this record, `{}`, {words}", written.value),
    )
    .at(written.span, format!("looked for as `{}`", path.display()));
    if let ReadFailure::FormerEnding(_) = failure {
        let renamed = Path::new(&written.value).with_extension("rebuild");
        return complaint.write(format!("`{key}: {}`, and name the file itself so", renamed.display()));
    }
    complaint.help(format!(
        "where a record is put into another folder, write here how `{key}` is reached from there, such as \
         `{key}: ../engines/NAME`"
    ))
}

pub(super) fn two_records(first: &Path, other: &Path) -> Diagnostic {
    let message = format!("`{}` is a record, and `{}` is another", first.display(), other.display());
    Diagnostic::new(&codes::TWO_RECORDS, message).help(
        "a record names its procedure: name the record alone, or the procedure and then `--job JOB.yaml`",
    )
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
