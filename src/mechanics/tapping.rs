//! Holes for threads: a thread to its tapping drill, and to drill and tap for a coiled wire insert.

use super::citation::{Citation, Seen};
use super::thread::Thread;
use crate::quantity::{Length, Ratio};

/// Drill for a thread.
pub(crate) const DRILL_SOURCE: Citation = Citation::new(
    "drill = d − P, as ISO 2306 has it rounded; depth of thread (d − drill)/(1.0825 P)",
    Seen::FromMemory,
);
/// Hole for an insert.
pub(crate) const INSERT_SOURCE: Citation = Citation::new(
    "hole for a coiled wire insert: minor diameter d + 0.2165 P, major diameter d + 1.2990 P, as in DIN 8140 and NASM 33537",
    Seen::FromMemory,
);

/// Drill for tapping: nominal diameter less pitch.
pub(crate) fn drill(thread: &Thread) -> Length {
    thread.diameter() - thread.pitch()
}

/// How much of the full depth of thread a drilled hole leaves; the depth is 0.5413 P on each side.
pub(crate) fn depth_left(thread: &Thread, drilled: Length) -> Ratio {
    Ratio::from_fraction((thread.diameter() - drilled) / (thread.pitch() * 1.082_532))
}

/// The hole that a coiled wire insert for a thread is screwed into.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct InsertHole {
    /// Least diameter of the drilled hole.
    pub minor: Length,
    /// Outside of the tap.
    pub major: Length,
}

/// The hole for an insert.
pub(crate) fn insert_hole(thread: &Thread) -> InsertHole {
    InsertHole {
        minor: thread.diameter() + thread.pitch() * 0.216_506,
        major: thread.diameter() + thread.pitch() * 1.299_038,
    }
}
