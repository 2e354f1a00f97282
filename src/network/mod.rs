//! Procedure to network: acts with needs and results, derived links, the proof, the derived build.
//!
//! It must not know a job, a torque value or a page.

pub mod answers;
mod types;

pub use types::*;
