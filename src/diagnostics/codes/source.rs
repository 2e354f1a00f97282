//! Codes for files that can't be had.

use crate::diagnostics::{Code, Severity};

/// A file could not be read.
pub static UNREADABLE: Code = Code {
    name: "source/unreadable",
    severity: Severity::Error,
    explanation: "The file could not be opened or read. Check that the path is spelt right, that it names a file \
                  and not a folder, and that you may read it.",
};

/// A file is not text.
pub static NOT_TEXT: Code = Code {
    name: "source/not-text",
    severity: Severity::Error,
    explanation: "Procedures and records are plain text in UTF-8. This file holds bytes that are not: it may be \
                  a word-processor file, a PDF, or text saved in an old encoding. Save it again as plain UTF-8 text.",
};

/// A file is too large.
pub static TOO_LARGE: Code = Code {
    name: "source/too-large",
    severity: Severity::Error,
    explanation: "The file is larger than any procedure could be, so it is not read. Check that the right file was named.",
};

/// A procedure still has its former ending.
pub static FORMER_ENDING: Code = Code {
    name: "source/former-ending",
    severity: Severity::Error,
    explanation: "Names of procedures end in `.rebuild`. This file has the ending that they had before. Rename it, \
                  and write the new name where another file brings it in with `use` or a record names it.",
};

/// All codes of this room.
pub static ALL: &[&Code] = &[&UNREADABLE, &NOT_TEXT, &TOO_LARGE, &FORMER_ENDING];
