//! The family itself, and what it says of the bench: axes, questions, setups, states, tools, supplies, hazards.

use super::{AxisId, Cases, HazardId, Naming, Seldom, Sourced};
pub use crate::mechanics::firing::Cycle;
use crate::quantity::{Numeral, Quantity};
use crate::source::Span;

/// A number of pieces, or a measured amount.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measure {
    /// A bare number.
    Count(Numeral),
    /// A number with its unit.
    Amount(Quantity),
}

impl Measure {
    /// As it stands on a sheet: `2`, `80 mL`.
    pub fn printed(self) -> String {
        match self {
            Measure::Count(number) => number.to_string(),
            Measure::Amount(quantity) => quantity.printed(),
        }
    }
}

/// From where a face is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum View {
    Top,
    Below,
    Front,
    Rear,
    Left,
    Right,
}

/// The head of a procedure.
#[derive(Debug, Clone, PartialEq)]
pub struct Family {
    /// Name.
    pub naming: Naming,
    /// Edition.
    pub edition: Option<u32>,
    /// One line about it.
    pub summary: Option<String>,
    /// Where its data comes from.
    pub origin: Option<String>,
    /// Its data is made up, for no real engine; every page says so.
    pub invented: bool,
    /// Where the engine is stamped, and what that must begin with.
    pub identify: Vec<(String, Cases<Sourced<String>>)>,
    /// Which end number one is at.
    pub number_one: Option<End>,
    /// Direction of rotation, and from which end it is seen.
    pub turns: Option<(Rotation, End)>,
    /// From which end left and right are seen.
    pub sides_seen_from: Option<End>,
    /// What front and rear are called on sheets, where they have names of their own.
    pub ends: Option<(String, String)>,
    /// What the whole is called on sheets, where that is said.
    pub called: Option<String>,
    /// How often a cylinder works.
    pub cycle: Option<Cycle>,
    /// How far it is turned from each firing of the order to the next; evenly spaced where nothing is said.
    pub firing_intervals: Vec<Quantity>,
    /// Firing order.
    pub firing_order: Vec<String>,
    /// Lines of the key data page: capacities first, then data.
    pub key_data: Vec<KeyDatum>,
    /// Mass above which a part must be lifted by a hoist; the shop's own limit may be lower.
    pub lifting_limit: Option<Quantity>,
}

impl Family {
    /// What an end is called on sheets, as it stands behind `the`.
    pub fn end_name(&self, end: End) -> &str {
        match (&self.ends, end) {
            (Some((front, _)), End::Front) => front,
            (Some((_, rear)), End::Rear) => rear,
            (None, end) => end.word(),
        }
    }
}

impl super::Procedure {
    /// What an end is called on sheets, as it stands behind `the`.
    pub fn end_name(&self, end: End) -> &str {
        self.family.as_ref().map_or(end.word(), |family| family.end_name(end))
    }

    /// What the whole is called on sheets: what the family says; an engine where it says what only an engine has, a cycle or a
    /// firing order; otherwise a machine.
    pub fn whole(&self) -> &str {
        let called = self.family.as_ref().and_then(|family| family.called.as_deref());
        called.unwrap_or(if self.fires() { "engine" } else { "machine" })
    }

    /// Whether it says what only an engine has: a cycle or a firing order.
    pub fn fires(&self) -> bool {
        self.family.as_ref().is_some_and(|family| family.cycle.is_some() || !family.firing_order.is_empty())
    }
}

/// A line of the key data page.
#[derive(Debug, Clone, PartialEq)]
pub struct KeyDatum {
    /// What it is.
    pub name: String,
    /// A capacity of something.
    pub capacity: bool,
    /// Its value; none is unknown.
    pub value: Cases<Sourced<Option<Datum>>>,
}

/// A value of the key data page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Datum {
    /// The value, or the lower end of a range.
    pub low: Measure,
    /// Upper end of a range.
    pub high: Option<Measure>,
}

/// An end of the engine.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Front.
    Front,
    /// Rear.
    Rear,
}

impl End {
    /// Its word in the language, and on sheets unless the family has names for its ends.
    pub fn word(self) -> &'static str {
        match self {
            End::Front => "front",
            End::Rear => "rear",
        }
    }
}

/// A direction of rotation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rotation {
    /// Clockwise.
    Clockwise,
    /// Anticlockwise.
    Anticlockwise,
}

/// A stretch of work that belongs together.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Name.
    pub naming: Naming,
    /// Its title where what came off goes back.
    pub refit: Option<String>,
}

/// Named positions in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// Name.
    pub naming: Naming,
    /// Names of the positions.
    pub positions: Vec<String>,
    /// Ways in which the positions form groups.
    pub groupings: Vec<Grouping>,
}

/// Groups that the positions of an axis form; each position is in one of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Grouping {
    /// The axis whose positions the groups are.
    pub by: AxisId,
    /// For each position the group that it is in.
    pub of: Vec<u16>,
}

/// A question that is decided per job.
#[derive(Debug, Clone, PartialEq)]
pub struct Ask {
    /// Name; the title is the question.
    pub naming: Naming,
    /// The answers it may have.
    pub answers: Vec<String>,
}

/// An aspect of the bench.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// Name.
    pub naming: Naming,
    /// Its values.
    pub values: Vec<String>,
    /// For each value the face of the engine that lies uppermost then; empty if the setup doesn't turn the engine.
    pub uppermost: Vec<View>,
    /// Whether everybody at the engine has it for himself, as where he stands; otherwise all share one.
    pub each_person: bool,
    /// Index of the value at the start.
    pub at_first: usize,
    /// Time of a change.
    pub change: Option<Quantity>,
    /// What whoever changes it meets.
    pub hazard: Option<(HazardId, Span)>,
}

/// A condition of the whole.
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// Name.
    pub naming: Naming,
    /// Its values.
    pub values: Vec<String>,
    /// Index of the value at the start of the job.
    pub at_first: usize,
    /// Index of the value at the start of the build, if stated.
    pub at_build: Option<usize>,
    /// What is met while it has the value with this index.
    pub hazards: Vec<(HazardId, usize, Span)>,
    /// Where the value at the start is said.
    pub start_span: Span,
}

/// What a tool is for the choice of a stand-in and for the shop's crib.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ToolKind {
    /// A socket or bit.
    Socket,
    /// A spanner.
    Spanner,
    /// A torque wrench.
    TorqueWrench,
    /// A hoist or crane.
    Hoist,
    /// A puller.
    Puller,
    /// A measuring instrument.
    Measuring,
    /// Anything else.
    Other,
}

impl ToolKind {
    /// Every kind with its word.
    pub const WORDS: [(&'static str, ToolKind); 7] = [
        ("socket", ToolKind::Socket),
        ("spanner", ToolKind::Spanner),
        ("wrench", ToolKind::TorqueWrench),
        ("hoist", ToolKind::Hoist),
        ("puller", ToolKind::Puller),
        ("measuring", ToolKind::Measuring),
        ("other", ToolKind::Other),
    ];

    /// The kind's word.
    pub fn word(self) -> &'static str {
        ToolKind::WORDS.iter().find(|(_, kind)| *kind == self).expect("every kind has its word").0
    }
}

/// A tool.
#[derive(Debug, Clone, PartialEq)]
pub struct Tool {
    /// Name.
    pub naming: Naming,
    /// What it is.
    pub kind: ToolKind,
    /// Size of its square drive.
    pub drive: Option<Quantity>,
    /// Its size.
    pub size: Option<Quantity>,
    /// What it can do, from and to.
    pub range: Option<(Quantity, Quantity)>,
    /// What whoever uses it meets.
    pub hazards: Vec<(HazardId, Span)>,
    /// Whether it is not in a general kit.
    pub special: bool,
    /// What may be used instead, and on what condition.
    pub stand_ins: Vec<(String, Option<String>)>,
}

/// Something that is used up.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// Name.
    pub naming: Naming,
    /// What whoever uses it meets.
    pub hazards: Vec<(HazardId, Span)>,
    /// How much the whole job takes.
    pub quantity: Option<Measure>,
    /// How long it stays workable.
    pub open_time: Option<Quantity>,
    /// How long until it bears load.
    pub cure_time: Option<Quantity>,
}

/// Signal word, in the sense of ANSI Z535.6 / ISO 3864-2.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Signal {
    /// Will result in death or serious injury.
    Danger,
    /// Could result in death or serious injury.
    Warning,
    /// Could result in minor or moderate injury.
    Caution,
    /// Not about injury.
    Notice,
}

/// Kinds of hazard that the checker knows, with the word of the language for each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum HazardKind {
    Spring,
    FuelJet,
    AirStart,
    Battery,
    Electric,
    Lifting,
    Hot,
    GasketDust,
    Lead,
    SealResidue,
    Sodium,
    Refrigerant,
    Runaway,
    Pressure,
    Puller,
    Rotating,
    Chemical,
    Sharp,
    Damage,
}

impl HazardKind {
    /// Every kind with its word.
    pub const WORDS: [(&'static str, HazardKind); 19] = [
        ("spring", HazardKind::Spring),
        ("fuel_jet", HazardKind::FuelJet),
        ("air_start", HazardKind::AirStart),
        ("battery", HazardKind::Battery),
        ("electric", HazardKind::Electric),
        ("lifting", HazardKind::Lifting),
        ("hot", HazardKind::Hot),
        ("gasket_dust", HazardKind::GasketDust),
        ("lead", HazardKind::Lead),
        ("seal_residue", HazardKind::SealResidue),
        ("sodium", HazardKind::Sodium),
        ("refrigerant", HazardKind::Refrigerant),
        ("runaway", HazardKind::Runaway),
        ("pressure", HazardKind::Pressure),
        ("puller", HazardKind::Puller),
        ("rotating", HazardKind::Rotating),
        ("chemical", HazardKind::Chemical),
        ("sharp", HazardKind::Sharp),
        ("damage", HazardKind::Damage),
    ];

    /// The kind's word.
    pub fn word(self) -> &'static str {
        HazardKind::WORDS.iter().find(|(_, kind)| *kind == self).expect("every kind has its word").0
    }
}

/// A hazard.
#[derive(Debug, Clone, PartialEq)]
pub struct Hazard {
    /// Name.
    pub naming: Naming,
    /// Signal word.
    pub signal: Signal,
    /// Kind.
    pub kind: HazardKind,
    /// What it is.
    pub hazard: String,
    /// What it does.
    pub consequence: String,
    /// How it is avoided.
    pub avoidance: String,
    /// What to wear.
    pub wear: Vec<String>,
}

/// What must come out again.
#[derive(Debug, Clone, PartialEq)]
pub struct Temporary {
    /// Name.
    pub naming: Naming,
    /// Axes.
    pub axes: Seldom<AxisId>,
    /// How many there are at each position.
    pub count: Cases<Sourced<u32>>,
    /// Where it goes.
    pub into: Option<String>,
    /// Whether the engine may be turned, filled and started with it in.
    pub may_stay: bool,
}
