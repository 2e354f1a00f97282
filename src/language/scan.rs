//! The one pass over the characters of a text, before the grammar: what is comment, what is quoted, where lines begin
//! and braces stand; and the faults that would throw everything behind them out of step.
//!
//! The text that comes out has the length of the text that went in (and a line end behind it), so that every byte
//! keeps its place: comments, tabs and strange characters become spaces, an unclosed text is closed at the end of
//! its line, an unclosed brace in the space before the next declaration.

use std::collections::BTreeSet;

use super::errors;
use crate::diagnostics::Diagnostic;
use crate::source::{FileId, Span, Spanned};

/// Braces, and brackets in a clause, that may be open at once. The language itself needs two.
const DEEPEST: usize = 32;

/// A place that decides where declarations begin and end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Mark {
    /// Its byte.
    pub at: usize,
    /// What it is.
    pub kind: MarkKind,
    /// The byte of the last thing before it; for a text, its quote.
    pub last: u8,
}

/// What stands at a mark.
#[derive(Debug, Clone, Copy)]
pub(super) enum MarkKind {
    /// The first thing on the line that starts at this byte.
    Line(usize),
    /// `{`
    Open,
    /// `}`
    Close,
}

/// A text that the grammar can be asked about, and what was left out of it.
#[derive(Debug)]
pub(super) struct Scanned {
    /// The mended text.
    pub text: String,
    /// Comments in order.
    pub comments: Vec<Spanned<String>>,
    /// What was wrong.
    pub faults: Vec<Diagnostic>,
    /// Starts of the lines on which something was wrong: other complaints about them follow from it.
    pub faulty_lines: BTreeSet<usize>,
    /// Nothing behind this fault can be understood.
    pub hopeless: bool,
    /// Lines and braces in order.
    pub marks: Vec<Mark>,
    /// Every brace that was opened is closed.
    pub balanced: bool,
}

/// Looks through `text` once.
pub(super) fn scan(file: FileId, text: &str) -> Scanned {
    let mut scanner = Scanner {
        file,
        text,
        mended: text.as_bytes().to_vec(),
        line: 0,
        braces: 0,
        brackets: 0,
        fresh: true,
        last: b'\n',
        done: Scanned {
            text: String::new(),
            comments: Vec::new(),
            faults: Vec::new(),
            faulty_lines: BTreeSet::new(),
            hopeless: false,
            marks: Vec::new(),
            balanced: false,
        },
    };
    scanner.mended.push(b'\n');
    let mut at = 0;
    while at < text.len() && !scanner.done.hopeless {
        at = scanner.step(at);
    }
    let mut done = scanner.done;
    done.balanced = scanner.braces == 0;
    done.text = String::from_utf8(scanner.mended).expect("only whole characters are replaced, by ASCII");
    done
}

struct Scanner<'t> {
    file: FileId,
    text: &'t str,
    mended: Vec<u8>,
    /// Start of the line at hand.
    line: usize,
    braces: usize,
    brackets: usize,
    /// Nothing has stood on the line yet.
    fresh: bool,
    /// The first byte of the last thing that isn't space.
    last: u8,
    done: Scanned,
}

impl Scanner<'_> {
    /// Deals with what stands at `at` and gives the place behind it.
    fn step(&mut self, at: usize) -> usize {
        let bytes = self.text.as_bytes();
        match bytes[at] {
            b'\n' => {
                self.line = at + 1;
                self.fresh = true;
                at + 1
            }
            b' ' => at + run(&bytes[at..], |byte| byte == b' '),
            b'\t' | b'\r' => self.blank(at, at + 1),
            b'-' if bytes.get(at + 1) == Some(&b'-') => self.comment(at),
            b'"' if self.is_inch_mark(at) => {
                let digits = |byte: &u8| byte.is_ascii_digit() || matches!(byte, b'/' | b'.');
                let start = bytes[..at].iter().rposition(|byte| !digits(byte)).map_or(0, |before| before + 1);
                self.fault(errors::inch_mark(self.span(at, at + 1), &self.text[start..at]));
                self.blank(at, at + 1)
            }
            b'"' => {
                self.see(at, b'"');
                self.quoted(at)
            }
            open @ (b'{' | b'(' | b'[') => {
                self.see(at, open);
                if open == b'{' {
                    self.braces += 1;
                    self.brackets = 0;
                } else {
                    self.brackets += 1;
                }
                if self.braces > DEEPEST || self.brackets > DEEPEST {
                    self.fault(errors::too_deep(self.span(at, at + 1)));
                    self.done.hopeless = true;
                }
                at + 1
            }
            b'}' => {
                self.see(at, b'}');
                self.braces = self.braces.saturating_sub(1);
                self.brackets = 0;
                at + 1
            }
            close @ (b')' | b']') => {
                self.see(at, close);
                self.brackets = self.brackets.saturating_sub(1);
                at + 1
            }
            byte if byte.is_ascii() && !byte.is_ascii_control() && byte != b'`' => {
                self.see(at, byte);
                let end = at + 1 + run(&bytes[at + 1..], in_word);
                self.last = bytes[end - 1];
                end
            }
            _ => self.strange(at),
        }
    }

    /// Something that isn't space begins at `at`.
    fn see(&mut self, at: usize, byte: u8) {
        let last = std::mem::replace(&mut self.last, byte);
        if std::mem::take(&mut self.fresh) {
            self.done.marks.push(Mark { at, kind: MarkKind::Line(self.line), last });
        }
        match byte {
            b'{' => self.done.marks.push(Mark { at, kind: MarkKind::Open, last }),
            b'}' => self.done.marks.push(Mark { at, kind: MarkKind::Close, last }),
            _ => {}
        }
    }

    fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.file, start, end)
    }

    fn fault(&mut self, fault: Diagnostic) {
        self.done.faulty_lines.insert(self.line);
        if self.done.faults.len() <= super::MOST_FAULTS {
            self.done.faults.push(fault);
        }
    }

    /// Whether a quote stands right behind a digit, and right before white space or what ends a clause: no text begins so.
    fn is_inch_mark(&self, at: usize) -> bool {
        let bytes = self.text.as_bytes();
        let digit = at.checked_sub(1).is_some_and(|before| bytes[before].is_ascii_digit());
        digit
            && bytes
                .get(at + 1)
                .is_none_or(|next| matches!(next, b' ' | b'\t' | b'\r' | b'\n' | b'}' | b';' | b','))
    }

    fn blank(&mut self, start: usize, end: usize) -> usize {
        self.mended[start..end].fill(b' ');
        end
    }

    /// The end of the line that `at` stands in, before its line end.
    fn line_end(&self, at: usize) -> usize {
        self.text[at..].find('\n').map_or(self.text.len(), |length| at + length)
    }

    fn comment(&mut self, at: usize) -> usize {
        let end = self.line_end(at);
        let comment = self.text[at..end].trim_end();
        self.done.comments.push(Spanned::new(comment.to_owned(), self.span(at, at + comment.len())));
        self.blank(at, end)
    }

    fn quoted(&mut self, start: usize) -> usize {
        let bytes = self.text.as_bytes();
        let mut at = start + 1;
        while let Some(byte) = bytes.get(at) {
            match byte {
                b'"' => return at + 1,
                b'\n' => break,
                b'\\' if matches!(bytes.get(at + 1), Some(b'"' | b'\\')) => at += 2,
                b'\\' => {
                    self.mended[at] = b'/';
                    self.fault(errors::bad_escape(self.span(at, at + 1)));
                    at += 1;
                }
                _ => at += 1,
            }
        }
        self.unclosed(start)
    }

    /// Closes a text where its line ends, or before the brace that ends its line.
    fn unclosed(&mut self, start: usize) -> usize {
        let line_end = self.line_end(start);
        let written = self.text[start..line_end].trim_end();
        let before_brace =
            written.strip_suffix(['{', '}', ';']).filter(|rest| rest.ends_with(' ') && rest.len() > 2);
        let words = before_brace.unwrap_or(written).trim_end();
        self.fault(errors::unclosed_text(self.span(start, start + words.len())));
        let close = start + if before_brace.is_some() { words.len() } else { written.len() };
        if close < line_end || !self.text[line_end..].starts_with('\n') {
            self.mended[close] = b'"';
            if before_brace.is_some() { close + 1 } else { line_end }
        } else {
            self.mended[line_end] = b'"';
            self.line = line_end + 1;
            line_end + 1
        }
    }

    /// What no keyboard for procedures has.
    fn strange(&mut self, at: usize) -> usize {
        let letter = self.text[at..].chars().next().unwrap_or_default();
        let end = at + letter.len_utf8();
        if letter == '\u{a0}' || (letter == '\u{feff}' && at == 0) {
            return self.blank(at, end);
        }
        if let Some(close) = closing_quote(letter) {
            let rest = &self.text[end..self.line_end(at)];
            if let Some((length, closer)) = rest.char_indices().find(|(_, c)| close.contains(c)) {
                let closed = end + length;
                let behind = closed + closer.len_utf8();
                self.fault(errors::wrong_quotes(self.span(at, behind), &self.text[end..closed]));
                self.blank(at, end);
                self.mended[end - 1] = b'"';
                self.see(end - 1, b'"');
                self.blank(closed, behind);
                self.mended[closed] = b'"';
                for (index, _) in rest[..length].char_indices().filter(|(_, c)| *c == '\\') {
                    self.mended[end + index] = b'/';
                }
                return behind;
            }
        }
        let run = &self.text[at..];
        let same = run.chars().take_while(|c| !c.is_ascii() || (c.is_ascii_control() && *c != '\n'));
        let end = at + same.map(char::len_utf8).sum::<usize>().max(letter.len_utf8());
        self.fault(errors::bad_character(self.span(at, at + letter.len_utf8()), letter));
        self.blank(at, end)
    }
}

/// How many bytes at the start of some are of a kind.
fn run(bytes: &[u8], of: fn(u8) -> bool) -> usize {
    bytes.iter().position(|byte| !of(*byte)).unwrap_or(bytes.len())
}

/// What goes on from a word or a number, and begins nothing else.
fn in_word(byte: u8) -> bool {
    byte.is_ascii_alphanumeric() || byte == b'_'
}

/// The marks that close what a typographic quote opened.
fn closing_quote(open: char) -> Option<&'static [char]> {
    match open {
        '“' | '”' | '„' => Some(&['“', '”', '"']),
        '‘' | '’' => Some(&['’']),
        '«' => Some(&['»']),
        '»' => Some(&['«']),
        _ => None,
    }
}
