//! Acts to instructions: what a fitter is told, in words of the trade, with the boxes that are ticked when it is done.
//! The author's own words follow the instruction.

use super::bench::Bench;
use super::fasten_lines::fasten;
use super::gears;
use super::part_lines::{part, weight};
use super::phrases::{objects, places, sets_named, with_note};
use super::reading;
use super::reckoned;
use super::tighten::{self, Manner};
use super::turning;
use crate::english::spaced;
use crate::plan::words::{self, sentence};
use crate::plan::{Placed, PlacedKind, PlannedAct, PlannedStep, fastened};
use crate::procedure::model::{
    Deed, FasteningWork, LiftWork, Locking, Mark, MarkKind, Place, SetId, Wetting,
};
use crate::quantity::pair;
use crate::sheet::{Blank, Boxes, Entry, Field, Form, StepLine, Text};

/// The lines that an act prints, behind what it hangs on and where it is done, where that has to be told.
pub(super) fn lines(bench: &Bench, planned: &PlannedStep, act: &PlannedAct) -> Vec<StepLine> {
    let mut lines = unconditional(bench, planned, act);
    let given = act.given.as_ref().map(|given| format!("Only if \u{201c}{}\u{201d}: ", given.words));
    let place = place_told(bench, planned, act).map(|place| format!("{}: ", words::capital(&place)));
    let before: String = [given, place].into_iter().flatten().collect();
    if let (false, Some(first)) = (before.is_empty(), lines.iter_mut().find_map(text_of)) {
        let behind = std::mem::take(first);
        *first = Text::bold(before);
        first.0.extend(behind.0);
    }
    lines.splice(0..0, gears::figure(bench, planned, act).map(StepLine::Figure));
    lines
}

/// The words that a line of an act begins with.
fn text_of(line: &mut StepLine) -> Option<&mut Text> {
    match line {
        StepLine::Act { text, .. } | StepLine::Reading { text, .. } | StepLine::Readings { text, .. } => {
            Some(text)
        }
        StepLine::Table(table) => Some(&mut table.caption),
        _ => None,
    }
}

/// The positions at which an act on nothing in particular is done, where its step is done at others too.
fn place_told(bench: &Bench, planned: &PlannedStep, act: &PlannedAct) -> Option<String> {
    let at = act.act.scope.at.0.iter().filter(|(axis, ..)| planned.binding.position(*axis).is_none());
    let names: Vec<String> = at.map(|(axis, at, _)| bench.position_name(*axis, *at)).collect();
    (act.things.is_empty() && !names.is_empty()).then(|| names.join(", "))
}

fn unconditional(bench: &Bench, planned: &PlannedStep, act: &PlannedAct) -> Vec<StepLine> {
    let note = act.act.note.as_deref();
    match &act.act.deed {
        Deed::Fasten { work: FasteningWork::Tighten, to: None, .. } => {
            tighten::lines(bench, planned, act, Manner::Stated)
        }
        Deed::Fasten { work: FasteningWork::Tighten, to: Some(torque), .. } => {
            tighten::lines(bench, planned, act, Manner::Trial(*torque))
        }
        Deed::Fasten { work: FasteningWork::Retighten, .. } => {
            tighten::lines(bench, planned, act, Manner::Again)
        }
        Deed::Fasten { work, .. } => fasten(bench, planned, act, *work),
        Deed::Part { work, .. } => part(bench, planned, act, *work),
        Deed::Heat { to, origin, .. } => {
            let what = objects(bench, &act.things);
            let origin = origin.as_ref().map(|origin| format!(" ({origin})")).unwrap_or_default();
            vec![tick(format!("Heat {what} to {}{origin}.", pair(**to)), note, places(bench, &act.things))]
        }
        Deed::Coat { with, place, .. } => {
            let what = objects(bench, &act.things);
            let with = words::inner(&bench.procedure.supply(*with).naming.title);
            let place = place.as_ref().map(|place| format!(": {place}")).unwrap_or_default();
            vec![tick(format!("Coat {what} with {with}{place}."), note, places(bench, &act.things))]
        }
        Deed::Wet { what, with } => {
            let text = wet(bench, what.id, *with, &sets_here(bench, act));
            vec![tick(text, note, places(bench, &act.things))]
        }
        Deed::Lock { how, close, .. } => {
            let text = lock(*how, *close, &sets_here(bench, act), several(bench, act));
            vec![tick(text, note, places(bench, &act.things))]
        }
        Deed::Lift { what, work } => {
            let part = bench.procedure.part(what.id);
            let name = objects(bench, &act.things);
            let at = part.lift_at.as_ref().map(|at| format!(" Lift at {at}.")).unwrap_or_default();
            let text = match work {
                LiftWork::Rig => Text::plain(format!("Rig the hoist to {name}.{at}")),
                LiftWork::TakeTheWeight => weight(part.mass, &name),
                LiftWork::LetDown => Text::plain(format!("Let {name} down.")),
                LiftWork::Unrig => Text::plain(format!("Slack the hoist, then unrig {name}.")),
            };
            vec![StepLine::Act { text, boxes: places(bench, &act.things) }]
        }
        Deed::Clean(_) => {
            vec![tick(format!("Clean {}.", objects(bench, &act.things)), note, places(bench, &act.things))]
        }
        Deed::Mark(_) => vec![mark(bench, act)],
        Deed::Chase(_) => {
            let what = objects(bench, &act.things);
            vec![tick(format!("Chase the threads of {what}."), note, places(bench, &act.things))]
        }
        Deed::Gauge(_) => {
            let mut lines = reading::gauge_lines(bench, planned, act);
            // What two readings give is said once.
            for line in act.things.iter().flat_map(|read| reckoned::lines(bench, planned, read)) {
                if !lines.contains(&line) {
                    lines.push(line);
                }
            }
            lines
        }
        Deed::Look(_) => reading::look_lines(bench, planned, act),
        Deed::Set(state, value) => {
            let state = bench.procedure.state(*state);
            let value = state.values.get(*value).map(|value| spaced(value)).unwrap_or_default();
            let title = words::capital(&state.naming.title);
            // What another act of the step has brought about is no work of its own.
            let worked = bench.acts(planned).any(|act| !matches!(act.act.deed, Deed::Set(..)));
            if worked && note.is_none() && act.given.is_none() {
                return Vec::new();
            }
            vec![tick(format!("{title}: {value}."), note, Boxes::One)]
        }
        Deed::PutIn(target) => {
            let temporary = bench.procedure.temporary(target.id);
            let into = temporary.into.as_ref().map(|into| format!(" ({into})")).unwrap_or_default();
            let after = if temporary.may_stay { "" } else { " Must come out again." };
            let text = format!(
                "Put in {}{into}.",
                words::the_many(&temporary.naming.title, temporary.count.at_a_place())
            );
            vec![StepLine::Act {
                text: with_note(Text::plain(text).and_bold(after), note),
                boxes: places(bench, &act.things),
            }]
        }
        Deed::TakeOut(target) => {
            let temporary = bench.procedure.temporary(target.id);
            let text = format!(
                "Take out {}.",
                words::the_many(&temporary.naming.title, temporary.count.at_a_place())
            );
            vec![tick(text, note, places(bench, &act.things))]
        }
        Deed::TurnByHand { .. } => {
            vec![tick(turning::instruction(bench.procedure, planned, act), note, Boxes::One)]
        }
        Deed::Photo => vec![StepLine::Reading {
            text: Text::bold("Photograph").and(note.map(|note| format!(": {note}")).unwrap_or_default()),
            limit: String::new(),
            unit: String::new(),
            blanks: vec![Blank { field: Field::of(photograph(bench, planned)), ..Blank::open("no.") }],
        }],
        Deed::Cap => vec![labelled("Cap", note)],
        Deed::Isolate => vec![labelled("Isolate", note)],
        Deed::Dispose(container) => {
            let text = match note {
                Some(what) => format!("{}: into {container}.", words::capital(what)),
                None => format!("Into {container}."),
            };
            vec![tick(text, None, Boxes::One)]
        }
        Deed::Wait(time) => vec![tick(format!("Wait {}.", time.printed()), note, Boxes::One)],
        Deed::Words => note
            .map(|note| StepLine::Act { text: Text::plain(sentence(note)), boxes: Boxes::One })
            .into_iter()
            .collect(),
    }
}

/// Where the number of a photograph belongs in the record.
fn photograph(bench: &Bench, planned: &PlannedStep) -> Entry {
    Entry::new(&["done", &planned.key.id(bench.procedure), "photographs"], Form::Item)
}

/// The sets of an act, with where it is done where that isn't at all of their places.
fn sets_here(bench: &Bench, act: &PlannedAct) -> String {
    let whole = |placed: &Placed| {
        placed.places.len() == bench.procedure.places(placed.kind.axes(bench.procedure)).len()
    };
    let named = sets_named(bench, &act.things);
    if act.things.iter().all(whole) {
        return named;
    }
    named + &words::only_at(bench.procedure, &act.act.scope.at)
}

/// What goes on the threads and faces of a set.
fn wet(bench: &Bench, id: SetId, with: Wetting, what: &str) -> String {
    let title = |supply| words::inner(&bench.procedure.supply(supply).naming.title);
    match with {
        Wetting::Oil => {
            let oil = bench.procedure.set(id).oil.as_ref();
            let places = words::list(oil.map(|oil| oil.places.as_slice()).unwrap_or_default());
            let with = oil.and_then(|oil| oil.with).map(|supply| format!(" with {}", title(supply)));
            format!("Oil the {places} of {what}{}.", with.unwrap_or_default())
        }
        Wetting::Supply(supply) => format!("Put {} on the threads of {what}.", aside(&title(supply))),
        Wetting::Locker(Some(supply)) => {
            format!("Clean and dry the threads of {what}. Put {} on them.", aside(&title(supply)))
        }
        Wetting::Locker(None) => format!("Thread-locker on the threads of {what}: which one is not stated."),
    }
}

/// A name in the middle of a sentence: what it says behind a comma is closed by one.
fn aside(name: &str) -> String {
    if name.contains(", ") { format!("{name},") } else { name.to_owned() }
}

/// What is done to a lock, in words of the trade.
fn lock(how: Locking, close: bool, what: &str, several: bool) -> String {
    match (how, close) {
        (Locking::Tab, false) if several => format!("Bend the tabs back from {what}."),
        (Locking::Tab, false) => format!("Bend the tab back from {what}."),
        (Locking::Tab, true) if several => format!("Bend the new tabs up against the flats of {what}."),
        (Locking::Tab, true) => format!("Bend the new tab up against a flat of {what}."),
        (Locking::SplitPin, false) => format!("Draw the split pin of {what}."),
        (Locking::SplitPin, true) => format!("New split pin through {what}. Bend both ends over."),
        (Locking::Wire, false) => format!("Cut the lock wire of {what}. Account for every piece."),
        (Locking::Wire, true) => format!("Wire {what} with new wire, so that it pulls them tighter."),
        (Locking::Stake, false) => format!("Open the staking of {what}."),
        (Locking::Stake, true) => format!("Stake {what}."),
        (Locking::ThreadLocker, _) => format!("Thread-locker on {what}."),
    }
}

/// Whether an act is on more than one fastener.
fn several(bench: &Bench, act: &PlannedAct) -> bool {
    let one =
        |(id, places): &(SetId, Vec<Place>)| bench.procedure.set_pieces(*id, places).settled() == Some(1);
    !matches!(fastened(bench.procedure, &act.things).as_slice(), [only] if one(only))
}

/// An instruction with the author's note behind it.
fn tick(text: String, note: Option<&str>, boxes: Boxes) -> StepLine {
    StepLine::Act { text: with_note(Text::plain(text), note), boxes }
}

/// A word and what the author says of it: `Cap: exhaust ports, three.`
fn labelled(word: &str, note: Option<&str>) -> StepLine {
    let text = match note {
        Some(note) => Text::bold(format!("{word}:")).and(format!(" {}", note.trim_end_matches('.'))).and("."),
        None => Text::plain(format!("{word}.")),
    };
    StepLine::Act { text, boxes: Boxes::One }
}

fn mark(bench: &Bench, act: &PlannedAct) -> StepLine {
    let text = Text::plain(format!("Mark {}: ", objects(bench, &act.things)));
    let declared = || {
        act.things.iter().find_map(|placed| match placed.kind {
            PlacedKind::Part(id) => {
                let part = bench.procedure.part(id);
                let here = |mark: &&Mark| {
                    let bound = |place: &Place| bench.procedure.bound(&part.axes, *place);
                    placed.places.iter().any(|place| mark.at.hold(&bound(place)))
                };
                part.marks.iter().filter(here).find(|mark| mark.kind == MarkKind::Ours)
            }
            _ => None,
        })
    };
    let how = act.act.note.clone().or_else(|| declared().map(|mark| mark.text.clone()));
    let text = match how {
        Some(how) => text.and_bold(how.trim_end_matches('.')).and("."),
        None => Text::plain(format!("Mark {}.", objects(bench, &act.things))),
    };
    StepLine::Act { text, boxes: places(bench, &act.things) }
}
