//! Where texts come from: the disk, or memory.

use std::collections::BTreeMap;
use std::fmt::Debug;
use std::io::Read;
use std::ops::Bound;
use std::path::{Component, Path, PathBuf};

use super::words::reason;

/// Largest file that is read. A procedure of fifty thousand steps is about a tenth of this.
pub(super) const LIMIT_BYTES: u64 = 64 * 1024 * 1024;

/// Why a file could not be had.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ReadFailure {
    /// The operating system said no, in its words.
    Unreadable(String),
    /// The bytes are not UTF-8; the first bad byte stands at this offset.
    NotText(usize),
    /// It is no text in any encoding, but a picture, a document or a program.
    OtherThanText,
    /// Larger than [`LIMIT_BYTES`].
    TooLarge(u64),
    /// It is a folder.
    Folder,
    /// It is a pipe, a device or a socket: reading it might never end.
    NoFile,
    /// Its name ends as procedures once did; this is what it should be called.
    FormerEnding(PathBuf),
}

/// What tells a file from every other one, by whatever path it is reached: equal for two paths to one file.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Identity {
    /// Numbers that the system gives to a device and to a file on it.
    Numbered(u64, u64),
    /// The one path that it has, or that was asked for where there is nothing.
    At(PathBuf),
}

/// A place that texts are read from.
pub trait Files: Debug + Send + Sync {
    /// The text at a path.
    ///
    /// # Errors
    /// Why it can't be had.
    fn read(&self, path: &Path) -> Result<String, ReadFailure>;

    /// Which file a path leads to.
    fn identity(&self, path: &Path) -> Identity;

    /// Whether two paths lead to the same file.
    fn same(&self, a: &Path, b: &Path) -> bool {
        self.identity(a) == self.identity(b)
    }

    /// Every file below a folder, in no order; links to folders are not followed.
    ///
    /// # Errors
    /// The folder can't be read.
    fn below(&self, folder: &Path) -> Result<Vec<PathBuf>, ReadFailure>;

    /// Whether a path leads to a folder.
    fn is_folder(&self, path: &Path) -> bool;

    /// Whether there is anything at a path, be it a link that leads nowhere.
    fn is_there(&self, path: &Path) -> bool;
}

/// The files of the machine.
#[derive(Debug, Clone, Copy)]
pub struct Disk;

impl Files for Disk {
    fn read(&self, path: &Path) -> Result<String, ReadFailure> {
        let known = std::fs::metadata(path).map_err(unreadable)?;
        if known.is_dir() {
            return Err(ReadFailure::Folder);
        }
        if !known.is_file() {
            return Err(ReadFailure::NoFile);
        }
        #[expect(clippy::disallowed_methods, reason = "this is the room that touches files")]
        let file = std::fs::File::open(path).map_err(unreadable)?;
        let expected = usize::try_from(known.len().min(LIMIT_BYTES)).unwrap_or_default();
        let mut bytes = Vec::with_capacity(expected + 1);
        // One byte more than the limit tells "at the limit" from "over it", also for a file that grows meanwhile.
        file.take(LIMIT_BYTES + 1).read_to_end(&mut bytes).map_err(unreadable)?;
        if bytes.len() as u64 > LIMIT_BYTES {
            return Err(ReadFailure::TooLarge(LIMIT_BYTES));
        }
        String::from_utf8(bytes).map_err(|error| {
            if is_other_than_text(error.as_bytes()) {
                return ReadFailure::OtherThanText;
            }
            ReadFailure::NotText(error.utf8_error().valid_up_to())
        })
    }

    fn identity(&self, path: &Path) -> Identity {
        numbered(path).unwrap_or_else(|| Identity::At(path.to_path_buf()))
    }

    fn below(&self, folder: &Path) -> Result<Vec<PathBuf>, ReadFailure> {
        let mut found = Vec::new();
        let mut waiting = vec![folder.to_path_buf()];
        while let Some(here) = waiting.pop() {
            #[expect(clippy::disallowed_methods, reason = "this is the room that touches files")]
            let entries = std::fs::read_dir(&here).map_err(unreadable)?;
            for entry in entries {
                let entry = entry.map_err(unreadable)?;
                if entry.file_type().map_err(unreadable)?.is_dir() {
                    waiting.push(entry.path());
                } else {
                    found.push(entry.path());
                }
            }
        }
        Ok(found)
    }

    fn is_folder(&self, path: &Path) -> bool {
        path.is_dir()
    }

    fn is_there(&self, path: &Path) -> bool {
        path.symlink_metadata().is_ok()
    }
}

/// The file that a path leads to, be it through links or by one of several names; none if it leads nowhere.
#[cfg(unix)]
fn numbered(path: &Path) -> Option<Identity> {
    use std::os::unix::fs::MetadataExt;
    let there = std::fs::metadata(path).ok()?;
    Some(Identity::Numbered(there.dev(), there.ino()))
}

/// Whether what is known of two files is of one and the same.
#[cfg(unix)]
pub(super) fn one(a: &std::fs::Metadata, b: &std::fs::Metadata) -> bool {
    use std::os::unix::fs::MetadataExt;
    (a.dev(), a.ino()) == (b.dev(), b.ino())
}

/// The file that a path leads to, through links. Two names of one file are not told apart from two files here.
#[cfg(not(unix))]
fn numbered(path: &Path) -> Option<Identity> {
    path.canonicalize().ok().map(Identity::At)
}

/// Whether bytes are no text in any encoding: they begin as documents do that hold text in a form of their own, or have a nought
/// among the first, which only text in two bytes a letter has, and that says so at its start.
fn is_other_than_text(bytes: &[u8]) -> bool {
    const FIRST: usize = 4096;
    let wide = bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]);
    bytes.starts_with(b"%PDF") || (!wide && bytes.iter().take(FIRST).any(|byte| *byte == 0))
}

fn unreadable(error: std::io::Error) -> ReadFailure {
    ReadFailure::Unreadable(reason(&error))
}

/// Texts that are in memory under the paths that they would have: for tests, and for whoever keeps texts elsewhere.
#[derive(Debug, Clone, Default)]
pub struct Memory {
    texts: BTreeMap<PathBuf, String>,
}

impl Memory {
    /// Nothing yet.
    pub fn new() -> Self {
        Memory::default()
    }

    /// The same with a text at a path; another one there before is replaced.
    #[must_use]
    pub fn with(mut self, path: impl AsRef<Path>, text: impl Into<String>) -> Self {
        self.texts.insert(plain(path.as_ref()), text.into());
        self
    }
}

impl Files for Memory {
    fn read(&self, path: &Path) -> Result<String, ReadFailure> {
        if self.is_folder(path) {
            return Err(ReadFailure::Folder);
        }
        let text = self.texts.get(&plain(path));
        text.cloned().ok_or_else(|| ReadFailure::Unreadable("there is no such file".to_owned()))
    }

    fn identity(&self, path: &Path) -> Identity {
        Identity::At(plain(path))
    }

    fn below(&self, folder: &Path) -> Result<Vec<PathBuf>, ReadFailure> {
        let folder = plain(folder);
        Ok(self.texts.keys().filter(|path| path.starts_with(&folder)).cloned().collect())
    }

    fn is_folder(&self, path: &Path) -> bool {
        let path = plain(path);
        // Paths are in order of their components, so that what lies in a folder stands right behind its own name.
        let behind = (Bound::Excluded(&path), Bound::Unbounded);
        self.texts.range::<PathBuf, _>(behind).next().is_some_and(|(text, _)| text.starts_with(&path))
    }

    fn is_there(&self, path: &Path) -> bool {
        self.texts.contains_key(&plain(path)) || self.is_folder(path)
    }
}

/// A path without `.` and `..`, by its words alone.
pub(crate) fn plain(path: &Path) -> PathBuf {
    let mut out = PathBuf::new();
    for component in path.components() {
        match component {
            Component::CurDir => {}
            Component::ParentDir => {
                out.pop();
            }
            other => out.push(other),
        }
    }
    out
}
