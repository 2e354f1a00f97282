//! Numbers that look random and are the same for the same seed, whatever version of whatever library is in use.

/// A stream of numbers. The generator is splitmix64 (Steele, Lea, Flood 2014, public domain form).
pub struct Chance(u64);

impl Chance {
    /// The stream of one case of a target.
    pub fn new(target: &str, seed: u64) -> Self {
        let mut state = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15);
        target.bytes().for_each(|byte| state = (state ^ u64::from(byte)).wrapping_mul(0x100_0000_01B3));
        Chance(state)
    }

    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// Less than `end`; nought where that is nought.
    pub fn below(&mut self, end: usize) -> usize {
        if end == 0 { 0 } else { (self.next() % end as u64) as usize }
    }

    /// Whether it hits, once in so many times.
    pub fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }

    pub fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.below(from.len())]
    }
}
