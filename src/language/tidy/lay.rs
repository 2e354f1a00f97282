//! Declarations, clauses and words to lines: what shares a line, where a long one is broken, what stands in columns.

use super::pieces::{Kind, Member};
use super::rows::Row;
use super::spacing::{Break, Word};

/// Columns that a line should keep within.
const WIDTH: usize = 120;
/// Columns by which what stands in braces, and what goes on from a broken line, is set in.
const INDENT: usize = 4;
/// Between two clauses on a line, and before a remark.
const BETWEEN: &str = "  ";

/// The lines of a whole text.
pub(super) fn text(members: &[Member]) -> String {
    let mut page = Page::default();
    page.members(members, 0);
    page.text
}

#[derive(Default)]
struct Page {
    text: String,
}

impl Page {
    fn members(&mut self, members: &[Member], indent: usize) {
        let mut rest = members;
        while let Some(first) = rest.first() {
            self.text.extend(std::iter::repeat_n('\n', first.empty));
            let taken = match &first.kind {
                Kind::Comment(comment) => {
                    self.line(indent, comment, None);
                    1
                }
                Kind::Declaration { .. } => {
                    self.declaration(first, indent);
                    1
                }
                Kind::Clause(_, row) => {
                    let run = run(rest, *row);
                    match row {
                        Row::Table => self.table(&rest[..run], indent),
                        _ => self.shared(&rest[..run], indent),
                    }
                    run
                }
            };
            rest = &rest[taken..];
        }
    }

    fn line(&mut self, indent: usize, words: &str, remark: Option<&str>) {
        self.text.extend(std::iter::repeat_n(' ', indent));
        self.text.push_str(words);
        if let Some(remark) = remark {
            self.text.push_str(BETWEEN);
            self.text.push_str(remark);
        }
        self.text.push('\n');
    }

    fn declaration(&mut self, member: &Member, indent: usize) {
        let Kind::Declaration { head, remark, members, step } = &member.kind else { return };
        let mut head = broken(head, indent);
        let last = head.pop().unwrap_or_default();
        for line in head {
            self.line(indent, &line, None);
        }
        if let Some(inside) = on_one_line(members, *step).filter(|_| remark.is_none()) {
            let whole = format!("{last} {{ {inside}}}");
            if indent + width(&whole) <= WIDTH {
                self.line(indent, &whole, member.remark.as_deref());
                return;
            }
        }
        self.line(indent, &format!("{last} {{"), remark.as_deref());
        self.members(members, indent + INDENT);
        self.line(indent, "}", member.remark.as_deref());
    }

    /// Clauses that tell of the same thing, as many on a line as fit; those that need more than one line alone.
    fn shared(&mut self, members: &[Member], indent: usize) {
        let mut line = String::new();
        for member in members {
            let Kind::Clause(words, _) = &member.kind else { continue };
            let remark = member.remark.as_deref();
            let plain = plain(words);
            let together = indent + width(&line) + BETWEEN.len() + width(&plain);
            if !line.is_empty() && together > WIDTH {
                self.line(indent, &std::mem::take(&mut line), None);
            }
            if !line.is_empty() {
                line.push_str(BETWEEN);
                line.push_str(&plain);
            } else if indent + width(&plain) > WIDTH {
                let mut lines = broken(words, indent);
                let last = lines.pop().unwrap_or_default();
                for line in lines {
                    self.line(indent, &line, None);
                }
                self.line(indent, &last, remark);
                continue;
            } else {
                line = plain;
            }
            if remark.is_some() {
                self.line(indent, &std::mem::take(&mut line), remark);
            }
        }
        if !line.is_empty() {
            self.line(indent, &line, None);
        }
    }

    /// Rows with the same columns below each other; broken like other clauses where a row gets too long for that.
    fn table(&mut self, members: &[Member], indent: usize) {
        let rows: Vec<(&[Word], Option<&str>)> = members
            .iter()
            .filter_map(|member| match &member.kind {
                Kind::Clause(words, _) => Some((words.as_slice(), member.remark.as_deref())),
                _ => None,
            })
            .collect();
        let places = columns(rows.iter().map(|(words, _)| *words));
        for (words, remark) in rows {
            let row = in_columns(words, &places);
            if indent + width(&row) <= WIDTH {
                self.line(indent, &row, remark);
                continue;
            }
            let mut lines = broken(words, indent);
            let last = lines.pop().unwrap_or_default();
            for line in lines {
                self.line(indent, &line, None);
            }
            self.line(indent, &last, remark);
        }
    }
}

/// How many of the clauses at the start belong together: of one row, with no empty line between them, up to a remark.
fn run(members: &[Member], of: Row) -> usize {
    let first_word = |member: &Member| match &member.kind {
        Kind::Clause(words, row) if *row == of => words.first().map(|word| word.text.clone()),
        _ => None,
    };
    let first = members.first().and_then(first_word);
    let mut count = 1;
    while let Some(next) = members.get(count) {
        let belongs = match of {
            Row::Alone => false,
            // Rows of one table begin with the same word.
            Row::Table => first_word(next) == first,
            _ => first_word(next).is_some(),
        };
        if !belongs || next.empty > 0 {
            break;
        }
        count += 1;
    }
    count
}

/// What stands in braces on the line of its head, if nothing in it wants a line of its own. Of a step only what is one
/// act: acts are read down the page.
fn on_one_line(members: &[Member], step: bool) -> Option<String> {
    if step && members.len() > 1 {
        return None;
    }
    let mut line = String::new();
    for member in members {
        let Kind::Clause(words, _) = &member.kind else { return None };
        if member.empty > 0 || member.remark.is_some() {
            return None;
        }
        if !line.is_empty() {
            line.push_str(BETWEEN);
        }
        line.push_str(&plain(words));
    }
    if !line.is_empty() {
        line.push(' ');
    }
    Some(line)
}

/// Words on one line.
pub(super) fn plain(words: &[Word]) -> String {
    let mut line = String::new();
    for word in words {
        if !line.is_empty() {
            line.push_str(gap(word));
        }
        line.push_str(&word.text);
    }
    line
}

/// What stands before a word on a line.
fn gap(word: &Word) -> &'static str {
    match word {
        word if word.joined => "",
        word if word.breaks == Break::Apart => BETWEEN,
        _ => " ",
    }
}

/// Words on as many lines as they need, broken where they may be, best where something new is said; what goes on is set in.
fn broken(words: &[Word], indent: usize) -> Vec<String> {
    // The places of a pattern stand below each other.
    let holes = || chunks(words, Break::List).into_iter().filter(|chunk| chunk[0].hole);
    let widest = holes().map(|chunk| width(&plain(chunk))).max().unwrap_or_default();
    let mut lines = Lines { indent, done: Vec::new(), line: String::new() };
    for part in chunks(words, Break::Part) {
        if lines.fits(part) {
            lines.add(part, 0);
            continue;
        }
        lines.end();
        for chunk in chunks(part, Break::List) {
            if !lines.fits(chunk) {
                lines.end();
            }
            lines.add(chunk, if chunk[0].hole { widest } else { 0 });
        }
    }
    lines.end();
    lines.done
}

/// The lines of one clause.
struct Lines {
    indent: usize,
    done: Vec<String>,
    line: String,
}

impl Lines {
    /// Whether the words still fit on the line.
    fn fits(&self, words: &[Word]) -> bool {
        let set_in = if self.line.is_empty() && !self.done.is_empty() { INDENT } else { 0 };
        self.indent + set_in + width(&self.line) + BETWEEN.len() + width(&plain(words))
            <= WIDTH + BETWEEN.len()
    }

    /// Puts the words on the line, which may so get longer than it should be, and fills them up to a width.
    fn add(&mut self, words: &[Word], filled: usize) {
        if !self.line.is_empty() {
            self.line.push_str(gap(&words[0]));
        } else if !self.done.is_empty() {
            self.line.extend(std::iter::repeat_n(' ', INDENT));
        }
        let text = plain(words);
        self.line.push_str(&text);
        self.line.extend(std::iter::repeat_n(' ', filled.saturating_sub(width(&text))));
    }

    fn end(&mut self) {
        let line = std::mem::take(&mut self.line);
        if !line.is_empty() {
            self.done.push(line.trim_end().to_owned());
        }
    }
}

/// Words in chunks that begin where a line may end, if only in this way.
fn chunks(words: &[Word], least: Break) -> Vec<&[Word]> {
    let mut starts: Vec<usize> =
        (0..words.len()).filter(|at| *at == 0 || words[*at].breaks >= least).collect();
    starts.push(words.len());
    starts.windows(2).map(|ends| &words[ends[0]..ends[1]]).filter(|chunk| !chunk.is_empty()).collect()
}

/// The cells of a row, each with its column.
fn cells(words: &[Word]) -> Vec<(usize, String)> {
    let mut starts: Vec<usize> =
        (0..words.len()).filter(|at| *at == 0 || words[*at].column.is_some()).collect();
    starts.push(words.len());
    let cell = |ends: &[usize]| (words[ends[0]].column.unwrap_or_default(), plain(&words[ends[0]..ends[1]]));
    starts.windows(2).map(cell).collect()
}

/// Where each column of these rows begins.
fn columns<'w>(rows: impl Iterator<Item = &'w [Word]>) -> Vec<(usize, usize)> {
    let rows: Vec<Vec<(usize, String)>> = rows.map(cells).collect();
    let mut known: Vec<usize> = rows.iter().flatten().map(|(column, _)| *column).collect();
    known.sort_unstable();
    known.dedup();
    let mut places: Vec<(usize, usize)> = Vec::new();
    for column in known {
        let mut place = 0;
        for row in &rows {
            let Some(at) = row.iter().position(|(of, _)| *of == column).filter(|at| *at > 0) else {
                continue;
            };
            let (before, text) = &row[at - 1];
            place = place.max(begin(&places, *before) + width(text) + 1);
        }
        places.push((column, place));
    }
    places
}

fn begin(places: &[(usize, usize)], column: usize) -> usize {
    places.iter().find(|(of, _)| *of == column).map_or(0, |(_, place)| *place)
}

fn in_columns(words: &[Word], places: &[(usize, usize)]) -> String {
    let mut line = String::new();
    for (column, text) in cells(words) {
        let place = begin(places, column);
        line.extend(std::iter::repeat_n(' ', place.saturating_sub(width(&line))));
        line.push_str(&text);
    }
    line
}

fn width(text: &str) -> usize {
    text.chars().count()
}
