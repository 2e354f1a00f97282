//! Readings and looks that can't be taken any more, because the steps before the building that take them are recorded as not
//! done. What hangs on them waits for a person's word, and not for a reading that never comes.

use std::collections::BTreeMap;

use super::{Answer, Asked, Decisions, Hold, Why};
use crate::procedure::model::{Binding, Deed, Phase, Place, Procedure, Step, StepId, StepKey};
use crate::record::Job;

/// What can't be read or looked at any more, and why.
pub(super) type Never = BTreeMap<Asked, String>;

/// What no step takes any more, by what the record says is not done.
pub(super) fn never(procedure: &Procedure, job: &Job) -> Never {
    let mut found = Never::new();
    if job.not_done.is_empty() {
        return found;
    }
    let before = |step: &Step| matches!(step.phase, Phase::Strip | Phase::Survey);
    let mut still: Vec<Asked> = Vec::new();
    for (id, step) in procedure.steps.numbered().filter(|(_, step)| before(step)) {
        let apart: Vec<Place> = if step.apart { procedure.places(&step.each).collect() } else { Vec::new() };
        let instances = if apart.is_empty() { vec![None] } else { apart.into_iter().map(Some).collect() };
        for place in instances {
            let bound = place.map_or_else(Binding::default, |place| procedure.bound(&step.each, place));
            let taken = taken(procedure, id, &bound);
            let key = StepKey::Written(id, place);
            match job.not_done.iter().find(|not_done| not_done.step.meets(&key)) {
                Some(not_done) => found.extend(taken.into_iter().map(|asked| (asked, not_done.words()))),
                None => still.extend(taken),
            }
        }
    }
    found.retain(|asked, _| !still.contains(asked));
    found
}

/// What a step reads and looks at where its axes stand like this.
fn taken(procedure: &Procedure, id: StepId, bound: &Binding) -> Vec<Asked> {
    let mut taken = Vec::new();
    for act in procedure.step(id).acts() {
        let Some(here) = procedure.narrowed(bound, &act.scope.at) else { continue };
        match &act.deed {
            Deed::Gauge(targets) => {
                let meant = targets.iter().flat_map(|target| procedure.meant(target, &here));
                taken.extend(meant.map(|(gauge, place)| Asked::Gauge(gauge, place)));
            }
            Deed::Look(targets) => {
                let meant = targets.iter().flat_map(|target| procedure.meant(target, &here));
                taken.extend(meant.map(|(look, place)| Asked::Look(look, place)));
            }
            _ => {}
        }
    }
    taken
}

/// Tells what hangs on such a question that it waits for a person's word.
pub(super) fn tell(decisions: &mut Decisions) {
    let never = |asked: &Asked| match decisions.answers.get(asked) {
        Some(Answer::Open(Why::Never(because))) => Some(because.clone()),
        _ => None,
    };
    let decided = decisions.fates.values_mut().chain(decisions.sets.values_mut());
    for hold in decided.flat_map(|decision| &mut decision.holds) {
        if let Hold::Question(asked) = hold
            && let Some(because) = never(asked)
        {
            *hold = Hold::Never(*asked, because);
        }
    }
}

impl Decisions {
    /// Why a question can't be answered by looking or measuring any more; none where it can.
    pub(crate) fn never(&self, asked: Asked) -> Option<&str> {
        match self.answers.get(&asked) {
            Some(Answer::Open(Why::Never(because))) => Some(because),
            _ => None,
        }
    }

    /// Why a step is not done and won't be; none for one that is or can be.
    pub(crate) fn not_done(&self, key: &StepKey) -> Option<&str> {
        let mut said = self.not_done.iter().filter(|(step, _)| step.meets(key));
        said.next().map(|(_, because)| because.as_str())
    }
}
