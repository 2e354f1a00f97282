//! What a plan is: phases, and in them steps with their place, standing, work and reasons.

use crate::decide::Asked;
use crate::network::answers::QuestionId;
use crate::network::{NodeId, StepSource};
use crate::procedure::model::{
    Act, AxisId, Binding, GaugeId, HazardId, JointId, LookId, PartId, Phase, Place, Procedure, SetId,
    SetupId, StepKey, SupplyId, TemporaryId,
};
use crate::quantity::Quantity;
use crate::sequence::Window;

/// The work of a job, phase by phase.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Plan {
    /// The phases that have an order, in their own order.
    pub phases: Vec<PhasePlan>,
}

impl Plan {
    /// The plan of one phase.
    pub fn phase(&self, phase: Phase) -> Option<&PhasePlan> {
        self.phases.iter().find(|plan| plan.phase == phase)
    }

    /// Every step of every phase.
    pub fn steps(&self) -> impl Iterator<Item = (&PhasePlan, &PlannedStep)> {
        self.phases.iter().flat_map(|phase| phase.steps.iter().map(move |step| (phase, step)))
    }
}

/// The work of one phase in its chosen order.
#[derive(Debug, Clone, PartialEq)]
pub struct PhasePlan {
    /// The phase.
    pub phase: Phase,
    /// Its nodes in order; "place" below counts in this list, from 0.
    pub order: Vec<NodeId>,
    /// Links between places that no other links imply, sorted.
    pub edges: Vec<(usize, usize)>,
    /// Its steps in order, those of one block one after the other.
    pub steps: Vec<PlannedStep>,
    /// What it waits for as a whole.
    pub before: Vec<Beforehand>,
    /// How the order was chosen; none for a phase without steps.
    pub choice: Option<super::Choice>,
}

/// Something that a phase as a whole waits for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beforehand {
    /// The owner's leave to take the engine apart.
    LeaveToStrip,
    /// Steps of an earlier phase: how many of how many are left.
    Earlier(Phase, usize, usize),
    /// Readings and looks that the steps that take them went past.
    Untaken(usize),
    /// New pieces and work sent out, of which the record follows none.
    Arriving(usize),
}

/// A step at its place.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedStep {
    /// Which step, and where.
    pub key: StepKey,
    /// Its node.
    pub node: NodeId,
    /// Which member of the node it is.
    pub member: usize,
    /// Whether it belongs to a trial.
    pub trial: bool,
    /// The step itself.
    pub source: StepSource,
    /// Where its axes stand.
    pub binding: Binding,
    /// Number in the order of work, from 1; none for an absent step. Derived steps that are one piece of work share one.
    pub number: Option<usize>,
    /// Whether it is done in this job.
    pub standing: Standing,
    /// How the bench stands while it is done.
    pub setups: Vec<(SetupId, usize)>,
    /// What is changed at the bench before it.
    pub changes: Vec<(SetupId, usize)>,
    /// Its hazards and acts, every repeat expanded.
    pub lines: Vec<PlannedLine>,
    /// Links that put it behind others, the binding one (from the latest place) first. For a step within a block
    /// they stand with the block's first step.
    pub reasons: Vec<Reasoned>,
    /// Held steps, as indices into [`PhasePlan::steps`], that come before it in every order; on each way only the
    /// nearest.
    pub waits_for: Vec<usize>,
    /// Places its node can take in some order.
    pub window: Window,
}

/// A link that puts a step behind another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reasoned {
    /// Place of what comes first.
    pub from: usize,
    /// Index into [`crate::network::Network::links`].
    pub link: usize,
}

/// Whether a step is done in this job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Standing {
    /// To be done.
    Present,
    /// The answers leave it out.
    Absent,
    /// Done, as the record says.
    Done,
    /// Left out by the record, or not to be done any more: why, and who says so.
    NotDone(String),
    /// Not before these are settled.
    Held(Vec<Hold>),
}

impl Standing {
    /// Whether it is still to be done.
    pub(crate) fn is_left(&self) -> bool {
        matches!(self, Standing::Present | Standing::Held(_))
    }

    /// In one word or two, for lists.
    pub(crate) fn word(&self) -> &'static str {
        match self {
            Standing::Present => "to do",
            Standing::Absent => "left out by the answers",
            Standing::Done => "done",
            Standing::NotDone(_) => "not done",
            Standing::Held(_) => "waits",
        }
    }

    /// What it waits for, each as a noun phrase; empty where it waits for nothing itself.
    pub(crate) fn waits(&self) -> Vec<String> {
        match self {
            Standing::Held(holds) => holds.iter().map(|hold| hold.text.clone()).collect(),
            _ => Vec::new(),
        }
    }
}

/// Something that must be settled first.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hold {
    /// What kind of thing.
    pub cause: HoldCause,
    /// What is waited for, as a noun phrase: "the tightening torque of the 8 head nuts".
    pub text: String,
}

/// Kinds of hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum HoldCause {
    /// A question of the network is open.
    Question(QuestionId),
    /// What a set is tightened to is unknown.
    Torque(SetId),
    /// How long the fasteners of a set are hangs on open questions.
    Length(SetId),
    /// How many there are of a set hangs on open questions.
    Count(SetId),
    /// Whether the engine has a set hangs on open questions.
    Present(SetId),
    /// Whether a set may be used again is unknown.
    Reuse(SetId),
    /// Fasteners are not in hand, or nobody has settled what becomes of them.
    Fastener(SetId),
    /// What becomes of a part is undecided.
    Fate(PartId),
    /// A part of this job's own is not in hand.
    Supply(SupplyId),
    /// Something that was put on has not set yet.
    Setting(SupplyId),
    /// The engine is not of this family.
    Identity,
    /// Nobody has settled what follows from the condition in which the engine was found.
    Engine,
}

/// A line of a planned step.
#[derive(Debug, Clone, PartialEq)]
pub enum PlannedLine {
    /// A hazard, before the act that follows.
    Hazard(HazardId),
    /// The engine is set otherwise than the step before left it: the first line of the step.
    SetUp(SetupId, usize),
    /// What a second person checks before work goes on.
    Hold(String),
    /// An act.
    Act(PlannedAct),
}

/// An act with the things it is done to at all their places.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedAct {
    /// Which act of the step it is, counted from 0.
    pub number: u32,
    /// The act as written.
    pub act: Act,
    /// What it is done to; empty for acts on nothing in particular.
    pub things: Vec<Placed>,
    /// What it hangs on, while that is open; done in any case otherwise.
    pub given: Option<Given>,
    /// How far it turns until a cylinder stands where it is to stand, in the planned order; none where that isn't known.
    pub turned: Option<Quantity>,
}

/// What an act hangs on and nobody has answered yet.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// The condition in words: `the bore is worn`.
    pub words: String,
    /// The questions that are open, without those that an earlier act of the same steps answers.
    pub open: Vec<Asked>,
}

/// A thing at the places that are meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Placed {
    /// The thing.
    pub kind: PlacedKind,
    /// Its places, ascending; a thing without axes has one.
    pub places: Vec<Place>,
}

impl PlacedKind {
    /// The axes of the thing.
    pub(crate) fn axes(self, procedure: &Procedure) -> &[AxisId] {
        match self {
            PlacedKind::Part(id) => &procedure.part(id).axes,
            PlacedKind::Set(id) => &procedure.set(id).axes,
            PlacedKind::Joint(id) => &procedure.joint(id).axes,
            PlacedKind::Gauge(id) => &procedure.gauge(id).axes,
            PlacedKind::Look(id) => &procedure.look(id).axes,
            PlacedKind::Temporary(id) => &procedure.temporary(id).axes,
        }
    }
}

/// What can be worked on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum PlacedKind {
    Part(PartId),
    Set(SetId),
    Joint(JointId),
    Gauge(GaugeId),
    Look(LookId),
    Temporary(TemporaryId),
}
