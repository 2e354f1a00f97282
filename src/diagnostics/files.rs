//! Complaints about files that can't be had. They live here because `source` knows no complaints.

use std::path::Path;

use super::Diagnostic;
use super::codes::source as codes;
use crate::source::ReadFailure;

/// The complaint about a file named by the user. It has no place: there is no text to point into.
pub fn unreadable(path: &Path, failure: &ReadFailure) -> Diagnostic {
    let path = path.display();
    match failure {
        ReadFailure::Unreadable(words) => {
            Diagnostic::new(&codes::UNREADABLE, format!("`{path}` can't be read: {words}"))
                .help("check that the path is spelt right and that you may read it")
        }
        ReadFailure::Folder => {
            Diagnostic::new(&codes::UNREADABLE, format!("`{path}` is a folder")).help("name a file in it")
        }
        ReadFailure::NotText(at) => {
            Diagnostic::new(&codes::NOT_TEXT, format!("`{path}` is not UTF-8 text (byte {at})"))
                .help("save it again as plain UTF-8 text")
        }
        ReadFailure::TooLarge(limit) => Diagnostic::new(
            &codes::TOO_LARGE,
            format!("`{path}` is larger than {} MiB", limit / (1024 * 1024)),
        )
        .help("check that the right file was named"),
        ReadFailure::FormerEnding(renamed) => Diagnostic::new(
            &codes::FORMER_ENDING,
            format!("`{path}` has the ending that procedures had before"),
        )
        .help(format!("rename it to `{}`", renamed.display())),
    }
}
