//! Codes for command lines that can't be carried out.

use crate::diagnostics::{Code, Severity};

/// A folder holds nothing to check.
pub static NO_PROCEDURE: Code = Code {
    name: "cli/no-procedure",
    severity: Severity::Error,
    explanation: "A folder was named, and no file below it declares an engine family. Files that are only brought \
                  in by others, such as lists of tools, are checked with the procedures that use them.",
};

/// `explain` was asked about a code that doesn't exist.
pub static UNKNOWN_CODE: Code = Code {
    name: "cli/unknown-code",
    severity: Severity::Error,
    explanation: "A code was asked for that no complaint carries. Codes are written like `procedure/unknown-name`.",
};

/// All codes of this room.
pub static ALL: &[&Code] = &[&NO_PROCEDURE, &UNKNOWN_CODE];
