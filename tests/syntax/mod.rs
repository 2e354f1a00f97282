//! The language: what parses and into which tree, and what is said about what doesn't.

mod bounds;
mod guide;
mod highlighting;
mod mutations;
mod print;
mod reference;

use std::path::Path;

use benchleaf::diagnostics::{Diagnostic, render_lines};
use benchleaf::language::parse;
use benchleaf::language::tree::Tree;
use benchleaf::source::Sources;

use crate::tests::expected;

/// Parses a text under this name.
fn parse_text(sources: &mut Sources, name: &str, text: &str) -> (Tree, Vec<Diagnostic>) {
    let file = sources.add(name, text);
    let outcome = parse(file, text);
    (outcome.value, outcome.diagnostics)
}

/// Parses a file under its name without folders, so that complaints read alike on every machine.
fn parse_file(sources: &mut Sources, path: &Path) -> (Tree, Vec<Diagnostic>) {
    let text = std::fs::read_to_string(path).unwrap();
    parse_text(sources, &path.file_name().unwrap().to_string_lossy(), &text)
}

#[test]
fn sound_files_give_the_tree_beside_them() {
    let mut wrong = Vec::new();
    for path in expected::files(&expected::folder("syntax/ok"), "rebuild") {
        let mut sources = Sources::new();
        let (tree, diagnostics) = parse_file(&mut sources, &path);
        assert!(diagnostics.is_empty(), "{}", render_lines(&sources, &diagnostics));
        let mut printed = String::new();
        for item in &tree.items {
            printed.push_str(&print::print(item, 110));
        }
        for comment in &tree.comments {
            printed.push_str(&format!("{}\n", comment.value));
        }
        wrong.extend(expected::compare(&path.with_extension("txt"), &printed).err());
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn each_fault_is_told_at_the_smallest_place_with_help() {
    expected::fixtures("language", "rebuild", &["too-large", "too-many", "not-laid-out"], |sources, path| {
        parse_file(sources, path).1
    });
}

#[test]
fn ten_faults_give_ten_complaints() {
    let path = expected::folder("diagnostics/language").join("unexpected-and-nine-more.rebuild");
    let text = std::fs::read_to_string(&path).unwrap();
    let mut sources = Sources::new();
    let (_, diagnostics) = parse_file(&mut sources, &path);
    // The fixture marks each line with a fault by a comment.
    let marked: Vec<usize> = text
        .lines()
        .enumerate()
        .filter(|(_, line)| line.contains("-- fault"))
        .map(|(at, _)| at + 1)
        .collect();
    let (_, file) = sources.files().next().unwrap();
    let told: Vec<usize> =
        diagnostics.iter().map(|diagnostic| file.position(diagnostic.labels[0].span.start()).line).collect();
    assert_eq!(marked.len(), 10);
    assert_eq!(told, marked, "{}", render_lines(&sources, &diagnostics));
}

#[test]
fn every_shipped_procedure_is_spelt_right() {
    for path in mutations::procedures(&Path::new(env!("CARGO_MANIFEST_DIR")).join("procedures")) {
        let mut sources = Sources::new();
        let (_, diagnostics) = parse_file(&mut sources, &path);
        assert!(diagnostics.is_empty(), "{}", render_lines(&sources, &diagnostics));
    }
}
