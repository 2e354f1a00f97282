//! Whole procedures: those that are shipped, and large ones.

use std::path::Path;

use benchleaf::diagnostics::{Severity, render_lines};
use benchleaf::procedure::model::StepId;
use benchleaf::procedure::roots;
use benchleaf::source::Sources;

use super::{clean, loaded};

#[test]
fn every_shipped_procedure_resolves() {
    let mut sources = Sources::new();
    let found = roots(&mut sources, Path::new("procedures")).unwrap();
    assert!(!found.is_empty());
    for path in found {
        let outcome = loaded(&mut sources, &path);
        let errors: Vec<_> =
            outcome.diagnostics.into_iter().filter(|d| d.severity() == Severity::Error).collect();
        assert!(errors.is_empty(), "{}", render_lines(&sources, &errors));
    }
}

/// A procedure of `count` parts in a row, each under the one before, each with a step of its own.
fn row(count: usize) -> String {
    let mut text = String::from("part part_0 \"Part\"\nstrip take_0 \"Take\" { take part_0 }\n");
    for index in 1..count {
        let before = index - 1;
        text.push_str(&format!(
            "part part_{index} \"Part\" {{ under part_{before} }}\n\
             strip take_{index} \"Take\" {{ after take_{before}  take part_{index} }}\n"
        ));
    }
    text
}

#[test]
fn ten_thousand_steps_resolve() {
    let procedure = clean(&row(10_000));
    assert_eq!(procedure.steps.len(), 10_000);
    assert_eq!(procedure.step(StepId(9_999)).after.len(), 1);
}

/// Every text that comes of leaving out one word of a small procedure.
fn without_a_word(text: &str) -> Vec<String> {
    let starts = text
        .char_indices()
        .filter(|(at, c)| !c.is_whitespace() && (*at == 0 || text[..*at].ends_with(char::is_whitespace)));
    starts
        .map(|(start, _)| {
            let rest = &text[start..];
            let end = start + rest.find(char::is_whitespace).unwrap_or(rest.len());
            format!("{}{}", &text[..start], &text[end..])
        })
        .collect()
}

#[test]
fn no_missing_word_breaks_anything() {
    let mut sources = Sources::new();
    let mut told = 0;
    for path in ["procedures/first/cover.rebuild", "procedures/first/impeller.rebuild"] {
        let text = std::fs::read_to_string(path).unwrap();
        for changed in without_a_word(&text) {
            let file = sources.add("changed.rebuild", changed.clone());
            let parsed = benchleaf::language::parse(file, &changed);
            let outcome = benchleaf::procedure::resolve(&[parsed.value]);
            for diagnostic in &outcome.diagnostics {
                for label in &diagnostic.labels {
                    assert!(label.span.start() <= label.span.end() && label.span.end() <= changed.len());
                }
            }
            told += usize::from(!parsed.diagnostics.is_empty() || !outcome.diagnostics.is_empty());
        }
    }
    assert!(told > 100, "{told} of the changed texts are complained of");
}
