//! Complaints about digits that aren't written as the language writes them: threads in pieces, commas for points, strokes
//! between limits, numbers that run into their units, numbers in letters.

use super::errors;
use super::lexeme::{Kind, Lexeme, lexeme, unit_run, word_before};
use super::place::Place;
use crate::diagnostics::Diagnostic;
use crate::quantity::Unit;

/// A thread in several words, or with another sign: `M5 x 0.8`, `M5*0.8`.
pub(super) fn thread(place: Place<'_>, found: &Lexeme<'_>, new_line: bool) -> Option<Diagnostic> {
    let text = place.text;
    let (start, size) = word_before(text, found.start);
    let metric = size
        .strip_prefix('M')
        .is_some_and(|rest| rest.bytes().all(|byte| byte.is_ascii_digit()) && !rest.is_empty());
    let sign = found.text.strip_prefix(['x', 'X', '*', '×'])?;
    let pitch = if sign.is_empty() { lexeme(text, found.end) } else { Lexeme { text: sign, ..*found } };
    let number = |text: &str| text.parse::<f64>().is_ok();
    if !metric || new_line || !number(pitch.text) {
        return None;
    }
    let (written, meant) = (&text[start..pitch.end], format!("{size}x{}", pitch.text));
    Some(errors::spaced_thread(place.span(start, pitch.end), written, &meant))
}

/// Digits with something wrong about them: no space before the unit, a point without digits.
pub(super) fn number(place: Place<'_>, found: &Lexeme<'_>, wanted: bool) -> Option<Diagnostic> {
    if found.kind != Kind::Number {
        return None;
    }
    let text = found.text;
    let digits_end = text
        .char_indices()
        .find(|(at, c)| !(c.is_ascii_digit() || matches!(c, '.' | '/') || (*at == 0 && *c == '-')))
        .map_or(text.len(), |(at, _)| at);
    let (digits, rest) = text.split_at(digits_end);
    let sound = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let size = digits.trim_start_matches('-');
    let whole = match (size.split_once('/'), size.split_once('.')) {
        (Some((over, under)), _) => sound(over) && sound(under),
        (None, Some((whole, fraction))) => sound(whole) && sound(fraction),
        (None, None) => sound(size),
    };
    if !whole {
        let trimmed = digits.trim_end_matches(['.', '/']);
        let guess = if size.starts_with('.') { format!("0{size}") } else { trimmed.to_owned() };
        let simple = guess.matches(['.', '/']).count() <= 1;
        return Some(errors::bad_number(place.of(found), text, simple.then_some(guess.as_str())));
    }
    if rest.is_empty() || !wanted {
        return None;
    }
    Some(match Unit::nearest(rest) {
        Some(unit) => {
            let place = place.span(found.start + digits_end, found.end);
            errors::missing_space(place, text, &format!("{digits} {}", unit.symbol))
        }
        None => errors::bad_number(place.of(found), text, None),
    })
}

/// `14-16` where two points part the limits of a range: the sign was read as a minus.
pub(super) fn stroke(place: Place<'_>, found: &Lexeme<'_>) -> Option<Diagnostic> {
    let text = place.text;
    let (start, low) = word_before(text, found.start);
    let high = found.text.strip_prefix('-')?;
    let touching = start + low.len() == found.start;
    let sound =
        |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    if !touching || !sound(low) || !sound(high) {
        return None;
    }
    let unit = lexeme(text, found.end);
    let symbol =
        Unit::find(unit_run(text, unit.start)).map(|unit| format!(" {}", unit.symbol)).unwrap_or_default();
    let place = place.span(start, found.end);
    Some(errors::stroke_range(place, &text[start..found.end], (low, high), &symbol))
}

/// A comma between digits that was meant as a point, in a number or in the pitch of a thread.
pub(super) fn decimal_comma(
    place: Place<'_>,
    found: &Lexeme<'_>,
    following: &Lexeme<'_>,
) -> Option<Diagnostic> {
    let (_, before) = word_before(place.text, found.start);
    let whole = before.rsplit(|c: char| !c.is_ascii_digit()).next().unwrap_or_default();
    let touching = following.kind == Kind::Number && following.start == found.end;
    if !touching || whole.is_empty() || !place.text[..found.start].ends_with(whole) {
        return None;
    }
    let start = found.start - whole.len();
    let length = following.text.find(|c: char| !c.is_ascii_digit()).unwrap_or(following.text.len());
    let number = format!("{whole},{}", &following.text[..length]);
    let at = place.span(start, following.start + length);
    // Behind a point the comma is none.
    let meant = (!place.text[..start].ends_with('.')).then(|| number.replace(',', "."));
    Some(errors::bad_number(at, &number, meant.as_deref()))
}

/// A small number in letters, in figures.
pub(super) fn figures(word: &str) -> Option<&'static str> {
    const WORDS: [(&str, &str); 12] = [
        ("one", "1"),
        ("two", "2"),
        ("three", "3"),
        ("four", "4"),
        ("five", "5"),
        ("six", "6"),
        ("seven", "7"),
        ("eight", "8"),
        ("nine", "9"),
        ("ten", "10"),
        ("eleven", "11"),
        ("twelve", "12"),
    ];
    WORDS.iter().find(|(letters, _)| *letters == word).map(|(_, figures)| *figures)
}
