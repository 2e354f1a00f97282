//! One writer at a time: a lock of the operating system, which ends with the process that holds it.

use std::fs::{File, TryLockError};
use std::io::ErrorKind;
use std::path::Path;
use std::time::Duration;

/// Pause between two tries to get a lock.
const PAUSE: Duration = Duration::from_millis(20);
/// Tries before giving up: ten seconds.
const MOST_TRIES: usize = 500;

/// A lock that is held until it is dropped, or its process ends however it may.
#[derive(Debug)]
pub(crate) struct Lock {
    _held: Option<File>,
}

impl Lock {
    /// Waits for the lock of the file at `path`, ten seconds at most; a link stands for the file that it leads to.
    /// Whoever changes the file reads it only once it holds the lock, so that no change is lost. Of a file that is
    /// not there nothing is held: reading it is what fails.
    ///
    /// # Errors
    /// Another writer holds the lock for longer, or the operating system says no.
    pub(crate) fn wait(path: &Path) -> std::io::Result<Lock> {
        for _ in 0..MOST_TRIES {
            let file = match open(path) {
                Ok(file) => file,
                Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Lock { _held: None }),
                Err(error) => return Err(error),
            };
            match file.try_lock() {
                // The writer before may have put another file in its place while this one was waited for.
                Ok(()) if is_at(&file, path) => return Ok(Lock { _held: Some(file) }),
                Ok(()) => {}
                Err(TryLockError::WouldBlock) => std::thread::sleep(PAUSE),
                Err(TryLockError::Error(error)) => return Err(error),
            }
        }
        let words =
            format!("another program is writing into `{}`; try again when it is done", path.display());
        Err(std::io::Error::other(words))
    }
}

/// The file that carries the lock: on Unix the one to be changed, whatever name it is reached by.
#[cfg(unix)]
fn open(path: &Path) -> std::io::Result<File> {
    #[expect(clippy::disallowed_methods, reason = "this is the room that touches files")]
    File::open(path)
}

#[cfg(unix)]
fn is_at(file: &File, path: &Path) -> bool {
    matches!((file.metadata(), std::fs::metadata(path)), (Ok(held), Ok(there)) if super::disk::one(&held, &there))
}

/// Elsewhere a locked file can be neither read nor replaced by others: a file beside it carries the lock, and stays.
#[cfg(not(unix))]
fn open(path: &Path) -> std::io::Result<File> {
    let path = path.canonicalize()?;
    let mut name = std::ffi::OsString::from(".");
    name.push(path.file_name().unwrap_or_default());
    name.push(".lock");
    std::fs::OpenOptions::new().create(true).append(true).open(path.with_file_name(name))
}

#[cfg(not(unix))]
fn is_at(_: &File, _: &Path) -> bool {
    true
}
