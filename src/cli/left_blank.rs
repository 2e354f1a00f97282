//! Blanks of steps that were marked done, and that the record has nothing for. It must not know what follows from them.

use crate::procedure::model::{
    AxisId, Binding, Deed, Naming, PartWork, Pattern, Phase, Place, Procedure, Step, StepKey, Target,
};
use crate::record::{Job, Occasion, step_key};

/// The readings and looks of these steps that nobody has written down, by title and place.
pub(super) fn left_blank<'s>(
    procedure: &Procedure,
    job: &Job,
    steps: impl Iterator<Item = &'s str>,
) -> Vec<String> {
    let mut blank = Vec::new();
    for key in steps.filter_map(|id| step_key(procedure, id)) {
        let StepKey::Written(id, place) = key else { continue };
        let step = procedure.step(id);
        let bound = place.map(|place| procedure.bound(&step.each, place)).unwrap_or_default();
        of_step(procedure, job, (step, &bound), &mut blank);
    }
    blank
}

fn of_step(procedure: &Procedure, job: &Job, (step, bound): (&Step, &Binding), blank: &mut Vec<String>) {
    let receives = step.acts().any(|act| matches!(act.deed, Deed::Part { work: PartWork::Receive, .. }));
    let occasion = match step.phase {
        Phase::Build | Phase::Start => Occasion::AsBuilt,
        Phase::Survey if receives => Occasion::AsReturned,
        Phase::Strip | Phase::Survey => Occasion::AsFound,
    };
    let mut put = |naming: &Naming, axes: &[AxisId], pattern: &Pattern, known: &dyn Fn(Place) -> bool| {
        let places = procedure.matching(axes, pattern, bound);
        blank.extend(places.into_iter().filter(|place| !known(*place)).map(|place| {
            match procedure.place_name(axes, place) {
                place if place.is_empty() => naming.title.clone(),
                place => format!("{} {place}", naming.title),
            }
        }));
    };
    for act in step.acts() {
        match &act.deed {
            Deed::Gauge(targets) => {
                for Target { id, pattern, .. } in targets {
                    let gauge = procedure.gauge(*id);
                    put(&gauge.naming, &gauge.axes, pattern, &|place| {
                        let mut readings = job.readings.iter();
                        readings.any(|read| (read.gauge, read.place, read.occasion) == (*id, place, occasion))
                    });
                }
            }
            Deed::Look(targets) => {
                for Target { id, pattern, .. } in targets {
                    let look = procedure.look(*id);
                    put(&look.naming, &look.axes, pattern, &|place| {
                        let mut looks = job.looks.iter();
                        looks.any(|taken| (taken.look, taken.place, taken.occasion) == (*id, place, occasion))
                    });
                }
            }
            _ => {}
        }
    }
}
