//! The language: what parses, and into which tree.

use benchleaf::diagnostics::render_lines;
use benchleaf::language::parse;
use benchleaf::source::Sources;

#[test]
fn everything_parses() {
    let text = std::fs::read_to_string("tests/syntax/ok/everything.leaf").unwrap();
    let mut sources = Sources::new();
    let file = sources.add("everything.leaf", text.clone());
    let outcome = parse(file, &text);
    assert!(outcome.diagnostics.is_empty(), "{}", render_lines(&sources, &outcome.diagnostics));
    println!("{:#?}", outcome.value);
}
