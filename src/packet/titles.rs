//! Titles of work that nobody wrote a step for: made of the parts that go back on. It must not know what the step that
//! took them off is called.

use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};

use super::bench::Bench;
use crate::decide::shared_name;
use crate::network::StepSource;
use crate::plan::words;
use crate::plan::{Placed, PlacedKind, PlannedStep};
use crate::procedure::model::{
    Deed, FastenerKind, FasteningWork, LockPiece, Locking, PartId, PartKind, PartWork, Pieces, Place, SetId,
};

/// A title names so many parts; of more, the heaviest and dearest. Our own choice, no source.
const NAMED: usize = 3;

/// The title of a block: of one step its own, of several what they fit, or what they tighten.
pub(super) fn block_title(bench: &Bench, steps: &[&PlannedStep]) -> String {
    if let [only] = steps {
        let place = alone_at(bench, only).map(|place| format!(": {place}")).unwrap_or_default();
        return bench.step_title(only) + &place;
    }
    let fitted = fitted(bench, steps);
    let (put_in, tightened) = tightened(bench, steps, &fitted);
    if let Some(host) = common_host(bench, &fitted).filter(|host| only_one(bench, *host))
        && put_in.is_empty()
        && tightened.is_empty()
    {
        return format!("Put {} together", words::the(&bench.procedure.part(host).naming.title));
    }
    let fitted: Vec<String> = listed(bench, fitted).into_iter().chain(put_in).collect();
    match (fitted.is_empty(), tightened.is_empty()) {
        (false, true) => format!("Fit {}", words::list(&fitted)),
        (false, false) => format!("Fit {}; tighten {}", words::list(&fitted), words::list(&tightened)),
        (true, false) => format!("Tighten {}", words::list(&tightened)),
        (true, true) => bench.step_title(steps[0]),
    }
}

/// The places at which a step that nobody wrote does its work, where these are not all.
fn alone_at(bench: &Bench, planned: &PlannedStep) -> Option<String> {
    let StepSource::Derived(_) = planned.source else { return None };
    let procedure = bench.procedure;
    let things: Vec<&Placed> = bench.acts(planned).flat_map(|act| &act.things).collect();
    let kind = things.first()?.kind;
    let of_it = things.iter().filter(|placed| placed.kind == kind).flat_map(|placed| &placed.places);
    let places: BTreeSet<Place> = of_it.copied().collect();
    let axes = kind.axes(procedure);
    if places.len() == procedure.places(axes).len() {
        return None;
    }
    let name = shared_name(procedure, axes, &places.into_iter().collect::<Vec<_>>());
    // A bare number says nothing without the name of what it counts.
    Some(match axes.first().filter(|_| name.starts_with(|first: char| first.is_ascii_digit())) {
        Some(axis) => format!("{} {name}", words::inner(&procedure.axis(*axis).naming.title)),
        None => name,
    })
}

/// What the steps tighten that holds none of these parts: what is put in itself, such as a plug, and what holds.
fn tightened(
    bench: &Bench,
    steps: &[&PlannedStep],
    fitted: &[(PartId, Pieces)],
) -> (Vec<String>, Vec<String>) {
    let procedure = bench.procedure;
    let holds = |set: SetId| {
        let held_by = |(id, _): &(PartId, Pieces)| procedure.part(*id).held_by.iter();
        fitted.iter().flat_map(held_by).any(|holder| holder.what.id == set)
    };
    let (mut put_in, mut tightened) = (Vec::new(), Vec::new());
    let acts = steps.iter().flat_map(|planned| bench.acts(planned));
    let tighten =
        acts.filter(|act| matches!(act.act.deed, Deed::Fasten { work: FasteningWork::Tighten, .. }));
    for placed in tighten.flat_map(|act| &act.things) {
        match placed.kind {
            PlacedKind::Set(id) if !holds(id) => {
                let set = procedure.set(id);
                let goes_in = matches!(set.kind, FastenerKind::Plug | FastenerKind::Stud);
                let of_its_kind = if goes_in { &mut put_in } else { &mut tightened };
                of_its_kind.push(named(&set.naming.title, procedure.set_pieces(id, &placed.places)));
            }
            PlacedKind::Joint(id)
                if !procedure.joint(id).members.iter().any(|member| holds(member.set.id)) =>
            {
                tightened.push(words::the(&procedure.joint(id).naming.title));
            }
            _ => {}
        }
    }
    let mut told = BTreeSet::new();
    tightened.retain(|name| told.insert(name.clone()));
    (put_in, tightened)
}

/// One or several without their number: `the camshaft`, `the head nuts`.
fn named(title: &str, pieces: Pieces) -> String {
    let title = words::the(title);
    if pieces.settled() == Some(1) { title } else { words::plural(&title) }
}

/// The parts that the steps fit, each with how many; without what seals or locks something else, unless nothing is left.
fn fitted(bench: &Bench, steps: &[&PlannedStep]) -> Vec<(PartId, Pieces)> {
    let mut all: Vec<(PartId, Pieces)> = Vec::new();
    for act in steps.iter().flat_map(|planned| bench.acts(planned)) {
        if !matches!(act.act.deed, Deed::Part { work: PartWork::Fit, .. }) {
            continue;
        }
        for placed in &act.things {
            let PlacedKind::Part(id) = placed.kind else { continue };
            let count = bench.procedure.part_pieces(id, &placed.places);
            match all.iter_mut().find(|(other, _)| *other == id) {
                Some((_, known)) => *known = known.and(&count),
                None => all.push((id, count)),
            }
        }
    }
    let main: Vec<(PartId, Pieces)> = all.iter().filter(|(id, _)| !serves(bench, *id)).cloned().collect();
    if main.is_empty() { all } else { main }
}

/// The assembly that several parts all belong to.
fn common_host(bench: &Bench, parts: &[(PartId, Pieces)]) -> Option<PartId> {
    let host = |(id, _): &(PartId, Pieces)| Some(bench.procedure.part(*id).within.as_ref()?.host.id);
    let first = host(parts.first()?)?;
    (parts.len() > 1 && parts.iter().all(|part| host(part) == Some(first))).then_some(first)
}

/// Whether one block alone puts this assembly together, done or not.
fn only_one(bench: &Bench, host: PartId) -> bool {
    let mut blocks: BTreeMap<usize, Vec<&PlannedStep>> = BTreeMap::new();
    for planned in bench.steps().filter(|planned| matches!(planned.source, StepSource::Derived(_))) {
        blocks.entry(planned.number.unwrap_or_default()).or_default().push(planned);
    }
    let into = |steps: &Vec<&PlannedStep>| common_host(bench, &fitted(bench, steps)) == Some(host);
    blocks.values().filter(|steps| into(steps)).count() < 2
}

/// Whether a part is only there for another: a seal, a gasket, a key of a lock.
fn serves(bench: &Bench, part: PartId) -> bool {
    let procedure = bench.procedure;
    let seals = procedure.parts.iter().any(|other| other.sealed_by.iter().any(|seal| seal.id == part));
    let locks = procedure.sets.iter().flat_map(|set| &set.locked_by).any(|lock| {
        matches!(lock.how, Locking::Tab | Locking::SplitPin)
            && matches!(&lock.piece, Some(LockPiece::Part(piece)) if piece.id == part)
    });
    procedure.part(part).kind == Some(PartKind::Gasket) || seals || locks
}

fn listed(bench: &Bench, mut parts: Vec<(PartId, Pieces)>) -> Vec<String> {
    let count = parts.len();
    if count > NAMED {
        let worth = |id: PartId| {
            let part = bench.procedure.part(id);
            let price = part.price.as_ref().map_or(0, |price| price.hundredths);
            (part.mass.map_or(0.0, |mass| mass.base()), price)
        };
        let mut first = parts.clone();
        first.sort_by(|a, b| worth(b.0).partial_cmp(&worth(a.0)).unwrap_or(Ordering::Equal));
        first.truncate(NAMED - 1);
        parts.retain(|part| first.contains(part));
    }
    let title = |id: &PartId| &bench.procedure.part(*id).naming.title;
    let mut names: Vec<String> = parts.iter().map(|(id, pieces)| named(title(id), pieces.clone())).collect();
    if count > parts.len() {
        names.push("what goes with them".to_owned());
    }
    names
}
