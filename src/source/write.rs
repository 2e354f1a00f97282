//! Writing a file so that a reader sees the old bytes or the new ones, never a part of either.

use std::io::Write;
use std::path::Path;

/// Writes `bytes` to a new file beside `path`, then renames it over `path`.
///
/// # Errors
/// What the operating system says; `path` is then as it was, and the new file is gone.
///
/// ```
/// let path = std::env::temp_dir().join(format!("benchleaf-{}.txt", std::process::id()));
/// benchleaf::write_atomically(&path, b"first").expect("the folder can be written to");
/// benchleaf::write_atomically(&path, b"second").expect("the file can be replaced");
/// assert_eq!(std::fs::read(&path).expect("it is there"), b"second");
/// std::fs::remove_file(&path).expect("it is ours");
/// ```
pub fn write_atomically(path: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let name = path.file_name().ok_or_else(|| std::io::Error::other("this is not the name of a file"))?;
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let mut draft_name = std::ffi::OsString::from(".");
    draft_name.push(name);
    draft_name.push(format!(".{}.part", std::process::id()));
    let draft = folder.join(draft_name);
    let written = write_draft(&draft, bytes).and_then(|()| std::fs::rename(&draft, path));
    if written.is_err() {
        // Nothing more can be done if the draft can't be removed either: the first failure is the one to tell.
        let _ = std::fs::remove_file(&draft);
    }
    written
}

fn write_draft(draft: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let mut file = std::fs::OpenOptions::new().write(true).create_new(true).open(draft)?;
    file.write_all(bytes)?;
    file.sync_all()
}
