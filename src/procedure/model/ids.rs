//! Numbers of things, each kind with its own type, the look-ups by number, and the places at which things stand.

use super::*;

/// A number of one kind of thing in a [`Procedure`].
macro_rules! numbers {
    ($($(#[$doc:meta])* $id:ident => $field:ident, $one:ident : $thing:ty;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $id(pub u32);

        impl Number for $id {
            fn of(index: usize) -> Self {
                $id(u32::try_from(index).expect("a file of 64 MiB holds fewer declarations"))
            }

            fn index(self) -> usize {
                self.0 as usize
            }
        }

        impl Procedure {
            /// The thing with this number.
            pub fn $one(&self, id: $id) -> &$thing {
                &self.$field[id]
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

/// A number of a thing that stands at one place or, with axes, at several.
pub trait Sited: Number {
    /// The axes along which it stands.
    fn axes(self, procedure: &Procedure) -> &[AxisId];

    /// The numbers of all of its kind.
    fn all(procedure: &Procedure) -> impl Iterator<Item = Self>;
}

/// What has axes, and in which field.
macro_rules! sited {
    ($($id:ident => $things:ident, $axes:ident;)*) => {$(
        impl Sited for $id {
            fn axes(self, procedure: &Procedure) -> &[AxisId] {
                &procedure.$things[self].$axes
            }

            fn all(procedure: &Procedure) -> impl Iterator<Item = Self> {
                procedure.$things.ids()
            }
        }
    )*};
}

sited! {
    PartId => parts, axes;
    SetId => sets, axes;
    JointId => joints, axes;
    GaugeId => gauges, axes;
    LookId => looks, axes;
    TemporaryId => temporaries, axes;
}
