//! Cuts a scanned text, by the marks of its lines and braces, into stretches, each of one or more whole declarations, and sees to braces that don't match.
//!
//! A declaration starts on a line of its own, at the depth of the one before it or less deep. Some words start a
//! declaration and never a clause: where one stands at the start of a line inside braces, a brace was forgotten.

use std::collections::BTreeSet;

use super::errors;
use super::scan::{Mark, MarkKind, Scanned};
use super::shape::{CHANGE, is_declaration};
use super::tree::Phase;
use crate::diagnostics::Diagnostic;
use crate::source::{FileId, Span};

/// A part of the text that starts and ends with whole declarations, as far as can be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stretch {
    /// Its first byte.
    pub start: usize,
    /// One past its last.
    pub end: usize,
}

/// Cuts `text`, which has these marks, mending in place the braces that don't match. `faulty_lines` gains the lines of
/// those.
pub(super) fn cut(file: FileId, scanned: &mut Scanned) -> Vec<Stretch> {
    let mut cutter = Cutter {
        file,
        text: std::mem::take(&mut scanned.text).into_bytes(),
        open: Vec::new(),
        stretches: Vec::new(),
        at_hand: None,
        unknown: 0,
        balanced: scanned.balanced,
        faults: &mut scanned.faults,
        faulty_lines: &mut scanned.faulty_lines,
    };
    cutter.run(&scanned.marks);
    let Cutter { text: mended, stretches, .. } = cutter;
    scanned.text = String::from_utf8(mended).expect("only ASCII was replaced, by ASCII");
    stretches
}

/// An open brace.
#[derive(Debug, Clone, Copy)]
struct Open {
    at: usize,
    /// Spaces before the first word of its line.
    indent: usize,
    /// It belongs to a block or a trial, so steps may stand in it.
    group: bool,
}

/// The stretch at hand.
#[derive(Debug, Clone, Copy)]
struct Current {
    start: usize,
    indent: usize,
    /// It had a brace.
    braced: bool,
    /// Its last brace is closed, so whatever starts a line starts a new stretch.
    closed: bool,
}

/// The lines around a byte from one declaration that starts at the left edge to the next: where a text is set out as it should
/// be, all that bears on what stands at that byte. Nothing in quotes and no comment goes over the end of a line.
pub(super) fn around(text: &str, at: usize) -> std::ops::Range<usize> {
    let starts = |line: usize| {
        let braced = text[line..].lines().next().is_some_and(|line| line.contains('{'));
        starts_declaration(text.as_bytes(), line, braced)
    };
    let line_of = |byte: usize| text[..byte].rfind('\n').map_or(0, |end| end + 1);
    let mut start = line_of(at);
    while start > 0 && !starts(start) {
        start = line_of(start - 1);
    }
    let mut end = text[at..].find('\n').map_or(text.len(), |length| at + length + 1);
    while end < text.len() && !starts(end) {
        end = text[end..].find('\n').map_or(text.len(), |length| end + length + 1);
    }
    start..end
}

struct Cutter<'f> {
    file: FileId,
    text: Vec<u8>,
    open: Vec<Open>,
    stretches: Vec<Stretch>,
    at_hand: Option<Current>,
    /// Stretches that start with no known word: each will be complained of.
    unknown: usize,
    /// Every brace has its partner.
    balanced: bool,
    faults: &'f mut Vec<Diagnostic>,
    faulty_lines: &'f mut BTreeSet<usize>,
}

impl Cutter<'_> {
    fn run(&mut self, marks: &[Mark]) {
        let mut line = Line { start: 0, indent: 0, group: false };
        for (index, mark) in marks.iter().enumerate() {
            if self.unknown.max(self.faults.len()) > super::MOST_FAULTS {
                break;
            }
            match mark.kind {
                MarkKind::Line(start) => {
                    line.start = start;
                    line.indent = mark.at - start;
                    // A brace on a line of its own belongs to the head on the line before.
                    // So does what goes on from a head that is broken over several lines.
                    if self.text[mark.at] != b'{' {
                        let word = declared_with(&self.text, mark.at);
                        line.group = matches!(word, "block" | "trial") || line.group && !is_declaration(word);
                    }
                    let behind = &marks[index + 1..];
                    let braced = behind
                        .iter()
                        .take_while(|mark| !matches!(mark.kind, MarkKind::Line(_)))
                        .any(|mark| matches!(mark.kind, MarkKind::Open));
                    self.line_starts(*mark, line, braced);
                }
                MarkKind::Open => {
                    self.open.push(Open { at: mark.at, indent: line.indent, group: line.group });
                    line.group = false;
                    if let Some(current) = &mut self.at_hand {
                        current.braced = true;
                        current.closed = false;
                    }
                }
                MarkKind::Close => self.close(*mark, line),
            }
        }
        self.end_of_text();
    }

    /// Decides whether the line that begins with `mark` starts a new stretch.
    fn line_starts(&mut self, mark: Mark, line: Line, braced: bool) {
        let at = mark.at;
        if !self.open.is_empty() && starts_declaration(&self.text, at, braced) {
            let step = Phase::of_word(word_at(&self.text, at)).is_some();
            let inside_group = self.open.last().is_some_and(|open| open.group);
            let deeper = self.open.iter().all(|open| open.indent < line.indent);
            let forgotten = if !step {
                // Well set out and well closed, it is only in the wrong place.
                if self.balanced && deeper { 0 } else { self.open.len() }
            } else if inside_group && (self.balanced || deeper) {
                0
            } else {
                let kept =
                    self.open.iter().take_while(|open| open.group && open.indent < line.indent).count();
                self.open.len() - kept
            };
            self.forget(forgotten, at, line);
        }
        if !self.open.is_empty() {
            return;
        }
        let starts = match self.at_hand {
            None => true,
            Some(current) => {
                current.closed || (line.indent <= current.indent && !matches!(mark.last, b',' | b'='))
            }
        };
        if starts && self.text[at] != b'{' && (self.text[at] != b'}' || self.at_hand.is_none()) {
            self.end_stretch(line.start);
            if !is_declaration(word_at(&self.text, at)) {
                self.unknown += 1;
            }
            self.at_hand = Some(Current { start: at, indent: line.indent, braced: false, closed: false });
        }
    }

    /// The innermost `count` open braces were never closed before the declaration at `at`: closes them there.
    fn forget(&mut self, count: usize, at: usize, line: Line) {
        let mut place = at;
        for _ in 0..count {
            let Some(open) = self.open.pop() else { return };
            let word = word_at(&self.text, at).len();
            let noticed = Span::new(self.file, at, at + word);
            self.complain(errors::unclosed_brace(self.span(open.at), Some(noticed)), open.at);
            let free = (0..place).rev().find(|index| matches!(self.text[*index], b' ' | b'\n'));
            if let Some(free) = free {
                self.text[free] = b'}';
                place = free;
            }
        }
        if count > 0 && self.open.is_empty() {
            self.end_stretch(line.start.max(place + 1));
        }
    }

    fn close(&mut self, mark: Mark, line: Line) {
        let at = mark.at;
        if self.open.pop().is_some() {
            if self.open.is_empty()
                && let Some(current) = &mut self.at_hand
            {
                current.closed = true;
            }
            return;
        }
        match &mut self.at_hand {
            // A head without its opening brace: the grammar finds that out, and this brace belongs to it.
            Some(current) if !current.braced => {
                current.braced = true;
                current.closed = true;
            }
            _ => {
                self.text[at] = b' ';
                if mark.last != b'}' || self.faults.is_empty() {
                    self.complain(errors::stray_brace(self.span(at)), line.start);
                }
                if self.at_hand.is_some_and(|current| current.start == at) {
                    self.at_hand = None;
                }
            }
        }
    }

    fn end_of_text(&mut self) {
        let open = std::mem::take(&mut self.open);
        for brace in open.iter().rev() {
            self.complain(errors::unclosed_brace(self.span(brace.at), None), brace.at);
            self.text.push(b'}');
        }
        self.end_stretch(self.text.len());
    }

    fn end_stretch(&mut self, end: usize) {
        if let Some(current) = self.at_hand.take() {
            self.stretches.push(Stretch { start: current.start, end });
        }
    }

    fn span(&self, at: usize) -> Span {
        Span::new(self.file, at, at + 1)
    }

    fn complain(&mut self, fault: Diagnostic, at: usize) {
        let line = self.text[..at].iter().rposition(|byte| *byte == b'\n').map_or(0, |end| end + 1);
        self.faulty_lines.insert(line);
        self.faults.push(fault);
    }
}

/// The line at hand.
#[derive(Debug, Clone, Copy)]
struct Line {
    start: usize,
    indent: usize,
    /// A brace on it opens a block or a trial.
    group: bool,
}

/// The word of small letters at `at`.
fn word_at(text: &[u8], at: usize) -> &str {
    let length = text[at..].iter().take_while(|byte| byte.is_ascii_alphanumeric() || **byte == b'_').count();
    std::str::from_utf8(&text[at..at + length]).unwrap_or_default()
}

/// The word at `at` that says what is declared: of something that is changed the one behind `change`.
fn declared_with(text: &[u8], at: usize) -> &str {
    let word = word_at(text, at);
    if word != CHANGE {
        return word;
    }
    let spaces = text[at + word.len()..].iter().take_while(|byte| **byte == b' ').count();
    word_at(text, at + word.len() + spaces)
}

/// Whether what starts at `at`, at the start of a line inside braces, can only be a declaration. `braced`: a brace opens
/// on that line.
fn starts_declaration(text: &[u8], at: usize, braced: bool) -> bool {
    let word = word_at(text, at);
    if !is_declaration(word) {
        return false;
    }
    let next = text[at + word.len()..].iter().copied().find(|byte| *byte != b' ').unwrap_or_default();
    let named = next.is_ascii_alphabetic();
    match word {
        "use" => next == b'"',
        // In the braces of a change it begins a clause.
        "without" => false,
        // These also start clauses: `hazard X`, `gauge X "..."`, `look X "..."`, `start by hand X`, `strip only`.
        "hazard" | "gauge" | "look" | "start" | "strip" => named && braced,
        _ => named,
    }
}
