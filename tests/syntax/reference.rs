//! `grammar/README.md`, the language reference, held to the grammar: every example on it parses, and every keyword of
//! the grammar stands in one.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use benchleaf::diagnostics::render_lines;
use benchleaf::model::HazardKind;
use benchleaf::source::Sources;

use super::parse_text;

/// What the reference shows, as texts that stand for themselves, each with the line it comes from.
fn examples() -> Vec<(usize, String)> {
    let page = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/README.md")).unwrap();
    let mut examples: Vec<(usize, String)> = Vec::new();
    let mut block: Option<(usize, String)> = None;
    let mut head = String::new();
    for (number, line) in (1..).zip(page.lines()) {
        match &mut block {
            Some((_, text)) if line != "```" => *text += &format!("{line}\n"),
            Some(_) => examples.extend(block.take()),
            None if line == "```rebuild" => block = Some((number, String::new())),
            None => {
                if let Some(rest) = line.strip_prefix("<!-- rows stand in: ") {
                    head = rest.trim_end_matches(" -->").to_owned();
                } else if line.starts_with('#') {
                    head.clear();
                }
                if let Some(cell) = line.strip_prefix("| `").filter(|_| !head.is_empty()) {
                    let cell = format!("`{}", cell.split(" | ").next().unwrap());
                    let codes = cell.split('`').skip(1).step_by(2);
                    examples.extend(codes.map(|code| (number, format!("{head} {{ {code} }}"))));
                }
            }
        }
    }
    examples
}

#[test]
fn every_example_parses() {
    let examples = examples();
    assert!(examples.len() > 150, "only {} examples were found", examples.len());
    for (line, text) in examples {
        let mut sources = Sources::new();
        let (_, diagnostics) = parse_text(&mut sources, "example.rebuild", &text);
        let told = render_lines(&sources, &diagnostics);
        assert!(diagnostics.is_empty(), "grammar/README.md, line {line}: {text}\n{told}");
    }
}

#[test]
fn every_keyword_has_an_example() {
    let keywords =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/keywords.pest")).unwrap();
    let shown = examples().into_iter().map(|(_, text)| text).collect::<Vec<_>>().join(" ");
    let words: Vec<&str> =
        shown.split(|c: char| !(c.is_ascii_alphanumeric() || c == '_' || c == '-')).collect();
    let missing: Vec<&str> = keywords
        .lines()
        .filter_map(|line| line.split('"').nth(1))
        .filter(|word| !words.contains(word))
        .collect();
    assert!(missing.is_empty(), "grammar/README.md has no example with {missing:?}");
}

#[test]
fn the_kinds_of_hazard_are_those_that_there_are() {
    let page = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/README.md")).unwrap();
    let listed = page.split_once("\nkinds are ").unwrap().1.split_once("\n\n").unwrap().0;
    let listed: BTreeSet<&str> = listed.split('`').skip(1).step_by(2).collect();
    assert_eq!(listed, HazardKind::WORDS.iter().map(|(word, _)| *word).collect());
}
