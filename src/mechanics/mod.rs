//! Mechanics of the bench: sizes, loads and hole coordinates to torques, patterns, limits and temperatures.
//!
//! Pure formulas, one file per subject, each with its source. Nothing here knows a step or a syntax; friction
//! and nut factor are always inputs with a range, never constants.

pub mod angle;
pub mod assess;
pub mod band;
pub mod citation;
pub mod class;
pub mod displacement;
pub mod engagement;
pub mod fit;
mod fit_table;
pub mod heat;
pub mod joint;
pub mod lifting;
pub mod pattern;
pub mod scatter;
pub mod thread;
mod thread_table;
pub mod torque;
pub mod wrench;

pub use band::Band;
pub use citation::{Citation, Seen};
pub use class::{Class, ClassError, Strength};
pub use thread::{Thread, ThreadError};
