//! What each set is tightened to in this shop: what the procedure says, or the shop's own table where it leaves it to
//! that.

use std::collections::BTreeMap;

use crate::procedure::model::{
    FastenerSet, Guard, Origin, Pass, Place, Procedure, SetId, Sourced, Tightening, grouped,
};
use crate::quantity::Quantity;
use crate::record::GeneralTorques;

/// What a set is tightened to.
#[derive(Debug, Clone, PartialEq)]
pub enum Torque {
    /// Pass by pass, and where the numbers come from.
    Passes(Vec<Pass>, Origin),
    /// By feel.
    ByFeel,
    /// The procedure leaves it to the shop's own table, which was not given.
    NoTable,
    /// The procedure leaves it to the shop's own table, which has no value for it.
    NotInTable,
    /// Nobody has said: the build steps that need it are held.
    Open,
    /// Open answers choose the first of these that holds: the build steps that need it are held.
    ByAnswer(Vec<(Torque, Guard)>),
}

impl Torque {
    /// Its passes, where they are known.
    pub fn passes(&self) -> Option<&[Pass]> {
        if let Torque::Passes(passes, _) = self { Some(passes) } else { None }
    }

    /// Its passes, or those of each that open answers choose among.
    pub fn all_passes(&self) -> Vec<&[Pass]> {
        match self {
            Torque::ByAnswer(cases) => cases.iter().flat_map(|(torque, _)| torque.all_passes()).collect(),
            torque => torque.passes().into_iter().collect(),
        }
    }
}

/// What every set is tightened to, at each of its places.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Torques(BTreeMap<(SetId, Place), Torque>);

impl Torques {
    /// Reads them off a procedure in which the answers are settled, and off the shop's own table if it is given.
    pub(super) fn new(procedure: &Procedure, table: Option<&GeneralTorques>) -> Torques {
        let stated = |(set, place): (SetId, Place)| {
            let bound = procedure.bound_at((set, place));
            let cases = procedure.tightening(set).each(&bound);
            let one = |stated: &Sourced<Tightening>| torque(procedure.set(set), stated, table);
            let mut cases: Vec<(Torque, Guard)> =
                cases.map(|(stated, when)| (one(stated), when.clone())).collect();
            let torque = match cases.first() {
                None => Torque::Open,
                Some((_, when)) if when.0.is_empty() => cases.swap_remove(0).0,
                Some(_) => Torque::ByAnswer(cases),
            };
            ((set, place), torque)
        };
        Torques(procedure.everywhere().map(stated).collect())
    }

    /// What a set is tightened to at one of its places.
    pub fn of(&self, set: SetId, place: Place) -> &Torque {
        self.0.get(&(set, place)).unwrap_or(&Torque::Open)
    }

    /// What a set is tightened to at some of its places, those with the same together.
    pub fn at(&self, set: SetId, places: &[Place]) -> Vec<(&Torque, Vec<Place>)> {
        grouped(places.iter().copied(), |place| self.of(set, place))
    }

    /// What a set is tightened to wherever it is; none where that differs.
    pub fn everywhere(&self, set: SetId) -> Option<&Torque> {
        let places = (set, Place(0))..=(set, Place(u32::MAX));
        let mut all = self.0.range(places).map(|(_, torque)| torque);
        let first = all.next()?;
        all.all(|other| other == first).then_some(first)
    }
}

fn torque(set: &FastenerSet, stated: &Sourced<Tightening>, table: Option<&GeneralTorques>) -> Torque {
    match (&stated.value, table) {
        (Tightening::Passes(passes), _) => Torque::Passes(passes.clone(), stated.origin.clone()),
        (Tightening::ByFeel, _) => Torque::ByFeel,
        (Tightening::Unknown, _) => Torque::Open,
        (Tightening::General, None) => Torque::NoTable,
        (Tightening::General, Some(table)) => match in_table(set, table) {
            Some(value) => {
                let origin = format!("the shop's own table: {}", table.origin);
                Torque::Passes(vec![Pass::Torque(value, None)], Some(origin))
            }
            None => Torque::NotInTable,
        },
    }
}

fn in_table(set: &FastenerSet, table: &GeneralTorques) -> Option<Quantity> {
    // A nut is looked up by the strongest bolt that it holds.
    table.value(&set.thread()?, set.bolt_class()?)
}
