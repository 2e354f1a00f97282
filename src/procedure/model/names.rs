//! Every id of a procedure with what it names, to be looked up: each word of a long text is.

use std::hash::{DefaultHasher, Hash, Hasher};

use super::Name;

/// Ids in the order in which they were declared, each with what it names.
#[derive(Clone, Default)]
pub struct Names {
    entries: Vec<(String, Name)>,
    /// For each id, where its hash leads or as soon behind as there was room, one more than the number of its entry; nought is
    /// free. As many as a power of two, and half of them free.
    slots: Vec<u32>,
}

impl Names {
    /// What an id names.
    pub fn get(&self, id: &str) -> Option<&Name> {
        let at = self.slots.get(self.slot(id))?.checked_sub(1)?;
        self.entries.get(at as usize).map(|(_, name)| name)
    }

    /// Whether an id names anything.
    pub fn contains(&self, id: &str) -> bool {
        self.get(id).is_some()
    }

    /// Enters an id that names nothing yet.
    pub(in crate::procedure) fn enter(&mut self, id: &str, name: Name) {
        if self.slots.len() < 2 * (self.entries.len() + 1) {
            self.make_room(2 * self.entries.len() + 8);
        }
        let slot = self.slot(id);
        self.entries.push((id.to_owned(), name));
        self.slots[slot] = number(self.entries.len());
    }

    /// Makes room for so many ids altogether.
    pub(in crate::procedure) fn make_room(&mut self, count: usize) {
        self.slots = vec![0; (2 * count).next_power_of_two()];
        for at in 0..self.entries.len() {
            let slot = self.slot(&self.entries[at].0);
            self.slots[slot] = number(at + 1);
        }
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// Every id with what it names, as they were declared.
    pub fn iter(&self) -> impl Iterator<Item = (&str, Name)> {
        self.entries.iter().map(|(id, name)| (id.as_str(), *name))
    }

    /// The same in alphabetical order.
    pub fn sorted(&self) -> Vec<(&str, Name)> {
        let mut all: Vec<(&str, Name)> = self.iter().collect();
        all.sort_unstable();
        all
    }

    /// Where an id stands in the slots, or would be put.
    fn slot(&self, id: &str) -> usize {
        let mut hasher = DefaultHasher::new();
        id.hash(&mut hasher);
        let last = self.slots.len().saturating_sub(1);
        // What is cut off above bears on no more than where the search begins.
        let mut slot = hasher.finish() as usize & last;
        while let Some(at) = self.slots.get(slot).and_then(|at| at.checked_sub(1)) {
            if self.entries[at as usize].0 == id {
                break;
            }
            slot = (slot + 1) & last;
        }
        slot
    }
}

impl std::fmt::Debug for Names {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.debug_map().entries(self.iter()).finish()
    }
}

fn number(count: usize) -> u32 {
    u32::try_from(count).expect("a text of some megabytes declares no four thousand million things")
}
