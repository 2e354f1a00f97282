//! The YAML of a job: text to [`Record`], names as they were written, each with its place; and with a procedure
//! to [`Job`], every name resolved. Likewise a shop's crib and a file of prices.
//!
//! It knows what a record may say, and must not know in what order work is done or how it is printed.

mod at_bench;
mod bind;
mod crib;
mod date;
mod dealings;
mod edit;
mod entries;
mod errors;
mod fields;
mod job;
mod last_day;
mod names;
mod prices;
mod read;
mod steps;
mod written;
mod yaml;

pub use bind::bind;
pub(crate) use crib::{BenchChange, CribTool, GeneralTorques};
pub use crib::{Crib, read_crib};
pub(crate) use date::Date;
pub(crate) use edit::{Edit, Put, Refusal, Written, edit};
pub(crate) use entries::*;
pub use job::*;
pub(crate) use prices::{Piece, Price};
pub use prices::{Prices, read_prices};
#[cfg(test)]
pub(crate) use read::KEYS;
pub use read::read;
pub(crate) use steps::step_key;
pub(crate) use written::*;

use std::path::Path;

use crate::diagnostics::Diagnostic;

/// Complains if the procedure named on the command line (`asked`) is not the one that the record at `record_path`
/// names. Links are followed; a path that does not exist is compared as written.
pub(crate) fn same_procedure(record: &Record, record_path: &Path, asked: &Path) -> Option<Diagnostic> {
    let written = record.procedure.as_ref()?;
    let meant = record_path.parent().unwrap_or(Path::new("")).join(&written.value);
    let real = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.to_path_buf());
    let moved = meant.canonicalize().is_err() && meant.file_name() == asked.file_name();
    (real(&meant) != real(asked))
        .then(|| errors::other_procedure(written, &asked.display().to_string(), moved))
}
