//! Procedure to network: acts with needs and results, derived links, the proof, the derived build.
//!
//! It must not know a job, a torque value or a page.
//!
//! The way through: `facts` spreads what is stated over all places; `expand` turns steps into nodes and
//! `acts` writes what each act needs and brings about; `links` and `rules` settle the order of a phase;
//! `walk` goes through it; `derive` derives the way back; `proof` tests every need; `report` says what
//! was found.

mod acts;
pub(crate) mod answers;
mod bench;
mod derive;
mod connect;
mod errors;
mod expand;
mod facts;
mod few;
mod held;
mod idle;
mod links;
mod proof;
mod reach;
mod report;
mod rules;
mod setters;
mod settling;
mod started;
mod support;
mod traffic;
mod turns;
mod types;
mod values;
mod walk;
pub(crate) mod words;

pub use connect::connect;
pub use types::*;
pub(crate) use values::{Errand, Fit, Inside, Is, ThingKind, Tightness, Value, Values};
