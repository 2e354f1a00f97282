//! Where lines may break, and where they do.
//!
//! Opportunities follow UAX #14; those that would part a number from its unit, or cut a part number or a range
//! of values, are taken out. There is no hyphenation: a hyphen in a part number means something.

use super::Letter;
use crate::quantity::Unit;
use std::ops::Range;
use unicode_linebreak::linebreaks;

/// What stays with the number before it beside the units of the language: what notes and titles of an author hold.
const OTHER_UNITS: [&str; 25] = [
    "Nm", "μm", "ft", "t", "oz", "l", "ml", "cc", "mbar", "GPa", "Pa", "rev/min", "V", "A", "Ω", "Hz", "kW",
    "W", "dB", "pt", "pages", "turns", "days", "×", "±",
];

/// Ranges of letters, one per line, none wider than `width` thousandths of the size unless a single letter is.
pub(super) fn lines(letters: &[Letter], width: u32) -> Vec<Range<usize>> {
    let mut lines = Vec::new();
    let mut start = 0;
    let mut end = 0;
    let mut used = 0;
    for piece in pieces(letters) {
        let visible = trimmed(letters, piece.clone());
        if end > start && used + wide(&letters[visible.clone()]) > width {
            lines.push(trimmed(letters, start..end));
            start = piece.start;
            used = 0;
        }
        if used == 0 && wide(&letters[visible.clone()]) > width {
            // A word wider than the line is cut where the line ends.
            for index in visible.clone() {
                let advance = u32::from(letters[index].advance);
                if used + advance > width && index > start {
                    lines.push(start..index);
                    start = index;
                    used = 0;
                }
                used += advance;
            }
            used += wide(&letters[visible.end..piece.end]);
        } else {
            used += wide(&letters[piece.clone()]);
        }
        end = piece.end;
    }
    if end > start {
        lines.push(trimmed(letters, start..end));
    }
    lines.retain(|line| !line.is_empty());
    lines
}

/// Width in thousandths of the widest unbreakable piece.
pub(super) fn widest(letters: &[Letter]) -> u32 {
    pieces(letters).into_iter().map(|piece| wide(&letters[trimmed(letters, piece)])).max().unwrap_or(0)
}

fn wide(letters: &[Letter]) -> u32 {
    letters.iter().map(|letter| u32::from(letter.advance)).sum()
}

fn trimmed(letters: &[Letter], range: Range<usize>) -> Range<usize> {
    let spaces = letters[range.clone()].iter().rev().take_while(|letter| letter.character == ' ').count();
    range.start..range.end - spaces
}

/// Unbreakable pieces, each with the spaces after it.
fn pieces(letters: &[Letter]) -> Vec<Range<usize>> {
    let words: String = letters.iter().map(|letter| letter.character).collect();
    let mut pieces = Vec::new();
    let (mut start, mut index, mut byte) = (0, 0, 0);
    for (place, _) in linebreaks(&words) {
        while byte < place {
            byte += letters[index].character.len_utf8();
            index += 1;
        }
        if index == letters.len() || may_break(letters, index) {
            if index > start {
                pieces.push(start..index);
            }
            start = index;
        }
    }
    pieces
}

/// Whether a line may end before the letter at `index`, where UAX #14 would allow it.
fn may_break(letters: &[Letter], index: usize) -> bool {
    let at = |i: usize| letters.get(i).map_or(' ', |letter| letter.character);
    let before = at(index - 1);
    if before != ' ' {
        return match before {
            // Ranges and part numbers: 0.05–0.11, BW-1042.
            '-' | '–' | '‐' => {
                !at(index).is_alphanumeric() || index < 2 || !at(index - 2).is_alphanumeric()
            }
            '/' | '·' => false,
            _ => true,
        };
    }
    if index < 2 {
        return true;
    }
    let last = at(index - 2);
    // A sign that belongs to what follows.
    if matches!(last, '±' | '≤' | '≥' | '<' | '>' | '⌀' | '×' | '=' | '~' | '≈' | '№') {
        return false;
    }
    let opens = |c: &char| matches!(c, '(' | '[' | '“' | '"');
    let mut word = (0..index - 1).rev().map(at).take_while(|c| *c != ' ' && !opens(c));
    // A number with the capitals before it is one name: ISO 6789, step B 12.
    if at(index).is_ascii_digit()
        && last.is_ascii_uppercase()
        && word.clone().count() <= 4
        && word.clone().all(|c| c.is_ascii_uppercase())
    {
        return false;
    }
    if last == '.' && at(index).is_alphanumeric() {
        let rest = (word.next(), word.next(), word.next(), word.next());
        if matches!(rest, (Some('.'), Some('o'), Some('n' | 'N'), None)) {
            return false;
        }
    }
    if last.is_ascii_digit() || matches!(last, '½' | '¼' | '¾' | '⅛' | '⅜' | '⅝' | '⅞') {
        let next: String = (index..letters.len()).map(at).take_while(|c| *c != ' ').collect();
        let next = next.trim_end_matches([')', ',', '.', ';', ':', ']', '?', '!']);
        let currency = next.len() == 3 && next.chars().all(|c| c.is_ascii_uppercase());
        return !(currency || OTHER_UNITS.contains(&next) || Unit::signs().any(|sign| sign == next));
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::Face;

    fn letters(words: &str) -> Vec<Letter> {
        let letter = |character| Letter { character, face: Face::Regular, advance: 500, run: 0 };
        words.chars().map(letter).collect()
    }

    #[test]
    fn the_space_behind_a_word_that_was_cut_counts() {
        let letters = letters("aaaaaa bb");
        let lines: Vec<String> = lines(&letters, 2_000)
            .into_iter()
            .map(|line| letters[line].iter().map(|letter| letter.character).collect())
            .collect();
        assert_eq!(lines, ["aaaa", "aa", "bb"]);
    }

    #[test]
    fn no_line_ends_between_a_number_and_its_unit() {
        for sign in Unit::signs() {
            let letters = letters(&format!("to 5 {sign} or so"));
            let pieces: Vec<String> = pieces(&letters)
                .into_iter()
                .map(|piece| letters[piece].iter().map(|letter| letter.character).collect())
                .collect();
            assert_eq!(pieces, ["to ", &format!("5 {sign} "), "or ", "so"]);
        }
    }
}
