//! Mechanics of the bench: sizes, loads and hole coordinates to torques, patterns, limits and temperatures.
//!
//! Pure formulas, one file per subject, each with its source. Nothing here knows a step or a syntax; friction
//! and nut factor are always inputs with a range, never constants.

pub(crate) mod angle;
pub(crate) mod assess;
pub(crate) mod band;
pub(crate) mod bearing;
pub(crate) mod citation;
pub(crate) mod class;
pub(crate) mod coil_spring;
pub(crate) mod crank;
pub(crate) mod displacement;
pub(crate) mod engagement;
pub(crate) mod firing;
pub(crate) mod fit;
mod fit_table;
pub(crate) mod heat;
pub(crate) mod injector;
pub(crate) mod joint;
pub(crate) mod lifting;
pub(crate) mod pattern;
pub(crate) mod press;
pub(crate) mod reduction;
pub(crate) mod rigging;
pub(crate) mod ring_gap;
pub(crate) mod scatter;
pub(crate) mod shim;
pub(crate) mod stretch;
pub(crate) mod tapping;
pub(crate) mod thread;
mod thread_table;
pub(crate) mod torque;
pub(crate) mod turning;
pub(crate) mod wrench;

pub(crate) use band::Band;
pub(crate) use citation::{Citation, Seen};
pub(crate) use class::{Class, ClassError, Strength};
pub(crate) use thread::{Thread, ThreadError};
