//! Lists of what is seldom said: of most things they are empty, and there are very many things.

/// A list that takes one word where it is empty, and lies with its length in one piece where it isn't. It is read as a slice.
pub use thin_vec::ThinVec as Seldom;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_list_takes_one_word_and_no_room() {
        assert_eq!(size_of::<Seldom<[u64; 4]>>(), size_of::<usize>());
        assert_eq!(Seldom::<[u64; 4]>::new().capacity(), 0);
    }
}
