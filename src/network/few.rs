//! Sets of few numbered things, each a bit: values, and answers.

use std::marker::PhantomData;
use std::ops::{BitAnd, BitOr};

/// Something that is one of few, and known by its number among them; a procedure with more than
/// [`crate::procedure::model::MOST_VALUES`] of a kind is refused.
pub trait Numbered: Copy {
    /// Its number, from 0.
    fn number(self) -> usize;
    /// The one with a number.
    fn numbered(number: usize) -> Self;
}

/// A set of few numbered things of one kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Few<T> {
    bits: u64,
    of: PhantomData<T>,
}

impl<T: Numbered> Few<T> {
    const fn of_bits(bits: u64) -> Self {
        Few { bits, of: PhantomData }
    }

    /// That one alone.
    pub fn only(one: T) -> Self {
        let bit = u32::try_from(one.number()).ok().and_then(|number| 1u64.checked_shl(number));
        Few::of_bits(bit.expect("a procedure with more than there are bits is refused"))
    }

    /// The first so many.
    pub fn first(count: usize) -> Self {
        let beyond = u64::BITS.saturating_sub(u32::try_from(count).unwrap_or(u64::BITS));
        Few::of_bits(u64::MAX.checked_shr(beyond).unwrap_or(0))
    }

    /// Whether it is one of them.
    pub fn contains(self, one: T) -> bool {
        self.bits >> one.number() & 1 == 1
    }

    /// Whether there is none.
    pub fn is_empty(self) -> bool {
        self.bits == 0
    }

    /// Whether some are in both.
    pub fn meets(self, other: Self) -> bool {
        self.bits & other.bits != 0
    }

    /// Those that are not in the other.
    pub fn except(self, other: Self) -> Self {
        Few::of_bits(self.bits & !other.bits)
    }

    /// The same by number, as those of another kind.
    pub(super) fn retold<U: Numbered>(self) -> Few<U> {
        Few::of_bits(self.bits)
    }

    /// Each of them, by number.
    pub fn iter(self) -> impl Iterator<Item = T> {
        (0..u64::BITS as usize).filter(move |number| self.bits >> number & 1 == 1).map(T::numbered)
    }
}

impl<T: Numbered> From<T> for Few<T> {
    fn from(one: T) -> Self {
        Few::only(one)
    }
}

impl<T: Numbered> BitAnd for Few<T> {
    type Output = Self;
    fn bitand(self, other: Self) -> Self {
        Few::of_bits(self.bits & other.bits)
    }
}

impl<T: Numbered> BitOr for Few<T> {
    type Output = Self;
    fn bitor(self, other: Self) -> Self {
        Few::of_bits(self.bits | other.bits)
    }
}
