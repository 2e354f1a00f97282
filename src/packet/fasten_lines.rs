//! Work on fasteners as instructions: what is slackened, undone, started or nipped, in which order, with blanks for
//! lengths that nobody knows.

use super::bench::Bench;
use super::fastener;
use super::joint_figure::{self, Way};
use super::lengths;
use super::numbers::kept;
use super::phrases::{numbered, places, with_note};
use crate::decide::if_any;
use crate::mechanics::joint::Risk;
use crate::plan::words;
use crate::plan::{Placed, PlacedKind, PlannedAct, PlannedStep};
use crate::procedure::clamping::{BIT_BY_BIT, ReleaseRisk, release_risk};
use crate::procedure::model::{Deed, FasteningWork, Joint, JointId, Lengths, Member, Place, SetId};
use crate::procedure::{Fitted, as_fitted, in_joint, members_in_order};
use crate::quantity::Quantity;
use crate::sheet::{Boxes, Cell, Column, Form, StepLine, Table, Text};

/// How fasteners are started, told where a chapter first starts some, and in brief afterwards: of several, and of one.
pub(super) const BY_HAND: [[&str; 2]; 2] =
    [[" By hand, several threads each.", " By hand."], [" By hand, several threads.", " By hand."]];

/// Holes above which a table of lengths stands in two halves beside each other. Our own choice, no source.
const LONG_LIST: usize = 6;

/// The lines of work on fasteners, tightening apart.
pub(super) fn fasten(
    bench: &Bench,
    planned: &PlannedStep,
    act: &PlannedAct,
    work: FasteningWork,
) -> Vec<StepLine> {
    let mut lines = Vec::new();
    for placed in &act.things {
        match placed.kind {
            PlacedKind::Set(id) => set_lines(bench, planned, (act, work), placed, id, &mut lines),
            PlacedKind::Joint(id) => joint_lines(bench, planned, (act, work), placed, id, &mut lines),
            _ => {}
        }
    }
    lines
}

/// What is done, and what is said of it behind its objects; `alone` is one fastener.
fn verb(work: FasteningWork, alone: bool) -> (&'static str, &'static str) {
    match work {
        FasteningWork::Slacken => ("Slacken", " Slack only, not out."),
        FasteningWork::Undo => ("Undo", ""),
        FasteningWork::StartByHand => ("Start", BY_HAND[usize::from(alone)][0]),
        FasteningWork::Nip => ("Nip up", ""),
        FasteningWork::Tighten => ("Tighten", ""),
        FasteningWork::Retighten => ("Retighten", ""),
    }
}

/// Whether new ones go in: in a trial the old ones serve.
fn goes_in_new(
    bench: &Bench,
    planned: &PlannedStep,
    (id, places): (SetId, &[Place]),
    work: FasteningWork,
) -> bool {
    !planned.trial && fastener::goes_in_new(bench.material.decisions, id, places, work)
}

/// How fast it is undone, where that is stated or better.
fn pace(rounds: bool) -> String {
    if rounds { format!(", in {BIT_BY_BIT} rounds") } else { String::new() }
}

fn bit_by_bit(act: &PlannedAct) -> bool {
    matches!(act.act.deed, Deed::Fasten { bit_by_bit: true, .. })
}

/// The instruction with its boxes; what is undone in rounds has the boxes of every round.
fn in_rounds(rounds: bool, text: Text, boxes: Boxes, lines: &mut Vec<StepLine>) {
    if !rounds {
        lines.push(StepLine::Act { text, boxes });
        return;
    }
    lines.push(StepLine::Act { text, boxes: Boxes::None });
    for round in 1..=BIT_BY_BIT {
        let how = if round == BIT_BY_BIT { "out" } else { "ease each" };
        let text = Text::bold(format!("Round {round}:")).and(format!(" {how}."));
        lines.push(StepLine::Act { text, boxes: boxes.clone() });
    }
}

fn set_lines(
    bench: &Bench,
    planned: &PlannedStep,
    (act, work): (&PlannedAct, FasteningWork),
    placed: &Placed,
    id: SetId,
    lines: &mut Vec<StepLine>,
) {
    let set = bench.procedure.set(id);
    if let Some(warning) = fastener::left_hand(set, work) {
        lines.push(StepLine::Hazard(warning));
    }
    let alone = bench.procedure.set_pieces(id, &placed.places).settled() == Some(1);
    let (verb, after) = verb(work, alone);
    let place = match bench.place_names(placed).as_slice() {
        [one] if !one.is_empty() => format!(" at {}", numbered(one)),
        _ => String::new(),
    };
    let text = Text::plain(format!(
        "{verb} {}{place}{}.{after}",
        fastener::object(bench, id, &placed.places, goes_in_new(bench, planned, (id, &placed.places), work)),
        pace(bit_by_bit(act))
    ));
    let boxes = places(bench, std::slice::from_ref(placed));
    in_rounds(bit_by_bit(act), with_note(text, act.act.note.as_deref()), boxes, lines);
    let remarks = fastener::remarks(bench, id, &placed.places, (work, planned.trial));
    lines.extend(remarks.into_iter().map(StepLine::Note));
    let letters = bench.procedure.hole_letters(id);
    lines.extend(lengths_told(bench, id, &placed.places, work, &letters));
    if work == FasteningWork::Undo {
        lines.extend(length_tables(bench, id, &placed.places, &letters));
    }
}

/// A joint as this engine has it; as each of those has it that open answers leave, behind what they are.
fn joint_lines(
    bench: &Bench,
    planned: &PlannedStep,
    (act, work): (&PlannedAct, FasteningWork),
    placed: &Placed,
    id: JointId,
    lines: &mut Vec<StepLine>,
) {
    for fitted in as_fitted(bench.procedure, bench.procedure.joint(id), &placed.places) {
        lines.extend(on_which(bench, &fitted));
        fitted_lines(bench, planned, (act, work), placed, (id, &fitted.joint), lines);
    }
}

/// Which engines have a joint so, where not all of those have that it may be.
pub(super) fn on_which(bench: &Bench, fitted: &Fitted) -> Option<StepLine> {
    let when = (!fitted.when.is_empty()).then(|| if_any(bench.procedure, &fitted.when))?;
    Some(StepLine::Note(Text::bold(format!("{when}:"))))
}

fn fitted_lines(
    bench: &Bench,
    planned: &PlannedStep,
    (act, work): (&PlannedAct, FasteningWork),
    placed: &Placed,
    (id, joint): (JointId, &Joint),
    lines: &mut Vec<StepLine>,
) {
    let way = Way::of(work);
    let members = members_in_order(bench.procedure, joint, way);
    let at = |member: &Member| in_joint(bench.procedure, joint, member, &placed.places);
    let members: Vec<(SetId, Vec<Place>)> = members
        .into_iter()
        .map(|member| (member.set.id, at(member)))
        .filter(|(_, at)| !at.is_empty())
        .collect();
    for (set, _) in &members {
        if let Some(warning) = fastener::left_hand(bench.procedure.set(*set), work) {
            lines.push(StepLine::Hazard(warning));
        }
    }
    let figures = joint_figure::figures(bench, planned, joint, &placed.places, way);
    let (order, origin) = joint_figure::order_of_work(bench.procedure, joint, way);
    let names: Vec<String> = members
        .iter()
        .map(|(set, places)| {
            let new = goes_in_new(bench, planned, (*set, places), work);
            fastener::object(bench, *set, places, new)
        })
        .collect();
    let alone = match members.as_slice() {
        [(set, places)] => bench.procedure.set_pieces(*set, places).settled() == Some(1),
        _ => false,
    };
    let (verb, after) = verb(work, alone);
    let joined = match names.as_slice() {
        [first, rest @ ..] if !rest.is_empty() => format!("{first} first, then {}", rest.join(", then ")),
        _ => words::list(&names),
    };
    let mut text = Text::plain(format!("{verb} {joined}"));
    if !figures.is_empty() {
        let anchor = joint_figure::anchor(bench, planned, joint);
        let word = if figures.len() > 1 { "the figures" } else { "the figure" };
        // A figure shows one place; the count is of all.
        let each = match (placed.places.len(), joint.axes.as_slice()) {
            (0 | 1, _) => String::new(),
            (_, [axis]) => {
                format!(" at each {}", words::inner(&bench.procedure.axis(*axis).naming.title))
            }
            _ => " at each place".to_owned(),
        };
        text = text.and(format!(",{each} in the order numbered in ")).and_link(word, anchor);
        text = text.and(origin.map(|origin| format!(" (stated by {origin})")).unwrap_or_default());
    }
    // Where the last ones in would bear too much, easing them all first is asked for, stated or not.
    let better = |found: ReleaseRisk| found.rounds_help;
    let rounds = bit_by_bit(act)
        || (work == FasteningWork::Undo
            && release_risk(bench.procedure, id, &bench.added(), Risk::Watch).is_some_and(better));
    let text = text.and(format!("{}.{after}", pace(rounds)));
    let boxes = if placed.places.len() > 1 {
        Boxes::Grid(bench.place_names(placed))
    } else if !figures.is_empty() {
        Boxes::Grid(numbered_holes(bench, joint, &order))
    } else {
        Boxes::One
    };
    let mut drawn: Vec<StepLine> = figures.into_iter().map(StepLine::Figure).collect();
    let shown = !drawn.is_empty();
    let mut told = Vec::new();
    in_rounds(rounds, with_note(text, act.act.note.as_deref()), boxes, &mut told);
    // The rounds stand beside the figure, or below it.
    let after = if rounds { told.split_off(1) } else { Vec::new() };
    lines.append(&mut told);
    if rounds {
        lines.append(&mut drawn);
    }
    lines.extend(after);
    for (set, places) in &members {
        let remarks = fastener::remarks(bench, *set, places, (work, planned.trial));
        lines.extend(remarks.into_iter().map(StepLine::Note));
    }
    if !shown {
        for member in &joint.members {
            let letters = letters(bench, member);
            lines.extend(lengths_told(bench, member.set.id, &at(member), work, &letters));
        }
    }
    lines.append(&mut drawn);
    if work == FasteningWork::Undo {
        for member in &joint.members {
            let letters = letters(bench, member);
            lines.extend(length_tables(bench, member.set.id, &at(member), &letters));
        }
    }
}

/// The letters of a set's holes in a joint: those that it has there, or those that it has anyhow, where nobody says where
/// they are.
fn letters(bench: &Bench, member: &Member) -> Vec<String> {
    if member.holes.is_empty() {
        return bench.procedure.hole_letters(member.set.id);
    }
    member.holes.iter().map(|hole| hole.letter.clone()).collect()
}

/// Tick boxes in the order of work, each with the letter of its hole.
pub(super) fn numbered_holes(bench: &Bench, joint: &Joint, order: &[usize]) -> Vec<String> {
    let holes = joint_figure::holes(bench.procedure, joint);
    order.iter().enumerate().map(|(at, hole)| format!("{} {}", at + 1, holes[*hole].0.letter)).collect()
}

/// A length, whether it was found rather than stated, and the holes that have it.
type Alike = ((Option<Quantity>, bool), Vec<String>);

/// Which length goes where, for fasteners that no figure shows: `A and D 30 mm; B 45 mm; C not known`. Where the
/// lengths are to be measured as they come out, the table under the act tells them.
fn lengths_told(
    bench: &Bench,
    id: SetId,
    places: &[Place],
    work: FasteningWork,
    letters: &[String],
) -> Option<StepLine> {
    let set = bench.procedure.set(id);
    let measured = match set.lengths.throughout(bench.procedure, &set.axes, places) {
        Some(Lengths::ByHole(_)) => false,
        Some(Lengths::Unknown) => true,
        Some(Lengths::One(_)) if !lengths::any_recorded(bench, id, places) => return None,
        Some(Lengths::One(_)) if lengths::found_length(bench, id, places).is_some() => return None,
        Some(Lengths::One(_)) => false,
        None => {
            let told = fastener::length_told(bench.procedure, id, places);
            let asked = matches!(work, FasteningWork::StartByHand | FasteningWork::Undo) && !told.is_empty();
            return asked.then(|| StepLine::Note(Text::bold("Length: ").and(format!("{told}."))));
        }
    };
    let asked = work == FasteningWork::StartByHand || (work == FasteningWork::Undo && !measured);
    if !asked || letters.is_empty() {
        return None;
    }
    // What was stated and what came out are told apart.
    let mut lengths: Vec<Alike> = Vec::new();
    for letter in letters {
        let length = lengths::length_at(bench, id, places, letter);
        let found = lengths::recorded_length(bench, id, places, letter).is_some();
        match lengths.iter_mut().find(|(known, _)| *known == (length, found)) {
            Some((_, holes)) => holes.push(letter.clone()),
            None => lengths.push(((length, found), vec![letter.clone()])),
        }
    }
    if let [((None, _), _)] = lengths.as_slice() {
        return Some(StepLine::Note(
            Text::bold("Lengths not known: ").and("each goes back into its own hole."),
        ));
    }
    let some_found = lengths.iter().any(|((_, found), _)| *found);
    let told = |((length, found), holes): &Alike| {
        let stated = if some_found && !found && length.is_some() { " as stated" } else { "" };
        let length = length.map_or_else(|| "not known".to_owned(), |length| length.printed());
        format!("{} {length}{stated}", words::list(holes))
    };
    let told: Vec<String> = lengths.iter().map(told).collect();
    let how = if measured || some_found { ", as they came out" } else { "" };
    Some(StepLine::Note(Text::bold(format!("Lengths by hole{how}: ")).and(format!("{}.", told.join("; ")))))
}

/// Blanks for lengths that nobody has stated, hole by hole, at each place; none where they are known or never asked for.
fn length_tables(bench: &Bench, id: SetId, places: &[Place], letters: &[String]) -> Vec<StepLine> {
    let set = bench.procedure.set(id);
    let unknown = |place: &Place| {
        let lengths = set.lengths.at(&bench.procedure.bound_at((id, *place)));
        lengths.is_some_and(|said| said.value == Lengths::Unknown)
    };
    let several = places.len() > 1;
    let table = |place: &Place| {
        let name = several.then(|| bench.place_name(&set.axes, *place));
        length_table(bench, id, (*place, name), letters)
    };
    places.iter().filter(|place| unknown(place)).map(table).collect()
}

fn length_table(
    bench: &Bench,
    id: SetId,
    (place, name): (Place, Option<String>),
    letters: &[String],
) -> StepLine {
    let set = bench.procedure.set(id);
    let recorded = |letter: &str| lengths::recorded_length(bench, id, &[place], letter);
    let halves = if letters.len() > LONG_LIST { 2 } else { 1 };
    let mut columns = Vec::new();
    for _ in 0..halves {
        for (heading, share) in [("Hole", 0.7), ("Length", 1.8), ("State", 2.0)] {
            columns.push(Column { heading: heading.to_owned(), share, to_the_right: false });
        }
    }
    let rows = letters.len().div_ceil(halves);
    let id_at = words::id_at(bench.procedure, &set.naming, &set.axes, place);
    let cells = |index: usize| match letters.get(index) {
        Some(letter) => {
            let length = recorded(letter);
            let length = length.map_or_else(
                || Cell::Blank("mm".to_owned()),
                |length| Cell::Text(Text::bold(length.printed())),
            );
            let length = kept(length, &["lengths", &id_at, letter], Form::Quantity("mm".to_owned()));
            [Cell::Text(Text::bold(letter.clone())), length, Cell::Blank(String::new())]
        }
        None => [0, 1, 2].map(|_| Cell::Text(Text::default())),
    };
    let row = |row: usize| (0..halves).flat_map(|half| cells(row + half * rows)).collect();
    let named = name.map(|name| format!(", {name}")).unwrap_or_default();
    let pieces = bench.procedure.set_pieces(id, &[place]);
    let name = words::capital(&words::many(&set.naming.title, pieces)) + &named;
    StepLine::Table(Table {
        caption: if letters.iter().all(|letter| recorded(letter).is_some()) {
            Text::bold(format!("{name}: lengths as they came out."))
        } else if letters.iter().any(|letter| recorded(letter).is_some()) {
            Text::bold(format!("{name}: lengths not all known."))
                .and(" Measure the others under the head as they come out.")
        } else {
            Text::bold(format!("{name}: lengths not known."))
                .and(" Measure each under the head as it comes out.")
        },
        columns,
        rows: (0..rows).map(row).collect(),
    })
}
