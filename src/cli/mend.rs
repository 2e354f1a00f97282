//! Complaints to texts mended: makes the changes that complaints carry and that nothing else can have been meant by.
//! It must not know which complaints there are.

use std::path::Path;

use super::errors;
use crate::diagnostics::{Diagnostic, Edit};
use crate::english::counted;
use crate::source::{FileId, replace};
use crate::workshop::Workshop;

/// Rounds of checking and mending: a fault that is mended may have hidden another.
const MOST_ROUNDS: usize = 20;

/// What mending came to.
pub(super) struct Mended<C> {
    /// The texts as they were read last.
    pub workshop: Workshop,
    /// What the last check counted.
    pub counts: C,
    /// What is left to say.
    pub left: Vec<Diagnostic>,
    /// A line for each file that was changed.
    pub lines: Vec<String>,
}

/// Checks and mends until nothing more can be mended without asking; gives the texts as they were read
/// last, what is left to say of them, and a line for each file that was changed. `check` says everything there is to say about the texts that a workshop reads anew.
///
/// # Errors
/// A file can't be written.
pub(super) fn mend<C>(
    check: impl Fn(&mut Workshop) -> (C, Vec<Diagnostic>),
) -> Result<Mended<C>, Diagnostic> {
    let mut told: Vec<(String, usize)> = Vec::new();
    let mut round = 0;
    loop {
        let mut workshop = Workshop::new();
        let (counts, found) = check(&mut workshop);
        let mut edits: Vec<&Edit> =
            found.iter().filter_map(|one| one.edit.as_deref()).filter(|edit| edit.sure).collect();
        edits.sort_by_key(|edit| (edit.span.file, edit.span.start(), edit.span.end()));
        edits.dedup_by(|later, earlier| {
            later.span.file == earlier.span.file && later.span.start() < earlier.span.end()
        });
        let mut files: Vec<FileId> = edits.iter().map(|edit| edit.span.file).collect();
        files.dedup();
        round += 1;
        if files.is_empty() || round > MOST_ROUNDS {
            let lines = told.iter().map(words).collect();
            return Ok(Mended { workshop, counts, left: found, lines });
        }
        for file in files {
            let source = workshop.sources().file(file);
            let edits: Vec<&Edit> = edits.iter().copied().filter(|edit| edit.span.file == file).collect();
            write(&source.path, &source.text, &edits)?;
            let shown = source.path.display().to_string();
            match told.iter_mut().find(|(path, _)| *path == shown) {
                Some((_, count)) => *count += edits.len(),
                None => told.push((shown, edits.len())),
            }
        }
    }
}

fn words((path, count): &(String, usize)) -> String {
    format!("{path}: {} mended\n", counted(*count, "place"))
}

/// Makes the changes, which stand in order and don't overlap, from the last to the first.
fn write(path: &Path, text: &str, edits: &[&Edit]) -> Result<(), Diagnostic> {
    let mut mended = text.to_owned();
    for edit in edits.iter().rev() {
        mended.replace_range(edit.span.start()..edit.span.end(), &edit.text);
    }
    replace(path, text.as_bytes(), mended.as_bytes()).map_err(|error| errors::unwritable(path, &error))
}
