//! Declarations that were read before, by their text: in a text that changes key by key almost all of them stay the same.

use std::collections::HashMap;
use std::sync::Arc;

use super::tree::{Item, Move, Moved};
use crate::source::FileId;

/// Stretches that are kept: those of several procedures of ten thousand steps.
const MOST_STRETCHES: usize = 100_000;

/// What was read of texts, for whoever reads nearly the same texts again.
#[derive(Debug, Clone, Default)]
pub(crate) struct Kept {
    stretches: HashMap<Box<str>, Arc<Stretch>>,
}

/// The declarations of a stretch without fault.
#[derive(Debug)]
struct Stretch {
    /// Where it started.
    start: usize,
    items: Vec<Item>,
}

impl Kept {
    /// The declarations of a stretch with this text, as they stand if it starts at this byte of a file.
    pub(super) fn of(&self, text: &str, file: FileId, start: usize) -> Option<Vec<Item>> {
        let stretch = self.stretches.get(text)?;
        let mut items = stretch.items.clone();
        items.moved(Move { file, from: stretch.start, to: start });
        Some(items)
    }

    /// How many stretches are kept.
    #[cfg(test)]
    pub(crate) fn known(&self) -> usize {
        self.stretches.len()
    }

    /// Keeps what a stretch without fault was read to.
    pub(super) fn keep(&mut self, text: &str, start: usize, items: &[Item]) {
        if self.stretches.len() >= MOST_STRETCHES {
            self.stretches.clear();
        }
        self.stretches.insert(text.into(), Arc::new(Stretch { start, items: items.to_vec() }));
    }
}
