//! What was read or looked at again: what counts now, and what was found before it. It must not know what follows from either.

use super::bench::Bench;
use super::bench_notes::about_title;
use super::reading::{occasion_at, occasion_word};
use crate::english::spaced;
use crate::plan::{PlacedKind, PlannedStep};
use crate::record::{About, LookTaken, Occasion, Reading};
use crate::sheet::{StepLine, Text};

/// Everything that was taken again, in the order of the record.
pub(super) fn all(bench: &Bench) -> Vec<Text> {
    let job = bench.material.job;
    let readings = job.readings.iter().filter_map(|reading| of_reading(bench, reading));
    readings.chain(job.looks.iter().filter_map(|look| of_look(bench, look))).collect()
}

/// What was taken again of what a step reads or looks at.
pub(super) fn lines(bench: &Bench, planned: &PlannedStep) -> Vec<StepLine> {
    let job = bench.material.job;
    let takes = |kind, place, on| {
        occasion_at(bench, planned, (kind, place)) == on
            && bench
                .acts(planned)
                .flat_map(|act| &act.things)
                .any(|placed| placed.kind == kind && placed.places.contains(&place))
    };
    let readings = job
        .readings
        .iter()
        .filter(|reading| takes(PlacedKind::Gauge(reading.gauge), reading.place, reading.occasion));
    let looks = job.looks.iter().filter(|look| takes(PlacedKind::Look(look.look), look.place, look.occasion));
    let told = readings.filter_map(|reading| of_reading(bench, reading));
    told.chain(looks.filter_map(|look| of_look(bench, look))).map(StepLine::Note).collect()
}

fn of_reading(bench: &Bench, reading: &Reading) -> Option<Text> {
    let again = reading.again()?;
    let gauge = bench.procedure.gauge(reading.gauge);
    let station = reading.station.and_then(|at| gauge.stations.get(at)).map(|(name, _)| spaced(name));
    let direction = reading.direction.and_then(|at| gauge.directions.get(at)).map(|name| spaced(name));
    let about = about_title(bench, &About::Gauge(reading.gauge, Some(reading.place)));
    let name = std::iter::once(about).chain(station).chain(direction).collect::<Vec<_>>().join(", ");
    Some(told(&name, reading.occasion, "read again", &again))
}

fn of_look(bench: &Bench, taken: &LookTaken) -> Option<Text> {
    let look = bench.procedure.look(taken.look);
    let result = |at: usize| look.results.get(at).map(|result| spaced(result)).unwrap_or_default();
    let again = taken.again(result)?;
    let name = about_title(bench, &About::Look(taken.look, Some(taken.place)));
    Some(told(&name, taken.occasion, "looked at again", &again))
}

fn told(name: &str, occasion: Occasion, what: &str, again: &str) -> Text {
    let on = match occasion_word(occasion) {
        "" => String::new(),
        word => format!(", {word}"),
    };
    Text::bold(format!("{name}{on}, {what}: ")).and(format!("{}.", again.trim_end_matches('.')))
}
