//! New parts that must have come, and in the right size, before they go in or before something is machined to them.

use std::collections::BTreeSet;

use super::book::Book;
use super::changed::comes_later;
use super::follow::{sized_parts, standard_parts};
use super::{Decisions, Hold, Size, Verdict, errors};
use crate::diagnostics::Diagnostic;
use crate::procedure::model::{Fate, FateChoice, GaugeId, PartId, Place};
use crate::quantity::Quantity;
use crate::record::{Goods, Job, Occasion, Order};
use crate::source::Span;
use crate::structure::PartAt;

/// Things that came in.
pub(super) fn in_hand(job: &Job) -> BTreeSet<Goods> {
    job.orders.iter().filter(|(_, order)| order.arrived.is_some()).map(|(goods, _)| *goods).collect()
}

/// The order of a part at one place, or of all of its places.
fn order_of<'a>(book: &Book<'a>, part: PartId, place: Place) -> Option<(Goods, &'a Order)> {
    [Goods::Part(part, Some(place)), Goods::Part(part, None)]
        .into_iter()
        .find_map(|goods| book.job.orders.get(&goods).map(|order| (goods, order)))
}

/// What speaks against a new part: it has not come, or not in the size that is needed.
pub(super) fn not_in_hand(book: &Book, part: PartId, place: Place, size: Option<Quantity>) -> Option<Hold> {
    match (order_of(book, part, place), size) {
        (Some((goods, order)), Some(size)) if order.arrived.is_some() => {
            let right = order.size.is_some_and(|found| same(found, size));
            (!right).then_some(Hold::WrongSize(goods, size))
        }
        (Some((_, order)), None) if order.arrived.is_some() => None,
        _ => Some(Hold::NotInHand(Goods::Part(part, None))),
    }
}

/// What speaks against a part that has come in some oversize or undersize, though what it goes with has none, or though it comes
/// in no sizes at all.
pub(super) fn not_standard(book: &Book, decisions: &Decisions, (part, place): PartAt) -> Option<Hold> {
    let (goods, order) = order_of(book, part, place)?;
    let one_size = || standard(book, decisions, (part, place)) || !comes_in_sizes(book, (part, place));
    let wrong = order.arrived.is_some() && in_a_size(order) && one_size();
    wrong.then_some(Hold::NotStandard(goods))
}

/// What speaks against fasteners that have come in some oversize or undersize: they come in none.
pub(super) fn not_a_fastener(book: &Book, goods: Goods) -> Option<Hold> {
    let order = book.job.orders.get(&goods)?;
    (order.arrived.is_some() && in_a_size(order)).then_some(Hold::NotStandard(goods))
}

/// Whether a part is bought in several sizes: in that of something else, or as one of several pieces, or because a gauge is read
/// on it that has sizes of its own, so that one that somebody has machined already can be bought.
fn comes_in_sizes(book: &Book, key: PartAt) -> bool {
    let procedure = book.procedure;
    let of_its_own = || {
        let mut gauges = procedure.gauges.numbered().filter(|(_, gauge)| gauge.sizes.is_some());
        gauges.any(|(id, gauge)| {
            procedure.places(&gauge.axes).any(|at| procedure.measured((id, at)).contains(&key))
        })
    };
    procedure.part(key.0).select_from.is_some() || sized_parts(book).contains(&key) || of_its_own()
}

/// Whether goods that were ordered come in one size only, wherever they go in. Supplies are sold by whatever size they have.
fn comes_in_one_size(book: &Book, goods: Goods) -> bool {
    match goods {
        Goods::Part(id, Some(place)) => !comes_in_sizes(book, (id, place)),
        Goods::Part(id, None) => {
            let mut places = book.procedure.places(&book.procedure.part(id).axes);
            places.all(|place| !comes_in_sizes(book, (id, place)))
        }
        Goods::Set(..) => true,
        Goods::Supply(_) => false,
    }
}

fn in_a_size(order: &Order) -> bool {
    order.size.is_some_and(|size| size.base() != 0.0)
}

fn standard(book: &Book, decisions: &Decisions, key: PartAt) -> bool {
    standard_parts(book, &decisions.fates).contains(&key)
}

/// Complains of what was ordered in another size than goes in, in one where it has none, or in none where one is needed, from the
/// day on which it is ordered.
pub(super) fn wrong_sizes(book: &Book, decisions: &Decisions) -> Vec<Diagnostic> {
    let mut told: Vec<Span> = Vec::new();
    let mut found = Vec::new();
    for (goods, order) in book.job.orders.iter().filter(|(_, order)| in_a_size(order)) {
        if comes_in_one_size(book, *goods) {
            told.push(order.span);
            let name = super::words::goods_name(book.procedure, *goods);
            found.push(errors::no_such_size(&name, order));
        }
    }
    for ((part, place), decision) in &decisions.fates {
        let Verdict::Renew { size } = decision.verdict else { continue };
        let Some((goods, order)) = order_of(book, *part, *place) else { continue };
        let right = match size {
            Some(size) => order.size.is_some_and(|ordered| same(ordered, size)),
            None => !in_a_size(order) || !standard(book, decisions, (*part, *place)),
        };
        if !right && !told.contains(&order.span) {
            told.push(order.span);
            let name = super::words::goods_name(book.procedure, goods);
            found.push(errors::wrong_size(order.span, &name, order.size, size));
        }
    }
    found
}

/// Whether a part is machined or renewed by its verdict.
fn becomes_new(decisions: &Decisions, part: PartId, place: Place) -> bool {
    let verdict = decisions.fates.get(&(part, place)).map(|decision| &decision.verdict);
    matches!(verdict, Some(Verdict::Machine { .. } | Verdict::Renew { .. }))
}

/// Whether two sizes are the same, be they written in different units.
fn same(a: Quantity, b: Quantity) -> bool {
    (a.base() - b.base()).abs() <= 1e-9 * a.base().abs()
}

/// The new parts that go into a part must be there and measured before it is sized. Which they are, a clearance
/// between the two tells; where none does, something in the size that is machined to must have come.
pub(super) fn parts_to_size_by(
    book: &Book,
    decisions: &Decisions,
    part: PartId,
    place: Place,
    to: &[Size],
) -> Vec<Hold> {
    let mut fates = book.procedure.part(part).fate.iter().flat_map(FateChoice::fates);
    let by_parts_in_hand = fates.any(|fate| *fate == Fate::SizeByPartsInHand);
    let mut holds = Vec::new();
    for size in to {
        let partners = partners(book, part, place, size.gauge);
        let bought = bought_by(book, part, place, size.gauge);
        holds.extend(bought.iter().filter_map(|(new, at)| not_in_hand(book, *new, *at, Some(size.step))));
        if partners.is_empty() && bought.is_empty() && by_parts_in_hand {
            let mut orders = book.job.orders.values().filter(|order| order.arrived.is_some());
            if !orders.any(|order| order.size.is_some_and(|found| same(found, size.step))) {
                holds.push(Hold::NothingInSize(size.step));
            }
        }
        for (gauge, at) in partners {
            let partners = book.procedure.measured((gauge, at)).into_iter();
            for (partner, place) in partners.filter(|(part, place)| becomes_new(decisions, *part, *place)) {
                match not_in_hand(book, partner, place, Some(size.step)) {
                    Some(hold) => holds.push(hold),
                    None if book.grid(gauge, at, Occasion::AsBuilt).is_err()
                        && !comes_later(book, gauge, at) =>
                    {
                        holds.push(Hold::NewPartUnmeasured(gauge, at));
                    }
                    None => {}
                }
            }
        }
    }
    holds.dedup();
    holds
}

/// Parts that are bought in the size that a gauge of a part is machined to, by what the procedure says of them.
fn bought_by(book: &Book, part: PartId, place: Place, gauge: GaugeId) -> Vec<(PartId, Place)> {
    let procedure = book.procedure;
    let mut found = Vec::new();
    for (id, other) in procedure.parts.numbered() {
        for at in procedure.places(&other.axes) {
            let bound = procedure.bound(&other.axes, at);
            let sized = other.sized_by.iter().filter(|target| target.id == gauge).any(|target| {
                let mut meant = procedure.meant(target, &bound).into_iter();
                meant.any(|at| procedure.measured(at).contains(&(part, place)))
            });
            if sized {
                found.push((id, at));
            }
        }
    }
    found
}

/// Gauges of other parts that are computed with together with this gauge of a part.
fn partners(book: &Book, part: PartId, place: Place, sized: GaugeId) -> Vec<(GaugeId, Place)> {
    let mut found = Vec::new();
    for (id, gauge) in book.procedure.gauges.numbered() {
        if gauge.formula.is_none() {
            continue;
        }
        for at in book.procedure.places(&gauge.axes) {
            let inputs = book.inputs(id, at);
            let of = |input: &(GaugeId, Place)| book.procedure.measured(*input);
            let mut own = inputs.iter().filter(|(gauge, _)| *gauge == sized);
            if own.any(|input| of(input).contains(&(part, place))) {
                let other =
                    |input: &&(GaugeId, Place)| of(input).first().is_some_and(|(other, _)| *other != part);
                found.extend(inputs.iter().filter(other).copied());
            }
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}
