//! The word of a person in spite of the procedure, as it is told to the owner and at the step.

use super::bench::Bench;
use super::bench_notes::{about_title, concerns};
use crate::plan::PlannedStep;
use crate::procedure::model::Phase;
use crate::record::{About, Goods, Settled, Settlement};
use crate::sheet::{StepLine, Text};

/// Every such word, in the order of the things; those of one sort alone where `of` says so.
pub(super) fn words(bench: &Bench, of: impl Fn(Settled) -> bool) -> Vec<Text> {
    let given = given(bench).filter(|(.., settlement)| of(settlement.what));
    given.map(|(about, settlement)| told(bench, &about, settlement)).collect()
}

/// The word on the whole engine; and before the start, each by which a risk is accepted.
pub(super) fn of_the_engine(bench: &Bench) -> Vec<Text> {
    let starts = bench.phase == Phase::Start;
    let told_here = |about: &About, settlement: &Settlement| {
        *about == About::Engine || starts && settlement.risk.is_some()
    };
    let given = given(bench).filter(|(about, settlement)| told_here(about, settlement));
    given.map(|(about, settlement)| told(bench, &about, settlement)).collect()
}

/// The word on what a step puts back.
pub(super) fn lines(bench: &Bench, planned: &PlannedStep) -> Vec<StepLine> {
    let on_it = given(bench).filter(|(about, _)| concerns(bench, planned, about));
    on_it.map(|(about, settlement)| StepLine::Note(told(bench, &about, settlement))).collect()
}

fn given<'b>(bench: &'b Bench) -> impl Iterator<Item = (About, &'b Settlement)> {
    let settled = bench.material.job.settled.iter().filter(|(_, settlement)| settlement.all_the_same);
    let engine = bench.material.job.settled_engine.iter().map(|settlement| (About::Engine, settlement));
    let things = settled.filter_map(|(goods, settlement)| match goods {
        Goods::Part(id, place) => Some((About::Part(*id, *place), settlement)),
        Goods::Set(id, place) => Some((About::Set(*id, *place), settlement)),
        Goods::Supply(_) => None,
    });
    engine.chain(things)
}

fn told(bench: &Bench, about: &About, settlement: &Settlement) -> Text {
    let what = match settlement.what {
        Settled::GoesBack => "goes back",
        Settled::Declined => "goes back as it is",
        Settled::CleanAndBack => "is cleaned and goes back",
        Settled::Renew => "is renewed",
        Settled::LeaveOut => "is left out",
    };
    let words = settlement.words().unwrap_or_default();
    let first = match about {
        About::Engine => "Work on the engine goes on: ".to_owned(),
        about => format!("{} {what}: ", about_title(bench, about)),
    };
    Text::bold(first).and(format!("{}.", words.trim_end_matches('.')))
}
