//! `shelf` as a user runs it: everything that `use "shared/..."` brings in, by the name under which a procedure asks for it.

use std::process::Command;

use super::{Scratch, benchleaf, stderr, stdout};

/// What is said in a folder.
fn shelf(folder: &str, words: &[&str]) -> String {
    let mut command = Command::new(env!("CARGO_BIN_EXE_benchleaf"));
    let output = command.arg("shelf").args(words).current_dir(folder).output().unwrap();
    assert!(output.status.success(), "{}", stderr(&output));
    stdout(&output)
}

#[test]
fn each_thing_that_comes_along_is_listed_once_by_its_name() {
    let scratch = Scratch::new("shelf");
    scratch.file("empty.txt", "");
    let listed = shelf(&scratch.path(), &[]);
    let mut declared = 0;
    for file in ["tools", "supplies", "hazards"] {
        assert!(listed.contains(&format!("use \"shared/{file}\"  -- ")), "{listed}");
        let text = std::fs::read_to_string(format!("procedures/shared/{file}.rebuild")).unwrap();
        for line in text.lines() {
            let mut words = line.split_whitespace();
            if !matches!(words.next(), Some("tool" | "supply" | "hazard")) || line.starts_with(' ') {
                continue;
            }
            let name = words.next().unwrap();
            let lines = listed.lines().filter(|line| line.trim_start().split("  ").next() == Some(name));
            assert_eq!(lines.count(), 1, "{name}: {listed}");
            declared += 1;
        }
    }
    assert_eq!(listed.lines().filter(|line| line.starts_with("  ")).count(), declared, "{listed}");
    assert!(listed.contains("comes with benchleaf"), "{listed}");
}

#[test]
fn a_word_narrows_the_list_and_what_is_not_there_is_told() {
    let scratch = Scratch::new("shelf-word");
    scratch.file("empty.txt", "");
    let oil = shelf(&scratch.path(), &["Oil"]);
    assert!(oil.contains("  clean_oil ") && oil.contains("  oil_sealant "), "{oil}");
    assert!(!oil.contains("socket_13"), "{oil}");
    let none = shelf(&scratch.path(), &["flywheel"]);
    assert!(none.starts_with("nothing has `flywheel` in its name"), "{none}");
}

#[test]
fn what_a_shop_has_of_its_own_is_listed_in_its_place() {
    let scratch = Scratch::new("shelf-own");
    scratch.file("shared/tools.rebuild", "tool long_bar \"Long bar\" { kind other }\n");
    let listed = shelf(&scratch.path(), &[]);
    assert!(
        listed.contains("1 tool, from `shared/tools.rebuild`") && listed.contains("  long_bar  Long bar"),
        "{listed}"
    );
    assert!(!listed.contains("socket_13") && listed.contains("clean_oil"), "{listed}");
    scratch.file("shared/tools.rebuild", "tool long_bar \"Long bar\" { kind bar }\n");
    let mut command = Command::new(env!("CARGO_BIN_EXE_benchleaf"));
    let output = command.arg("shelf").current_dir(scratch.path()).output().unwrap();
    assert_eq!(output.status.code(), Some(1), "{}", stdout(&output));
}

#[test]
fn the_command_is_one_of_those_that_are_listed() {
    assert!(stdout(&benchleaf(&["--help"])).contains("\n  shelf "));
}
