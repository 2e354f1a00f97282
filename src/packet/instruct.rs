//! Acts to instructions: what a fitter is told, in words of the trade, with the boxes that are ticked when it is done.
//! The author's own words follow the instruction.

use super::bench::Bench;
use super::fastener;
use super::joint_figure::{self, Way};
use super::reading;
use super::sheet::{Boxes, Cell, Column, StepLine, Table, Text};
use super::tighten;
use crate::plan::words::{self, sentence};
use crate::plan::{Placed, PlacedKind, PlannedAct, PlannedStep};
use crate::procedure::model::{
    Deed, FasteningWork, Fate, Joint, JointId, Lengths, MarkKind, PartId, PartWork, Phase, Place, SetId,
    TurnDirection,
};
use crate::quantity::{Quantity, pair};

/// The lines that an act prints.
pub(super) fn lines(bench: &Bench, planned: &PlannedStep, act: &PlannedAct) -> Vec<StepLine> {
    let note = act.act.note.as_deref();
    match &act.act.deed {
        Deed::Fasten { work: FasteningWork::Tighten, to, .. } => tighten::lines(bench, planned, act, *to),
        Deed::Fasten { work, .. } => fasten(bench, planned, act, *work),
        Deed::Part { work, .. } => part(bench, act, *work),
        Deed::Heat { to, .. } => {
            let what = objects(bench, &act.things);
            vec![tick(format!("Heat {what} to {}.", pair(*to)), note, places(bench, &act.things))]
        }
        Deed::Clean(_) => {
            vec![tick(format!("Clean {}.", objects(bench, &act.things)), note, places(bench, &act.things))]
        }
        Deed::Mark(_) => vec![mark(bench, act)],
        Deed::Chase(_) => {
            let what = objects(bench, &act.things);
            vec![tick(format!("Chase the threads of {what}."), note, places(bench, &act.things))]
        }
        Deed::Gauge(_) => reading::gauge_lines(bench, act),
        Deed::Look(_) => reading::look_lines(bench, act),
        Deed::Set(state, value) => {
            let state = bench.procedure.state(*state);
            let value = state.values.get(*value).map(|value| value.replace('_', " ")).unwrap_or_default();
            vec![tick(format!("{}: {value}.", state.naming.title), note, Boxes::One)]
        }
        Deed::PutIn(target) => {
            let temporary = bench.procedure.temporary(target.id);
            let into = temporary.into.as_ref().map(|into| format!(" ({into})")).unwrap_or_default();
            let after = if temporary.may_stay { "" } else { " It must come out again." };
            let text = format!("Put in {}{into}.", words::the(&temporary.naming.title));
            vec![StepLine::Act {
                text: with_note(Text::plain(text).and_bold(after), note),
                boxes: places(bench, &act.things),
            }]
        }
        Deed::TakeOut(target) => {
            let temporary = bench.procedure.temporary(target.id);
            let text = format!("Take out {}.", words::the(&temporary.naming.title));
            vec![tick(text, note, places(bench, &act.things))]
        }
        Deed::TurnByHand { direction, angle } => {
            let way = match direction {
                TurnDirection::Clockwise => "clockwise",
                TurnDirection::Anticlockwise => "anticlockwise",
                TurnDirection::AsItRuns => "the way it runs",
            };
            vec![tick(format!("Turn the engine by hand {way}, {}.", turns(*angle)), note, Boxes::One)]
        }
        Deed::Photo => vec![StepLine::Reading {
            text: Text::bold("Photograph").and(note.map(|note| format!(": {note}")).unwrap_or_default()),
            limit: String::new(),
            unit: String::new(),
            blanks: vec!["no.".to_owned()],
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

/// An instruction with the author's note behind it.
fn tick(text: String, note: Option<&str>, boxes: Boxes) -> StepLine {
    StepLine::Act { text: with_note(Text::plain(text), note), boxes }
}

pub(super) fn with_note(text: Text, note: Option<&str>) -> Text {
    match note {
        Some(note) if !note.is_empty() => text.and(format!(" {}", sentence(note))),
        _ => text,
    }
}

/// A word and what the author says of it: `Cap: exhaust ports, three.`
fn labelled(word: &str, note: Option<&str>) -> StepLine {
    let text = match note {
        Some(note) => Text::bold(format!("{word}:")).and(format!(" {}", note.trim_end_matches('.'))).and("."),
        None => Text::plain(format!("{word}.")),
    };
    StepLine::Act { text, boxes: Boxes::One }
}

/// An angle in degrees with whole turns beside it.
fn turns(angle: Quantity) -> String {
    let whole = angle.base() / std::f64::consts::TAU;
    if whole >= 0.999 && (whole - whole.round()).abs() < 1e-9 {
        let word = if whole.round() == 1.0 { "turn" } else { "turns" };
        return format!("{} {word} ({})", whole.round(), angle.printed());
    }
    angle.printed()
}

/// The things of an act as the object of a sentence: `the cover, the 3 nuts (M8×1.25) and the gasket`.
pub(super) fn objects(bench: &Bench, things: &[Placed]) -> String {
    let names: Vec<String> = things.iter().map(|placed| object(bench, placed)).collect();
    words::list(&names)
}

fn object(bench: &Bench, placed: &Placed) -> String {
    let procedure = bench.procedure;
    let count = u32::try_from(placed.places.len()).expect("places are few");
    match placed.kind {
        PlacedKind::Part(id) => {
            let part = procedure.part(id);
            let one_of_many = placed.places.len() == 1 && procedure.places(&part.axes) > 1;
            if one_of_many && part.count == 1 {
                let place = procedure.place_name(&part.axes, placed.places[0]);
                return format!("{} {place}", words::inner(&part.naming.title));
            }
            words::the_many(&part.naming.title, part.count * count)
        }
        PlacedKind::Set(id) => fastener::object(procedure, id, placed.places.len()),
        PlacedKind::Joint(id) => words::the(&procedure.joint(id).naming.title),
        PlacedKind::Gauge(id) => words::the(&procedure.gauge(id).naming.title),
        PlacedKind::Look(id) => words::the(&procedure.look(id).naming.title),
        PlacedKind::Temporary(id) => words::the(&procedure.temporary(id).naming.title),
    }
}

/// A box per place where there are several, else one.
pub(super) fn places(bench: &Bench, things: &[Placed]) -> Boxes {
    let several = things.iter().find(|placed| placed.places.len() > 1);
    several.map_or(Boxes::One, |placed| Boxes::Grid(bench.place_names(placed)))
}

fn mark(bench: &Bench, act: &PlannedAct) -> StepLine {
    let text = Text::plain(format!("Mark {}: ", objects(bench, &act.things)));
    let declared = || {
        act.things.iter().find_map(|placed| match placed.kind {
            PlacedKind::Part(id) => {
                bench.procedure.part(id).marks.iter().find(|mark| mark.kind == MarkKind::Ours)
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

// ---- Parts

fn part(bench: &Bench, act: &PlannedAct, work: PartWork) -> Vec<StepLine> {
    let what = objects(bench, &act.things);
    let verb = match work {
        PartWork::Take => "Remove",
        PartWork::PutBack => "Put back",
        PartWork::Fit => "Fit",
        PartWork::Support => "Support",
        PartWork::Press if bench.phase == Phase::Strip => "Press out",
        PartWork::Press => "Press in",
        PartWork::Send => "Send out",
        PartWork::Receive => "Receive back",
        PartWork::Accept => "Check and accept",
    };
    let mut text = Text::plain(format!("{verb} {what}"));
    let parts: Vec<PartId> = act.things.iter().filter_map(|placed| part_id(placed.kind)).collect();
    for id in &parts {
        let part = bench.procedure.part(*id);
        if matches!(work, PartWork::Take | PartWork::Support | PartWork::Fit)
            && let Some(mass) = part.mass
        {
            text = text.and(" (").and_bold(pair(mass).to_string()).and(")");
        }
    }
    text = text.and(".");
    if work == PartWork::Support {
        for id in &parts {
            if let Some(lift) = &bench.procedure.part(*id).lift_at {
                text = text.and(format!(" Lift at {lift}."));
            }
        }
    }
    let text = with_note(text, act.act.note.as_deref());
    let boxes = if work == PartWork::Take { racked(bench, &act.things) } else { places(bench, &act.things) };
    let mut lines = vec![StepLine::Act { text, boxes }];
    for id in parts {
        lines.extend(part_remarks(bench, id, work, act.act.note.as_deref()).into_iter().map(StepLine::Note));
    }
    lines
}

fn part_id(kind: PlacedKind) -> Option<PartId> {
    match kind {
        PlacedKind::Part(id) => Some(id),
        _ => None,
    }
}

/// A box per place with the rack place that the part goes to, for what goes back where it was.
fn racked(bench: &Bench, things: &[Placed]) -> Boxes {
    let Some((id, placed)) = things
        .iter()
        .find_map(|placed| part_id(placed.kind).map(|id| (id, placed)))
        .filter(|(id, placed)| {
            bench.procedure.part(*id).worn_in
                && placed.places.len() > 1
                && goes_back(bench, *id, placed.places[0])
        })
    else {
        return places(bench, things);
    };
    let names = bench.place_names(placed);
    let label = |(name, place): (String, &Place)| match bench.racks.get(&(id, *place)) {
        Some(rack) => format!("{name} → {rack}"),
        None => name,
    };
    Boxes::Grid(names.into_iter().zip(&placed.places).map(label).collect())
}

/// Whether a part may go back, as far as is settled: only what is renewed or left out for certain doesn't.
fn goes_back(bench: &Bench, id: PartId, place: Place) -> bool {
    let fate =
        bench.procedure.part(id).fate.as_ref().and_then(|choice| bench.material.settled.fate(choice, place));
    !matches!(fate, Some(Fate::Renew | Fate::LeaveOut(_)))
}

fn part_remarks(bench: &Bench, id: PartId, work: PartWork, note: Option<&str>) -> Vec<Text> {
    let part = bench.procedure.part(id);
    let mut remarks = Vec::new();
    let said = |words: &str| note.is_some_and(|note| note.to_lowercase().contains(&words.to_lowercase()));
    match work {
        PartWork::Take => {
            let fate = part.fate.as_ref().and_then(|choice| bench.material.settled.fate(choice, Place(0)));
            if part.worn_in && goes_back(bench, id, Place(0)) {
                let rack = bench.racks.get(&(id, Place(0))).filter(|_| part.axes.is_empty());
                let place = rack.map(|rack| format!(" Rack place {rack}.")).unwrap_or_default();
                let way = part.way.as_ref().filter(|way| !said(way)).map(|way| format!(" Way round: {way}."));
                remarks.push(
                    Text::bold("Worn in: back to its own place, the same way round.")
                        .and(place)
                        .and(way.unwrap_or_default()),
                );
            }
            match fate {
                Some(Fate::Send(what)) => remarks.push(Text::plain(format!("Goes out: {what}."))),
                Some(Fate::KeepUntilSettled) => {
                    remarks.push(Text::bold("Keep it.").and(" What becomes of it is not settled."));
                }
                Some(Fate::LeaveOut(why)) => {
                    remarks.push(Text::plain(format!("It does not go back: {why}.")))
                }
                _ => {}
            }
            if !part.matched_with.is_empty() {
                let others: Vec<String> = part
                    .matched_with
                    .iter()
                    .map(|other| words::the(&bench.procedure.part(other.id).naming.title))
                    .collect();
                remarks.push(Text::plain(format!("Keep it together with {}.", words::list(&others))));
            }
        }
        PartWork::Fit | PartWork::PutBack => {
            if let Some(way) = part.way.as_ref().filter(|way| !said(way)) {
                remarks.push(Text::bold("Way round: ").and(format!("{way}.")));
            }
            for mark in part.marks.iter().filter(|mark| mark.kind != MarkKind::Ours) {
                let kind = if mark.kind == MarkKind::Timing { "Timing mark: " } else { "Balance mark: " };
                remarks.push(Text::bold(kind).and(format!("{}.", mark.text)));
            }
            if part.worn_in && work == PartWork::Fit && goes_back(bench, id, Place(0)) {
                remarks.push(Text::plain("If the old one goes back: its own place, from the rack."));
            }
            if let Some(select) = &part.select_from {
                remarks.push(Text::bold("Choose: ").and(format!("{select}.")));
            }
        }
        _ => {}
    }
    remarks
}

// ---- Fasteners

fn fasten(bench: &Bench, planned: &PlannedStep, act: &PlannedAct, work: FasteningWork) -> Vec<StepLine> {
    let mut lines = Vec::new();
    for placed in &act.things {
        match placed.kind {
            PlacedKind::Set(id) => set_lines(bench, act, work, placed, id, &mut lines),
            PlacedKind::Joint(id) => joint_lines(bench, planned, act, work, placed, id, &mut lines),
            _ => {}
        }
    }
    lines
}

fn verb(work: FasteningWork) -> (&'static str, &'static str) {
    match work {
        FasteningWork::Slacken => ("Slacken", " Slack only: they stay in."),
        FasteningWork::Undo => ("Undo", ""),
        FasteningWork::StartByHand => ("Start", " By hand, several threads each, before any is tightened."),
        FasteningWork::Nip => ("Nip up", ""),
        FasteningWork::Tighten => ("Tighten", ""),
    }
}

fn set_lines(
    bench: &Bench,
    act: &PlannedAct,
    work: FasteningWork,
    placed: &Placed,
    id: SetId,
    lines: &mut Vec<StepLine>,
) {
    let set = bench.procedure.set(id);
    if let Some(warning) = fastener::left_hand(set, work) {
        lines.push(StepLine::Hazard(warning));
    }
    let (verb, after) = verb(work);
    let several = set.count as usize * placed.places.len() > 1;
    let after = match work {
        FasteningWork::Slacken if !several => " Slack only: it stays in.",
        FasteningWork::StartByHand if !several => " By hand, several threads.",
        _ => after,
    };
    let place = match bench.place_names(placed).as_slice() {
        [one] if !one.is_empty() => format!(" at {one}"),
        _ => String::new(),
    };
    let text = Text::plain(format!(
        "{verb} {}{place}.{after}",
        fastener::object(bench.procedure, id, placed.places.len())
    ));
    lines.push(StepLine::Act {
        text: with_note(text, act.act.note.as_deref()),
        boxes: places(bench, std::slice::from_ref(placed)),
    });
    lines.extend(fastener::remarks(bench.procedure, id, work).into_iter().map(StepLine::Note));
    if work == FasteningWork::Undo {
        let letters = (0..set.count).map(crate::procedure::model::hole_letter).collect();
        lines.extend(length_table(bench, id, letters));
    }
}

fn joint_lines(
    bench: &Bench,
    planned: &PlannedStep,
    act: &PlannedAct,
    work: FasteningWork,
    placed: &Placed,
    id: JointId,
    lines: &mut Vec<StepLine>,
) {
    let joint = bench.procedure.joint(id);
    let way = if matches!(work, FasteningWork::Undo | FasteningWork::Slacken) {
        Way::Release
    } else {
        Way::Tighten
    };
    let members = members_in_order(bench, joint, way);
    for set in &members {
        if let Some(warning) = fastener::left_hand(bench.procedure.set(*set), work) {
            lines.push(StepLine::Hazard(warning));
        }
    }
    let figure = joint_figure::figure(bench, planned, joint, way);
    let (order, origin) = joint_figure::order_of_work(bench.procedure, joint, way);
    let names: Vec<String> = members
        .iter()
        .map(|set| {
            fastener::object(
                bench.procedure,
                *set,
                bench.procedure.places(&bench.procedure.set(*set).axes).min(placed.places.len().max(1)),
            )
        })
        .collect();
    let (verb, after) = verb(work);
    let joined = match names.as_slice() {
        [first, rest @ ..] if !rest.is_empty() => format!("{first} first, then {}", rest.join(", then ")),
        _ => words::list(&names),
    };
    let drawn = match (&figure, &origin) {
        (Some(_), Some(origin)) => format!(", in the order numbered in the figure (stated by {origin})"),
        (Some(_), None) => ", in the order numbered in the figure".to_owned(),
        (None, _) => String::new(),
    };
    let text = Text::plain(format!("{verb} {joined}{drawn}.{after}"));
    let boxes = if placed.places.len() > 1 {
        Boxes::Grid(bench.place_names(placed))
    } else if figure.is_some() {
        Boxes::Grid(numbered_holes(bench, joint, &order))
    } else {
        Boxes::One
    };
    lines.push(StepLine::Act { text: with_note(text, act.act.note.as_deref()), boxes });
    for set in &members {
        lines.extend(fastener::remarks(bench.procedure, *set, work).into_iter().map(StepLine::Note));
    }
    lines.extend(figure.map(StepLine::Figure));
    if work == FasteningWork::Undo {
        for member in &joint.members {
            let letters = member.holes.iter().map(|hole| hole.letter.clone()).collect();
            lines.extend(length_table(bench, member.set.id, letters));
        }
    }
}

/// The sets of a joint in the order in which they are worked: smaller first when undoing, larger first when
/// tightening; equal diameters as declared.
pub(super) fn members_in_order(bench: &Bench, joint: &Joint, way: Way) -> Vec<SetId> {
    let mut sets: Vec<SetId> = joint.members.iter().map(|member| member.set.id).collect();
    let size = |set: &SetId| bench.procedure.set(*set).diameter.map_or(0.0, Quantity::base);
    match way {
        Way::Release => sets.sort_by(|a, b| size(a).total_cmp(&size(b))),
        Way::Tighten => sets.sort_by(|a, b| size(b).total_cmp(&size(a))),
    }
    sets
}

/// Tick boxes in the order of work, each with the letter of its hole.
pub(super) fn numbered_holes(bench: &Bench, joint: &Joint, order: &[usize]) -> Vec<String> {
    let holes = joint_figure::holes(bench.procedure, joint);
    order.iter().enumerate().map(|(at, hole)| format!("{} {}", at + 1, holes[*hole].0.letter)).collect()
}

/// Blanks for lengths that nobody has stated, hole by hole; none where they are known or never asked for.
fn length_table(bench: &Bench, id: SetId, letters: Vec<String>) -> Option<StepLine> {
    let set = bench.procedure.set(id);
    if !matches!(set.lengths, Some((Lengths::Unknown, _))) {
        return None;
    }
    let column =
        |heading: &str, share: f64| Column { heading: heading.to_owned(), share, to_the_right: false };
    let columns = vec![column("Hole", 1.0), column("Length under the head", 2.0), column("Condition", 3.0)];
    let row = |letter: String| {
        vec![Cell::Text(Text::bold(letter)), Cell::Blank("mm".to_owned()), Cell::Blank(String::new())]
    };
    Some(StepLine::Table(Table {
        caption: Text::bold(format!(
            "{}: lengths not known.",
            words::capital(&words::many(&set.naming.title, set.count))
        ))
        .and(" Measure each as it comes out."),
        columns,
        rows: letters.into_iter().map(row).collect(),
    }))
}
