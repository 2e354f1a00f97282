//! Complaints for a person at a terminal: a ruled head that says in words where, the lines that are meant with what is
//! to be seen there underlined, and what to write. It is drawn by a handler of miette's; only this file knows miette.

use std::collections::BTreeSet;
use std::fmt::{self, Write};

use miette::{
    LabeledSpan, MietteError, MietteSpanContents, ReportHandler, SourceCode, SourceSpan, SpanContents,
};

use super::excerpt::{Excerpt, Place};
use super::text::{columns, harmless, wrapped};
use super::{Diagnostic, Label, Severity};
use crate::english::{capital, noun};
use crate::source::{FileId, SourceFile, Sources};

/// How the text is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// Whether colour may be used.
    pub colour: bool,
    /// Columns to wrap at.
    pub width: usize,
}

/// Most lines of source in one complaint. Further places are counted, not shown.
const MOST_LINES: usize = 12;

/// All complaints as text, in the order given.
///
/// ```
/// use benchleaf::{Sources, parse, Look, render_terminal};
///
/// let mut sources = Sources::new();
/// let file = sources.add("cover.rebuild", "part cover Cover");
/// let faults = parse(file, &sources.file(file).text).diagnostics;
/// let look = Look { colour: false, width: 80 };
/// let drawn = render_terminal(&sources, &faults, look);
/// assert!(drawn.contains("cover.rebuild, line 1"));
/// assert!(drawn.contains("Write: `\"Cover\"`"));
/// ```
pub fn render(sources: &Sources, diagnostics: &[Diagnostic], look: Look) -> String {
    let handler = Ruled { look };
    let mut out = String::new();
    for diagnostic in diagnostics {
        // Writing into a String can't fail.
        let _ = writeln!(out, "{:?}", Drawn { handler: &handler, report: Report::of(sources, diagnostic) });
    }
    out
}

/// A report with the handler that draws it.
struct Drawn<'a> {
    handler: &'a Ruled,
    report: Report<'a>,
}

impl fmt::Debug for Drawn<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.handler.debug(&self.report, f)
    }
}

/// Draws complaints in this program's own manner.
struct Ruled {
    look: Look,
}

/// What is set off by colour where there is colour. None of it is told by colour alone.
#[derive(Clone, Copy)]
enum Ink {
    /// The severity and what is underlined: brick, brass or slate by its weight.
    Weight(miette::Severity),
    /// Rules and line numbers.
    Quiet,
    /// The message and the word at the foot.
    Strong,
}

impl Ruled {
    fn inked(&self, ink: Ink, text: &str) -> String {
        let set = match ink {
            _ if !self.look.colour || text.is_empty() => return text.to_owned(),
            Ink::Weight(miette::Severity::Error) => "1;38;5;166",
            Ink::Weight(miette::Severity::Warning) => "1;38;5;136",
            Ink::Weight(miette::Severity::Advice) => "1;38;5;66",
            Ink::Quiet => "38;5;244",
            Ink::Strong => "1",
        };
        format!("\x1b[{set}m{text}\x1b[0m")
    }

    /// `■ error  room/name ───────── cover.rebuild, line 14`; the place on a line of its own where there is no room.
    fn head(&self, report: &dyn miette::Diagnostic, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let severity = report.severity().unwrap_or_default();
        // Boxes as on the sheets, the heavier the graver, of signs that old consoles have too.
        let (mark, word) = match severity {
            miette::Severity::Error => ("■", Severity::Error),
            miette::Severity::Warning => ("□", Severity::Warning),
            miette::Severity::Advice => ("▫", Severity::Notice),
        };
        let weight = format!("{mark} {}", word.word());
        let name = report.code().map(|code| code.to_string()).unwrap_or_default();
        let place = place_in_words(report).map(|place| harmless(&place).into_owned());
        let taken = columns(&weight) + columns(&name) + 3;
        let wanted = place.as_ref().map_or(0, |place| columns(place) + 1);
        let beside = taken + wanted + 3 <= self.look.width;
        let rule = "─".repeat(self.look.width.saturating_sub(taken + if beside { wanted } else { 0 }).max(3));
        write!(
            f,
            "{}  {name} {}",
            self.inked(Ink::Weight(severity), &weight),
            self.inked(Ink::Quiet, &rule)
        )?;
        match place {
            Some(place) if beside => writeln!(f, " {place}"),
            Some(place) => writeln!(f, "\n  {place}"),
            None => writeln!(f),
        }
    }

    /// Words below each other, set in from the left.
    fn words(&self, f: &mut fmt::Formatter<'_>, first: &str, ink: Ink, text: &str) -> fmt::Result {
        let indent = columns(first);
        for (index, line) in wrapped(text, self.look.width.saturating_sub(indent)).iter().enumerate() {
            if index == 0 {
                f.write_str(&self.inked(Ink::Strong, first))?;
            } else {
                f.write_str(&" ".repeat(indent))?;
            }
            writeln!(f, "{}", if matches!(ink, Ink::Strong) { self.inked(ink, line) } else { line.clone() })?;
        }
        Ok(())
    }

    /// The lines of one text that are pointed at; gives the number of lines shown and of places left out.
    fn lines(
        &self,
        report: &dyn miette::Diagnostic,
        severity: miette::Severity,
        most: usize,
        f: &mut fmt::Formatter<'_>,
    ) -> Result<(usize, usize), fmt::Error> {
        let (Some(source), Some(labels)) = (report.source_code(), report.labels()) else { return Ok((0, 0)) };
        let labels: Vec<LabeledSpan> = labels.collect();
        let mut places = Vec::new();
        for label in &labels {
            let seen = source.read_span(label.inner(), 0, 0).map_err(|_| fmt::Error)?;
            let text = std::str::from_utf8(seen.data()).map_err(|_| fmt::Error)?;
            let length = label.len().min(text.len().saturating_sub(seen.column()));
            let mut said = harmless(label.label().unwrap_or_default()).into_owned();
            if seen.line_count() > 1 {
                let to = format!("down to line {}", seen.line() + seen.line_count());
                said = if said.is_empty() { to } else { format!("{said}, {to}") };
            }
            places.push(Place { line: seen.line() + 1, text, at: (seen.column(), length), said });
        }
        let digits = places.iter().map(|place| (place.line + 1).to_string().len()).max().unwrap_or(1);
        let room = self.look.width.saturating_sub(digits + 4).max(20);
        let mut excerpt = Excerpt::of(&places, room, most);
        let shown: BTreeSet<usize> = excerpt.rows.iter().map(|row| row.line).collect();
        if let Some(main) = labels.first() {
            // One line above and below the fault, to find it by; not more, or the fault drowns.
            let around = source.read_span(main.inner(), 1, 1).map_err(|_| fmt::Error)?;
            let text = std::str::from_utf8(around.data()).map_err(|_| fmt::Error)?;
            for (line, text) in (around.line() + 1..).zip(text.lines()) {
                let beside = line + 1 == places[0].line || line == places[0].line + 1;
                if beside && !shown.contains(&line) && excerpt.rows.len() < most {
                    excerpt.add(line, text);
                }
            }
        }
        let mut before: Option<usize> = None;
        for row in &excerpt.rows {
            if before.is_some_and(|before| row.line > before + 1) {
                writeln!(f, "{}", self.inked(Ink::Quiet, &format!("  {:>digits$}", ":")))?;
            }
            before = Some(row.line);
            let main = row.marks.iter().any(|mark| mark.first);
            let pointer = if main { self.inked(Ink::Weight(severity), "►") } else { " ".to_owned() };
            let number = self.inked(Ink::Quiet, &format!("{:>digits$}", row.line));
            writeln!(f, "{pointer} {number}  {}", row.text)?;
            for mark in &row.marks {
                let ink = if mark.first { Ink::Weight(severity) } else { Ink::Quiet };
                let line = self.inked(ink, &"‾".repeat(mark.width));
                let start = digits + 4 + mark.column;
                write!(f, "{}{line}", " ".repeat(start))?;
                let beside = self.look.width.saturating_sub(start + mark.width + 1);
                if columns(&mark.said) <= beside {
                    let gap = if mark.said.is_empty() { "" } else { " " };
                    writeln!(f, "{gap}{}", mark.said)?;
                    continue;
                }
                // What doesn't fit beside the line stands below it.
                let indent =
                    start.min(self.look.width.saturating_sub(columns(&mark.said)).max(self.look.width / 2));
                for words in wrapped(&mark.said, self.look.width - indent) {
                    write!(f, "\n{}{words}", " ".repeat(indent))?;
                }
                writeln!(f)?;
            }
        }
        Ok((excerpt.rows.len(), excerpt.left_out))
    }
}

impl ReportHandler for Ruled {
    fn debug(&self, report: &dyn miette::Diagnostic, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let severity = report.severity().unwrap_or_default();
        self.head(report, f)?;
        self.words(f, "  ", Ink::Strong, &report.to_string())?;
        if report.source_code().is_some() {
            writeln!(f)?;
        }
        let (mut shown, mut left_out) = self.lines(report, severity, MOST_LINES, f)?;
        for other in report.related().into_iter().flatten() {
            if shown < MOST_LINES
                && let Some(place) = place_in_words(other)
            {
                writeln!(f, "\n  {place}")?;
            }
            let (lines, places) = self.lines(other, severity, MOST_LINES.saturating_sub(shown), f)?;
            shown += lines;
            left_out += places;
        }
        if left_out > 0 {
            let places = noun(left_out, "place");
            writeln!(
                f,
                "  and {left_out} more {places}; `--format line` and `--format json` are for programs"
            )?;
        }
        if let Some(foot) = report.help() {
            let foot = foot.to_string();
            let (word, text) = foot.split_once(' ').unwrap_or(("", &foot));
            writeln!(f)?;
            self.words(f, &format!("  {word} "), Ink::Quiet, text)?;
        }
        Ok(())
    }
}

/// `cover.rebuild, line 14`
fn place_in_words(report: &dyn miette::Diagnostic) -> Option<String> {
    let first = report.labels()?.next()?;
    let seen = report.source_code()?.read_span(first.inner(), 0, 0).ok()?;
    Some(format!("{}, line {}", seen.name().unwrap_or_default(), seen.line() + 1))
}

/// A complaint as miette sees it: the places in one file; those in other files are reports related to it.
struct Report<'a> {
    diagnostic: &'a Diagnostic,
    labels: Vec<&'a Label>,
    text: Option<Text<'a>>,
    others: Vec<Report<'a>>,
}

impl<'a> Report<'a> {
    fn of(sources: &'a Sources, diagnostic: &'a Diagnostic) -> Self {
        let mut files: Vec<FileId> = Vec::new();
        for label in &diagnostic.labels {
            if !files.contains(&label.span.file) {
                files.push(label.span.file);
            }
        }
        let mut reports = files.into_iter().map(|id| Report {
            diagnostic,
            labels: diagnostic.labels.iter().filter(|label| label.span.file == id).collect(),
            text: Some(Text(sources.file(id))),
            others: Vec::new(),
        });
        let nowhere = || Report { diagnostic, labels: Vec::new(), text: None, others: Vec::new() };
        let mut main = reports.next().unwrap_or_else(nowhere);
        main.others = reports.collect();
        main
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
        Some(Box::new(self.diagnostic.code.name))
    }

    fn severity(&self) -> Option<miette::Severity> {
        Some(match self.diagnostic.severity() {
            Severity::Error => miette::Severity::Error,
            Severity::Warning => miette::Severity::Warning,
            Severity::Notice => miette::Severity::Advice,
        })
    }

    /// The word at the foot, and what follows it.
    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        let mend = self.diagnostic.mend.as_ref()?;
        let word = mend.word();
        Some(Box::new(format!("{}: {}", capital(word), mend.text())))
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.text.as_ref().map(|text| text as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.labels.iter().map(|label| {
            let words = (!label.text.is_empty()).then(|| label.text.clone());
            LabeledSpan::new(words, label.span.start(), label.span.end().saturating_sub(label.span.start()))
        })))
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn miette::Diagnostic> + 'a>> {
        Some(Box::new(self.others.iter().map(|other| other as &dyn miette::Diagnostic)))
    }
}

/// A file, from which miette reads whole lines.
struct Text<'a>(&'a SourceFile);

impl SourceCode for Text<'_> {
    /// The line in which the span begins, with as many before and behind it as asked for. The line is that of the
    /// first line given, the column the byte of the span in its own line, the count that of the lines in the span.
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let text = &self.0.text;
        let start = span.offset().min(text.len());
        let line = self.0.position(start).line;
        // A span that ends with a line end doesn't reach into the next line.
        let end = (start + span.len()).min(text.len());
        let last = self.0.position(end.saturating_sub(1).max(start)).line;
        let begin = |line: usize| self.0.line_start(line).unwrap_or(text.len());
        let first = line.saturating_sub(before).max(1);
        let shown = text[begin(first)..begin(line + after + 1)].trim_end_matches(['\n', '\r']);
        let name = self.0.path.display().to_string();
        let column = start - begin(line);
        let lines = last + 1 - line;
        Ok(Box::new(MietteSpanContents::new_named(name, shown.as_bytes(), *span, first - 1, column, lines)))
    }
}
