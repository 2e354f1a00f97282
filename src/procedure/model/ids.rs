//! Numbers of things, each kind with its own type, and the look-ups by number.

use super::*;

/// A number of one kind of thing in a [`Procedure`].
macro_rules! numbers {
    ($($(#[$doc:meta])* $id:ident => $field:ident, $one:ident : $thing:ty;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $id(pub u32);

        impl $id {
            /// Its index.
            pub fn index(self) -> usize {
                self.0 as usize
            }
        }

        impl Procedure {
            /// The thing with this number.
            pub fn $one(&self, id: $id) -> &$thing {
                &self.$field[id.index()]
            }
        }
    )*};
}

numbers! {
    /// Number of a section.
    SectionId => sections, section: Section;
    /// Number of an axis.
    AxisId => axes, axis: Axis;
    /// Number of a question.
    AskId => asks, ask: Ask;
    /// Number of a setup.
    SetupId => setups, setup: Setup;
    /// Number of a state.
    StateId => states, state: State;
    /// Number of a tool.
    ToolId => tools, tool: Tool;
    /// Number of a supply.
    SupplyId => supplies, supply: Supply;
    /// Number of a part.
    PartId => parts, part: Part;
    /// Number of a fastener set.
    SetId => sets, set: FastenerSet;
    /// Number of a joint.
    JointId => joints, joint: Joint;
    /// Number of a gauge.
    GaugeId => gauges, gauge: Gauge;
    /// Number of a look.
    LookId => looks, look: Look;
    /// Number of a temporary.
    TemporaryId => temporaries, temporary: Temporary;
    /// Number of a hazard.
    HazardId => hazards, hazard: Hazard;
    /// Number of a rule.
    RuleId => rules, rule: Rule;
    /// Number of a step.
    StepId => steps, step: Step;
    /// Number of a group of steps.
    GroupId => groups, group: Group;
}

/// One position of a thing with axes, counted with the last axis running fastest; 0 for a thing without.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place(pub u32);
