//! The tables of the language held to its grammar and to its reference: what one of them has, all have. Compiled into
//! the room `language`, whose tables no other room sees.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "everything here is a test"
)]

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use super::grammar::{Node, Rule, read};
use super::lower::{ACTS, FATES};
use super::row::{Row, Shape};
use super::vocabulary::choices;
use super::{parse, scan};
use crate::source::FileId;

fn text(path: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap()
}

/// All of the grammar, without its comments.
fn grammar() -> String {
    ["words", "keywords", "file", "parts", "joints", "readings", "rules", "steps"]
        .map(|file| text(&format!("grammar/{file}.pest")))
        .concat()
        .lines()
        .filter(|line| !line.starts_with("//"))
        .map(|line| format!("{line}\n"))
        .collect()
}

/// What stands behind `rule =`, with the sign before its brace.
fn body(grammar: &str, rule: &str) -> String {
    let line = grammar.lines().find(|line| line.split_whitespace().next() == Some(rule)).unwrap();
    line.split_once('=').unwrap().1.trim().to_owned()
}

/// The words that a rule begins with: keywords up to the first thing that isn't one.
fn words(body: &str) -> String {
    let keyword = |part: &str| Some(part.trim().strip_prefix("key_")?.replace("left_hand", "left-hand"));
    let inner = body.trim_start_matches('{').trim_end_matches('}').trim();
    match inner.strip_prefix('(') {
        Some(choice) => {
            let choice = choice.split_once(')').unwrap().0;
            choice.split('|').map(|part| keyword(part).unwrap()).collect::<Vec<_>>().join(" | ")
        }
        None => inner.split('~').map_while(keyword).collect::<Vec<_>>().join(" "),
    }
}

/// The words that a rule begins with where other rules say them: those of each of its cases, but `else`.
fn words_of_rule(grammar: &str, rule: &str) -> String {
    let body = body(grammar, rule);
    let inner = body.trim_start_matches('_').trim_start_matches('{').trim_end_matches('}').trim();
    let first = |alternative: &str| alternative.split(" ~ ").next().unwrap().trim().to_owned();
    if inner.starts_with('(') || first(inner).starts_with("key_") && !inner.starts_with("key_else") {
        return words(&body);
    }
    let cases = inner.split(" | ").map(first).filter(|first| first != "key_else");
    cases.map(|rule| words_of_rule(grammar, &rule)).collect::<Vec<_>>().join(" | ")
}

/// Each table with the rule that lists its rules.
fn tables() -> Vec<(Rule, &'static [Row])> {
    // The clauses of a step are the last of its two tables.
    let last =
        |shape: &'static Shape| Some((shape.clause, *shape.rows.iter().rfind(|rows| !rows.is_empty())?));
    let mut tables: Vec<_> = Shape::all().filter_map(last).collect();
    tables.extend([(Rule::act, ACTS), (Rule::fate, FATES)]);
    tables
}

#[test]
fn rows_are_those_of_the_grammar() {
    let grammar = grammar();
    for (list, rows) in tables() {
        let alternatives = body(&grammar, &format!("{list:?}"));
        let alternatives: Vec<&str> =
            alternatives.trim_matches(['{', '}', ' ']).split(" | ").map(str::trim).collect();
        let rules: Vec<String> = rows.iter().map(|row| format!("{:?}", row.rule)).collect();
        assert_eq!(rules, alternatives, "{list:?}");
        for row in rows.iter().filter(|row| row.rule != Rule::acted) {
            assert_eq!(row.words, words_of_rule(&grammar, &format!("{:?}", row.rule)), "{:?}", row.rule);
        }
    }
}

#[test]
fn every_row_stands_in_the_reference() {
    let page = text("grammar/README.md");
    let mut shown: Vec<(&str, &str)> = Vec::new();
    let mut head = "";
    for line in page.lines() {
        if let Some(rest) = line.strip_prefix("<!-- rows stand in: ") {
            head = rest.split(' ').next().unwrap();
        } else if line.starts_with("| `") {
            shown.extend(
                line.split(" | ").next().unwrap().split('`').skip(1).step_by(2).map(|code| (head, code)),
            );
        }
    }
    for shape in Shape::all() {
        for row in shape.rows.iter().flat_map(|rows| *rows).filter(|row| row.rule != Rule::acted) {
            let told = row.words.split(" | ").any(|words| {
                shown.iter().any(|(head, code)| *head == shape.word() && code.starts_with(words))
            });
            assert!(told, "grammar/README.md shows no `{}` under `{}`", row.words, shape.word());
        }
    }
    for row in FATES {
        let words = format!("fate {}", row.words);
        assert!(
            shown.iter().any(|(_, code)| code.starts_with(&words)),
            "grammar/README.md shows no `{words}`"
        );
    }
}

#[test]
fn closed_lists_are_those_of_the_grammar() {
    let grammar = grammar();
    for rule in [
        Rule::end,
        Rule::toward,
        Rule::rotation,
        Rule::tool_kind,
        Rule::part_kind,
        Rule::carried,
        Rule::set_kind,
        Rule::mark_kind,
        Rule::into_kind,
        Rule::lock,
        Rule::oiled,
        Rule::condition,
        Rule::signal,
        Rule::unit,
    ] {
        let body = body(&grammar, &format!("{rule:?}"));
        // What must not follow is no word of the list.
        let behind = ["clockwise", "anticlockwise", "as ", "to ", "."];
        let listed: BTreeSet<&str> = body
            .split('"')
            .skip(1)
            .step_by(2)
            .filter(|word| !behind.contains(word) || rule == Rule::rotation)
            .collect();
        let known = choices(rule);
        assert_eq!(known.iter().map(String::as_str).collect::<BTreeSet<_>>(), listed, "{rule:?}");
        for word in known {
            assert_eq!(read(rule, &word).unwrap().as_str(), word);
        }
    }
}

#[test]
fn the_reference_lists_the_units_that_there_are() {
    let page = text("grammar/README.md");
    let table = page.split_once("### Units").unwrap().1.split_once("\n### ").unwrap().0;
    let mut listed: BTreeSet<&str> = table.split('`').skip(1).step_by(2).collect();
    // How the unit of a ratio is written behind its number.
    assert!(listed.remove("9.4:1"));
    let known = choices(Rule::unit);
    assert_eq!(listed, known.iter().map(String::as_str).collect());
}

fn met(node: Node<'_>, rules: &mut BTreeSet<Rule>) {
    rules.insert(node.as_rule());
    node.into_inner().for_each(|child| met(child, rules));
}

/// One sample of each rule goes the whole way to the tree.
#[test]
fn every_rule_is_met_in_a_sound_file() {
    let sample = text("tests/syntax/ok/everything.rebuild");
    assert!(parse(FileId(0), &sample).diagnostics.is_empty());
    let mut rules = BTreeSet::new();
    met(read(Rule::stretch, &scan::scan(FileId(0), &sample).text).unwrap(), &mut rules);
    let grammar = grammar();
    let unseen: Vec<&Rule> = Rule::all_rules()
        .iter()
        .filter(|rule| {
            let name = format!("{rule:?}");
            // Silent rules and the parts of a thread leave no trace.
            !rules.contains(rule)
                && name != "EOI"
                && !name.starts_with("thread_")
                && !body(&grammar, &name).starts_with('_')
        })
        .collect();
    assert!(unseen.is_empty(), "no sample in tests/syntax/ok/everything.rebuild: {unseen:?}");
}
