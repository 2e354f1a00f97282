//! Acts of the strip that find their work done: what came off before the engine was here, what it came without, and what a
//! later step took off out of order. What is left to do is not told here.

use super::bench::Bench;
use super::phrases::objects;
use crate::plan::words::{capital, list};
use crate::plan::{Placed, PlacedKind, PlannedAct, PlannedStep, Standing, fastened};
use crate::procedure::model::{Deed, FasteningWork, PartWork, Phase, Place};
use crate::record::{About, Came, Found};
use crate::sheet::{StepLine, Text};

/// What is told in place of an act, if all that it takes off, undoes or slackens is off already.
pub(super) fn instead(bench: &Bench, planned: &PlannedStep, act: &PlannedAct) -> Option<StepLine> {
    if bench.phase != Phase::Strip || !planned.standing.is_left() || !(takes_off(act) || eases(act)) {
        return None;
    }
    let pieces = pieces(bench, &act.things);
    let why = pieces.iter().map(|piece| off(bench, planned, *piece)).collect::<Option<Vec<String>>>()?;
    let mut told: Vec<String> = Vec::new();
    for why in why {
        if !told.contains(&why) {
            told.push(why);
        }
    }
    let what = capital(&objects(bench, &act.things));
    (!told.is_empty())
        .then(|| StepLine::Note(Text::bold("Nothing to do here. ").and(format!("{what}: {}.", list(&told)))))
}

/// Whether an act brings something off.
fn takes_off(act: &PlannedAct) -> bool {
    matches!(
        act.act.deed,
        Deed::Part { work: PartWork::Take, .. } | Deed::Fasten { work: FasteningWork::Undo, .. }
    )
}

/// Whether an act prepares for that.
fn eases(act: &PlannedAct) -> bool {
    matches!(
        act.act.deed,
        Deed::Fasten { work: FasteningWork::Slacken, .. } | Deed::Lock { close: false, .. }
    )
}

/// The parts and sets of an act, each at each of its places; of a joint its sets.
fn pieces(bench: &Bench, things: &[Placed]) -> Vec<(PlacedKind, Place)> {
    let parts = things.iter().filter(|placed| matches!(placed.kind, PlacedKind::Part(_)));
    let parts = parts.flat_map(|placed| placed.places.iter().map(|place| (placed.kind, *place)));
    let sets = fastened(bench.procedure, things).into_iter();
    let sets =
        sets.flat_map(|(set, places)| places.into_iter().map(move |place| (PlacedKind::Set(set), place)));
    parts.chain(sets).collect()
}

/// Why a piece is off before a step; none where it is on.
fn off(bench: &Bench, planned: &PlannedStep, piece: (PlacedKind, Place)) -> Option<String> {
    let notes = bench.material.job.notes.iter().filter(|note| {
        let at = |at: Option<Place>| at.is_none_or(|at| at == piece.1);
        match note.about {
            About::Part(id, place) => piece.0 == PlacedKind::Part(id) && at(place),
            About::Set(id, place) => piece.0 == PlacedKind::Set(id) && at(place),
            _ => false,
        }
    });
    let came = notes.flat_map(|note| &note.found).find_map(|found| match found {
        Found::Came(Came::Off) => Some("it came off before".to_owned()),
        Found::Came(Came::Without) => Some("the engine came without it".to_owned()),
        _ => None,
    });
    came.or_else(|| {
        // Only what was done out of order is behind a step that is still to come.
        let later = bench.plan.steps.iter().skip_while(|step| step.key != planned.key).skip(1);
        let mut done = later.filter(|step| step.standing == Standing::Done);
        let taken = |step: &&PlannedStep| {
            bench.acts(step).any(|act| takes_off(act) && pieces(bench, &act.things).contains(&piece))
        };
        let number = done.find(taken)?.number?;
        Some(format!("done out of order at step {number}"))
    })
}
