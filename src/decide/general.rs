//! What a procedure leaves to the shop's own table of torques, filled in from the crib.

use crate::mechanics::engagement::NutClass;
use crate::mechanics::{Class, Thread};
use crate::procedure::model::{FastenerKind, FastenerSet, Number, Pass, Procedure, Sourced, Tightening};
use crate::quantity::Quantity;
use crate::record::GeneralTorques;

/// Puts the shop's torque wherever the procedure says `general` and the table has a value for thread and class, with
/// the table's origin. Where it has none, `general` stays and carries the origin of the table that was looked in.
pub fn fill_general(procedure: &mut Procedure, table: &GeneralTorques) {
    let values: Vec<Option<Quantity>> = procedure
        .sets
        .iter()
        .map(|set| thread_and_class(set).and_then(|(thread, class)| table.value(&thread, class)))
        .collect();
    for (set, value) in procedure.sets.iter_mut().zip(&values) {
        fill(set.tightening.as_mut(), *value, table);
    }
    for member in procedure.joints.iter_mut().flat_map(|joint| &mut joint.members) {
        fill(member.tightening.as_mut(), values[member.set.id.index()], table);
    }
}

fn thread_and_class(set: &FastenerSet) -> Option<(Thread, Class)> {
    let thread = Thread::parse(&set.thread.as_ref()?.0).ok()?;
    let class = &set.class.as_ref()?.0;
    // A nut is looked up by the strongest bolt that it holds.
    let nut = (set.kind == FastenerKind::Nut).then(|| NutClass::parse(class)).flatten();
    Some((thread, nut.map(NutClass::strongest_bolt).or_else(|| Class::parse(class).ok())?))
}

fn fill(tightening: Option<&mut Sourced<Tightening>>, value: Option<Quantity>, table: &GeneralTorques) {
    let Some(tightening) = tightening.filter(|tightening| tightening.value == Tightening::General) else {
        return;
    };
    tightening.origin = Some(format!("the shop's own table: {}", table.origin));
    if let Some(value) = value {
        tightening.value = Tightening::Passes(vec![Pass::Torque(value, None)]);
    }
}
