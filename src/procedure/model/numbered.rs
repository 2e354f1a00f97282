//! The things of a procedure by their numbers, and where those stand that have places.

use super::*;

/// The look-up of one kind of thing.
macro_rules! numbered {
    ($($id:ident => $things:ident, $one:ident: $thing:ty;)*) => {
        impl Procedure {$(
            /// The thing with this number.
            pub fn $one(&self, id: $id) -> &$thing {
                &self.$things[id]
            }
        )*}
    };
}

numbered! {
    SectionId => sections, section: Section;
    AxisId => axes, axis: Axis;
    AskId => asks, ask: Ask;
    SetupId => setups, setup: Setup;
    StateId => states, state: State;
    ToolId => tools, tool: Tool;
    SupplyId => supplies, supply: Supply;
    PartId => parts, part: Part;
    SetId => sets, set: FastenerSet;
    JointId => joints, joint: Joint;
    GaugeId => gauges, gauge: Gauge;
    LookId => looks, look: Look;
    TemporaryId => temporaries, temporary: Temporary;
    HazardId => hazards, hazard: Hazard;
    RuleId => rules, rule: Rule;
    StepId => steps, step: Step;
    GroupId => groups, group: Group;
}

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
