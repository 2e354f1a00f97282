//! Where the crankshaft stands while acts are done one after the other: what turns it to a cylinder makes it known, what
//! turns it otherwise or takes it out makes it unknown. It must not know in which order steps come.

use super::model::*;
use crate::mechanics::firing::{CrankPlace, Firing};
use crate::quantity::Angle;

impl Procedure {
    /// When the cylinders fire; none where the family doesn't say enough.
    pub(crate) fn firing(&self) -> Option<Firing> {
        let family = self.family.as_ref()?;
        let cycle = family.cycle?;
        let cylinders = family.firing_order.len();
        if cylinders == 0 {
            return None;
        }
        if family.firing_intervals.is_empty() {
            return Some(Firing::even(cylinders, cycle));
        }
        let intervals = family.firing_intervals.iter().map(|angle| Angle::try_from(*angle).ok());
        let intervals: Vec<Angle> = intervals.collect::<Option<_>>()?;
        Firing::spaced(&intervals, cycle).filter(|firing| firing.cylinders() == cylinders)
    }

    /// Which position of its axis a cylinder that is named has, in a step whose axes stand like this.
    pub(crate) fn cylinder(&self, at: &CylinderAt, binding: &Binding) -> Option<u16> {
        match at.cylinder {
            At::Position(position) => Some(position),
            At::Axis | At::Group(..) => binding.position(at.axis),
        }
    }

    /// The place in the firing order of a position of the axis of the cylinders.
    pub(crate) fn fires_at(&self, axis: AxisId, position: u16) -> Option<usize> {
        let name = self.axis(axis).positions.get(usize::from(position))?;
        self.family.as_ref()?.firing_order.iter().position(|cylinder| cylinder == name)
    }
}

/// The crankshaft, as far as it is known how it stands.
#[derive(Clone)]
pub(crate) struct Crank<'p> {
    procedure: &'p Procedure,
    firing: Option<Firing>,
    stands: Option<CrankPlace>,
}

/// A turn until a cylinder stands somewhere, from where the crankshaft stood.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Turned {
    /// How far; nothing if it stands there already, none where it isn't known where it stood.
    pub angle: Option<Angle>,
    /// Positions of the cylinders that the angle beside it brings to that dead centre instead; none where it brings
    /// the one that is meant, or nothing is known against it.
    pub misses: Option<Vec<u16>>,
}

impl<'p> Crank<'p> {
    /// A crankshaft of which nothing is known yet.
    pub(crate) fn new(procedure: &'p Procedure) -> Self {
        Crank { procedure, firing: procedure.firing(), stands: None }
    }

    /// Nothing is known of it any more.
    pub(crate) fn forget(&mut self) {
        self.stands = None;
    }

    /// Follows one act, in a step whose axes stand like this, and tells of a turn to a cylinder.
    pub(crate) fn pass(&mut self, act: &Act, binding: &Binding) -> Option<Turned> {
        if moves(self.procedure, act) {
            let before = self.stands.take();
            if let Deed::TurnByHand { direction, angle, to: Some(to) } = &act.deed {
                return self.turn(before, *direction, *angle, to, binding);
            }
        }
        None
    }

    fn turn(
        &mut self,
        before: Option<CrankPlace>,
        direction: TurnDirection,
        stated: Option<crate::quantity::Quantity>,
        to: &CylinderAt,
        binding: &Binding,
    ) -> Option<Turned> {
        let firing = self.firing.as_ref()?;
        let cylinder = self.procedure.cylinder(to, binding)?;
        let there = firing.place(self.procedure.fires_at(to.axis, cylinder)?, to.dead_centre);
        // Backwards or not can't be told where nothing says which way it runs.
        let (before, backwards) = match backwards(self.procedure, direction) {
            Some(backwards) => (before, backwards),
            None => (None, false),
        };
        let angle = before.and_then(|before| before.turn_to(there, backwards));
        self.stands = Some(match (before, angle) {
            (Some(before), Some(angle)) => before.turned(angle, backwards).at(there),
            _ => there,
        });
        let stated = stated.and_then(|stated| Angle::try_from(stated).ok());
        let reached = before.zip(stated).map(|(before, stated)| before.turned(stated, backwards));
        let misses = reached.filter(|_| angle.is_some()).filter(|reached| !reached.is_at(there));
        let positions = || (0u16..).take(self.procedure.axis(to.axis).positions.len());
        let stands_there = |reached: &CrankPlace, position: u16| {
            let place = self.procedure.fires_at(to.axis, position);
            place.is_some_and(|place| reached.is_at(firing.place(place, to.dead_centre)))
        };
        let misses =
            misses.map(|reached| positions().filter(|position| stands_there(&reached, *position)).collect());
        Some(Turned { angle, misses })
    }
}

/// Whether an act turns the crankshaft, or takes it out or puts it in.
pub(crate) fn moves(procedure: &Procedure, act: &Act) -> bool {
    match &act.deed {
        Deed::TurnByHand { .. } => true,
        Deed::Part { work: PartWork::Take | PartWork::Fit | PartWork::PutBack, what } => {
            what.iter().any(|target| procedure.part(target.id).turned_by_hand)
        }
        _ => false,
    }
}

fn backwards(procedure: &Procedure, direction: TurnDirection) -> Option<bool> {
    let runs = procedure.family.as_ref().and_then(|family| family.turns).map(|(rotation, _)| rotation);
    match direction {
        TurnDirection::AsItRuns => Some(false),
        TurnDirection::Clockwise => runs.map(|runs| runs == Rotation::Anticlockwise),
        TurnDirection::Anticlockwise => runs.map(|runs| runs == Rotation::Clockwise),
    }
}
