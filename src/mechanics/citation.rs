//! Where a formula or a number comes from, and how we know it.

use std::fmt;

/// How far a source was seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seen {
    /// The figure stood in a text that was read.
    Read,
    /// It stood in a reprint of the standard's table.
    ReadCopy,
    /// It is recalled, not read.
    FromMemory,
    /// It follows from other figures by arithmetic.
    Derived,
    /// Workshop practice; there is no source.
    CommonPractice,
    /// Our own estimate.
    Estimate,
}

impl Seen {
    /// The words printed behind the source.
    pub fn words(self) -> &'static str {
        match self {
            Seen::Read => "read",
            Seen::ReadCopy => "read in a copy",
            Seen::FromMemory => "from memory",
            Seen::Derived => "derived",
            Seen::CommonPractice => "common practice, no source",
            Seen::Estimate => "estimate",
        }
    }
}

/// A source, such as `ISO 898-1`, with how far it was seen. It never claims conformity with a standard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Citation {
    /// Document and place in it; empty for common practice and estimates.
    pub document: &'static str,
    /// How far it was seen.
    pub seen: Seen,
}

impl Citation {
    /// A source.
    pub const fn new(document: &'static str, seen: Seen) -> Self {
        Citation { document, seen }
    }
}

impl fmt::Display for Citation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.document.is_empty() {
            f.write_str(self.seen.words())
        } else {
            write!(f, "{} ({})", self.document, self.seen.words())
        }
    }
}
