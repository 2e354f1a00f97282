//! What can't be set is told where it was written.

use std::path::Path;

use benchleaf::diagnostics::Diagnostic;
use benchleaf::network::connect;
use benchleaf::packet::PacketOptions;
use benchleaf::page::{PageSetup, lay_out, located};
use benchleaf::procedure::{self, model::Phase};
use benchleaf::record::Job;
use benchleaf::source::Sources;

use crate::expected;
use crate::packet::sheets;

/// Lays out the strip of a procedure that has no fault before that.
fn complaints(sources: &mut Sources, path: &Path) -> Vec<Diagnostic> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let loaded = procedure::load(sources, path.strip_prefix(root).unwrap_or(path));
    assert!(!loaded.has_errors(), "{}", expected::printed(sources, &loaded.diagnostics));
    let procedure = loaded.value.unwrap();
    let connected = connect(&procedure);
    assert!(!connected.has_errors(), "{}", expected::printed(sources, &connected.diagnostics));
    let options = PacketOptions { phase: Phase::Strip, sheets: Vec::new(), all: false, hands: None };
    let (_, packet) = sheets(sources, (&procedure, &connected.value), &Job::default(), None, &options);
    located(lay_out(&packet, &PageSetup::default()).diagnostics, sources)
}

#[test]
fn every_fault_has_its_complaint() {
    expected::fixtures("page", "rebuild", &[], complaints);
}
