//! The word of a person in spite of the procedure, as it is told to the owner and at the step.

use super::bench::Bench;
use super::bench_notes::{about_title, concerns};
use crate::english::spaced;
use crate::plan::PlannedStep;
use crate::procedure::model::Phase;
use crate::record::{About, Goods, Judged, Judgement, Settled, Settlement};
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

/// The word on what a step puts back, and on what was read or seen of it.
pub(super) fn lines(bench: &Bench, planned: &PlannedStep) -> Vec<StepLine> {
    let on_it = given(bench).filter(|(about, _)| concerns(bench, planned, about));
    let given = on_it.map(|(about, settlement)| told(bench, &about, settlement));
    let on_read = judgements(bench).into_iter().filter_map(|(abouts, judgement, as_what)| {
        let here: Vec<About> = abouts.into_iter().filter(|about| concerns(bench, planned, about)).collect();
        (!here.is_empty()).then(|| judged_so(bench, &here, judgement, &as_what))
    });
    given.chain(on_read).map(StepLine::Note).collect()
}

/// What persons judged of readings that the instrument left in doubt, and of what can't be read or looked at any more.
pub(super) fn judged(bench: &Bench) -> Vec<Text> {
    let told = judgements(bench).into_iter();
    told.map(|(abouts, judgement, as_what)| judged_so(bench, &abouts, judgement, &as_what)).collect()
}

/// Each judgement of the record once, with the places that it is of and the word for what was judged.
fn judgements<'b>(bench: &'b Bench) -> Vec<(Vec<About>, &'b Judgement, String)> {
    let job = bench.material.job;
    let gauges = job.judged.iter().map(|((id, place), judgement)| {
        let gauge = bench.procedure.gauge(*id);
        let as_what = match judgement.as_what {
            Judged::Good => Judgement::GOOD.to_owned(),
            Judged::Band(at) => gauge.bands.get(at).map(|band| spaced(&band.name)).unwrap_or_default(),
            Judged::Size(at) => {
                let sizes = gauge.sizes.as_ref().and_then(|sizes| sizes.value.0.get(at));
                sizes.map(|size| format!("to be machined to {size}")).unwrap_or_default()
            }
        };
        (About::Gauge(*id, Some(*place)), judgement, as_what)
    });
    let looks = job.judged_looks.iter().map(|((id, place), judgement)| {
        let results = &bench.procedure.look(*id).results;
        let as_what = match judgement.as_what {
            Judged::Band(at) => results.get(at).map(|result| spaced(result)).unwrap_or_default(),
            Judged::Good | Judged::Size(_) => Judgement::GOOD.to_owned(),
        };
        (About::Look(*id, Some(*place)), judgement, as_what)
    });
    let mut found: Vec<(Vec<About>, &Judgement, String)> = Vec::new();
    for (about, judgement, as_what) in gauges.chain(looks) {
        match found.iter_mut().find(|(_, known, _)| known.span == judgement.span) {
            Some((abouts, ..)) => abouts.push(about),
            None => found.push((vec![about], judgement, as_what)),
        }
    }
    found
}

fn judged_so(bench: &Bench, abouts: &[About], judgement: &Judgement, as_what: &str) -> Text {
    let titles: Vec<String> = abouts.iter().map(|about| about_title(bench, about)).collect();
    let words = judgement.words();
    Text::bold(format!("{}: {as_what}, ", titles.join("; "))).and(format!("{}.", words.trim_end_matches('.')))
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
        About::Engine => format!("Work on the {} goes on: ", bench.procedure.whole()),
        about => format!("{} {what}: ", about_title(bench, about)),
    };
    Text::bold(first).and(format!("{}.", words.trim_end_matches('.')))
}
