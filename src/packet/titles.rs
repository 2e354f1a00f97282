//! Titles of work that nobody wrote a step for: made of the parts that go back on. It must not know what the step that
//! took them off is called.

use super::bench::Bench;
use crate::plan::words;
use crate::plan::{PlacedKind, PlannedStep};
use crate::procedure::model::{Deed, FasteningWork, LockPiece, Locking, PartId, PartWork, Pieces, SetId};

/// A title names so many parts; of more, the heaviest. Our own choice, no source.
const NAMED: usize = 3;

/// The title of a block: of one step its own, of several what they fit, or what they tighten.
pub(super) fn block_title(bench: &Bench, steps: &[&PlannedStep]) -> String {
    if let [only] = steps {
        return bench.step_title(only);
    }
    let fitted = fitted(bench, steps);
    if let Some(host) = common_host(bench, &fitted) {
        return format!("Put {} together", words::the(&bench.procedure.part(host).naming.title));
    }
    let tightened = tightened(bench, steps, &fitted);
    match (fitted.is_empty(), tightened.is_empty()) {
        (false, true) => format!("Fit {}", listed(bench, fitted)),
        (false, false) => format!("Fit {}; tighten {}", listed(bench, fitted), words::list(&tightened)),
        (true, false) => format!("Tighten {}", words::list(&tightened)),
        (true, true) => bench.step_title(steps[0]),
    }
}

/// What the steps tighten that holds none of these parts.
fn tightened(bench: &Bench, steps: &[&PlannedStep], fitted: &[(PartId, Pieces)]) -> Vec<String> {
    let procedure = bench.procedure;
    let holds = |set: SetId| {
        let held_by = |(id, _): &(PartId, Pieces)| procedure.part(*id).held_by.iter();
        fitted.iter().flat_map(held_by).any(|holder| holder.what.id == set)
    };
    steps
        .iter()
        .flat_map(|planned| bench.acts(planned))
        .filter(|act| matches!(act.act.deed, Deed::Fasten { work: FasteningWork::Tighten, .. }))
        .flat_map(|act| &act.things)
        .filter_map(|placed| match placed.kind {
            PlacedKind::Set(id) if !holds(id) => Some(words::the(&procedure.set(id).naming.title)),
            PlacedKind::Joint(id)
                if !procedure.joint(id).members.iter().any(|member| holds(member.set.id)) =>
            {
                Some(words::the(&procedure.joint(id).naming.title))
            }
            _ => None,
        })
        .collect()
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

/// Whether a part is only there for another: a seal, a key of a lock.
fn serves(bench: &Bench, part: PartId) -> bool {
    let procedure = bench.procedure;
    let seals = procedure.parts.iter().any(|other| other.sealed_by.iter().any(|seal| seal.id == part));
    let locks = procedure.sets.iter().flat_map(|set| &set.locked_by).any(|lock| {
        matches!(lock.how, Locking::Tab | Locking::SplitPin)
            && matches!(&lock.piece, Some(LockPiece::Part(piece)) if piece.id == part)
    });
    seals || locks
}

fn listed(bench: &Bench, mut parts: Vec<(PartId, Pieces)>) -> String {
    let count = parts.len();
    if count > NAMED {
        let mass = |id: PartId| bench.procedure.part(id).mass.map_or(0.0, |mass| mass.base());
        let mut heaviest = parts.clone();
        heaviest.sort_by(|a, b| mass(b.0).total_cmp(&mass(a.0)));
        heaviest.truncate(NAMED - 1);
        parts.retain(|part| heaviest.contains(part));
    }
    let mut names: Vec<String> = parts
        .iter()
        .map(|(id, count)| {
            words::the_many(&words::inner(&bench.procedure.part(*id).naming.title), count.clone())
        })
        .collect();
    if count > parts.len() {
        names.push(format!("{} more", count - parts.len()));
    }
    words::list(&names)
}
