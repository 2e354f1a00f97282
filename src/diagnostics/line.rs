//! Complaints as one line each: `FILE:LINE:COLUMN: error: what; write: ... (room/name)`.

use super::Diagnostic;
use crate::source::Sources;

/// One line per complaint, in the order given.
///
/// ```
/// use benchleaf::{Sources, parse, render_lines};
///
/// let mut sources = Sources::new();
/// let file = sources.add("cover.rebuild", "part cover Cover");
/// let faults = parse(file, &sources.file(file).text).diagnostics;
/// let lines = render_lines(&sources, &faults);
/// assert!(lines.starts_with("cover.rebuild:1:12: error: "));
/// ```
pub fn render(sources: &Sources, diagnostics: &[Diagnostic]) -> String {
    let mut out = String::new();
    for diagnostic in diagnostics {
        if let Some(label) = diagnostic.labels.first() {
            let file = sources.file(label.span.file);
            let position = file.position(label.span.start());
            out.push_str(&format!("{}:{}:{}: ", file.path.display(), position.line, position.column));
        }
        out.push_str(&format!("{}: {}", diagnostic.severity().word(), diagnostic.message));
        if let Some(mend) = &diagnostic.mend {
            out.push_str(&format!("; {}: {}", mend.word(), mend.text().replace('\n', " ")));
        }
        out.push_str(&format!(" ({})\n", diagnostic.code.name));
    }
    out
}
