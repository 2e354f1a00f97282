//! The sequence room against slow and obvious ways of doing the same.

#![allow(
    clippy::unwrap_used,
    clippy::needless_range_loop,
    reason = "helpers of tests, and matrices of plain indices"
)]

mod graph;
mod instances;
mod matrix;
mod schedule;
mod search;
