//! The word at a place, for complaints: what kind of thing a user sees there, and how far it reaches.

/// What stands at a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Nothing more.
    End,
    /// A run of letters, digits, `_` and `-` that begins with a letter.
    Word,
    /// A run that begins with a digit, or with a sign or point before one.
    Number,
    /// A text in quotes.
    Text,
    /// Any other mark.
    Mark,
}

/// A word, number, text or mark with its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Lexeme<'t> {
    /// What it is.
    pub kind: Kind,
    /// Its first byte.
    pub start: usize,
    /// One past its last.
    pub end: usize,
    /// Its letters.
    pub text: &'t str,
}

/// What stands at or behind `from`, spaces passed over.
pub(super) fn lexeme(text: &str, from: usize) -> Lexeme<'_> {
    let start = skip_space(text, from);
    let rest = &text[start..];
    let mut letters = rest.chars();
    let first = letters.next();
    let second = letters.next();
    let digit = |letter: Option<char>| letter.is_some_and(|letter| letter.is_ascii_digit());
    let (kind, length) = match first {
        None => (Kind::End, 0),
        Some('"') => (Kind::Text, quoted(rest)),
        Some(letter) if letter.is_ascii_alphabetic() || letter == '_' => {
            let part = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
            (Kind::Word, rest.find(|c| !part(c)).unwrap_or(rest.len()))
        }
        Some(letter) if letter.is_ascii_digit() || ((letter == '-' || letter == '.') && digit(second)) => {
            let part = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.' | '/' | '%');
            let run = rest.find(|c| !part(c)).unwrap_or(rest.len());
            // Two points part the limits of a range.
            (Kind::Number, rest[..run].find("..").filter(|length| *length > 0).unwrap_or(run))
        }
        Some('.') if second == Some('.') => (Kind::Mark, 2),
        Some(letter) => (Kind::Mark, letter.len_utf8()),
    };
    Lexeme { kind, start, end: start + length, text: &rest[..length] }
}

/// What stands behind `from`, one after the other.
pub(super) fn lexemes(text: &str, from: usize) -> impl Iterator<Item = Lexeme<'_>> {
    let mut at = from;
    std::iter::from_fn(move || {
        let found = lexeme(text, at);
        at = found.end;
        (found.kind != Kind::End).then_some(found)
    })
}

/// The run of letters, digits, points, strokes and signs at `from`: a unit as people write it.
pub(super) fn unit_run(text: &str, from: usize) -> &str {
    let rest = &text[from..];
    let part = |c: char| c.is_ascii_alphanumeric() || matches!(c, '.' | '/' | '-' | '%');
    &rest[..rest.find(|c| !part(c)).unwrap_or(rest.len())]
}

/// The first place at or behind `from` that isn't space.
pub(super) fn skip_space(text: &str, from: usize) -> usize {
    from + text[from..].bytes().take_while(|byte| matches!(byte, b' ' | b'\n')).count()
}

/// One past the last place before `at` that isn't space.
pub(super) fn end_before(text: &str, at: usize) -> usize {
    text[..at].trim_end_matches([' ', '\n']).len()
}

/// The end of the line that `at` stands in.
pub(super) fn line_end(text: &str, at: usize) -> usize {
    text[at..].find('\n').map_or(text.len(), |length| at + length)
}

/// The length of the quoted text that `rest` begins with.
fn quoted(rest: &str) -> usize {
    let mut escaped = false;
    for (at, letter) in rest.char_indices().skip(1) {
        match letter {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return at + 1,
            _ => {}
        }
    }
    rest.len()
}

/// The word or digits that end before `at`, with their place; empty if something else ends there.
pub(super) fn word_before(text: &str, at: usize) -> (usize, &str) {
    let end = end_before(text, at);
    let part = |byte: &u8| byte.is_ascii_alphanumeric() || *byte == b'_';
    let start = text.as_bytes()[..end].iter().rposition(|byte| !part(byte)).map_or(0, |at| at + 1);
    (start, text.get(start..end).unwrap_or_default())
}
