//! What the record of a job has otherwise than its procedure says, beside the texts: what was found otherwise, and what is left out or
//! can't be done any more. Extra work and changes of the job stand in the texts already.

use super::{Change, Chapter};
use crate::cli::prepared::Prepared;
use crate::decide::author_notes;
use crate::source::Span;

/// What this job has otherwise, by heading.
pub(super) fn own(job: &Prepared) -> Vec<Chapter> {
    let not_done = job.job.not_done.iter().map(|not_done| Change {
        of: not_done.step.id(&job.procedure),
        was: "a step of the procedure".to_owned(),
        is: format!("not done: {}", not_done.words()),
        at: place(job, not_done.span),
    });
    // A remark on something that the procedure says nothing of is no difference.
    let found = author_notes(&job.procedure, &job.job).into_iter().filter_map(|note| {
        let signed = if note.signed.is_empty() { String::new() } else { format!(", {}", note.signed) };
        Some(Change {
            of: note.about,
            was: counted(&note.procedure_says?),
            is: format!("{}{signed}", counted(&note.found)),
            at: note.declared.map(|span| place(job, span)).unwrap_or_default(),
        })
    });
    vec![
        Chapter { heading: "Left out, or not to be done any more", changes: not_done.collect() },
        Chapter { heading: "Found otherwise on this one", changes: found.collect() },
    ]
}

/// A bare number as what it is here: how many there are.
fn counted(words: &str) -> String {
    if words.bytes().all(|byte| byte.is_ascii_digit()) {
        format!("{words} in number")
    } else {
        words.to_owned()
    }
}

/// A line of a file, with its name: it may be the record's or the procedure's.
fn place(job: &Prepared, span: Span) -> String {
    let file = job.sources().file(span.file);
    let name = file.path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    format!("{name} line {}", file.position(span.start()).line)
}
