//! What the record says of a step: who did it, and the bench notes on it and on what it handles.

use super::bench::Bench;
use crate::decide::came_without_it;
use crate::plan::words::{at_place, inner};
use crate::plan::{Placed, PlacedKind, PlannedAct, PlannedStep, Standing, fastened};
use crate::procedure::model::{PartId, Phase, Place, StepKey};
use crate::record::{About, Came, Done, Found, Note, Signature};
use crate::sheet::{StepLine, Text};

/// Notes on a step, on the parts and fasteners that it handles, and on their joints; first who did it, if it is done.
pub(super) fn lines(bench: &Bench, planned: &PlannedStep) -> Vec<StepLine> {
    let job = bench.material.job;
    let mut lines = Vec::new();
    if planned.standing == Standing::Done {
        let by = done(bench, planned).map(|done| signed(&done.signature)).unwrap_or_default();
        let kept = done(bench, planned).map(|done| kept(bench, done)).unwrap_or_default();
        lines.push(StepLine::Note(Text::bold(format!("Done{by}.")).and(kept)));
    }
    if let Standing::NotDone(because) = &planned.standing {
        lines.push(StepLine::Note(Text::bold("Not done, and not to be done: ").and(format!("{because}."))));
    }
    lines.extend(extra(bench, planned).map(StepLine::Note));
    lines.extend(done_so_far(bench, planned).map(StepLine::Note));
    let notes = job.notes.iter().filter(|note| concerns(bench, planned, &note.about));
    lines.extend(notes.map(|note| StepLine::Note(told(bench, note))));
    lines
}

/// Why a step of this job's own is done.
fn extra(bench: &Bench, planned: &PlannedStep) -> Option<Text> {
    let StepKey::Written(id, _) = planned.key else { return None };
    let (_, why) = bench.material.job.extra_steps.iter().find(|(step, _)| *step == id)?;
    let why = why.as_ref().map_or_else(|| ".".to_owned(), |why| format!(": {why}."));
    Some(Text::bold("Extra work of this job").and(why))
}

/// Where a step that is done at several places together is done already.
fn done_so_far(bench: &Bench, planned: &PlannedStep) -> Option<Text> {
    let StepKey::Written(id, None) = planned.key else { return None };
    if !planned.standing.is_left() {
        return None;
    }
    let each = &bench.procedure.step(id).each;
    let partly = bench.material.job.partly.iter().filter(|done| done.step.0 == id);
    let told: Vec<String> =
        partly.map(|done| bench.place_name(each, done.step.1) + &signed(&done.signature)).collect();
    (!told.is_empty()).then(|| Text::bold("Done already: ").and(format!("{}.", told.join("; "))))
}

/// The entry of the record that says that a step is done.
pub(super) fn done<'b>(bench: &'b Bench, planned: &PlannedStep) -> Option<&'b Done> {
    bench.material.job.done.iter().find(|done| done.step.meets(&planned.key))
}

/// What else the record keeps of a step that is done: who signed what it holds for, with what it was tightened, photographs.
fn kept(bench: &Bench, done: &Done) -> String {
    let second = done.second.as_ref().map(|who| format!(" Signed too by {who}."));
    let title = |id: &str| {
        let sets = bench.procedure.sets.iter().map(|set| &set.naming);
        sets.filter(|naming| naming.id == id).map(|naming| inner(&naming.title)).next().unwrap_or_default()
    };
    let wrenches = done.wrenches.iter().map(|(set, wrench)| match set {
        Some(set) => format!("{wrench} ({})", title(&set.value)),
        None => wrench.clone(),
    });
    let wrenches: Vec<String> = wrenches.collect();
    let wrench = (!wrenches.is_empty()).then(|| format!(" Wrench: {}.", wrenches.join(", ")));
    let reached = done.reached.iter().map(|(set, value)| match set {
        Some(set) => format!("{} ({})", value.value.printed(), title(&set.value)),
        None => value.value.printed(),
    });
    let reached: Vec<String> = reached.collect();
    let reached = (!reached.is_empty()).then(|| format!(" Tightened to: {}.", reached.join(", ")));
    let photographs =
        (!done.photographs.is_empty()).then(|| format!(" Photographs: {}.", done.photographs.join(", ")));
    [second, wrench, reached, photographs].into_iter().flatten().collect()
}

/// Whether what a note is about is handled in a step.
pub(super) fn concerns(bench: &Bench, planned: &PlannedStep, about: &About) -> bool {
    let handles = |step: &PlannedStep, kind: PlacedKind, place: &Option<Place>| {
        let touched =
            |placed: &Placed| placed.kind == kind && place.is_none_or(|place| placed.places.contains(&place));
        bench.acts(step).any(|act| act.things.iter().any(touched))
    };
    match about {
        About::Part(id, place) => {
            let handled = |step: &PlannedStep| handles(step, PlacedKind::Part(*id), place);
            // Where a part goes back its note stands at that step, not at every reading after it.
            let goes_back = bench.phase == Phase::Build && bench.open_steps().any(handled);
            handled(planned) || (!goes_back && examined(bench, planned, *id, *place))
        }
        About::Set(id, place) | About::Hole(id, place, _) => {
            let fastens = |act: &PlannedAct| {
                let sets = fastened(bench.procedure, &act.things).into_iter();
                sets.filter(|(set, _)| set == id)
                    .any(|(_, places)| place.is_none_or(|place| places.contains(&place)))
            };
            bench.acts(planned).any(fastens)
        }
        About::Joint(id, place) => handles(planned, PlacedKind::Joint(*id), place),
        About::Gauge(id, place) => {
            let procedure = bench.procedure;
            let places = place
                .map_or_else(|| procedure.places(&procedure.gauge(*id).axes).collect(), |place| vec![place]);
            let mut pieces = places.iter().flat_map(|place| procedure.measured((*id, *place)));
            handles(planned, PlacedKind::Gauge(*id), place)
                || pieces.any(|(part, at)| handles(planned, PlacedKind::Part(part), &Some(at)))
        }
        About::Look(id, place) => {
            let procedure = bench.procedure;
            let look = procedure.look(*id);
            let places = place.map_or_else(|| procedure.places(&look.axes).collect(), |place| vec![place]);
            let of = |place: &Place| {
                let of = look.of.as_ref();
                of.map(|of| procedure.meant(of, &procedure.bound(&look.axes, *place))).unwrap_or_default()
            };
            let mut pieces = places.iter().flat_map(of);
            handles(planned, PlacedKind::Look(*id), place)
                || pieces.any(|(part, at)| handles(planned, PlacedKind::Part(part), &Some(at)))
        }
        About::Engine => false,
        About::Step(key) => key.meets(&planned.key),
    }
}

/// Whether a step measures a part or looks it over: a note on the part is of use there too.
fn examined(bench: &Bench, planned: &PlannedStep, part: PartId, place: Option<Place>) -> bool {
    let procedure = bench.procedure;
    bench.acts(planned).flat_map(|act| &act.things).any(|placed| {
        let (axes, of) = match placed.kind {
            PlacedKind::Gauge(id) => (&procedure.gauge(id).axes, &procedure.gauge(id).of),
            PlacedKind::Look(id) => (&procedure.look(id).axes, &procedure.look(id).of),
            _ => return false,
        };
        let Some(of) = of.as_ref().filter(|of| of.id == part) else { return false };
        placed.places.iter().any(|at| {
            let bound = procedure.bound(axes, *at);
            let found = procedure.matching(&procedure.part(part).axes, &of.pattern, &bound);
            place.is_none_or(|place| found.contains(&place))
        })
    })
}

/// The notes of the record for whoever opens the engine next; what was missing is among what was renewed.
pub(super) fn for_the_next(bench: &Bench) -> Vec<Text> {
    let bought = |found: &Found| matches!(found, Found::Count(_) | Found::Came(Came::Without));
    let notes = bench.material.job.notes.iter();
    let notes = notes.filter(|note| note.says.is_some() || !note.found.iter().all(bought));
    notes.map(|note| Text::plain(said(bench, note))).collect()
}

/// What was found different as the engine came and was taken apart, but lengths, for the list of what came: what it came
/// without and what was off on a line each, then the rest.
pub(super) fn found_since(bench: &Bench) -> Vec<Text> {
    let notes = &bench.material.job.notes;
    let only = |note: &Note, what: Came| note.says.is_none() && note.found == [Found::Came(what)];
    let together = |what: Came, head: &str| {
        let titles = notes.iter().filter(|note| only(note, what)).map(|note| about_title(bench, &note.about));
        let titles: Vec<String> = titles.collect();
        (!titles.is_empty()).then(|| Text::bold(head).and(format!("{}.", titles.join("; "))))
    };
    let came = [together(Came::Without, "Came without: "), together(Came::Off, "Off already: ")];
    let rest = notes.iter().filter(|note| {
        let length = |found: &Found| matches!(found, Found::Length(_));
        !only(note, Came::Without) && !only(note, Came::Off) && !note.found.iter().all(length)
    });
    came.into_iter().flatten().chain(rest.map(|note| Text::plain(said(bench, note)))).collect()
}

/// Notes of the whole engine.
pub(super) fn of_the_engine(bench: &Bench) -> Vec<Text> {
    let notes = bench.material.job.notes.iter().filter(|note| note.about == About::Engine);
    notes.map(|note| told(bench, note)).collect()
}

fn told(bench: &Bench, note: &Note) -> Text {
    Text::bold(format!("Bench note{}: ", signed(&note.signature))).and(said(bench, note))
}

/// What a note says, and of what: `Piston 2: skirt scored.`
fn said(bench: &Bench, note: &Note) -> String {
    let found = note.found.iter().map(|found| match found {
        Found::Length(length) => format!("found to be {} long", length.value.printed()),
        Found::Count(count) => format!("found to be {} in number", count.value),
        Found::Thread(thread) => format!("found with thread {}", thread.value),
        Found::Size(size) => format!("found in size {}", size.value.printed()),
        Found::Condition(condition) => format!("found {condition}"),
        Found::Came(Came::Off) => "came off already".to_owned(),
        Found::Came(Came::Without) => came_without_it(bench.procedure),
        Found::Added(added) => format!("added by somebody: {added}"),
    });
    let says: Vec<String> = note.says.iter().cloned().chain(found).collect();
    format!("{}: {}.", about_title(bench, &note.about), says.join("; ").trim_end_matches('.'))
}

/// `, HK, 2026-02-25`.
pub(super) fn signed(signature: &Signature) -> String {
    let date = signature.date.map(|date| date.to_string());
    signature.by.iter().cloned().chain(date).map(|word| format!(", {word}")).collect()
}

/// What a note is about.
pub(super) fn about_title(bench: &Bench, about: &About) -> String {
    let procedure = bench.procedure;
    let at = |naming, axes: &[_], place: &Option<Place>| at_place(procedure, naming, axes, *place);
    match about {
        About::Part(id, place) => at(&procedure.part(*id).naming, &procedure.part(*id).axes, place),
        About::Set(id, place) => at(&procedure.set(*id).naming, &procedure.set(*id).axes, place),
        About::Hole(id, place, letter) => {
            format!("{}, hole {letter}", at(&procedure.set(*id).naming, &procedure.set(*id).axes, place))
        }
        About::Gauge(id, place) => at(&procedure.gauge(*id).naming, &procedure.gauge(*id).axes, place),
        About::Look(id, place) => at(&procedure.look(*id).naming, &procedure.look(*id).axes, place),
        About::Engine => format!("The {}", procedure.whole()),
        About::Joint(id, place) => at(&procedure.joint(*id).naming, &procedure.joint(*id).axes, place),
        About::Step(StepKey::Written(id, place)) => {
            at(&procedure.step(*id).naming, &procedure.step(*id).each, place)
        }
        About::Step(key @ StepKey::Derived(_)) => key.id(procedure),
    }
}
