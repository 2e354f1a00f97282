//! One writer at a time: a lock file beside the file that is to be changed.

use std::path::{Path, PathBuf};
use std::time::Duration;

/// Pause between two tries to get a lock.
const PAUSE: Duration = Duration::from_millis(20);
/// Tries before giving up: ten seconds.
const MOST_TRIES: usize = 500;

/// A lock that is held until it is dropped.
#[derive(Debug)]
pub struct Lock {
    path: PathBuf,
}

impl Lock {
    /// Waits for the lock of the file at `path`, ten seconds at most. Whoever changes the file reads it only once
    /// it holds the lock, so that no change is lost.
    ///
    /// # Errors
    /// Another writer holds the lock for longer, or left it behind when it was stopped: the error names the lock
    /// file, which may be removed if no other writer is at work. Or the operating system says no.
    pub fn wait(path: &Path) -> std::io::Result<Lock> {
        let name = path.file_name().ok_or_else(|| std::io::Error::other("this is not the name of a file"))?;
        let mut lock_name = std::ffi::OsString::from(".");
        lock_name.push(name);
        lock_name.push(".lock");
        let lock = Lock { path: path.with_file_name(lock_name) };
        for _ in 0..MOST_TRIES {
            match std::fs::OpenOptions::new().write(true).create_new(true).open(&lock.path) {
                Ok(_) => return Ok(lock),
                Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => std::thread::sleep(PAUSE),
                Err(error) => {
                    std::mem::forget(lock);
                    return Err(error);
                }
            }
        }
        let words =
            format!("another writer holds `{}`; if none is at work, remove that file", lock.path.display());
        // The lock is another's: it must not be removed here.
        std::mem::forget(lock);
        Err(std::io::Error::other(words))
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        // If it can't be removed, the next writer is told which file is in the way.
        let _ = std::fs::remove_file(&self.path);
    }
}
