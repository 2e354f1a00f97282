//! Parts that are at the machine shop though their order could not be given yet, and parts accepted though a reading of them
//! as they came back is not good.

use std::collections::BTreeMap;

use super::{Decisions, Hold, Verdict, errors};
use crate::diagnostics::Diagnostic;
use crate::procedure::model::Procedure;
use crate::record::Job;
use crate::source::Span;

/// One complaint for each entry of the record that sends something out too soon. What is back again is judged by
/// how it came back.
pub(super) fn sent_too_soon(procedure: &Procedure, job: &Job, decisions: &Decisions) -> Vec<Diagnostic> {
    let mut found: BTreeMap<Span, (&str, Vec<String>)> = BTreeMap::new();
    for ((part, place), work) in &job.sent {
        let Some(decision) = decisions.fates.get(&(*part, *place)) else { continue };
        let away = work.sent.is_some() && work.back.is_none();
        if !away || !matches!(decision.verdict, Verdict::Machine { .. } | Verdict::Open) {
            continue;
        }
        let mut waits: Vec<String> = decision.before_sending().map(|hold| hold.words(procedure)).collect();
        if waits.is_empty() && decision.verdict == Verdict::Open {
            waits.push("what becomes of it is not settled".to_owned());
        }
        if waits.is_empty() {
            continue;
        }
        let name = procedure.part(*part).naming.id.as_str();
        let (_, all) = found.entry(work.span).or_insert_with(|| (name, Vec::new()));
        waits.retain(|wait| !all.contains(wait));
        all.extend(waits);
    }
    found
        .into_iter()
        .map(|(span, (part, waits))| errors::sent_too_soon(span, part, waits.join("; ")))
        .collect()
}

/// One complaint for each entry of the record that accepts what a reading says is not good: the readings hold the part all the
/// same.
pub(super) fn accepted_not_good(procedure: &Procedure, job: &Job, decisions: &Decisions) -> Vec<Diagnostic> {
    let mut found: BTreeMap<Span, (&str, Vec<String>)> = BTreeMap::new();
    for ((part, place), work) in job.sent.iter().filter(|(_, work)| work.accepted.is_some()) {
        let Some(decision) = decisions.fates.get(&(*part, *place)) else { continue };
        let not_good = decision.holds.iter().filter(|hold| matches!(hold, Hold::NotGood(..)));
        let words: Vec<String> = not_good.map(|hold| hold.words(procedure)).collect();
        if !words.is_empty() {
            let name = procedure.part(*part).naming.id.as_str();
            found.entry(work.span).or_insert_with(|| (name, Vec::new())).1.extend(words);
        }
    }
    let told = found.into_iter();
    told.map(|(span, (part, words))| errors::accepted_not_good(span, part, &words.join("; "))).collect()
}
