//! Tightening: one line per pass with the torque or angle, its condition, its origin and a box per hole. An unknown
//! torque prints as a hold, never as a number.

use super::bench::Bench;
use super::fasten_lines::{numbered_holes, on_which};
use super::fastener;
use super::joint_figure::{self, Way};
use super::phrases::{places, with_note};
use crate::decide::{Torque, by_answer, set_goes_in, shared_name};
use crate::mechanics::wrench::DragRule;
use crate::plan::words;
use crate::plan::{Placed, PlacedKind, PlannedAct, PlannedStep, fastened, no_value};
use crate::procedure::evenness::once_more_evens;
use crate::procedure::model::{Deed, FastenerSet, FasteningWork, Joint, Pass, Place, SetId};
use crate::procedure::{Fitted, as_fitted, in_joint, members_in_order};
use crate::quantity::{
    Bound, Dimension, Quantity, from_to, pair, range_pair, setting_counterpart, setting_pair,
};
use crate::sheet::{Blank, Boxes, StepLine, Text};

/// How something is tightened.
#[derive(Debug, Clone, Copy)]
pub(super) enum Manner {
    /// Pass after pass, as the procedure states.
    Stated,
    /// To the torque of a trial.
    Trial(Quantity),
    /// One fastener after the other, to what the last pass left it at.
    Again,
}

/// How a joint is gone round once more, told with its reason where a chapter first asks for it, and in brief afterwards.
pub(super) const ONCE_MORE: [&str; 2] = [
    " at the last torque, in the same order: the first ones have lost load to the others.",
    " at the last torque, in the same order.",
];

/// The passes that are worked: all of them, or when something is tightened again the last alone, unless an angle follows
/// a torque.
pub(super) fn passes_worked(again: bool, passes: &[Pass]) -> &[Pass] {
    match passes {
        [.., last @ Pass::Torque(..)] if again => std::slice::from_ref(last),
        _ => passes,
    }
}

/// The lines of a tightening.
pub(super) fn lines(bench: &Bench, planned: &PlannedStep, act: &PlannedAct, to: Manner) -> Vec<StepLine> {
    let mut lines = Vec::new();
    for placed in &act.things {
        match placed.kind {
            PlacedKind::Set(id) => {
                for (torque, at) in bench.material.decisions.torques.at(id, &placed.places) {
                    let here = Placed { kind: placed.kind, places: at };
                    let drawn = joint_of(bench, &here, id).filter(|_| !matches!(to, Manner::Trial(_)));
                    let shown = drawn.and_then(|joint| in_its_joint(bench, planned, &here, (id, joint)));
                    let (figures, boxes) = shown.unwrap_or_else(|| (Vec::new(), set_boxes(bench, &here, id)));
                    lines.extend(figures);
                    let part = (here.places.len() < placed.places.len()).then_some(here.places.as_slice());
                    let before = lines.len();
                    let new = goes_in_new(bench, planned, (id, &here.places), to);
                    set(bench, (id, torque, new), to, &boxes, (&here.places, part), &mut lines);
                    remark(bench, planned, (id, &here.places), to, &mut lines[before..]);
                }
            }
            PlacedKind::Joint(id) => {
                joint(bench, planned, placed, bench.procedure.joint(id), to, &mut lines);
                if matches!(to, Manner::Stated) && once_more_evens(bench.procedure, id, &bench.added()) {
                    let round = Text::bold("Then once more all round").and(ONCE_MORE[0]);
                    lines.push(StepLine::Act { text: round, boxes: Boxes::One });
                }
            }
            _ => {}
        }
    }
    if let (Some(text), Some(note)) = (first_pass(&mut lines), act.act.note.as_deref()) {
        *text = with_note(std::mem::take(text).and("."), Some(note));
    }
    lines
}

/// What the first pass says.
fn first_pass(lines: &mut [StepLine]) -> Option<&mut Text> {
    lines.iter_mut().find_map(|line| match line {
        StepLine::Torque { text, .. } => Some(text),
        _ => None,
    })
}

/// Says at the first pass of a set that the step doesn't start what is to be known of it.
fn remark(
    bench: &Bench,
    planned: &PlannedStep,
    (id, places): (SetId, &[Place]),
    to: Manner,
    lines: &mut [StepLine],
) {
    if !matches!(to, Manner::Stated) || started(bench, planned, id) {
        return;
    }
    if let Some(text) = first_pass(lines) {
        for told in fastener::differs(bench, id, places) {
            *text = std::mem::take(text).and(". ");
            text.0.extend(told.0);
        }
    }
}

/// Whether the step starts the fasteners of a set too: what is to be known of them stands there.
fn started(bench: &Bench, planned: &PlannedStep, set: SetId) -> bool {
    bench.acts(planned).any(|act| {
        matches!(act.act.deed, Deed::Fasten { work: FasteningWork::StartByHand, .. })
            && fastened(bench.procedure, &act.things).iter().any(|(id, _)| *id == set)
    })
}

fn set_boxes(bench: &Bench, placed: &Placed, id: SetId) -> Boxes {
    let count = bench.procedure.set_pieces(id, &placed.places);
    if placed.places.len() > 1 {
        places(bench, std::slice::from_ref(placed))
    } else if let Some(count) = count.settled().filter(|count| *count > 1) {
        Boxes::Grid((1..=count).map(|number| number.to_string()).collect())
    } else {
        Boxes::One
    }
}

/// The joint that a set of several at one place is a member of, where it is of one joint only.
fn joint_of<'b>(bench: &'b Bench, placed: &Placed, id: SetId) -> Option<&'b Joint> {
    let set = bench.procedure.set(id);
    let mut joints = bench.procedure.joints.iter().filter(|joint| joint.has(id));
    let joint = joints.next().filter(|_| joints.next().is_none())?;
    (set.count.at_a_place().several() && placed.places.len() == 1 && *joint.axes == *set.axes)
        .then_some(joint)
}

/// The map of the joint with the boxes of one of its sets in the order of tightening; none where it isn't drawn.
fn in_its_joint(
    bench: &Bench,
    planned: &PlannedStep,
    placed: &Placed,
    (id, joint): (SetId, &Joint),
) -> Option<(Vec<StepLine>, Boxes)> {
    // While it is open which of its sets it has, there is no one order.
    let fitted = as_fitted(bench.procedure, joint, &placed.places);
    let [Fitted { joint, .. }] = fitted.as_slice() else { return None };
    let (order, _) = joint_figure::order_of_work(bench.procedure, joint, Way::Tighten);
    let figures = joint_figure::figures(bench, planned, joint, &placed.places, Way::Tighten);
    let shown = !figures.is_empty();
    shown.then(|| (figures.into_iter().map(StepLine::Figure).collect(), own_holes(bench, joint, &order, id)))
}

/// Boxes for the holes of one set of a joint, in the order of work.
fn own_holes(bench: &Bench, joint: &Joint, order: &[usize], id: SetId) -> Boxes {
    let holes = joint_figure::holes(bench.procedure, joint);
    let size = joint.members.iter().position(|member| member.set.id == id);
    let names = numbered_holes(bench, joint, order);
    let own = order.iter().zip(names).filter(|(hole, _)| Some(holes[**hole].2) == size);
    Boxes::Grid(own.map(|(_, name)| name).collect())
}

fn joint(
    bench: &Bench,
    planned: &PlannedStep,
    placed: &Placed,
    joint: &Joint,
    to: Manner,
    lines: &mut Vec<StepLine>,
) {
    for fitted in as_fitted(bench.procedure, joint, &placed.places) {
        lines.extend(on_which(bench, &fitted));
        fitted_joint(bench, planned, placed, &fitted.joint, to, lines);
    }
}

fn fitted_joint(
    bench: &Bench,
    planned: &PlannedStep,
    placed: &Placed,
    joint: &Joint,
    to: Manner,
    lines: &mut Vec<StepLine>,
) {
    let (order, origin) = joint_figure::order_of_work(bench.procedure, joint, Way::Tighten);
    let figures = joint_figure::figures(bench, planned, joint, &placed.places, Way::Tighten);
    let shown = !figures.is_empty();
    if let Some(origin) = origin.filter(|_| shown) {
        lines.push(StepLine::Note(Text::plain(format!("Order of tightening stated by {origin}."))));
    }
    lines.extend(figures.into_iter().map(StepLine::Figure));
    for member in members_in_order(bench.procedure, joint, Way::Tighten) {
        let set_id = member.set.id;
        let all = in_joint(bench.procedure, joint, member, &placed.places);
        for (torque, at) in bench.material.decisions.torques.at(set_id, &all) {
            // The places of the joint at which the set stands at one of these.
            let meets = |place: &Place| {
                let own = in_joint(bench.procedure, joint, member, std::slice::from_ref(place));
                own.iter().any(|place| at.contains(place))
            };
            let places = placed.places.iter().copied().filter(meets).collect();
            let here = Placed { kind: placed.kind, places };
            let boxes = if placed.places.len() > 1 {
                Boxes::Grid(bench.place_names(&here))
            } else if shown {
                own_holes(bench, joint, &order, set_id)
            } else {
                set_boxes(bench, &here, set_id)
            };
            let part = (at.len() < all.len()).then_some(at.as_slice());
            let before = lines.len();
            let new = goes_in_new(bench, planned, (set_id, &at), to);
            set(bench, (set_id, torque, new), to, &boxes, (&here.places, part), lines);
            remark(bench, planned, (set_id, &at), to, &mut lines[before..]);
        }
    }
}

/// Whether new fasteners go in at all of these places, in a step that doesn't start them: where they are started that is told.
fn goes_in_new(bench: &Bench, planned: &PlannedStep, (id, places): (SetId, &[Place]), to: Manner) -> bool {
    let new = |place: &Place| set_goes_in(bench.material.decisions, id, *place).is_new();
    matches!(to, Manner::Stated) && !started(bench, planned, id) && places.iter().all(new)
}

/// The lines of one torque of a set, at so many places; these are named where they are not all.
fn set(
    bench: &Bench,
    (id, torque, new): (SetId, &Torque, bool),
    to: Manner,
    boxes: &Boxes,
    (places, part): (&[Place], Option<&[Place]>),
    lines: &mut Vec<StepLine>,
) {
    let set = bench.procedure.set(id);
    let count = bench.procedure.set_pieces(id, places);
    let several = count.several();
    if let Some(warning) = fastener::left_hand(set, FasteningWork::Tighten) {
        lines.push(StepLine::Hazard(warning));
    }
    let at = part.map(|part| format!(", {}", shared_name(bench.procedure, &set.axes, part)));
    let title = words::inner(&set.naming.title);
    let title = if new { format!("new {title}") } else { title };
    let name = words::capital(&words::many(&title, count)) + &at.unwrap_or_default();
    // Where nobody has said, the sheet of open questions asks once for all.
    let condition = fastener::condition(bench.procedure, set).unwrap_or_default();
    let line = |text: String, value: String, held: bool, condition: &str| StepLine::Torque {
        text: Text::plain(text),
        value,
        condition: condition.to_owned(),
        held,
        boxes: boxes.clone(),
    };
    if let Manner::Trial(torque) = to {
        lines.push(line(
            format!("{name}, trial only"),
            setting_pair(torque, &limits_of_wrenches(bench)).to_string(),
            false,
            &condition,
        ));
        return;
    }
    let again = matches!(to, Manner::Again);
    match torque {
        Torque::Passes(passes, origin) => {
            let passes = passes_worked(again, passes);
            lines.extend(drag_reading(set, passes, boxes));
            for (index, pass) in passes.iter().enumerate() {
                let text = match passes.len() {
                    1 if again && several => format!("{name}, one at a time"),
                    1 => name.clone(),
                    many if index == 0 => format!("{name}, pass 1 of {many}"),
                    many => format!("Pass {} of {many}", index + 1),
                };
                let from = origin.as_ref().filter(|_| index == 0).map(|origin| bench.origins.known(origin));
                lines.push(line(
                    text + &from.unwrap_or_default(),
                    pass_value(pass, Some(&limits_of_wrenches(bench))) + &drag_words(set, pass),
                    false,
                    &condition,
                ));
            }
        }
        Torque::ByFeel => lines.push(line(name, "by feel".to_owned(), false, "")),
        unknown => lines.push(line(name, torque_words(bench, id, unknown, again), true, &condition)),
    }
}

/// A torque of a set in one line; of one that isn't known, what is missing.
pub(super) fn torque_words(bench: &Bench, id: SetId, torque: &Torque, again: bool) -> String {
    let set = bench.procedure.set(id);
    match torque {
        Torque::Passes(passes, _) => {
            passes_of(set, passes_worked(again, passes), Some(&limits_of_wrenches(bench)))
        }
        Torque::ByFeel => "by feel".to_owned(),
        Torque::NotInTable => no_value(set),
        Torque::NoTable => "from the shop's own table: not given".to_owned(),
        Torque::Open => "torque not known".to_owned(),
        Torque::ByAnswer(cases) => {
            let cases = cases.iter().map(|(torque, when)| (torque, when));
            by_answer(bench.procedure, cases, |torque| torque_words(bench, id, torque, again))
        }
    }
}

/// Blanks for the drag of locking nuts, which is read before they seat; none for others.
fn drag_reading(set: &FastenerSet, passes: &[Pass], boxes: &Boxes) -> Option<StepLine> {
    set.drag?;
    let Some(Pass::Torque(torque, _)) = passes.iter().find(|pass| matches!(pass, Pass::Torque(..))) else {
        return None;
    };
    let blanks = match boxes {
        Boxes::Grid(names) | Boxes::Results(names, ..) => names.iter().map(Blank::open).collect(),
        Boxes::None | Boxes::One => vec![Blank::default()],
    };
    Some(StepLine::Reading {
        text: Text::bold("Drag of the locking nut.")
            .and(" Read what it takes to turn it a full turn before it seats."),
        limit: String::new(),
        unit: torque.unit().printed.to_owned(),
        blanks,
    })
}

/// What is added at the wrench for a locking nut, by the rule that the procedure chooses. The drag itself is never
/// known beforehand, so no sum is printed.
pub(super) fn drag_words(set: &FastenerSet, pass: &Pass) -> String {
    let Pass::Torque(low, _) = pass else { return String::new() };
    match set.drag {
        None => String::new(),
        Some(DragRule::Always) => ", plus the drag".to_owned(),
        Some(rule @ DragRule::FromAThird) => {
            let Ok(lower_end) = crate::quantity::Torque::try_from(*low) else { return String::new() };
            let third = Quantity::from_base(rule.counts_from(lower_end).base(), low.unit(), 1);
            format!(", plus the drag if that is {} or more", pair(third))
        }
    }
}

/// The passes of a set in one line, with what is added for a locking nut.
pub(super) fn passes_of(set: &FastenerSet, passes: &[Pass], limits: Option<&[(f64, Bound)]>) -> String {
    let drag = passes.last().map(|pass| drag_words(set, pass)).unwrap_or_default();
    passes_value(passes, limits) + &drag
}

/// The ends of the scales of every torque wrench of the procedure and of the shop, in base units: a torque in a second unit
/// must not lie beyond one of them that it lies within.
pub(super) fn limits_of_wrenches(bench: &Bench) -> Vec<(f64, Bound)> {
    let declared = bench.procedure.tools.iter().filter_map(|tool| tool.range);
    let crib =
        bench.material.shop.into_iter().flat_map(|shop| &shop.crib.tools).filter_map(|tool| tool.range);
    let ranges = declared.chain(crib).filter(|(low, _)| low.dimension() == Dimension::TORQUE);
    ranges.flat_map(|(low, high)| [(low.base(), Bound::Least), (high.base(), Bound::Most)]).collect()
}

/// What a pass is tightened to, with the other unit: `60 N·m (44 lbf·ft)`, `on by 90°`; on no other side of any of the limits;
/// without limits in its own unit alone.
pub(super) fn pass_value(pass: &Pass, limits: Option<&[(f64, Bound)]>) -> String {
    match (pass, limits) {
        (Pass::Torque(low, None), Some(limits)) => setting_pair(*low, limits).to_string(),
        (Pass::Torque(low, None), None) => low.printed(),
        (Pass::Torque(low, Some(high)), limits) => {
            let range = limits.map_or_else(|| from_to(*low, *high), |_| range_pair(*low, *high).to_string());
            format!("{range}, on to the next slot, never back")
        }
        (Pass::Angle(low, None), _) => format!("on by {}", low.printed()),
        (Pass::Angle(low, Some(high)), _) => format!("on by {} to {}", low.printed(), high.printed()),
    }
}

/// Passes in one line: `30, 65, 100 N·m (22, 48, 74 lbf·ft)`, `15 N·m (133 lbf·in), then on by 30°`.
pub(super) fn passes_value(passes: &[Pass], limits: Option<&[(f64, Bound)]>) -> String {
    let torques: Option<Vec<Quantity>> = passes
        .iter()
        .map(|pass| match pass {
            Pass::Torque(torque, None) => Some(*torque),
            _ => None,
        })
        .collect();
    let joined = |torques: &[Quantity]| {
        let unit = torques.first()?.unit();
        let alike = torques.iter().all(|torque| torque.unit() == unit);
        let numerals: Vec<String> = torques.iter().map(|torque| torque.numeral().to_string()).collect();
        alike.then(|| format!("{} {}", numerals.join(", "), unit.printed))
    };
    let in_one = torques.and_then(|torques| {
        let Some(limits) = limits else { return joined(&torques) };
        let others: Vec<Quantity> = {
            let other = |torque: &Quantity| setting_counterpart(*torque, limits);
            torques.iter().map(other).collect::<Option<_>>()?
        };
        Some(format!("{} ({})", joined(&torques)?, joined(&others)?))
    });
    in_one.unwrap_or_else(|| {
        passes.iter().map(|pass| pass_value(pass, limits)).collect::<Vec<_>>().join(", then ")
    })
}
