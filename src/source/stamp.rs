//! What of a file shows that it has changed, without reading it.

use std::path::Path;
use std::time::SystemTime;

/// When a file was last written, and how long it is; none where there is no file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Stamp(Option<(Option<SystemTime>, u64)>);

/// The stamp of a file as it is now.
pub(crate) fn stamp(path: &Path) -> Stamp {
    Stamp(std::fs::metadata(path).ok().map(|known| (known.modified().ok(), known.len())))
}
