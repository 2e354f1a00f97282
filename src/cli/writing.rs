//! The one way in which commands change the text of a record: all changes or none, read again as any record is, so that
//! every name and value is checked; and the way back from the last of them.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use super::{errors, output};
use crate::decide::progress;
use crate::diagnostics::{Diagnostic, unreadable};
use crate::network::connect;
use crate::record::{Edit, Refusal, edit};
use crate::source::{FileId, Span, read_bytes, replace, write_like};
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
    // What is entered has to come out on paper; what stood there already is told when something is printed.
    let told = workshop.unset(opened.file);
    let new = |found: &Diagnostic| !told.iter().any(|told| told.message == found.message);
    fresh.extend(workshop.unset(file).into_iter().filter(new));
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

/// So many changes, one after the other, can be taken back.
const MOST_CHANGES: usize = 20;
/// Bytes of texts beyond which only the last change can be.
const MOST_KEPT: usize = 8 << 20;

/// Writes the record, and before that keeps what it was, so that whatever is written can be taken back.
///
/// # Errors
/// A file can't be written; the record is then as it was.
pub(super) fn save(path: &Path, before: &str, after: &str) -> Result<(), Vec<Diagnostic>> {
    let mut texts = kept(path);
    match texts.iter().rposition(|text| text == before) {
        Some(at) => texts.truncate(at + 1),
        // It was changed by hand since: nobody goes back over that.
        None => texts = vec![before.to_owned()],
    }
    texts.push(after.to_owned());
    let length = |texts: &[String]| texts.iter().map(String::len).sum::<usize>();
    while texts.len() > 2 && (texts.len() > MOST_CHANGES + 1 || length(&texts) > MOST_KEPT) {
        texts.remove(0);
    }
    keep(path, &texts).map_err(|error| vec![errors::unwritable(&beside(path), &error)])?;
    replace(path, before.as_bytes(), after.as_bytes()).map_err(|error| vec![errors::unwritable(path, &error)])
}

/// Where the texts of a record before its last changes are kept: beside the record itself, also where a link leads to it.
fn beside(path: &Path) -> PathBuf {
    let mut name = path.canonicalize().unwrap_or_else(|_| path.to_path_buf()).into_os_string();
    name.push(".before");
    PathBuf::from(name)
}

/// The texts of a record from change to change, what it is now the last of them; none where nothing can be read.
fn kept(path: &Path) -> Vec<String> {
    read_bytes(&beside(path)).ok().and_then(|bytes| serde_json::from_slice(&bytes).ok()).unwrap_or_default()
}

/// Keeps them, as private as the record is.
fn keep(path: &Path, texts: &[String]) -> std::io::Result<()> {
    write_like(&beside(path), serde_json::json!(texts).to_string().as_bytes(), path)
}

/// Takes the last change of a record back, and each time the one before, unless somebody has changed it since; gives the lines
/// that went and came.
///
/// # Errors
/// There is nothing to take back, or a file can't be written.
pub(super) fn undo(path: &Path, now: &str) -> Result<Vec<String>, Vec<Diagnostic>> {
    let mut texts = kept(path);
    texts.truncate(texts.iter().rposition(|text| text == now).unwrap_or_default());
    let Some(before) = texts.last() else { return Err(vec![errors::nothing_to_undo(path)]) };
    let gone = now.lines().filter(|line| !before.lines().any(|other| other == *line));
    let come = before.lines().filter(|line| !now.lines().any(|other| other == *line));
    let mut lines: Vec<String> = gone.map(|line| format!("- {}", line.trim())).collect();
    lines.extend(come.map(|line| format!("+ {}", line.trim())));
    replace(path, now.as_bytes(), before.as_bytes())
        .map_err(|error| vec![errors::unwritable(path, &error)])?;
    // Where this fails, the way further back is found by what the record says now.
    let _ = keep(path, &texts);
    Ok(lines)
}
