//! Parts: what covers them, what holds them, what they are worth.

use super::{
    AxisId, Cases, GaugeId, Guard, Handling, Local, LookId, Naming, PartId, Place, Places, Procedure, Seldom,
    SetId, SetupId, Sourced, Stance, StateId, Target,
};
use crate::quantity::{Mass, Money, Quantity, stated_figure};
use crate::source::Span;

/// A part; with axes, one at each position.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Name.
    pub naming: Naming,
    /// Axes.
    pub axes: Seldom<AxisId>,
    /// How many pieces there are at each position; they are one thing.
    pub count: Cases<Sourced<u32>>,
    /// What kind of thing it is, where it is of one that brings something with it.
    pub kind: Option<PartKind>,
    /// What comes out of it when it is taken off.
    pub carries: Seldom<Carried>,
    /// How it is handled.
    pub handling: Handling,
    /// What is over it.
    pub under: Seldom<Cover>,
    /// What holds it, beside the joints that clamp it.
    pub held_by: Seldom<Local<Target<SetId>>>,
    /// The assembly it belongs to.
    pub within: Option<Box<Within>>,
    /// What seals it.
    pub sealed_by: Seldom<Target<PartId>>,
    /// Whether the old one, dust and residue of it included, hurts nobody.
    pub harmless: bool,
    /// Mass of one piece.
    pub mass: Option<Quantity>,
    /// Where the hoist is hooked.
    pub lift_at: Option<String>,
    /// When it falls, unless it is steadied.
    pub falls: Seldom<Falls>,
    /// Answers under which the engine has it at all, each where that is said; always, where nothing is.
    pub present: Seldom<(Guard, Places)>,
    /// Goes back in its own place, the same way round.
    pub worn_in: bool,
    /// Which way round it goes, old and new alike.
    pub way: Cases<String>,
    /// Marks on it.
    pub marks: Seldom<Mark>,
    /// Renewed together with these.
    pub matched_with: Seldom<Target<PartId>>,
    /// Bought in the size in which these are bought.
    pub sized_with: Seldom<Target<PartId>>,
    /// Bought in the size that what these measure is machined to.
    pub sized_by: Seldom<Target<GaugeId>>,
    /// Chosen from graded pieces.
    pub select_from: Option<String>,
    /// Taking it lets go what this value of the state holds back.
    pub releases: Seldom<(StateId, usize, Span)>,
    /// Whether it is what is turned when the engine is turned by hand.
    pub turned_by_hand: bool,
    /// What is told at each turn that has no words of its own.
    pub turning_words: Option<String>,
    /// How many teeth it has.
    pub teeth: Option<u32>,
    /// Gears that it runs in, as far as it says so itself.
    pub meshes: Seldom<Mesh>,
    /// Whether a failure endangers people or the engine.
    pub critical: bool,
    /// A look that is taken before it is sent or fitted.
    pub crack_test: Option<Box<Target<LookId>>>,
    /// What is to become of it.
    pub fate: Option<FateChoice>,
    /// Part number.
    pub catalogue: Cases<Sourced<String>>,
    /// Price of one piece.
    pub price: Option<Money>,
    /// Supplier and lead time.
    pub supplier: Option<Box<(String, Option<Quantity>)>>,
}

impl Part {
    /// Whether it says of itself where it sits, or that it moves: it is of the machine, though nothing may ever take it off.
    pub fn is_placed(&self) -> bool {
        self.within.is_some()
            || self.turned_by_hand
            || self.teeth.is_some()
            || !self.held_by.is_empty()
            || !self.under.is_empty()
            || !self.sealed_by.is_empty()
    }
}

/// A kind of part that brings a hazard or a coat with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartKind {
    /// Lies between two faces; an old one breaks to dust or sticks.
    Gasket,
    /// Its lip or ring runs on a shaft or lies in a groove.
    Seal,
    /// Flies when it is let go: springs, circlips.
    Spring,
    /// Shells, bushes, balls and rollers.
    Bearing,
    /// Turns or slides on a film of oil: shafts, followers, pistons.
    Running,
}

/// What a part holds in as long as it is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Carried {
    /// Fuel: it burns, and it harms skin.
    Fuel,
    /// Whatever stands under pressure.
    Pressure,
    /// Coolant: hot, and under pressure while it is.
    Coolant,
    /// Oil that has been run.
    Oil,
    /// Electric current: a battery's, a magneto's.
    Current,
}

/// A part falls when a setup has a value.
#[derive(Debug, Clone, PartialEq)]
pub struct Falls {
    /// The setup.
    pub setup: SetupId,
    /// Its value, by index.
    pub value: usize,
    /// At which of its places it does.
    pub at: Places,
    /// Where it is said.
    pub span: Span,
}

impl Falls {
    /// Whether it does while the bench stands so.
    pub fn when(&self, stance: &Stance) -> bool {
        (self.setup, self.value) == (stance.setup, stance.value)
    }
}

/// What covers a thing.
#[derive(Debug, Clone, PartialEq)]
pub struct Cover {
    /// The thing on top.
    pub by: CoverThing,
    /// Counts when taking apart.
    pub to_strip: bool,
    /// Counts when putting together.
    pub to_build: bool,
    /// Only this hole of the set is covered.
    pub hole: Option<u32>,
    /// Only at these positions is it.
    pub at: Places,
    /// Where it is said.
    pub span: Span,
}

impl Cover {
    /// A part that lies over the whole of a thing, at each of its places, on the way off and on.
    pub fn by_part(part: Target<PartId>, span: Span) -> Cover {
        Cover {
            by: CoverThing::Part(part),
            to_strip: true,
            to_build: true,
            hole: None,
            at: Places::default(),
            span,
        }
    }
}

/// A thing that can cover another.
#[derive(Debug, Clone, PartialEq)]
pub enum CoverThing {
    /// A part: gone when it is off.
    Part(Target<PartId>),
    /// A fastener set: gone when it is out.
    Set(Target<SetId>),
}

/// Membership in an assembly.
#[derive(Debug, Clone, PartialEq)]
pub struct Within {
    /// The assembly.
    pub host: Target<PartId>,
    /// Whether it may be taken out and put in with the assembly fitted.
    pub in_place_too: bool,
}

/// Kinds of mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MarkKind {
    /// Timing marks.
    Timing,
    /// Balance marks.
    Balance,
    /// Marks that we make.
    Ours,
}

/// A mark on a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Kind.
    pub kind: MarkKind,
    /// Where, and with what.
    pub text: String,
    /// At which of its positions.
    pub at: Places,
}

/// A gear that another one runs in.
#[derive(Debug, Clone, PartialEq)]
pub struct Mesh {
    /// The other gear.
    pub gear: Target<PartId>,
    /// What both are marked with where they meet.
    pub mark: String,
    /// Where it is said.
    pub span: Span,
}

/// Fates by answers, the first that applies counts.
#[derive(Debug, Clone, PartialEq)]
pub struct FateChoice {
    /// Fates under conditions.
    pub cases: Seldom<(Fate, Guard)>,
    /// What holds otherwise.
    pub otherwise: Option<Fate>,
    /// Where it is said.
    pub span: Span,
}

/// What is to become of a part.
#[derive(Debug, Clone, PartialEq)]
pub enum Fate {
    /// A new one goes in.
    Renew,
    /// It goes back.
    Reuse,
    /// It goes back clean.
    CleanThenReuse,
    /// Readings or looks decide.
    By(Vec<Judge>),
    /// It is sent out for this.
    Send(String),
    /// Bore or grind to the parts in hand.
    SizeByPartsInHand,
    /// Kept until it is settled what becomes of it.
    KeepUntilSettled,
    /// It does not go back, and why.
    LeaveOut(String),
}

/// What decides on a part.
#[derive(Debug, Clone, PartialEq)]
pub enum Judge {
    /// A gauge with bands.
    Gauge(Target<GaugeId>),
    /// A look.
    Look(Target<LookId>),
}

impl FateChoice {
    /// Every fate that may apply, in written order.
    pub fn fates(&self) -> impl Iterator<Item = &Fate> {
        self.cases.iter().map(|(fate, _)| fate).chain(&self.otherwise)
    }
}

impl Procedure {
    /// When a part falls at one of its places.
    pub fn falls(&self, (id, place): (PartId, Place)) -> impl Iterator<Item = &Falls> {
        let bound = self.bound_at((id, place));
        self.part(id).falls.iter().filter(move |falls| falls.at.hold(&bound))
    }

    /// Answers under which the engine has a part at one of its places.
    pub fn present(&self, (id, place): (PartId, Place)) -> Guard {
        let present = &self.part(id).present;
        // Most are always there: that is asked for each event.
        if present.is_empty() {
            return Guard::default();
        }
        let bound = self.bound_at((id, place));
        let here = present.iter().filter(|(_, places)| places.hold(&bound));
        Guard(here.flat_map(|(guard, _)| guard.0.iter().cloned()).collect())
    }
}

/// Mass above which a part is lifted by a hoist where the family states no limit: the load constant of the revised NIOSH
/// lifting equation, 23 kg (NIOSH 94-110).
const UNSTATED_LIMIT: Mass = Mass::from_kilograms(23.0);

/// What is heavy; kept here so that every room reads it the same way.
impl Procedure {
    /// The mass above which one person lifts no part, in kilograms.
    pub fn lifting_limit(&self) -> f64 {
        let stated = self.family.as_ref().and_then(|family| family.lifting_limit);
        stated.map_or(UNSTATED_LIMIT.base(), Quantity::base)
    }

    /// Whether one piece of the part is above that limit.
    pub fn is_heavy(&self, part: &Part) -> bool {
        part.mass.is_some_and(|mass| mass.base() > self.lifting_limit())
    }

    /// The limit as it is told, with its source where the family states none.
    pub fn lifting_limit_printed(&self) -> String {
        match self.family.as_ref().and_then(|family| family.lifting_limit) {
            Some(limit) => limit.to_string(),
            None => format!(
                "{} kg (NIOSH 94-110; the family states none)",
                stated_figure(UNSTATED_LIMIT.kilograms(), 0)
            ),
        }
    }
}
