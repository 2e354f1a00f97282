//! What can't be set is told where it was written.

use std::path::Path;

use benchleaf::model::Phase;
use benchleaf::{Diagnostic, PacketOptions, PageSetup, Request, Sources, Workshop, lay_out, located};

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
