//! The words of a clause as they are written, to be held against those of another. It must not know what they mean.

use std::collections::BTreeSet;

use super::lexeme::{Kind, Lexeme, lexemes};

/// A text on one line, with single spaces and without comments.
pub(crate) fn on_one_line(text: &str) -> String {
    let lines = text.lines().map(|line| line[..comment(line)].trim());
    lines.flat_map(str::split_whitespace).collect::<Vec<_>>().join(" ")
}

/// Where the comment of a line begins, or where the line ends.
fn comment(line: &str) -> usize {
    let bytes = line.as_bytes();
    let (mut quoted, mut at) = (false, 0);
    while at < bytes.len() {
        match bytes[at] {
            b'\\' if quoted => at += 1,
            b'"' => quoted = !quoted,
            b'-' if !quoted && bytes.get(at + 1) == Some(&b'-') => return at,
            _ => {}
        }
        at += 1;
    }
    line.len()
}

/// Whether two texts are the same words, however they are set.
pub(crate) fn same_words(one: &str, other: &str) -> bool {
    lexemes(one, 0).map(|found| found.text).eq(lexemes(other, 0).map(|found| found.text))
}

/// Whether a text begins with these words; a text in quotes is begun by its own first words.
pub(crate) fn begins_with(text: &str, words: &str) -> bool {
    let mut text = lexemes(text, 0);
    lexemes(words, 0).all(|word| {
        let begun = word.text.strip_suffix('"').filter(|_| word.kind == Kind::Text);
        text.next().is_some_and(|found| {
            found.text == word.text || begun.is_some_and(|begun| found.text.starts_with(begun))
        })
    })
}

/// A clause without some of the names in its lists, each with its position and the comma that parts it from the others.
pub(crate) fn without_names(text: &str, names: &BTreeSet<&str>) -> String {
    let words: Vec<Lexeme<'_>> = lexemes(text, 0).collect();
    let mut keep = vec![true; words.len()];
    for at in 0..words.len() {
        if words[at].kind != Kind::Word || !names.contains(words[at].text) {
            continue;
        }
        let bracket = words.get(at + 1).is_some_and(|next| next.text == "[");
        let length =
            if bracket { words[at..].iter().take_while(|word| word.text != "]").count() + 1 } else { 1 };
        let end = (at + length).min(words.len());
        keep[at..end].fill(false);
        let before = (0..at).rev().find(|before| keep[*before]);
        match (words.get(end), before.filter(|before| words[*before].text == ",")) {
            (Some(next), _) if next.text == "," => keep[end] = false,
            (_, Some(comma)) => keep[comma] = false,
            _ => {}
        }
    }
    let mut out = String::new();
    for (word, keep) in words.iter().zip(keep) {
        if keep {
            let joined = matches!(word.text, "," | "[" | "]") || out.is_empty() || out.ends_with('[');
            out.push_str(if joined { "" } else { " " });
            out.push_str(word.text);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_go_with_their_positions_and_commas() {
        let gone = BTreeSet::from(["bar", "lead"]);
        for (text, left) in [
            ("take bar, cover \"Up.\"", "take cover \"Up.\""),
            ("take cover, bar", "take cover"),
            ("take cover, bar[1, inlet], nut", "take cover, nut"),
            ("take bar, lead, cover", "take cover"),
            ("take cover, bar, lead", "take cover"),
            ("take cover", "take cover"),
        ] {
            assert_eq!(without_names(text, &gone), left, "{text}");
        }
    }

    #[test]
    fn comments_and_layout_are_no_words() {
        assert_eq!(
            on_one_line("mass  3 kg -- weighed\n  lift at \"a -- b\""),
            "mass 3 kg lift at \"a -- b\""
        );
        assert!(same_words("mass 3 kg", "mass\n3   kg"));
        assert!(!same_words("mass 3 kg", "mass 4 kg"));
        assert!(begins_with("take cover \"Up.\"", "take cover"));
        assert!(!begins_with("take cover_plate", "take cover"));
        assert!(begins_with("take cover \"Up it goes.\"", "take cover \"Up\""));
        assert!(!begins_with("take cover \"Up it goes.\"", "take cover \"Down\""));
    }
}
