//! What was filled in on sheets of paper, and the plan that was printed with them, to changes of the record of the job.
//!
//! It knows what a number on a sheet means by the plan that the sheet carries, and what the record says by now. It must
//! not know files, pages or the command line.

mod changes;
mod printed;
mod table;
mod typed;
mod value;

pub(crate) use changes::{Changes, Gathered, Hand, Today, changes};
pub(crate) use printed::{Number, Printed};
pub(crate) use table::{read_table, write_table};
pub(crate) use typed::{Filled, read_words, steps_named};
pub(crate) use value::written;
pub(crate) use value::{day, quantity, word};
