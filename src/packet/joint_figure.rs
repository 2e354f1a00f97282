//! The figure of a joint: its holes to scale, turned as the fitter sees them in the step's stand position, with the
//! order of work in numbers. Turned, never mirrored.

use super::bench::{Bench, Lie};
use super::fastener;
use super::joint_whole::{front_in_picture, leave_out_the_usual, whole};
use super::lengths::length_at;
use crate::decide::{GoesIn, set_goes_in, shared_name};
use crate::english::spaced;
use crate::plan::PlannedStep;
use crate::procedure::model::{End, Joint, Lengths, Member, Place, Procedure, Seen, View, grouped};
pub(super) use crate::procedure::{Way, holes, order_of_work};
use crate::procedure::{in_joint, point};
use crate::quantity::Length;
use crate::sheet::{Anchor, Drawing, Figure, HoleMark, JointDrawing, Text, Toward};

/// Holes from which a joint has a map. Our own choice, no source.
const MAPPED: usize = 4;

/// What the dashed line of a figure is.
pub(super) const DASHED: &str = " Dashed: round the holes; shape not known.";

/// Quarter turns of a picture, anticlockwise.
type Quarters = u8;

/// Where links to the figure of a joint in a step lead.
pub(super) fn anchor(bench: &Bench, planned: &PlannedStep, joint: &Joint) -> Anchor {
    let step = planned.key.id(bench.procedure);
    let mut name = format!("figure:{step}:{}", joint.naming.id);
    // Of the engines that open answers leave, each has its own.
    let declared = bench.procedure.joints.iter().find(|declared| declared.naming.id == joint.naming.id);
    if declared.is_some_and(|declared| declared.members.len() > joint.members.len()) {
        for member in &joint.members {
            name += &format!(":{}", bench.procedure.set(member.set.id).naming.id);
        }
    }
    Anchor(name)
}

/// The figures of a joint for a step, one for each way in which it is seen at some of these places; none if no holes are
/// laid out. The first is where links lead.
pub(super) fn figures(
    bench: &Bench,
    planned: &PlannedStep,
    joint: &Joint,
    places: &[Place],
    way: Way,
) -> Vec<Figure> {
    let procedure = bench.procedure;
    let seen = |place: Place| joint.seen.at(&procedure.bound(&joint.axes, place)).map(|seen| seen.value);
    // Where one place hasn't got what another has, its picture is another.
    let here = |place: Place| {
        let has = |member: &Member| !in_joint(procedure, joint, member, &[place]).is_empty();
        joint.members.iter().map(has).collect::<Vec<bool>>()
    };
    let groups = grouped(places.iter().copied(), |place| (seen(place), here(place)));
    let (several, anchor) = (groups.len() > 1, anchor(bench, planned, joint));
    let drawn = |index: usize, seen: Option<Seen>, here: Vec<bool>, places: Vec<Place>| {
        let members =
            joint.members.iter().zip(here).filter(|(_, here)| *here).map(|(member, _)| member.clone());
        let joint = &Joint { members: members.collect(), ..joint.clone() };
        let name = several.then(|| shared_name(procedure, &joint.axes, &places));
        let anchor = (index == 0).then(|| anchor.clone());
        figure(bench, planned, joint, &places, way, seen, (name, anchor))
    };
    let numbered = groups.into_iter().enumerate();
    numbered.filter_map(|(index, ((seen, here), places))| drawn(index, seen, here, places)).collect()
}

fn figure(
    bench: &Bench,
    planned: &PlannedStep,
    joint: &Joint,
    places: &[Place],
    way: Way,
    seen: Option<Seen>,
    (name, anchor): (Option<String>, Option<Anchor>),
) -> Option<Figure> {
    let procedure = bench.procedure;
    let holes = holes(procedure, joint);
    let title = match name {
        Some(name) => format!("{}, {name}", joint.naming.title),
        None => joint.naming.title.clone(),
    };
    let (order, stated) = order_of_work(procedure, joint, way);
    let mut numbers = vec![0; holes.len()];
    for (place, hole) in order.iter().enumerate() {
        numbers[*hole] = place + 1;
    }
    let front = front_in_picture(procedure, seen);
    let lie = bench.lie(planned);
    let sides = procedure.family.as_ref().and_then(|family| family.sides_seen_from);
    let side = seen.map(|seen| seen.view);
    let turn = quarters(side, front, lie.map(|lie| lie.uppermost), sides);
    let marks: Vec<HoleMark> = holes
        .iter()
        .zip(&numbers)
        .map(|((hole, set, size), number)| {
            let at = point(hole);
            let (x, y) = turned(at.x.mm(), at.y.mm(), turn);
            HoleMark {
                x,
                y,
                diameter: set.size().map_or(8.0, Length::mm),
                letter: hole.letter.clone(),
                number: number.to_string(),
                size: *size,
                note: length_note(bench, (joint, &joint.members[*size]), places, &hole.letter, way),
            }
        })
        .collect();
    let mut marks = marks;
    let usual = leave_out_the_usual(&mut marks);
    // Few holes are found without a map, unless their order or their lengths matter.
    let matters = stated.is_some() || usual.is_some() || marks.iter().any(|mark| !mark.note.is_empty());
    if holes.len() < 2 || (holes.len() < MAPPED && !matters) {
        return None;
    }
    let front = front.map(|front| turned_front(front, turn));
    let view = view_words(procedure, side, lie);
    let what = match way {
        Way::Release => "order of undoing",
        Way::Tighten => "order of tightening",
    };
    let sequence: Vec<String> =
        order.iter().enumerate().map(|(at, hole)| format!("{} {}", at + 1, holes[*hole].0.letter)).collect();
    Some(Figure {
        caption: Text::bold(format!("{title}: {what}."))
            .and(format!(
                " {}{}.{}",
                crate::plan::words::capital(&view),
                front_words(procedure, front),
                usual.map(|length| format!(" Where none stands: {length}.")).unwrap_or_default(),
            ))
            .and(if holes.len() > 2 { DASHED } else { "" }),
        alternative: format!(
            "Map of {} holes of the joint {title}, {view}. Number in the {what} and hole letter: {}.",
            holes.len(),
            sequence.join(", ")
        ),
        drawing: Drawing::Joint(JointDrawing {
            holes: marks,
            view,
            front,
            front_name: procedure.end_name(End::Front).to_owned(),
            sizes: joint
                .members
                .iter()
                .map(|member| {
                    let places = in_joint(procedure, joint, member, places);
                    fastener::legend(bench, member.set.id, &places)
                })
                .collect(),
            anchor,
            whole: whole(bench, joint),
        }),
    })
}

/// A length where it differs from hole to hole, or `?` where nobody knows it.
fn length_note(
    bench: &Bench,
    (joint, member): (&Joint, &Member),
    places: &[Place],
    letter: &str,
    way: Way,
) -> String {
    let id = member.set.id;
    let set = bench.procedure.set(id);
    let places = in_joint(bench.procedure, joint, member, places);
    let lengths = set.lengths.throughout(bench.procedure, &set.axes, &places);
    let differs = match lengths {
        Some(Lengths::One(_)) => false,
        Some(Lengths::ByHole(_) | Lengths::Unknown) => true,
        None => !set.lengths.is_empty(),
    };
    let length = match length_at(bench, id, &places, letter) {
        Some(length) => length.printed(),
        None if differs => "?".to_owned(),
        None => String::new(),
    };
    let new = |place: &Place| match set_goes_in(bench.material.decisions, id, *place) {
        GoesIn::SomeNew(among) => among.holes.iter().any(|hole| hole == letter),
        _ => false,
    };
    if way == Way::Tighten && places.iter().any(new) {
        format!("{length} NEW").trim_start().to_owned()
    } else {
        length
    }
}

/// How far the picture is turned for how the engine lies. Turned about the crank axis, what is seen from above, from
/// below or from a side that lies uppermost keeps its front where it was; the other faces turn over.
fn quarters(
    view: Option<View>,
    front: Option<Toward>,
    uppermost: Option<View>,
    sides: Option<End>,
) -> Quarters {
    let to = |wanted: Toward| {
        (0..4).find(|turn| front.map(|front| turned_front(front, *turn)) == Some(wanted)).unwrap_or(0)
    };
    let end = match view {
        Some(View::Front) => Some(End::Front),
        Some(View::Rear) => Some(End::Rear),
        _ => None,
    };
    match (uppermost, end) {
        (Some(View::Below), _) if !matches!(view, Some(View::Top | View::Below) | None) => 2,
        (Some(View::Front), None) => to(Toward::Up),
        (Some(View::Rear), None) => to(Toward::Down),
        // Seen from the end that the sides are named from, the left side lies to the left.
        (Some(View::Right), Some(end)) if sides.is_some() => {
            if Some(end) == sides {
                1
            } else {
                3
            }
        }
        (Some(View::Left), Some(end)) if sides.is_some() => {
            if Some(end) == sides {
                3
            } else {
                1
            }
        }
        _ => 0,
    }
}

fn turned(x: f64, y: f64, turn: Quarters) -> (f64, f64) {
    match turn % 4 {
        1 => (-y, x),
        2 => (-x, -y),
        3 => (y, -x),
        _ => (x, y),
    }
}

fn turned_front(front: Toward, turn: Quarters) -> Toward {
    let once = |front| match front {
        Toward::Right => Toward::Up,
        Toward::Up => Toward::Left,
        Toward::Left => Toward::Down,
        Toward::Down => Toward::Right,
        Toward::Reader | Toward::Away => front,
    };
    (0..turn % 4).fold(front, |front, _| once(front))
}

fn view_words(procedure: &Procedure, view: Option<View>, lie: Option<Lie>) -> String {
    let from = |end: End| format!("seen from the {}", procedure.end_name(end));
    let seen = match view {
        Some(View::Top) => "seen from above".to_owned(),
        Some(View::Below) => "seen from below".to_owned(),
        Some(View::Front) => from(End::Front),
        Some(View::Rear) => from(End::Rear),
        Some(View::Left) => "seen from the left side".to_owned(),
        Some(View::Right) => "seen from the right side".to_owned(),
        None => "view not stated".to_owned(),
    };
    match lie {
        None | Some(Lie { uppermost: View::Top, .. }) => seen,
        Some(lie) => {
            let with = format!("with {} {}", crate::plan::words::the(lie.setup), spaced(lie.value));
            if lie.uppermost == View::Below && view == Some(View::Below) {
                format!("the underside, which lies uppermost {with}")
            } else {
                format!("{seen}, {with}")
            }
        }
    }
}

fn front_words(procedure: &Procedure, front: Option<Toward>) -> String {
    let toward = match front {
        Some(Toward::Left) => "to the left",
        Some(Toward::Right) => "to the right",
        Some(Toward::Up) => "up",
        Some(Toward::Down) => "down",
        Some(Toward::Reader | Toward::Away) | None => return String::new(),
    };
    format!(", {} of the {} {toward}", procedure.end_name(End::Front), procedure.whole())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pictures_are_turned_and_never_mirrored() {
        for turn in 0..4 {
            // The turn from the x axis to the y axis stays anticlockwise.
            let (a, b) = turned(1.0, 0.0, turn);
            let (c, d) = turned(0.0, 1.0, turn);
            assert_eq!(a * d - b * c, 1.0);
        }
    }

    #[test]
    fn the_front_turns_with_the_holes() {
        for (front, x, y) in [
            (Toward::Left, -1.0, 0.0),
            (Toward::Right, 1.0, 0.0),
            (Toward::Up, 0.0, 1.0),
            (Toward::Down, 0.0, -1.0),
        ] {
            for turn in 0..4 {
                let expected = match turned(x, y, turn) {
                    (x, _) if x < -0.5 => Toward::Left,
                    (x, _) if x > 0.5 => Toward::Right,
                    (_, y) if y > 0.5 => Toward::Up,
                    _ => Toward::Down,
                };
                assert_eq!(turned_front(front, turn), expected);
            }
        }
    }

    #[test]
    fn nose_up_puts_the_front_on_top() {
        let turn = quarters(Some(View::Below), Some(Toward::Left), Some(View::Front), None);
        assert_eq!(turned_front(Toward::Left, turn), Toward::Up);
        assert_eq!(quarters(Some(View::Below), Some(Toward::Left), Some(View::Below), None), 0);
        assert_eq!(quarters(Some(View::Front), Some(Toward::Reader), Some(View::Below), None), 2);
    }

    #[test]
    fn a_side_that_lies_uppermost_is_at_the_top_of_a_picture_of_an_end() {
        for (end, view) in [(End::Rear, View::Rear), (End::Front, View::Front)] {
            for sides in [End::Rear, End::Front] {
                for (side, x) in [(View::Left, -1.0), (View::Right, 1.0)] {
                    // Seen from the other end, left and right change places.
                    let x = if end == sides { x } else { -x };
                    let turn = quarters(Some(view), None, Some(side), Some(sides));
                    assert_eq!(turned(x, 0.0, turn).1, 1.0, "{view:?} {side:?} {sides:?}");
                }
            }
        }
    }
}
