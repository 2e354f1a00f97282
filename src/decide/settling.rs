//! Turns a procedure into what it says of one job: of a value that answers choose, what these leave. A case that they
//! rule out is gone, one that they choose stands alone, and while they are open each that may count is left with what it
//! still hangs on.

use super::{Decisions, Truth};
use crate::procedure::model::{
    AxisId, Binding, Cases, Guard, GuardTerm, Member, PartId, Place, Places, Procedure, Scope, Seldom, SetId,
    Sourced, Step,
};
use crate::procedure::{Missing, leave_out};
use crate::source::Span;

/// The procedure as the answers of a job have it.
pub(crate) fn settled(procedure: &Procedure, decisions: &Decisions) -> Procedure {
    let mut settled = procedure.clone();
    let answers = Answers { procedure, decisions };
    for set in settled.sets.iter_mut() {
        let axes = &set.axes;
        answers.settle(axes, &mut set.count);
        answers.settle(axes, &mut set.lengths);
        answers.settle(axes, &mut set.reuse);
        answers.settle(axes, &mut set.tightening);
        answers.settle(axes, &mut set.catalogue);
    }
    for id in procedure.sets.ids() {
        answers.settle_presence(id, &mut settled.sets[id].present);
    }
    for joint in settled.joints.iter_mut() {
        for member in &mut joint.members {
            member.absent = answers.absent(member.set.id);
        }
        let nowhere = |member: &Member| {
            let mut places = procedure.places(&procedure.set(member.set.id).axes);
            places.all(|place| member.absent.contains(&place))
        };
        joint.members.retain(|member| !nowhere(member));
    }
    for member in settled.joints.iter_mut().flat_map(|joint| &mut joint.members) {
        answers.settle(&procedure.set(member.set.id).axes, &mut member.tightening);
    }
    for part in settled.parts.iter_mut() {
        answers.settle(&part.axes, &mut part.count);
        answers.settle(&part.axes, &mut part.catalogue);
    }
    for temporary in settled.temporaries.iter_mut() {
        answers.settle(&temporary.axes, &mut temporary.count);
    }
    if let Some(family) = &mut settled.family {
        family.identify.iter_mut().for_each(|(_, reads)| answers.settle(&[], reads));
        family.key_data.iter_mut().for_each(|datum| answers.settle(&[], &mut datum.value));
    }
    for gauge in settled.gauges.iter_mut() {
        let axes = &gauge.axes;
        answers.settle(axes, &mut gauge.made);
        answers.settle(axes, &mut gauge.worn);
        answers.settle(axes, &mut gauge.edges);
    }
    for step in settled.steps.iter_mut() {
        without_missing(procedure, decisions, step);
    }
    settled
}

/// Leaves out of a step the tools, supplies and hazards that only things bring to it that this engine hasn't got.
pub(crate) fn without_missing(procedure: &Procedure, decisions: &Decisions, step: &mut Step) {
    let answers = Answers { procedure, decisions };
    let part = |id: PartId| {
        let mut places = procedure.places(&procedure.part(id).axes);
        places.all(|place| answers.never(&procedure.present((id, place)), &procedure.bound_at((id, place))))
    };
    let set = |id: SetId| {
        let own = procedure.set(id);
        let mut held =
            own.axes.is_empty().then(|| procedure.parts.ids().filter(|part| procedure.holds(id, *part)));
        let held: Vec<PartId> = held.iter_mut().flatten().collect();
        answers.absent(id).len() == procedure.places(&own.axes).len()
            || (!held.is_empty() && held.into_iter().all(part))
    };
    leave_out(procedure, &Missing { part: &part, set: &set }, step);
}

/// Whether anything that is decided by a value of a procedure hangs on answers.
pub(super) fn hangs_on_answers(procedure: &Procedure) -> bool {
    let mut identify = procedure.family.iter().flat_map(|family| &family.identify);
    let sets = procedure.sets.iter();
    let mut members = procedure.joints.iter().flat_map(|joint| &joint.members);
    let mut gauges = procedure.gauges.iter();
    identify.any(|(_, reads)| reads.by_answer())
        || procedure.parts.iter().any(|part| part.count.by_answer())
        || sets.clone().any(|set| set.count.by_answer())
        || sets
            .clone()
            .any(|set| set.lengths.by_answer() || set.reuse.by_answer() || set.tightening.by_answer())
        || members.any(|member| member.tightening.by_answer())
        || gauges.any(|gauge| gauge.made.by_answer() || gauge.worn.by_answer() || gauge.edges.by_answer())
}

struct Answers<'a> {
    procedure: &'a Procedure,
    decisions: &'a Decisions,
}

/// What is left at one place: the index of each case with what it still hangs on.
type Left = Vec<(usize, Guard)>;

impl Answers<'_> {
    /// Leaves of what a set is there under what is still open somewhere; all of it where it isn't there at some place.
    fn settle_presence(&self, id: SetId, present: &mut Seldom<(Guard, Places)>) {
        let places = || self.procedure.places(&self.procedure.set(id).axes);
        if present.is_empty() || !self.absent(id).is_empty() {
            return;
        }
        for (guard, at) in present.iter_mut() {
            let open = |term: &GuardTerm| {
                let only = Guard(vec![term.clone()].into());
                let mut here = places().map(|place| self.procedure.bound_at((id, place)));
                here.any(|bound| {
                    at.hold(&bound) && self.decisions.guard(self.procedure, &only, &bound) != Truth::Yes
                })
            };
            guard.0.retain(open);
        }
        present.retain(|(guard, _)| !guard.0.is_empty());
    }

    /// Whether a condition is ruled out by what is answered.
    fn never(&self, when: &Guard, bound: &Binding) -> bool {
        !when.0.is_empty() && self.decisions.guard(self.procedure, when, bound) == Truth::No
    }

    /// Places at which this engine hasn't got a set.
    fn absent(&self, id: SetId) -> Vec<Place> {
        let set = self.procedure.set(id);
        let gone = |place: &Place| {
            self.never(&self.procedure.set_present((id, *place)), &self.procedure.bound_at((id, *place)))
        };
        if set.present.is_empty() {
            Vec::new()
        } else {
            self.procedure.places(&set.axes).filter(gone).collect()
        }
    }

    fn settle<T: Clone>(&self, axes: &[AxisId], cases: &mut Cases<Sourced<T>>) {
        if !cases.by_answer() {
            return;
        }
        let places: Vec<(Place, Left)> =
            self.procedure.places(axes).map(|place| (place, self.left(axes, place, cases))).collect();
        let said = |(case, when): &(usize, Guard), at: Places| {
            (cases.0[*case].0.clone(), Scope { at, when: when.clone() })
        };
        let settled = match places.split_first() {
            Some(((_, first), others)) if others.iter().all(|(_, left)| left == first) => {
                first.iter().map(|case| said(case, Places::default())).collect()
            }
            _ => places
                .iter()
                .flat_map(|(place, left)| left.iter().map(|case| (*place, case)))
                .map(|(place, case)| said(case, self.only(axes, place, cases.0[case.0].0.span)))
                .collect(),
        };
        *cases = Cases(settled);
    }

    fn left<T>(&self, axes: &[AxisId], place: Place, cases: &Cases<Sourced<T>>) -> Left {
        let bound = self.procedure.bound(axes, place);
        let truth = |guard: &Guard| self.decisions.guard(self.procedure, guard, &bound);
        let mut left = Left::new();
        for (index, (_, scope)) in cases.0.iter().enumerate().filter(|(_, (_, scope))| scope.at.hold(&bound))
        {
            match truth(&scope.when) {
                Truth::No => {}
                Truth::Yes => {
                    left.push((index, Guard::default()));
                    break;
                }
                Truth::Open(_) => {
                    let open = |term: &&GuardTerm| truth(&Guard(vec![(*term).clone()].into())) != Truth::Yes;
                    left.push((index, Guard(scope.when.0.iter().filter(open).cloned().collect())));
                }
            }
        }
        left
    }

    /// One place alone.
    fn only(&self, axes: &[AxisId], place: Place, span: Span) -> Places {
        let at = self.procedure.coordinates(axes, place);
        Places(axes.iter().zip(at).map(|(axis, at)| (*axis, at, span)).collect())
    }
}
