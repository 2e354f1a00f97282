//! What can't be set is told where it was written.

use std::path::Path;

use benchleaf::model::Phase;
use benchleaf::{Diagnostic, Memory, PacketOptions, PageSetup, Request, Sources, Workshop, lay_out, located};

use crate::expected;
use crate::packet::view;

/// Lays out the strip of a procedure that has no fault before that.
fn complaints(sources: &mut Sources, path: &Path) -> Vec<Diagnostic> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut workshop = Workshop::new();
    let view = view(&mut workshop, &Request::of(path.strip_prefix(root).unwrap_or(path)));
    let packet = view.packet(&workshop, &PacketOptions::of(Phase::Strip));
    let complaints = located(lay_out(&packet, &PageSetup::default()).diagnostics, workshop.sources());
    *sources = workshop.sources().clone();
    complaints
}

#[test]
fn every_fault_has_its_complaint() {
    expected::fixtures("page", "rebuild", &[], complaints);
}

#[test]
fn what_cannot_be_set_is_told_before_it_is_printed() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for name in ["missing-glyph", "unsupported-script"] {
        let path = expected::folder("diagnostics/page").join(name).with_extension("rebuild");
        let mut sources = Sources::new();
        let printed = complaints(&mut sources, &path);
        assert!(!printed.is_empty());
        let mut workshop = Workshop::new();
        let checked = workshop.check(path.strip_prefix(root).unwrap()).diagnostics;
        let shown = |found: &Diagnostic| {
            let place = found.labels.first().map(|label| (label.span.start, label.span.end));
            (found.code.name, place)
        };
        for complaint in &printed {
            assert!(checked.iter().any(|found| shown(found) == shown(complaint)), "{name}: {checked:?}");
        }
    }
}

#[test]
fn what_cannot_be_set_of_a_record_is_told_before_it_is_printed() {
    let procedure = "family x \"X\" { origin \"invented\"  invented }\npart cover \"Cover\"\n\
        strip off \"Cover off\" { take cover }\n";
    let record =
        "# 漢 in a comment is printed nowhere\njob: \"1\"\nprocedure: x.rebuild\ncustomer: Zhang 伟\n";
    let files = Memory::new().with("x.rebuild", procedure).with("x.job.yaml", record);
    let found = Workshop::over(files).check_record(Path::new("x.job.yaml"));
    let [only] = found.as_slice() else { panic!("{found:?}") };
    assert_eq!(only.code.name, "page/unsupported-script");
    assert_eq!(&record[only.labels[0].span.start..only.labels[0].span.end], "伟");
}
