//! `order` as a user runs it: the list with its cost, and the same work shared by two.

use std::path::Path;

use super::{benchleaf, stderr, stdout};
use crate::expected;

const STAND: &str = "tests/cli/order/stand.rebuild";
/// Told station by station, as nobody would work it.
const TOLD: &str = "procedures/first/sea_chest.rebuild";
const ALONE: &str = "tests/cli/order/alone.rebuild";
const SLOW: &str = "tests/cli/order/slow.crib.yaml";

#[test]
fn what_order_prints() {
    let mut complaints = Vec::new();
    for (name, procedure, options) in [
        ("chosen", STAND, &["--changes"][..]),
        ("chosen_slow", STAND, &["--changes", "--crib", SLOW]),
        ("hands", STAND, &["--hands", "2"]),
        ("hands_slow", STAND, &["--hands", "2", "--crib", SLOW]),
        ("hands_json", STAND, &["--hands", "2", "--format", "json"]),
        ("told", TOLD, &[]),
    ] {
        let output = benchleaf(&[&["order", procedure], options].concat());
        assert_eq!(output.status.code(), Some(0), "{name}: {}", stderr(&output));
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/cli/order/{name}.txt"));
        complaints.extend(expected::compare(&path, &stdout(&output)).err());
    }
    let alone = benchleaf(&["order", ALONE, "--hands", "2"]);
    assert_eq!(alone.status.code(), Some(0), "{}", stderr(&alone));
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cli/order/alone.txt");
    complaints.extend(expected::compare(&path, &stdout(&alone)).err());
    assert!(complaints.is_empty(), "{}", complaints.join("\n"));
}

#[test]
fn a_slower_stand_makes_the_work_of_two_longer() {
    let span = |options: &[&str]| -> f64 {
        let output = benchleaf(&[&["order", STAND, "--hands", "2", "--format", "json"], options].concat());
        let report: serde_json::Value = serde_json::from_str(&stdout(&output)).unwrap();
        report["span"].as_f64().unwrap()
    };
    // The stand is turned once: a minute by usual times, five by the crib.
    assert!((span(&["--crib", SLOW]) - span(&[]) - 4.0).abs() < 1e-9);
}

#[test]
fn a_change_that_no_bench_knows_is_told_with_its_line() {
    let scratch = super::Scratch::new("changes");
    let crib = scratch.file("crib.yaml", "changes:\n  socket: 5 s\n  hoists: 6 min\n");
    let output = benchleaf(&["order", STAND, "--crib", &crib]);
    assert_eq!(output.status.code(), Some(1));
    let text = stderr(&output);
    assert!(
        text.contains("crib.yaml, line 3") && text.contains("`hoists`") && text.contains("`hoist`"),
        "{text}"
    );
    assert!(output.stdout.is_empty());
}

/// The lines of the README that show an order, and its example of a crib's changes.
#[test]
fn the_readme_holds() {
    let readme = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap();
    let shown = |line: &&str| line.starts_with("benchleaf order ") || line.starts_with("benchleaf why ");
    let lines: Vec<&str> = readme.lines().filter(shown).collect();
    assert!(lines.len() >= 5, "{lines:?}");
    for line in lines {
        let arguments: Vec<&str> = line.split_whitespace().skip(1).collect();
        let output = benchleaf(&arguments);
        assert_eq!(output.status.code(), Some(0), "{line}: {}", stderr(&output));
        assert!(!output.stdout.is_empty(), "{line}");
    }
    let example = readme.lines().find(|line| line.starts_with("changes: {")).unwrap();
    let mut sources = benchleaf::Sources::new();
    let file = sources.add("crib.yaml", example);
    let crib = benchleaf::read_crib(file, example);
    assert!(crib.diagnostics.is_empty(), "{:?}", crib.diagnostics);
    assert_eq!(crib.value.changes.len(), 7);
}
