//! Acts that find their work done: what came off before the engine was here, what it came without, what a later step took off
//! out of order; and what the record has as sent, back or accepted. What is left to do is not told here.

use super::bench::Bench;
use super::phrases::objects;
use crate::decide::{Asked, came_without_it};
use crate::plan::words::{capital, list};
use crate::plan::{Placed, PlacedKind, PlannedAct, PlannedStep, Standing, fastened};
use crate::procedure::model::{Deed, FasteningWork, HazardId, PartWork, Phase, Place, ToolId};
use crate::procedure::{Missing, idle_hazards as idle_hazards_of, idle_tools as idle_tools_of};
use crate::record::{Came, Goods};
use crate::sheet::{StepLine, Text};

/// What is told of what an act finds off already, or can't read any more, and the act on what is left; none if nothing is.
pub(super) fn split(
    bench: &Bench,
    planned: &PlannedStep,
    act: &PlannedAct,
) -> (Option<StepLine>, Option<PlannedAct>) {
    if !planned.standing.is_left() {
        return (None, Some(act.clone()));
    }
    if let Deed::Part { work: work @ (PartWork::Send | PartWork::Receive | PartWork::Accept), .. } =
        act.act.deed
    {
        return outside(bench, act, work);
    }
    let reads = matches!(act.act.deed, Deed::Gauge(_) | Deed::Look(_));
    let bears = reads || takes_off(act) || eases(act);
    if bench.phase != Phase::Strip || !bears {
        return (None, Some(act.clone()));
    }
    let (mut gone, mut left): (Vec<Placed>, Vec<Placed>) = (Vec::new(), Vec::new());
    let mut why: Vec<String> = Vec::new();
    for placed in &act.things {
        let (mut off, mut on) = (Vec::new(), Vec::new());
        for place in &placed.places {
            match past(bench, planned, placed.kind, *place) {
                Some(because) => {
                    off.push(*place);
                    why.extend(because);
                }
                None => on.push(*place),
            }
        }
        let some = |places: Vec<Place>| (!places.is_empty()).then_some(Placed { kind: placed.kind, places });
        gone.extend(some(off));
        left.extend(some(on));
    }
    if gone.is_empty() {
        return (None, Some(act.clone()));
    }
    let (first, what) = if reads {
        (
            "Not to be had any more. ",
            list(&gone.iter().map(|placed| at_places(bench, placed)).collect::<Vec<_>>()),
        )
    } else {
        ("Nothing to do here. ", objects(bench, &gone))
    };
    let told = Text::bold(first).and(format!("{}: {}.", capital(&what), list(&distinct(why))));
    let rest = (!left.is_empty()).then(|| PlannedAct { things: left, ..act.clone() });
    (Some(StepLine::Note(told)), rest)
}

/// What is told of the parts that the record has as sent, back or accepted, and the act on the others. What was refused is on
/// its way out again.
fn outside(bench: &Bench, act: &PlannedAct, work: PartWork) -> (Option<StepLine>, Option<PlannedAct>) {
    let job = bench.material.job;
    let passed = |placed: &Placed, place: Place| {
        let PlacedKind::Part(id) = placed.kind else { return None };
        let refused = bench.material.decisions.fates.get(&(id, place)).and_then(|fate| fate.refused());
        let sent = job.sent.get(&(id, place)).filter(|_| refused.is_none())?;
        let (word, day) = match work {
            PartWork::Send => ("sent", sent.sent?),
            PartWork::Receive => ("back", sent.back?),
            _ => ("accepted", sent.accepted?),
        };
        let here = Placed { kind: placed.kind, places: vec![place] };
        Some(format!("{}: {word} {day}", objects(bench, std::slice::from_ref(&here))))
    };
    let (mut told, mut left): (Vec<String>, Vec<Placed>) = (Vec::new(), Vec::new());
    for placed in &act.things {
        let mut places = placed.places.clone();
        places.retain(|place| match passed(placed, *place) {
            Some(words) => {
                told.push(words);
                false
            }
            None => true,
        });
        left.extend((!places.is_empty()).then_some(Placed { kind: placed.kind, places }));
    }
    if told.is_empty() {
        return (None, Some(act.clone()));
    }
    let words = Text::bold("In the record already. ").and(format!("{}.", capital(&list(&told))));
    let rest = (!left.is_empty()).then(|| PlannedAct { things: left, ..act.clone() });
    (Some(StepLine::Note(words)), rest)
}

/// The acts of a step on what is left to do.
pub(super) fn left_acts(bench: &Bench, planned: &PlannedStep) -> Vec<PlannedAct> {
    bench.acts(planned).filter_map(|act| split(bench, planned, act).1).collect()
}

/// The tools of a step that only what is off already asks for.
pub(super) fn idle_tools(bench: &Bench, planned: &PlannedStep) -> Vec<ToolId> {
    idle(bench, planned, |missing| idle_tools_of(bench.procedure, missing, bench.step(planned)))
}

/// The hazards of a step that only what is off already brings to it.
pub(super) fn idle_hazards(bench: &Bench, planned: &PlannedStep) -> Vec<HazardId> {
    idle(bench, planned, |missing| idle_hazards_of(bench.procedure, missing, bench.step(planned)))
}

/// What of a step is for nothing, as some of what it handles is off already; nothing where all is there.
fn idle<T>(bench: &Bench, planned: &PlannedStep, of: impl Fn(&Missing) -> Vec<T>) -> Vec<T> {
    let left = left_acts(bench, planned);
    let left: Vec<PlacedKind> =
        left.iter().flat_map(|act| pieces(bench, &act.things)).map(|(kind, _)| kind).collect();
    let missing = Missing {
        part: &|id| !left.contains(&PlacedKind::Part(id)),
        set: &|id| !left.contains(&PlacedKind::Set(id)),
    };
    let all = bench.acts(planned).flat_map(|act| pieces(bench, &act.things));
    if all.into_iter().all(|(kind, _)| left.contains(&kind)) {
        return Vec::new();
    }
    of(&missing)
}

/// Why a thing is off at a place, or can't be read there any more; none where there is work left.
fn past(bench: &Bench, planned: &PlannedStep, kind: PlacedKind, place: Place) -> Option<Vec<String>> {
    let never = |asked: Asked| bench.material.decisions.never.get(&asked).map(|why| vec![why.clone()]);
    match kind {
        PlacedKind::Gauge(id) => never(Asked::Gauge(id, place)),
        PlacedKind::Look(id) => never(Asked::Look(id, place)),
        kind => {
            let pieces = pieces(bench, &[Placed { kind, places: vec![place] }]);
            let why = pieces.iter().map(|piece| off(bench, planned, *piece)).collect::<Option<Vec<_>>>()?;
            (!why.is_empty()).then_some(why)
        }
    }
}

/// What is read or looked at, with the places where they are not all of them.
fn at_places(bench: &Bench, placed: &Placed) -> String {
    let axes = placed.kind.axes(bench.procedure);
    let title = match placed.kind {
        PlacedKind::Gauge(id) => &bench.procedure.gauge(id).naming.title,
        PlacedKind::Look(id) => &bench.procedure.look(id).naming.title,
        _ => return objects(bench, std::slice::from_ref(placed)),
    };
    if placed.places.len() == bench.procedure.places(axes).len() {
        return title.clone();
    }
    let names: Vec<String> = placed.places.iter().map(|place| bench.place_name(axes, *place)).collect();
    format!("{title} {}", list(&names))
}

/// Each once, in order.
fn distinct(words: Vec<String>) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    for word in words {
        if !told.contains(&word) {
            told.push(word);
        }
    }
    told
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
    let goods = match piece {
        (PlacedKind::Part(id), place) => Some(Goods::Part(id, Some(place))),
        (PlacedKind::Set(id), place) => Some(Goods::Set(id, Some(place))),
        _ => None,
    };
    let came = goods.and_then(|goods| bench.material.decisions.came.get(&goods)).map(|came| match came {
        Came::Off => "it came off before".to_owned(),
        Came::Without => came_without_it(bench.procedure),
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
