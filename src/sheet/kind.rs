//! The kinds of sheet, and the names by which they are asked for and kept in the record of a print.

use std::fmt;
use std::str::FromStr;

/// A kind of sheet, in the order in which they lie in a packet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SheetKind {
    /// Which job, what is held, what can hurt; it tells of the others.
    Front,
    /// What to lay out.
    Kit,
    /// The figures of the engine.
    Key,
    /// In what the procedure differs from another.
    Differences,
    /// What was measured and looked at, and what it comes to.
    Results,
    /// Filled in when the engine arrives.
    Intake,
    /// Questions that are open.
    Questions,
    /// What putting it right comes to.
    Estimate,
    /// What goes to the machine shop.
    Machining,
    /// What is bought.
    Orders,
    /// What stops the first start, and the log of the run.
    Stop,
    /// Work.
    Steps,
    /// Where parts lie that go back where they were.
    Rack,
    /// Bolts at full size.
    Bolts,
    /// Labels to cut out.
    Tags,
    /// Register of what was tightened.
    Torques,
    /// What came back from outside.
    GoodsBack,
    /// What comes off and is back.
    Ledger,
    /// How the work is shared.
    Hands,
    /// Picture of the order.
    Overview,
    /// What the owner gets with the engine.
    Handover,
}

/// Every kind with its name.
const NAMES: [(SheetKind, &str); 21] = [
    (SheetKind::Front, "front"),
    (SheetKind::Kit, "kit"),
    (SheetKind::Key, "key"),
    (SheetKind::Differences, "differences"),
    (SheetKind::Results, "results"),
    (SheetKind::Intake, "intake"),
    (SheetKind::Questions, "questions"),
    (SheetKind::Estimate, "estimate"),
    (SheetKind::Machining, "machining"),
    (SheetKind::Orders, "orders"),
    (SheetKind::Stop, "stop"),
    (SheetKind::Steps, "steps"),
    (SheetKind::Rack, "rack"),
    (SheetKind::Bolts, "bolts"),
    (SheetKind::Tags, "tags"),
    (SheetKind::Torques, "torques"),
    (SheetKind::GoodsBack, "goods-back"),
    (SheetKind::Ledger, "ledger"),
    (SheetKind::Hands, "hands"),
    (SheetKind::Overview, "overview"),
    (SheetKind::Handover, "handover"),
];

impl SheetKind {
    /// The name by which it is asked for.
    pub fn name(self) -> &'static str {
        NAMES.iter().find(|(kind, _)| *kind == self).map_or("", |(_, name)| name)
    }
}

impl fmt::Display for SheetKind {
    fn fmt(&self, out: &mut fmt::Formatter) -> fmt::Result {
        out.write_str(self.name())
    }
}

/// No kind of sheet has this name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct UnknownKind;

impl FromStr for SheetKind {
    type Err = UnknownKind;

    fn from_str(text: &str) -> Result<Self, UnknownKind> {
        NAMES.iter().find(|(_, name)| *name == text).map(|(kind, _)| *kind).ok_or(UnknownKind)
    }
}

/// Numbers of the first and the last step of a sheet of work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StepRange {
    /// The first.
    pub first: usize,
    /// The last, itself included.
    pub last: usize,
}

impl fmt::Display for StepRange {
    fn fmt(&self, out: &mut fmt::Formatter) -> fmt::Result {
        if self.first == self.last {
            write!(out, "step {}", self.first)
        } else {
            write!(out, "steps {} to {}", self.first, self.last)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_is_found_by_its_name() {
        for (place, (kind, name)) in NAMES.iter().enumerate() {
            assert_eq!(*kind as usize, place);
            assert_eq!(kind.to_string(), *name);
            assert_eq!(name.parse(), Ok(*kind));
        }
        assert_eq!("Front".parse::<SheetKind>(), Err(UnknownKind));
    }
}
