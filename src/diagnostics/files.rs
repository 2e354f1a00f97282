//! Complaints about files that can't be had. They live here because `source` knows no complaints.

use std::path::Path;

use super::codes::source as codes;
use super::{Code, Diagnostic};
use crate::source::ReadFailure;

/// The complaint about a file named by the user. It has no place: there is no text to point into.
pub(crate) fn unreadable(path: &Path, failure: &ReadFailure) -> Diagnostic {
    let Told { code, words, mend } = told(failure);
    Diagnostic::new(code, format!("`{}` {words}", path.display())).help(mend)
}

/// What is said of a file that can't be had.
pub(crate) struct Told {
    /// The kind of fault, where the user named the file.
    code: &'static Code,
    /// What is wrong, to be said behind its name.
    pub words: String,
    /// What mends it.
    pub mend: String,
}

/// What is said of a failure.
pub(crate) fn told(failure: &ReadFailure) -> Told {
    let say = |code, words: &str, mend: &str| Told { code, words: words.to_owned(), mend: mend.to_owned() };
    match failure {
        ReadFailure::Unreadable(words) => say(
            &codes::UNREADABLE,
            &format!("can't be read: {words}"),
            "check that the path is spelt right and that you may read it",
        ),
        ReadFailure::Folder => say(&codes::UNREADABLE, "is a folder", "name a file in it"),
        ReadFailure::NoFile => say(
            &codes::UNREADABLE,
            "is a pipe or a device, which might never end",
            "save what it gives in a file, and name that",
        ),
        ReadFailure::NotText(at) => say(
            &codes::NOT_TEXT,
            &format!("is not UTF-8 text (byte {at})"),
            "save it again as plain UTF-8 text",
        ),
        ReadFailure::OtherThanText => say(
            &codes::NOT_TEXT,
            "is no text, but a picture, a document or a program",
            "name a procedure, which ends in `.rebuild`, or the record of a job, which ends in `.yaml`: both are plain text",
        ),
        ReadFailure::TooLarge(limit) => say(
            &codes::TOO_LARGE,
            &format!("is larger than {} MiB", limit / (1024 * 1024)),
            "check that the right file was named",
        ),
        ReadFailure::FormerEnding(renamed) => say(
            &codes::FORMER_ENDING,
            "has the ending that procedures had before",
            &format!("rename it to `{}`", renamed.display()),
        ),
    }
}
