//! Verdicts of whole jobs, as text: `tests/jobs/verdicts/`, each record with its report beside it.

use benchleaf::decide::{decide, verdict_json, verdict_text};
use benchleaf::diagnostics::{Severity, render_lines};
use benchleaf::source::Sources;
use benchleaf::{procedure, record};

use crate::expected;

#[test]
fn reports_are_those_kept_beside_the_records() {
    let folder = expected::folder("jobs/verdicts");
    let mut wrong = Vec::new();
    for path in expected::files(&folder, "yaml") {
        let mut sources = Sources::new();
        let loaded = procedure::load(&mut sources, &folder.join("pump.leaf"));
        let procedure = loaded.value.unwrap();
        let file = sources.read(&path).unwrap();
        let text = sources.file(file).text.clone();
        let read = record::read(file, &text);
        let bound = record::bind(&read.value, &procedure);
        let decided = decide(&procedure, &bound.value);
        let complaints: Vec<_> =
            [loaded.diagnostics, read.diagnostics, bound.diagnostics, decided.diagnostics]
                .concat()
                .into_iter()
                .filter(|diagnostic| diagnostic.severity() != Severity::Notice)
                .collect();
        // `unused` and the like don't bear on a verdict; an error would.
        let errors: Vec<_> = complaints
            .iter()
            .filter(|diagnostic| diagnostic.severity() == Severity::Error)
            .cloned()
            .collect();
        assert!(errors.is_empty(), "{}", render_lines(&sources, &errors));
        let report = verdict_text(&procedure, &bound.value, &decided.value);
        wrong.extend(expected::compare(&path.with_extension("txt"), &report).err());
        let json: serde_json::Value =
            serde_json::from_str(&verdict_json(&procedure, &bound.value, &decided.value)).unwrap();
        assert_eq!(json["parts"].as_array().map(Vec::len), Some(decided.value.fates.len()));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
