//! Blanks of steps that were marked done, and that the record has nothing for. It must not know what follows from them.

use crate::procedure::model::{Binding, Deed, PartWork, Phase, Place, Procedure, Step, StepKey};
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
    let named = |title: &str, place: String| {
        if place.is_empty() { title.to_owned() } else { format!("{title} {place}") }
    };
    for act in step.acts() {
        match &act.deed {
            Deed::Gauge(targets) => {
                for target in targets {
                    let gauge = procedure.gauge(target.id);
                    let read = |place: &Place| {
                        job.readings.iter().any(|read| {
                            (read.gauge, read.place, read.occasion) == (target.id, *place, occasion)
                        })
                    };
                    let places = procedure.matching(&gauge.axes, &target.pattern, bound);
                    let empty = places.into_iter().filter(|place| !read(place));
                    blank.extend(
                        empty.map(|place| {
                            named(&gauge.naming.title, procedure.place_name(&gauge.axes, place))
                        }),
                    );
                }
            }
            Deed::Look(targets) => {
                for target in targets {
                    let look = procedure.look(target.id);
                    let seen = |place: &Place| {
                        job.looks.iter().any(|taken| {
                            (taken.look, taken.place, taken.occasion) == (target.id, *place, occasion)
                        })
                    };
                    let places = procedure.matching(&look.axes, &target.pattern, bound);
                    let empty = places.into_iter().filter(|place| !seen(place));
                    blank.extend(
                        empty.map(|place| named(&look.naming.title, procedure.place_name(&look.axes, place))),
                    );
                }
            }
            _ => {}
        }
    }
}
