//! How many there are of a thing: one number, or each that places and answers leave open.

use std::fmt;

use super::{AxisId, Binding, Cases, PartId, Place, Procedure, SetId, Sourced, TemporaryId};

/// How many pieces there are of something: one number where that is settled, else each that it may be.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pieces {
    /// Rising, without repetition; never empty.
    possible: Vec<u32>,
}

impl Pieces {
    /// One of these numbers; none of them: one piece, as of what says nothing.
    pub fn one_of(numbers: impl IntoIterator<Item = u32>) -> Pieces {
        let mut possible: Vec<u32> = numbers.into_iter().collect();
        possible.sort_unstable();
        possible.dedup();
        if possible.is_empty() {
            possible.push(1);
        }
        Pieces { possible }
    }

    /// The number, where it is settled.
    pub fn settled(&self) -> Option<u32> {
        match self.possible.as_slice() {
            [number] => Some(*number),
            _ => None,
        }
    }

    /// The least that it may be.
    pub fn least(&self) -> u32 {
        self.possible.first().copied().unwrap_or(1)
    }

    /// The largest that it may be.
    pub fn most(&self) -> u32 {
        self.possible.last().copied().unwrap_or(1)
    }

    /// Whether there may be more than one, so that it is spoken of as they.
    pub fn several(&self) -> bool {
        self.most() > 1
    }

    /// Those of so many alike, of which the same answers decide.
    pub fn times(&self, so_many: usize) -> Pieces {
        let so_many = u32::try_from(so_many).unwrap_or(u32::MAX);
        Pieces::one_of(self.possible.iter().map(|number| number.saturating_mul(so_many)))
    }

    /// These and others, of which other answers may decide.
    pub fn and(&self, others: &Pieces) -> Pieces {
        let others = |number: u32| others.possible.iter().map(move |other| number.saturating_add(*other));
        Pieces::one_of(self.possible.iter().copied().flat_map(others))
    }
}

impl From<u32> for Pieces {
    fn from(number: u32) -> Pieces {
        Pieces { possible: vec![number] }
    }
}

/// `8`; `6 or 8` while answers are open.
impl fmt::Display for Pieces {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, number) in self.possible.iter().enumerate() {
            let before = match index {
                0 => "",
                _ if index + 1 == self.possible.len() => " or ",
                _ => ", ",
            };
            write!(out, "{before}{number}")?;
        }
        Ok(())
    }
}

/// How many there are of each thing; kept here so that every room counts alike.
impl Procedure {
    /// All of a part at some of its places.
    pub fn part_pieces(&self, id: PartId, places: &[Place]) -> Pieces {
        let part = self.part(id);
        self.pieces(&part.count, &part.axes, places)
    }

    /// All of a set at some of its places.
    pub fn set_pieces(&self, id: SetId, places: &[Place]) -> Pieces {
        let set = self.set(id);
        self.pieces(&set.count, &set.axes, places)
    }

    /// All of a temporary at some of its places.
    pub fn temporary_pieces(&self, id: TemporaryId, places: &[Place]) -> Pieces {
        let temporary = self.temporary(id);
        self.pieces(&temporary.count, &temporary.axes, places)
    }

    /// So of no place in particular where none is named.
    fn pieces(&self, count: &Cases<Sourced<u32>>, axes: &[AxisId], places: &[Place]) -> Pieces {
        let at = |place: &Place| count.each(&self.bound(axes, *place)).collect::<Vec<_>>();
        // Where the same cases may count at each place, the same answers choose.
        let mut alike: Vec<(Vec<_>, usize)> = Vec::new();
        for cases in places.iter().map(at) {
            match alike.iter_mut().find(|(other, _)| same_cases(other, &cases)) {
                Some((_, so_many)) => *so_many += 1,
                None => alike.push((cases, 1)),
            }
        }
        let each = alike.iter().map(|(cases, so_many)| {
            Pieces::one_of(cases.iter().map(|(count, _)| count.value)).times(*so_many)
        });
        each.reduce(|these, others| these.and(&others)).unwrap_or_else(|| count.at_a_place())
    }
}

fn same_cases<T>(some: &[(&Sourced<u32>, T)], others: &[(&Sourced<u32>, T)]) -> bool {
    let said = |cases: &[(&Sourced<u32>, T)]| cases.iter().map(|(count, _)| count.span).collect::<Vec<_>>();
    said(some) == said(others)
}

impl Cases<Sourced<u32>> {
    /// How many there are at a place, whichever it is.
    pub fn at_a_place(&self) -> Pieces {
        Pieces::one_of(self.values().map(|count| count.value))
    }

    /// How many there are where the axes in `bound` stand.
    pub fn here(&self, bound: &Binding) -> Pieces {
        Pieces::one_of(self.each(bound).map(|(count, _)| count.value))
    }
}
