//! benchleaf turns rebuild procedures into printed work packets for the bench.
//!
//! The rooms below stand in order of dependency: each may use only those above it.
//! `tests/layering.rs` holds the same table as data and fails on any use that goes the other way.

/// Files, byte spans and line index: the only reader and writer of files.
pub mod source;
/// Dimensions, units, conversion and rounding for print.
pub mod quantity;
/// One complaint, the register of codes, near-name search, and the renderers.
pub mod diagnostics;
/// Pure formulas of bolted joints, wrenches, patterns, lifting, fits and heat.
pub mod mechanics;
/// Readings, limits, derived values, verdicts and next oversize: pure.
pub mod metrology;
/// Text to tree, with comments kept and recovery after an error.
pub mod language;
/// Tree to domain model: names resolved across files, units and dimensions checked.
pub mod procedure;
/// Integers only: reachability, reduction, cycles, orders and schedules.
pub mod sequence;
/// Procedure to acts with needs and results, derived links, the proof, the ledger, the derived build.
pub mod network;
/// The YAML of a job and of a shop's crib.
pub mod record;
/// Procedure and record to decisions.
pub mod decide;
/// Network and decisions to the plan of this job.
pub mod plan;
/// Plan to sheets made of blocks.
pub mod packet;
/// Blocks to placed items, and the PDF that paints them.
pub mod page;
/// Command line: arguments, one file per command, exit codes.
pub mod cli;
