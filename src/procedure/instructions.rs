//! Lints of instructions: short sentences, one action each.
//!
//! The words that count as actions are common practice, no source.

use super::errors;
use super::resolver::Resolver;
use crate::language::tree::Quote;

/// Most words in a sentence. A controlled English for maintenance manuals draws the line for instructions there (from
/// memory).
const MOST_WORDS: usize = 20;

/// Verbs of the bench, as they begin an instruction.
const ACTIONS: [&str; 75] = [
    "apply", "bag", "blow", "bolt", "break", "cap", "chalk", "check", "clamp", "clean", "close", "count",
    "cover", "cut", "dip", "drain", "draw", "drive", "drop", "dry", "fill", "fit", "grease", "guide", "hang",
    "heat", "hold", "hook", "knock", "label", "lay", "lever", "lift", "loosen", "lower", "mark", "measure",
    "note", "oil", "open", "pack", "pin", "plug", "press", "prise", "pull", "push", "put", "read", "release",
    "remove", "rig", "roll", "rotate", "scrape", "screw", "set", "slacken", "slide", "slit", "stand",
    "strip", "support", "swing", "take", "tap", "tie", "tighten", "tilt", "turn", "undo", "unscrew", "wash",
    "wipe", "withdraw",
];

impl Resolver {
    /// Looks at the sentences of an instruction.
    pub(super) fn instruction(&mut self, text: &Quote) {
        for sentence in sentences(&text.value) {
            let words: Vec<String> = sentence.split_whitespace().map(plain).collect();
            if words.len() > MOST_WORDS {
                self.complain(errors::long_instruction(text.span, words.len()));
                return;
            }
            if let Some(second) = second_action(&words) {
                self.complain(errors::two_actions(text.span, &second));
                return;
            }
        }
    }
}

/// Sentences: up to a stop that a space or the end follows, so that `0.05 mm` stays whole.
fn sentences(text: &str) -> Vec<&str> {
    let mut out = Vec::new();
    let mut start = 0;
    let mut characters = text.char_indices().peekable();
    while let Some((at, c)) = characters.next() {
        let ends = ".!?;".contains(c) && characters.peek().is_none_or(|(_, next)| next.is_whitespace());
        if ends {
            out.push(&text[start..at]);
            start = at + c.len_utf8();
        }
    }
    out.push(&text[start..]);
    out
}

/// A word without punctuation, in small letters.
fn plain(word: &str) -> String {
    word.chars().filter(|c| c.is_alphanumeric() || *c == '-').flat_map(char::to_lowercase).collect()
}

/// The second action of a sentence that begins with one: `and lift`, `then turn`.
fn second_action(words: &[String]) -> Option<String> {
    let is_action = |word: &String| ACTIONS.contains(&word.as_str());
    if !words.first().is_some_and(is_action) {
        return None;
    }
    words.windows(3).find_map(|window| {
        let [join, next, after] = window else { return None };
        let joins = join == "and" || join == "then";
        if !joins {
            return None;
        }
        let (words, verb) = if next == "then" {
            (format!("{join} then {after}"), after)
        } else {
            (format!("{join} {next}"), next)
        };
        is_action(verb).then_some(words)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_second_action_is_found_and_a_second_object_is_not() {
        let words = |text: &str| text.split_whitespace().map(plain).collect::<Vec<_>>();
        assert_eq!(
            second_action(&words("Undo the nuts and lift the cover away")),
            Some("and lift".to_owned())
        );
        assert_eq!(second_action(&words("Wipe the face and the studs")), None);
        assert_eq!(second_action(&words("Two people and lift with care")), None);
    }

    #[test]
    fn a_decimal_point_ends_no_sentence() {
        assert_eq!(sentences("Shim by 0.05 mm. Check it."), ["Shim by 0.05 mm", " Check it", ""]);
    }
}
