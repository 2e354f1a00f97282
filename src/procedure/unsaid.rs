//! What parts, sets, joints and trials leave unsaid, or say without any use: facts that the sheets, the order list or the
//! verdict would miss without a word.

use std::collections::{BTreeMap, BTreeSet};

use super::errors;
use super::locks::sets_of;
use super::model::*;
use super::resolver::Resolver;
use super::unsaid_sets::sets;
use crate::diagnostics::Diagnostic;
use crate::source::Span;

/// How wide a joint may be, in metres, before a slip of the unit is likelier: common practice, no source.
const WIDEST: f64 = 3.0;

impl Resolver {
    /// All complaints of this file.
    pub(super) fn unsaid(&mut self) {
        if self.any_trouble() {
            return;
        }
        let done = Done::by(&self.procedure);
        let mut complaints = self.empty_titles();
        complaints.extend(fates(&self.procedure, &done));
        complaints.extend(sets(&self.procedure, &done.undone));
        complaints
            .extend(self.procedure.gauges.iter().filter_map(|gauge| never_chosen(&self.procedure, gauge)));
        complaints.extend(of_another(&self.procedure));
        complaints.extend(fitted_twice(&self.procedure));
        complaints.extend(self.procedure.steps.iter().flat_map(|step| pressed_twice(&self.procedure, step)));
        complaints.extend(self.procedure.joints.iter().filter_map(too_wide));
        complaints
            .extend(self.procedure.joints.iter().filter_map(|joint| one_picture(&self.procedure, joint)));
        for group in self.procedure.groups.iter().filter(|group| group.kind == GroupKind::Trial) {
            let acts = group.steps.iter().flat_map(|step| self.procedure.step(*step).acts());
            let acts: Vec<&Act> = acts.collect();
            complaints.extend(tightened_empty(&self.procedure, group, &acts));
            complaints.extend(read_loose(&self.procedure, group, &acts));
            if !acts.iter().any(|act| matches!(act.deed, Deed::Gauge(_) | Deed::Look(_))) {
                complaints.push(errors::trial_reads_nothing(&group.naming));
            }
        }
        self.diagnostics.extend(complaints);
    }

    fn empty_titles(&self) -> Vec<Diagnostic> {
        let named = self.procedure.names.iter().map(|(_, name)| self.procedure.naming(name));
        named.filter(|naming| naming.title.trim().is_empty()).map(errors::empty_title).collect()
    }
}

/// Parts that a step presses and takes or fits as well.
fn pressed_twice(procedure: &Procedure, step: &Step) -> Vec<Diagnostic> {
    let worked = |wanted: fn(&PartWork) -> bool| {
        step.acts().flat_map(move |act| match &act.deed {
            Deed::Part { work, what } if wanted(work) => {
                what.iter().map(|part| (part.id, part.span, *work)).collect::<Vec<_>>()
            }
            _ => Vec::new(),
        })
    };
    let moved: Vec<(PartId, Span, PartWork)> =
        worked(|work| matches!(work, PartWork::Take | PartWork::Fit)).collect();
    worked(|work| matches!(work, PartWork::Press))
        .filter_map(|(id, press, _)| {
            let (_, at, work) = moved.iter().find(|(other, ..)| *other == id)?;
            let naming = &procedure.part(id).naming;
            Some(errors::pressed_twice(naming, press, *at, *work == PartWork::Fit))
        })
        .collect()
}

/// What the steps do to parts and sets.
#[derive(Default)]
struct Done {
    taken: BTreeSet<PartId>,
    cleaned: BTreeSet<PartId>,
    marked: BTreeSet<PartId>,
    undone: BTreeSet<SetId>,
}

impl Done {
    fn by(procedure: &Procedure) -> Done {
        let mut done = Done::default();
        for act in procedure.steps.iter().flat_map(Step::acts) {
            match &act.deed {
                Deed::Part { work: PartWork::Take, what } => {
                    done.taken.extend(what.iter().map(|part| part.id));
                }
                Deed::Clean(what) => done.cleaned.extend(parts(what)),
                Deed::Mark(what) => done.marked.extend(parts(what)),
                Deed::Fasten { what, .. } => {
                    for fastening in what {
                        done.undone.extend(sets_of(procedure, fastening).iter().map(|set| set.id));
                    }
                }
                _ => {}
            }
        }
        done
    }
}

fn parts(things: &[Thing]) -> impl Iterator<Item = PartId> {
    things.iter().filter_map(|thing| match thing {
        Thing::Part(target) => Some(target.id),
        Thing::Set(_) => None,
    })
}

fn fates(procedure: &Procedure, done: &Done) -> Vec<Diagnostic> {
    // A file that says nothing of any part's fate is about the order alone.
    let speaks = procedure.parts.iter().any(|part| part.fate.is_some());
    let mut complaints = Vec::new();
    for (id, part) in procedure.parts.numbered() {
        if part.lift_at.is_some() && part.mass.is_none() {
            complaints.push(errors::lift_without_mass(&part.naming));
        }
        if !done.taken.contains(&id) {
            continue;
        }
        if part.fate.is_none() && speaks {
            complaints.push(errors::no_fate(&part.naming));
        }
        let cleans = |choice: &FateChoice| choice.fates().any(|fate| *fate == Fate::CleanThenReuse);
        if let Some(choice) = part.fate.as_ref().filter(|choice| cleans(choice))
            && !done.cleaned.contains(&id)
        {
            complaints.push(errors::never_cleaned(&part.naming, choice.span));
        }
        let ours = part.marks.iter().any(|mark| mark.kind == MarkKind::Ours);
        if ours && !done.marked.contains(&id) {
            complaints.push(errors::never_marked(&part.naming));
        }
    }
    complaints
}

/// A joint that is drawn alike at all of its places, though a part that it clamps lies otherwise at one of them: the map of that
/// place may be the mirror image of what is there.
fn one_picture(procedure: &Procedure, joint: &Joint) -> Option<Diagnostic> {
    let seen = joint.seen.only()?;
    let drawn = joint.members.iter().any(|member| !member.holes.is_empty());
    let sideways = matches!(seen.value.view, View::Left | View::Right);
    let places: Vec<Place> = procedure.places(&joint.axes).collect();
    joint.clamps.iter().filter(|_| drawn).find_map(|clamped| {
        let part = procedure.part(clamped.id);
        let lies = |place: &Place| {
            let bound = procedure.bound(&joint.axes, *place);
            let here = procedure.meant(clamped, &bound);
            let [(_, at)] = here.as_slice() else { return None };
            let bound = procedure.bound(&part.axes, *at);
            let falls = part.falls.iter().filter(|falls| sideways && falls.at.hold(&bound));
            let falls: Vec<(SetupId, usize)> = falls.map(|falls| (falls.setup, falls.value)).collect();
            Some((part.way.at(&bound), falls))
        };
        let first = places.first().and_then(lies);
        let other = places.iter().find(|place| lies(place) != first)?;
        let at = procedure.place_name(&joint.axes, *other);
        Some(errors::one_picture(&joint.naming, seen.span, &part.naming, &at))
    })
}

/// Looks, and readings taken with the part off, of a part that doesn't go by them, while others do: what is seen would be
/// written down of one piece and decide on another. A reading in place, such as an end float, is of two pieces.
fn of_another(procedure: &Procedure) -> Vec<Diagnostic> {
    let mut going: BTreeMap<Name, Vec<PartId>> = BTreeMap::new();
    for (id, part) in procedure.parts.numbered() {
        let by = part.fate.iter().flat_map(FateChoice::fates).filter_map(|fate| match fate {
            Fate::By(judges) => Some(judges),
            _ => None,
        });
        let judges = by.flatten().map(|by| match by {
            Judge::Gauge(gauge) => Name::Gauge(gauge.id),
            Judge::Look(look) => Name::Look(look.id),
        });
        let crack = part.crack_test.iter().map(|look| Name::Look(look.id));
        for name in judges.chain(crack) {
            going.entry(name).or_default().push(id);
        }
    }
    let within = |inner: PartId, outer: PartId| {
        procedure.part(inner).within.as_ref().is_some_and(|within| within.host.id == outer)
    };
    let mut complaints = Vec::new();
    for (judge, parts) in &going {
        let (naming, of, alone) = match judge {
            Name::Look(id) => {
                let look = procedure.look(*id);
                (&look.naming, &look.of, look.taken_off == Some(true))
            }
            Name::Gauge(id) => {
                let gauge = procedure.gauge(*id);
                (&gauge.naming, &gauge.of, gauge.taken_off == Some(true) && gauge.formula.is_none())
            }
            _ => continue,
        };
        let Some(of) = of.as_ref().filter(|_| alone) else { continue };
        // What is looked at on a whole may decide on a piece of it, and the other way round.
        let akin = |id: &PartId| *id == of.id || within(*id, of.id) || within(of.id, *id);
        if let Some(decided) = parts.first().filter(|_| !parts.iter().any(akin)) {
            let of = (&procedure.part(of.id).naming, of.span);
            complaints.push(errors::of_another(naming, of, &procedure.part(*decided).naming));
        }
    }
    complaints
}

/// What is sold of a part that is never renewed: the piece would be worked out, and the old one would go back.
fn never_chosen(procedure: &Procedure, gauge: &Gauge) -> Option<Diagnostic> {
    let sold = gauge.sold.as_ref()?;
    let part = procedure.part(gauge.of.as_ref()?.id);
    let keeps = |fate: &Fate| matches!(fate, Fate::Reuse | Fate::CleanThenReuse | Fate::LeaveOut(_));
    let kept = part.fate.as_ref().is_none_or(|choice| choice.fates().all(keeps));
    kept.then(|| errors::sold_and_kept(sold.span, &gauge.naming, &part.naming))
}

fn too_wide(joint: &Joint) -> Option<Diagnostic> {
    joint.members.iter().find_map(|member| {
        let ends = member.holes.iter().flat_map(|hole| [hole.x, hole.y]);
        let far = ends.into_iter().find(|end| end.base().abs() > WIDEST)?;
        Some(errors::wide_joint(&joint.naming, far, member.set.span))
    })
}

/// A set that a trial tightens before the trial fits what it holds: the order of work takes a part in a trial as it is, so
/// that nothing else tells.
fn tightened_empty(procedure: &Procedure, trial: &Group, acts: &[&Act]) -> Option<Diagnostic> {
    let tightens = [FasteningWork::StartByHand, FasteningWork::Nip, FasteningWork::Tighten];
    acts.iter().enumerate().find_map(|(index, act)| {
        let Deed::Fasten { work, what, .. } = &act.deed else { return None };
        let sets: Vec<SetId> =
            what.iter().flat_map(|what| sets_of(procedure, what)).map(|set| set.id).collect();
        let later = acts[index + 1..].iter().find_map(|act| match &act.deed {
            Deed::Part { work: PartWork::Fit | PartWork::PutBack, what } => {
                what.iter().find(|part| sets.iter().any(|set| procedure.holds(*set, part.id)))
            }
            _ => None,
        })?;
        let opened = acts[index + 1..].iter().any(|act| match &act.deed {
            Deed::Fasten { work: FasteningWork::Undo, what, .. } => {
                what.iter().flat_map(|what| sets_of(procedure, what)).any(|set| sets.contains(&set.id))
            }
            _ => false,
        });
        let refitted = opened
            && acts[..index].iter().any(|act| match &act.deed {
                Deed::Part { work: PartWork::Fit | PartWork::PutBack, what } => {
                    what.iter().any(|part| part.id == later.id)
                }
                _ => false,
            });
        let part = &procedure.part(later.id).naming;
        (tightens.contains(work) && !refitted)
            .then(|| errors::tightened_empty(&trial.naming, &part.id, act.span, later.span))
    })
}

/// A reading that a trial takes of what lies below a part that it fits, and none of whose fasteners a line of it tightens: a
/// clearance under a loose cap is none. Where the gauge itself speaks of the fasteners, their state is proved.
fn read_loose(procedure: &Procedure, trial: &Group, acts: &[&Act]) -> Option<Diagnostic> {
    let clamps = [FasteningWork::Nip, FasteningWork::Tighten];
    acts.iter().enumerate().find_map(|(index, act)| {
        let Deed::Gauge(read) = &act.deed else { return None };
        let fitted = acts[..index].iter().flat_map(|act| match &act.deed {
            Deed::Part { work: PartWork::Fit | PartWork::PutBack, what } => what.as_slice(),
            _ => &[],
        });
        let tight: BTreeSet<SetId> = acts[..index]
            .iter()
            .filter_map(|act| match &act.deed {
                Deed::Fasten { work, what, .. } if clamps.contains(work) => Some(what),
                _ => None,
            })
            .flatten()
            .flat_map(|what| sets_of(procedure, what))
            .map(|set| set.id)
            .collect();
        fitted.flat_map(|part| read.iter().map(move |gauge| (part, gauge))).find_map(|(part, target)| {
            let gauge = procedure.gauge(target.id);
            let said = |set: SetId| {
                gauge.needs.iter().any(|need| matches!(&need.what, Condition::Set(of, _) if of.id == set))
            };
            // Of several sets that hold it, those that draw it down may be enough to measure.
            let holding: Vec<SetId> =
                procedure.sets.ids().filter(|set| procedure.holds(*set, part.id)).collect();
            let drawn_down = holding.iter().any(|set| tight.contains(set) || said(*set));
            let loose = holding.first().filter(|_| !drawn_down)?;
            below(procedure, gauge, part.id).then(|| {
                let set = &procedure.set(*loose).naming.id;
                let part_id = &procedure.part(part.id).naming.id;
                errors::read_loose(&trial.naming, (&gauge.naming.id, target.span), (part_id, part.span), set)
            })
        })
    })
}

/// Whether a reading is of a part, or of what sits in it or lies below it.
fn below(procedure: &Procedure, gauge: &Gauge, id: PartId) -> bool {
    let needed = gauge
        .needs
        .iter()
        .any(|need| matches!(&need.what, Condition::Part(of, PartCondition::Fitted) if of.id == id));
    let under = |of: &Target<PartId>| {
        let part = procedure.part(of.id);
        let within = part.within.as_ref().is_some_and(|within| within.host.id == id);
        let covered = part.under.iter().any(|cover| matches!(&cover.by, CoverThing::Part(by) if by.id == id));
        of.id == id || within || covered
    };
    needed || gauge.of.as_ref().is_some_and(under)
}

/// Parts that are renewed once, in the build, and that a step of the start fits anew.
fn fitted_twice(procedure: &Procedure) -> Vec<Diagnostic> {
    let mut complaints = Vec::new();
    let renewed = |part: &Part| part.fate.iter().flat_map(FateChoice::fates).any(|fate| *fate == Fate::Renew);
    for step in procedure.steps.iter().filter(|step| step.phase == Phase::Start) {
        let fits = step.acts().filter_map(|act| match &act.deed {
            Deed::Part { work: PartWork::Fit, what } => Some(what),
            _ => None,
        });
        for target in fits.flatten().filter(|target| renewed(procedure.part(target.id))) {
            let part = &procedure.part(target.id).naming;
            complaints.push(errors::fitted_twice(part, &step.naming.id, target.span));
        }
    }
    complaints
}
