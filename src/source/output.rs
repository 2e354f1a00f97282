//! Whether a file may be put where somebody asked for it: never over what the run was made from, nor over what is not
//! of its kind.

use std::io::Read;
use std::path::{Path, PathBuf};

use super::disk::{Disk, Files};
use super::files::Sources;
use super::words::reason;

/// First bytes that tell what kind of file it is.
const OPENING_BYTES: usize = 5;

/// Why nothing is written at a path.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Occupied {
    /// It is this file, from which the run was made.
    Input(PathBuf),
    /// A folder, a device, a pipe, or a link to nothing.
    NotAFile,
    /// A file that does not begin as what is to be written does.
    OtherKind,
    /// What stands there can't be looked at, in the operating system's words.
    Unreadable(String),
}

/// Where `bytes` may be written that were asked for at `path`: there, or where a link there leads, so that the link
/// stays one.
///
/// # Errors
/// What stands in the way.
pub(crate) fn place_for(sources: &Sources, path: &Path, bytes: &[u8]) -> Result<PathBuf, Occupied> {
    if std::fs::symlink_metadata(path).is_err() {
        // Nothing is there. If the folder isn't either, writing says so.
        return Ok(path.to_path_buf());
    }
    let unreadable = |error: std::io::Error| Occupied::Unreadable(reason(&error));
    let place = path.canonicalize().map_err(|_| Occupied::NotAFile)?;
    let there = std::fs::metadata(&place).map_err(unreadable)?;
    if !there.is_file() {
        return Err(Occupied::NotAFile);
    }
    let identity = Disk.identity(&place);
    if let Some((_, input)) = sources.files().find(|(_, file)| Disk.identity(&file.path) == identity) {
        return Err(Occupied::Input(input.path.clone()));
    }
    #[expect(clippy::disallowed_methods, reason = "this is the room that touches files")]
    let file = std::fs::File::open(&place).map_err(unreadable)?;
    let mut opening = Vec::new();
    file.take(OPENING_BYTES as u64).read_to_end(&mut opening).map_err(unreadable)?;
    if opening.is_empty() || bytes.starts_with(&opening) { Ok(place) } else { Err(Occupied::OtherKind) }
}
