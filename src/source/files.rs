//! The texts of a run: read once, numbered, with a line index.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::disk::{Disk, Files, Identity, ReadFailure};
use super::span::{FileId, Position};

/// What the name of a procedure ends in.
pub(crate) const PROCEDURE_ENDING: &str = "rebuild";

/// What it ended in before; such a file is refused with a word on renaming it.
const FORMER_ENDING: &str = "leaf";

/// One text with its name as the user gave it and the starts of its lines.
#[derive(Debug, Clone)]
pub struct SourceFile {
    /// Path as it is shown in complaints.
    pub path: PathBuf,
    /// The whole text.
    pub text: String,
    /// Where each line starts; bytes are counted as in a [`Span`](super::Span).
    line_starts: Vec<u32>,
}

/// Where the character begins that a byte belongs to; the end of the text for a byte behind it.
pub(crate) fn character_over(text: &str, byte: usize) -> usize {
    let byte = byte.min(text.len());
    (0..=byte).rev().find(|at| text.is_char_boundary(*at)).unwrap_or_default()
}

/// Where the first character begins at a byte or behind it; the end of the text for a byte behind it.
pub(crate) fn character_from(text: &str, byte: usize) -> usize {
    (byte..text.len()).find(|at| text.is_char_boundary(*at)).unwrap_or(text.len())
}

impl SourceFile {
    /// Texts are kept for the whole run: with no room left over.
    fn new(path: PathBuf, mut text: String) -> Self {
        text.shrink_to_fit();
        let behind = (1u32..).zip(text.bytes()).filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at);
        let mut line_starts: Vec<u32> = std::iter::once(0).chain(behind).collect();
        line_starts.shrink_to_fit();
        SourceFile { path, text, line_starts }
    }

    /// Line and column of byte `offset`; past the end counts as the end.
    pub fn position(&self, offset: usize) -> Position {
        let offset = character_over(&self.text, offset);
        let line = self.line_starts.partition_point(|start| *start as usize <= offset);
        let start = self.line_starts[line - 1] as usize;
        Position { line, column: self.text[start..offset].chars().count() + 1 }
    }

    /// Byte at which line `line` (from 1) starts, if there is such a line.
    pub fn line_start(&self, line: usize) -> Option<usize> {
        line.checked_sub(1).and_then(|index| self.line_starts.get(index)).map(|start| *start as usize)
    }
}

/// Every text that a run has read.
#[derive(Debug, Clone)]
pub struct Sources {
    files: Vec<SourceFile>,
    /// The number of a file by what it is, and by the path that it was asked for.
    known: BTreeMap<Identity, FileId>,
    disk: Arc<dyn Files>,
}

impl Default for Sources {
    fn default() -> Self {
        Sources::over(Disk)
    }
}

impl Sources {
    /// No files yet; what is asked for is read from the disk.
    pub fn new() -> Self {
        Sources::default()
    }

    /// No files yet; what is asked for comes from `files`.
    pub fn over(files: impl Files + 'static) -> Self {
        Sources { files: Vec::new(), known: BTreeMap::new(), disk: Arc::new(files) }
    }

    /// Adds a text that is already in memory.
    pub fn add(&mut self, path: impl Into<PathBuf>, text: impl Into<String>) -> FileId {
        let path = path.into();
        let id =
            FileId(u32::try_from(self.files.len()).expect("a run never reads four thousand million files"));
        for identity in [Identity::At(path.clone()), self.disk.identity(&path)] {
            self.known.entry(identity).or_insert(id);
        }
        self.files.push(SourceFile::new(path, text.into()));
        id
    }

    /// Reads `path`, once: a second request for the same file (after links are followed) gives the same number.
    pub fn read(&mut self, path: &Path) -> Result<FileId, ReadFailure> {
        if let Some(id) = self.known.get(&Identity::At(path.to_path_buf())) {
            return Ok(*id);
        }
        let identity = self.disk.identity(path);
        // A file that was replaced meanwhile may have left its number to another one.
        let still = |id: &&FileId| self.disk.identity(&self.file(**id).path) == identity;
        if let Some(id) = self.known.get(&identity).filter(still) {
            return Ok(*id);
        }
        if path.extension().is_some_and(|ending| ending == FORMER_ENDING) {
            return Err(ReadFailure::FormerEnding(path.with_extension(PROCEDURE_ENDING)));
        }
        let text = self.disk.read(path)?;
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

    /// The records in a folder, sorted by path; nothing of a folder that can't be read.
    pub(crate) fn records_in(&self, folder: &Path) -> Vec<PathBuf> {
        let mut found = self.disk.below(folder).unwrap_or_default();
        let record =
            |path: &PathBuf| path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml");
        found.retain(|path| path.parent() == Some(folder) && record(path));
        found.sort();
        found
    }

    /// The text at a path, which is not kept.
    ///
    /// # Errors
    /// Why it can't be had.
    pub(crate) fn text_at(&self, path: &Path) -> Result<String, ReadFailure> {
        self.disk.read(path)
    }

    /// Every procedure below `folder`, sorted by path; links to folders are not followed. A file with the ending that
    /// procedures had before is among them, so that it is complained of when it is read.
    ///
    /// # Errors
    /// The folder can't be read.
    pub fn procedure_files(&self, folder: &Path) -> Result<Vec<PathBuf>, ReadFailure> {
        let mut found = self.disk.below(folder)?;
        found.retain(|path| {
            path.extension().is_some_and(|ending| ending == PROCEDURE_ENDING || ending == FORMER_ENDING)
        });
        found.sort();
        Ok(found)
    }

    /// A text that isn't of the shop's files, under the name by which it is known: added once.
    pub(crate) fn keep(&mut self, name: &str, text: &str) -> FileId {
        let there = self.known.get(&Identity::At(PathBuf::from(name))).copied();
        there.unwrap_or_else(|| self.add(name, text))
    }

    /// Whether there is anything at a path.
    pub fn is_there(&self, path: &Path) -> bool {
        self.disk.is_there(path)
    }

    /// Whether a path leads to a folder.
    pub fn is_folder(&self, path: &Path) -> bool {
        self.disk.is_folder(path)
    }
}
