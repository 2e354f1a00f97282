//! Steps done: every beginning of the order is possible, and a step left out of one is named.

use std::path::Path;

use benchleaf::decide::{decide, progress};
use benchleaf::diagnostics::Diagnostic;
use benchleaf::procedure::model::{Phase, Procedure};
use benchleaf::source::Sources;
use benchleaf::{network, procedure, record};

/// What is said when these steps are done, in this order.
fn told(procedure: &Procedure, network: &network::Network, done: &[&str]) -> Vec<Diagnostic> {
    let mut text = String::from("job: \"1\"\nprocedure: x.rebuild\ndone:\n");
    for id in done {
        text.push_str(&format!("  \"{id}\": {{by: JS, date: 2026-03-05}}\n"));
    }
    let file = Sources::new().add("job.yaml", text.clone());
    let written = record::read(file, &text);
    let job = record::bind(&written.value, procedure);
    assert!(written.diagnostics.is_empty() && job.diagnostics.is_empty(), "{:?}", job.diagnostics);
    let decisions = decide(procedure, &network.structure, &job.value).value;
    progress(procedure, network, &job.value, &decisions)
}

#[test]
fn beginnings_of_the_order_are_possible_and_gaps_are_named() {
    every_beginning("procedures/first/harbour_pump.rebuild");
}

#[test]
fn repeats_of_steps_done_apart_are_told_one_by_one() {
    every_beginning("tests/record/apart.rebuild");
}

/// Tries every beginning of the order of a procedure, through its phases and derived steps, and each gap of one step.
fn every_beginning(path: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    let procedure = procedure::load(&mut Sources::new(), &path).value.unwrap();
    let network = network::connect(&procedure).value;
    let id = |member: &network::Member| member.key.id(&procedure);
    let ids: Vec<String> = [Phase::Strip, Phase::Survey, Phase::Build]
        .iter()
        .filter_map(|phase| network.orders.get(phase))
        .flatten()
        .flat_map(|node| network.nodes[node.index()].members.iter().map(id))
        .collect();
    let order: Vec<&str> = ids.iter().map(String::as_str).collect();
    assert!(order.len() > 10, "{order:?}");
    let mut named = 0;
    for length in 0..=order.len() {
        let beginning = &order[..length];
        let complaints = told(&procedure, &network, beginning);
        assert!(complaints.is_empty(), "{beginning:?}: {complaints:?}");
        // Leaving out a step on which the last one depends is told, with that step's name.
        if let Some((last, rest)) = beginning.split_last() {
            let direct: Vec<String> = network
                .links
                .iter()
                .filter(|link| {
                    network.nodes[link.to.index()].members.iter().any(|member| id(member) == *last)
                })
                .filter_map(|link| network.nodes[link.from.index()].members.last())
                .filter(|member| member.case.is_always())
                .map(id)
                .collect();
            for missing in direct {
                let done: Vec<&str> =
                    rest.iter().copied().filter(|id| *id != missing.as_str()).chain([*last]).collect();
                let complaints = told(&procedure, &network, &done);
                let says = format!("`{missing}` before it is not");
                assert!(
                    complaints.iter().any(|told| told.message.contains(&says)),
                    "{last} without {missing}"
                );
                named += 1;
            }
        }
    }
    assert!(named > 5, "only {named} links were tried");
}
