//! What can be wrong with turning the engine by hand, whatever the order of steps: a firing order that isn't one, a
//! cylinder that nobody knows, marks that can't meet in the stated turns.

use std::collections::BTreeSet;

use super::collect::Declared;
use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::{FamilyClause, TurnTarget};
use crate::mechanics::firing::{Firing, turns_until_marks_meet};
use crate::quantity::Angle;
use crate::source::Span;

const DEAD_CENTRES: [(&str, DeadCentre); 4] = [
    ("bottom", DeadCentre::Bottom),
    ("top", DeadCentre::Top),
    ("top firing", DeadCentre::Firing),
    ("top overlap", DeadCentre::Overlap),
];

impl Resolver {
    /// `to cyl 2 bottom`.
    pub(super) fn cylinder_at(&mut self, target: &TurnTarget) -> Option<CylinderAt> {
        let name = self.lookup(&target.axis, &["an axis"])?;
        let Name::Axis(axis) = name else { return None };
        let cylinder = match &target.cylinder {
            None => At::Axis,
            Some(word) => {
                let positions = self.procedure.axis(axis).positions.clone();
                let position = self.value(name, "position", &positions, word)?;
                At::Position(u16::try_from(position).ok()?)
            }
        };
        let dead_centre = self.word(&target.dead_centre, "an end of the stroke", &DEAD_CENTRES)?;
        Some(CylinderAt { axis, cylinder, dead_centre, span: target.span })
    }

    /// Judges every turn by hand, and the firing order by which it is reckoned.
    pub(super) fn turns(&mut self, declared: &Declared) {
        self.firing_intervals(declared);
        let steps = std::mem::take(&mut self.procedure.steps);
        let mut first: Option<Span> = None;
        for step in steps.iter() {
            for act in step.acts() {
                let Deed::TurnByHand { angle, to, .. } = &act.deed else { continue };
                match (to, angle) {
                    (Some(to), _) => {
                        first = first.or(Some(to.span));
                        self.cylinder(step, to);
                    }
                    (None, Some(angle)) => self.same_turn_each(step, *angle, act.span),
                    (None, None) => {}
                }
            }
            self.marks(step);
        }
        self.procedure.steps = steps;
        self.meshing();
        let turned = self.procedure.parts.iter().any(|part| part.turned_by_hand);
        if let (Some(first), false) = (first, turned) {
            self.complain(errors::turned_part(first));
        }
    }

    /// The cylinder that is named is one of the firing order, and it is known when it fires.
    fn cylinder(&mut self, step: &Step, to: &CylinderAt) {
        let own = step.apart && step.each.contains(&to.axis);
        if to.cylinder == At::Axis && !own {
            let axis = self.declared(Name::Axis(to.axis));
            let first = self.procedure.axis(to.axis).positions.first().cloned().unwrap_or_default();
            self.complain(errors::which_cylinder(to.span, &axis, &first));
        }
        let Some(family) = &self.procedure.family else { return };
        let (span, cycle, firing_order) = (family.naming.span, family.cycle, family.firing_order.clone());
        match cycle {
            Some(cycle) if !firing_order.is_empty() => {
                let two_tops = matches!(to.dead_centre, DeadCentre::Firing | DeadCentre::Overlap);
                if two_tops && cycle == Cycle::TwoStroke {
                    self.complain(errors::one_top(to.span));
                }
                let positions: BTreeSet<&String> = self.procedure.axis(to.axis).positions.iter().collect();
                if positions != firing_order.iter().collect() {
                    let order = firing_order.join(", ");
                    let axis = self.declared(Name::Axis(to.axis));
                    let positions = self.procedure.axis(to.axis).positions.join(", ");
                    self.complain(errors::firing_order_of_others(to.span, &order, &axis, &positions));
                }
            }
            cycle => {
                let lacks = if cycle.is_none() { "cycle four-stroke" } else { "firing order 1, 3, 2" };
                self.complain(errors::no_firing_order(to.span, span, lacks));
            }
        }
    }

    /// Intervals stand behind each cylinder and fill the cycle.
    fn firing_intervals(&mut self, declared: &Declared) {
        let Some(family) = &self.procedure.family else { return };
        let Some(cycle) = family.cycle else { return };
        let clauses = declared.families.iter().flat_map(|family| &family.clauses);
        let stated = clauses
            .filter(|clause| matches!(clause.value, FamilyClause::FiringIntervals(_)))
            .map(|clause| clause.span)
            .next();
        let Some(stated) = stated else { return };
        let (cylinders, intervals) = (family.firing_order.len(), family.firing_intervals.len());
        if cylinders != intervals {
            self.complain(errors::firing_intervals_count(stated, cylinders, intervals));
            return;
        }
        let angles = family.firing_intervals.iter().filter_map(|angle| Angle::try_from(*angle).ok());
        let angles: Vec<Angle> = angles.collect();
        if Firing::spaced(&angles, cycle).is_none() {
            let sum: f64 = angles.iter().map(|angle| angle.degrees()).sum();
            self.complain(errors::firing_intervals_sum(stated, sum, cycle));
        }
    }

    /// One angle for each cylinder in turn, where that brings them round in another order than the step goes.
    fn same_turn_each(&mut self, step: &Step, angle: crate::quantity::Quantity, at: Span) {
        let (Some(firing), Ok(stated), true) = (self.procedure.firing(), Angle::try_from(angle), step.apart)
        else {
            return;
        };
        let procedure = &self.procedure;
        let order: BTreeSet<&String> =
            procedure.family.iter().flat_map(|family| &family.firing_order).collect();
        let cylinders =
            step.each.iter().copied().find(|axis| order == procedure.axis(*axis).positions.iter().collect());
        let Some(axis) = cylinders else { return };
        let positions = &procedure.axis(axis).positions;
        let down = |position: usize| {
            let place = u16::try_from(position).ok().and_then(|at| procedure.fires_at(axis, at));
            place.map(|place| firing.place(place, DeadCentre::Bottom))
        };
        let over = stated.turns() - stated.turns().round();
        if over.abs() < 1e-9 || positions.len() < 2 {
            return;
        }
        // From the first cylinder on, which one each turn brings down.
        let Some(mut stands) = down(0) else { return };
        for wanted in 1..positions.len() {
            stands = stands.turned(stated, false);
            if down(wanted).is_some_and(|down| stands.is_at(down)) {
                continue;
            }
            let brought = (0..positions.len()).find(|at| down(*at).is_some_and(|down| stands.is_at(down)));
            let brought = brought.map(|at| positions[at].clone());
            let meant = (positions[wanted - 1].clone(), positions[wanted].clone());
            let axis = self.declared(Name::Axis(axis));
            self.complain(errors::same_turn_each(at, angle, &axis, &meant, brought.as_deref()));
            return;
        }
    }

    /// Each meeting of two gears is said once, and told apart from the others of both by its mark.
    fn meshing(&mut self) {
        let mut complaints = Vec::new();
        let parts = self.procedure.parts.numbered();
        let all: Vec<(PartId, &Mesh)> =
            parts.flat_map(|(id, part)| part.meshes.iter().map(move |mesh| (id, mesh))).collect();
        let title = |id: PartId| self.procedure.part(id).naming.id.as_str();
        for (index, (own, mesh)) in all.iter().enumerate() {
            let gears = [*own, mesh.gear.id];
            let found = all[..index].iter().find_map(|(other, before)| {
                let others = [*other, before.gear.id];
                let shared: Vec<PartId> = gears.into_iter().filter(|gear| others.contains(gear)).collect();
                match shared.as_slice() {
                    [_, _] => Some(errors::meets_again(gears.map(title), before.span, mesh.span)),
                    [gear] if before.mark == mesh.mark => {
                        Some(errors::marked_alike(title(*gear), &mesh.mark, before.span, mesh.span))
                    }
                    _ => None,
                }
            });
            complaints.extend(found);
        }
        self.diagnostics.extend(complaints);
    }

    /// Marks are looked at after as many turns as bring them together again.
    fn marks(&mut self, step: &Step) {
        let mut turned = Some(0.0);
        for act in step.acts() {
            match &act.deed {
                Deed::TurnByHand { angle: Some(angle), .. } => {
                    turned = turned.zip(Angle::try_from(*angle).ok()).map(|(sum, angle)| sum + angle.turns());
                }
                Deed::TurnByHand { .. } => turned = None,
                // What is put in anew is set to its marks.
                Deed::Part { what, .. }
                    if what.iter().any(|part| self.procedure.part(part.id).teeth.is_some()) =>
                {
                    turned = Some(0.0);
                }
                Deed::Look(looks) => {
                    for look in looks {
                        if let Some(turns) = turned.filter(|turns| *turns > 0.0) {
                            self.marks_meet(look, turns, act.span);
                        }
                    }
                }
                _ => {}
            }
        }
    }

    fn marks_meet(&mut self, look: &Target<LookId>, turned: f64, at: Span) {
        let look = self.procedure.look(look.id);
        let gears = look.marks_of.iter().map(|gear| self.procedure.part(gear.id));
        let teeth: Option<Vec<u32>> = gears.map(|gear| gear.teeth).collect();
        let Some((first, others)) = teeth.as_deref().and_then(<[u32]>::split_first) else { return };
        let Some(meet) = turns_until_marks_meet(*first, others) else { return };
        let rounds = turned / meet as f64;
        if rounds < 0.5 || (rounds - rounds.round()).abs() > 1e-6 {
            let span = look.naming.span;
            let counts: Vec<String> = teeth.iter().flatten().map(ToString::to_string).collect();
            self.complain(errors::marks_apart(at, span, turned, &counts, meet));
        }
    }
}
