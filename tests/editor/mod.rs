//! The editor's room from within: places in units of UTF-16, addresses, changes of a text, and what is offered at a place. The
//! talk itself is held by `tests/outside/editor.py`, with somebody else's client.

mod again;

use std::path::Path;

use lsp_types::{Position, Range, TextDocumentContentChangeEvent};
use proptest::prelude::*;

use super::desk::Desk;
use super::places::{address, byte, path, place};
use crate::language::{Kept, Part, parse, parse_again, spelled, spelled_at, wanted};
use crate::source::FileId;

const TWIN: &str = include_str!("../../procedures/cawdale2.rebuild");

fn text() -> impl Strategy<Value = String> {
    prop::collection::vec(prop::sample::select(vec!["a", " ", "\n", "é", "€", "😀", "ß", "\r\n"]), 0..40)
        .prop_map(|parts| parts.concat())
}

proptest! {
    #[test]
    fn a_byte_and_its_place_lead_to_each_other(text in text(), share in 0.0..1.0_f64) {
        let mut at = (share * (text.len() + 1) as f64) as usize;
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        prop_assert_eq!(byte(&text, place(&text, at)), at);
    }

    #[test]
    fn changes_in_pieces_are_the_changes_of_the_text(text in text(), new in text(), one in 0.0..1.0_f64, other in 0.0..1.0_f64) {
        let boundary = |share: f64| {
            let mut at = (share * (text.len() + 1) as f64) as usize;
            while !text.is_char_boundary(at) {
                at -= 1;
            }
            at
        };
        let (start, end) = (boundary(one).min(boundary(other)), boundary(one).max(boundary(other)));
        let mut desk = Desk::default();
        let at = Path::new("/tmp/a.rebuild");
        desk.open(at, address(at).unwrap(), 1, &text);
        let range = Range { start: place(&text, start), end: place(&text, end) };
        desk.change(at, 2, vec![TextDocumentContentChangeEvent { range: Some(range), range_length: None, text: new.clone() }]);
        let expected = format!("{}{new}{}", &text[..start], &text[end..]);
        prop_assert_eq!(desk.text(at).unwrap().to_string(), expected);
    }

    #[test]
    fn a_path_comes_back_from_its_address(parts in prop::collection::vec("[a-zA-Z0-9 %äß#?&+.,_-]{1,8}", 1..5)) {
        let whole = format!("/{}", parts.join("/"));
        prop_assert_eq!(path(&address(Path::new(&whole)).unwrap()).unwrap(), Path::new(&whole));
    }
}

#[test]
fn a_place_behind_its_line_is_the_end_of_the_line() {
    assert_eq!(byte("ab\ncd", Position { line: 0, character: 9 }), 2);
    assert_eq!(byte("ab\ncd", Position { line: 7, character: 0 }), 5);
}

/// What is wanted where `|` stands.
fn words_at(text: &str) -> (Vec<String>, bool, String, String) {
    let at = text.find('|').unwrap();
    let wanted = wanted(FileId::default(), &text.replace('|', ""), at);
    (wanted.words.into_iter().map(|(word, _)| word).collect(), wanted.name, wanted.clause, wanted.owner)
}

#[test]
fn what_fits_is_offered() {
    let (words, _, _, owner) = words_at("part a \"A\" {\n    |\n}\n");
    assert_eq!(owner, "part");
    assert!(["held by", "fate", "under"].iter().all(|word| words.contains(&(*word).to_owned())), "{words:?}");
    assert!(!words.contains(&"take".to_owned()), "{words:?}");

    let (_, name, clause, owner) = words_at("part a \"A\" { held by | }\n");
    assert_eq!((name, clause.as_str(), owner.as_str()), (true, "held by", "part"));

    let (words, ..) = words_at("tool a \"A\" { kind | }\n");
    assert!(words.contains(&"hoist".to_owned()), "{words:?}");

    let (words, ..) = words_at("part a \"A\"\n|\n");
    assert!(words.contains(&"strip".to_owned()) && words.contains(&"part".to_owned()), "{words:?}");

    let (words, ..) = words_at("block a \"A\" {\n    build b \"B\" { | }\n}\n");
    assert!(words.contains(&"fit".to_owned()), "{words:?}");

    let (words, ..) = words_at("part a \"A\"\nchange |\n");
    for word in ["part", "gauge", "strip", "survey", "build", "start"] {
        assert!(words.contains(&word.to_owned()), "{word}: {words:?}");
    }

    // How long a setup takes to change is no step.
    let (words, ..) = words_at("setup stand \"Stand\" = upright, inverted change |\n");
    assert!(!words.contains(&"strip".to_owned()), "{words:?}");

    let (words, name, ..) = words_at("part a \"A\" { way \"th|is\" }\n");
    assert!(words.is_empty() && !name, "{words:?}");
    let (words, name, ..) = words_at("part a \"A\" -- th|is\n");
    assert!(words.is_empty() && !name, "{words:?}");
}

#[test]
fn every_clause_that_is_offered_has_its_line_of_help() {
    let mut without = Vec::new();
    for owner in [
        "family",
        "tool",
        "supply",
        "part",
        "fasteners",
        "joint",
        "gauge",
        "look",
        "temporary",
        "hazard",
        "rule",
        "strip",
    ] {
        let head = if owner == "hazard" { "hazard a danger hot" } else { &format!("{owner} a \"A\"") };
        let text = format!("{head} {{ }}\n");
        let wanted = wanted(FileId::default(), &text, head.len() + 3);
        assert!(!wanted.words.is_empty(), "{owner}");
        let bare = wanted.words.iter().filter(|(word, line)| {
            line.is_none() && !wanted.words.iter().any(|(other, _)| other.starts_with(&format!("{word} ")))
        });
        without.extend(bare.map(|(word, _)| format!("{owner}: {word}")));
    }
    assert!(without.is_empty(), "{without:?}");
}

/// Edits of a text that somebody types, the same in each run: letters, slips, lines taken out and doubled.
fn edited(text: &str, seed: u64) -> String {
    let mut state = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
    let mut below = |end: usize| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state % end.max(1) as u64) as usize
    };
    let mut at = below(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    let line = text[at..].find('\n').map_or(text.len(), |length| at + length);
    let (before, behind) = (&text[..at], &text[at..]);
    match below(6) {
        0 => format!("{before} {behind}"),
        1 => format!("{before}{}{behind}", ["x", "{", "}", "\"", "-- ", "\n", "13 mm", " é "][below(8)]),
        2 => format!("{before}{}", &text[line..]),
        3 => format!("{}\n{}", &text[..line], &text[line..]),
        4 => format!("{before}{}{behind}", &text[at..line]),
        _ => format!("{before}\npart another \"Another\" {{ fate reuse }}\n{behind}"),
    }
}

#[test]
fn a_text_read_again_after_changes_is_read_as_if_for_the_first_time() {
    for shipped in [TWIN, include_str!("../../procedures/first/harbour_pump_e.rebuild")] {
        let mut kept = Kept::default();
        let mut text = shipped.to_owned();
        for seed in 1..60 {
            text = edited(if seed % 12 == 0 { shipped } else { &text }, seed);
            // In another run it may have another number.
            let file = FileId((seed % 3) as u32);
            let again = parse_again(file, &text, Some(&mut kept));
            let first = parse(file, &text);
            assert_eq!(again.value, first.value, "{seed}: {text}");
            let told = |outcome: &crate::diagnostics::Outcome<_>| format!("{:?}", outcome.diagnostics);
            assert_eq!(told(&again), told(&first), "{seed}: {text}");
            if seed % 5 > 0 {
                kept.give_back(again.value);
            }
        }
    }
}

#[test]
fn only_what_has_changed_is_read_again() {
    let texts = |middle: &str| {
        let part = |count: usize| format!("part part{count} \"Part\" {{ fate reuse }}\n");
        (0..40).map(part).collect::<String>() + middle + &(40..80).map(part).collect::<String>()
    };
    let mut kept = Kept::default();
    parse_again(FileId(0), &texts(""), Some(&mut kept));
    let known = kept.known();
    parse_again(FileId(0), &texts("part new \"New\" { fate renew }\n"), Some(&mut kept));
    // The last goes to the end of the text, and is read each time where nothing was given back.
    assert_eq!((known, kept.known()), (79, 80));
}

#[test]
fn what_was_given_back_is_not_even_looked_up() {
    let texts = |middle: &str| {
        let part = |count: usize| format!("part part{count} \"Part\" {{ fate reuse }}\n");
        (0..40).map(part).collect::<String>() + middle + &(40..80).map(part).collect::<String>()
    };
    let mut kept = Kept::default();
    for (middle, looked_at) in
        [("", 80), ("part new \"New\" { fate renew }\n", 1), ("part new \"New\" { fate }\n", 1), ("", 0)]
    {
        let read = parse_again(FileId(0), &texts(middle), Some(&mut kept));
        assert_eq!(kept.looked_at, looked_at, "{middle}");
        assert_eq!(read.value, parse(FileId(0), &texts(middle)).value, "{middle}");
        kept.give_back(read.value);
    }
    // A fault elsewhere is told again, and what lies between is left alone.
    let faulty = texts("part new \"New\" { mass }\n");
    for (text, looked_at) in [
        (faulty.clone(), 1),
        (faulty.replace("part3 \"Part\"", "part3 \"Third\""), 2),
        (faulty.replace("part3 \"Part\" { fate", "part3 \"Part\" { fat"), 2),
        (
            faulty
                .replace("part3 \"Part\" { fate", "part3 \"Part\" { fat")
                .replace("70 \"Part\"", "70 \"New\""),
            3,
        ),
        (texts(""), 68),
    ] {
        let read = parse_again(FileId(0), &text, Some(&mut kept));
        let first = parse(FileId(0), &text);
        assert_eq!(kept.looked_at, looked_at, "{text}");
        assert_eq!(read.value, first.value, "{text}");
        assert_eq!(format!("{:?}", read.diagnostics), format!("{:?}", first.diagnostics), "{text}");
        kept.give_back(read.value);
    }
}

#[test]
fn the_words_around_a_place_are_those_of_the_whole_text() {
    let text = TWIN;
    let (words, _) = spelled(FileId(0), text);
    for word in words.iter().filter(|word| word.part != Part::Comment).step_by(7) {
        let around = spelled_at(FileId(0), text, word.span.start());
        assert!(around.contains(word), "{word:?}: {}", &text[word.span.start()..word.span.end()]);
    }
}
