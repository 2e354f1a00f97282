//! Complaints as one JSON array, for programs.

use serde_json::{Value, json};

use super::{Diagnostic, Mend};
use crate::source::Sources;

/// One array; each complaint has `name`, `severity`, `message`, `file`, `places` (byte range, line and column from 1,
/// text), `write` (what to type, or null), `mend` (what else to do, or null) and `edit` (a change of the text that mends it,
/// or null: byte range, text, and whether it is sure). Ends with a newline.
///
/// ```
/// use benchleaf::{Sources, parse, render_json};
///
/// let mut sources = Sources::new();
/// let file = sources.add("cover.rebuild", "part cover Cover");
/// let faults = parse(file, &sources.file(file).text).diagnostics;
/// let json = render_json(&sources, &faults);
/// assert!(json.contains("\"language/missing-text\""));
/// ```
pub fn render(sources: &Sources, diagnostics: &[Diagnostic]) -> String {
    let array: Vec<Value> = diagnostics.iter().map(|diagnostic| entry(sources, diagnostic)).collect();
    let mut text =
        serde_json::to_string_pretty(&array).expect("strings, numbers and arrays always serialise");
    text.push('\n');
    text
}

fn entry(sources: &Sources, diagnostic: &Diagnostic) -> Value {
    let path = |span: crate::source::Span| sources.file(span.file).path.display().to_string();
    let places: Vec<Value> = diagnostic
        .labels
        .iter()
        .map(|label| {
            let position = sources.file(label.span.file).position(label.span.start());
            json!({
                "file": path(label.span),
                "start": label.span.start(),
                "end": label.span.end(),
                "line": position.line,
                "column": position.column,
                "text": label.text,
            })
        })
        .collect();
    let (write, mend) = match &diagnostic.mend {
        Some(Mend::Write(text)) => (Some(text), None),
        Some(Mend::Do(text)) => (None, Some(text)),
        None => (None, None),
    };
    let edit = diagnostic.edit.as_ref().map(|edit| {
        json!({
            "file": path(edit.span),
            "start": edit.span.start(),
            "end": edit.span.end(),
            "text": edit.text,
            "sure": edit.sure,
        })
    });
    json!({
        "name": diagnostic.code.name,
        "severity": diagnostic.severity().word(),
        "message": diagnostic.message,
        "file": diagnostic.labels.first().map(|label| path(label.span)),
        "places": places,
        "write": write,
        "mend": mend,
        "edit": edit,
    })
}
