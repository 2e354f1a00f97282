//! A text to the same text spoilt: letters, words, lines and declarations taken out, doubled, moved, or put in place of
//! others of their kind.

use crate::chance::Chance;

const NUMBERS: &[&str] = &[
    "0",
    "1",
    "2",
    "3",
    "-1",
    "-0",
    "0.0",
    "0.1",
    "1e308",
    "1e-320",
    "1e309",
    "NaN",
    "inf",
    "4294967295",
    "4294967296",
    "4000000000",
    "18446744073709551616",
    "9223372036854775807",
    "65535",
    "65536",
    "1000000",
    "0.000000000000001",
    "7/16",
    "1/0",
    "0/0",
    "1 1/2",
    "1,5",
    "3 .. 1",
    "1 .. 1000000000",
    "0 .. 0",
    "..",
    "999999999999999",
    "4503599627370497.5",
    "123456789.123456789",
    "359 deg",
    "99999999999999999999999999999999",
    "1000",
    "5000",
    "+5",
    "٣",
    "²",
    "½",
    "−5",
    "10*4",
];
const TEXTS: &[&str] = &[
    "\u{1b}[31mred",
    "\u{202e}abc",
    "\u{200b}",
    "e\u{301}\u{301}",
    "مرحبا",
    "\u{0}",
    "a\rb",
    "()\\\\",
    "\\\"",
    "😀",
    "",
    " ",
    "漢字",
    "\u{feff}",
    "\u{ad}",
    "\u{2028}",
    "\t",
    "%s%n",
    "\u{fffd}",
    "ﬁ",
    "\u{7f}",
    "\u{85}",
    "Größe 5°",
    "José",
    "čšž ő ı ğ",
    "=1+1",
    "|",
    "a: b",
    "# no",
    "- x",
];
const RAW: &[&str] = &[
    "\u{feff}", "\u{0}", "\r", "\r\n", "\t", "\u{a0}", "\u{2028}", "\u{200b}", "ｆamily", "раrt", "--", "{",
    "}", "(", ")", "[", "]", "\"", "“", "”", "‘", "«", ";", ",", ":", "\\", "..", "_", "é", "°", "&a", "*a",
    "!!", "<<", "? ", "---\n", "...\n", "|\n", ">-\n", "~", "'",
];
const UNITS: &[&str] = &[
    "mm", "in", "N.m", "lbf.ft", "deg", "L", "ml", "kg", "g", "min", "s", "h", "d", "bar", "degC", "kPa",
    "um", "m", "cm", "lbf.in", "psi", "x", "%", "EUR", "N", "kN", "thou", "MPa", "turn", "N/mm",
];

/// What a word of a text is, by its look alone.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Number,
    Unit,
    Text,
    Word,
    Sign,
}

/// The words of a text with their place.
fn words(text: &str) -> Vec<(Kind, usize, usize)> {
    let letters: Vec<(usize, char)> = text.char_indices().collect();
    let end_of = |index: usize| letters.get(index).map_or(text.len(), |(at, _)| *at);
    let mut words = Vec::new();
    let mut index = 0;
    while index < letters.len() {
        let (at, letter) = letters[index];
        let mut next = index + 1;
        let mut run = |test: &dyn Fn(char) -> bool| {
            while next < letters.len() && test(letters[next].1) {
                next += 1;
            }
        };
        let kind = if letter == '"' {
            run(&|c| c != '"' && c != '\n');
            next = (next + 1).min(letters.len());
            Kind::Text
        } else if letter.is_ascii_digit() {
            run(&|c| c.is_ascii_digit() || c == '.' || c == '/');
            Kind::Number
        } else if letter.is_alphabetic() || letter == '_' {
            run(&|c| c.is_alphanumeric() || c == '_' || c == '.');
            if UNITS.contains(&&text[at..end_of(next)]) { Kind::Unit } else { Kind::Word }
        } else if letter.is_whitespace() {
            index += 1;
            continue;
        } else {
            Kind::Sign
        };
        words.push((kind, at, end_of(next)));
        index = next;
    }
    words
}

/// Stretches of lines that begin at the margin: declarations, or keys of a record at the top.
fn items(text: &str) -> Vec<&str> {
    let mut starts = vec![0];
    for (at, _) in text.match_indices('\n') {
        let next = text[at + 1..].chars().next();
        if next.is_some_and(|letter| letter.is_ascii_lowercase()) {
            starts.push(at + 1);
        }
    }
    starts.push(text.len());
    starts.windows(2).map(|pair| &text[pair[0]..pair[1]]).collect()
}

/// One slip anywhere; `other` is another text to take words from.
pub fn anywhere(text: &str, other: &str, chance: &mut Chance) -> String {
    let place = |at: usize| (0..=at.min(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0);
    match chance.below(8) {
        0 => {
            let from = place(chance.below(text.len() + 1));
            let to = place(from + chance.below(30)).max(from);
            format!("{}{}", &text[..from], &text[to..])
        }
        1 => {
            let at = place(chance.below(text.len() + 1));
            format!("{}{}{}", &text[..at], chance.pick(RAW), &text[at..])
        }
        2 => {
            let lines: Vec<&str> = text.lines().collect();
            let gone = chance.below(lines.len());
            let rest: Vec<&str> =
                lines.iter().enumerate().filter(|(index, _)| *index != gone).map(|(_, line)| *line).collect();
            rest.join("\n") + "\n"
        }
        3 => {
            let mut lines: Vec<&str> = text.lines().collect();
            let (from, to) = (chance.below(lines.len()), chance.below(lines.len()));
            if !lines.is_empty() {
                let line = lines[from];
                lines.insert(to, line);
            }
            lines.join("\n") + "\n"
        }
        4 => {
            let at = place(chance.below(text.len() + 1));
            let lines: Vec<&str> = other.lines().collect();
            let line = if lines.is_empty() { "" } else { lines[chance.below(lines.len())] };
            format!("{}{line}{}", &text[..at], &text[at..])
        }
        5 => text[..place(chance.below(text.len() + 1))].to_owned(),
        6 => text.replace('\n', "\r\n"),
        _ => alike(text, other, chance),
    }
}

/// One slip that keeps to the grammar for the most part: a word in place of another of its kind, or declarations
/// taken out, doubled or moved.
pub fn alike(text: &str, other: &str, chance: &mut Chance) -> String {
    if chance.once_in(4) {
        let mut all = items(text);
        let at = chance.below(all.len());
        let moved = all[at];
        match chance.below(4) {
            0 => drop(all.remove(at)),
            1 => all.insert(chance.below(all.len() + 1), moved),
            2 => {
                all.remove(at);
                all.insert(chance.below(all.len() + 1), moved);
            }
            _ => {
                let foreign = items(other);
                all[at] = foreign[chance.below(foreign.len())];
            }
        }
        return all.concat();
    }
    let here = words(text);
    if here.is_empty() {
        return text.to_owned();
    }
    let (kind, from, to) = here[chance.below(here.len())];
    let theirs = if chance.once_in(4) { other } else { text };
    let same: Vec<&str> = words(theirs)
        .into_iter()
        .filter(|(of, ..)| *of == kind)
        .map(|(_, from, to)| &theirs[from..to])
        .collect();
    let taken = if same.is_empty() { "x" } else { same[chance.below(same.len())] };
    let instead = match kind {
        Kind::Number if chance.once_in(2) => (*chance.pick(NUMBERS)).to_owned(),
        Kind::Unit if chance.once_in(2) => (*chance.pick(UNITS)).to_owned(),
        Kind::Text if chance.once_in(2) => format!("\"{}\"", chance.pick(TEXTS)),
        _ if chance.once_in(8) => String::new(),
        _ => taken.to_owned(),
    };
    format!("{}{instead}{}", &text[..from], &text[to..])
}

/// One to six slips.
pub fn spoilt(
    text: &str,
    other: &str,
    chance: &mut Chance,
    slip: fn(&str, &str, &mut Chance) -> String,
) -> String {
    let mut text = text.to_owned();
    for _ in 0..=chance.below(6).min(chance.below(6)) {
        text = slip(&text, other, chance);
    }
    text
}

/// Something typed where a value is wanted.
pub fn typed(chance: &mut Chance) -> String {
    match chance.below(4) {
        0 => (*chance.pick(NUMBERS)).to_owned(),
        1 => format!("{} {}", chance.pick(NUMBERS), chance.pick(UNITS)),
        2 => (*chance.pick(TEXTS)).to_owned(),
        _ => format!("{}.{:02}", chance.below(100), chance.below(100)),
    }
}
