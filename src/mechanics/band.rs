//! A value that is only known to lie between two ends.

/// From `low` to `high`; a value known exactly has both ends equal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Band<T> {
    /// Lower end.
    pub low: T,
    /// Upper end.
    pub high: T,
}

impl<T: Copy + PartialOrd> Band<T> {
    /// Between two ends, in either order.
    pub(crate) fn between(a: T, b: T) -> Self {
        if b < a { Band { low: b, high: a } } else { Band { low: a, high: b } }
    }

    /// A value known exactly.
    pub(crate) fn exactly(value: T) -> Self {
        Band { low: value, high: value }
    }

    /// Whether both ends are the same.
    pub(crate) fn is_exact(&self) -> bool {
        self.low == self.high
    }

    /// The band of a function that only rises or only falls.
    pub(crate) fn map<U: Copy + PartialOrd>(self, function: impl Fn(T) -> U) -> Band<U> {
        Band::between(function(self.low), function(self.high))
    }
}
