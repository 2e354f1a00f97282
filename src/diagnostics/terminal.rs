//! Complaints for a person at a terminal, drawn by miette. This is the only file that knows miette.

use std::collections::BTreeMap;
use std::fmt;

use miette::{GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, SourceCode};

use super::{Diagnostic, Severity};
use crate::source::{FileId, Sources, Span};

/// How the text is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// Whether colour may be used.
    pub colour: bool,
    /// Columns to wrap at.
    pub width: usize,
}

/// All complaints as text, in the order given. A label in another file than the first is told in words.
pub fn render(sources: &Sources, diagnostics: &[Diagnostic], look: Look) -> String {
    let theme = if look.colour { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
    let handler = GraphicalReportHandler::new_themed(theme).with_width(look.width).with_links(false);
    let mut named: BTreeMap<FileId, NamedSource<String>> = BTreeMap::new();
    let mut out = String::new();
    for diagnostic in diagnostics {
        if too_wide(sources, diagnostic) {
            out.push_str(&super::line::render(sources, std::slice::from_ref(diagnostic)));
            out.push('\n');
            continue;
        }
        let file = diagnostic.labels.first().map(|label| label.span.file);
        if let Some(id) = file {
            named.entry(id).or_insert_with(|| {
                let file = sources.file(id);
                NamedSource::new(file.path.display().to_string(), file.text.clone())
            });
        }
        let report = Report { sources, diagnostic, source: file.and_then(|id| named.get(&id)) };
        // Writing into a String can't fail; a failure inside the handler would leave the message to the line form.
        if handler.render_report(&mut out, &report).is_err() {
            out.push_str(&super::line::render(sources, std::slice::from_ref(diagnostic)));
        }
        out.push('\n');
    }
    out
}

/// Longest line that is drawn. miette draws lines whole, and a file may be one line of megabytes.
const WIDEST: usize = 1_000;

/// Whether a line that would be drawn, at a label or just above or below it, is too long for that.
fn too_wide(sources: &Sources, diagnostic: &Diagnostic) -> bool {
    diagnostic.labels.iter().any(|label| {
        let file = sources.file(label.span.file);
        let first = file.position(label.span.start).line.saturating_sub(1).max(1);
        let last = file.position(label.span.end).line + 1;
        let starts = (first..=last + 1).map(|line| file.line_start(line).unwrap_or(file.text.len()));
        let starts: Vec<usize> = starts.collect();
        starts.windows(2).any(|pair| pair[1] - pair[0] > WIDEST)
    })
}

struct Report<'a> {
    sources: &'a Sources,
    diagnostic: &'a Diagnostic,
    source: Option<&'a NamedSource<String>>,
}

impl Report<'_> {
    /// A span that can be drawn: an empty one at the end of a file is moved onto its last character.
    fn drawable(&self, span: Span) -> (usize, usize) {
        let length = self.sources.file(span.file).text.len();
        let start = span.start.min(length);
        (start, span.end.min(length).saturating_sub(start))
    }
}

impl fmt::Debug for Report<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl fmt::Display for Report<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.diagnostic.message)
    }
}

impl std::error::Error for Report<'_> {}

impl miette::Diagnostic for Report<'_> {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        Some(Box::new(format!("{} · {}", self.diagnostic.severity().word(), self.diagnostic.code.name)))
    }

    fn severity(&self) -> Option<miette::Severity> {
        Some(match self.diagnostic.severity() {
            Severity::Error => miette::Severity::Error,
            Severity::Warning => miette::Severity::Warning,
            Severity::Notice => miette::Severity::Advice,
        })
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        let first = self.diagnostic.labels.first().map(|label| label.span.file);
        let elsewhere =
            self.diagnostic.labels.iter().filter(|label| Some(label.span.file) != first).map(|label| {
                let file = self.sources.file(label.span.file);
                let position = file.position(label.span.start);
                format!("see {}:{}:{}: {}", file.path.display(), position.line, position.column, label.text)
            });
        let lines: Vec<String> = self.diagnostic.help.clone().into_iter().chain(elsewhere).collect();
        if lines.is_empty() { None } else { Some(Box::new(lines.join("\n"))) }
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.source.map(|source| source as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let first = self.diagnostic.labels.first()?.span.file;
        let same_file = self.diagnostic.labels.iter().filter(move |label| label.span.file == first);
        Some(Box::new(same_file.enumerate().map(move |(index, label)| {
            let text = (!label.text.is_empty()).then(|| label.text.clone());
            let place = self.drawable(label.span);
            if index == 0 {
                LabeledSpan::new_primary_with_span(text, place)
            } else {
                LabeledSpan::new_with_span(text, place)
            }
        })))
    }
}
