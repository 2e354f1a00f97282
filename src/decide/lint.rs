//! What is odd about a procedure's results, whatever the job.

use super::errors;
use super::meaning::{Meaning, meaning};
use crate::diagnostics::Diagnostic;
use crate::metrology::Fit;
use crate::procedure::model::{Band, Edges, Fate, FateChoice, Judge, Procedure, Question};
use crate::procedure::said_limits;
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

/// Complains of a gauge whose bands condemn what is as made.
fn new_ones_condemned(procedure: &Procedure, diagnostics: &mut Vec<Diagnostic>) {
    for gauge in &procedure.gauges {
        let said = procedure.places(&gauge.axes).flat_map(|place| said_limits(procedure, gauge, place));
        let condemned = said.into_iter().find_map(|said| {
            let (made, edges) = (said.made?, said.edges?);
            let limits = [Some(made.value.0), made.value.1];
            let holds = |edges: &Edges| {
                let Fit { low, high } = fit(edges);
                limits.iter().flatten().all(|limit| {
                    low.is_none_or(|low| low <= limit.base()) && high.is_none_or(|high| limit.base() <= high)
                })
            };
            let condemns = |(band, edges): &(&Band, &Edges)| {
                holds(edges) && matches!(meaning(&band.name), Some(Meaning::Machine | Meaning::Renew))
            };
            let (band, _) = gauge.bands.iter().zip(&edges.value).find(condemns)?;
            Some(errors::new_one_condemned(&band.name, &gauge.naming.id, band.span, made.span))
        });
        diagnostics.extend(condemned);
    }
}
