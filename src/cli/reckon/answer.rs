//! What a bench calculation answers: inputs as understood, formula, results with their band, sources; as text and as
//! JSON. It knows how numbers are shown, and not where they come from.

use serde::Serialize;

pub(super) use super::line::Line;
use crate::mechanics::Citation;

/// Columns that running text is broken at.
const WIDTH: usize = 100;

/// An answer to one question.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Answer {
    reckon: &'static str,
    title: String,
    given: Vec<Line>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    assumed: Vec<Line>,
    formulas: Vec<String>,
    results: Vec<Line>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    drawing: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    findings: Vec<String>,
    sources: Vec<String>,
    notes: Vec<String>,
}

impl Answer {
    /// An answer with nothing in it yet.
    pub(super) fn new(reckon: &'static str, title: impl Into<String>) -> Answer {
        Answer {
            reckon,
            title: title.into(),
            given: Vec::new(),
            assumed: Vec::new(),
            formulas: Vec::new(),
            results: Vec::new(),
            drawing: Vec::new(),
            findings: Vec::new(),
            sources: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// An input as it was understood.
    pub(super) fn given(&mut self, line: Line) {
        self.given.push(line);
    }

    /// What stands for an input that was not given.
    pub(super) fn assume(&mut self, line: Line) {
        self.assumed.push(line);
    }

    /// That readings are taken as exact, where none has a range.
    pub(super) fn assume_exact(&mut self, exact: bool) {
        if exact {
            self.assume(Line::words("doubt of the readings", "none: type a range where they have some"));
        }
    }

    /// An input where it was given; else what is assumed instead.
    pub(super) fn given_or(&mut self, given: bool, line: Line) {
        if given { self.given(line) } else { self.assume(line) }
    }

    /// A formula that was used, with its source.
    pub(super) fn formula(&mut self, formula: &str, source: Citation) {
        self.formulas.push(formula.to_owned());
        self.source(source);
    }

    /// A source besides those of the formulas.
    pub(super) fn source(&mut self, source: Citation) {
        let source = source.to_string();
        if !self.sources.contains(&source) {
            self.sources.push(source);
        }
    }

    /// A computed value: it carries the word estimate.
    pub(super) fn estimate(&mut self, line: Line) {
        self.results.push(line.estimated());
    }

    /// A value that stands in a table or follows from a definition.
    pub(super) fn tabled(&mut self, line: Line) {
        self.results.push(line);
    }

    /// A line of a figure in letters.
    pub(super) fn drawn(&mut self, line: String) {
        self.drawing.push(line);
    }

    /// The line above the figure in letters.
    pub(super) fn headed(&mut self, line: String) {
        self.drawing.insert(0, line);
    }

    /// What the numbers say.
    pub(super) fn finding(&mut self, finding: impl Into<String>) {
        self.findings.push(finding.into());
    }

    /// An assumption or a limit of the answer.
    pub(super) fn note(&mut self, note: impl Into<String>) {
        self.notes.push(note.into());
    }

    /// The answer for reading.
    pub(super) fn text(&self) -> String {
        let mut out = format!("{}\n", self.title);
        let results = |estimate: bool| -> Vec<&Line> {
            self.results.iter().filter(|line| line.estimate == estimate).collect()
        };
        columns(&mut out, "Given", &self.given.iter().collect::<Vec<_>>());
        columns(&mut out, "Assumed, not given", &self.assumed.iter().collect::<Vec<_>>());
        paragraphs(&mut out, "Formula", &self.formulas);
        columns(&mut out, "Result", &results(false));
        columns(&mut out, "Result (estimate)", &results(true));
        if !self.drawing.is_empty() {
            out.push('\n');
            for line in &self.drawing {
                out += &format!("  {line}\n");
            }
        }
        paragraphs(&mut out, "Findings", &self.findings);
        paragraphs(&mut out, "Source", &self.sources);
        paragraphs(&mut out, "Notes", &self.notes);
        out
    }
}

fn columns(out: &mut String, heading: &str, lines: &[&Line]) {
    if lines.is_empty() {
        return;
    }
    *out += &format!("\n{heading}\n");
    let width = lines.iter().map(|line| line.name.chars().count()).max().unwrap_or(0);
    for line in lines {
        let gap = width - line.name.chars().count() + 2;
        let start = format!("  {}{}", line.name, " ".repeat(gap));
        wrapped(out, &start, width + 4, &line.text);
    }
}

fn paragraphs(out: &mut String, heading: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    *out += &format!("\n{heading}\n");
    for line in lines {
        wrapped(out, "  ", 4, line);
    }
}

/// Writes words behind `start`, breaking lines; those that follow are moved in by `indent`.
fn wrapped(out: &mut String, start: &str, indent: usize, text: &str) {
    *out += start;
    let mut column = start.chars().count();
    let mut first = true;
    for word in text.split(' ') {
        let length = word.chars().count();
        if !first && column + 1 + length > WIDTH {
            out.push('\n');
            *out += &" ".repeat(indent);
            column = indent;
        } else if !first {
            out.push(' ');
            column += 1;
        }
        *out += word;
        column += length;
        first = false;
    }
    out.push('\n');
}
