//! Every file in `tests/diagnostics/record/` and the complaints it gives, one line each, kept beside it.

use std::fs;
use std::path::Path;

use benchleaf::diagnostics::{render_lines, sort};
use benchleaf::record;
use benchleaf::source::Sources;

/// The complaints about a record, one line each.
fn complaints(path: &Path) -> (String, Vec<&'static str>) {
    let mut sources = Sources::new();
    let name = path.file_name().unwrap().to_string_lossy().into_owned();
    let text = fs::read_to_string(path).unwrap();
    let file = sources.add(name, text.clone());
    let mut diagnostics = record::read(file, &text).diagnostics;
    sort(&mut diagnostics);
    let found = diagnostics.iter().map(|diagnostic| diagnostic.code.name).collect();
    (render_lines(&sources, &diagnostics), found)
}

#[test]
fn each_fixture_gives_the_complaints_kept_beside_it() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/diagnostics/record");
    let mut faults = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|extension| extension != "yaml") {
            continue;
        }
        let (found, names) = complaints(&path);
        // A fixture is named by the code that it shows, with more words where there are several.
        let shown = path.file_stem().unwrap().to_string_lossy().into_owned();
        if !names.iter().any(|name| shown.starts_with(name.trim_start_matches("record/"))) {
            faults.push(format!("{shown}: none of {names:?}"));
        }
        // After a change that is meant: BENCHLEAF_KEEP=1 cargo test --test main record::complaints
        if std::env::var_os("BENCHLEAF_KEEP").is_some() {
            fs::write(path.with_extension("txt"), &found).unwrap();
        }
        let expected = fs::read_to_string(path.with_extension("txt")).unwrap_or_default();
        if found != expected {
            faults.push(format!("{shown}: expected\n{expected}but found\n{found}"));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
