//! What a procedure becomes: things with values, nodes with needs and results, links with reasons, orders.

use std::collections::BTreeMap;
use std::num::NonZeroU32;
use std::sync::Arc;

use super::answers::{Answers, Case};
use super::few::Few;
use super::values::{ThingKind, Value, Values};
use crate::procedure::model::{
    AskId, Binding, DerivedKey, GaugeId, GroupId, LookId, Phase, Place, Procedure, RuleId, SectionId, Step,
    StepId, StepKey,
};
use crate::source::Span;
use crate::structure::Structure;

/// A procedure as acts that need and bring about, in orders that are allowed.
#[derive(Debug, Clone, Default)]
pub struct Network {
    /// What stands over, holds and belongs to what.
    pub structure: Structure,
    /// What can have a value.
    pub things: Vec<Thing>,
    /// Questions whose answers decide what is done.
    pub questions: Vec<Question>,
    /// Steps that the build derives, written like any other.
    pub derived: Vec<DerivedStep>,
    /// Steps, blocks and trials at each position, phase after phase; within a phase in the author's order, and
    /// derived steps in the reverse of the strip.
    pub nodes: Vec<Node>,
    /// Every link between two nodes of one phase, stated, derived or by rule; several for one pair if there are
    /// several reasons.
    pub links: Vec<Link>,
    /// Per phase, every node once, in the order that keeps all links and otherwise the author's; none where the
    /// links contradict each other.
    pub orders: BTreeMap<Phase, Vec<NodeId>>,
    /// Links in a ring that can't all be kept; nothing is judged from the first phase that has one.
    pub contradictions: Vec<Contradiction>,
    /// Everything that goes wrong under some answers in some allowed order.
    pub faults: Vec<Fault>,
}

/// Number of a thing in [`Network::things`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ThingId(pub u32);

/// Number of a node in [`Network::nodes`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NodeId(pub u32);

impl ThingId {
    /// Its index.
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

impl NodeId {
    /// Its index.
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// Something that has a value at every moment of the job.
#[derive(Debug, Clone, PartialEq)]
pub struct Thing {
    /// What it is.
    pub kind: ThingKind,
    /// Its value when the job starts.
    pub start: Value,
    /// The value that a state is said to have when the build starts.
    pub at_build: Option<Value>,
}

/// A question of the network: an ask, or a reading or look with its bands or results at one place (or over all).
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// What asks it.
    pub kind: QuestionKind,
    /// Its answers in words.
    pub answers: Vec<String>,
}

/// What asks a question.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum QuestionKind {
    /// A person, per job.
    Ask(AskId),
    /// A gauge at one place; none for the whole gauge where a guard names no place.
    Gauge(GaugeId, Option<Place>),
    /// A look, likewise.
    Look(LookId, Option<Place>),
}

impl Question {
    /// All of its answers as a set.
    pub fn all(&self) -> Answers {
        Few::first(self.answers.len())
    }
}

/// A step that the build derives: written like a step of the author's.
#[derive(Debug, Clone, PartialEq)]
pub struct DerivedStep {
    /// Which it is.
    pub key: DerivedKey,
    /// The step, as if the author had written it.
    pub step: Step,
    /// Answers under which it is done.
    pub case: Case,
    /// The strip step that it mirrors.
    pub mirrors: Option<NodeId>,
    /// Its place in the reverse of the strip, for ties.
    pub rank: u64,
}

/// A step of the author's, or a derived one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum StepSource {
    /// In [`crate::procedure::model::Procedure::steps`].
    Written(StepId),
    /// Index into [`Network::derived`].
    Derived(usize),
}

/// A step at one position, or a block, trial or chain of steps that no order splits.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// Phase.
    pub phase: Phase,
    /// Section; steps never leave it.
    pub section: Option<SectionId>,
    /// The block or trial, if it is one.
    pub group: Option<GroupId>,
    /// Whether it is a trial.
    pub trial: bool,
    /// Its steps in written order; one for a plain step.
    pub members: Vec<Member>,
    /// What its acts need and bring about, in order.
    pub events: Vec<Event>,
    /// Where it stands in the author's order, for ties.
    pub rank: usize,
    /// Where it is declared.
    pub span: Span,
}

impl Node {
    /// As it is written: its step with its place, such as `pull_piston[2]`; the group of a block or trial.
    pub fn id(&self, procedure: &Procedure) -> String {
        match (self.group, self.members.first()) {
            (Some(group), _) => procedure.group(group).naming.id.clone(),
            (None, Some(first)) => first.key.id(procedure),
            (None, None) => String::new(),
        }
    }
}

/// One step within a node.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// Which step, and where.
    pub key: StepKey,
    /// The step.
    pub step: StepSource,
    /// Where its axes stand, for steps done apart.
    pub binding: Binding,
    /// Answers under which it is done.
    pub case: Case,
}

/// Number of an act in its step, from 0. There are very many events, and one without an act takes no more room.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct ActNumber(NonZeroU32);

impl ActNumber {
    /// The act with this number.
    pub fn of(number: u32) -> ActNumber {
        ActNumber(NonZeroU32::MIN.saturating_add(number))
    }

    /// Its number.
    pub fn number(self) -> u32 {
        self.0.get() - 1
    }
}

/// One need or result, in the order in which acts come.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// Which member of the node.
    pub member: u32,
    /// Which act of the step; none for what the step itself needs.
    pub act: Option<ActNumber>,
    /// Answers under which it counts.
    pub case: Case,
    /// What it is about.
    pub thing: ThingId,
    /// Need or result.
    pub effect: Effect,
    /// Where the act or clause is said.
    pub span: Span,
}

/// What an event asks or does.
#[derive(Debug, Clone, PartialEq)]
pub enum Effect {
    /// The thing must have one of these values.
    Need(Values, Why),
    /// The thing has this value from now on.
    Set(Value),
}

/// Why something is needed, with the fact that says so.
#[derive(Debug, Clone, PartialEq)]
pub struct Why {
    /// In what sense.
    pub reason: Reason,
    /// Where the fact is said; the act's own place where the act itself needs it.
    pub fact: Span,
}

/// Reasons for needs and links.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reason {
    /// Something is over it.
    Under,
    /// Fasteners hold it.
    HeldBy,
    /// It belongs to an assembly.
    Within,
    /// The act itself: a part can only be taken if fitted, a set only undone if not out.
    Itself,
    /// It would let go what a state holds back.
    Releases,
    /// It is heavy, or would fall.
    Supported,
    /// It could fall in this setup.
    Steady,
    /// Stated with `needs`.
    Needs,
    /// A temporary must not be in, or must be.
    Temporary,
    /// A part comes back from an errand.
    Errand,
    /// A reading or look must have been taken.
    Reading,
    /// The question must be answered.
    Question,
    /// It must be clean.
    Clean,
    /// Everything must be back at the end.
    Ledger,
    /// Stated with `after` or `before`.
    Stated,
    /// Stated with `straight after`.
    StraightAfter,
    /// A joint rule.
    Rule(Option<RuleId>),
    /// A part that is only put back is opened, fitted and tightened in turn.
    Reopened,
}

impl Reason {
    /// The word that names it in reports and on drawings.
    pub fn word(self) -> &'static str {
        match self {
            Reason::Under => "under",
            Reason::HeldBy => "held by",
            Reason::Within => "within",
            Reason::Itself => "its own condition",
            Reason::Releases => "releases",
            Reason::Supported => "support",
            Reason::Steady => "may fall",
            Reason::Needs => "needs",
            Reason::Temporary => "temporary",
            Reason::Errand => "sent out",
            Reason::Reading => "reading",
            Reason::Question => "question",
            Reason::Clean => "clean",
            Reason::Ledger => "ledger",
            Reason::Stated => "after",
            Reason::StraightAfter => "straight after",
            Reason::Rule(_) => "joint rule",
            Reason::Reopened => "put back",
        }
    }
}

/// A reason why one node comes before another.
#[derive(Debug, Clone, PartialEq)]
pub struct Link {
    /// Comes first.
    pub from: NodeId,
    /// Comes later.
    pub to: NodeId,
    /// Why.
    pub reason: Reason,
    /// What the need is about, for derived links.
    pub thing: Option<ThingId>,
    /// `true` if `from` brings about what `to` needs; `false` if `to` undoes what `from` needs.
    pub brings: bool,
    /// Where the fact or the clause is said.
    pub fact: Span,
}

/// Links that contradict each other: each leads to the next, the last back to the first.
#[derive(Debug, Clone, PartialEq)]
pub struct Contradiction(pub Vec<Link>);

/// A need that is not met in some allowed order under some answers.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// The node whose need it is; none for the end of the job.
    pub node: Option<NodeId>,
    /// Index of the event in the node.
    pub event: usize,
    /// What it is about.
    pub thing: ThingId,
    /// Values that would do.
    pub allowed: Values,
    /// Answers under which it shows, as disjoint cases.
    pub cases: Vec<Case>,
    /// The step that leaves the wrong value; none for the value at the start.
    pub wrong: Option<NodeId>,
    /// Steps that could bring the right value and do not always come in between.
    pub right: Arc<[NodeId]>,
}
