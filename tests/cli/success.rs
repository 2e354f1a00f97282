//! What each command says when it has done what was asked: something, and briefly, whatever it wrote.

use std::collections::BTreeSet;

use super::{Scratch, benchleaf, stderr, stdout};

/// Commands that answer on the standard output, or write a file; with what they were given here, and a word of what they say.
fn commands(scratch: &Scratch) -> Vec<(&'static str, Vec<String>, &'static str)> {
    let at = |name: &str| format!("{}/{name}", scratch.path());
    let words = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
    let pump = "procedures/first/harbour_pump.rebuild";
    let procedure = "procedures/cawdale2.rebuild";
    let job = "procedures/cawdale2.job.yaml";
    let own = scratch.file("own.rebuild", std::fs::read(pump).unwrap());
    let record = scratch.file("own.job.yaml", "# Invented.\njob: \"T-1\"\nprocedure: own.rebuild\n");
    vec![
        ("new", words(&["new", &at("Dock winch")]), "benchleaf"),
        ("check", words(&["check", pump]), "1 procedure"),
        ("tidy", words(&["tidy", &own]), "1 file"),
        (
            "compare",
            words(&["compare", pump, "procedures/first/impeller.rebuild", "-o", &at("c.pdf")]),
            "page",
        ),
        ("order", words(&["order", pump]), "1"),
        ("why", words(&["why", procedure, "make_safe"]), "make_safe"),
        ("graph", words(&["graph", pump, "-o", &at("g.svg")]), "step"),
        ("ledger", words(&["ledger", procedure, "--job", job]), "Flywheel"),
        ("packet", words(&["packet", pump, "-o", &at("p.pdf")]), "page"),
        ("complaint", words(&["complaint", "procedure/unused"]), "unused"),
        ("verdict", words(&["verdict", procedure, "--job", job]), "\n"),
        (
            "record",
            words(&["record", &record, "note", "pump", "Seen.", "--by", "ME", "--date", "2026-11-20"]),
            "Seen",
        ),
        ("next", words(&["next", job]), "\n"),
        ("shop", words(&["shop", "procedures", "--on", "2026-11-20", "-o", &at("s.pdf")]), "page"),
        ("closed", words(&["closed", "procedures"]), "job"),
        ("notes", words(&["notes", job]), "\n"),
        ("reckon", words(&["reckon", "thread", "M8"]), "M8"),
        ("shelf", words(&["shelf", "grease"]), "degreaser"),
        ("manual", words(&["manual", &scratch.path()]), "pages of the manual"),
    ]
}

/// Commands that are not told here: one talks with an editor, one reads sheets that were filled in, which has tests of its own.
const ELSEWHERE: [&str; 3] = ["editor", "gather", "help"];

#[test]
fn every_command_says_on_success_what_it_did_and_briefly() {
    let scratch = Scratch::new("success");
    let rows = commands(&scratch);
    let page = stdout(&benchleaf(&["--help"]));
    let listed: BTreeSet<String> = page
        .lines()
        .skip_while(|line| !line.contains("Write:"))
        .skip(1)
        .filter(|line| line.starts_with("  ") && line.chars().nth(2).is_some_and(|c| c.is_ascii_lowercase()))
        .filter_map(|line| line.split_whitespace().next().map(str::to_owned))
        .collect();
    let told: BTreeSet<String> =
        rows.iter().map(|(name, ..)| *name).chain(ELSEWHERE).map(str::to_owned).collect();
    let untold: Vec<&String> = listed.difference(&told).collect();
    assert!(listed.len() > 10 && untold.is_empty(), "{untold:?} of {listed:?}");
    for (name, arguments, word) in &rows {
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        let output = benchleaf(&arguments);
        assert!(output.status.success(), "{name}: {}{}", stdout(&output), stderr(&output));
        let said = format!("{}{}", stdout(&output), stderr(&output));
        assert!(said.contains(word), "{name} says: {said}");
        // A line or two beside what was asked for; nothing of a terminal.
        assert!(!said.contains('\r') && !said.contains('\u{1b}'), "{name}: {said:?}");
        if arguments.contains(&"-o") {
            assert!(said.lines().count() <= 3, "{name}: {said}");
        }
    }
}
