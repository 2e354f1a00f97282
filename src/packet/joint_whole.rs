//! A joint with the most that any packet shows at its holes, from what the procedure says of it and not from the job as it
//! stands today: by it the joint has one scale on every sheet.

use super::bench::Bench;
use crate::mechanics::joint::Risk;
use crate::procedure::clamping::{Added, BIT_BY_BIT, release_risk, undone_in_rounds};
use crate::procedure::model::{End, Front, Hole, Joint, JointId, Lengths, Member, Procedure, Seen, View};
use crate::procedure::{holes, point};
use crate::quantity::Length;
use crate::sheet::{HoleMark, JointWhole, Toward};

/// Stands for a length that nobody knows yet.
const MEASURED: &str = "100 mm";

/// A joint as its procedure has it, whatever of it this engine has.
pub(super) fn whole(bench: &Bench, joint: &Joint) -> JointWhole {
    let joints = || bench.procedure.joints.numbered();
    let all = || {
        let added = bench.added();
        joints().map(|(id, joint)| (joint.naming.id.clone(), made(bench, (id, joint), &added))).collect()
    };
    bench.wholes.get_or_init(all).get(&joint.naming.id).cloned().unwrap_or_default()
}

fn made(bench: &Bench, (id, joint): (JointId, &Joint), added: &Added) -> JointWhole {
    let procedure = bench.procedure;
    let mut marks = Vec::new();
    let mut boxes = Vec::new();
    let rounds = if in_rounds(bench.procedure, id, added) { BIT_BY_BIT } else { 1 };
    let most: Vec<usize> = joint.members.iter().map(|member| passes(bench, member).max(rounds)).collect();
    for (index, (hole, set, size)) in holes(procedure, joint).into_iter().enumerate() {
        let at = point(hole);
        marks.push(HoleMark {
            x: at.x.mm(),
            y: at.y.mm(),
            diameter: set.size().map_or(8.0, Length::mm),
            letter: hole.letter.clone(),
            number: (index + 1).to_string(),
            size,
            note: note(bench, &joint.members[size], hole),
        });
        boxes.push(most[size]);
    }
    leave_out_the_usual(&mut marks);
    let seen = joint.seen.values().next().map(|seen| seen.value);
    JointWhole { holes: marks, boxes, front: front_in_picture(procedure, seen) }
}

/// Whether it is undone in rounds: as stated, or because the last ones in would bear too much.
fn in_rounds(procedure: &Procedure, id: JointId, added: &Added) -> bool {
    undone_in_rounds(procedure, id)
        || release_risk(procedure, id, added, Risk::Watch).is_some_and(|found| found.rounds_help)
}

/// In how many passes the fasteners of a set are tightened, where they have most.
fn passes(bench: &Bench, member: &Member) -> usize {
    let torques = &bench.material.decisions.torques;
    let places = bench.procedure.places(&bench.procedure.set(member.set.id).axes);
    let passes = places.flat_map(|place| torques.of(member.set.id, place).all_passes());
    passes.map(<[_]>::len).max().unwrap_or(1)
}

/// The longest word that may stand at a hole: a length, where lengths differ or nobody has said.
fn note(bench: &Bench, member: &Member, hole: &Hole) -> String {
    let at_hole = |lengths: &Lengths| match lengths {
        Lengths::Unknown => MEASURED.to_owned(),
        Lengths::One(_) => String::new(),
        Lengths::ByHole(lengths) => {
            let own = lengths.iter().find(|(letter, _)| *letter == hole.letter);
            own.map(|(_, length)| length.printed()).unwrap_or_default()
        }
    };
    let said = bench.procedure.set(member.set.id).lengths.values().map(|said| at_hole(&said.value));
    said.max_by_key(String::len).unwrap_or_default()
}

/// Where the front is in the picture as declared: stated, or following from the side it is seen from.
pub(super) fn front_in_picture(procedure: &Procedure, seen: Option<Seen>) -> Option<Toward> {
    let stated = seen.and_then(|seen| seen.front).map(|front| match front {
        Front::Left => Toward::Left,
        Front::Right => Toward::Right,
        Front::Up => Toward::Up,
        Front::Down => Toward::Down,
    });
    let sides = procedure.family.as_ref().and_then(|family| family.sides_seen_from);
    stated.or(match (seen?.view, sides) {
        (View::Front, _) => Some(Toward::Reader),
        (View::Rear, _) => Some(Toward::Away),
        // Facing the side that is on the right as seen from the rear, the front is to one's right.
        (View::Right, Some(End::Rear)) | (View::Left, Some(End::Front)) => Some(Toward::Right),
        (View::Left, Some(End::Rear)) | (View::Right, Some(End::Front)) => Some(Toward::Left),
        _ => None,
    })
}

/// Of several lengths the one that most have is told once; only the odd ones stand at their holes. None where no length is
/// that of more than half.
pub(super) fn leave_out_the_usual(marks: &mut [HoleMark]) -> Option<String> {
    let count = |note: &str| marks.iter().filter(|mark| mark.note == note).count();
    let usual = marks.iter().map(|mark| mark.note.clone()).find(|note| 2 * count(note) > marks.len())?;
    // A length that nobody knows is told at its hole, and one that is no length is none.
    if usual.is_empty() || usual == "?" || usual.contains("NEW") {
        return None;
    }
    marks.iter_mut().filter(|mark| mark.note == usual).for_each(|mark| mark.note.clear());
    Some(usual)
}
