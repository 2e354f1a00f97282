//! Two readings of nearly the same text compared: whether everything that the order of work and the weighing of joints are
//! found from is the same in both, at places that differ only by what was typed. What was then said of the first holds of the
//! second, each place moved along.
//!
//! The same lists serve whoever puts places elsewhere (`spans`). Every field is named, so that what is added to the model must be put on one side or the other: behind `but` stands what
//! neither `network` nor `clamping` reads. It must not know what either makes of it. It is longer than most rooms' files because
//! every type of the model stands in it.

use super::model::*;
use super::spans::Spans;
use crate::diagnostics::Diagnostic;
use crate::mechanics::Thread;
use crate::mechanics::wrench::DragRule;
use crate::quantity::Quantity;
use crate::source::{FileId, Span};

/// What was typed between two states of the texts of a procedure: all of it in one stretch of one file.
#[derive(Debug, Clone)]
pub(crate) struct Between {
    /// The file in which it was, and the bytes that went; none where nothing was.
    stretch: Option<(FileId, std::ops::Range<usize>)>,
    /// How many bytes came in their place.
    came: usize,
    /// Places that meet the stretch, before and after.
    meeting: Vec<(Span, Span)>,
}

impl Between {
    /// What differs between texts, before and after, of the same files; none if more than one of them differs.
    pub(crate) fn texts<'t>(files: impl Iterator<Item = (FileId, &'t str, &'t str)>) -> Option<Between> {
        let mut between = Between { stretch: None, came: 0, meeting: Vec::new() };
        for (file, was, is) in files.filter(|(_, was, is)| was != is) {
            if between.stretch.is_some() {
                return None;
            }
            let (was, is) = (was.as_bytes(), is.as_bytes());
            let start = alike_from_start(was, is);
            let end = alike_from_end(&was[start..], &is[start..]);
            between.stretch = Some((file, start..was.len() - end));
            between.came = is.len() - end - start;
        }
        Some(between)
    }

    /// Whether a place is where another has gone.
    fn same(&mut self, was: Span, is: Span) -> bool {
        let Some((_, went)) = self.stretch.as_ref().filter(|(file, _)| *file == was.file) else {
            return was == is;
        };
        if was.end() < went.start {
            return was == is;
        }
        if was.start() > went.end {
            return self.moved(was) == Some(is);
        }
        // The part of it that lies outside the stretch has kept its place.
        let came = went.start + self.came;
        let end_at = |was: usize, is: usize| match was {
            was if was < went.start => is == was,
            was if was > went.end => is + went.end == was + came,
            _ => (went.start..=came).contains(&is),
        };
        let stays = was.file == is.file && end_at(was.start(), is.start()) && end_at(was.end(), is.end());
        if stays && self.meeting.last() != Some(&(was, is)) {
            self.meeting.push((was, is));
        }
        stays
    }

    /// Whether the places that meet the stretch have kept their order, each with one place where it has gone.
    fn in_order(&mut self) -> bool {
        self.meeting.sort_unstable();
        self.meeting.dedup();
        self.meeting.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 < pair[1].1)
    }

    /// Where a place has gone; none if that isn't known.
    fn moved(&self, was: Span) -> Option<Span> {
        let Some((_, went)) = self.stretch.as_ref().filter(|(file, _)| *file == was.file) else {
            return Some(was);
        };
        if was.end() < went.start {
            return Some(was);
        }
        if was.start() > went.end {
            let at = |byte: usize| byte + self.came - went.len();
            return Some(Span::new(was.file, at(was.start()), at(was.end())));
        }
        self.meeting.iter().find(|(known, _)| *known == was).map(|(_, is)| *is)
    }

    /// Complaints with their places moved; none if it isn't known where one of them has gone.
    pub(crate) fn put(&self, complaints: &[Diagnostic]) -> Option<Vec<Diagnostic>> {
        let mut complaints = complaints.to_vec();
        for complaint in &mut complaints {
            for label in &mut complaint.labels {
                label.span = self.moved(label.span)?;
            }
            if let Some(edit) = &mut complaint.edit {
                edit.span = self.moved(edit.span)?;
            }
        }
        Some(complaints)
    }
}

/// How many bytes two texts have in common at their start.
fn alike_from_start(one: &[u8], other: &[u8]) -> usize {
    const RUN: usize = 256;
    let runs = one.chunks_exact(RUN).zip(other.chunks_exact(RUN)).take_while(|(one, other)| one == other);
    let before = RUN * runs.count();
    before + one[before..].iter().zip(&other[before..]).take_while(|(one, other)| one == other).count()
}

/// How many bytes two texts have in common at their end.
fn alike_from_end(one: &[u8], other: &[u8]) -> usize {
    const RUN: usize = 256;
    let runs = one.rchunks_exact(RUN).zip(other.rchunks_exact(RUN)).take_while(|(one, other)| one == other);
    let behind = RUN * runs.count();
    let (one, other) = (&one[..one.len() - behind], &other[..other.len() - behind]);
    behind + one.iter().rev().zip(other.iter().rev()).take_while(|(one, other)| one == other).count()
}

impl Procedure {
    /// Whether the order of work and the weighing of joints find the same in both, but for places.
    pub(crate) fn works_like(&self, now: &Procedure, between: &mut Between) -> bool {
        self.alike(now, between) && between.in_order()
    }
}

/// What can be compared so.
trait Alike {
    /// Whether it is the same, but for places that were moved along.
    fn alike(&self, now: &Self, between: &mut Between) -> bool;
}

impl Alike for Span {
    fn alike(&self, now: &Self, between: &mut Between) -> bool {
        between.same(*self, *now)
    }
}

/// What has no place in it.
macro_rules! placeless {
    ($($name:ty),* $(,)?) => {
        $(impl Alike for $name {
            fn alike(&self, now: &Self, _: &mut Between) -> bool {
                self == now
            }
        })*
        super::spans::placeless!($($name),*);
    };
}

placeless!(String, Box<str>, bool, usize, u32, u16, f64, FileId);
placeless!(
    AskId,
    AxisId,
    GaugeId,
    GroupId,
    HazardId,
    JointId,
    LookId,
    PartId,
    RuleId,
    SectionId,
    SetId,
    SetupId,
    StateId,
    StepId,
    SupplyId,
    TemporaryId,
    ToolId,
    Place,
    Pattern,
    At,
);
placeless!(
    Carried,
    Cycle,
    DeadCentre,
    DerivedKey,
    Direction,
    DragRule,
    End,
    FastenerKind,
    FasteningWork,
    Front,
    Function,
    Grade,
    GroupKind,
    HazardKind,
    Into,
    LiftWork,
    Locking,
    MarkKind,
    Measure,
    Operator,
    PartCondition,
    PartKind,
    PartWork,
    Phase,
    Quantity,
    Rotation,
    SetCondition,
    Signal,
    Thread,
    ToolKind,
    TurnDirection,
    View,
    Wetting,
);

impl<T: Alike> Alike for Box<T> {
    fn alike(&self, now: &Self, between: &mut Between) -> bool {
        (**self).alike(&**now, between)
    }
}

impl<T: Alike> Alike for Option<T> {
    fn alike(&self, now: &Self, between: &mut Between) -> bool {
        match (self, now) {
            (Some(was), Some(is)) => was.alike(is, between),
            (was, is) => was.is_none() && is.is_none(),
        }
    }
}

impl<T: Alike> Alike for [T] {
    fn alike(&self, now: &Self, between: &mut Between) -> bool {
        self.len() == now.len() && self.iter().zip(now).all(|(was, is)| was.alike(is, between))
    }
}

impl<T: Alike> Alike for Seldom<T> {
    fn alike(&self, now: &Self, between: &mut Between) -> bool {
        (**self).alike(&**now, between)
    }
}

impl<T: Alike> Alike for Vec<T> {
    fn alike(&self, now: &Self, between: &mut Between) -> bool {
        self.as_slice().alike(now.as_slice(), between)
    }
}

impl<Id, T: Alike> Alike for Arena<Id, T> {
    fn alike(&self, now: &Self, between: &mut Between) -> bool {
        (**self).alike(&**now, between)
    }
}

impl<Id, T: Alike> Alike for Things<Id, T> {
    fn alike(&self, now: &Self, between: &mut Between) -> bool {
        self.len() == now.len() && self.iter().zip(now).all(|(was, is)| was.alike(is, between))
    }
}

impl<A: Alike, B: Alike> Alike for (A, B) {
    fn alike(&self, now: &Self, between: &mut Between) -> bool {
        self.0.alike(&now.0, between) && self.1.alike(&now.1, between)
    }
}

impl<A: Alike, B: Alike, C: Alike> Alike for (A, B, C) {
    fn alike(&self, now: &Self, between: &mut Between) -> bool {
        self.0.alike(&now.0, between) && self.1.alike(&now.1, between) && self.2.alike(&now.2, between)
    }
}

impl<T: Alike> Alike for Cases<T> {
    fn alike(&self, now: &Self, between: &mut Between) -> bool {
        self.0.alike(&now.0, between)
    }
}

impl Alike for Guard {
    fn alike(&self, now: &Self, between: &mut Between) -> bool {
        self.0.alike(&now.0, between)
    }
}

impl Alike for Places {
    fn alike(&self, now: &Self, between: &mut Between) -> bool {
        self.0.alike(&now.0, between)
    }
}

/// The words of a check by a second person are on the sheets only.
impl Alike for StepLine {
    fn alike(&self, now: &Self, between: &mut Between) -> bool {
        match (self, now) {
            (StepLine::Hazard(was, there), StepLine::Hazard(is, here)) => {
                was.alike(is, between) && there.alike(here, between)
            }
            (
                StepLine::Hold(Local { what: _, at: was }, there),
                StepLine::Hold(Local { what: _, at: is }, here),
            ) => was.alike(is, between) && there.alike(here, between),
            (StepLine::Act(was), StepLine::Act(is)) => was.alike(is, between),
            (StepLine::Hazard(..) | StepLine::Hold(..) | StepLine::Act(_), _) => false,
        }
    }
}

/// Structs with all their fields; those behind `but` may differ.
macro_rules! structs {
    ($($name:ident $(<$value:ident>)? { $($field:ident),* } $(but { $($other:ident),* })?),* $(,)?) => {
        $(impl $(<$value: Alike>)? Alike for $name $(<$value>)? {
            fn alike(&self, now: &Self, between: &mut Between) -> bool {
                let $name { $($field),* $(, $($other: _),*)? } = self;
                $($field.alike(&now.$field, between))&&*
            }
        }

        impl $(<$value: Spans>)? Spans for $name $(<$value>)? {
            fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
                let $name { $($field),* $(, $($other),*)? } = self;
                $($field.each_span(see);)*
                $($($other.each_span(see);)*)?
            }
        })*
    };
}

/// Enums with all their variants.
macro_rules! variants {
    ($($name:ident $(<$of:ident>)? {
        $($variant:ident $({ $($field:ident),* })? $(($($was:ident $is:ident),*))?),* $(,)?
    })*) => {
        $(impl Alike for $name {
            fn alike(&self, now: &Self, between: &mut Between) -> bool {
                match (self, now) {
                    $(($name::$variant $({ $($field),* })? $(($($was),*))?, other) => {
                        let $name::$variant $({ $($field: _),* })? $(($($is),*))? = other else { return false };
                        $(let fields = other; $(variants!(@field $name $variant $field fields between);)*)?
                        $($(if !$was.alike($is, between) { return false; })*)?
                        true
                    })*
                }
            }
        }

        impl Spans for $name {
            fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
                match self {
                    $($name::$variant $({ $($field),* })? $(($($was),*))? => {
                        $($($field.each_span(see);)*)?
                        $($($was.each_span(see);)*)?
                    })*
                }
            }
        })*
    };
    (@field $name:ident $variant:ident $field:ident $other:ident $between:ident) => {
        if let $name::$variant { $field: is, .. } = $other && !$field.alike(is, $between) {
            return false;
        }
    };
}

structs! {
    Procedure {
        files, family, sections, axes, asks, setups, states, tools, supplies, parts, sets, joints, gauges, looks,
        temporaries, hazards, rules, steps, groups
    } but { differing, of, names },
    Naming { id, title, span },
    Target<Id> { id, pattern, span },
    Sourced<T> { value, span } but { origin },
    Local<T> { what, at },
    Scope { at, when },
    GuardTerm { question, answer, span },
    Family {
        naming, invented, number_one, turns, sides_seen_from, ends, called, cycle, firing_intervals, firing_order,
        lifting_limit
    } but { edition, summary, origin, identify, key_data },
    Section { naming, refit },
    Axis { naming, positions, groupings },
    Grouping { by, of },
    Ask { naming, answers },
    Setup { naming, values, uppermost, each_person, at_first, change, hazard },
    State { naming, values, at_first, at_build, hazards, start_span },
    Tool { naming, kind, drive, size, range, hazards, special } but { stand_ins },
    Supply { naming, hazards } but { quantity, open_time, cure_time },
    Hazard { naming, signal, kind } but { hazard, consequence, avoidance, wear },
    Handling { tools, hazards, comes_off, goes_on, coats, dry },
    Coat { with, place, at, span },
    Part {
        naming, axes, count, kind, carries, handling, under, held_by, within, sealed_by, harmless, mass, lift_at, falls,
        present, worn_in, matched_with, releases, turned_by_hand, turning_words, teeth, meshes, critical, crack_test,
        fate
    } but { way, marks, sized_with, sized_by, select_from, catalogue, price, supplier },
    Falls { setup, value, at, span },
    Mesh { gear, mark, span },
    Cover { by, to_strip, to_build, hole, at, span },
    Within { host, in_place_too },
    FateChoice { cases, otherwise, span },
    Designation<T> { written, known, span },
    FastenerSet {
        naming, axes, count, kind, handling, thread, diameter, class, drive, lengths, stays, engagement, stand_out,
        blind, to_water, to_oil, into, left_hand, captive, locked_by, reuse, present, under, oil, dry, apply, soft, drag,
        critical, friction, then, tightening
    } but { catalogue, price },
    Lock { how, piece, at, span },
    Oiling { places, with, span },
    Joint {
        naming, axes, clamps, seen, members, gasket, tighten_sequence, undo_sequence, pass_by_pass, critical, friction,
        then
    },
    Member { set, holes, tightening, absent },
    Hole { index, letter, x, y },
    Seen { view, front },
    Gauge { naming, axes, of, taken_off, needs, formula, bands, edges } but {
        unit, dimension, difference, stations, directions, made, worn, best_at_nought, noted_only, plausible, instrument,
        error, sold, sizes, old_centre
    },
    Band { name, span },
    Edges { low, high },
    Look { naming, axes, of, marks_of, results, taken_off, needs } but { by },
    Temporary { naming, axes, count, into, may_stay },
    Rule { naming, orders, joints, exceptions },
    RuleOrder { undoing, first, then, span },
    Departure { rule, span } but { because },
    Step {
        naming, phase, section, group, after, before, after_derived, before_derived, straight_after, when, when_span,
        each, by_group, apart, tools, supplies, setups, hands, needs, strip_only, repeats, departures, lines, span
    } but { time, refit_time, contingencies },
    Repeat { until, at_most, span } but { work },
    Stance { setup, value, at, span },
    StepLink { to, pattern, all, span },
    Group { naming, kind, steps, span },
    Act { deed, scope, span } but { note, told },
    CylinderAt { axis, cylinder, dead_centre, span },
}

variants! {
    Question { Ask(was is), Gauge(was is), Look(was is) }
    CoverThing { Part(was is), Set(was is) }
    Fate {
        Renew, Reuse, CleanThenReuse, By(was is), Send(was is), SizeByPartsInHand, KeepUntilSettled, LeaveOut(was is)
    }
    Judge { Gauge(was is), Look(was is) }
    Reuse { Once, Reusable, By(was is), Unknown }
    Lengths { Unknown, One(was is), ByHole(was is) }
    Drive { AcrossFlats(was is), Words(was is), ByHand }
    Pass { Torque(was is, most now_most), Angle(was is, most now_most) }
    Tightening { Passes(was is), Unknown, General, ByFeel }
    LockPiece { Part(was is), Supply(was is) }
    Formula {
        Amount(was is), Count(was is), Reading(was is), Operation { operator, left, right },
        Call { function, arguments }
    }
    Condition {
        Part(was is, so now_so), Set(was is, so now_so), Temporary(was is, so now_so),
        State(was is, so now_so, there here)
    }
    LinkEnd { Step(was is), Group(was is) }
    RuleSide { Smaller, Larger, Set(was is) }
    Fastening { Set(was is), Joint(was is) }
    Thing { Part(was is), Set(was is) }
    Deed {
        Fasten { work, what, to, bit_by_bit },
        Part { work, what },
        Heat { what, to, origin },
        Coat { what, with, place },
        Wet { what, with },
        Lock { what, how, close },
        Lift { what, work },
        Clean(was is), Mark(was is), Chase(was is), Gauge(was is), Look(was is), Set(was is, value now_value),
        PutIn(was is), TakeOut(was is),
        TurnByHand { direction, angle, to },
        Photo, Cap, Isolate, Dispose(was is), Wait(was is), Words,
    }
}
