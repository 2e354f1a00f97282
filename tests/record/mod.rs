//! The record of a job: what is read, and what is complained of where.

mod beginnings;
mod complaints;
mod crib;
mod verdicts;
mod writing;
