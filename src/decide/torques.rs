//! What each set is tightened to in this shop: what the procedure says, or the shop's own table where it leaves it to
//! that.

use crate::procedure::model::{FastenerSet, Number, Origin, Pass, Procedure, SetId, Tightening};
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
}

impl Torque {
    /// Its passes, where they are known.
    pub fn passes(&self) -> Option<&[Pass]> {
        if let Torque::Passes(passes, _) = self { Some(passes) } else { None }
    }
}

/// What every set is tightened to.
#[derive(Debug, Clone, PartialEq)]
pub struct Torques(Vec<Torque>);

impl Torques {
    /// Reads them off the procedure, and off the shop's own table if it is given.
    pub(super) fn new(procedure: &Procedure, table: Option<&GeneralTorques>) -> Torques {
        Torques(procedure.sets.ids().map(|set| torque(procedure, set, table)).collect())
    }

    /// What a set is tightened to.
    pub fn of(&self, set: SetId) -> &Torque {
        &self.0[set.index()]
    }
}

fn torque(procedure: &Procedure, set: SetId, table: Option<&GeneralTorques>) -> Torque {
    let Some(stated) = procedure.tightening(set) else { return Torque::Open };
    match (&stated.value, table) {
        (Tightening::Passes(passes), _) => Torque::Passes(passes.clone(), stated.origin.clone()),
        (Tightening::ByFeel, _) => Torque::ByFeel,
        (Tightening::Unknown, _) => Torque::Open,
        (Tightening::General, None) => Torque::NoTable,
        (Tightening::General, Some(table)) => match in_table(procedure.set(set), table) {
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
