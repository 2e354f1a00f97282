//! The network: its proof against brute force, its derived build, its links, and its rules.

mod banks;
mod counts;
mod crowds;
mod handling;
mod handling_mutants;
mod locks;
mod limits;
mod mutants;
mod place_mutants;
mod oracle;
mod swapped_bands;
mod world;

use benchleaf::network::{Network, connect};
use benchleaf::procedure::model::Procedure;
use benchleaf::source::Sources;

use crate::tests::expected;

/// Parses and resolves a text that must be free of errors, and connects it.
pub(crate) fn connected(
    text: &str,
) -> (Procedure, Network, Vec<benchleaf::diagnostics::Diagnostic>, Sources) {
    let mut sources = Sources::new();
    let file = sources.add("test.rebuild", text);
    let tree = benchleaf::language::parse(file, &sources.file(file).text);
    assert!(
        !tree.has_errors(),
        "{}\n{text}",
        benchleaf::diagnostics::render_lines(&sources, &tree.diagnostics)
    );
    let resolved = benchleaf::procedure::resolve(&[tree.value]);
    assert!(
        !resolved.has_errors(),
        "{}\n{text}",
        benchleaf::diagnostics::render_lines(&sources, &resolved.diagnostics)
    );
    let network = connect(&resolved.value);
    (resolved.value, network.value, network.diagnostics, sources)
}

/// Complaints of a fixture's network; its text must be read and resolved without errors.
fn complaints(sources: &mut Sources, path: &std::path::Path) -> Vec<benchleaf::diagnostics::Diagnostic> {
    let path = path.strip_prefix(env!("CARGO_MANIFEST_DIR")).unwrap();
    let outcome = benchleaf::procedure::load(sources, path);
    assert!(!outcome.has_errors(), "{}", expected::printed(sources, &outcome.diagnostics));
    let mut diagnostics = connect(&outcome.value.unwrap()).diagnostics;
    benchleaf::diagnostics::sort(&mut diagnostics);
    diagnostics
}

#[test]
fn every_fault_of_the_order_has_its_fixture() {
    expected::fixtures("network", "rebuild", &["too-many-answers", "too-many-acts"], complaints);
}

#[test]
fn what_is_done_right_raises_no_complaint() {
    for path in expected::files(&expected::folder("network/ok"), "rebuild") {
        let mut sources = Sources::new();
        let diagnostics = complaints(&mut sources, &path);
        assert!(diagnostics.is_empty(), "{}:\n{}", path.display(), expected::printed(&sources, &diagnostics));
    }
}

/// A need met under `questions` pairs of answers, each by a step of its own; two questions a step make the
/// combinations multiply.
fn many_answers(pairs: usize, terms: usize) -> String {
    let mut text = String::from("family demo \"Demo\" { edition 1  origin \"invented\" }\n");
    for ask in 0..pairs * terms {
        text += &format!("ask q{ask} \"Question {ask}?\" = yes, no\n");
    }
    text += "state oil \"Oil\" = full (at first), drained\n";
    for step in 0..pairs {
        let when: Vec<String> = (0..terms).map(|term| format!("q{} = yes", step * terms + term)).collect();
        text +=
            &format!("strip drain{step} \"Drain\" {{ when {}  set oil = drained }}\n", when.join(" and "));
    }
    let after: Vec<String> = (0..pairs).map(|step| format!("drain{step}")).collect();
    text += &format!(
        "strip pump \"Look into the sump\" {{ after {}  needs oil = drained  do \"Look.\" }}\n",
        after.join(", ")
    );
    text
}

#[test]
fn twenty_independent_questions_are_proved() {
    let (_, network, _, _) = connected(&many_answers(20, 1));
    // It fails exactly when every one of the twenty is answered no: one combination, told once.
    assert_eq!(network.faults.len(), 1);
    assert_eq!(network.faults[0].cases.len(), 1);
    assert_eq!(network.faults[0].cases[0].terms().count(), 20);
}

#[test]
fn too_many_acts_on_one_thing_are_reported_and_not_passed_over() {
    let codes = |steps: usize| -> Vec<&str> {
        let mut text = String::from("family demo \"Demo\" { edition 1  origin \"invented\" }\n");
        text += "state oil \"Oil\" = full (at first), drained\n";
        text += "strip pump \"Look into the sump\" { needs oil = drained  do \"Look.\" }\n";
        for step in 0..steps {
            text += &format!("strip drain{step} \"Drain\" {{ set oil = drained }}\n");
        }
        connected(&text).2.iter().map(|told| told.code.name).collect()
    };
    assert!(!codes(100).contains(&"network/too-many-acts"));
    assert!(codes(16_001).contains(&"network/too-many-acts"));
}

#[test]
fn too_many_answers_are_reported_and_not_passed_over() {
    let (_, _, diagnostics, _) = connected(&many_answers(25, 2));
    assert!(diagnostics.iter().any(|d| d.code.name == "network/too-many-answers"));
}
