//! What an id of a procedure names: one of seventeen kinds of things.

use super::{
    AskId, AxisId, GaugeId, GroupId, HazardId, JointId, LookId, Naming, PartId, Procedure, RuleId, SectionId,
    SetId, SetupId, StateId, StepId, SupplyId, TemporaryId, ToolId,
};

/// Numbers of one kind of thing, which is told by its article and noun.
pub trait Kind: Sized {
    /// What it is: `a part`, `a fastener set`.
    const WORDS: &'static str;

    /// The number, if the name is of this kind.
    fn named(name: Name) -> Option<Self>;
}

macro_rules! names {
    ($($kind:ident($id:ident), $one:ident: $words:literal;)*) => {
        /// What an id names.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        #[allow(missing_docs, reason = "each variant is the id of what its name says")]
        pub enum Name {
            $($kind($id),)*
        }

        impl Name {
            /// What it is, with its article: `a part`, `a fastener set`.
            pub fn kind(self) -> &'static str {
                match self {
                    $(Name::$kind(_) => $words,)*
                }
            }
        }

        impl Procedure {
            /// How the thing is called, and where it is declared.
            pub fn naming(&self, name: Name) -> &Naming {
                match name {
                    $(Name::$kind(id) => &self.$one(id).naming,)*
                }
            }
        }

        $(impl Kind for $id {
            const WORDS: &'static str = $words;

            fn named(name: Name) -> Option<Self> {
                if let Name::$kind(id) = name { Some(id) } else { None }
            }
        })*
    };
}

names! {
    Section(SectionId), section: "a section";
    Axis(AxisId), axis: "an axis";
    Ask(AskId), ask: "a question";
    Setup(SetupId), setup: "a setup";
    State(StateId), state: "a state";
    Tool(ToolId), tool: "a tool";
    Supply(SupplyId), supply: "a supply";
    Part(PartId), part: "a part";
    Set(SetId), set: "a fastener set";
    Joint(JointId), joint: "a joint";
    Gauge(GaugeId), gauge: "a gauge";
    Look(LookId), look: "a look";
    Temporary(TemporaryId), temporary: "a temporary";
    Hazard(HazardId), hazard: "a hazard";
    Rule(RuleId), rule: "a rule";
    Step(StepId), step: "a step";
    Group(GroupId), group: "a group of steps";
}
