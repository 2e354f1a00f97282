//! Every hazard, tool, coat, lock and lift fact of a shipped family, and what drives and holds its fasteners, taken out one at a time, is noticed, or stands in the list of
//! that family beside this file with the reason why nobody but the author can know it; and so is each hazard of a step
//! that is moved behind the acts.

use std::collections::BTreeSet;

use benchleaf::language::tree::{
    FastenerClause, Handling, Item, PartClause, Step, StepClause, SupplyClause, ToolClause, Tree,
};
use benchleaf::network::connect;
use benchleaf::procedure;
use benchleaf::source::Sources;
use rayon::prelude::*;

use super::mutants::{Mutant, held_by_list, shipped, words};

pub(super) type Said = BTreeSet<(&'static str, String)>;

fn step_mutants(sources: &Sources, step: &Step) -> Vec<(String, Step)> {
    let mut found = Vec::new();
    let id = &step.name.value;
    for (index, clause) in step.clauses.iter().enumerate() {
        match &clause.value {
            StepClause::Hazard(..) => {
                let said = words(sources, clause.span);
                let mut without = step.clone();
                let moved = without.clauses.remove(index);
                let mut behind = without.clone();
                behind.clauses.push(moved);
                found.push((format!("{id}: {said}"), without));
                found.push((format!("{id}: {said}, moved behind the acts"), behind));
            }
            StepClause::Tools(tools, scope) => {
                for (place, tool) in tools.iter().enumerate() {
                    let mut without = step.clone();
                    let mut left = tools.clone();
                    left.remove(place);
                    if left.is_empty() {
                        without.clauses.remove(index);
                    } else {
                        without.clauses[index].value = StepClause::Tools(left, scope.clone());
                    }
                    found.push((format!("{id}: tools {}", tool.name.value), without));
                }
            }
            _ => {}
        }
    }
    found
}

/// The clauses of a declaration that say how a thing is handled, each taken out.
macro_rules! without_each {
    ($sources:expr, $declaration:expr, $kind:path, $handles:expr, $add:expr) => {
        for (index, clause) in $declaration.clauses.iter().enumerate() {
            if $handles(&clause.value) {
                let mut without = $declaration.clone();
                without.clauses.remove(index);
                let name = format!("{}: {}", $declaration.name.value, words($sources, clause.span));
                $add(name, $kind(without));
            }
        }
    };
}

fn mutants(sources: &Sources, trees: &[Tree]) -> Vec<Mutant> {
    let mut found = Vec::new();
    for (tree, items) in trees.iter().enumerate() {
        for (item, declared) in items.items.iter().enumerate() {
            let mut add = |name: String, without: Item| {
                found.push(Mutant { name, tree, item, without: Some(without) });
            };
            match declared {
                Item::Step(step) => {
                    step_mutants(sources, step)
                        .into_iter()
                        .for_each(|(name, step)| add(name, Item::Step(step)));
                }
                Item::Group(group) => {
                    for (index, step) in group.steps.iter().enumerate() {
                        for (name, step) in step_mutants(sources, step) {
                            let mut group = group.clone();
                            group.steps[index] = step;
                            add(name, Item::Group(group));
                        }
                    }
                }
                Item::Part(part) => {
                    let handles = |clause: &PartClause| {
                        if let PartClause::Handling(handling) = clause {
                            return matches!(**handling, Handling::With(..) | Handling::Hazard(..));
                        }
                        matches!(
                            clause,
                            PartClause::Coat { .. }
                                | PartClause::Dry(..)
                                | PartClause::LiftAt(_)
                                | PartClause::Mass(_)
                                | PartClause::Falls(..)
                        )
                    };
                    without_each!(sources, part, Item::Part, handles, add);
                }
                Item::Fasteners(set) => {
                    let handles = |clause: &FastenerClause| {
                        if let FastenerClause::Handling(handling) = clause {
                            return matches!(**handling, Handling::With(..) | Handling::Hazard(..));
                        }
                        matches!(
                            clause,
                            FastenerClause::Thread(_)
                                | FastenerClause::Drive(_)
                                | FastenerClause::Reuse(_)
                                | FastenerClause::LockedBy { .. }
                                | FastenerClause::Oil { .. }
                                | FastenerClause::Apply(..)
                        )
                    };
                    without_each!(sources, set, Item::Fasteners, handles, add);
                }
                Item::Tool(tool) => {
                    let handles = |clause: &ToolClause| matches!(clause, ToolClause::Hazard(_));
                    without_each!(sources, tool, Item::Tool, handles, add);
                }
                Item::Supply(supply) => {
                    let handles = |clause: &SupplyClause| matches!(clause, SupplyClause::Hazard(_));
                    without_each!(sources, supply, Item::Supply, handles, add);
                }
                Item::Setup(setup) if setup.hazard.is_some() => {
                    let mut without = setup.clone();
                    without.hazard = None;
                    add(format!("{}: hazard of its change", setup.name.value), Item::Setup(without));
                }
                Item::State(state) => {
                    for (index, (hazard, value)) in state.hazards.iter().enumerate() {
                        let mut without = state.clone();
                        without.hazards.remove(index);
                        let (state, hazard) = (&state.name.value, &hazard.name.value);
                        add(format!("{state}: hazard {hazard} while {}", value.value), Item::State(without));
                    }
                }
                _ => {}
            }
        }
    }
    found
}

/// What is said of the trees that wasn't said before; the network is asked only where the room below is silent.
pub(super) fn noticed(trees: &[Tree], before: &(Said, Said)) -> bool {
    let (resolved, network) = said(trees, |resolved| !resolved.is_subset(&before.0));
    !resolved.is_subset(&before.0) || !network.is_subset(&before.1)
}

pub(super) fn said(trees: &[Tree], enough: impl Fn(&Said) -> bool) -> (Said, Said) {
    let key = |found: benchleaf::diagnostics::Diagnostic| (found.code.name, found.message);
    let resolved = procedure::resolve(trees);
    let complaints: Said = resolved.diagnostics.into_iter().map(key).collect();
    if enough(&complaints) {
        return (complaints, Said::new());
    }
    let network = connect(&resolved.value).diagnostics.into_iter().map(key).collect();
    (complaints, network)
}

fn held(family: &str) {
    let (sources, trees) = shipped(family);
    let before = said(&trees, |_| false);
    let mutants = mutants(&sources, &trees);
    assert!(mutants.len() > 150, "only {} mutants", mutants.len());
    let silent: Vec<(String, String)> = mutants
        .into_par_iter()
        .filter_map(|mutant| {
            let name = mutant.name.clone();
            (!noticed(&mutant.apply(&trees), &before)).then(|| (name, String::new()))
        })
        .collect();
    held_by_list(&silent, &format!("{family}.handling_mutants.txt"));
}

#[test]
fn every_fact_of_handling_that_is_taken_out_is_noticed_or_listed_with_its_reason() {
    held("brackwater3");
}

#[test]
fn every_fact_of_handling_of_the_engine_in_two_banks_is_noticed_or_listed_with_its_reason() {
    held("hallowmere4");
}
