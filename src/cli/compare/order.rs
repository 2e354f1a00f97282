//! Two orders of work held against each other: the steps of both that no longer stand where they stood among the others.

use std::collections::BTreeMap;

use super::{Change, Chapter};
use crate::cli::prepared::Prepared;
use crate::plan::step_of;
use crate::procedure::model::Phase;
use crate::sequence::longest_rise;

/// The steps of both editions that stand behind another step than before, as few as tell the whole difference.
pub(super) fn moved(old: &Prepared, new: &Prepared) -> Chapter {
    let mut changes = Vec::new();
    for phase in [Phase::Strip, Phase::Survey, Phase::Build, Phase::Start] {
        let (were, are) = (ids(old, phase), ids(new, phase));
        let kept = |ids: &[String], others: &[String]| -> Vec<String> {
            ids.iter().filter(|id| others.contains(id)).cloned().collect()
        };
        let (were, are) = (kept(&were, &are), kept(&are, &were));
        let places: BTreeMap<&str, usize> =
            were.iter().enumerate().map(|(at, id)| (id.as_str(), at)).collect();
        let before: Vec<usize> = are.iter().map(|id| places[id.as_str()]).collect();
        let steady = longest_rise(&before);
        let behind = |prepared: &Prepared, ids: &[String], at: usize| match at.checked_sub(1) {
            Some(last) => format!("behind \"{}\"", title(prepared, phase, &ids[last])),
            None => "first".to_owned(),
        };
        for (at, id) in are.iter().enumerate().filter(|(at, _)| !steady.contains(&before[*at])) {
            changes.push(Change {
                of: format!("{}, in the {}", title(new, phase, id), phase.word()),
                was: behind(old, &were, before[at]),
                is: behind(new, &are, at),
                at: format!("place {} of those in both", at + 1),
            });
        }
    }
    Chapter { heading: "Order of work", changes }
}

/// The title of a step of a phase.
fn title(prepared: &Prepared, phase: Phase, id: &str) -> String {
    let steps = prepared.plan.phase(phase).into_iter().flat_map(|plan| &plan.steps);
    let found = steps.into_iter().find(|step| step.key.id(&prepared.procedure) == id);
    found.map_or_else(
        || id.to_owned(),
        |step| step_of(&prepared.procedure, &prepared.network, step.source).naming.title.clone(),
    )
}

fn ids(prepared: &Prepared, phase: Phase) -> Vec<String> {
    let plan = prepared.plan.phase(phase);
    plan.iter().flat_map(|plan| &plan.steps).map(|step| step.key.id(&prepared.procedure)).collect()
}
