//! Lists whose entries are counted with a type of number of their own, so that no number is taken for another's.

use std::marker::PhantomData;
use std::ops::{Deref, DerefMut, Index, IndexMut};

/// The number of an entry of an [`Arena`] or of [`super::Things`].
pub trait Number: Copy + Ord {
    /// The number of the entry with this index.
    fn of(index: usize) -> Self;

    /// Its index.
    fn index(self) -> usize;
}

/// A list of one kind of thing, counted with its own type of number. It reads as a slice wherever the numbers don't
/// matter.
#[derive(Debug, Clone, PartialEq)]
pub struct Arena<Id, T> {
    entries: Vec<T>,
    numbers: PhantomData<Id>,
}

impl<Id: Number, T> Arena<Id, T> {
    /// Adds an entry at the end; its number.
    pub fn push(&mut self, entry: T) -> Id {
        let id = self.next();
        self.entries.push(entry);
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
        self.entries.iter().enumerate().map(|(index, entry)| (Id::of(index), entry))
    }
}

impl<Id: Number, D: ?Sized> Arena<Id, &D> {
    /// Every entry with its number, in order.
    pub(in crate::procedure) fn all(&self) -> Vec<(Id, &D)> {
        self.numbered().map(|(id, entry)| (id, *entry)).collect()
    }
}

impl<Id, T> Default for Arena<Id, T> {
    fn default() -> Self {
        Arena { entries: Vec::new(), numbers: PhantomData }
    }
}

impl<Id, T> Deref for Arena<Id, T> {
    type Target = [T];

    fn deref(&self) -> &[T] {
        &self.entries
    }
}

impl<Id, T> DerefMut for Arena<Id, T> {
    fn deref_mut(&mut self) -> &mut [T] {
        &mut self.entries
    }
}

impl<Id: Number, T> Index<Id> for Arena<Id, T> {
    type Output = T;

    fn index(&self, id: Id) -> &T {
        &self.entries[id.index()]
    }
}

impl<Id: Number, T> IndexMut<Id> for Arena<Id, T> {
    fn index_mut(&mut self, id: Id) -> &mut T {
        &mut self.entries[id.index()]
    }
}

impl<'a, Id, T> IntoIterator for &'a Arena<Id, T> {
    type Item = &'a T;
    type IntoIter = std::slice::Iter<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.entries.iter()
    }
}
