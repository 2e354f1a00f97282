//! Lists of many large entries, counted with a type of number of their own: each entry lies by itself, so that it is not moved when
//! another comes or goes, and copies of a list share what is not changed.

use std::marker::PhantomData;
use std::ops::{Index, IndexMut};
use std::sync::Arc;

use rayon::prelude::*;

use super::Number;

/// A list of one kind of thing, counted with its own type of number.
#[derive(Debug, Clone, PartialEq)]
pub struct Things<Id, T> {
    entries: Vec<Arc<T>>,
    numbers: PhantomData<Id>,
}

impl<Id: Number, T> Things<Id, T> {
    /// Adds an entry at the end; its number.
    pub fn push(&mut self, entry: T) -> Id {
        let id = self.next();
        self.entries.push(Arc::new(entry));
        id
    }

    /// The number that the next entry gets.
    pub fn next(&self) -> Id {
        Id::of(self.entries.len())
    }

    /// The number of every entry, in order.
    pub fn ids(&self) -> impl DoubleEndedIterator<Item = Id> + use<Id, T> {
        (0..self.entries.len()).map(Id::of)
    }

    /// Every entry with its number, in order.
    pub fn numbered(&self) -> impl DoubleEndedIterator<Item = (Id, &T)> {
        self.entries.iter().enumerate().map(|(index, entry)| (Id::of(index), &**entry))
    }
}

impl<Id, T> Things<Id, T> {
    /// Every entry, in order.
    pub fn iter(&self) -> EachThing<'_, T> {
        EachThing(self.entries.iter())
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// Makes room for so many more entries, and no more than that.
    pub fn reserve(&mut self, more: usize) {
        self.entries.reserve_exact(more);
    }
}

impl<Id: Number, T> Things<Id, T> {
    /// Puts an entry in the place of the one with this number.
    pub(in crate::procedure) fn put(&mut self, id: Id, entry: Arc<T>) {
        self.entries[id.index()] = entry;
    }
}

impl<Id, T: Clone> Things<Id, T> {
    /// Every entry as it is shared, in order.
    pub(in crate::procedure) fn shared_mut(&mut self) -> &mut [Arc<T>] {
        &mut self.entries
    }

    /// Every entry, in order, to be changed.
    pub fn iter_mut(&mut self) -> impl Iterator<Item = &mut T> {
        self.entries.iter_mut().map(Arc::make_mut)
    }
}

impl<Id, T: Send + Sync> Things<Id, T> {
    /// What is to be told of every entry, in order; so many are looked at at once on each of all cores.
    pub(in crate::procedure) fn each_told<M: Send>(
        &self,
        batch: usize,
        told: impl Fn(&T) -> Vec<M> + Sync,
    ) -> Vec<M> {
        let of_batch =
            |entries: &[Arc<T>]| -> Vec<M> { entries.iter().flat_map(|entry| told(entry)).collect() };
        if self.entries.len() <= batch {
            return of_batch(&self.entries);
        }
        self.entries.par_chunks(batch).flat_map_iter(of_batch).collect()
    }
}

impl<Id, T: Clone + Send + Sync> Things<Id, T> {
    /// Changes every entry, so many at once on each of all cores.
    pub(in crate::procedure) fn change_each(&mut self, batch: usize, change: impl Fn(&mut T) + Sync) {
        if self.entries.len() <= batch {
            return self.iter_mut().for_each(change);
        }
        self.entries.par_chunks_mut(batch).flatten().for_each(|entry| change(Arc::make_mut(entry)));
    }
}

impl<Id, T> Default for Things<Id, T> {
    fn default() -> Self {
        Things { entries: Vec::new(), numbers: PhantomData }
    }
}

impl<Id: Number, T> Index<Id> for Things<Id, T> {
    type Output = T;

    fn index(&self, id: Id) -> &T {
        &self.entries[id.index()]
    }
}

impl<Id: Number, T: Clone> IndexMut<Id> for Things<Id, T> {
    fn index_mut(&mut self, id: Id) -> &mut T {
        Arc::make_mut(&mut self.entries[id.index()])
    }
}

impl<'a, Id, T> IntoIterator for &'a Things<Id, T> {
    type Item = &'a T;
    type IntoIter = EachThing<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

/// The entries of a list in order.
#[derive(Debug, Clone)]
pub struct EachThing<'a, T>(std::slice::Iter<'a, Arc<T>>);

impl<'a, T> Iterator for EachThing<'a, T> {
    type Item = &'a T;

    fn next(&mut self) -> Option<&'a T> {
        self.0.next().map(|entry| &**entry)
    }

    fn size_hint(&self) -> (usize, Option<usize>) {
        self.0.size_hint()
    }
}

impl<T> DoubleEndedIterator for EachThing<'_, T> {
    fn next_back(&mut self) -> Option<Self::Item> {
        self.0.next_back().map(|entry| &**entry)
    }
}

impl<T> ExactSizeIterator for EachThing<'_, T> {}
