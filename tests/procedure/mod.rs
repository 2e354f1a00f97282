//! The domain model: what resolves, into what, and what is complained of.

mod differing;
mod in_full;
mod lay;
mod proposed;
mod resolve;
mod said;
mod whole;

use std::path::Path;

use benchleaf::diagnostics::{Diagnostic, Outcome};
use benchleaf::language::parse;
use benchleaf::procedure::model::Procedure;
use benchleaf::procedure::{load, resolve as resolve_trees};
use benchleaf::source::Sources;

use crate::tests::expected;

/// Loads the file at `path`, which complaints show relative to the package.
fn loaded(sources: &mut Sources, path: &Path) -> Outcome<Option<Procedure>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    load(sources, path.strip_prefix(root).unwrap_or(path))
}

/// Resolves a text behind a family; a fault of spelling fails the test.
fn resolved(text: &str) -> Outcome<Procedure> {
    let text = format!("family engine \"Engine\" {{ origin \"invented\" }}\n{text}");
    let mut sources = Sources::new();
    let file = sources.add("test.rebuild", text.clone());
    let parsed = parse(file, &text);
    assert!(parsed.diagnostics.is_empty(), "{:#?}", parsed.diagnostics);
    resolve_trees(&[parsed.value])
}

/// Resolves a text that must be without any complaint.
fn clean(text: &str) -> Procedure {
    let outcome = resolved(text);
    assert!(outcome.diagnostics.is_empty(), "{:#?}", outcome.diagnostics);
    outcome.value
}

fn codes(diagnostics: &[Diagnostic]) -> Vec<&'static str> {
    diagnostics.iter().map(|diagnostic| diagnostic.code.name).collect()
}

#[test]
fn every_fault_has_its_complaint() {
    expected::fixtures("procedure", "rebuild", &["unknown-unit"], |sources, path| {
        loaded(sources, path).diagnostics
    });
}
