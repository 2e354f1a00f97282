//! The network: its proof against brute force, its derived build, its links, and its rules.

mod oracle;
mod world;

use benchleaf::network::{Network, connect};
use benchleaf::procedure::model::Procedure;
use benchleaf::source::Sources;

/// Parses and resolves a text that must be free of errors, and connects it.
pub(crate) fn connected(text: &str) -> (Procedure, Network, Vec<benchleaf::diagnostics::Diagnostic>, Sources) {
    let mut sources = Sources::new();
    let file = sources.add("test.leaf", text);
    let tree = benchleaf::language::parse(file, &sources.file(file).text);
    assert!(!tree.has_errors(), "{}\n{text}", benchleaf::diagnostics::render_lines(&sources, &tree.diagnostics));
    let resolved = benchleaf::procedure::resolve(&[tree.value]);
    assert!(!resolved.has_errors(), "{}\n{text}", benchleaf::diagnostics::render_lines(&sources, &resolved.diagnostics));
    let network = connect(&resolved.value);
    (resolved.value, network.value, network.diagnostics, sources)
}
