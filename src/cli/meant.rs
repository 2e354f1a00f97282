//! Things and steps named as they stand on paper: by number, by id or by title, if one thing is meant.

use super::errors;
use crate::diagnostics::Diagnostic;
use crate::gather::steps_named;
use crate::plan::{PlannedStep, Standing, step_of};
use crate::procedure::model::{Phase, Procedure};
use crate::workshop::JobView;

/// Ids of the steps that a word means: a number or a range of them in the phase at work or the one given, an id, a title.
/// Steps that are done already are left out.
///
/// # Errors
/// No step is meant, or only what is done.
pub(super) fn steps(view: &JobView, typed: &str, phase: Option<Phase>) -> Result<Vec<String>, Diagnostic> {
    let plan = match phase {
        Some(phase) => view.plan.phase(phase),
        None => view.plan.at_work(),
    };
    let Some(plan) = plan else { return Err(errors::no_such_step(typed, "nothing is left to be done")) };
    let title = |step: &&PlannedStep| {
        step_of(&view.procedure, &view.network, step.source).naming.title.to_lowercase()
            == typed.to_lowercase()
    };
    let numbers = steps_named(typed);
    let meant: Vec<&PlannedStep> = match &numbers {
        Some(numbers) => {
            let known = |number: &u64| {
                plan.steps.iter().any(|step| step.number.map(|own| own as u64) == Some(*number))
            };
            if let Some(unknown) = numbers.iter().find(|number| !known(number)) {
                let word = plan.phase.word();
                return Err(errors::no_such_step(typed, &format!("the {word} has no step {unknown}")));
            }
            let wanted =
                |step: &&PlannedStep| step.number.is_some_and(|number| numbers.contains(&(number as u64)));
            plan.steps.iter().filter(wanted).collect()
        }
        None => plan.steps.iter().filter(title).collect(),
    };
    if meant.is_empty() {
        // What is no number and no title is an id: whether there is such a step is told where it is written.
        return Ok(vec![typed.to_owned()]);
    }
    let left: Vec<String> = meant
        .iter()
        .filter(|step| step.standing != Standing::Done && step.standing != Standing::Absent)
        .map(|step| step.key.id(&view.procedure))
        .collect();
    if left.is_empty() { Err(errors::no_such_step(typed, "it is done already")) } else { Ok(left) }
}

/// The id of a thing named by its title, with what stands behind it in brackets; anything else as it was typed.
pub(super) fn thing(procedure: &Procedure, typed: &str) -> String {
    let end = typed.find('[').unwrap_or(typed.len());
    let (name, rest) = typed.split_at(end);
    if procedure.names.contains(name.trim()) {
        return typed.to_owned();
    }
    let wanted = name.trim().to_lowercase();
    let mut ids = procedure
        .names
        .iter()
        .filter(|(_, name)| procedure.naming(*name).title.to_lowercase() == wanted)
        .map(|(id, _)| id);
    match (ids.next(), ids.next()) {
        (Some(id), None) => format!("{id}{rest}"),
        _ => typed.to_owned(),
    }
}
