//! Every id of a procedure with what it names, to be looked up: each word of a long text is.

use std::collections::HashMap;
use std::sync::Arc;

use super::Name;

/// Ids in the order in which they were declared, each with what it names.
#[derive(Clone, Default)]
pub struct Names(Arc<Known>);

/// What copies of them share.
#[derive(Clone, Default)]
struct Known {
    entries: Vec<(Arc<str>, Name)>,
    /// For each id its place among the entries. It is only looked up, never gone through: its order is no order.
    places: HashMap<Arc<str>, usize>,
}

impl Names {
    /// What an id names.
    pub fn get(&self, id: &str) -> Option<&Name> {
        self.0.places.get(id).map(|at| &self.0.entries[*at].1)
    }

    /// Whether an id names anything.
    pub fn contains(&self, id: &str) -> bool {
        self.0.places.contains_key(id)
    }

    /// Enters an id that names nothing yet.
    pub(in crate::procedure) fn enter(&mut self, id: &str, name: Name) {
        let known = Arc::make_mut(&mut self.0);
        let id: Arc<str> = id.into();
        known.places.insert(id.clone(), known.entries.len());
        known.entries.push((id, name));
    }

    /// Makes room for so many ids altogether.
    pub(in crate::procedure) fn make_room(&mut self, count: usize) {
        let known = Arc::make_mut(&mut self.0);
        let more = count.saturating_sub(known.entries.len());
        known.entries.reserve_exact(more);
        known.places.reserve(more);
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.0.entries.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.0.entries.is_empty()
    }

    /// Every id with what it names, as they were declared.
    pub fn iter(&self) -> impl Iterator<Item = (&str, Name)> {
        self.0.entries.iter().map(|(id, name)| (&**id, *name))
    }

    /// The same in alphabetical order.
    pub fn sorted(&self) -> Vec<(&str, Name)> {
        let mut all: Vec<(&str, Name)> = self.iter().collect();
        all.sort_unstable();
        all
    }
}

impl std::fmt::Debug for Names {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.debug_map().entries(self.iter()).finish()
    }
}
