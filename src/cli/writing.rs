//! The one way in which commands change the text of a record: all changes or none, read again as any record is, so that
//! every name and value is checked; and the way back from the last of them.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use serde_json::json;

use super::{errors, output};
use crate::decide::progress;
use crate::diagnostics::{Diagnostic, unreadable};
use crate::network::connect;
use crate::record::{Edit, Refusal, edit};
use crate::source::{FileId, Span, read_bytes, replace, write_atomically};
use crate::workshop::{Decided, Named, Workshop};

/// A record as it stands, sound.
pub(super) struct Opened {
    /// Its text among the sources.
    pub file: FileId,
    /// What follows from it.
    pub decided: Decided,
    /// What is odd about it already.
    told: Vec<Diagnostic>,
}

/// The text of a record with changes made.
pub(super) struct Drafted {
    /// The text.
    pub text: String,
    /// What follows from it.
    pub decided: Decided,
    /// What is odd about it and wasn't before.
    pub fresh: Vec<Diagnostic>,
}

/// Reads the record that is to be changed.
///
/// # Errors
/// It can't be read, or has faults.
pub(super) fn open(workshop: &mut Workshop, path: &Path) -> Result<Opened, Vec<Diagnostic>> {
    let file = workshop.sources_mut().read(path).map_err(|failure| vec![unreadable(path, &failure)])?;
    let before = workshop.decide_text(file, path, Named::default());
    match before.value {
        Some(decided) if output::exit_code(&before.diagnostics) == ExitCode::SUCCESS => {
            Ok(Opened { file, decided, told: before.diagnostics })
        }
        _ => Err(before.diagnostics),
    }
}

/// Makes the changes one after the other, and reads the whole again. Where steps are done or left out, their order is
/// looked at too.
///
/// # Errors
/// A change can't be made safely, or the record would have faults.
pub(super) fn draft(
    workshop: &mut Workshop,
    path: &Path,
    opened: &Opened,
    edits: &[Edit],
) -> Result<Drafted, Vec<Diagnostic>> {
    let mut file = opened.file;
    for change in edits {
        let text = workshop.sources().file(file).text.clone();
        let after = edit(&text, change).map_err(|refusal| {
            let line = match refusal {
                Refusal::Present(line) | Refusal::OtherKind(line) => line,
                Refusal::Unreadable | Refusal::Unsafe => 1,
            };
            let start = workshop.sources().file(file).line_start(line).unwrap_or_default();
            let words = text[start..].lines().next().unwrap_or_default();
            let (from, to) = (words.len() - words.trim_start().len(), words.trim_end().len());
            let span = Span::new(file, start + from, start + to);
            vec![errors::not_recorded(span, &change.path.join(" "), &refusal)]
        })?;
        file = workshop.sources_mut().add(path.to_path_buf(), after);
    }
    let checked = workshop.decide_text(file, path, Named::default());
    let mut fresh = checked.diagnostics;
    // What is changed in the procedure may put other steps before those that are done.
    let steps = |change: &Edit| {
        let path: Vec<&str> = change.path.iter().map(String::as_str).collect();
        matches!(path.as_slice(), ["done" | "not_done", _] | ["changes"])
    };
    if let (Some(decided), true) = (&checked.value, edits.iter().any(steps)) {
        let network = connect(&decided.procedure).value;
        fresh.extend(progress(&decided.procedure, &network, &decided.job, &decided.decisions));
    }
    let same = |one: &Diagnostic, other: &Diagnostic| {
        (one.code.name, &one.message) == (other.code.name, &other.message)
    };
    fresh.retain(|diagnostic| !opened.told.iter().any(|told| same(told, diagnostic)));
    match checked.value {
        Some(decided) if output::exit_code(&fresh) == ExitCode::SUCCESS => {
            Ok(Drafted { text: workshop.sources().file(file).text.clone(), decided, fresh })
        }
        _ => Err(fresh),
    }
}

/// Writes the record, and keeps what it was, so that the change can be taken back.
///
/// # Errors
/// A file can't be written.
pub(super) fn save(path: &Path, before: &str, after: &str) -> Result<(), Vec<Diagnostic>> {
    let kept = kept(path);
    let texts = json!({ "before": before, "after": after }).to_string();
    let failed = |path: &Path, error: &std::io::Error| vec![errors::unwritable(path, error)];
    replace(path, before.as_bytes(), after.as_bytes()).map_err(|error| failed(path, &error))?;
    write_atomically(&kept, texts.as_bytes()).map_err(|error| failed(&kept, &error))
}

/// Where the text of a record before its last change is kept.
fn kept(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".before");
    PathBuf::from(name)
}

/// Takes the last change of a record back, unless somebody has changed it since; gives the lines that went and came.
///
/// # Errors
/// There is nothing to take back, or a file can't be written.
pub(super) fn undo(path: &Path, now: &str) -> Result<Vec<String>, Vec<Diagnostic>> {
    let texts = read_bytes(&kept(path)).ok().and_then(|bytes| {
        let texts: serde_json::Value = serde_json::from_slice(&bytes).ok()?;
        Some((texts["before"].as_str()?.to_owned(), texts["after"].as_str()?.to_owned()))
    });
    let Some((before, _)) = texts.filter(|(_, after)| after == now) else {
        return Err(vec![errors::nothing_to_undo(path)]);
    };
    let gone = now.lines().filter(|line| !before.lines().any(|other| other == *line));
    let come = before.lines().filter(|line| !now.lines().any(|other| other == *line));
    let mut lines: Vec<String> = gone.map(|line| format!("- {}", line.trim())).collect();
    lines.extend(come.map(|line| format!("+ {}", line.trim())));
    save(path, now, &before)?;
    Ok(lines)
}
