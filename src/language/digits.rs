//! Complaints about digits that aren't written as the language writes them: threads in pieces, commas for points, strokes
//! between limits, numbers that run into their units, numbers in letters.

use super::diagnose::{Case, Verdict, next};
use super::errors;
use super::lexeme::{Kind, Lexeme, lexeme, unit_run, word_before};
use crate::diagnostics::Diagnostic;
use crate::quantity::Unit;

impl Case<'_> {
    /// A thread in several words, or with another sign: `M5 x 0.8`, `M5*0.8`.
    pub(super) fn thread(&self) -> Option<Verdict> {
        let text = self.place.text;
        let (start, size) = word_before(text, self.found.start);
        let metric = size
            .strip_prefix('M')
            .is_some_and(|rest| rest.bytes().all(|byte| byte.is_ascii_digit()) && !rest.is_empty());
        let sign = self.found.text.strip_prefix(['x', 'X', '*', '×'])?;
        let pitch =
            if sign.is_empty() { lexeme(text, self.found.end) } else { Lexeme { text: sign, ..self.found } };
        let number = |text: &str| text.parse::<f64>().is_ok();
        if !metric || self.new_line || !number(pitch.text) {
            return None;
        }
        let (written, meant) = (&text[start..pitch.end], format!("{size}x{}", pitch.text));
        Some(next(errors::spaced_thread(self.place.span(start, pitch.end), written, &meant)))
    }

    /// Digits with something wrong about them: no space before the unit, a point without digits.
    pub(super) fn number(&self) -> Option<Verdict> {
        let found = &self.found;
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
            return Some(next(errors::bad_number(
                self.place.of(found),
                text,
                simple.then_some(guess.as_str()),
            )));
        }
        if rest.is_empty() || !self.expected.number() {
            return None;
        }
        Some(next(match Unit::nearest(rest) {
            Some(unit) => {
                let place = self.place.span(found.start + digits_end, found.end);
                errors::missing_space(place, text, &format!("{digits} {}", unit.symbol))
            }
            None => errors::bad_number(self.place.of(found), text, None),
        }))
    }

    /// `14-16` where two points part the limits of a range: the sign was read as a minus.
    pub(super) fn stroke(&self) -> Option<Diagnostic> {
        let text = self.place.text;
        let (start, low) = word_before(text, self.found.start);
        let high = self.found.text.strip_prefix('-')?;
        let touching = start + low.len() == self.found.start;
        let sound =
            |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
        if !touching || !sound(low) || !sound(high) {
            return None;
        }
        let unit = lexeme(text, self.found.end);
        let symbol = Unit::find(unit_run(text, unit.start))
            .map(|unit| format!(" {}", unit.symbol))
            .unwrap_or_default();
        let place = self.place.span(start, self.found.end);
        Some(errors::stroke_range(place, &text[start..self.found.end], (low, high), &symbol))
    }

    /// A comma between digits that was meant as a point.
    pub(super) fn decimal_comma(&self, following: &Lexeme<'_>) -> Option<Diagnostic> {
        let (start, whole) = word_before(self.place.text, self.found.start);
        let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
        let touching = following.kind == Kind::Number && following.start == self.found.end;
        if !touching || !digits(whole) {
            return None;
        }
        let length = following.text.find(|c: char| !c.is_ascii_digit()).unwrap_or(following.text.len());
        let number = format!("{whole},{}", &following.text[..length]);
        let place = self.place.span(start, following.start + length);
        Some(errors::bad_number(place, &number, Some(&number.replace(',', "."))))
    }
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
