//! What is put on wet and has to set before anything is filled or turned under load: when it was put on, and until when it sets,
//! as far as the record tells.

use std::collections::BTreeSet;

use super::{Known, Plan, PlannedAct, PlannedLine, PlannedStep, Standing, fastened, step_of};
use crate::decide::Decisions;
use crate::english::inner;
use crate::network::Network;
use crate::procedure::model::{Deed, FasteningWork, Phase, Procedure, SupplyId};
use crate::quantity::Quantity;
use crate::record::{Date, Hour};

/// Longest that anything sets, in days; of what takes longer no day is told. Our own choice, no source.
const MOST_DAYS: f64 = 365.0;

const MINUTES_A_DAY: f64 = 1440.0;

/// A day, and where it is known the hour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Moment {
    /// The day.
    pub day: Date,
    /// The hour; none where the record has none.
    pub hour: Option<Hour>,
}

impl Moment {
    /// In words: `2026-04-21, 14:30`.
    pub(crate) fn words(self) -> String {
        let hour = self.hour.map(|hour| format!(", {hour}")).unwrap_or_default();
        format!("{}{hour}", self.day)
    }

    /// So much later. Of an unknown hour nothing is known but that it has set so many whole days later at the same one.
    pub(crate) fn after(self, time: Quantity) -> Option<Moment> {
        let minutes = time.base() / 60.0;
        if minutes > MOST_DAYS * MINUTES_A_DAY {
            return None;
        }
        let (days, hour) = match self.hour {
            Some(hour) => hour.after(minutes).map(|(days, hour)| (days, Some(hour)))?,
            None => ((minutes / MINUTES_A_DAY).ceil() as i64, None),
        };
        Some(Moment { day: self.day.after_days(days)?, hour })
    }
}

/// What a step puts on and that has an open time or sets: what it says it uses, and what goes on the sets that it starts
/// or tightens.
pub(crate) fn put_on(procedure: &Procedure, network: &Network, planned: &PlannedStep) -> BTreeSet<SupplyId> {
    let step = step_of(procedure, network, planned.source);
    let mut found: BTreeSet<SupplyId> = step.supplies_at(&planned.binding).map(|(id, _, _)| *id).collect();
    for line in &planned.lines {
        let PlannedLine::Act(act) = line else { continue };
        if !fastens(act) {
            continue;
        }
        for (set, _) in fastened(procedure, &act.things) {
            found.extend(procedure.set(set).apply.iter().map(|applied| applied.what.0));
        }
    }
    found.retain(|id| {
        let supply = procedure.supply(*id);
        supply.open_time.is_some() || supply.cure_time.is_some()
    });
    found
}

/// Whether a step of the build fills the engine: it brings back what some part lets out when it comes off.
pub(crate) fn fills(procedure: &Procedure, phase: Phase, planned: &PlannedStep) -> bool {
    let released = |state, value| {
        let mut released = procedure.parts.iter().flat_map(|part| &part.releases);
        released.any(|(other, of, _)| (*other, *of) == (state, value))
    };
    let mut acts = planned.lines.iter().filter_map(|line| match line {
        PlannedLine::Act(act) => Some(&act.act.deed),
        _ => None,
    });
    phase == Phase::Build
        && acts.any(|deed| matches!(deed, Deed::Set(state, value) if released(*state, *value)))
}

/// Whether an act starts or tightens fasteners.
fn fastens(act: &PlannedAct) -> bool {
    matches!(act.act.deed, Deed::Fasten { work: FasteningWork::StartByHand | FasteningWork::Tighten, .. })
}

/// When a step was done, if it is.
pub(crate) fn done_at(decisions: &Decisions, planned: &PlannedStep) -> Option<Moment> {
    let done = decisions.done_at.iter().find(|(step, ..)| step.meets(&planned.key))?;
    Some(Moment { day: done.1?, hour: done.2 })
}

/// What of the build has not set yet by the last day of the record, in words: what is filled and turned waits for it.
pub(super) fn setting_still(known: &Known, plan: &Plan) -> Vec<(SupplyId, String)> {
    let Known { procedure, network, decisions, .. } = *known;
    let mut found = Vec::new();
    let build = plan.phase(Phase::Build).map(|plan| plan.steps.as_slice()).unwrap_or_default();
    for planned in build.iter().filter(|planned| planned.standing == Standing::Done) {
        for id in put_on(procedure, network, planned) {
            let supply = procedure.supply(id);
            let until = supply.cure_time.zip(done_at(decisions, planned));
            let Some(until) = until.and_then(|(time, put_on)| put_on.after(time)) else { continue };
            // What was written down on a later day was written down when it had set.
            if decisions.last_day.is_some_and(|last| last > until.day) {
                continue;
            }
            let hour = if until.hour.is_some() { "" } else { ", at the hour at which it was put on" };
            let title = &step_of(procedure, network, planned.source).naming.title;
            let name = inner(&supply.naming.title);
            found.push((id, format!("{name} to set until {}{hour}: {title}", until.words())));
        }
    }
    found
}
