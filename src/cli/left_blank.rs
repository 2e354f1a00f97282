//! Blanks of steps that were marked done, and that the record has nothing for. It must not know what follows from them.

use crate::network::connect;
use crate::plan::{Choosing, Placed, PlacedKind, Plan, PlanOptions, PlannedStep, acts, plan_to};
use crate::procedure::model::{Deed, Phase, Place, Procedure, StepKey};
use crate::record::{Job, step_key};
use crate::workshop::Decided;

/// The readings and looks of these steps that nobody has written down, by title and place.
pub(super) fn left_blank<'s>(decided: &Decided, steps: impl Iterator<Item = &'s str>) -> Vec<String> {
    let procedure = &decided.procedure;
    let done: Vec<StepKey> = steps.filter_map(|id| step_key(procedure, id)).collect();
    // Only what reads or looks leaves a blank; for anything else nobody has to plan the job.
    let Some(last) = done.iter().filter_map(|key| reads_in(procedure, key)).max() else { return Vec::new() };
    let options = PlanOptions { recorded: decided.job.follows_goods(), choosing: Choosing::default() };
    let plan = plan_to(procedure, &connect(procedure).value, &decided.decisions, options, last);
    let mut blank = Vec::new();
    for key in &done {
        // A step of several places is meant at each of them where none is named.
        let meant = |step: &&PlannedStep| match (key, &step.key) {
            (StepKey::Written(id, None), StepKey::Written(planned, _)) => id == planned,
            (key, planned) => key == planned,
        };
        for (_, step) in plan.steps().filter(|(_, step)| meant(step)) {
            of_step(procedure, &decided.job, &plan, step, &mut blank);
        }
    }
    blank
}

/// The phase of a step that reads something or looks at something.
fn reads_in(procedure: &Procedure, key: &StepKey) -> Option<Phase> {
    let StepKey::Written(id, _) = key else { return None };
    let step = procedure.step(*id);
    let reads = step.acts().any(|act| matches!(act.deed, Deed::Gauge(_) | Deed::Look(_)));
    reads.then_some(step.phase)
}

fn of_step(procedure: &Procedure, job: &Job, plan: &Plan, step: &PlannedStep, blank: &mut Vec<String>) {
    for placed in acts(step).flat_map(|act| &act.things) {
        let (naming, axes) = match placed.kind {
            PlacedKind::Gauge(id) => (&procedure.gauge(id).naming, &procedure.gauge(id).axes),
            PlacedKind::Look(id) => (&procedure.look(id).naming, &procedure.look(id).axes),
            _ => continue,
        };
        let empty = |place: &&Place| !is_taken(procedure, job, plan, (step, placed, **place));
        blank.extend(placed.places.iter().filter(empty).map(
            |place| match procedure.place_name(axes, *place) {
                place if place.is_empty() => naming.title.clone(),
                place => format!("{} {place}", naming.title),
            },
        ));
    }
}

/// Whether the record has something for a reading or look of a step at a place.
fn is_taken(
    procedure: &Procedure,
    job: &Job,
    plan: &Plan,
    (step, placed, place): (&PlannedStep, &Placed, Place),
) -> bool {
    let occasion = plan.occasion(procedure, step, (placed.kind, place));
    match placed.kind {
        PlacedKind::Gauge(id) => {
            job.readings.iter().any(|read| (read.gauge, read.place, read.occasion) == (id, place, occasion))
        }
        PlacedKind::Look(id) => {
            job.looks.iter().any(|taken| (taken.look, taken.place, taken.occasion) == (id, place, occasion))
        }
        _ => true,
    }
}
