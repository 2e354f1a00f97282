//! What is odd about a procedure's results, whatever the job.

use super::errors;
use super::meaning::{Meaning, meaning};
use crate::diagnostics::Diagnostic;
use crate::metrology::Fit;
use crate::procedure::model::{
    Band, Edges, FastenerSet, Fate, FateChoice, Formula, Function, Gauge, GaugeId, Judge, Lengths, Operator,
    Procedure, Question, Reuse,
};
use crate::procedure::said_limits;
use crate::quantity::Quantity;
use crate::source::Span;

/// Complains of results that say nothing of what becomes of the part that hangs on them.
pub(crate) fn lint(procedure: &Procedure) -> Vec<Diagnostic> {
    let mut diagnostics = Vec::new();
    results_without_meaning(procedure, &mut diagnostics);
    falls_to_else(procedure, &mut diagnostics);
    new_ones_condemned(procedure, &mut diagnostics);
    diagnostics
}

/// A band in base units.
pub(super) fn fit(edges: &Edges) -> Fit {
    Fit { low: edges.low.map(|low| low.base()), high: edges.high.map(|high| high.base()) }
}

/// Complains of each result that a fate hangs on and that says nothing of what becomes of the part.
fn results_without_meaning(procedure: &Procedure, diagnostics: &mut Vec<Diagnostic>) {
    let mut told: Vec<Span> = Vec::new();
    for part in &procedure.parts {
        let fates = part.fate.iter().flat_map(FateChoice::fates);
        for judge in
            fates.filter_map(|fate| if let Fate::By(judges) = fate { Some(judges) } else { None }).flatten()
        {
            let (results, id): (Vec<(&str, Span)>, &str) = match judge {
                Judge::Gauge(target) => {
                    let gauge = procedure.gauge(target.id);
                    let bands = gauge.bands.iter().map(|band| (band.name.as_str(), band.span)).collect();
                    (bands, &gauge.naming.id)
                }
                Judge::Look(target) => {
                    let look = procedure.look(target.id);
                    (
                        look.results.iter().map(|result| (result.as_str(), look.naming.span)).collect(),
                        &look.naming.id,
                    )
                }
            };
            let span = match judge {
                Judge::Gauge(target) => target.span,
                Judge::Look(target) => target.span,
            };
            for (result, declared) in results {
                if meaning(result).is_none() && !told.contains(&declared) {
                    told.push(declared);
                    diagnostics.push(errors::result_without_meaning(
                        result,
                        id,
                        &part.naming.id,
                        declared,
                        span,
                    ));
                }
            }
        }
    }
}

/// Complains of each result that says that a part won't do, and that its fate lets fall to an `else` by which it goes back.
fn falls_to_else(procedure: &Procedure, diagnostics: &mut Vec<Diagnostic>) {
    for part in &procedure.parts {
        let Some(choice) = part.fate.as_ref().filter(|choice| !choice.cases.is_empty()) else { continue };
        let back = matches!(&choice.otherwise, None | Some(Fate::Reuse | Fate::CleanThenReuse));
        let terms = || choice.cases.iter().flat_map(|(_, guard)| &guard.0);
        let mut asked: Vec<(&str, &Question)> = Vec::new();
        for question in terms().map(|term| &term.question) {
            let id = match question {
                Question::Ask(_) => continue,
                Question::Gauge(target) => procedure.gauge(target.id).naming.id.as_str(),
                Question::Look(target) => procedure.look(target.id).naming.id.as_str(),
            };
            if back && !asked.iter().any(|(known, _)| *known == id) {
                asked.push((id, question));
            }
        }
        for (id, question) in asked {
            let results: Vec<&str> = match question {
                Question::Ask(_) => Vec::new(),
                Question::Gauge(target) => {
                    procedure.gauge(target.id).bands.iter().map(|band| band.name.as_str()).collect()
                }
                Question::Look(target) => {
                    procedure.look(target.id).results.iter().map(String::as_str).collect()
                }
            };
            let named =
                |index: usize| terms().any(|term| same(&term.question, question) && term.answer == index);
            for (_, result) in results.into_iter().enumerate().filter(|(index, _)| !named(*index)) {
                if matches!(meaning(result), Some(Meaning::Machine | Meaning::Renew)) {
                    diagnostics.push(errors::falls_to_else(result, id, &part.naming.id, choice.span));
                }
            }
        }
    }
}

/// Whether two questions ask the same gauge or look, at whatever places.
fn same(one: &Question, other: &Question) -> bool {
    match (one, other) {
        (Question::Gauge(a), Question::Gauge(b)) => a.id == b.id,
        (Question::Look(a), Question::Look(b)) => a.id == b.id,
        _ => false,
    }
}

/// What the formula of a gauge comes to for parts that are at one end of their limits as made, and at the other.
fn as_computed(procedure: &Procedure, gauge: &Gauge) -> Option<(Vec<f64>, Span)> {
    let (formula, span) = gauge.formula.as_ref()?;
    let low = |made: &(Quantity, Option<Quantity>)| made.0.base();
    let high = |made: &(Quantity, Option<Quantity>)| made.1.unwrap_or(made.0).base();
    Some((vec![computed(procedure, formula, low)?, computed(procedure, formula, high)?], *span))
}

/// A formula with one value for all readings of a gauge; none where it tells readings of one gauge apart.
fn computed(
    procedure: &Procedure,
    formula: &Formula,
    end: fn(&(Quantity, Option<Quantity>)) -> f64,
) -> Option<f64> {
    match formula {
        Formula::Amount(amount) => Some(amount.base()),
        Formula::Count(count) => Some(*count),
        Formula::Reading(target) => {
            let mut made = procedure.gauge(target.id).made.values();
            made.next().filter(|_| made.next().is_none()).map(|made| end(&made.value))
        }
        Formula::Operation { operator, left, right } => {
            let (left, right) = (computed(procedure, left, end)?, computed(procedure, right, end)?);
            Some(match operator {
                Operator::Add => left + right,
                Operator::Subtract => left - right,
                Operator::Multiply => left * right,
                Operator::Divide => left / right,
            })
        }
        Formula::Call { function, arguments } => {
            let values: Option<Vec<f64>> =
                arguments.iter().map(|argument| computed(procedure, argument, end)).collect();
            match function {
                Function::Max => values?.into_iter().reduce(f64::max),
                Function::Min => values?.into_iter().reduce(f64::min),
                _ => None,
            }
        }
    }
}

/// The length that the fasteners are bought in that a gauge judges, in metres, and where it is said.
fn as_bought(procedure: &Procedure, gauge: GaugeId) -> Option<(Vec<f64>, Span)> {
    let judges = |set: &&FastenerSet| {
        set.reuse.values().any(|reuse| matches!(&reuse.value, Reuse::By(target) if target.id == gauge))
    };
    let set = procedure.sets.iter().find(judges)?;
    set.lengths.values().find_map(|stated| match &stated.value {
        Lengths::One(length) => Some((vec![length.base()], stated.span)),
        Lengths::Unknown | Lengths::ByHole(_) => None,
    })
}

/// Complains of a gauge whose bands condemn what is as made.
fn new_ones_condemned(procedure: &Procedure, diagnostics: &mut Vec<Diagnostic>) {
    for (id, gauge) in procedure.gauges.numbered() {
        let said = procedure.places(&gauge.axes).flat_map(|place| said_limits(procedure, gauge, place));
        let condemned = said.into_iter().find_map(|said| {
            let edges = said.edges?;
            let (limits, span) = match said.made {
                Some(made) => {
                    let ends = [Some(made.value.0), made.value.1];
                    (ends.into_iter().flatten().map(Quantity::base).collect(), made.span)
                }
                None if gauge.best_at_nought => (vec![0.0], gauge.naming.span),
                None => as_computed(procedure, gauge).or_else(|| as_bought(procedure, id))?,
            };
            let holds = |edges: &Edges| {
                let Fit { low, high } = fit(edges);
                limits.iter().all(|limit| {
                    low.is_none_or(|low| low <= *limit) && high.is_none_or(|high| *limit <= high)
                })
            };
            let condemns = |(band, edges): &(&Band, &Edges)| {
                holds(edges) && matches!(meaning(&band.name), Some(Meaning::Machine | Meaning::Renew))
            };
            let (band, _) = gauge.bands.iter().zip(&edges.value).find(condemns)?;
            Some(errors::new_one_condemned(&band.name, &gauge.naming.id, band.span, span))
        });
        diagnostics.extend(condemned);
    }
}
