//! When in the life of its part a step reads or judges something: as it was found, as it came back from outside, or as it is
//! built. Blanks, what is written into them, what is still to be taken, and what `record done` calls empty ask here.

use super::{PhasePlan, PlacedKind, Plan, PlannedAct, PlannedLine, PlannedStep, Standing};
use crate::procedure::model::{Condition, Deed, Local, PartId, PartWork, Phase, Place, Procedure, Target};
use crate::record::Occasion;

impl Plan {
    /// On which occasion a step of the plan reads or judges something at a place.
    pub(crate) fn occasion(
        &self,
        procedure: &Procedure,
        step: &PlannedStep,
        read: (PlacedKind, Place),
    ) -> Occasion {
        let mut phases = self.phases.iter();
        phases
            .find(|plan| plan.at(step).is_some())
            .map_or(Occasion::AsFound, |plan| plan.occasion(procedure, step, read))
    }
}

impl PhasePlan {
    /// On which occasion a step of this phase reads or judges something at a place. In the survey it is how the part was found
    /// until the part is back from outside, or one that it must stand on for the reading, such as the head under a valve.
    pub(crate) fn occasion(
        &self,
        procedure: &Procedure,
        step: &PlannedStep,
        read: (PlacedKind, Place),
    ) -> Occasion {
        match self.phase {
            Phase::Strip => Occasion::AsFound,
            Phase::Build | Phase::Start => Occasion::AsBuilt,
            Phase::Survey => {
                let asked = stands_on(procedure, read);
                let back = |part: &(PartId, Place)| self.is_back(step, *part);
                if asked.iter().any(back) { Occasion::AsReturned } else { Occasion::AsFound }
            }
        }
    }

    /// Where a step stands among those of the phase.
    fn at(&self, step: &PlannedStep) -> Option<usize> {
        self.steps
            .iter()
            .position(|other| (other.node, other.member, &other.key) == (step.node, step.member, &step.key))
    }

    /// Whether a part is back from outside once a step is worked. What isn't done in this job brings nothing back.
    fn is_back(&self, step: &PlannedStep, (part, place): (PartId, Place)) -> bool {
        let until = self.at(step).map_or(0, |at| at + 1);
        let worked = |step: &&PlannedStep| !matches!(step.standing, Standing::Absent | Standing::NotDone(_));
        self.steps.iter().take(until).filter(worked).flat_map(acts).any(|act| {
            matches!(act.act.deed, Deed::Part { work: PartWork::Receive, .. })
                && act
                    .things
                    .iter()
                    .any(|placed| placed.kind == PlacedKind::Part(part) && placed.places.contains(&place))
        })
    }
}

/// The parts that a reading or a look is of, or that must be in a state for it.
fn stands_on(procedure: &Procedure, (kind, place): (PlacedKind, Place)) -> Vec<(PartId, Place)> {
    let (axes, of, needs) = match kind {
        PlacedKind::Gauge(id) => {
            let gauge = procedure.gauge(id);
            (&gauge.axes, gauge.of.as_ref(), &gauge.needs)
        }
        PlacedKind::Look(id) => {
            let look = procedure.look(id);
            (&look.axes, look.of.as_ref(), &look.needs)
        }
        _ => return Vec::new(),
    };
    let bound = procedure.bound(axes, place);
    let needed = |need: &Local<Condition>| match &need.what {
        Condition::Part(part, _) => Some(part.clone()),
        _ => None,
    };
    let parts: Vec<Target<PartId>> = of.cloned().into_iter().chain(needs.iter().filter_map(needed)).collect();
    parts.iter().flat_map(|part| procedure.meant(part, &bound)).collect()
}

/// What is done in a step.
pub(crate) fn acts(step: &PlannedStep) -> impl Iterator<Item = &PlannedAct> {
    step.lines.iter().filter_map(|line| match line {
        PlannedLine::Act(act) => Some(act),
        PlannedLine::Hazard(_) | PlannedLine::Hold(_) | PlannedLine::SetUp(..) => None,
    })
}
