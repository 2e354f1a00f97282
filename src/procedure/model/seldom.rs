//! Lists of what is seldom said: of most things they are empty, and there are very many things.

use std::fmt;
use std::ops::{Deref, DerefMut};

/// A list that takes one word where it is empty. It is read as a slice.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(clippy::box_collection, reason = "one word where it is empty is what it is for")]
pub struct Seldom<T>(Option<Box<Vec<T>>>);

impl<T> Seldom<T> {
    /// Without entries.
    pub const fn new() -> Seldom<T> {
        Seldom(None)
    }

    /// One more at the end.
    pub fn push(&mut self, entry: T) {
        match &mut self.0 {
            Some(list) => list.push(entry),
            None => *self = Seldom::from(vec![entry]),
        }
    }

    /// All entries.
    pub fn as_slice(&self) -> &[T] {
        self
    }

    /// Keeps those of which this is so.
    pub fn retain(&mut self, keep: impl FnMut(&T) -> bool) {
        if let Some(list) = &mut self.0 {
            list.retain(keep);
            self.settle();
        }
    }

    /// An empty list is always the same one.
    fn settle(&mut self) {
        if self.0.as_ref().is_some_and(|list| list.is_empty()) {
            self.0 = None;
        }
    }
}

impl<T> Default for Seldom<T> {
    fn default() -> Self {
        Seldom::new()
    }
}

impl<T: fmt::Debug> fmt::Debug for Seldom<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(&**self, f)
    }
}

impl<T> Deref for Seldom<T> {
    type Target = [T];

    fn deref(&self) -> &[T] {
        self.0.as_deref().map_or(&[], Vec::as_slice)
    }
}

impl<T> DerefMut for Seldom<T> {
    fn deref_mut(&mut self) -> &mut [T] {
        self.0.as_deref_mut().map_or(&mut [], Vec::as_mut_slice)
    }
}

impl<T> From<Vec<T>> for Seldom<T> {
    fn from(mut list: Vec<T>) -> Self {
        list.shrink_to_fit();
        let mut made = Seldom(Some(Box::new(list)));
        made.settle();
        made
    }
}

impl<T> FromIterator<T> for Seldom<T> {
    fn from_iter<I: IntoIterator<Item = T>>(entries: I) -> Self {
        Seldom::from(Vec::from_iter(entries))
    }
}

impl<T> Extend<T> for Seldom<T> {
    fn extend<I: IntoIterator<Item = T>>(&mut self, entries: I) {
        match &mut self.0 {
            Some(list) => list.extend(entries),
            None => *self = Seldom::from_iter(entries),
        }
    }
}

impl<T> IntoIterator for Seldom<T> {
    type Item = T;
    type IntoIter = std::vec::IntoIter<T>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.map(|list| *list).unwrap_or_default().into_iter()
    }
}

impl<'l, T> IntoIterator for &'l Seldom<T> {
    type Item = &'l T;
    type IntoIter = std::slice::Iter<'l, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

impl<'l, T> IntoIterator for &'l mut Seldom<T> {
    type Item = &'l mut T;
    type IntoIter = std::slice::IterMut<'l, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter_mut()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_read_and_filled_as_any_list() {
        let mut list: Seldom<u32> = Vec::new().into();
        assert_eq!(list, Seldom::new());
        assert_eq!(format!("{list:?}"), "[]");
        list.extend([3, 1]);
        list.push(2);
        list.sort();
        assert_eq!(&*list, [1, 2, 3]);
        assert!(Seldom::new() < list && list < [1, 3].into_iter().collect());
        list.retain(|entry| *entry > 3);
        assert_eq!(list, Seldom::default(), "an emptied list equals one that never had any");
        assert_eq!(size_of::<Seldom<u32>>(), size_of::<usize>());
    }
}
