//! Acts: what is done to what.

use super::{
    At, AxisId, GaugeId, JointId, Local, LookId, Origin, PartId, Scope, Seldom, SetId, StateId, Target,
    TemporaryId,
};
pub use crate::language::tree::Turn as TurnDirection;
pub use crate::mechanics::firing::DeadCentre;
use crate::quantity::Quantity;
use crate::source::Span;

/// One act.
#[derive(Debug, Clone, PartialEq)]
pub struct Act {
    /// What is done.
    pub deed: Deed,
    /// Words to print with it.
    pub note: Option<String>,
    /// What its thing says of it by position, where the author has no words of his own.
    pub told: Seldom<Local<String>>,
    /// Where, and under which answers, it is done.
    pub scope: Scope,
    /// Where it is said.
    pub span: Span,
}

impl Act {
    /// A deed without words.
    pub fn of(deed: Deed, scope: Scope, span: Span) -> Act {
        Act { deed, note: None, told: Seldom::new(), scope, span }
    }
}

impl Deed {
    /// Whether facts on things bring it to a step, for the act beside it: a coat, a lock, what goes on threads, a hoist.
    pub fn is_brought(&self) -> bool {
        matches!(self, Deed::Coat { .. } | Deed::Wet { .. } | Deed::Lock { .. } | Deed::Lift { .. })
    }
}

/// What is done.
#[derive(Debug, Clone, PartialEq)]
pub enum Deed {
    /// Work on fasteners.
    Fasten {
        /// Which work.
        work: FasteningWork,
        /// Sets and joints.
        what: Seldom<Fastening>,
        /// Torque of a trial.
        to: Option<Quantity>,
        /// Whether it is undone a little at a time, in rounds.
        bit_by_bit: bool,
    },
    /// Work on parts.
    Part {
        /// Which work.
        work: PartWork,
        /// Parts.
        what: Seldom<Target<PartId>>,
    },
    /// Heating a part to a temperature.
    Heat {
        /// The part.
        what: Box<Target<PartId>>,
        /// The temperature.
        to: Box<Quantity>,
        /// Where it comes from.
        origin: Origin,
    },
    /// Coating a part before it goes on.
    Coat {
        /// The part.
        what: Target<PartId>,
        /// With what.
        with: super::SupplyId,
        /// Where on it; all over where nothing is said.
        place: Option<Box<str>>,
    },
    /// What goes on the fasteners of a set before they go in.
    Wet {
        /// The set.
        what: Target<SetId>,
        /// What goes on.
        with: Wetting,
    },
    /// Opening or closing what keeps a set from coming loose.
    Lock {
        /// The set.
        what: Target<SetId>,
        /// What keeps it.
        how: super::Locking,
        /// Closing it.
        close: bool,
    },
    /// Work with the hoist.
    Lift {
        /// The part.
        what: Target<PartId>,
        /// Which work.
        work: LiftWork,
    },
    /// Cleaning.
    Clean(Seldom<Thing>),
    /// Marking.
    Mark(Seldom<Thing>),
    /// Chasing threads.
    Chase(Seldom<Target<SetId>>),
    /// Taking readings.
    Gauge(Seldom<Target<GaugeId>>),
    /// Judging by eye or touch.
    Look(Seldom<Target<LookId>>),
    /// Setting a state to the value with this index.
    Set(StateId, usize),
    /// Putting a temporary in.
    PutIn(Target<TemporaryId>),
    /// Taking a temporary out.
    TakeOut(Target<TemporaryId>),
    /// Turning the engine by hand.
    TurnByHand {
        /// Which way.
        direction: TurnDirection,
        /// How far, where it is stated.
        angle: Option<Quantity>,
        /// Until which cylinder stands where, where that is stated.
        to: Option<Box<CylinderAt>>,
    },
    /// Taking a photograph.
    Photo,
    /// Capping openings.
    Cap,
    /// Isolating an energy.
    Isolate,
    /// Disposing into a named container.
    Dispose(String),
    /// Waiting.
    Wait(Quantity),
    /// Plain words.
    Words,
}

/// A cylinder at an end of its stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CylinderAt {
    /// The axis of the cylinders.
    pub axis: AxisId,
    /// Which of them, or the one that the step is about.
    pub cylinder: At,
    /// Where it is to stand.
    pub dead_centre: DeadCentre,
    /// Where it is said.
    pub span: Span,
}

/// Work on fasteners.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum FasteningWork {
    Slacken,
    Undo,
    StartByHand,
    Nip,
    Tighten,
    Retighten,
}

/// Work on parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum PartWork {
    Take,
    PutBack,
    Fit,
    Support,
    Press,
    Send,
    Receive,
    Accept,
}

/// What goes on fasteners before they go in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wetting {
    /// Oil, where the set says.
    Oil,
    /// A sealant, a paste.
    Supply(super::SupplyId),
    /// Thread-locker; none where nobody has said which.
    Locker(Option<super::SupplyId>),
}

/// Work with the hoist. What is lifted off or on stands between.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum LiftWork {
    Rig,
    TakeTheWeight,
    LetDown,
    Unrig,
}

/// A set, or a joint with all its sets.
#[derive(Debug, Clone, PartialEq)]
pub enum Fastening {
    /// A set.
    Set(Target<SetId>),
    /// A joint.
    Joint(Target<JointId>),
}

/// A part or a fastener set.
#[derive(Debug, Clone, PartialEq)]
pub enum Thing {
    /// A part.
    Part(Target<PartId>),
    /// A fastener set.
    Set(Target<SetId>),
}
