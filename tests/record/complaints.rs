//! Complaints about records: each file in `tests/diagnostics/record/` and `tests/diagnostics/decide/`, with the
//! procedure that it names.

use std::path::Path;

use benchleaf::decide::{decide, lint, progress};
use benchleaf::diagnostics::{Diagnostic, sort};
use benchleaf::source::Sources;
use benchleaf::{network, procedure, record};

use crate::tests::expected;

/// The complaints of reading a record and looking its names up in `bench.rebuild`, and those of deciding if asked for.
fn complaints(sources: &mut Sources, path: &Path, deciding: bool) -> Vec<Diagnostic> {
    let bench = path.with_file_name("bench.rebuild");
    let own = path.with_extension("rebuild");
    let bench = if own.exists() { own } else { bench };
    let bench = bench.strip_prefix(env!("CARGO_MANIFEST_DIR")).unwrap();
    let file = sources.read(path).unwrap();
    let text = sources.file(file).text.clone();
    let read = record::read(file, &text);
    let mut diagnostics = read.diagnostics;
    diagnostics.extend(record::same_procedure(&read.value, path, bench));
    let loaded = procedure::load(sources, bench).value.unwrap();
    let bound = record::bind(&read.value, &loaded);
    diagnostics.extend(bound.diagnostics);
    if deciding {
        let network = network::connect(&loaded).value;
        let decided = decide(&loaded, &network.structure, &bound.value);
        diagnostics.extend(decided.diagnostics);
        diagnostics.extend(lint(&loaded));
        diagnostics.extend(progress(&loaded, &network, &bound.value, &decided.value));
    }
    sort(&mut diagnostics);
    // Files are shown by their name alone, so that the expected text is the same wherever the tests run.
    shorten(sources);
    diagnostics
}

fn shorten(sources: &mut Sources) {
    let mut short = Sources::new();
    for (_, file) in sources.files() {
        short.add(file.path.file_name().unwrap(), file.text.clone());
    }
    *sources = short;
}

#[test]
fn records() {
    // A record too large to keep is made in `large_records_are_not_read`.
    let elsewhere = ["too-large"];
    expected::fixtures("record", "yaml", &elsewhere, |sources, path| complaints(sources, path, false));
}

#[test]
fn decisions() {
    expected::fixtures("decide", "yaml", &[], |sources, path| complaints(sources, path, true));
}

#[test]
fn large_records_are_not_read() {
    let mut sources = Sources::new();
    let text = "x".repeat(4 * 1024 * 1024 + 1);
    let file = sources.add("large.yaml", text.clone());
    let found = record::read(file, &text);
    assert_eq!(found.diagnostics.len(), 1);
    assert_eq!(found.diagnostics[0].code.name, "record/too-large");
    assert!(found.diagnostics[0].mend.is_some());
}
