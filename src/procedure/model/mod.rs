//! The domain model: an engine family with its parts, fasteners, joints, readings and steps, every name
//! resolved, every quantity of the right dimension, nothing expanded.
//!
//! What has an axis is one entry here; [`Pattern`] says which of its positions are meant. The model must not
//! know how it will be ordered or printed.

mod act;
mod arena;
mod cases;
mod fastening;
mod handling;
mod ids;
mod key;
mod lock;
mod name;
mod numbered;
mod parts;
mod readings;
mod shop;
mod step;

pub use act::{
    Act, CylinderAt, DeadCentre, Deed, Fastening, FasteningWork, LiftWork, PartWork, Thing, TurnDirection,
    Wetting,
};
pub use arena::{Arena, Number};
pub use cases::{Cases, Places};
pub use fastening::*;
pub use handling::*;
pub use ids::*;
pub use key::{DerivedKey, DerivedWork, StepKey};
pub use lock::*;
pub use name::*;
pub use numbered::Sited;
pub use parts::*;
pub use readings::*;
pub use shop::*;
pub use step::*;

use std::collections::BTreeMap;

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
    pub parts: Arena<PartId, Part>,
    /// Fastener sets.
    pub sets: Arena<SetId, FastenerSet>,
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
    pub steps: Arena<StepId, Step>,
    /// Blocks and trials.
    pub groups: Arena<GroupId, Group>,
    /// Every id with what it names.
    pub names: BTreeMap<String, Name>,
}

impl Procedure {
    /// Every place of a thing with these axes, in order; one for none.
    pub fn places(&self, axes: &[AxisId]) -> impl ExactSizeIterator<Item = Place> + use<> {
        (0..axes.iter().map(|axis| self.length(*axis)).product()).map(Place)
    }

    /// Every thing of a kind at each of its places, in declared order.
    pub fn everywhere<Id: Sited>(&self) -> impl Iterator<Item = (Id, Place)> {
        Id::all(self).flat_map(|id| self.places(id.axes(self)).map(move |place| (id, place)))
    }

    fn length(&self, axis: AxisId) -> u32 {
        u32::try_from(self.axis(axis).positions.len())
            .expect("a thing stands at some thousand places at most")
    }

    /// The positions along `axes` of place number `place` (the last axis runs fastest).
    pub fn coordinates(&self, axes: &[AxisId], place: Place) -> Vec<u16> {
        let mut rest = place.0;
        let mut out = vec![0; axes.len()];
        for (slot, axis) in out.iter_mut().zip(axes).rev() {
            let length = self.length(*axis);
            *slot = u16::try_from(rest % length).expect("an axis has at most a few hundred positions");
            rest /= length;
        }
        out
    }

    /// Axes bound to the positions of one place.
    pub fn bound(&self, axes: &[AxisId], place: Place) -> Binding {
        Binding(axes.iter().copied().zip(self.coordinates(axes, place)).collect())
    }

    /// Where the axes of a thing stand at one of its places, for what it says of other things.
    pub fn bound_at<Id: Sited>(&self, (id, place): (Id, Place)) -> Binding {
        self.bound(id.axes(self), place)
    }

    /// The place at which all of `axes` are bound; none while one is not.
    pub fn place(&self, axes: &[AxisId], bound: &Binding) -> Option<Place> {
        let at =
            |place: u32, axis: &AxisId| Some(place * self.length(*axis) + u32::from(bound.position(*axis)?));
        axes.iter().try_fold(0, at).map(Place)
    }

    /// The names of a place, such as `2, inlet`; empty for a thing without axes.
    pub fn place_name(&self, axes: &[AxisId], place: Place) -> String {
        let names: Vec<&str> = axes
            .iter()
            .zip(self.coordinates(axes, place))
            .map(|(axis, at)| self.axis(*axis).positions[usize::from(at)].as_str())
            .collect();
        names.join(", ")
    }

    /// Every place of a thing with `axes` that `pattern` means when the axes in `bound` stand at one position.
    pub fn matching(&self, axes: &[AxisId], pattern: &Pattern, bound: &Binding) -> Vec<Place> {
        let mut places = vec![0];
        for (index, axis) in axes.iter().enumerate() {
            let length = self.length(*axis);
            let fixed = match pattern.0.get(index) {
                Some(At::Position(at)) => Some(*at),
                _ => bound.position(*axis),
            };
            let range = fixed.map(u32::from).map_or(0..length, |at| at..at + 1);
            places =
                places.iter().flat_map(|place| range.clone().map(move |at| place * length + at)).collect();
        }
        places.into_iter().map(Place).collect()
    }

    /// What a target means, at each place that it means, when the axes in `bound` stand at one position.
    pub fn meant<Id: Sited>(&self, target: &Target<Id>, bound: &Binding) -> Vec<(Id, Place)> {
        let places = self.matching(target.id.axes(self), &target.pattern, bound);
        places.into_iter().map(|place| (target.id, place)).collect()
    }
}

/// Which positions of a thing are meant, one entry per axis of the thing; missing entries are [`At::Axis`].
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Pattern(pub Vec<At>);

/// One axis of a [`Pattern`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum At {
    /// The position at which the axis is bound by the step or by the thing that speaks; every position if it
    /// is not bound.
    Axis,
    /// This position.
    Position(u16),
}

/// Axes that stand at one position, such as within one repeat of a step.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Binding(pub Vec<(AxisId, u16)>);

impl Binding {
    /// Where `axis` stands, if it is bound.
    pub fn position(&self, axis: AxisId) -> Option<u16> {
        self.0.iter().find(|(bound, _)| *bound == axis).map(|(_, at)| *at)
    }
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
