//! The texts of a run: read once, numbered, with a line index.

use std::io::Read;
use std::path::{Path, PathBuf};

use super::Position;
use super::words::reason;

/// Largest file that is read. A procedure of fifty thousand steps is about a tenth of this.
pub const LIMIT_BYTES: u64 = 64 * 1024 * 1024;

/// What the name of a procedure ends in.
pub const PROCEDURE_ENDING: &str = "rebuild";

/// What it ended in before; such a file is refused with a word on renaming it.
const FORMER_ENDING: &str = "leaf";

/// Number of a file in [`Sources`], in the order in which files were first read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

/// One text with its name as the user gave it and the starts of its lines.
#[derive(Debug, Clone)]
pub struct SourceFile {
    /// Path as it is shown in complaints.
    pub path: PathBuf,
    /// The whole text.
    pub text: String,
    line_starts: Vec<usize>,
}

impl SourceFile {
    fn new(path: PathBuf, text: String) -> Self {
        let line_starts = std::iter::once(0)
            .chain(text.bytes().enumerate().filter(|(_, b)| *b == b'\n').map(|(i, _)| i + 1))
            .collect();
        SourceFile { path, text, line_starts }
    }

    /// Line and column of byte `offset`; past the end counts as the end.
    pub fn position(&self, offset: usize) -> Position {
        let mut offset = offset.min(self.text.len());
        while !self.text.is_char_boundary(offset) {
            offset -= 1;
        }
        let line = self.line_starts.partition_point(|start| *start <= offset);
        let start = self.line_starts[line - 1];
        Position { line, column: self.text[start..offset].chars().count() + 1 }
    }

    /// Byte at which line `line` (from 1) starts, if there is such a line.
    pub fn line_start(&self, line: usize) -> Option<usize> {
        line.checked_sub(1).and_then(|index| self.line_starts.get(index).copied())
    }
}

/// Why a file could not be had.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ReadFailure {
    /// The operating system said no, in its words.
    Unreadable(String),
    /// The bytes are not UTF-8; the first bad byte stands at this offset.
    NotText(usize),
    /// Larger than [`LIMIT_BYTES`].
    TooLarge(u64),
    /// It is a folder.
    Folder,
    /// Its name ends as procedures once did; this is what it should be called.
    FormerEnding(PathBuf),
}

/// Every text that a run has read.
#[derive(Debug, Clone, Default)]
pub struct Sources {
    files: Vec<SourceFile>,
}

impl Sources {
    /// No files yet.
    pub fn new() -> Self {
        Sources::default()
    }

    /// Adds a text that is already in memory.
    pub fn add(&mut self, path: impl Into<PathBuf>, text: impl Into<String>) -> FileId {
        self.files.push(SourceFile::new(path.into(), text.into()));
        FileId(u32::try_from(self.files.len() - 1).expect("a run never reads four thousand million files"))
    }

    /// Reads `path`, once: a second request for the same file (after links are followed) gives the same number.
    pub fn read(&mut self, path: &Path) -> Result<FileId, ReadFailure> {
        let same = |a: &Path, b: &Path| match (a.canonicalize(), b.canonicalize()) {
            (Ok(a), Ok(b)) => a == b,
            _ => a == b,
        };
        if let Some(index) = self.files.iter().position(|file| same(&file.path, path)) {
            return Ok(FileId(u32::try_from(index).expect("as many as were added")));
        }
        let text = read_text(path)?;
        Ok(self.add(path, text))
    }

    /// The file with this number.
    pub fn file(&self, id: FileId) -> &SourceFile {
        &self.files[id.0 as usize]
    }

    /// All files in the order in which they were read.
    pub fn files(&self) -> impl Iterator<Item = (FileId, &SourceFile)> {
        (0u32..).map(FileId).zip(self.files.iter())
    }

    /// Every procedure below `folder`, sorted by path; links to folders are not followed. A file with the ending that
    /// procedures had before is among them, so that it is complained of when it is read.
    pub fn procedure_files(folder: &Path) -> Result<Vec<PathBuf>, ReadFailure> {
        let unreadable = |error: std::io::Error| ReadFailure::Unreadable(reason(&error));
        let mut found = Vec::new();
        let mut waiting = vec![folder.to_path_buf()];
        while let Some(here) = waiting.pop() {
            #[expect(clippy::disallowed_methods, reason = "this is the room that touches files")]
            let entries = std::fs::read_dir(&here).map_err(unreadable)?;
            for entry in entries {
                let entry = entry.map_err(unreadable)?;
                let path = entry.path();
                let kind = entry.file_type().map_err(unreadable)?;
                if kind.is_dir() {
                    waiting.push(path);
                } else if path
                    .extension()
                    .is_some_and(|ending| ending == PROCEDURE_ENDING || ending == FORMER_ENDING)
                {
                    found.push(path);
                }
            }
        }
        found.sort();
        Ok(found)
    }
}

fn read_text(path: &Path) -> Result<String, ReadFailure> {
    let unreadable = |error: std::io::Error| ReadFailure::Unreadable(reason(&error));
    if path.is_dir() {
        return Err(ReadFailure::Folder);
    }
    if path.extension().is_some_and(|ending| ending == FORMER_ENDING) {
        return Err(ReadFailure::FormerEnding(path.with_extension(PROCEDURE_ENDING)));
    }
    #[expect(clippy::disallowed_methods, reason = "this is the room that touches files")]
    let file = std::fs::File::open(path).map_err(unreadable)?;
    let mut bytes = Vec::new();
    // One byte more than the limit tells "at the limit" from "over it", also for pipes without a length.
    file.take(LIMIT_BYTES + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    if bytes.len() as u64 > LIMIT_BYTES {
        return Err(ReadFailure::TooLarge(LIMIT_BYTES));
    }
    String::from_utf8(bytes).map_err(|error| ReadFailure::NotText(error.utf8_error().valid_up_to()))
}
