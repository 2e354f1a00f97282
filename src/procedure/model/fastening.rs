//! Fasteners and the joints they clamp.

use super::{
    Act, AxisId, Cases, Cover, GaugeId, Guard, Local, Lock, Naming, Oiling, PartId, Place, Places, Procedure,
    Seldom, SetId, Sourced, SupplyId, Target, View,
};
use crate::mechanics::engagement::NutClass;
use crate::mechanics::wrench::DragRule;
use crate::mechanics::{Class, Strength, Thread};
use crate::quantity::{Length, Money, Quantity};
use crate::source::Span;

/// What a fastener is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum FastenerKind {
    Bolt,
    Stud,
    Nut,
    Screw,
    Hollow,
    Plug,
}

/// What an author names as the trade does, beside what the tables know by that name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Designation<T> {
    /// As written; so it is printed.
    pub written: String,
    /// What it means; none where the tables have nothing of the name.
    pub known: Option<T>,
    /// Where it is written.
    pub span: Span,
}

/// How strong a fastener is said to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grade {
    /// The class of what carries the thread on its outside.
    Bolt(Class),
    /// The class of a nut.
    Nut(NutClass),
}

/// What a fastener is screwed into.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum Into {
    Iron,
    Steel,
    Aluminium,
    Insert,
}

/// Whether a fastener may go back.
#[derive(Debug, Clone, PartialEq)]
pub enum Reuse {
    /// New ones each time.
    Once,
    /// They go back.
    Reusable,
    /// A reading decides.
    By(Target<GaugeId>),
    /// Nobody has said.
    Unknown,
}

/// Lengths under the head.
#[derive(Debug, Clone, PartialEq)]
pub enum Lengths {
    /// Nobody has said.
    Unknown,
    /// All the same.
    One(Quantity),
    /// By hole letter.
    ByHole(Vec<(String, Quantity)>),
}

/// What a tool has to fit.
#[derive(Debug, Clone, PartialEq)]
pub enum Drive {
    /// A hexagon of this size.
    AcrossFlats(Quantity),
    /// In words.
    Words(String),
    /// Nothing: fingers do.
    ByHand,
}

/// A set of like fasteners; with axes, one set at each position.
#[derive(Debug, Clone, PartialEq)]
pub struct FastenerSet {
    /// Name.
    pub naming: Naming,
    /// Axes.
    pub axes: Seldom<AxisId>,
    /// How many there are at each position.
    pub count: Cases<Sourced<u32>>,
    /// What they are.
    pub kind: FastenerKind,
    /// How it is handled.
    pub handling: super::Handling,
    /// Thread, such as `M12x1.25`.
    pub thread: Option<Designation<Thread>>,
    /// Nominal diameter of the thread.
    pub diameter: Option<Quantity>,
    /// Property class or grade, such as `8.8` or `SAE 5`.
    pub class: Option<Designation<Grade>>,
    /// What a tool has to fit.
    pub drive: Option<Drive>,
    /// Lengths; no cases where the procedure does not speak of them.
    pub lengths: Cases<Sourced<Lengths>>,
    /// A stud that is left in place.
    pub stays: bool,
    /// Thread engagement.
    pub engagement: Option<Quantity>,
    /// Length that stands out.
    pub stand_out: Option<Quantity>,
    /// In a blind hole.
    pub blind: bool,
    /// Hole opens into water.
    pub to_water: bool,
    /// Hole opens into oil.
    pub to_oil: bool,
    /// What it is screwed into.
    pub into: Option<Into>,
    /// Left-hand thread.
    pub left_hand: bool,
    /// Stays with its part when slack.
    pub captive: bool,
    /// What keeps it from coming loose.
    pub locked_by: Seldom<Lock>,
    /// Whether it may go back; no cases where nothing is said, which counts as reusable.
    pub reuse: Cases<Sourced<Reuse>>,
    /// Answers under which this engine has it, each with where; none: it always has.
    pub present: Seldom<(Guard, Places)>,
    /// What is over it.
    pub under: Seldom<Cover>,
    /// Where it is oiled at refit.
    pub oil: Option<Box<Oiling>>,
    /// Goes in dry.
    pub dry: bool,
    /// Supplies applied at refit.
    pub apply: Seldom<Local<(SupplyId, Span)>>,
    /// A torque that is meant to be low.
    pub soft: bool,
    /// What is done about the torque that a locking nut takes before it seats; none where nothing is said.
    pub drag: Option<DragRule>,
    /// Whether a failure endangers people or the engine.
    pub critical: bool,
    /// Friction coefficient, from and to.
    pub friction: Option<Box<Sourced<(f64, f64)>>>,
    /// What is done each time it has been tightened for good.
    pub then: Seldom<Act>,
    /// Tightening, for a set in no joint.
    pub tightening: Cases<Sourced<Tightening>>,
    /// Part number.
    pub catalogue: Cases<Sourced<String>>,
    /// Price of one piece.
    pub price: Option<Money>,
}

impl FastenerSet {
    /// Nominal diameter of its thread, if it is known.
    pub fn size(&self) -> Option<Length> {
        self.diameter.and_then(|diameter| Length::try_from(diameter).ok())
    }

    /// The thread as the tables have it; none if it isn't stated or not in them.
    pub fn thread(&self) -> Option<Thread> {
        self.thread.as_ref()?.known
    }

    /// The class of a nut.
    pub fn nut(&self) -> Option<NutClass> {
        match self.class.as_ref()?.known? {
            Grade::Nut(nut) => Some(nut),
            Grade::Bolt(_) => None,
        }
    }

    /// The class of the bolt; of a nut, the strongest that it holds.
    pub fn bolt_class(&self) -> Option<Class> {
        match self.class.as_ref()?.known? {
            Grade::Nut(nut) => Some(nut.strongest_bolt()),
            Grade::Bolt(class) => Some(class),
        }
    }

    /// How strong the bolt of that class and thread is.
    pub fn strength(&self) -> Option<Strength> {
        self.bolt_class()?.strength(&self.thread()?).ok()
    }
}

/// One pass of tightening; a range is for castle nuts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pass {
    /// To a torque.
    Torque(Quantity, Option<Quantity>),
    /// On by an angle.
    Angle(Quantity, Option<Quantity>),
}

/// What a set is tightened to. Its origin stands beside it in [`Sourced`].
#[derive(Debug, Clone, PartialEq)]
pub enum Tightening {
    /// Pass by pass.
    Passes(Vec<Pass>),
    /// Nobody has said: an open question.
    Unknown,
    /// The shop's own table by thread and class.
    General,
    /// By feel.
    ByFeel,
}

/// Something clamped by fasteners.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// Name.
    pub naming: Naming,
    /// Axes.
    pub axes: Seldom<AxisId>,
    /// The parts clamped; the last is the base, the sets hold the others.
    pub clamps: Vec<Target<PartId>>,
    /// From where its picture is drawn.
    pub seen: Cases<Sourced<Seen>>,
    /// Its sets with their holes, in declared order.
    pub members: Vec<Member>,
    /// Gasket: material and thickness.
    pub gasket: Option<(String, Option<Quantity>)>,
    /// The author's order of tightening, as hole indices.
    pub tighten_sequence: Option<Sourced<Vec<u32>>>,
    /// The author's order of undoing, as hole indices.
    pub undo_sequence: Option<Sourced<Vec<u32>>>,
    /// Passes of its sets run together.
    pub pass_by_pass: bool,
    /// Whether a failure endangers people or the engine.
    pub critical: bool,
    /// Friction coefficient, from and to.
    pub friction: Option<Box<Sourced<(f64, f64)>>>,
    /// What is done each time it has been tightened for good.
    pub then: Seldom<Act>,
}

/// A set in a joint.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// The set.
    pub set: Target<SetId>,
    /// Its holes; empty where no layout is given.
    pub holes: Vec<Hole>,
    /// What it is tightened to here.
    pub tightening: Cases<Sourced<Tightening>>,
    /// Places of the set at which this engine has none, as the answers of its job have it.
    pub absent: Vec<Place>,
}

/// A hole: its letter, and where it is as one looks at the face, in millimetres, x to the right and y up.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// Index within the joint, in declared order.
    pub index: u32,
    /// A, B, ... Z, AA, AB, ...
    pub letter: String,
    /// To the right.
    pub x: Quantity,
    /// Up.
    pub y: Quantity,
}

/// From where a joint is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Seen {
    /// From which side.
    pub view: View,
    /// Where the front of the engine is in the picture; none where nothing is said.
    pub front: Option<Front>,
}

/// Where the front of the engine is in a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum Front {
    Left,
    Right,
    Up,
    Down,
}

/// Letter of the hole with this index: A to Z, then AA, AB, ...
pub fn hole_letter(index: u32) -> String {
    let mut letters = Vec::new();
    let mut rest = index;
    loop {
        letters.push(char::from(b'A' + u8::try_from(rest % 26).expect("a remainder of 26 fits")));
        if rest < 26 {
            break;
        }
        rest = rest / 26 - 1;
    }
    letters.iter().rev().collect()
}

/// Parts and sets by what a joint clamps; kept here so that every room reads it the same way.
impl Joint {
    /// The parts that its sets hold: all that it clamps but the base.
    pub fn held(&self) -> &[Target<PartId>] {
        self.clamps.split_last().map_or(&[], |(_, held)| held)
    }

    /// Whether this set is one of its own.
    pub fn has(&self, set: SetId) -> bool {
        self.members.iter().any(|member| member.set.id == set)
    }
}

impl Procedure {
    /// Whether a set is among what holds a part, by itself or in a joint.
    pub fn holds(&self, set: SetId, part: PartId) -> bool {
        let mut joints = self.joints.iter().filter(|joint| joint.has(set));
        self.part(part).held_by.iter().any(|held| held.what.id == set)
            || joints.any(|joint| joint.held().iter().any(|held| held.id == part))
    }

    /// The letters of the holes of a set: those of its joint, else those at which its lengths are stated, else from A on.
    pub fn hole_letters(&self, id: SetId) -> Vec<String> {
        let members = self.joints.iter().flat_map(|joint| &joint.members);
        let holes = members.filter(|member| member.set.id == id).flat_map(|member| &member.holes);
        let mut letters: Vec<String> = holes.map(|hole| hole.letter.clone()).collect();
        let set = self.set(id);
        if letters.is_empty() {
            let by_hole = set.lengths.values().filter_map(|said| match &said.value {
                Lengths::ByHole(by_hole) => Some(by_hole),
                Lengths::One(_) | Lengths::Unknown => None,
            });
            for (letter, _) in by_hole.flatten() {
                if !letters.contains(letter) {
                    letters.push(letter.clone());
                }
            }
        }
        if letters.is_empty() {
            letters.extend((0..set.count.at_a_place().most()).map(hole_letter));
        }
        letters
    }

    /// Answers under which the engine has a set at one of its places.
    pub fn set_present(&self, (id, place): (SetId, Place)) -> Guard {
        let present = &self.set(id).present;
        // Most are always there: that is asked for each event.
        if present.is_empty() {
            return Guard::default();
        }
        let bound = self.bound_at((id, place));
        let here = present.iter().filter(|(_, places)| places.hold(&bound));
        Guard(here.flat_map(|(guard, _)| guard.0.iter().cloned()).collect())
    }

    /// What is said of the tightening of a set: in its joint, or by itself where it is in none.
    pub fn tightening(&self, set: SetId) -> &Cases<Sourced<Tightening>> {
        let mut members = self.joints.iter().flat_map(|joint| &joint.members);
        let in_joint = members.find(|member| member.set.id == set && !member.tightening.is_empty());
        in_joint.map_or(&self.set(set).tightening, |member| &member.tightening)
    }
}
