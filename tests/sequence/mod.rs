//! The sequence room against slow and obvious ways of doing the same.

mod graph;
mod schedule;
mod search;
