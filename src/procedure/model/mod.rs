//! The domain model: an engine family with its parts, fasteners, joints, readings and steps, every name
//! resolved, every quantity of the right dimension, nothing expanded.
//!
//! What has an axis is one entry here; [`Pattern`] says which of its positions are meant. The model must not
//! know how it will be ordered or printed.

mod act;
mod arena;
mod cases;
mod counts;
mod differing;
mod fastening;
mod grouping;
mod guard;
mod handling;
mod ids;
mod key;
mod limits;
mod lock;
mod name;
mod names;
mod numbered;
mod parts;
mod pattern;
mod places;
mod readings;
mod rule;
mod seldom;
mod shop;
mod step;
mod things;

pub use act::{
    Act, CylinderAt, DeadCentre, Deed, Fastening, FasteningWork, LiftWork, PartWork, Thing, TurnDirection,
    Wetting,
};
pub use arena::{Arena, Number};
pub use cases::{Cases, Local, Origin, Places, Scope, Sourced};
pub use counts::Pieces;
pub use differing::{Below, Differing, Quoted};
pub use fastening::*;
pub(crate) use grouping::grouped;
pub use guard::*;
pub use handling::*;
pub use ids::*;
pub use key::{DerivedKey, DerivedWork, StepKey};
pub(crate) use limits::LimitsSaid;
pub use lock::*;
pub use name::*;
pub use names::Names;
pub use numbered::Sited;
pub use parts::*;
pub use pattern::{At, Binding, Pattern};
pub use readings::*;
pub use rule::*;
pub use seldom::Seldom;
pub use shop::*;
pub use step::*;
pub use things::{EachThing, Things};

use crate::source::{FileId, Span};

/// Most values of a state or setup, answers of an ask, bands of a gauge, results of a look: what is possible of
/// them is kept as one word of the machine, a bit for each.
pub const MOST_VALUES: usize = 64;

/// A name with the words people see for it, and the place where it was declared.
#[derive(Debug, Clone, PartialEq)]
pub struct Naming {
    /// The id, such as `push_rod`.
    pub id: String,
    /// The title; the id with spaces for underscores where none was written.
    pub title: String,
    /// The name where it is declared.
    pub span: Span,
}

/// Everything that is known of one engine family.
#[derive(Debug, Clone, Default)]
pub struct Procedure {
    /// Files that were read, the root first.
    pub files: Vec<FileId>,
    /// The family; none if the root declares none (which was complained of).
    pub family: Option<Family>,
    /// Sections in written order; steps before the first section belong to none.
    pub sections: Arena<SectionId, Section>,
    /// Axes.
    pub axes: Arena<AxisId, Axis>,
    /// Questions.
    pub asks: Arena<AskId, Ask>,
    /// Aspects of the bench.
    pub setups: Arena<SetupId, Setup>,
    /// Conditions of the whole.
    pub states: Arena<StateId, State>,
    /// Tools.
    pub tools: Arena<ToolId, Tool>,
    /// Supplies.
    pub supplies: Arena<SupplyId, Supply>,
    /// Parts.
    pub parts: Things<PartId, Part>,
    /// Fastener sets.
    pub sets: Things<SetId, FastenerSet>,
    /// Joints.
    pub joints: Arena<JointId, Joint>,
    /// Readings taken with an instrument, and values computed from them.
    pub gauges: Arena<GaugeId, Gauge>,
    /// Conditions judged by eye or touch.
    pub looks: Arena<LookId, Look>,
    /// What must come out again.
    pub temporaries: Arena<TemporaryId, Temporary>,
    /// Hazards.
    pub hazards: Arena<HazardId, Hazard>,
    /// Ordering rules.
    pub rules: Arena<RuleId, Rule>,
    /// Steps of all phases in written order.
    pub steps: Things<StepId, Step>,
    /// Blocks and trials.
    pub groups: Arena<GroupId, Group>,
    /// In what it differs from the procedure that it is of; nothing for one that stands by itself.
    pub differing: Vec<Differing>,
    /// The procedure that it is of; none for one that stands by itself.
    pub of: Option<Below>,
    /// Every id with what it names.
    pub names: Names,
}

/// A use of a thing: which one, which of its positions, and where it is said.
#[derive(Debug, Clone, PartialEq)]
pub struct Target<Id> {
    /// The thing.
    pub id: Id,
    /// Its positions.
    pub pattern: Pattern,
    /// Where it is said.
    pub span: Span,
}
