//! What can't be set is told where it was written.

use std::path::Path;

use benchleaf::model::Phase;
use benchleaf::{Diagnostic, Memory, PacketOptions, PageSetup, Request, Sources, Workshop, lay_out, located};

use crate::expected;

/// What is said of the letters of a procedure, else what laying out its strip says.
fn complaints(sources: &mut Sources, path: &Path) -> Vec<Diagnostic> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut workshop = Workshop::new();
    let opened = workshop.job(&Request::of(path.strip_prefix(root).unwrap_or(path)));
    let complaints = match opened.value {
        Some(view) => {
            let packet = view.packet(&workshop, &PacketOptions::of(Phase::Strip));
            located(lay_out(&packet, &PageSetup::default()).diagnostics, workshop.sources())
        }
        None => opened.diagnostics.into_iter().filter(|said| said.code.name.starts_with("page/")).collect(),
    };
    *sources = workshop.sources().clone();
    complaints
}

#[test]
fn every_fault_has_its_complaint() {
    expected::fixtures("page", "rebuild", &[], complaints);
}

#[test]
fn what_cannot_be_set_is_refused_by_check_and_by_all_that_makes_something_of_it() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for name in ["missing-glyph", "unsupported-script"] {
        let path = expected::folder("diagnostics/page").join(name).with_extension("rebuild");
        let path = path.strip_prefix(root).unwrap();
        let checked = Workshop::new().check(path).diagnostics;
        assert!(checked.iter().any(|found| found.code.name == format!("page/{name}")), "{checked:?}");
        assert!(Workshop::new().job(&Request::of(path)).value.is_none());
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
    assert_eq!(&record[only.labels[0].span.start()..only.labels[0].span.end()], "伟");
}
