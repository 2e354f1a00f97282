//! What the name of a band or result means for the part that it judges.

use super::errors;
use crate::diagnostics::Diagnostic;
use crate::procedure::model::{Fate, Judge, Procedure};
use crate::source::Span;

/// What a result means for a part, from best to worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Meaning {
    /// It goes back.
    Back,
    /// It is cleaned and goes back.
    Clean,
    /// It is machined.
    Machine,
    /// It is renewed.
    Renew,
}

/// Words of the trade with what they mean; a result may be one of them or begin with one, as in `grind_light`.
const WORDS: [(&str, Meaning); 46] = [
    ("good", Meaning::Back),
    ("sound", Meaning::Back),
    ("fit", Meaning::Back),
    ("reuse", Meaning::Back),
    ("keep", Meaning::Back),
    ("serviceable", Meaning::Back),
    ("straight", Meaning::Back),
    ("smooth", Meaning::Back),
    ("flat", Meaning::Back),
    ("ok", Meaning::Back),
    ("within", Meaning::Back),
    ("holds", Meaning::Back),
    ("opens", Meaning::Back),
    ("intact", Meaning::Back),
    ("clean", Meaning::Clean),
    ("dirty", Meaning::Clean),
    ("machine", Meaning::Machine),
    ("bore", Meaning::Machine),
    ("rebore", Meaning::Machine),
    ("grind", Meaning::Machine),
    ("regrind", Meaning::Machine),
    ("hone", Meaning::Machine),
    ("skim", Meaning::Machine),
    ("lap", Meaning::Machine),
    ("recut", Meaning::Machine),
    ("resleeve", Meaning::Machine),
    ("repair", Meaning::Machine),
    ("renew", Meaning::Renew),
    ("replace", Meaning::Renew),
    ("scrap", Meaning::Renew),
    ("cracked", Meaning::Renew),
    ("bent", Meaning::Renew),
    ("broken", Meaning::Renew),
    ("worn", Meaning::Renew),
    ("pitted", Meaning::Renew),
    ("scored", Meaning::Renew),
    ("grooved", Meaning::Renew),
    ("chipped", Meaning::Renew),
    ("leaks", Meaning::Renew),
    ("leaking", Meaning::Renew),
    ("stuck", Meaning::Renew),
    ("loose", Meaning::Renew),
    ("thin", Meaning::Renew),
    ("perished", Meaning::Renew),
    ("weak", Meaning::Renew),
    ("burnt", Meaning::Renew),
];

/// What a result means; none for a word that says nothing of what becomes of a part.
pub fn meaning(result: &str) -> Option<Meaning> {
    let first = result.split('_').next().unwrap_or(result);
    WORDS.iter().find(|(word, _)| *word == result || *word == first).map(|(_, meaning)| *meaning)
}

/// Complains of each result that a fate hangs on and that says nothing of what becomes of the part.
pub(super) fn complain(procedure: &Procedure, diagnostics: &mut Vec<Diagnostic>) {
    let mut told: Vec<Span> = Vec::new();
    for part in &procedure.parts {
        let choice = part.fate.as_ref();
        let fates = choice
            .into_iter()
            .flat_map(|choice| choice.cases.iter().map(|(fate, _)| fate).chain(&choice.otherwise));
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
