//! What sets leave unsaid that others of their procedure say: the sheets, the order list or the verdict would miss it without a
//! word. It must not know in which order anything is done.

use std::collections::{BTreeMap, BTreeSet};

use super::errors;
use super::model::*;
use crate::diagnostics::Diagnostic;
use crate::quantity::{Angle, Quantity};
use crate::source::{FileId, Span};

/// How many times its thread a fastener may be long before a slip of the unit is likelier: common practice, no source.
const LONGEST: f64 = 60.0;

/// How many times its thread a hexagon is wide across the flats: ISO 272:1982 has 1.45 (M16 and more, small series) to 1.75
/// (M4), from memory; what is narrower or wider by far is of another thread.
const HEADS: std::ops::RangeInclusive<f64> = 1.35..=2.1;

/// What sets that a step turns leave unsaid, and figures of theirs that can hardly be meant; `undone` are those that are turned.
pub(super) fn sets(procedure: &Procedure, undone: &BTreeSet<SetId>) -> Vec<Diagnostic> {
    // A file of which no set says its thread, its drive or whether it goes back is about the order alone.
    let says = |said: fn(&FastenerSet) -> bool| procedure.sets.iter().any(said);
    let drives = says(|set| set.drive.is_some());
    let threads = says(|set| set.diameter.is_some());
    let returns = says(|set| !set.reuse.is_empty());
    let mut complaints = Vec::new();
    for (id, set) in procedure.sets.numbered() {
        let angles: Vec<(Quantity, Span)> = procedure.tightening(id).values().flat_map(angles).collect();
        let wide = angles
            .iter()
            .find(|(angle, _)| Angle::try_from(*angle).is_ok_and(|angle| angle > Angle::from_degrees(360.0)));
        if let Some((wide, span)) = wide {
            complaints.push(errors::wide_angle(&set.naming, *wide, *span));
        }
        let in_critical = procedure.joints.iter().any(|joint| joint.critical && joint.has(id));
        let matters = set.critical || in_critical || !angles.is_empty();
        if set.reuse.is_empty() && matters && undone.contains(&id) {
            complaints.push(errors::no_reuse(&set.naming, !angles.is_empty()));
        } else if undone.contains(&id) {
            if returns && set.reuse.is_empty() {
                complaints.push(errors::set_unsaid(&set.naming, errors::Unsaid::Reuse));
            }
            if drives && set.drive.is_none() && set.handling.tools.is_empty() {
                complaints.push(errors::set_unsaid(&set.naming, errors::Unsaid::Drive));
            }
            if threads && set.diameter.is_none() && has_torque(procedure, id) {
                complaints.push(errors::set_unsaid(&set.naming, errors::Unsaid::Thread));
            }
        }
        complaints.extend(set.lengths.values().find_map(|lengths| too_long(set, lengths)));
        complaints.extend(odd_head(set));
    }
    complaints.extend(open_of_sets(procedure, undone));
    complaints
}

/// Sets that are turned and say neither how long they are nor what they are tightened to, once others do: told once for all that
/// one file declares, since one who writes a procedure leaves it open of many.
fn open_of_sets(procedure: &Procedure, undone: &BTreeSet<SetId>) -> Vec<Diagnostic> {
    let measured = procedure.sets.iter().any(|set| !set.lengths.is_empty());
    let tightened = procedure.sets.ids().any(|set| !procedure.tightening(set).is_empty());
    let mut without_length: BTreeMap<FileId, Vec<&Naming>> = BTreeMap::new();
    let mut without_torque: BTreeMap<FileId, Vec<SetId>> = BTreeMap::new();
    let mut critical: Vec<SetId> = Vec::new();
    for (id, set) in procedure.sets.numbered().filter(|(id, _)| undone.contains(id)) {
        let headed = matches!(set.kind, FastenerKind::Bolt | FastenerKind::Screw);
        let mixed_up = headed && set.thread.is_some() && !set.captive;
        let file = set.naming.span.file;
        if measured && mixed_up && set.lengths.is_empty() {
            without_length.entry(file).or_default().push(&set.naming);
        }
        if procedure.tightening(id).is_empty() && is_critical(procedure, id) {
            critical.push(id);
        } else if tightened && procedure.tightening(id).is_empty() {
            without_torque.entry(file).or_default().push(id);
        }
    }
    let critical = critical.into_iter().map(|id| {
        let joint = procedure.joints.iter().find(|joint| joint.has(id));
        errors::critical_open(&procedure.set(id).naming, joint.map(|joint| &joint.naming))
    });
    let lengths = without_length.values().map(|sets| errors::no_length(sets));
    let torques = without_torque.values().map(|sets| {
        let joint = sets.first().and_then(|first| procedure.joints.iter().find(|joint| joint.has(*first)));
        let sets: Vec<&Naming> = sets.iter().map(|set| &procedure.set(*set).naming).collect();
        errors::no_torque(&sets, joint.map(|joint| &joint.naming))
    });
    critical.chain(lengths).chain(torques).collect()
}

/// Whether a set says that it is critical, or its joint does.
fn is_critical(procedure: &Procedure, set: SetId) -> bool {
    let joint = procedure.joints.iter().find(|joint| joint.has(set));
    procedure.set(set).critical || joint.is_some_and(|joint| joint.critical)
}

/// Whether it is tightened to a figure, its own or the crib's for its thread.
fn has_torque(procedure: &Procedure, set: SetId) -> bool {
    let figure =
        |stated: &Sourced<Tightening>| matches!(stated.value, Tightening::Passes(_) | Tightening::General);
    procedure.tightening(set).values().any(figure)
}

/// The angles of a tightening, the largest of each.
fn angles(stated: &Sourced<Tightening>) -> Vec<(Quantity, Span)> {
    let Tightening::Passes(passes) = &stated.value else { return Vec::new() };
    let angle = |pass: &Pass| match pass {
        Pass::Angle(low, high) => Some((high.unwrap_or(*low), stated.span)),
        Pass::Torque(..) => None,
    };
    passes.iter().filter_map(angle).collect()
}

fn too_long(set: &FastenerSet, stated: &Sourced<Lengths>) -> Option<Diagnostic> {
    let lengths: Vec<Quantity> = match &stated.value {
        Lengths::Unknown => Vec::new(),
        Lengths::One(length) => vec![*length],
        Lengths::ByHole(holes) => holes.iter().map(|(_, length)| *length).collect(),
    };
    let most = LONGEST * set.diameter?.base();
    let long = lengths.into_iter().find(|length| length.base() > most)?;
    Some(errors::long_fastener(&set.naming, long, stated.span))
}

/// A hexagon that is far from what such a thread has. Pipe unions and the like (captive, hollow, plugs) go by their pipe.
fn odd_head(set: &FastenerSet) -> Option<Diagnostic> {
    let hexagon = matches!(set.kind, FastenerKind::Bolt | FastenerKind::Nut | FastenerKind::Screw);
    let (Some(Drive::AcrossFlats(flats)), Some(diameter)) = (&set.drive, set.diameter) else { return None };
    let ratio = flats.base() / diameter.base();
    let odd = hexagon && !set.captive && !HEADS.contains(&ratio);
    odd.then(|| errors::odd_head(&set.naming, *flats, ratio < *HEADS.start()))
}
