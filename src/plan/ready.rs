//! Which steps can be worked at once: nothing holds them, and all that comes before them is behind.

use super::{PhasePlan, PlannedStep, Standing};

/// Steps of a phase that can be done now, in its order.
pub(crate) fn can_be_done(plan: &PhasePlan) -> Vec<&PlannedStep> {
    let place = |step: &PlannedStep| plan.order.iter().position(|node| *node == step.node);
    let left: Vec<bool> = plan
        .order
        .iter()
        .map(|node| plan.steps.iter().any(|step| step.node == *node && step.standing.is_left()))
        .collect();
    // A link goes on through what is left out or done.
    let mut blocked = vec![false; plan.order.len()];
    for at in 0..plan.order.len() {
        let before = plan.edges.iter().filter(|(_, to)| *to == at);
        blocked[at] = before.into_iter().any(|(from, _)| left[*from] || blocked[*from]);
    }
    let mut met = Vec::new();
    let mut ready = Vec::new();
    for step in &plan.steps {
        let Some(at) = place(step).filter(|_| step.standing.is_left()) else { continue };
        // Of steps that no order splits only the first that is left.
        let first = !met.contains(&step.node);
        met.push(step.node);
        if first && !blocked[at] && step.standing == Standing::Present && step.waits_for.is_empty() {
            ready.push(step);
        }
    }
    ready
}
