//! What the operating system says of a file, in words that need no programmer.

use std::io::{Error, ErrorKind};

/// Why a file or folder could not be had.
pub(crate) fn reason(error: &Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        ErrorKind::PermissionDenied => "you are not allowed to".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        ErrorKind::NotADirectory => "a part of the path is a file, not a folder".to_owned(),
        ErrorKind::StorageFull => "there is no room left on the disk".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "nothing can be written there".to_owned(),
        _ => {
            let words = error.to_string();
            words.split(" (os error").next().unwrap_or_default().to_owned()
        }
    }
}
