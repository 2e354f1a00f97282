//! Readings and looks that can't be taken any more, because the steps before the building that take them are recorded as not
//! done, or because what has to be on the engine for them came off before. What hangs on them waits for a person's word, and not for a reading that never comes.

use std::collections::BTreeMap;

use super::came::came;
use super::{Answer, Asked, Decisions, Hold, Why, shown};
use crate::english::inner;
use crate::procedure::model::{
    Binding, Condition, Deed, PartCondition, PartId, Phase, Place, Procedure, SetCondition, Step, StepId,
    StepKey, Target,
};
use crate::record::{Came, Goods, Job};

/// What can't be read or looked at any more, and why.
pub(super) type Never = BTreeMap<Asked, String>;

/// What no step takes any more, by what the record says is not done.
pub(super) fn never(procedure: &Procedure, job: &Job) -> Never {
    let mut found = Never::new();
    let came = came(procedure, job);
    if job.not_done.is_empty() && came.is_empty() {
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
                // What is measured of it put together on trial doesn't ask how it came.
                None if step.phase == Phase::Strip => {
                    for asked in taken {
                        match gone(procedure, &came, asked) {
                            Some(because) => drop(found.insert(asked, because)),
                            None => still.push(asked),
                        }
                    }
                }
                None => still.extend(taken),
            }
        }
    }
    found.retain(|asked, _| !still.contains(asked));
    found
}

/// What has to be on the engine for a reading or a look, and was off before it was taken apart: in words.
fn gone(procedure: &Procedure, came: &BTreeMap<Goods, Came>, asked: Asked) -> Option<String> {
    let (needs, in_place, bound) = match asked {
        Asked::Ask(_) => return None,
        Asked::Gauge(id, place) => {
            let gauge = procedure.gauge(id);
            let in_place = gauge.of.as_ref().filter(|_| gauge.taken_off == Some(false));
            (&gauge.needs, in_place, procedure.bound(&gauge.axes, place))
        }
        Asked::Look(id, place) => {
            let look = procedure.look(id);
            let in_place = look.of.as_ref().filter(|_| look.taken_off == Some(false));
            (&look.needs, in_place, procedure.bound(&look.axes, place))
        }
    };
    let mut wanted: Vec<Goods> = Vec::new();
    let parts = |target: &Target<PartId>| {
        let meant = procedure.meant(target, &bound).into_iter();
        meant.map(|(id, place)| Goods::Part(id, Some(place))).collect::<Vec<_>>()
    };
    wanted.extend(in_place.map(parts).unwrap_or_default());
    for need in needs.iter().filter(|need| need.at.hold(&bound)) {
        match &need.what {
            Condition::Part(target, PartCondition::Fitted) => wanted.extend(parts(target)),
            Condition::Set(target, SetCondition::Tight) => {
                let meant = procedure.meant(target, &bound).into_iter();
                wanted.extend(meant.map(|(id, place)| Goods::Set(id, Some(place))));
            }
            _ => {}
        }
    }
    wanted.into_iter().find_map(|goods| {
        let name = inner(&match goods {
            Goods::Part(id, Some(place)) => {
                shown::titled(procedure, &procedure.part(id).naming, &procedure.part(id).axes, place)
            }
            Goods::Set(id, Some(place)) => {
                shown::titled(procedure, &procedure.set(id).naming, &procedure.set(id).axes, place)
            }
            _ => return None,
        });
        Some(match came.get(&goods)? {
            Came::Off => format!("the {name} came off before"),
            Came::Without => format!("the {} came without the {name}", procedure.whole()),
        })
    })
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
