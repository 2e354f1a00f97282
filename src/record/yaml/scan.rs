//! The scanner: text to places, by recursive descent over lines and their indentation.
//!
//! It takes one pass and a bounded depth, so a hostile text costs no more than a long one. Where it is unsure
//! it gives a fault rather than a guess; [`super::agree`] catches what it would still misread.

use std::collections::BTreeMap;

use super::{Entry, Fault, Node, Value};
use crate::source::{FileId, Span, Spanned};

/// Deepest nesting that is taken; a record needs about six.
const DEEPEST: usize = 24;

/// The tree of `text`; its root is [`Value::Null`] where there is nothing but comments.
pub(in crate::record) fn scan(file: FileId, text: &str) -> Result<Node, Fault> {
    let (root, twice) = scan_all(file, text)?;
    twice.into_iter().next().map_or(Ok(root), Err)
}

/// The same, where keys stand twice with the first value of each; and a fault for each that stands again.
pub(in crate::record) fn scan_all(file: FileId, text: &str) -> Result<(Node, Vec<Fault>), Fault> {
    let start = if text.starts_with('\u{feff}') { 3 } else { 0 };
    let mut scanner = Scanner { file, text, at: start, line_start: start, depth: 0, twice: Vec::new() };
    scanner.skip_blank()?;
    if scanner.line_begins_with("---") {
        scanner.at += 3;
        scanner.skip_blank()?;
    }
    let root = scanner.block(0)?;
    scanner.skip_blank()?;
    if scanner.at < text.len() {
        let words = if scanner.marker() {
            "a second document begins here: a record is one document"
        } else {
            "this stands further left or right than what it would belong to"
        };
        return Err(scanner.syntax(scanner.at, words));
    }
    Ok((root, scanner.twice))
}

struct Scanner<'a> {
    file: FileId,
    text: &'a str,
    at: usize,
    line_start: usize,
    depth: usize,
    /// Keys that stand again in their mapping.
    twice: Vec<Fault>,
}

impl Scanner<'_> {
    fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.file, start, end)
    }

    /// A fault at `start`, shown up to the end of its line.
    fn syntax(&self, start: usize, words: impl Into<String>) -> Fault {
        let rest = self.text[start..].lines().next().unwrap_or_default().trim_end();
        Fault::Syntax(self.span(start, start + rest.len()), words.into())
    }

    fn peek(&self) -> Option<char> {
        self.text[self.at..].chars().next()
    }

    fn rest(&self) -> &str {
        &self.text[self.at..]
    }

    fn column(&self) -> usize {
        self.at - self.line_start
    }

    fn line_begins_with(&self, mark: &str) -> bool {
        self.column() == 0
            && self
                .rest()
                .strip_prefix(mark)
                .is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '\n', '\r', '\t']))
    }

    /// Whether a document marker or directive stands here.
    fn marker(&self) -> bool {
        self.line_begins_with("---")
            || self.line_begins_with("...")
            || (self.column() == 0 && self.peek() == Some('%'))
    }

    /// Goes on over spaces within the line, and a comment that follows them.
    fn skip_line_rest(&mut self) {
        let before = self.at;
        while matches!(self.peek(), Some(' ' | '\t' | '\r')) {
            self.at += 1;
        }
        let free = self.at > before || self.column() == 0;
        if free && self.peek() == Some('#') {
            self.at += self.rest().find('\n').unwrap_or(self.rest().len());
        }
    }

    /// Goes on to the next thing that means something, over line ends and comments.
    fn skip_blank(&mut self) -> Result<(), Fault> {
        loop {
            let begun = self.at;
            self.skip_line_rest();
            if self.peek() == Some('\n') {
                self.at += 1;
                self.line_start = self.at;
            } else {
                let indentation = &self.text[self.line_start..self.at];
                if begun == self.line_start && self.at < self.text.len() && indentation.contains('\t') {
                    let tab = self.line_start + indentation.find('\t').unwrap_or_default();
                    return Err(Fault::Syntax(
                        self.span(tab, tab + 1),
                        "a tab stands in the indentation: use spaces".to_owned(),
                    ));
                }
                return Ok(());
            }
        }
    }

    fn at_line_end(&self) -> bool {
        matches!(self.peek(), None | Some('\n'))
    }

    fn deeper<T>(&mut self, inner: impl FnOnce(&mut Self) -> Result<T, Fault>) -> Result<T, Fault> {
        if self.depth == DEEPEST {
            return Err(Fault::Deep(self.span(self.at, (self.at + 1).min(self.text.len()))));
        }
        self.depth += 1;
        let result = inner(self);
        self.depth -= 1;
        result
    }

    fn dash(&self) -> bool {
        self.rest()
            .strip_prefix('-')
            .is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '\n', '\r', '\t']))
    }

    fn colon(&self) -> bool {
        self.rest()
            .strip_prefix(':')
            .is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '\n', '\r', '\t']))
    }

    /// Whatever stands at or right of column `least`; nothing if the text goes on left of it.
    fn block(&mut self, least: usize) -> Result<Node, Fault> {
        self.skip_blank()?;
        if self.at >= self.text.len() || self.column() < least || self.marker() {
            return Ok(Node { span: self.span(self.at, self.at), value: Value::Null });
        }
        let column = self.column();
        if self.dash() {
            self.deeper(|scanner| scanner.list(column))
        } else if self.key_ahead()? {
            self.deeper(|scanner| scanner.mapping(column))
        } else {
            self.inline(least.checked_sub(1))
        }
    }

    /// Whether a key and its colon stand here; nothing is consumed.
    fn key_ahead(&mut self) -> Result<bool, Fault> {
        if matches!(self.peek(), Some('{' | '[' | '|' | '>')) {
            return Ok(false);
        }
        let (at, line_start) = (self.at, self.line_start);
        let found = match self.peek() {
            Some('"' | '\'') => {
                self.quoted().is_ok() && self.line_start == line_start && {
                    while self.peek() == Some(' ') {
                        self.at += 1;
                    }
                    self.colon()
                }
            }
            _ => {
                self.plain_on_line(false);
                self.colon()
            }
        };
        (self.at, self.line_start) = (at, line_start);
        Ok(found)
    }

    /// A key up to and over its colon.
    fn key(&mut self) -> Result<Spanned<String>, Fault> {
        self.refuse_anchor()?;
        let start = self.at;
        let (text, end) = match self.peek() {
            Some('"' | '\'') => (self.quoted()?, self.at),
            _ => {
                let text = self.plain_on_line(false).to_owned();
                let end = start + text.len();
                (text, end)
            }
        };
        while self.peek() == Some(' ') {
            self.at += 1;
        }
        self.at += 1;
        Ok(Spanned::new(text, self.span(start, end)))
    }

    fn mapping(&mut self, column: usize) -> Result<Node, Fault> {
        let start = self.at;
        let mut entries = Entries::default();
        let end = loop {
            if self.peek() == Some('?') && self.rest()[1..].starts_with([' ', '\n']) {
                return Err(self.syntax(self.at, "a key is a name and a colon"));
            }
            if !self.key_ahead()? {
                self.refuse_anchor()?;
                return Err(self.syntax(self.at, "a name and a colon were expected here"));
            }
            let key = self.key()?;
            let value = self.value_of_key(&key, column)?;
            let end = value.span.end();
            self.twice.extend(entries.add(Entry { key, value }));
            self.skip_blank()?;
            if self.at >= self.text.len() || self.column() < column || self.marker() {
                break end;
            }
            if self.column() > column {
                return Err(self.syntax(self.at, "this stands further right than the keys before it"));
            }
            if self.dash() {
                return Err(self.syntax(self.at, "a list item stands among keys"));
            }
        };
        Ok(Node { span: self.span(start, end), value: Value::Mapping(entries.list) })
    }

    /// The value after a key and its colon, in a mapping whose keys stand at `column`.
    fn value_of_key(&mut self, key: &Spanned<String>, column: usize) -> Result<Node, Fault> {
        self.skip_line_rest();
        if !self.at_line_end() {
            return self.inline(Some(column));
        }
        self.skip_blank()?;
        let same_column_list = self.at < self.text.len() && self.column() == column && self.dash();
        let value = if same_column_list {
            self.deeper(|scanner| scanner.list(column))?
        } else {
            self.block(column + 1)?
        };
        Ok(match value.value {
            Value::Null if value.span.start() == value.span.end() => {
                Node { span: key.span, value: Value::Null }
            }
            _ => value,
        })
    }

    fn list(&mut self, column: usize) -> Result<Node, Fault> {
        let start = self.at;
        let mut end = self.at;
        let mut items = Vec::new();
        while self.at < self.text.len() && self.column() == column && self.dash() && !self.marker() {
            let dash = self.span(self.at, self.at + 1);
            self.at += 1;
            self.skip_line_rest();
            let item = if self.at_line_end() {
                self.block(column + 1)?
            } else if self.dash() {
                let inner = self.column();
                self.deeper(|scanner| scanner.list(inner))?
            } else if self.key_ahead()? {
                let inner = self.column();
                self.deeper(|scanner| scanner.mapping(inner))?
            } else {
                self.inline(Some(column))?
            };
            let item = match item.value {
                Value::Null if item.span.start() == item.span.end() => {
                    Node { span: dash, value: Value::Null }
                }
                _ => item,
            };
            end = item.span.end();
            items.push(item);
            self.skip_blank()?;
        }
        if self.at < self.text.len() && self.column() > column {
            return Err(self.syntax(self.at, "this stands further right than the list before it"));
        }
        Ok(Node { span: self.span(start, end), value: Value::List(items) })
    }

    fn refuse_anchor(&self) -> Result<(), Fault> {
        match self.peek() {
            Some('&' | '*' | '!') => {
                let length = self.rest().find(char::is_whitespace).unwrap_or(self.rest().len());
                Err(Fault::Anchor(self.span(self.at, self.at + length)))
            }
            Some('@' | '`' | '%') => {
                Err(self.syntax(self.at, "put text that begins with this sign between quotes"))
            }
            _ => Ok(()),
        }
    }

    /// A value that begins on this line, below a parent whose column is given (none at the root).
    fn inline(&mut self, parent: Option<usize>) -> Result<Node, Fault> {
        self.refuse_anchor()?;
        let start = self.at;
        let node = match self.peek() {
            Some('{' | '[') => self.flow()?,
            Some('"' | '\'') => {
                let text = self.quoted()?;
                Node { span: self.span(start, self.at), value: Value::Scalar { text, plain: false } }
            }
            Some('|' | '>') => return self.block_scalar(parent),
            _ => self.plain_lines(parent),
        };
        if let (Value::Scalar { plain: true, .. }, Some(':')) = (&node.value, self.peek()) {
            return Err(self.colon_inside(start, &['\n']));
        }
        self.skip_line_rest();
        if !self.at_line_end() {
            return Err(self.syntax(self.at, "this does not belong to the value before it"));
        }
        Ok(node)
    }

    /// A plain scalar up to the end of what may belong to it on this line.
    fn plain_on_line(&mut self, in_flow: bool) -> &str {
        let start = self.at;
        let bytes = self.text.as_bytes();
        while let Some(byte) = bytes.get(self.at) {
            let after = bytes.get(self.at + 1);
            let ends = match byte {
                b'\n' => true,
                b':' => match after {
                    None | Some(b' ' | b'\n' | b'\r' | b'\t') => true,
                    Some(b',' | b'[' | b']' | b'{' | b'}') => in_flow,
                    Some(_) => false,
                },
                b'#' => self.at > start && bytes[self.at - 1].is_ascii_whitespace(),
                b',' | b'[' | b']' | b'{' | b'}' => in_flow,
                _ => false,
            };
            if ends {
                break;
            }
            self.at += 1;
        }
        let text = self.text[start..self.at].trim_end();
        self.at = start + text.len();
        text
    }

    /// A plain scalar with the lines that go on with it: those further right than `parent`.
    fn plain_lines(&mut self, parent: Option<usize>) -> Node {
        let start = self.at;
        let mut text = self.plain_on_line(false).to_owned();
        let mut end = self.at;
        loop {
            let (at, line_start) = (self.at, self.line_start);
            self.skip_line_rest();
            let commented = self.text[at..self.at].contains('#');
            let mut empty_lines = 0;
            while self.peek() == Some('\n') {
                self.at += 1;
                self.line_start = self.at;
                empty_lines += 1;
                while matches!(self.peek(), Some(' ' | '\r')) {
                    self.at += 1;
                }
            }
            let goes_on = !commented
                && empty_lines > 0
                && self.at < self.text.len()
                && parent.is_none_or(|parent| self.column() > parent)
                && self.peek() != Some('#')
                && !self.marker()
                && !(parent.is_none() && self.column() == 0 && self.dash());
            if !goes_on || matches!(self.key_ahead(), Ok(true)) {
                (self.at, self.line_start) = (at, line_start);
                break;
            }
            let more = self.plain_on_line(false).to_owned();
            if more.is_empty() {
                (self.at, self.line_start) = (at, line_start);
                break;
            }
            fold(&mut text, empty_lines, &more);
            end = self.at;
        }
        let value = match text.as_str() {
            "" | "~" | "null" | "Null" | "NULL" => Value::Null,
            _ => Value::Scalar { text, plain: true },
        };
        Node { span: self.span(start, end), value }
    }

    /// Text between quotes, over lines if need be.
    fn quoted(&mut self) -> Result<String, Fault> {
        let start = self.at;
        let quote = self.peek().unwrap_or('"');
        self.at += 1;
        let mut text = String::new();
        while let Some(letter) = self.peek() {
            self.at += letter.len_utf8();
            match letter {
                '\'' if quote == '\'' && self.peek() == Some('\'') => {
                    self.at += 1;
                    text.push('\'');
                }
                _ if letter == quote => return Ok(text),
                '\\' if quote == '"' => self.escape(&mut text)?,
                '\n' => self.fold_quoted(&mut text),
                _ => text.push(letter),
            }
        }
        Err(self.syntax(start, "this quotation mark is never closed"))
    }

    fn fold_quoted(&mut self, text: &mut String) {
        text.truncate(text.trim_end_matches([' ', '\t', '\r']).len());
        let mut lines = 1;
        loop {
            self.line_start = self.at;
            while matches!(self.peek(), Some(' ' | '\t' | '\r')) {
                self.at += 1;
            }
            if self.peek() != Some('\n') {
                break;
            }
            self.at += 1;
            lines += 1;
        }
        fold(text, lines, "");
    }

    fn escape(&mut self, text: &mut String) -> Result<(), Fault> {
        let start = self.at - 1;
        let letter = self.peek().unwrap_or('\n');
        self.at += letter.len_utf8();
        let plain = match letter {
            'n' => Some('\n'),
            't' => Some('\t'),
            'r' => Some('\r'),
            '0' => Some('\0'),
            '"' | '\\' | '/' | ' ' => Some(letter),
            _ => None,
        };
        if let Some(plain) = plain {
            text.push(plain);
            return Ok(());
        }
        let digits = match letter {
            'x' => 2,
            'u' => 4,
            'U' => 8,
            _ => return Err(self.syntax(start, "write a backslash as `\\\\`")),
        };
        let code = self.text.get(self.at..self.at + digits).and_then(|hex| u32::from_str_radix(hex, 16).ok());
        let Some(found) = code.and_then(char::from_u32) else {
            return Err(self.syntax(start, "this is not the number of a letter"));
        };
        self.at += digits;
        text.push(found);
        Ok(())
    }

    /// `|` or `>` and the lines below it.
    fn block_scalar(&mut self, parent: Option<usize>) -> Result<Node, Fault> {
        let start = self.at;
        let folded = self.peek() == Some('>');
        self.at += 1;
        let (mut chomp, mut written_indent) = (None, None);
        while let Some(sign @ ('-' | '+' | '1'..='9')) = self.peek() {
            self.at += 1;
            match sign.to_digit(10) {
                Some(digit) => written_indent = Some(digit as usize),
                None => chomp = Some(sign),
            }
        }
        self.skip_line_rest();
        if !self.at_line_end() {
            return Err(self.syntax(self.at, "the text begins on the line below"));
        }
        let least = parent.map_or(0, |parent| parent + 1);
        let written_indent = written_indent.map(|columns| parent.unwrap_or(0) + columns);
        let mut indentation = written_indent;
        let mut lines: Vec<&str> = Vec::new();
        let mut end = self.at;
        while self.peek() == Some('\n') {
            let line_start = self.at + 1;
            let line = self.text[line_start..].split('\n').next().unwrap_or_default();
            let line = line.trim_end_matches('\r');
            let indent = line.len() - line.trim_start_matches(' ').len();
            let blank = indent == line.len();
            if line_start >= self.text.len() || (!blank && indent < indentation.unwrap_or(least)) {
                break;
            }
            // The first line with words sets the indentation, not an empty one above it.
            if !blank && indentation.is_none() {
                indentation = Some(indent);
            }
            lines.push(line.get(indentation.unwrap_or(line.len())..).unwrap_or_default());
            self.at = line_start + line.len();
            self.at += usize::from(self.rest().starts_with('\r'));
            self.line_start = line_start;
            if !blank {
                end = line_start + line.len();
            }
        }
        let mut text =
            if folded { fold_block(&lines) } else { lines.iter().map(|line| format!("{line}\n")).collect() };
        match chomp {
            Some('+') => {}
            sign => {
                text.truncate(text.trim_end_matches('\n').len());
                if sign.is_none() && !text.is_empty() {
                    text.push('\n');
                }
            }
        }
        Ok(Node { span: self.span(start, end), value: Value::Scalar { text, plain: false } })
    }

    /// `{...}` or `[...]`.
    fn flow(&mut self) -> Result<Node, Fault> {
        self.deeper(
            |scanner| {
                if scanner.peek() == Some('{') { scanner.flow_mapping() } else { scanner.flow_list() }
            },
        )
    }

    fn flow_list(&mut self) -> Result<Node, Fault> {
        let start = self.at;
        self.at += 1;
        let mut items = Vec::new();
        loop {
            self.skip_blank_in_flow(start)?;
            if self.peek() == Some(']') {
                self.at += 1;
                return Ok(Node { span: self.span(start, self.at), value: Value::List(items) });
            }
            items.push(self.flow_value()?);
            self.flow_comma(start, ']')?;
        }
    }

    fn flow_mapping(&mut self) -> Result<Node, Fault> {
        let start = self.at;
        self.at += 1;
        let mut entries = Entries::default();
        loop {
            self.skip_blank_in_flow(start)?;
            if self.peek() == Some('}') {
                self.at += 1;
                return Ok(Node { span: self.span(start, self.at), value: Value::Mapping(entries.list) });
            }
            self.refuse_anchor()?;
            let key_start = self.at;
            let text = match self.peek() {
                Some('"' | '\'') => self.quoted()?,
                _ => self.plain_on_line(true).to_owned(),
            };
            if text.is_empty() {
                return Err(self.syntax(key_start, "a name and a colon were expected here"));
            }
            let key = Spanned::new(text, self.span(key_start, self.at));
            self.skip_blank_in_flow(start)?;
            let mut value = Node { span: key.span, value: Value::Null };
            if self.peek() == Some(':') {
                self.at += 1;
                self.skip_blank_in_flow(start)?;
                if !matches!(self.peek(), Some(',' | '}')) {
                    value = self.flow_value()?;
                }
            }
            if let (Value::Null, Some(before)) = (&value.value, entries.list.last()) {
                self.decimal_comma(&before.value, &key)?;
            }
            self.twice.extend(entries.add(Entry { key, value }));
            self.flow_comma(start, '}')?;
        }
    }

    /// Refuses a key without a value that goes on, behind a comma alone, from the digits of the value before it.
    fn decimal_comma(&self, before: &Node, key: &Spanned<String>) -> Result<(), Fault> {
        let Value::Scalar { text, plain: true } = &before.value else { return Ok(()) };
        let whole = text.strip_prefix('-').unwrap_or(text);
        let digits = !whole.is_empty() && whole.bytes().all(|byte| byte.is_ascii_digit());
        let touching = before.span.end() + 1 == key.span.start();
        if digits && touching && key.value.starts_with(|letter: char| letter.is_ascii_digit()) {
            let number = format!("{text},{}", key.value);
            return Err(Fault::Comma(Spanned::new(number, before.span.to(key.span))));
        }
        Ok(())
    }

    fn skip_blank_in_flow(&mut self, start: usize) -> Result<(), Fault> {
        self.skip_blank()?;
        if self.at >= self.text.len() {
            Err(self.syntax(start, "this bracket is never closed"))
        } else {
            Ok(())
        }
    }

    /// A value that goes on behind a colon, up to one of these.
    fn colon_inside(&self, start: usize, ends: &[char]) -> Fault {
        let rest = &self.text[start..];
        let line = &rest[..rest.find(ends).unwrap_or(rest.len())];
        let value = line.split(" #").next().unwrap_or_default().trim_end();
        Fault::Colon(Spanned::new(value.to_owned(), self.span(start, start + value.len())))
    }

    fn flow_comma(&mut self, start: usize, close: char) -> Result<(), Fault> {
        self.skip_blank_in_flow(start)?;
        match self.peek() {
            Some(',') => {
                self.at += 1;
                Ok(())
            }
            Some(sign) if sign == close => Ok(()),
            _ => Err(self.syntax(self.at, format!("a comma or `{close}` was expected here"))),
        }
    }

    fn flow_value(&mut self) -> Result<Node, Fault> {
        self.refuse_anchor()?;
        let start = self.at;
        match self.peek() {
            Some('{' | '[') => self.flow(),
            Some('"' | '\'') => {
                let text = self.quoted()?;
                Ok(Node { span: self.span(start, self.at), value: Value::Scalar { text, plain: false } })
            }
            _ => {
                let text = self.plain_on_line(true).to_owned();
                if self.peek() == Some(':') && !text.is_empty() {
                    return Err(self.colon_inside(start, &['\n', ',', '}', ']']));
                }
                let value = match text.as_str() {
                    "" => return Err(self.syntax(start, "a value was expected here")),
                    "~" | "null" | "Null" | "NULL" => Value::Null,
                    _ => Value::Scalar { text, plain: true },
                };
                Ok(Node { span: self.span(start, self.at), value })
            }
        }
    }
}

/// Entries of one mapping, each key once.
#[derive(Default)]
struct Entries {
    list: Vec<Entry>,
    seen: BTreeMap<String, Span>,
}

impl Entries {
    /// Adds an entry, or gives the fault of one whose key is there already.
    fn add(&mut self, entry: Entry) -> Option<Fault> {
        if let Some(before) = self.seen.get(&entry.key.value) {
            return Some(Fault::Duplicate(entry.key, *before));
        }
        self.seen.insert(entry.key.value.clone(), entry.key.span);
        self.list.push(entry);
        None
    }
}

/// Joins a line to the text before it: one line end becomes a space, further ones stay.
fn fold(text: &mut String, line_ends: usize, more: &str) {
    if line_ends == 1 {
        text.push(' ');
    } else {
        text.extend(std::iter::repeat_n('\n', line_ends - 1));
    }
    text.push_str(more);
}

/// Folds the lines of a `>` block: neighbouring lines are joined, unless one is indented or empty.
fn fold_block(lines: &[&str]) -> String {
    let mut text = String::new();
    let indented = |line: &str| line.starts_with([' ', '\t']);
    let mut pending = 0;
    let mut last: Option<&str> = None;
    for line in lines {
        if line.is_empty() {
            pending += 1;
            continue;
        }
        match last {
            None => text.extend(std::iter::repeat_n('\n', pending)),
            Some(before) if indented(before) || indented(line) => {
                text.extend(std::iter::repeat_n('\n', pending + 1));
            }
            Some(_) if pending == 0 => text.push(' '),
            Some(_) => text.extend(std::iter::repeat_n('\n', pending)),
        }
        pending = 0;
        text.push_str(line);
        last = Some(line);
    }
    text.extend(std::iter::repeat_n('\n', pending + 1));
    text
}
