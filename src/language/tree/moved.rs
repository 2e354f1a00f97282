//! What was read to what stands elsewhere: every place in a piece of the tree moved by as many bytes. A declaration whose
//! text has not changed need not be read again because something before it has.
//!
//! Every field is named, so that what is added to the tree and has a place can't be forgotten here.

use super::*;
use crate::source::{FileId, Span, Spanned};
use thin_vec::ThinVec;

/// Where a piece of the tree stood and stands.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Move {
    /// The file in which it stands.
    pub file: FileId,
    /// A byte of it where it stood.
    pub from: usize,
    /// The same byte where it stands.
    pub to: usize,
}

/// What has places in a text.
pub(crate) trait Moved {
    /// Puts every place where it stands now.
    fn moved(&mut self, by: Move);
}

impl Moved for Span {
    fn moved(&mut self, by: Move) {
        let at = |byte: usize| (byte + by.to).saturating_sub(by.from);
        *self = Span::new(by.file, at(self.start()), at(self.end()));
    }
}

/// What has no place.
macro_rules! placeless {
    ($($name:ty),*) => {
        $(impl Moved for $name {
            fn moved(&mut self, _: Move) {}
        })*
    };
}

placeless!(String, bool, char, f64, usize, u32, &'static str);
placeless!(Direction, Way, Phase, GroupKind, Turn, DifferenceKind);

impl<T: Moved> Moved for Option<T> {
    fn moved(&mut self, by: Move) {
        if let Some(value) = self {
            value.moved(by);
        }
    }
}

impl<T: Moved> Moved for Vec<T> {
    fn moved(&mut self, by: Move) {
        self.iter_mut().for_each(|value| value.moved(by));
    }
}

impl<T: Moved> Moved for ThinVec<T> {
    fn moved(&mut self, by: Move) {
        self.iter_mut().for_each(|value| value.moved(by));
    }
}

impl<T: Moved> Moved for Box<T> {
    fn moved(&mut self, by: Move) {
        (**self).moved(by);
    }
}

impl<A: Moved, B: Moved> Moved for (A, B) {
    fn moved(&mut self, by: Move) {
        self.0.moved(by);
        self.1.moved(by);
    }
}

/// Structs with all their fields.
macro_rules! structs {
    ($($name:ident $(<$value:ident>)? { $($field:ident),* }),* $(,)?) => {
        $(impl $(<$value: Moved>)? Moved for $name $(<$value>)? {
            fn moved(&mut self, by: Move) {
                let $name { $($field),* } = self;
                $($field.moved(by);)*
            }
        })*
    };
}

/// An enum with all its variants.
macro_rules! variants {
    ($name:ident: $($variant:ident $({ $($field:ident),* })? $(($($value:ident),*))?),*) => {
        impl Moved for $name {
            fn moved(&mut self, by: Move) {
                match self {
                    $($name::$variant $({ $($field),* })? $(($($value),*))? => {
                        $($($field.moved(by);)*)?
                        $($($value.moved(by);)*)?
                    })*
                }
            }
        }
    };
}

structs! {
    Spanned<T> { value, span },
    Case<T> { value, scope, origin, span },
    Declaration<C> { name, axes, count, title, clauses, span },
    Clause<C> { value, once, span },
    Amount { value, digits, unit, span },
    AmountRange { low, high },
    Reference { name, positions, span },
    Setting { name, value },
    Scope { at, when },
    Axis { name, title, positions, groupings, span },
    Grouping { name, title, groups },
    Ask { name, question, answers, span },
    ListedValue { value, at_first, at_build },
    Lies { value, face },
    Setup { name, title, values, turns_engine, each_person, change, hazard, span },
    State { name, title, values, hazards, span },
    Cover { by, way, hole, at },
    Pass { amount },
    Tightened { to, less },
    Less { share, because, origin, span },
    Point { x, y, span },
    Band { name, low, high },
    Hazard { name, signal, kind, clauses, span },
    Step { phase, name, title, clauses, span },
    Group { kind, name, title, steps, span },
    StepReference { all, step },
    Act { kind, note, scope },
    TurnTarget { axis, cylinder, dead_centre, span },
    Change { said, differences, span },
    Difference { kind, named, clause, put, span },
    Without { names, span },
}

variants! {
    Item:
    Use(a), Section { name, title, refit, origin }, Family(a), Axis(a), Ask(a), Setup(a), State(a), Tool(a),
    Supply(a), Part(a), Fasteners(a), Joint(a), Gauge(a), Look(a), Temporary(a), Hazard(a), Rule(a), Step(a),
    Group(a), Change(a), Without(a)
}
variants! {
    FamilyClause:
    Of { file, edition }, Edition(a), Revised { edition, what, names }, Summary(a), Origin(a), Invented, Identify { place, reads }, NumberOne(a),
    Turns { direction, seen_from }, Sides(a), Ends { front, rear }, Called(a), Cycle(a), FiringIntervals(a),
    FiringOrder(a), Capacity { name, amounts }, LiftingLimit(a), Data { name, amounts }
}
variants! { Handling: With(a, b, c), Hazard(a, b, c), ComesOff(a, b), GoesOn(a, b) }
variants! { ToolClause: Hazard(a), Drive(a), Size(a), Range(a), Special, StandIn { tool, condition }, Kind(a) }
variants! { SupplyClause: Hazard(a), Quantity(a), OpenTime(a), CureTime(a) }
variants! {
    Fate:
    Renew, Reuse, CleanThenReuse, By(a), Send(a), SizeByPartsInHand, KeepUntilSettled, LeaveOut(a), Choice { cases,
    otherwise }
}
variants! {
    PartClause:
    Kind(a), Like(a), Carries(a), Handling(a), Coat { with, place, scope }, Dry(a), Harmless(a), Under(a), HeldBy(a, b),
    Within { host, in_place_too }, SealedBy(a), Mass(a), LiftAt(a), Falls(a, b), Present(a, b), WornIn, Way(a, b),
    Mark { kind, text, scope }, MatchedWith(a), SizedWith(a), SizedBy(a), SelectFrom(a), Releases(a), TurnedByHand(a),
    Teeth(a), Meshes(a, b), Critical, CrackTest(a), Fate(a), Catalogue(a), Price(a), Supplier { name, lead_time }
}
variants! { Lengths: Unknown, One(a), ByHole(a) }
variants! { Reuse: Once, Reusable, By(a), Unknown }
variants! { Tightening: Passes(a), Unknown, General, ByFeel }
variants! {
    FastenerClause:
    Like(a), Handling(a), Kind(a), Thread(a), Class(a), Drive(a), Lengths(a), Stays, Engagement(a), StandOut(a),
    Blind, ToWater, ToOil, Into(a), LeftHand, Captive, LockedBy { how, piece, scope }, Reuse(a), Under(a), Present(a, b),
    Oil { places, with }, Dry, Apply(a, b), Soft, Drag { when_large }, Critical, Friction { range, origin }, Then(a),
    Tighten(a), Catalogue(a), Price(a)
}
variants! { Drive: AcrossFlats(a), Words(a), ByHand }
variants! {
    Layout:
    Points { points, unit }, Circle { count, diameter, first, centre }, Grid { columns, rows, pitch_x, pitch_y,
    corner }
}
variants! {
    JointClause:
    Clamps(a), SeenFrom { view, front, scope }, Holes { set, layout }, Gasket { material, thickness }, Tighten {
    set, tightening }, Sequence { to_undo, holes, origin }, PassByPass, Critical, Friction { range, origin },
    Then(a)
}
variants! { Condition: Thing { thing, condition }, State(a) }
variants! { Formula: Amount(a), Reading(a), Operation { operator, left, right }, Call { name, arguments } }
variants! {
    GaugeClause:
    Of(a), Like(a), Unit(a), Stations(a), Directions(a), Made(a), Worn(a), BestAtNought, NotedOnly, Plausible(a), Instrument {
    name, resolution, error, origin }, Taken(a), Needs(a, b), Is(a), Bands { bands, scope, origin }, Sold { pieces, by, within, origin }, Sizes { steps, allowance, old_centre, origin }
}
variants! { LookClause: Of(a), Like(a), Results(a), MarksOf(a), By(a), Taken(a), Needs(a, b) }
variants! { TemporaryClause: Into(a), MayStay }
variants! { HazardClause: Hazard(a), Consequence(a), Avoid(a), Wear(a) }
variants! { RuleSide: Smaller, Larger, Set(a) }
variants! { RuleClause: Order { act, first, then }, ForEveryJoint, For(a), Except { joints, because } }
variants! {
    StepClause:
    After(a), Before(a), StraightAfter { step, within }, When(a), Each { axes, of, apart }, InTurn { axis, firing },
    Tools(a, b), Supplies(a, b), With(a, b), Hands(a), Time { time, both_ways }, RefitTime(a), Hold(a, b), Hazard(a,
    b), Needs(a, b), StripOnly, If { condition, action, scope }, Repeat { until, at_most, work }, Except { rule, because }, Act(a)
}
variants! {
    ActKind:
    Slacken(a), Undo { what, bit_by_bit }, StartByHand(a), Nip(a), Retighten(a), Tighten { what, to }, Take(a),
    PutBack(a), Fit(a), Support(a), Press(a), Heat { what, to, origin }, Send(a), Receive(a), Accept(a), Gauge(a),
    Look(a), Set(a), PutIn(a), TakeOut(a), TurnByHand { direction, angle, to }, Photo, Mark(a), Cap, Clean(a),
    Chase(a), Isolate, Dispose { into }, Wait(a), Words
}
