//! What can't be set is told where it was written.

use std::path::Path;

use benchleaf::decide::decide;
use benchleaf::diagnostics::Diagnostic;
use benchleaf::network::connect;
use benchleaf::packet::{Material, PacketOptions, packet};
use benchleaf::page::{PageSetup, lay_out, located};
use benchleaf::plan::{Choosing, PlanOptions, plan};
use benchleaf::procedure::{self, model::Phase};
use benchleaf::record::Job;
use benchleaf::source::Sources;

use crate::expected;

/// Lays out the strip of a procedure that has no fault before that.
fn complaints(sources: &mut Sources, path: &Path) -> Vec<Diagnostic> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let loaded = procedure::load(sources, path.strip_prefix(root).unwrap_or(path));
    assert!(!loaded.has_errors(), "{}", expected::printed(sources, &loaded.diagnostics));
    let procedure = loaded.value.unwrap();
    let connected = connect(&procedure);
    assert!(!connected.has_errors(), "{}", expected::printed(sources, &connected.diagnostics));
    let network = connected.value;
    let job = Job::default();
    let decisions = decide(&procedure, &job).value;
    let plan = plan(
        &procedure,
        &network,
        &decisions,
        PlanOptions { recorded: false, choosing: Choosing::default() },
    );
    let material = Material {
        sources,
        procedure: &procedure,
        network: &network,
        decisions: &decisions,
        plan: &plan,
        job: &job,
        shop: None,
        touched: &[],
    };
    let options = PacketOptions { phase: Phase::Strip, sheets: Vec::new(), all: false, hands: None };
    located(lay_out(&packet(&material, &options), &PageSetup::default()).diagnostics, sources)
}

#[test]
fn every_fault_has_its_complaint() {
    expected::fixtures("page", "leaf", &[], complaints);
}
