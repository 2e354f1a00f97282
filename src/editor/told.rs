//! Complaints as an editor shows them, and the changes that mend them as it offers them.

use std::collections::BTreeMap;
use std::path::PathBuf;

use lsp_types::{
    CodeAction, CodeActionKind, CodeActionOrCommand, Diagnostic, DiagnosticRelatedInformation,
    DiagnosticSeverity, Location, NumberOrString, Range, TextEdit, Uri, WorkspaceEdit,
};

use super::desk::Desk;
use super::found::Found;
use super::places::{address, place_in};
use crate::diagnostics::Severity;
use crate::source::{FileId, Span, place};

/// The complaints of each file that has some, by path.
pub(super) fn by_file(found: &Found, desk: &Desk) -> BTreeMap<PathBuf, Vec<Diagnostic>> {
    let mut files: BTreeMap<FileId, Vec<Diagnostic>> = BTreeMap::new();
    for complaint in &found.diagnostics {
        let Some(label) = complaint.labels.first() else { continue };
        files.entry(label.span.file).or_default().push(shown(found, desk, complaint));
    }
    let mut paths: BTreeMap<PathBuf, Vec<Diagnostic>> = BTreeMap::new();
    for (file, complaints) in files {
        paths.entry(place(&found.sources().file(file).path)).or_default().extend(complaints);
    }
    paths
}

fn shown(found: &Found, desk: &Desk, complaint: &crate::Diagnostic) -> Diagnostic {
    let mut message = complaint.message.clone();
    if let Some(mend) = &complaint.mend {
        let mut word = mend.word().to_owned();
        word[..1].make_ascii_uppercase();
        message.push_str(&format!("\n{word}: {}", mend.text()));
    }
    let related = complaint.labels.iter().skip(1).filter_map(|label| {
        let location = location(found, desk, label.span)?;
        Some(DiagnosticRelatedInformation { location, message: label.text.clone() })
    });
    Diagnostic {
        range: complaint.labels.first().map(|label| span_range(found, label.span)).unwrap_or_default(),
        severity: Some(match complaint.severity() {
            Severity::Error => DiagnosticSeverity::ERROR,
            Severity::Warning => DiagnosticSeverity::WARNING,
            Severity::Notice => DiagnosticSeverity::INFORMATION,
        }),
        code: Some(NumberOrString::String(complaint.code.name.to_owned())),
        source: Some("benchleaf".to_owned()),
        message,
        related_information: Some(related.collect()),
        ..Diagnostic::default()
    }
}

/// The address and place of a span.
pub(super) fn location(found: &Found, desk: &Desk, span: Span) -> Option<Location> {
    let path = &found.sources().file(span.file).path;
    Some(Location { uri: uri(desk, path)?, range: span_range(found, span) })
}

/// The address of a path: the one that the editor uses, where it has it open.
pub(super) fn uri(desk: &Desk, path: &std::path::Path) -> Option<Uri> {
    match desk.known(path) {
        Some((uri, _)) => Some(uri.clone()),
        None => address(&place(path)),
    }
}

/// The place of a span in its text.
pub(super) fn span_range(found: &Found, span: Span) -> Range {
    let file = found.sources().file(span.file);
    Range { start: place_in(file, span.start()), end: place_in(file, span.end()) }
}

/// What is offered for the complaints on the lines of a range of a file: the sure changes first.
pub(super) fn mends(
    found: &Found,
    desk: &Desk,
    path: &std::path::Path,
    within: Range,
) -> Vec<CodeActionOrCommand> {
    let mut offered: Vec<(bool, CodeActionOrCommand)> = Vec::new();
    for complaint in &found.diagnostics {
        let (Some(edit), Some(label)) = (&complaint.edit, complaint.labels.first()) else { continue };
        let at = span_range(found, label.span);
        let here = place(&found.sources().file(label.span.file).path) == place(path);
        if !here || at.end.line < within.start.line || within.end.line < at.start.line {
            continue;
        }
        let Some(address) = uri(desk, &found.sources().file(edit.span.file).path) else { continue };
        let title = match edit.text.trim() {
            "" => "Take it out".to_owned(),
            text => format!("Write `{text}`"),
        };
        let change = TextEdit { range: span_range(found, edit.span), new_text: edit.text.clone() };
        // The protocol gives edits by address.
        #[expect(clippy::mutable_key_type, reason = "an address is never changed once it is a key")]
        let changes = std::collections::HashMap::from([(address, vec![change])]);
        let action = CodeAction {
            title,
            kind: Some(CodeActionKind::QUICKFIX),
            diagnostics: Some(vec![shown(found, desk, complaint)]),
            edit: Some(WorkspaceEdit { changes: Some(changes), ..WorkspaceEdit::default() }),
            is_preferred: Some(edit.sure),
            ..CodeAction::default()
        };
        offered.push((!edit.sure, CodeActionOrCommand::CodeAction(action)));
    }
    offered.sort_by_key(|(unsure, _)| *unsure);
    offered.into_iter().map(|(_, action)| action).collect()
}
