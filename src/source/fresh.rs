//! Files that must not have been there.

use std::fs::OpenOptions;
use std::io::Write;
use std::path::Path;

/// Writes `bytes` to a file that isn't there yet.
///
/// # Errors
/// What the operating system says; `AlreadyExists` if there is anything at `path`, which is then as it was. No half file
/// is left.
pub(crate) fn write_fresh(path: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    let written = file.write_all(bytes).and_then(|()| file.sync_all());
    if written.is_err() {
        // Nothing more can be done if it can't be removed either: the first failure is the one to tell.
        let _ = std::fs::remove_file(path);
    }
    written
}
