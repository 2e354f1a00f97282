//! What changes at the bench take: planning values, or the shop's own. It must not know what changes.

use crate::quantity::Quantity;
use crate::record::BenchChange;

/// What changes at the bench take, in tenths of a second. The defaults are planning values from common practice, not
/// measurements; a shop replaces them by its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ChangeTimes {
    /// Same ratchet, other socket.
    pub socket: u32,
    /// Another hand tool.
    pub hand_tool: u32,
    /// Setting a torque wrench, or taking another.
    pub torque_setting: u32,
    /// A change of stand or side whose time the procedure doesn't say.
    pub setup: u32,
    /// Putting protective equipment on.
    pub wear: u32,
    /// Rigging the hoist.
    pub hoist: u32,
    /// Taking it away again.
    pub hoist_off: u32,
    /// The price of each of the author's neighbours parted.
    pub parting: u32,
}

impl ChangeTimes {
    /// Tenths of a second for each change: common practice, no source, and told as such where the order is explained.
    pub const PLANNING: ChangeTimes = ChangeTimes {
        socket: 40,
        hand_tool: 80,
        torque_setting: 200,
        setup: 600,
        wear: 250,
        hoist: 6_000,
        hoist_off: 3_000,
        parting: 200,
    };

    /// The same with the times that a shop states of its own bench.
    #[must_use]
    pub fn with(mut self, stated: &[(BenchChange, Quantity)]) -> ChangeTimes {
        for (change, time) in stated {
            *match change {
                BenchChange::Socket => &mut self.socket,
                BenchChange::HandTool => &mut self.hand_tool,
                BenchChange::TorqueSetting => &mut self.torque_setting,
                BenchChange::Setup => &mut self.setup,
                BenchChange::Wear => &mut self.wear,
                BenchChange::Hoist => &mut self.hoist,
                BenchChange::HoistOff => &mut self.hoist_off,
            } = tenths(*time);
        }
        self
    }
}

impl ChangeTimes {
    /// Where the times come from, in words.
    pub fn origin(&self) -> &'static str {
        let planned = ChangeTimes { parting: self.parting, ..ChangeTimes::PLANNING };
        if *self == planned {
            "planning values from common practice, not measurements"
        } else {
            "the shop's own where its crib states them, else planning values from common practice, not measurements"
        }
    }
}

/// No change takes longer than ten hours, our own choice: sums of them stay within what a search counts in.
const LONGEST: u32 = 360_000;

/// A time in tenths of a second.
pub(super) fn tenths(time: Quantity) -> u32 {
    (time.base() * 10.0).round().clamp(0.0, f64::from(LONGEST)) as u32
}
