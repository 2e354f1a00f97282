//! What readings give: behind the last reading that a clearance or the like is worked out from, what that is and what it has
//! to be, so that whoever holds the instrument knows what the figure is for. It must not work anything out.

use super::bench::Bench;
use super::reading;
use crate::plan::words::{capital, inner};
use crate::plan::{Placed, PlacedKind, PlannedStep, Standing};
use crate::procedure::model::{Deed, Formula, Function, GaugeId, Operator, Place};
use crate::sheet::{StepLine, Text};

/// The lines behind the readings of a gauge at some places.
pub(super) fn lines(bench: &Bench, planned: &PlannedStep, read: &Placed) -> Vec<StepLine> {
    let PlacedKind::Gauge(id) = read.kind else { return Vec::new() };
    let procedure = bench.procedure;
    let occasion = reading::occasion(bench, planned, read);
    let given = procedure.gauges.numbered().filter_map(|(other, gauge)| {
        let (formula, _) = gauge.formula.as_ref()?;
        let inputs: Vec<GaugeId> = formula.readings().iter().map(|target| target.id).collect();
        let limited = !gauge.made.is_empty() || gauge.worn.values().any(|worn| worn.value.is_some());
        let others_read = || inputs.iter().all(|input| *input == id || read_before(bench, planned, *input));
        if !limited || !inputs.contains(&id) || inputs.iter().all(|input| *input == id) || !others_read() {
            return None;
        }
        let places: Vec<Place> = procedure
            .places(&gauge.axes)
            .filter(|place| {
                let behind = procedure.readings_behind(other, *place);
                read.places.iter().any(|at| behind.contains(&(id, *at)))
            })
            .collect();
        let limits = reading::limit(bench, other, &places, occasion);
        let text = Text::bold(format!("Gives the {}: ", inner(&gauge.naming.title)));
        let worked_out = told(bench, formula);
        let worked_out = worked_out.trim_end_matches(',');
        Some(StepLine::Note(text.and(format!("{worked_out}. {}.", capital(&limits)))))
    });
    given.collect()
}

/// Whether a gauge is read in a step before this one, or in this one.
fn read_before(bench: &Bench, planned: &PlannedStep, gauge: GaugeId) -> bool {
    let reads = |step: &PlannedStep| {
        bench.acts(step).any(|act| {
            matches!(act.act.deed, Deed::Gauge(_))
                && act.things.iter().any(|placed| placed.kind == PlacedKind::Gauge(gauge))
        })
    };
    let there = |step: &&PlannedStep| step.standing != Standing::Absent;
    let phases = bench.material.plan.phases.iter().filter(|plan| plan.phase < bench.phase);
    let mut earlier = phases.flat_map(|plan| &plan.steps);
    let here = bench.plan.steps.iter().position(|step| step.key == planned.key).unwrap_or_default();
    earlier.any(|step| there(&step) && reads(step))
        || bench.plan.steps[..=here].iter().filter(there).any(reads)
}

/// A formula as it is said at the bench: `smallest cylinder bore less piston skirt`.
fn told(bench: &Bench, formula: &Formula) -> String {
    match formula {
        Formula::Amount(amount) => amount.printed(),
        Formula::Count(count) => count.to_string(),
        Formula::Reading(target) => inner(&bench.procedure.gauge(target.id).naming.title),
        Formula::Operation { operator, left, right } => {
            let sign = match operator {
                Operator::Add => "plus",
                Operator::Subtract => "less",
                Operator::Multiply => "times",
                Operator::Divide => "divided by",
            };
            format!("{} {sign} {}", of_an_operation(bench, left), of_an_operation(bench, right))
        }
        Formula::Call { function, arguments } => {
            let word = match function {
                Function::Max => "largest",
                Function::Min => "smallest",
                Function::Mean => "mean",
                Function::Sum => "sum of",
                Function::Spread => "largest less smallest",
                Function::OutOfRound => "out of round of",
                Function::Taper => "taper of",
            };
            let arguments: Vec<String> = arguments.iter().map(|argument| told(bench, argument)).collect();
            format!("{word} {}", arguments.join(", "))
        }
    }
}

/// One side of an operation: an operation of its own stands in brackets, and a name that goes on behind a comma is closed by
/// one.
fn of_an_operation(bench: &Bench, formula: &Formula) -> String {
    let words = told(bench, formula);
    match formula {
        Formula::Operation { .. } => format!("({words})"),
        _ if words.contains(", ") => format!("{words},"),
        _ => words,
    }
}
