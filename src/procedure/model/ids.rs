//! Numbers of things, each kind with its own type, and the places at which things stand.

use super::Number;

/// A number of one kind of thing in a [`Procedure`](super::Procedure).
macro_rules! numbers {
    ($($(#[$doc:meta])* $id:ident;)*) => {$(
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
    )*};
}

numbers! {
    /// Number of a section.
    SectionId;
    /// Number of an axis.
    AxisId;
    /// Number of a question.
    AskId;
    /// Number of a setup.
    SetupId;
    /// Number of a state.
    StateId;
    /// Number of a tool.
    ToolId;
    /// Number of a supply.
    SupplyId;
    /// Number of a part.
    PartId;
    /// Number of a fastener set.
    SetId;
    /// Number of a joint.
    JointId;
    /// Number of a gauge.
    GaugeId;
    /// Number of a look.
    LookId;
    /// Number of a temporary.
    TemporaryId;
    /// Number of a hazard.
    HazardId;
    /// Number of a rule.
    RuleId;
    /// Number of a step.
    StepId;
    /// Number of a group of steps.
    GroupId;
}

/// One position of a thing with axes, counted with the last axis running fastest; 0 for a thing without.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place(pub u32);
