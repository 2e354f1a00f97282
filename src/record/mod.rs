//! The YAML of a job: text to [`Record`], names as they were written, each with its place; and with a procedure
//! to [`Job`], every name resolved. Likewise a shop's crib and a file of prices.
//!
//! It knows what a record may say, and must not know in what order work is done or how it is printed.

mod at_bench;
mod beginning;
mod bind;
mod comments;
mod crib;
mod date;
mod dealings;
mod earlier;
mod edit;
mod entries;
mod errors;
mod extra;
mod fields;
mod found;
mod hour;
mod job;
mod last_day;
mod names;
mod outside;
mod prices;
mod read;
mod steps;
mod word;
mod written;
mod yaml;

pub(crate) use beginning::beginning;
pub use bind::bind;
pub(crate) use bind::drop_unknown_names;
pub(crate) use crib::{BenchChange, CribTool, GeneralTorques};
pub use crib::{Crib, read_crib};
pub(crate) use date::Date;
pub(crate) use earlier::*;
pub(crate) use edit::{Edit, Put, Refusal, Written, edit};
pub(crate) use entries::*;
pub(crate) use extra::Declarations;
pub(crate) use found::standing;
pub(crate) use hour::Hour;
pub use job::*;
pub(crate) use prices::{Piece, Price};
pub use prices::{Prices, read_prices};
#[cfg(test)]
pub(crate) use read::KEYS;
pub use read::read;
pub(crate) use steps::step_key;
pub(crate) use written::*;

use std::path::Path;

use names::Names;

use crate::diagnostics::Diagnostic;
use crate::procedure::model::{DerivedKey, LinkEnd, Procedure, SectionId, Step, StepId, StepKey};
use crate::source::{FileId, Span};

/// Every text of a record, crib or list of prices that holds other than plain letters, with its place; none of one that
/// can't be read.
pub(crate) fn special_texts(file: FileId, text: &str) -> Vec<(Span, String)> {
    yaml::scan(file, text).map_or_else(|_| Vec::new(), |node| node.special_texts())
}

/// What extra steps say of their place that the language can't: after or before steps that the build derives, in the
/// section of the step that they come after. `declared` says which steps are of the record.
pub(crate) fn place_extra(
    record: &Record,
    procedure: &mut Procedure,
    declared: impl Fn(&Step) -> bool,
) -> Vec<Diagnostic> {
    let mut places: Vec<(StepId, Option<SectionId>, [Vec<DerivedKey>; 2])> = Vec::new();
    let mut names = Names::new(procedure);
    for (id, step) in procedure.steps.numbered().filter(|(_, step)| declared(step)) {
        let Some(extra) = record.extra.steps.iter().find(|extra| extra.id.value == step.naming.id) else {
            continue;
        };
        let section = step.after.iter().chain(&step.before).find_map(|link| match link.to {
            LinkEnd::Step(other) => procedure.step(other).section,
            LinkEnd::Group(group) => {
                procedure.group(group).steps.first().and_then(|step| procedure.step(*step).section)
            }
        });
        let mut derived = |links: &[Named]| -> Vec<DerivedKey> {
            let keys = links.iter().filter(|link| link.is_derived()).filter_map(|link| names.step(link));
            keys.filter_map(|key| if let StepKey::Derived(key) = key { Some(key) } else { None }).collect()
        };
        places.push((id, section, [derived(&extra.after), derived(&extra.before)]));
    }
    let diagnostics = names.diagnostics;
    for (id, section, [after, before]) in places {
        let step = &mut procedure.steps[id];
        (step.section, step.after_derived, step.before_derived) = (section, after.into(), before.into());
    }
    diagnostics
}

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
