//! What the states of the whole say that can't be meant: a part that comes off into the danger, a setting that changes nothing,
//! what is let out and never filled, a job that ends with the danger on. It must not know in which order steps come; where that
//! matters it goes by phases, and within the start by the order in which it is written.

use super::hazards::ENERGY;
use crate::diagnostics::Diagnostic;
use crate::procedure::errors;
use crate::procedure::model::*;
use crate::source::Span;

/// A state that some step sets: the step, the value, and where.
struct Set<'p> {
    step: &'p Step,
    value: usize,
    span: Span,
}

/// All that is said of states.
pub(in crate::procedure) fn states(procedure: &Procedure) -> Vec<Diagnostic> {
    let mut complaints = Vec::new();
    for part in &procedure.parts {
        for (state, value, span) in &part.releases {
            let entry = procedure.state(*state);
            let live = dangers(procedure, entry).next();
            if let Some((at, hazard)) = live.filter(|_| dangers(procedure, entry).all(|(at, _)| at != *value))
            {
                complaints.push(errors::released_into_danger(part, entry, (*value, *span), (at, hazard)));
            }
        }
    }
    for (id, state) in procedure.states.numbered() {
        let sets: Vec<Set<'_>> = procedure.steps.iter().flat_map(|step| sets_of(step, id)).collect();
        let of = |phases: &'static [Phase]| sets.iter().filter(|set| phases.contains(&set.step.phase));
        let mut apart = of(&[Phase::Strip, Phase::Survey]);
        if apart.clone().all(|set| set.value == state.at_first) {
            complaints.extend(apart.clone().map(|set| errors::sets_nothing(state, set.span)));
        }
        let away = apart.rfind(|set| set.value != state.at_first);
        // What has no start is handed over as it was built; and nobody wants a danger back.
        let starts = procedure.steps.iter().any(|step| step.phase == Phase::Start);
        let wanted = starts && dangers(procedure, state).all(|(at, _)| at != state.at_first);
        let together = of(&[Phase::Build, Phase::Start]).next().is_some();
        let released = procedure.parts.iter().any(|part| part.releases.iter().any(|(of, ..)| *of == id));
        if let Some(away) = away.filter(|_| wanted && !together && released && state.at_build.is_none()) {
            complaints.push(errors::never_back(state, &away.step.naming.id, (away.value, away.span)));
        }
        let last = of(&[Phase::Start]).next_back().filter(|set| set.value != state.at_first);
        if let Some(last) = last {
            let live = dangers(procedure, state).find(|(at, _)| *at == last.value);
            complaints
                .extend(live.map(|(_, hazard)| errors::left_live(state, (last.value, last.span), hazard)));
        }
    }
    complaints
}

/// The values of a state at which something that runs, is live or holds a force is met, each with its hazard.
fn dangers<'p>(procedure: &'p Procedure, state: &'p State) -> impl Iterator<Item = (usize, &'p Hazard)> {
    let named = state.hazards.iter().map(|(hazard, value, _)| (*value, procedure.hazard(*hazard)));
    named.filter(|(_, hazard)| ENERGY.contains(&hazard.kind))
}

fn sets_of(step: &Step, state: StateId) -> impl Iterator<Item = Set<'_>> {
    step.acts().filter_map(move |act| match act.deed {
        Deed::Set(of, value) if of == state => Some(Set { step, value, span: act.span }),
        _ => None,
    })
}
