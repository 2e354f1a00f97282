//! A small generator of reproducible numbers (SplitMix64, Steele, Lea and Flood 2014): same seed, same numbers on
//! every machine.

/// The generator's state.
#[derive(Clone, Debug)]
pub(super) struct Random(u64);

impl Random {
    pub(super) fn new(seed: u64) -> Random {
        Random(seed)
    }

    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number below `limit`, which is at least 1.
    pub(super) fn below(&mut self, limit: usize) -> usize {
        ((u128::from(self.next()) * limit as u128) >> 64) as usize
    }

    /// A number at least 0 and less than 1.
    pub(super) fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// e to the power of `-x`, from multiplications alone: the library's differs between platforms in the last bit.
pub(super) fn chance(x: f64) -> f64 {
    if x.is_nan() || x > 40.0 {
        return 0.0;
    }
    let mut power = 1.0 - x / 1024.0;
    for _ in 0..10 {
        power *= power;
    }
    power
}
