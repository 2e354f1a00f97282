//! What is odd about a procedure's results, whatever the job.

use super::errors;
use super::meaning::meaning;
use crate::diagnostics::Diagnostic;
use crate::metrology::Fit;
use crate::procedure::model::{Edges, Fate, FateChoice, Judge, Procedure};
use crate::source::Span;

/// Complains of results that say nothing of what becomes of the part that hangs on them.
pub(crate) fn lint(procedure: &Procedure) -> Vec<Diagnostic> {
    let mut diagnostics = Vec::new();
    results_without_meaning(procedure, &mut diagnostics);
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
