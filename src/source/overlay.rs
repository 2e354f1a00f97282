//! Texts that somebody is writing, over the files of the machine: what is open in an editor counts, not what was last saved.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::disk::{Disk, Files, Identity, ReadFailure};

/// The files of the machine, some of them as they stand in an editor.
#[derive(Debug, Clone, Default)]
pub(crate) struct Overlay {
    open: BTreeMap<PathBuf, Arc<str>>,
}

impl Overlay {
    /// Puts a text over the file at this path.
    pub(crate) fn put(&mut self, path: &Path, text: &str) {
        self.open.insert(place(path), text.into());
    }

    /// Takes it away again: the file itself counts.
    pub(crate) fn take(&mut self, path: &Path) {
        self.open.remove(&place(path));
    }

    /// The text over the file at this path.
    pub(crate) fn text(&self, path: &Path) -> Option<Arc<str>> {
        self.open.get(&place(path)).cloned()
    }

    /// The paths that have a text over them.
    pub(crate) fn paths(&self) -> impl Iterator<Item = &PathBuf> {
        self.open.keys()
    }
}

/// A path without links and steps back, as far as it is there.
pub(crate) fn place(path: &Path) -> PathBuf {
    path.canonicalize().or_else(|_| std::path::absolute(path)).unwrap_or_else(|_| path.to_path_buf())
}

impl Files for Overlay {
    fn read(&self, path: &Path) -> Result<String, ReadFailure> {
        match self.text(path) {
            Some(text) => Ok(text.to_string()),
            None => Disk.read(path),
        }
    }

    fn identity(&self, path: &Path) -> Identity {
        match Disk.identity(path) {
            Identity::At(path) => Identity::At(place(&path)),
            numbered @ Identity::Numbered(..) => numbered,
        }
    }

    fn below(&self, folder: &Path) -> Result<Vec<PathBuf>, ReadFailure> {
        Disk.below(folder)
    }

    fn is_folder(&self, path: &Path) -> bool {
        Disk.is_folder(path)
    }

    fn is_there(&self, path: &Path) -> bool {
        self.text(path).is_some() || Disk.is_there(path)
    }
}
