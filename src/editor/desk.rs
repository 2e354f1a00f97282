//! The texts that are open, each with the version by which the editor knows it.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use lsp_types::{TextDocumentContentChangeEvent, Uri};

use super::places::byte;
use crate::source::{Overlay, place};

/// Everything that is open.
#[derive(Debug, Default)]
pub(super) struct Desk {
    texts: Overlay,
    /// By path: the address that the editor uses, and the version.
    open: BTreeMap<PathBuf, (Uri, i32)>,
    /// How often anything has changed.
    revision: u64,
}

/// The desk as it stood at one moment.
#[derive(Debug, Clone)]
pub(super) struct Snapshot {
    /// The texts.
    pub texts: Overlay,
    /// How often anything had changed.
    pub revision: u64,
}

impl Desk {
    /// Opens a text.
    pub(super) fn open(&mut self, path: &Path, uri: Uri, version: i32, text: &str) {
        self.texts.put(path, text);
        self.open.insert(place(path), (uri, version));
        self.revision += 1;
    }

    /// Changes a text, in the order given; a change without a place is the whole text.
    pub(super) fn change(&mut self, path: &Path, version: i32, changes: Vec<TextDocumentContentChangeEvent>) {
        let Some(text) = self.texts.text(path) else { return };
        let mut text = text.to_string();
        for change in changes {
            match change.range {
                Some(range) => {
                    let (start, end) = (byte(&text, range.start), byte(&text, range.end));
                    text.replace_range(start.min(end)..start.max(end), &change.text);
                }
                None => text = change.text,
            }
        }
        self.texts.put(path, &text);
        if let Some((_, known)) = self.open.get_mut(&place(path)) {
            *known = version;
        }
        self.revision += 1;
    }

    /// Closes a text.
    pub(super) fn close(&mut self, path: &Path) {
        self.texts.take(path);
        self.open.remove(&place(path));
        self.revision += 1;
    }

    /// Something on the disk has changed.
    pub(super) fn touched(&mut self) {
        self.revision += 1;
    }

    /// How often anything has changed.
    pub(super) fn revision(&self) -> u64 {
        self.revision
    }

    /// The text at a path, if it is open.
    pub(super) fn text(&self, path: &Path) -> Option<Arc<str>> {
        self.texts.text(path)
    }

    /// Address and version of what is open at a path.
    pub(super) fn known(&self, path: &Path) -> Option<&(Uri, i32)> {
        self.open.get(&place(path))
    }

    /// The paths of what is open.
    pub(super) fn paths(&self) -> impl Iterator<Item = &PathBuf> {
        self.open.keys()
    }

    /// The desk as it stands.
    pub(super) fn snapshot(&self) -> Snapshot {
        Snapshot { texts: self.texts.clone(), revision: self.revision }
    }
}
