//! Rows of bits: a rectangular bit matrix with whole-row union.

/// A matrix of bits, each row a whole number of 64-bit words.
#[derive(Clone, Debug)]
pub(super) struct BitRows {
    words: usize,
    bits: Vec<u64>,
}

impl BitRows {
    /// `rows` rows of at least `columns` bits, all clear.
    pub(super) fn new(rows: usize, columns: usize) -> BitRows {
        let words = columns.div_ceil(64);
        BitRows { words, bits: vec![0; rows * words] }
    }

    pub(super) fn set(&mut self, row: usize, column: usize) {
        self.bits[row * self.words + column / 64] |= 1 << (column % 64);
    }

    pub(super) fn has(&self, row: usize, column: usize) -> bool {
        self.bits[row * self.words + column / 64] >> (column % 64) & 1 == 1
    }

    pub(super) fn row(&self, row: usize) -> &[u64] {
        &self.bits[row * self.words..(row + 1) * self.words]
    }

    /// Adds the bits of row `from` to row `into`; the two differ.
    pub(super) fn add_row(&mut self, into: usize, from: usize) {
        let words = self.words;
        let (into_row, from_row) = if into < from {
            let (low, high) = self.bits.split_at_mut(from * words);
            (&mut low[into * words..(into + 1) * words], &high[..words])
        } else {
            let (low, high) = self.bits.split_at_mut(into * words);
            (&mut high[..words], &low[from * words..(from + 1) * words])
        };
        for (target, source) in into_row.iter_mut().zip(from_row) {
            *target |= source;
        }
    }

    pub(super) fn count(&self, row: usize) -> usize {
        self.row(row).iter().map(|word| word.count_ones() as usize).sum()
    }
}

/// The positions of the bits set in `words`, ascending.
pub(super) fn ones(words: &[u64]) -> impl Iterator<Item = usize> + '_ {
    words.iter().enumerate().flat_map(|(index, &word)| {
        std::iter::successors(Some(word).filter(|&word| word != 0), |rest| {
            Some(rest & (rest - 1)).filter(|&rest| rest != 0)
        })
        .map(move |rest| index * 64 + rest.trailing_zeros() as usize)
    })
}
