//! What is put on wet: how soon the joint is closed, and how long it sets. It must not know what it is put on.

use std::collections::BTreeSet;

use super::bench::Bench;
use super::bench_notes;
use crate::plan::words::capital;
use crate::plan::{PlannedAct, PlannedLine, PlannedStep, Standing};
use crate::procedure::model::{Deed, FasteningWork, Phase, Place, SetId, SupplyId};
use crate::quantity::Quantity;
use crate::record::Date;
use crate::sheet::{Block, Text};

const SECONDS_A_DAY: f64 = 86_400.0;

/// Longest that anything sets, in days; of what takes longer no day is told. Our own choice, no source.
const MOST_DAYS: u16 = 365;

/// What a step puts on and that has an open time or sets: what it says it uses, and what goes on the sets that it starts
/// or tightens.
fn put_on(bench: &Bench, planned: &PlannedStep) -> BTreeSet<SupplyId> {
    let mut found: BTreeSet<SupplyId> =
        bench.step(planned).supplies_at(&planned.binding).map(|(id, _, _)| *id).collect();
    for line in &planned.lines {
        let PlannedLine::Act(act) = line else { continue };
        for (set, _) in fastened(bench, act) {
            found.extend(bench.procedure.set(set).apply.iter().map(|(id, _)| *id));
        }
    }
    found.retain(|id| {
        let supply = bench.procedure.supply(*id);
        supply.open_time.is_some() || supply.cure_time.is_some()
    });
    found
}

/// The sets that an act starts or tightens.
fn fastened(bench: &Bench, act: &PlannedAct) -> Vec<(SetId, Vec<Place>)> {
    let Deed::Fasten { work: FasteningWork::StartByHand | FasteningWork::Tighten, .. } = act.act.deed else {
        return Vec::new();
    };
    crate::plan::fastened(bench.procedure, &act.things)
}

/// Beside a step: how soon it has to be closed, and how long it then sets.
pub(super) fn times(bench: &Bench, planned: &PlannedStep) -> Vec<Text> {
    let mut facts = Vec::new();
    for id in put_on(bench, planned) {
        let supply = bench.procedure.supply(id);
        let title = capital(&supply.naming.title);
        if let Some(open) = supply.open_time {
            facts.push(Text::bold(format!("{title}: closed and tight within {}", open.printed())));
        }
        if let Some(cure) = supply.cure_time {
            facts.push(Text::plain(format!(
                "{title}: sets for {} before it is loaded or wetted",
                cure.printed()
            )));
        }
    }
    facts
}

/// Before the start: what must have set, for how long, and when it was put on as far as the record tells.
pub(super) fn to_have_set(bench: &Bench) -> Vec<Block> {
    if bench.phase != Phase::Start {
        return Vec::new();
    }
    let build = bench.material.plan.phase(Phase::Build).map(|plan| plan.steps.as_slice()).unwrap_or_default();
    let mut items = Vec::new();
    for planned in build.iter().filter(|planned| planned.standing != Standing::Absent) {
        for id in put_on(bench, planned) {
            let supply = bench.procedure.supply(id);
            if let Some(cure) = supply.cure_time {
                items.push(line(bench, planned, &supply.naming.title, cure));
            }
        }
    }
    if items.is_empty() {
        return Vec::new();
    }
    let text = Text::plain("Set before anything is filled or turned under load");
    let heading = Block::Heading { level: 2, text, anchor: None };
    vec![heading, Block::List { items, tick: true }]
}

fn line(bench: &Bench, planned: &PlannedStep, title: &str, cure: Quantity) -> Text {
    let when = match done_on(bench, planned) {
        // Of the hour nothing is known: it has set for certain so many whole days later, at the same hour.
        Some(date) => {
            let set = (1..=MOST_DAYS).find(|days| cure.base() <= f64::from(*days) * SECONDS_A_DAY);
            let set = set.and_then(|days| date.after_days(i64::from(days)));
            let set = set.map(|set| format!("; set on {set}, at the hour at which it was put on"));
            format!("put on {date}{}", set.unwrap_or_default())
        }
        None => "no day in the record".to_owned(),
    };
    Text::bold(format!("{}, {}", capital(title), cure.printed()))
        .and(format!(": {} ({when})", bench.step_title(planned)))
}

/// The day on which a step was done.
fn done_on(bench: &Bench, planned: &PlannedStep) -> Option<Date> {
    bench_notes::done(bench, planned)?.signature.date
}
