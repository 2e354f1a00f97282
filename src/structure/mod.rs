//! A procedure to what stands over, holds and belongs to what, at every place, with assemblies taken into account.
//!
//! State is relative to the host: a fact between things of different assemblies holds between the outermost
//! assemblies that don't contain both, and for what is `in place too` also for the thing itself. It must not know
//! what is done to anything, nor in what order.

mod collect;

use std::collections::BTreeMap;

use crate::procedure::model::{PartId, Place, SetId};
use crate::source::Span;

/// A part at one of its places.
pub(crate) type PartAt = (PartId, Place);
/// A fastener set at one of its places.
pub(crate) type SetAt = (SetId, Place);

/// A part or a fastener set at one place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Piece {
    /// A part.
    Part(PartId, Place),
    /// A fastener set.
    Set(SetId, Place),
}

/// Which holes of a set: those covered alike share one; 0 is all holes that no fact names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HoleClass(pub u32);

/// Something is over something else.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cover {
    /// The lower piece.
    pub lower: Piece,
    /// Only this class of its holes; none for all.
    pub class: Option<HoleClass>,
    /// The upper piece.
    pub upper: Piece,
    /// Counts when taking apart.
    pub to_strip: bool,
    /// Counts when putting together.
    pub to_build: bool,
    /// Where it is said.
    pub span: Span,
}

/// A set holds a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hold {
    /// The part.
    pub part: PartAt,
    /// The set.
    pub set: SetAt,
    /// Where it is said.
    pub span: Span,
}

/// A part belongs to an assembly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Membership {
    /// The part.
    pub part: PartAt,
    /// Its host.
    pub host: PartAt,
    /// May be taken out and put in with the host fitted.
    pub in_place_too: bool,
    /// Where it is said.
    pub span: Span,
}

/// What stands over, holds and belongs to what.
#[derive(Debug, Clone, Default)]
pub struct Structure {
    covers_of: BTreeMap<Piece, Vec<Cover>>,
    covered_by: BTreeMap<Piece, Vec<Cover>>,
    holders: BTreeMap<PartAt, Vec<Hold>>,
    held: BTreeMap<SetAt, Vec<Hold>>,
    screwed_to: BTreeMap<SetAt, Vec<PartAt>>,
    hosts: BTreeMap<PartAt, Membership>,
    contents: BTreeMap<PartAt, Vec<Membership>>,
    below: BTreeMap<PartAt, Vec<PartAt>>,
    hole_classes: BTreeMap<SetId, Vec<u32>>,
}

impl Structure {
    /// What covers a piece (or one class of holes of a set) when taking apart, or when putting together.
    pub fn covers(&self, lower: Piece, class: HoleClass, building: bool) -> impl Iterator<Item = &Cover> {
        entries(&self.covers_of, &lower).iter().filter(move |cover| {
            (if building { cover.to_build } else { cover.to_strip })
                && cover.class.is_none_or(|only| only == class)
        })
    }

    /// What a piece covers when putting together.
    pub fn covered(&self, upper: Piece) -> impl Iterator<Item = &Cover> {
        entries(&self.covered_by, &upper).iter().filter(|cover| cover.to_build)
    }

    /// The sets that hold a part and come off.
    pub fn holders(&self, part: PartAt) -> &[Hold] {
        entries(&self.holders, &part)
    }

    /// The parts that a set which comes off holds.
    pub fn held(&self, set: SetAt) -> &[Hold] {
        entries(&self.held, &set)
    }

    /// The parts that are said to be held by a set, itself or as a member of its joint, each as it is named: not the
    /// assembly that it belongs to.
    pub fn screwed_to(&self, set: SetAt) -> &[PartAt] {
        entries(&self.screwed_to, &set)
    }

    /// The assembly that a part belongs to.
    pub fn host(&self, part: PartAt) -> Option<Membership> {
        self.hosts.get(&part).copied()
    }

    /// What belongs to an assembly.
    pub fn contents(&self, part: PartAt) -> &[Membership] {
        entries(&self.contents, &part)
    }

    /// What lies directly under a part: what is covered by it, and what it is clamped to.
    pub fn below(&self, part: PartAt) -> &[PartAt] {
        entries(&self.below, &part)
    }

    /// The classes of the holes of a set: one, and one more for each hole that a fact names.
    pub fn hole_classes(&self, set: SetId) -> impl Iterator<Item = HoleClass> + use<> {
        let named = self.hole_classes.get(&set).map_or(0, Vec::len);
        (0..=u32::try_from(named).expect("a set has few holes")).map(HoleClass)
    }

    /// The class of a hole of a set.
    pub fn class_of(&self, set: SetId, hole: u32) -> HoleClass {
        let at = self.hole_classes.get(&set).and_then(|named| named.iter().position(|named| *named == hole));
        HoleClass(at.map_or(0, |at| u32::try_from(at + 1).expect("a set has few holes")))
    }
}

fn entries<'s, K: Ord, V>(map: &'s BTreeMap<K, Vec<V>>, key: &K) -> &'s [V] {
    map.get(key).map_or(&[], Vec::as_slice)
}
