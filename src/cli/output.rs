//! What goes out: reports of complaints, and plain text; with the exit code that follows.

use std::io::{ErrorKind, IsTerminal, Write};
use std::path::Path;
use std::process::ExitCode;
use std::sync::atomic::{AtomicBool, Ordering};

use clap::ValueEnum;

use super::errors;
use crate::diagnostics::{
    Diagnostic, Look, Outcome, Severity, harmless, render_json, render_lines, render_terminal,
};
use crate::english::counted;
use crate::source::{Sources, place_for, write_atomically};
use crate::workshop::together;

/// Most complaints drawn with their text. Past this a list serves better than pictures.
const MOST_DRAWN: usize = 100;
/// What a run exits with whose output could not be written.
const UNWRITTEN: i32 = 2;
/// Columns where nothing says how wide the terminal is.
const WIDTH: usize = 80;

/// In which form complaints are given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// With the lines they point at, on the error output
    Text,
    /// One JSON array, on the standard output
    Json,
    /// One line each, on the standard output
    Line,
}

/// Gives out complaints in one form.
pub(super) fn report(sources: &Sources, diagnostics: &[Diagnostic], format: Format) {
    match format {
        Format::Json => print(&render_json(sources, diagnostics)),
        Format::Line => print(&render_lines(sources, diagnostics)),
        Format::Text => {
            let drawn = &diagnostics[..diagnostics.len().min(MOST_DRAWN)];
            complain(&render_terminal(sources, drawn, look()));
            if diagnostics.len() > MOST_DRAWN {
                let rest = diagnostics.len() - MOST_DRAWN;
                complain(&format!("... and {rest} more: `--format line` lists them all\n"));
            }
        }
    }
}

/// Errors and warnings alone, for commands that are not about the procedure's text.
pub(super) fn without_notices(diagnostics: Vec<Diagnostic>) -> Vec<Diagnostic> {
    diagnostics.into_iter().filter(|diagnostic| diagnostic.severity() != Severity::Notice).collect()
}

/// Complains of what was found, notices apart, and prints what was asked for. Answers from a faulty record would be
/// believed: none are given. Gives the code to exit with.
pub(super) fn print_if_sound<T>(
    sources: &Sources,
    found: Outcome<Option<T>>,
    answer: impl FnOnce(T) -> String,
) -> ExitCode {
    let diagnostics = together(found.diagnostics);
    let code = exit_code(&diagnostics);
    report(sources, &without_notices(diagnostics), Format::Text);
    if let Some(value) = found.value.filter(|_| code == ExitCode::SUCCESS) {
        print(&answer(value));
    }
    code
}

/// The code that a run with these complaints exits with.
pub(super) fn exit_code(diagnostics: &[Diagnostic]) -> ExitCode {
    diagnostics.iter().map(|diagnostic| diagnostic.code.exit).max().unwrap_or(0).into()
}

/// `2 errors, 1 warning, no notices`
pub(super) fn summary(diagnostics: &[Diagnostic]) -> String {
    let counted = |severity: Severity| match diagnostics
        .iter()
        .filter(|diagnostic| diagnostic.severity() == severity)
        .count()
    {
        0 => format!("no {}s", severity.word()),
        n => counted(n, severity.word()),
    };
    [Severity::Error, Severity::Warning, Severity::Notice].map(counted).join(", ")
}

/// Writes to the standard output. A reader that has gone away is no fault of ours; of anything else that keeps a part of it from
/// being written the run ends at once, so that half a list never passes for a whole one.
pub(super) fn print(text: &str) {
    passed();
    let mut out = std::io::stdout().lock();
    let text = harmless(text);
    let Err(error) = out.write_all(text.as_bytes()).and_then(|()| out.flush()) else { return };
    if error.kind() != ErrorKind::BrokenPipe {
        refuse(&errors::unwritten(&error));
        std::process::exit(UNWRITTEN);
    }
}

/// Goes back to the start of a line and empties it.
const EMPTIED: &str = "\r\u{1b}[K";

/// A line that will be written over stands at the end of the error output.
static PASSING: AtomicBool = AtomicBool::new(false);

/// Writes a line to a terminal that whatever is written next takes the place of.
pub(super) fn in_passing(words: &str) {
    PASSING.store(true, Ordering::Relaxed);
    let _ = std::io::stderr().lock().write_all(format!("{EMPTIED}{words}").as_bytes());
}

/// Takes away a line that was to be written over.
pub(super) fn passed() {
    if PASSING.swap(false, Ordering::Relaxed) {
        let _ = std::io::stderr().lock().write_all(EMPTIED.as_bytes());
    }
}

/// Writes to the error output.
pub(super) fn complain(text: &str) {
    passed();
    let _ = std::io::stderr().lock().write_all(text.as_bytes());
}

/// How complaints are drawn: in colour only for a person at a terminal who hasn't asked for none.
fn look() -> Look {
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
    let columns = std::env::var_os("COLUMNS").and_then(|text| text.to_str()?.parse().ok());
    Look {
        colour: std::io::stderr().is_terminal() && !set("NO_COLOR") && !dumb,
        width: columns.unwrap_or(WIDTH).clamp(40, 240),
    }
}

/// Writes a value as JSON to the standard output.
pub(super) fn print_json<T: serde::Serialize>(value: &T) {
    let mut text =
        serde_json::to_string_pretty(value).expect("lists of words and numbers can be written as JSON");
    text.push('\n');
    print(&text);
}

/// Writes a file that somebody asked for, unless it would replace what it was made from or another kind of file.
///
/// # Errors
/// The exit code; the complaint was given out.
pub(super) fn write(sources: &Sources, path: &Path, bytes: &[u8]) -> Result<(), ExitCode> {
    write_as(sources, path, bytes, &[])
}

/// The same for a file whose name has to say what is in it: with one of these endings, if there are any, or with none.
///
/// # Errors
/// The exit code; the complaint was given out.
pub(super) fn write_as(
    sources: &Sources,
    path: &Path,
    bytes: &[u8],
    endings: &[&str],
) -> Result<(), ExitCode> {
    let place =
        place_for(sources, path, bytes).map_err(|occupied| refuse(&errors::occupied(path, &occupied)))?;
    if path.extension().is_some() && !endings.is_empty() && !ends_in(path, endings) {
        return Err(refuse(&errors::ends_otherwise(path, endings)));
    }
    write_atomically(&place, bytes).map_err(|error| refuse(&errors::unwritable(path, &error)))
}

/// Whether the name of a file has one of these endings.
pub(super) fn ends_in(path: &Path, endings: &[&str]) -> bool {
    let own = path.extension();
    endings.iter().any(|ending| own.is_some_and(|own| own.eq_ignore_ascii_case(ending)))
}

/// Complains of a command that can't be carried out as typed, and gives the code to exit with.
pub(super) fn refuse(complaint: &Diagnostic) -> ExitCode {
    let complaints = std::slice::from_ref(complaint);
    report(&Sources::new(), complaints, Format::Text);
    exit_code(complaints)
}
