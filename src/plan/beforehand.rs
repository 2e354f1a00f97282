//! What a phase as a whole waits for before its first step: the owner's leave, the phases before it, readings that were passed over,
//! goods of which the record says nothing. Front sheet, `next`, `shop`, `order` and `why` ask here.

use super::occasion::acts;
use super::{Beforehand, Known, PhasePlan, PlacedKind, Plan, PlannedStep, Standing};
use crate::decide::{Asked, Decisions, ToMeasure};
use crate::english::{capital, counted};
use crate::procedure::model::{GaugeId, Phase, Place, Procedure};
use crate::record::Occasion;

impl Beforehand {
    /// What is waited for, as a sentence.
    pub(crate) fn words(self) -> String {
        match self {
            Beforehand::LeaveToStrip => "The owner's leave to strip: the record has none yet.".to_owned(),
            Beforehand::Earlier(phase, left, all) if left == all => {
                format!(
                    "{}: none of its {} is done by the record.",
                    capital(phase.word()),
                    counted(all, "step")
                )
            }
            Beforehand::Earlier(phase, left, all) => {
                let are = if left == 1 { "is" } else { "are" };
                format!(
                    "{}: {left} of {} {are} not done by the record.",
                    capital(phase.word()),
                    counted(all, "step")
                )
            }
            Beforehand::Untaken(count) => format!(
                "{} still to be taken at steps that are done: see the open questions.",
                counted(count, "reading")
            ),
            Beforehand::Arriving(count) => format!(
                "New pieces in hand and compared, work sent out accepted: {} by the verdicts, and the record has \
                 ordered and sent nothing yet.",
                counted(count, "thing")
            ),
        }
    }
}

/// What each phase of a plan waits for as a whole.
pub(super) fn beforehand(known: &Known, plan: &Plan) -> Vec<Vec<Beforehand>> {
    plan.phases.iter().map(|phase| before_phase(known, plan, phase.phase)).collect()
}

fn before_phase(known: &Known, plan: &Plan, phase: Phase) -> Vec<Beforehand> {
    let decisions = known.decisions;
    let mut wanted = Vec::new();
    if phase == Phase::Strip && !decisions.leave_to_strip {
        wanted.push(Beforehand::LeaveToStrip);
    }
    for earlier in plan.phases.iter().filter(|earlier| earlier.phase < phase) {
        let left = pieces(earlier.left());
        if left > 0 {
            wanted.push(Beforehand::Earlier(earlier.phase, left, pieces(earlier.of_the_job())));
        }
    }
    let untaken = plan.still_to_take(known.procedure, decisions, phase).len();
    if untaken > 0 {
        wanted.push(Beforehand::Untaken(untaken));
    }
    let arriving = decisions.arriving();
    if phase >= Phase::Build && decisions.of_a_job && !known.options.recorded && arriving > 0 {
        wanted.push(Beforehand::Arriving(arriving));
    }
    wanted
}

impl PhasePlan {
    /// Steps that the answers leave in: to be done, done, held, or left out by the record.
    pub(crate) fn of_the_job(&self) -> impl Iterator<Item = &PlannedStep> {
        self.steps.iter().filter(|step| step.standing != Standing::Absent)
    }

    /// Steps that are left: to be done or held.
    pub(crate) fn left(&self) -> impl Iterator<Item = &PlannedStep> {
        self.steps.iter().filter(|step| step.standing.is_left())
    }
}

/// How many pieces of work steps are: those of one number count once.
pub(crate) fn pieces<'s>(steps: impl Iterator<Item = &'s PlannedStep>) -> usize {
    let mut numbers: Vec<Option<usize>> = steps.map(|step| step.number).collect();
    numbers.sort_unstable();
    numbers.dedup();
    numbers.len()
}

impl Plan {
    /// The phase that is at work: the first in which something is left.
    pub(crate) fn at_work(&self) -> Option<&PhasePlan> {
        self.phases.iter().find(|plan| plan.left().next().is_some())
    }

    /// What is still to be read or looked at by a phase, though the steps that take it are done.
    pub(crate) fn still_to_take<'d>(
        &self,
        procedure: &Procedure,
        decisions: &'d Decisions,
        phase: Phase,
    ) -> Vec<&'d ToMeasure> {
        let kind = |asked: Asked| match asked {
            Asked::Gauge(id, place) => Some((PlacedKind::Gauge(id), place)),
            Asked::Look(id, place) => Some((PlacedKind::Look(id), place)),
            Asked::Ask(_) => None,
        };
        let takes = |step: &PlannedStep, (kind, place): (PlacedKind, Place)| {
            let mut things = acts(step).flat_map(|act| &act.things);
            things.any(|placed| placed.kind == kind && placed.places.contains(&place))
        };
        let now = |to_measure: &&ToMeasure| {
            let due = to_measure.occasion == Occasion::AsFound || phase >= Phase::Build;
            let Some(asked) = kind(to_measure.asked) else { return false };
            let (mut taken, mut left) = (false, false);
            for (plan, step) in self.steps().filter(|(_, step)| takes(step, asked)) {
                // What is read of a part that came back, or of one that is built in, is not how it was found.
                let found = to_measure.occasion == Occasion::AsFound;
                if found && plan.occasion(procedure, step, asked) != Occasion::AsFound {
                    continue;
                }
                taken |= step.standing == Standing::Done;
                left |= step.standing.is_left();
            }
            due && taken && !left
        };
        decisions.to_measure.iter().filter(now).collect()
    }

    /// What steps of the start read that are done, and nobody has written down, but for what is noted only.
    pub(crate) fn unread_in_start(
        &self,
        procedure: &Procedure,
        decisions: &Decisions,
    ) -> Vec<(GaugeId, Place)> {
        let mut unread = Vec::new();
        let done =
            self.steps().filter(|(plan, step)| plan.phase == Phase::Start && step.standing == Standing::Done);
        for placed in done.flat_map(|(_, step)| acts(step)).flat_map(|act| &act.things) {
            let PlacedKind::Gauge(id) = placed.kind else { continue };
            if procedure.gauge(id).noted_only {
                continue;
            }
            let read = |place: &&Place| {
                [Occasion::AsReturned, Occasion::AsBuilt]
                    .iter()
                    .any(|on| decisions.values.contains_key(&(id, **place, *on)))
            };
            unread.extend(placed.places.iter().filter(|place| !read(place)).map(|place| (id, *place)));
        }
        unread.sort_unstable();
        unread.dedup();
        unread
    }
}
