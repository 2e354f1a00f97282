//! benchleaf turns rebuild procedures into printed work packets for the bench.
//!
//! The rooms below stand in order of dependency: each may use only those above it.
//! `tests/layering.rs` holds the same table as data and fails on any use that goes the other way.

pub mod source;
pub mod quantity;
pub mod diagnostics;
pub mod mechanics;
pub mod metrology;
pub mod language;
pub mod procedure;
pub mod sequence;
pub mod network;
pub mod record;
pub mod decide;
pub mod plan;
pub mod sheet;
pub mod packet;
pub mod page;
pub mod cli;
