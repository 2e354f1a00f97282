//! Sizes that an engine may have already though nobody has said so: readings that lie at an oversize or undersize that is sold,
//! not near the standard size. It asks, and assumes nothing.

use super::book::Book;
use super::{Hold, PartDecision, Present, Verdict, errors};
use crate::diagnostics::Diagnostic;
use crate::metrology::{Side, Wear};
use crate::procedure::model::{GaugeId, Place};
use crate::record::Occasion;
use crate::structure::PartAt;

/// The size that a gauge may have already: the largest that is sold on whose side of its limits as made every reading lies. None
/// where the record says which it has.
pub(super) fn maybe(book: &Book, at: (GaugeId, Place)) -> Option<Present> {
    if book.job.present.contains_key(&at) {
        return None;
    }
    let (steps, _) = &book.procedure.gauge(at.0).sizes.as_ref()?.value;
    let value = book.value(at.0, at.1, Occasion::AsFound).ok()?;
    let limits = book.procedure.limits(at);
    let over = limits.side()? == Side::Grows;
    let of_this_size = |present: &Present| {
        let moved = limits.moved(present.shift());
        value.each.iter().all(|(_, read)| !matches!(moved.wear(*read), Wear::WrongSide | Wear::Unknown))
    };
    let sold = steps.iter().map(|step| Present { step: *step, over });
    sold.filter(of_this_size).max_by(|a, b| a.step.base().total_cmp(&b.step.base()))
}

/// What holds a part whose size hangs on whether it was bored or ground before: once it is back from the machine shop, nothing
/// does any more.
pub(super) fn asked(book: &Book, part: PartAt, decision: &PartDecision) -> Vec<Hold> {
    let back = book.job.sent.get(&part).is_some_and(|work| work.back.is_some());
    if back || book.by_hand(part).is_some() || matches!(decision.verdict, Verdict::LeaveOut(_)) {
        return Vec::new();
    }
    let mut found = Vec::new();
    for (id, gauge) in book.procedure.gauges.numbered().filter(|(_, gauge)| gauge.sizes.is_some()) {
        let places = book.procedure.places(&gauge.axes);
        let of_it = places.filter(|at| book.procedure.measured((id, *at)).contains(&part));
        for present in of_it.filter_map(|at| maybe(book, (id, at))) {
            let hold = Hold::SizedBefore(id, present.step, present.words());
            if !found.contains(&hold) {
                found.push(hold);
            }
        }
    }
    found
}

/// One complaint for each gauge and each size that it may have already, at the first reading that says so.
pub(super) fn complaints(book: &Book) -> Vec<Diagnostic> {
    let procedure = book.procedure;
    let mut found: Vec<((GaugeId, Present), Vec<Place>)> = Vec::new();
    for (id, gauge) in procedure.gauges.numbered() {
        for at in procedure.places(&gauge.axes) {
            let Some(present) = maybe(book, (id, at)) else { continue };
            match found.iter_mut().find(|(known, _)| *known == (id, present)) {
                Some((_, places)) => places.push(at),
                None => found.push(((id, present), vec![at])),
            }
        }
    }
    let complaint = |((id, present), places): ((GaugeId, Present), Vec<Place>)| {
        let of_it = |reading: &&crate::record::Reading| {
            reading.gauge == id && reading.occasion == Occasion::AsFound && places.contains(&reading.place)
        };
        let first = book.job.readings.iter().find(of_it)?;
        let gauge = procedure.gauge(id);
        let all = places.len() == procedure.places(&gauge.axes).len();
        let names: Vec<String> = if all {
            vec![gauge.naming.id.clone()]
        } else {
            places.iter().map(|at| procedure.placed(&gauge.naming.id, &gauge.axes, *at)).collect()
        };
        Some(errors::sized_before(first.span, &names, present, gauge.naming.span))
    };
    found.into_iter().filter_map(complaint).collect()
}
