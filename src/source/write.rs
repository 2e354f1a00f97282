//! Writing a file so that a reader sees the old bytes or the new ones, never a part of either; what else is true of the file
//! stays so: its mode, its owner, and that it is reached by a link.

use std::fs::{File, Metadata};
use std::io::{Error, ErrorKind, Result, Write};
use std::path::{Path, PathBuf};

/// Writes `bytes` to a new file beside `path`, then renames it over `path`, or over what a link there leads to.
///
/// # Errors
/// What the operating system says, or that the file is write-protected or has a second name; `path` is then as it was, and the
/// new file is gone.
///
/// ```
/// let path = std::env::temp_dir().join(format!("benchleaf-{}.txt", std::process::id()));
/// benchleaf::write_atomically(&path, b"first").expect("the folder can be written to");
/// benchleaf::write_atomically(&path, b"second").expect("the file can be replaced");
/// assert_eq!(std::fs::read(&path).expect("it is there"), b"second");
/// std::fs::remove_file(&path).expect("it is ours");
/// ```
pub fn write_atomically(path: &Path, bytes: &[u8]) -> Result<()> {
    put(path, bytes, None, None)
}

/// The same, with the mode and the owner of another file: what is as private as that one.
///
/// # Errors
/// As [`write_atomically`].
pub(crate) fn write_like(path: &Path, bytes: &[u8], other: &Path) -> Result<()> {
    put(path, bytes, None, std::fs::metadata(other).ok())
}

/// The same, but only over the bytes that were read: what somebody saved meanwhile is never written over.
///
/// # Errors
/// As [`write_atomically`], and that the file is no longer as it was read.
pub(crate) fn replace(path: &Path, before: &[u8], bytes: &[u8]) -> Result<()> {
    put(path, bytes, Some(before), None)
}

fn put(path: &Path, bytes: &[u8], before: Option<&[u8]>, like: Option<Metadata>) -> Result<()> {
    let path = path.canonicalize().unwrap_or_else(|_| path.to_path_buf());
    let there = std::fs::metadata(&path).ok();
    if let Some(there) = &there {
        if there.permissions().readonly() {
            return Err(Error::other("it is write-protected"));
        }
        if names(there) > 1 {
            return Err(Error::other(
                "it has a second name, which would keep the old text: make a copy of it",
            ));
        }
    }
    let name = path.file_name().ok_or_else(|| Error::other("this is not the name of a file"))?;
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let mut stem = std::ffi::OsString::from(".");
    stem.push(name);
    clear_abandoned(folder, &stem.to_string_lossy());
    stem.push(format!(".{}.part", std::process::id()));
    let draft = folder.join(stem);
    let written = write_draft(&draft, bytes, like.as_ref().or(there.as_ref())).and_then(|_held| {
        unchanged(&path, before)?;
        std::fs::rename(&draft, &path)
    });
    if written.is_err() {
        // Nothing more can be done if the draft can't be removed either: the first failure is the one to tell.
        let _ = std::fs::remove_file(&draft);
        return written;
    }
    keep_name(folder)
}

/// The draft, whole and on the disk, with the mode and as far as may be the owner of what it replaces; locked as long as it is
/// held, so that nobody takes it for abandoned.
fn write_draft(draft: &Path, bytes: &[u8], there: Option<&Metadata>) -> Result<File> {
    let mut file = std::fs::OpenOptions::new().write(true).create_new(true).open(draft)?;
    // Where a file system knows no locks, a draft is not cleared away by others either.
    let _ = file.try_lock();
    if let Some(there) = there {
        keep_owner(&file, there);
        file.set_permissions(there.permissions())?;
    }
    file.write_all(bytes)?;
    file.sync_all()?;
    Ok(file)
}

/// Whether a file still holds the bytes that were read.
fn unchanged(path: &Path, before: Option<&[u8]>) -> Result<()> {
    let Some(before) = before else { return Ok(()) };
    #[expect(clippy::disallowed_methods, reason = "this is the room that touches files")]
    let now = std::fs::read(path)?;
    if now == before {
        return Ok(());
    }
    Err(Error::other("it was saved by somebody else meanwhile; nothing was written, so do it again"))
}

/// Removes drafts of processes that ended before they could rename them.
fn clear_abandoned(folder: &Path, stem: &str) {
    #[expect(clippy::disallowed_methods, reason = "this is the room that touches files")]
    let Ok(entries) = std::fs::read_dir(folder) else { return };
    let drafts = entries.flatten().filter(|entry| {
        let name = entry.file_name();
        let own =
            name.to_str().and_then(|name| name.strip_prefix(stem)?.strip_prefix('.')?.strip_suffix(".part"));
        own.is_some_and(|process| !process.is_empty() && process.bytes().all(|byte| byte.is_ascii_digit()))
    });
    for draft in drafts.map(|entry| entry.path()).collect::<Vec<PathBuf>>() {
        #[expect(clippy::disallowed_methods, reason = "this is the room that touches files")]
        let abandoned = File::open(&draft).is_ok_and(|file| file.try_lock().is_ok());
        if abandoned {
            // Whoever can't remove it leaves it to the next.
            let _ = std::fs::remove_file(&draft);
        }
    }
}

#[cfg(unix)]
fn names(there: &Metadata) -> u64 {
    std::os::unix::fs::MetadataExt::nlink(there)
}

/// Elsewhere second names are not counted.
#[cfg(not(unix))]
fn names(_: &Metadata) -> u64 {
    1
}

/// Only a superuser may give a file away: for anybody else it is theirs from now on.
#[cfg(unix)]
fn keep_owner(file: &File, there: &Metadata) {
    use std::os::unix::fs::{MetadataExt, fchown};
    let _ = fchown(file, Some(there.uid()), Some(there.gid()));
}

#[cfg(not(unix))]
fn keep_owner(_: &File, _: &Metadata) {}

/// Brings the new name to the disk too; some file systems have nothing of the kind.
#[cfg(unix)]
fn keep_name(folder: &Path) -> Result<()> {
    #[expect(clippy::disallowed_methods, reason = "this is the room that touches files")]
    match File::open(folder)?.sync_all() {
        Err(error) if matches!(error.kind(), ErrorKind::InvalidInput | ErrorKind::Unsupported) => Ok(()),
        done => done,
    }
}

#[cfg(not(unix))]
fn keep_name(_: &Path) -> Result<()> {
    Ok(())
}
