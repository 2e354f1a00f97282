//! The word of a person in spite of the procedure: which there are, and which of them want a second name. It must not know
//! what is made of the word; that is in the fates.

use super::book::Book;
use super::{Answer, Asked, Decisions, Meaning, errors, meaning};
use crate::diagnostics::Diagnostic;
use crate::procedure::model::{GaugeId, PartId, Place, Reuse, SetId};
use crate::record::{Goods, Settlement};
use crate::source::Span;

/// Complains of what is cracked, serves once or is critical, and is kept by the word of one person alone.
pub(super) fn second_names(book: &Book, decisions: &Decisions) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    let holes = book.job.settled_holes.iter();
    let holes = holes.map(|((set, place, _), settlement)| (Goods::Set(*set, Some(*place)), settlement));
    let settled = book.job.settled.iter().map(|(goods, settlement)| (*goods, settlement)).chain(holes);
    for (goods, settlement) in settled.filter(|(_, settlement)| settlement.keeps()) {
        let danger = match goods {
            Goods::Part(part, place) => of_part(book, decisions, part, place),
            Goods::Set(set, place) => of_set(book, set, place),
            Goods::Supply(_) => None,
        };
        let name = || super::words::goods_name(book.procedure, goods);
        if let Some((why, declared)) = danger.filter(|_| !has_second(settlement)) {
            found.push(errors::second_name(settlement.span, &name(), why, declared));
        }
    }
    let mut judged: Vec<Span> = Vec::new();
    for finding in &decisions.findings {
        let at = (finding.gauge, finding.place);
        let Some(judgement) = book.job.judged.get(&at) else { continue };
        let alone = judgement.second.is_none() || judgement.second == judgement.signature.by;
        if let (true, false, Some(declared)) = (alone, judged.contains(&judgement.span), critical(book, at)) {
            judged.push(judgement.span);
            let name = Asked::Gauge(finding.gauge, finding.place).name(book.procedure);
            found.push(errors::second_name(
                judgement.span,
                &name,
                "is a reading of something critical",
                declared,
            ));
        }
    }
    found
}

fn has_second(settlement: &Settlement) -> bool {
    settlement.second.is_some() && settlement.second != settlement.signature.by
}

/// Where the part that a gauge measures is declared, if it is critical.
fn critical(book: &Book, at: (GaugeId, Place)) -> Option<Span> {
    let parts = book.procedure.measured(at).into_iter().map(|(part, _)| book.procedure.part(part));
    parts.filter(|part| part.critical).map(|part| part.naming.span).next()
}

fn of_part(
    book: &Book,
    decisions: &Decisions,
    id: PartId,
    place: Option<Place>,
) -> Option<(&'static str, Span)> {
    let part = book.procedure.part(id);
    if part.critical {
        return Some(("is critical", part.naming.span));
    }
    let target = part.crack_test.as_ref()?;
    let places: Vec<Place> =
        place.map_or_else(|| book.procedure.places(&part.axes).collect(), |place| vec![place]);
    let cracked = |place: Place| {
        let bound = book.procedure.bound(&part.axes, place);
        let looks = book.procedure.matching(&book.procedure.look(target.id).axes, &target.pattern, &bound);
        looks.into_iter().any(|at| {
            let asked = Asked::Look(target.id, at);
            let Some(Answer::Settled { answer, .. }) = decisions.answers.get(&asked) else { return false };
            !matches!(
                meaning(asked.answer_name(book.procedure, *answer)),
                Some(Meaning::Back | Meaning::Clean)
            )
        })
    };
    places.into_iter().any(cracked).then(|| ("is cracked", book.procedure.look(target.id).naming.span))
}

fn of_set(book: &Book, id: SetId, place: Option<Place>) -> Option<(&'static str, Span)> {
    let procedure = book.procedure;
    let set = procedure.set(id);
    let joint = procedure.joints.iter().find(|joint| joint.critical && joint.has(id));
    if set.critical || joint.is_some() {
        return Some(("is critical", joint.map_or(set.naming.span, |joint| joint.naming.span)));
    }
    let places: Vec<Place> = place.map_or_else(|| procedure.places(&set.axes).collect(), |place| vec![place]);
    let once = |place: &Place| {
        set.reuse.at(&procedure.bound(&set.axes, *place)).is_some_and(|said| said.value == Reuse::Once)
    };
    places.iter().any(once).then_some(("serves once", set.naming.span))
}
