//! What a state brings with it while it has a value: its hazards stand before the act that gives it that value, and before
//! the first act of each step that is begun meanwhile, in the planned order.

use std::collections::BTreeMap;

use super::types::PlannedLine;
use crate::procedure::model::{Deed, HazardId, Phase, Procedure, StateId};

/// The states that have hazards, with the value of each as the work goes on; none where it isn't known.
pub(super) struct Dangers(BTreeMap<StateId, Option<usize>>);

impl Dangers {
    /// When the job begins.
    pub(super) fn at_first(procedure: &Procedure) -> Dangers {
        let dangerous = procedure.states.numbered().filter(|(_, state)| !state.hazards.is_empty());
        Dangers(dangerous.map(|(id, state)| (id, Some(state.at_first))).collect())
    }

    /// When a phase begins.
    pub(super) fn begin(&mut self, procedure: &Procedure, phase: Phase) {
        for (state, value) in &mut self.0 {
            if let (Phase::Build, Some(at_build)) = (phase, procedure.state(*state).at_build) {
                *value = Some(at_build);
            }
        }
    }

    /// A step is done; `certain` unless it is held, so that what it sets may come later. Its lines with the hazards that
    /// it doesn't tell of itself by then.
    pub(super) fn warn(
        &mut self,
        procedure: &Procedure,
        lines: Vec<PlannedLine>,
        certain: bool,
    ) -> Vec<PlannedLine> {
        if self.0.is_empty() {
            return lines;
        }
        let mut told: Vec<HazardId> = Vec::new();
        let mut warned = Vec::with_capacity(lines.len());
        let mut begun = false;
        let tell = |met: Vec<HazardId>, told: &mut Vec<HazardId>, warned: &mut Vec<PlannedLine>| {
            for hazard in met {
                if !told.contains(&hazard) {
                    told.push(hazard);
                    warned.push(PlannedLine::Hazard(hazard));
                }
            }
        };
        for line in lines {
            match &line {
                PlannedLine::Hazard(hazard) => told.push(*hazard),
                PlannedLine::Act(_) | PlannedLine::SetUp(..) if !begun => {
                    begun = true;
                    let met = self.0.iter().flat_map(|(state, value)| of(procedure, *state, *value));
                    tell(met.collect(), &mut told, &mut warned);
                }
                PlannedLine::Act(_) | PlannedLine::SetUp(..) | PlannedLine::Hold(_) => {}
            }
            if let PlannedLine::Act(planned) = &line
                && let Deed::Set(state, new) = planned.act.deed
                && let Some(value) = self.0.get_mut(&state)
            {
                tell(of(procedure, state, Some(new)).collect(), &mut told, &mut warned);
                *value = (certain || *value == Some(new)).then_some(new);
            }
            warned.push(line);
        }
        warned
    }
}

/// The hazards of a value of a state, or of each value that it may have.
fn of(procedure: &Procedure, state: StateId, value: Option<usize>) -> impl Iterator<Item = HazardId> {
    let hazards = procedure.state(state).hazards.iter();
    hazards.filter(move |(_, at, _)| value.is_none_or(|value| value == *at)).map(|(hazard, ..)| *hazard)
}
