//! Sent, back and accepted as one state: what a step that is done says of it, and what the record says of it, are the same.
//! What never went out isn't back, whatever says so, and what isn't back isn't accepted.

use std::collections::{BTreeMap, BTreeSet};

use super::{Date, Job, Sent, errors};
use crate::diagnostics::Diagnostic;
use crate::procedure::model::{
    Act, Binding, Deed, PartId, PartWork, Place, Procedure, Step, StepId, StepKey,
};
use crate::source::Span;

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

    /// Puts down what steps that are done sent out, took back and accepted, where the record doesn't say it itself. What
    /// came back without having gone out doesn't count, nor does the step that says so; it is complained of.
    pub(super) fn add_steps_outside(&mut self, procedure: &Procedure) -> Vec<Diagnostic> {
        let mut days = Days::new();
        let mut said = Vec::new();
        let partly =
            self.partly.iter().map(|done| (done.step.0, Some(done.step.1), done.span, &done.signature));
        let whole = self.done.iter().filter_map(|done| match done.step {
            StepKey::Written(id, place) => Some((id, place, done.span, &done.signature)),
            StepKey::Derived(_) => None,
        });
        for (id, place, span, signature) in whole.chain(partly) {
            let step = procedure.step(id);
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
                            span,
                        })
                    });
                    let day = |day: &mut Option<Date>| *day = day.or(signature.date);
                    match work {
                        PartWork::Send => day(&mut sent.sent),
                        PartWork::Receive => day(&mut sent.back),
                        _ => {
                            day(&mut sent.accepted);
                            sent.by = sent.by.take().or_else(|| signature.by.clone());
                        }
                    }
                    said.push((span, work, piece));
                }
            }
        }
        self.sent.extend(days);
        self.count_in_turn(procedure, &said)
    }

    /// Lets days not count that lie before what they follow, or without it, and steps that say so not be done; complains of
    /// each where it is said.
    fn count_in_turn(
        &mut self,
        procedure: &Procedure,
        said: &[(Span, PartWork, (PartId, Place))],
    ) -> Vec<Diagnostic> {
        let mut told: BTreeMap<(Span, PartId, Fault), Vec<Place>> = BTreeMap::new();
        let mut without: BTreeSet<Span> = BTreeSet::new();
        for ((part, place), sent) in &mut self.sent {
            let Some((fault, works)) = take_out(sent) else { continue };
            let by = |work: PartWork| {
                let steps =
                    said.iter().filter(move |(_, of, piece)| (*of, *piece) == (work, (*part, *place)));
                steps.map(|(span, ..)| *span)
            };
            let span = works.iter().copied().flat_map(by).next().unwrap_or(sent.span);
            told.entry((span, *part, fault)).or_default().push(*place);
            without.extend(works.into_iter().flat_map(by));
        }
        self.done.retain(|done| !without.contains(&done.span));
        self.partly.retain(|done| !without.contains(&done.span));
        let complaint = |((span, part, fault), places): ((Span, PartId, Fault), Vec<Place>)| {
            let part = procedure.part(part);
            let name = match places.as_slice() {
                [place] => procedure.placed(&part.naming.id, &part.axes, *place),
                _ => part.naming.id.clone(),
            };
            match fault {
                Fault::Missing(before, after) => errors::not_gone_out(span, &name, before, after),
                Fault::Reversed(before, after) => errors::back_before_sent(span, &name, [before, after]),
            }
        };
        told.into_iter().map(complaint).collect()
    }
}

/// A day that can't be.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
enum Fault {
    /// What had to come before has no day, and what came after.
    Missing(&'static str, &'static str),
    /// It came before what it follows.
    Reversed((&'static str, Date), (&'static str, Date)),
}

/// Takes out the days of a part that can't be, and all that rest on them: the first fault, and the work that they are of.
fn take_out(sent: &mut Sent) -> Option<(Fault, Vec<PartWork>)> {
    let mut found: Option<(Fault, Vec<PartWork>)> = None;
    let mut before = ("was sent", sent.sent);
    for (after, day, work) in [
        ("came back", &mut sent.back, PartWork::Receive),
        ("was accepted", &mut sent.accepted, PartWork::Accept),
    ] {
        let fault = match (before.1, *day) {
            (None, Some(_)) => Some(Fault::Missing(before.0, after)),
            (Some(earlier), Some(later)) if later < earlier => {
                Some(Fault::Reversed((before.0, earlier), (after, later)))
            }
            _ => None,
        };
        if let Some(fault) = fault {
            *day = None;
            found.get_or_insert_with(|| (fault, Vec::new())).1.push(work);
        }
        before = (after, *day);
    }
    found
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
