//! Complaints as one line each: `path:line:column: severity[code]: message (help: ...)`.

use super::Diagnostic;
use crate::source::Sources;

/// One line per complaint, in the order given.
pub fn render(sources: &Sources, diagnostics: &[Diagnostic]) -> String {
    let mut out = String::new();
    for diagnostic in diagnostics {
        if let Some(label) = diagnostic.labels.first() {
            let file = sources.file(label.span.file);
            let position = file.position(label.span.start);
            out.push_str(&format!("{}:{}:{}: ", file.path.display(), position.line, position.column));
        }
        out.push_str(&format!(
            "{}[{}]: {}",
            diagnostic.severity().word(),
            diagnostic.code.name,
            diagnostic.message
        ));
        if let Some(help) = &diagnostic.help {
            out.push_str(&format!(" (help: {})", help.replace('\n', " ")));
        }
        out.push('\n');
    }
    out
}
