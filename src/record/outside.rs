//! Sent, back and accepted as one state: what a step that is done says of it, and what the record says of it, are the same.

use std::collections::BTreeMap;

use super::{Date, Job, Sent};
use crate::procedure::model::{
    Act, Binding, Deed, PartId, PartWork, Place, Procedure, Step, StepId, StepKey,
};

/// The days of one part that is away, or was.
type Days = BTreeMap<(PartId, Place), Sent>;

impl Job {
    /// The steps, at one of their places where they are done apart, that do nothing but send out, take back or accept, and all
    /// of that has its day in the record.
    pub(crate) fn passed_outside(&self, procedure: &Procedure, id: StepId) -> Vec<StepKey> {
        let step = procedure.step(id);
        if !step.apart {
            let passed = self.passed(procedure, step, &Binding::default());
            return if passed { vec![StepKey::Written(id, None)] } else { Vec::new() };
        }
        let places = procedure.places(&step.each);
        let passed = |place: &Place| self.passed(procedure, step, &procedure.bound(&step.each, *place));
        places.filter(passed).map(|place| StepKey::Written(id, Some(place))).collect()
    }

    fn passed(&self, procedure: &Procedure, step: &Step, bound: &Binding) -> bool {
        let mut acts = step.acts().peekable();
        acts.peek().is_some()
            && acts.all(|act| {
                outside(procedure, act, bound).is_some_and(|(work, pieces)| {
                    let day = |sent: &Sent| match work {
                        PartWork::Send => sent.sent,
                        PartWork::Receive => sent.back,
                        _ => sent.accepted,
                    };
                    pieces.iter().all(|piece| self.sent.get(piece).and_then(day).is_some())
                })
            })
    }

    /// Puts down what steps that are done sent out, took back and accepted, where the record doesn't say it itself.
    pub(super) fn add_steps_outside(&mut self, procedure: &Procedure) {
        let mut days = Days::new();
        for done in &self.done {
            let StepKey::Written(id, place) = &done.step else { continue };
            let step = procedure.step(*id);
            let bound = place.map(|place| procedure.bound(&step.each, place)).unwrap_or_default();
            for (work, pieces) in step.acts().filter_map(|act| outside(procedure, act, &bound)) {
                for piece in pieces {
                    let sent = days.entry(piece).or_insert_with(|| {
                        self.sent.get(&piece).cloned().unwrap_or(Sent {
                            to: None,
                            sent: None,
                            back: None,
                            accepted: None,
                            by: None,
                            span: done.span,
                        })
                    });
                    let day = |day: &mut Option<Date>| *day = day.or(done.signature.date);
                    match work {
                        PartWork::Send => day(&mut sent.sent),
                        PartWork::Receive => day(&mut sent.back),
                        _ => {
                            day(&mut sent.accepted);
                            sent.by = sent.by.take().or_else(|| done.signature.by.clone());
                        }
                    }
                }
            }
        }
        self.sent.extend(days);
    }
}

/// What an act does with parts that go out, and which.
fn outside(procedure: &Procedure, act: &Act, bound: &Binding) -> Option<(PartWork, Vec<(PartId, Place)>)> {
    let Deed::Part { work: work @ (PartWork::Send | PartWork::Receive | PartWork::Accept), what } = &act.deed
    else {
        return None;
    };
    let pieces = what.iter().flat_map(|target| {
        let places = procedure.matching(&procedure.part(target.id).axes, &target.pattern, bound);
        places.into_iter().map(move |place| (target.id, place))
    });
    Some((*work, pieces.collect()))
}
