//! Declarations and their clauses, each with the spelling it comes from.

use super::{Act, Amount, AmountRange, Case, Clause, Origin, Quote, Reference, Scope, Setting, Word};
use crate::source::{Span, Spanned};
use thin_vec::ThinVec;

/// `axis cyl "cylinder" = 1 .. 3` or `axis valve = inlet, exhaust`
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// Its id.
    pub name: Word,
    /// What a position is called: `cylinder`.
    pub title: Option<Quote>,
    /// Positions in order; a range is written out.
    pub positions: ThinVec<Word>,
    /// Ways in which they form groups.
    pub groupings: ThinVec<Grouping>,
    /// The whole declaration.
    pub span: Span,
}

/// `in bank left 1, 3, right 2, 4`: groups of the positions of an axis, themselves positions of another
#[derive(Debug, Clone, PartialEq)]
pub struct Grouping {
    /// What a group is called.
    pub name: Word,
    /// Its title.
    pub title: Option<Quote>,
    /// Each group with the positions in it.
    pub groups: ThinVec<(Word, ThinVec<Word>)>,
}

/// `ask NAME "question" = answer, answer`
#[derive(Debug, Clone, PartialEq)]
pub struct Ask {
    /// Its id.
    pub name: Word,
    /// The question.
    pub question: Quote,
    /// The answers it may have.
    pub answers: ThinVec<Word>,
    /// The whole declaration.
    pub span: Span,
}

/// One value of a setup or state, with its marks `(at first)` and `(at build)`.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedValue {
    /// The value.
    pub value: Word,
    /// Holds when the job starts.
    pub at_first: bool,
    /// Holds when the build starts.
    pub at_build: bool,
}

/// A value of a setup, and the face of the engine that lies uppermost then: `inverted up below`.
#[derive(Debug, Clone, PartialEq)]
pub struct Lies {
    /// The value.
    pub value: Word,
    /// The face.
    pub face: Word,
}

/// `setup stand "Engine stand" = upright (at first), inverted  turns engine = upright up top, inverted up below
/// change 90 s`
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// Its id.
    pub name: Word,
    /// Its title.
    pub title: Option<Quote>,
    /// Its values.
    pub values: ThinVec<ListedValue>,
    /// How the engine lies at each value, for a setup that turns it.
    pub turns_engine: ThinVec<Lies>,
    /// `for each person`: who works has it for himself.
    pub each_person: bool,
    /// Time of a change.
    pub change: Option<Amount>,
    /// The hazard of a change.
    pub hazard: Option<Reference>,
    /// The whole declaration.
    pub span: Span,
}

/// `state coolant "Coolant" = full (at first), drained`, `... hazard pump_running while running`
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// Its id.
    pub name: Word,
    /// Its title.
    pub title: Option<Quote>,
    /// Its values.
    pub values: ThinVec<ListedValue>,
    /// What is met while it has a value.
    pub hazards: ThinVec<(Reference, Word)>,
    /// The whole declaration.
    pub span: Span,
}

/// Clauses of `family`.
#[derive(Debug, Clone, PartialEq)]
pub enum FamilyClause {
    /// `of "brackwater3.rebuild" at edition 4`: the family that this one differs from, and the edition that it was written against
    Of {
        /// Its file.
        file: Quote,
        /// Its edition.
        edition: Option<Amount>,
    },
    /// `edition 4`
    Edition(Amount),
    /// `revised 2 "the hub nut has a torque" in pulley_nut, hub`: what an edition changed
    Revised {
        /// The edition.
        edition: Amount,
        /// What was changed, for whoever builds on it.
        what: Quote,
        /// What it was changed in.
        names: ThinVec<Word>,
    },
    /// `summary "One line."`
    Summary(Quote),
    /// `origin "where its data comes from"`
    Origin(Quote),
    /// `invented`
    Invented,
    /// `identify "pad below the injection pump" reads "BW3-"`
    Identify {
        /// Where it is stamped.
        place: Quote,
        /// What it must begin with.
        reads: ThinVec<Case<Quote>>,
    },
    /// `number one at front`
    NumberOne(Word),
    /// `turns clockwise seen from front` (or `anticlockwise`)
    Turns {
        /// Direction.
        direction: Word,
        /// From which end.
        seen_from: Word,
    },
    /// `left and right seen from rear`
    Sides(Word),
    /// `ends "motor end", "drum end"`
    Ends {
        /// What sheets call the front.
        front: Quote,
        /// What they call the rear.
        rear: Quote,
    },
    /// `called "gearbox"`
    Called(Quote),
    /// `cycle four-stroke`
    Cycle(Word),
    /// `firing intervals 240 deg, 240 deg, 240 deg`: behind each cylinder of the firing order
    FiringIntervals(ThinVec<Amount>),
    /// `firing order 1, 3, 2`
    FiringOrder(ThinVec<Word>),
    /// `capacity "Engine oil" 3.2 L from "demo sheet 1"`, or `capacity "Coolant" unknown`
    Capacity {
        /// Of what.
        name: Quote,
        /// How much; none for `unknown`.
        amounts: ThinVec<Case<Option<Amount>>>,
    },
    /// `lifting limit 20 kg`
    LiftingLimit(Amount),
    /// `data "Valve lash, cold, inlet" 0.25 mm from "demo sheet 5"`: a line of the key data page
    Data {
        /// What it is.
        name: Quote,
        /// Its value; none for `unknown`.
        amounts: ThinVec<Case<Option<AmountRange>>>,
    },
}

/// On the way off, on the way on, or both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Direction {
    /// Coming off: taken, slackened, undone.
    Off,
    /// Going on: fitted, started, tightened.
    On,
    /// Both ways.
    Both,
}

/// What a part or a set says of the way off and the way on.
#[derive(Debug, Clone, PartialEq)]
pub enum Handling {
    /// `off with pulley_puller`, `on with soft_drift`, `both ways with sling`
    With(Direction, ThinVec<Reference>, Scope),
    /// `hazard old_gasket off`
    Hazard(Direction, Reference, Scope),
    /// `comes off "Tap its flange sideways."`
    ComesOff(Quote, Scope),
    /// `goes on "Lip to the front."`
    GoesOn(Quote, Scope),
}

/// Clauses of `tool`.
#[derive(Debug, Clone, PartialEq)]
pub enum ToolClause {
    /// `hazard puller_load`: whoever uses it meets this
    Hazard(Reference),
    /// `drive 1/2 in`
    Drive(Amount),
    /// `size 13 mm`
    Size(Amount),
    /// `range 20 N.m .. 120 N.m`
    Range(AmountRange),
    /// `special`: not in a general kit
    Special,
    /// `or "slide hammer with an M14 stud" if "the injectors are being renewed"`
    StandIn {
        /// What may be used instead.
        tool: Quote,
        /// On what condition.
        condition: Option<Quote>,
    },
    /// `kind wrench`: one of socket, spanner, wrench (torque wrench), hoist, puller, measuring, other
    Kind(Word),
}

/// Clauses of `supply`.
#[derive(Debug, Clone, PartialEq)]
pub enum SupplyClause {
    /// `hazard harsh_cleaner`: whoever uses it meets this
    Hazard(Reference),
    /// `quantity 80 mL`
    Quantity(Amount),
    /// `open time 10 min`
    OpenTime(Amount),
    /// `cure time 24 h`
    CureTime(Amount),
}

/// In which direction a one-way `under` counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// `to strip`
    ToStrip,
    /// `to build`
    ToBuild,
}

/// One thing that something is under: `X`, `X to strip`, `X at hole E`, `X at cyl = 2`.
#[derive(Debug, Clone, PartialEq)]
pub struct Cover {
    /// What covers it.
    pub by: Reference,
    /// If it counts in one direction only.
    pub way: Option<Spanned<Way>>,
    /// `at hole E`: only that hole of the set is covered.
    pub hole: Option<Word>,
    /// `at cyl = 2`: only that position is covered.
    pub at: ThinVec<Setting>,
}

/// What is to become of a part.
#[derive(Debug, Clone, PartialEq)]
pub enum Fate {
    /// `renew`
    Renew,
    /// `reuse`
    Reuse,
    /// `clean then reuse`
    CleanThenReuse,
    /// `by GAUGE or LOOK`
    By(ThinVec<Reference>),
    /// `send "what is to be done"`
    Send(Quote),
    /// `size by parts in hand`
    SizeByPartsInHand,
    /// `keep until settled`
    KeepUntilSettled,
    /// `leave out "why"`
    LeaveOut(Quote),
    /// `FATE when ASK = answer [and ...], FATE when ..., else FATE`
    Choice {
        /// Each fate with the answers that choose it.
        cases: ThinVec<(Spanned<Fate>, ThinVec<Setting>)>,
        /// What holds otherwise.
        otherwise: Option<Box<Spanned<Fate>>>,
    },
}

/// Clauses of `part`.
#[derive(Debug, Clone, PartialEq)]
pub enum PartClause {
    /// `kind gasket`; kinds: gasket, seal, spring, bearing, running
    Kind(Word),
    /// `like raw_pump_gasket`: what is said of that and not of this
    Like(Word),
    /// `carries fuel, pressure`
    Carries(ThinVec<Word>),
    /// What it says of the way off and the way on
    Handling(Box<Handling>),
    /// `coat with assembly_paste "face and foot"`: before it goes on
    Coat {
        /// The supply.
        with: Box<Reference>,
        /// Where on it.
        place: Option<Quote>,
        /// At which of its positions.
        scope: Scope,
    },
    /// `dry`: it goes on with nothing on it
    Dry(Scope),
    /// `harmless "copper"`: the old one hurts nobody, and why
    Harmless(Quote),
    /// `under breather_hose, fan to strip`
    Under(ThinVec<Cover>),
    /// `held by cover_nuts`
    HeldBy(ThinVec<Reference>, Scope),
    /// `within cylinder_head`, `within cylinder_head in place too`
    Within {
        /// The assembly.
        host: Box<Reference>,
        /// May be taken out and put in with the host fitted.
        in_place_too: bool,
    },
    /// `sealed by cover_gasket`
    SealedBy(ThinVec<Reference>),
    /// `mass 38 kg`
    Mass(Box<Amount>),
    /// `lift at "the two eyes"`
    LiftAt(Quote),
    /// `falls when stand = inverted`
    Falls(Box<Setting>, Scope),
    /// `present when turbo = yes [and ...]`: otherwise this engine hasn't got it
    Present(ThinVec<Setting>, Scope),
    /// `worn in`
    WornIn,
    /// `way "arrow to the front"`
    Way(Quote, Scope),
    /// `mark timing "dot on the rim"`; kinds: timing, balance, ours
    Mark {
        /// Which kind.
        kind: Box<Word>,
        /// Where, and with what.
        text: Quote,
        /// At which of its positions.
        scope: Scope,
    },
    /// `matched with connecting_rod`
    MatchedWith(ThinVec<Reference>),
    /// `sized with piston`: bought in the size in which that is bought
    SizedWith(ThinVec<Reference>),
    /// `sized by crank_pin`: bought in the size that what this gauge measures is machined to
    SizedBy(ThinVec<Reference>),
    /// `select from "shims 0.8 to 1.4 mm by 0.05 mm"`
    SelectFrom(Quote),
    /// `releases coolant = full`: taking it lets go what that value of the state holds back
    Releases(Box<Setting>),
    /// `turned by hand "Stop if it stiffens."`: what is turned when the engine is, and the words for it
    TurnedByHand(Option<Quote>),
    /// `teeth 28`
    Teeth(Box<Amount>),
    /// `meshes crank_gear at "A"`: its teeth run in those of another gear, and what both are marked with where they meet
    Meshes(Box<Reference>, Quote),
    /// `critical`
    Critical,
    /// `crack test LOOK`: taken before it is sent or fitted
    CrackTest(Box<Reference>),
    /// `fate clean then reuse`
    Fate(Fate),
    /// `catalogue "BW3-0410"`
    Catalogue(ThinVec<Case<Quote>>),
    /// `price 12.50 EUR`: the currency stands as the unit
    Price(Box<Amount>),
    /// `supplier "Harbour Engine Parts" lead time 5 day`
    Supplier {
        /// Who.
        name: Quote,
        /// How long.
        lead_time: Option<Box<Amount>>,
    },
}

/// Lengths of a fastener set.
#[derive(Debug, Clone, PartialEq)]
pub enum Lengths {
    /// `lengths unknown`
    Unknown,
    /// `length 40 mm`
    One(Amount),
    /// `lengths A 40 mm, B 40 mm, C 55 mm`
    ByHole(ThinVec<(Word, Amount)>),
}

/// Whether a fastener may go back.
#[derive(Debug, Clone, PartialEq)]
pub enum Reuse {
    /// `once`
    Once,
    /// `reusable`
    Reusable,
    /// `reuse by GAUGE`
    By(Reference),
    /// `reuse unknown`
    Unknown,
}

/// One pass of tightening.
#[derive(Debug, Clone, PartialEq)]
pub struct Pass {
    /// A torque or an angle; a range for castle nuts.
    pub amount: AmountRange,
}

/// What a set is tightened to, and by how much less than is stated.
#[derive(Debug, Clone, PartialEq)]
pub struct Tightened {
    /// As stated.
    pub to: Tightening,
    /// Set lower by a rule.
    pub less: Option<Less>,
}

/// `less 10 % because "oiled where it is meant dry" from "TM 5-3805-291-23-2"`
#[derive(Debug, Clone, PartialEq)]
pub struct Less {
    /// The share taken off.
    pub share: Amount,
    /// Why.
    pub because: Quote,
    /// Where the rule stands.
    pub origin: Origin,
    /// All of it.
    pub span: Span,
}

/// What a set is tightened to, as it is stated.
#[derive(Debug, Clone, PartialEq)]
pub enum Tightening {
    /// `30 N.m, 60 N.m, 90 deg`
    Passes(ThinVec<Pass>),
    /// `unknown`
    Unknown,
    /// `general`: the shop's own table
    General,
    /// `by feel`
    ByFeel,
}

/// Clauses of `fasteners`.
#[derive(Debug, Clone, PartialEq)]
pub enum FastenerClause {
    /// `like cover_bolts`: what is said of those and not of these
    Like(Word),
    /// What it says of the way off and the way on
    Handling(Box<Handling>),
    /// `kind stud` (bolt, stud, nut, screw, hollow, plug)
    Kind(Word),
    /// `thread M12x1.25`, `thread 3/8-16 UNC`
    Thread(Spanned<String>),
    /// `class 10.9`, `class SAE 5`
    Class(Spanned<String>),
    /// `drive 19 mm`, `drive "10 mm hexagon"`, `drive by hand`
    Drive(Drive),
    /// `length ...`, `lengths ...`
    Lengths(ThinVec<Case<Lengths>>),
    /// `stays`: a stud that is left in place
    Stays,
    /// `engagement 18 mm`
    Engagement(Box<Amount>),
    /// `stand out 95 mm`
    StandOut(Box<Amount>),
    /// `blind`
    Blind,
    /// `to water`
    ToWater,
    /// `to oil`
    ToOil,
    /// `into iron` (iron, aluminium, insert, steel)
    Into(Word),
    /// `left-hand`
    LeftHand,
    /// `captive`
    Captive,
    /// `locked by split pin pump_pin` (tab, split pin, wire, stake, thread-locker)
    LockedBy {
        /// What kind of lock.
        how: Spanned<String>,
        /// The part or supply that is used up by it.
        piece: Option<Box<Reference>>,
        /// At which positions of the set.
        scope: Scope,
    },
    /// `once`, `reusable`, `reuse by GAUGE`, `reuse unknown`
    Reuse(ThinVec<Case<Reuse>>),
    /// `under fan_cover`
    Under(ThinVec<Cover>),
    /// `present when year = early`: otherwise this engine hasn't got them
    Present(ThinVec<Setting>, Scope),
    /// `oil threads, faces with clean_oil`
    Oil {
        /// Where.
        places: ThinVec<Word>,
        /// The supply.
        with: Option<Box<Reference>>,
    },
    /// `dry`
    Dry,
    /// `apply thread_sealant`
    Apply(Box<Reference>, Scope),
    /// `soft`: a torque that is meant to be low
    Soft,
    /// `drag always added`, `drag added when large`: what a locking nut takes before it seats
    Drag {
        /// Only from a third of the torque.
        when_large: bool,
    },
    /// `critical`
    Critical,
    /// `friction 0.10 .. 0.16 from "demo sheet 3"`
    Friction {
        /// The coefficient.
        range: Box<AmountRange>,
        /// Where it comes from.
        origin: Origin,
    },
    /// `then turn as it runs 360 deg`: as for joints
    Then(Box<Act>),
    /// `tighten ...`, for a set in no joint
    Tighten(ThinVec<Case<Tightened>>),
    /// `catalogue "BW3-0410"`
    Catalogue(ThinVec<Case<Quote>>),
    /// `price 0.80 EUR`
    Price(Box<Amount>),
}

/// What a tool has to fit.
#[derive(Debug, Clone, PartialEq)]
pub enum Drive {
    /// `19 mm`: across flats.
    AcrossFlats(Box<Amount>),
    /// `"hexalobular 45"`: in words.
    Words(Quote),
    /// Fingers do.
    ByHand,
}

/// `(96, 0)`
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
    /// Both, with the brackets.
    pub span: Span,
}

/// Where the holes of a set are.
#[derive(Debug, Clone, PartialEq)]
pub enum Layout {
    /// `at (0,0) (96,0) (192,0) mm`
    Points {
        /// In declared order.
        points: ThinVec<Point>,
        /// Unit of all.
        unit: Word,
    },
    /// `circle 6 on 80 mm`, `circle 6 on 80 mm first at 30 deg centre (10, 0) mm`
    Circle {
        /// How many.
        count: Amount,
        /// Diameter of the hole circle.
        diameter: Amount,
        /// Angle of the first, anticlockwise from the right.
        first: Option<Amount>,
        /// Centre.
        centre: Option<(Point, Word)>,
    },
    /// `grid 2 x 5 pitch 40 mm by 60 mm`, `... from (0, 0) mm`: columns x rows
    Grid {
        /// To the right.
        columns: Amount,
        /// Up.
        rows: Amount,
        /// To the right.
        pitch_x: Amount,
        /// Up.
        pitch_y: Amount,
        /// Lower left hole.
        corner: Option<(Point, Word)>,
    },
}

/// Clauses of `joint`.
#[derive(Debug, Clone, PartialEq)]
pub enum JointClause {
    /// `clamps cylinder_head, head_gasket, block`: the last is the base
    Clamps(ThinVec<Reference>),
    /// `seen from top, front left`
    SeenFrom {
        /// top, below, front, rear, left, right
        view: Word,
        /// Where the front is in that view.
        front: Option<Word>,
        /// At which positions of the joint.
        scope: Scope,
    },
    /// `holes head_nuts at (0,0) (96,0) mm`
    Holes {
        /// Which set.
        set: Reference,
        /// Where.
        layout: Spanned<Layout>,
    },
    /// `gasket "metal, one layer" 1.2 mm`
    Gasket {
        /// Material in words.
        material: Quote,
        /// Thickness as fitted.
        thickness: Option<Amount>,
    },
    /// `tighten head_nuts 30 N.m, 60 N.m from "demo sheet 3"`
    Tighten {
        /// Which set.
        set: Reference,
        /// To what.
        tightening: ThinVec<Case<Tightened>>,
    },
    /// `sequence A, D, B, C from "demo sheet 3"` (tightening), `sequence to undo C, B, D, A`
    Sequence {
        /// `to undo`
        to_undo: bool,
        /// Hole letters in order.
        holes: ThinVec<Word>,
        /// Where it comes from.
        origin: Origin,
    },
    /// `pass by pass`: passes of the sets run together
    PassByPass,
    /// `critical`
    Critical,
    /// `friction 0.10 .. 0.16 from "demo sheet 3"`
    Friction {
        /// The coefficient.
        range: Box<AmountRange>,
        /// Where it comes from.
        origin: Origin,
    },
    /// `then turn as it runs 360 deg`: done each time it has been tightened (turn, gauge, look, or plain words)
    Then(Box<Act>),
}

/// A condition that something must be in.
#[derive(Debug, Clone, PartialEq)]
pub enum Condition {
    /// `cylinder_head off` (fitted, off, supported; tight, slack, out; in, for a temporary)
    Thing {
        /// What.
        thing: Reference,
        /// Its condition.
        condition: Word,
    },
    /// `coolant = drained`
    State(Setting),
}

/// A small formula over readings.
#[derive(Debug, Clone, PartialEq)]
pub enum Formula {
    /// A number with its unit.
    Amount(Amount),
    /// A reading, with position if it has one.
    Reading(Reference),
    /// `a + b`, `a - b`, `a * b`, `a / b`
    Operation {
        /// One of `+ - * /`.
        operator: Spanned<char>,
        /// Left.
        left: Box<Formula>,
        /// Right.
        right: Box<Formula>,
    },
    /// `max(a, b)`, `min(...)`, `mean(...)`, and other named functions
    Call {
        /// Its name.
        name: Word,
        /// Its arguments.
        arguments: ThinVec<Formula>,
    },
}

/// A band of results: `good 0 mm .. 0.05 mm`, `renew above 0.15 mm`, `tight below 0.02 mm`
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// The result.
    pub name: Word,
    /// Lower end; none is open.
    pub low: Option<Amount>,
    /// Upper end; none is open.
    pub high: Option<Amount>,
}

/// Clauses of `gauge`.
#[derive(Debug, Clone, PartialEq)]
pub enum GaugeClause {
    /// `of cylinder_block`
    Of(Reference),
    /// `like main_journal`: what is said of that and not of this
    Like(Word),
    /// `unit mm`
    Unit(Word),
    /// `stations top 10 mm, middle 60 mm, bottom 110 mm` (depths may be left out)
    Stations(ThinVec<(Word, Option<Amount>)>),
    /// `directions along, across`
    Directions(ThinVec<Word>),
    /// `made 80.000 mm .. 80.020 mm from "demo sheet 7"`: limits as made
    Made(ThinVec<Case<AmountRange>>),
    /// `worn 80.15 mm from "demo sheet 7"`; none for `worn unknown`: limit as worn
    Worn(ThinVec<Case<Option<Amount>>>),
    /// `best at nought`: it is how far something is off
    BestAtNought,
    /// `noted only`: it is written down, and judged by nothing
    NotedOnly,
    /// `plausible 79 mm .. 83 mm`
    Plausible(AmountRange),
    /// `instrument "bore gauge" resolution 0.01 mm error 0.004 mm from "its certificate"`
    Instrument {
        /// What it is read with.
        name: Quote,
        /// Smallest step.
        resolution: Option<Amount>,
        /// How far it may itself be off, to either side.
        error: Option<Amount>,
        /// Where that error comes from.
        origin: Origin,
    },
    /// `taken in place`, `taken off`
    Taken(Word),
    /// `needs main_bolts tight, head off`
    Needs(ThinVec<Condition>, Scope),
    /// `is max(bore) - min(bore)`
    Is(Spanned<Formula>),
    /// `bands good 0 mm .. 0.05 mm, machine 0.05 mm .. 0.30 mm, renew above 0.30 mm from "demo sheet 7"`
    Bands {
        /// Named results.
        bands: ThinVec<Band>,
        /// Where these edges hold.
        scope: Scope,
        /// Where their edges come from.
        origin: Origin,
    },
    /// `sold 1.1 mm, 1.2 mm within 0.05 mm from "..."`, `sold 0.4 mm .. 0.8 mm by 0.1 mm ...`: the pieces one of which goes in
    Sold {
        /// Their sizes; a range is written out.
        pieces: ThinVec<Amount>,
        /// The step of a range.
        by: Option<Amount>,
        /// How far the piece may be off what is worked out.
        within: Amount,
        /// Where they come from.
        origin: Origin,
    },
    /// `sizes 0.25 mm, 0.50 mm allowance 0.05 mm from "..."`: oversizes or undersizes that exist
    Sizes {
        /// Steps.
        steps: ThinVec<Amount>,
        /// What must come off to clean up.
        allowance: Option<Amount>,
        /// Whether it is bored on the centre that it has, not on that of its wear.
        old_centre: bool,
        /// Where they come from.
        origin: Origin,
    },
}

/// Clauses of `look`.
#[derive(Debug, Clone, PartialEq)]
pub enum LookClause {
    /// `of crankshaft`
    Of(Reference),
    /// `like gear_teeth`: what is said of that and not of this
    Like(Word),
    /// `results sound, cracked`
    Results(ThinVec<Word>),
    /// `marks of crank_gear, idler_gear`: whether their timing marks meet; the first turns with the crankshaft
    MarksOf(ThinVec<Reference>),
    /// `by "dye"`: how it is judged
    By(Quote),
    /// `taken in place`, `taken off`
    Taken(Word),
    /// `needs crankshaft off`
    Needs(ThinVec<Condition>, Scope),
}

/// Clauses of `temporary`.
#[derive(Debug, Clone, PartialEq)]
pub enum TemporaryClause {
    /// `into "flywheel housing"`
    Into(Quote),
    /// `may stay`
    MayStay,
}

/// `hazard falling_mass warning lifting { hazard "..." consequence "..." avoid "..." wear "gloves" }`
#[derive(Debug, Clone, PartialEq)]
pub struct Hazard {
    /// Its id.
    pub name: Word,
    /// danger, warning, caution, notice
    pub signal: Word,
    /// lifting, spring, fuel_jet, pressure, hot, ...
    pub kind: Word,
    /// What stands in braces.
    pub clauses: Vec<Clause<HazardClause>>,
    /// The whole declaration.
    pub span: Span,
}

/// Clauses of `hazard`.
#[derive(Debug, Clone, PartialEq)]
pub enum HazardClause {
    /// `hazard "The head weighs 24 kg."`
    Hazard(Quote),
    /// `consequence "It can crush hands."`
    Consequence(Quote),
    /// `avoid "Rig the hoist before the last nut."`
    Avoid(Quote),
    /// `wear "gloves", "goggles"`
    Wear(ThinVec<Quote>),
}

/// One side of a rule: a size, or a named set.
#[derive(Debug, Clone, PartialEq)]
pub enum RuleSide {
    /// `smaller`
    Smaller,
    /// `larger`
    Larger,
    /// A fastener set.
    Set(Reference),
}

/// Clauses of `rule`.
#[derive(Debug, Clone, PartialEq)]
pub enum RuleClause {
    /// `undo smaller before larger`, `tighten larger before smaller`, `undo gland_nut before cap_bolts`
    Order {
        /// undo or tighten
        act: Word,
        /// First.
        first: Spanned<RuleSide>,
        /// Then.
        then: Spanned<RuleSide>,
    },
    /// `for every joint`
    ForEveryJoint,
    /// `for head, sump`
    For(ThinVec<Reference>),
    /// `except head because "the maker's sheet says so"`
    Except {
        /// Which joints.
        joints: ThinVec<Reference>,
        /// Why.
        because: Quote,
    },
}
