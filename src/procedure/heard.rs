//! What was heard while things were read one by one: what each refers to, whether there was something to say of it, and where what
//! came of it lies in the text. It must not know what any of them is.

use super::model::Name;
use crate::source::Span;

/// What was heard while the clauses of one thing were read.
#[derive(Debug, Clone, Default)]
pub(super) struct Heard {
    /// What it refers to, of those things of which it is asked.
    pub used: Vec<Name>,
    /// How often there was something to say of it, or would have been if the text could be parsed.
    pub noise: usize,
    /// From the first to the last place that it speaks of, if all are in one file.
    pub reach: Option<Span>,
}

/// The same of every thing whose clauses are read by themselves, kind by kind.
#[derive(Debug, Clone, Default)]
pub(super) struct Listened {
    pub gauges: Vec<Heard>,
    pub looks: Vec<Heard>,
    pub sets: Vec<Heard>,
    pub parts: Vec<Heard>,
    pub steps: Vec<Heard>,
}

impl Heard {
    /// Both.
    pub(super) fn and(mut self, other: Heard) -> Heard {
        self.used.extend(other.used);
        self.noise += other.noise;
        self
    }
}

impl Listened {
    /// What all of them refer to.
    pub(super) fn used(&self) -> impl Iterator<Item = Name> {
        self.all().flat_map(|heard| &heard.used).copied()
    }

    /// All of it.
    pub(super) fn all(&self) -> impl Iterator<Item = &Heard> {
        let kinds = [&self.gauges, &self.looks, &self.sets, &self.parts, &self.steps];
        kinds.into_iter().flatten()
    }
}
