//! Places of a text to the rows of an excerpt: which lines are shown, which part of a long one, and where in them the
//! underlines lie. It counts in columns of a screen and must not know how a row is drawn.

use super::text::{acts, column, columns};

/// A tab is drawn as so many blanks.
const TAB: usize = 4;

/// One place that is pointed at.
pub(super) struct Place<'t> {
    /// Its line, from 1.
    pub line: usize,
    /// The whole line.
    pub text: &'t str,
    /// First byte in the line, and how many.
    pub at: (usize, usize),
    /// What is to be seen there.
    pub said: String,
}

/// One underline below a row.
pub(super) struct Mark {
    /// First column in the row, from 0.
    pub column: usize,
    /// Columns.
    pub width: usize,
    /// What is to be seen there.
    pub said: String,
    /// Whether it is the place of the fault itself.
    pub first: bool,
}

/// One line of the text, or the part of it that there is room for.
pub(super) struct Row {
    /// Its number, from 1.
    pub line: usize,
    /// What is drawn.
    pub text: String,
    /// The underlines, from left to right.
    pub marks: Vec<Mark>,
    /// First column of the line that is shown.
    from: usize,
}

/// The rows in the order of the text.
pub(super) struct Excerpt {
    /// The rows.
    pub rows: Vec<Row>,
    /// Places for which there was no row left.
    pub left_out: usize,
    room: usize,
}

impl Excerpt {
    /// The rows that show `places`, each at most `room` columns wide, at most `most` of them; the first places go first.
    pub(super) fn of(places: &[Place], room: usize, most: usize) -> Excerpt {
        let mut excerpt = Excerpt { rows: Vec::new(), left_out: 0, room };
        for (index, place) in places.iter().enumerate() {
            let start = columns_before(place.text, place.at.0);
            let end = columns_before(place.text, place.at.0 + place.at.1);
            let width = end.saturating_sub(start).max(1);
            let shows = |row: &Row| {
                row.line == place.line && row.from <= start && start + width.min(room / 2) <= row.from + room
            };
            let row = match excerpt.rows.iter().position(shows) {
                Some(at) => &mut excerpt.rows[at],
                None if excerpt.rows.len() < most => {
                    let from = if start + width <= room { 0 } else { start.saturating_sub(room / 4) };
                    let text = cut(place.text, from, room);
                    excerpt.rows.push(Row { line: place.line, text, marks: Vec::new(), from });
                    excerpt.rows.last_mut().expect("it was just put there")
                }
                None => {
                    excerpt.left_out += 1;
                    continue;
                }
            };
            let column = start - row.from;
            let width = width.min(room.saturating_sub(column)).max(1);
            row.marks.push(Mark { column, width, said: place.said.clone(), first: index == 0 });
        }
        excerpt.rows.sort_by_key(|row| (row.line, row.from));
        for row in &mut excerpt.rows {
            row.marks.sort_by_key(|mark| mark.column);
        }
        excerpt
    }

    /// Adds a line at which nothing is pointed.
    pub(super) fn add(&mut self, line: usize, text: &str) {
        let at = self.rows.partition_point(|row| row.line < line);
        let text = cut(text, 0, self.room);
        self.rows.insert(at, Row { line, text, marks: Vec::new(), from: 0 });
    }
}

/// Columns that the first `bytes` bytes of a line take.
fn columns_before(line: &str, bytes: usize) -> usize {
    line.char_indices().take_while(|(at, _)| *at < bytes).map(|(_, sign)| width(sign)).sum()
}

fn width(sign: char) -> usize {
    if sign == '\t' { TAB } else { column(sign) }
}

/// The columns `from` to `from + room` of a line, with `…` where it goes on.
fn cut(line: &str, from: usize, room: usize) -> String {
    let mut out = String::new();
    let mut at = 0;
    let mut ended = true;
    for sign in line.chars() {
        let width = width(sign);
        if at >= from + room {
            ended = false;
            break;
        }
        if at >= from {
            match sign {
                '\t' => out.push_str(&" ".repeat(TAB)),
                sign if acts(sign) => out.push_str(&" ".repeat(width)),
                sign => out.push(sign),
            }
        }
        at += width;
    }
    if from > 0 {
        let first = out.chars().next().map_or(1, column);
        out = format!("…{}{}", " ".repeat(first.saturating_sub(1)), out.chars().skip(1).collect::<String>());
    }
    if !ended || columns(&out) > room {
        while columns(&out) >= room {
            out.pop();
        }
        out.push('…');
    }
    out.truncate(out.trim_end().len());
    out
}
