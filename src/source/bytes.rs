//! Files that are no text.

use std::io::Read;
use std::path::Path;

use super::disk::LIMIT_BYTES;

/// The bytes of a file.
///
/// # Errors
/// It can't be read, or is larger than anything that is read.
pub(crate) fn read_bytes(path: &Path) -> std::io::Result<Vec<u8>> {
    #[expect(clippy::disallowed_methods, reason = "this is the room that touches files")]
    let file = std::fs::File::open(path)?;
    let mut bytes = Vec::new();
    file.take(LIMIT_BYTES + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > LIMIT_BYTES {
        return Err(std::io::Error::other("it is too large"));
    }
    Ok(bytes)
}
