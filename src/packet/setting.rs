//! What is put on wet: how soon the joint is closed, and how long it sets. It must not know what it is put on.

use super::bench::Bench;
use crate::plan::words::capital;
use crate::plan::{PlannedStep, Standing, done_at, fills, put_on};
use crate::procedure::model::{Phase, Supply};
use crate::quantity::Quantity;
use crate::sheet::{Block, Text};

/// Beside a step: how soon it has to be closed, and how long it then sets.
pub(super) fn times(bench: &Bench, planned: &PlannedStep) -> Vec<Text> {
    let mut facts = Vec::new();
    for id in put_on(bench.procedure, bench.network, planned) {
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
    facts.extend(first_to_have_set(bench, planned));
    facts
}

/// Beside a step of the build that fills the engine: what has to have set first, for how long, and when it was put on as far as
/// the record tells.
fn first_to_have_set(bench: &Bench, planned: &PlannedStep) -> Option<Text> {
    if !fills(bench.procedure, bench.phase, planned) {
        return None;
    }
    let before = bench.plan.steps.iter().take_while(|step| step.key != planned.key);
    let items: Vec<Text> = before
        .filter(|step| step.standing != Standing::Absent)
        .flat_map(|step| put_on(bench.procedure, bench.network, step).into_iter().map(move |id| (step, id)))
        .filter_map(|(step, id)| {
            let Supply { naming, cure_time, .. } = bench.procedure.supply(id);
            let cure = (*cure_time)?;
            if step.standing == Standing::Done {
                return Some(line(bench, step, &naming.title, cure));
            }
            let told = Text::bold(format!("{}, {}", capital(&naming.title), cure.printed()));
            let mut told = told.and(format!(": {} (step ", bench.step_title(step)));
            told.0.extend(bench.step_numbers(&[step]).0);
            Some(told.and(")"))
        })
        .collect();
    let mut told = Text::bold("Not before all of this has set");
    for (index, item) in items.iter().enumerate() {
        told = told.and(if index == 0 { ": " } else { "; " });
        told.0.extend(item.0.iter().cloned());
    }
    (!items.is_empty()).then_some(told)
}

/// Before the start: what must have set, for how long, and when it was put on as far as the record tells.
pub(super) fn to_have_set(bench: &Bench) -> Vec<Block> {
    let done = bench.steps().next().is_some() && bench.left_steps().next().is_none();
    if bench.phase != Phase::Start || done {
        return Vec::new();
    }
    let build = bench.material.plan.phase(Phase::Build).map(|plan| plan.steps.as_slice()).unwrap_or_default();
    let mut items = Vec::new();
    for planned in build.iter().filter(|planned| planned.standing != Standing::Absent) {
        for id in put_on(bench.procedure, bench.network, planned) {
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
    let when = match done_at(bench.material.decisions, planned) {
        Some(put_on) => {
            let set = put_on.after(cure).map(|set| match set.hour {
                Some(_) => format!("; set on {}", set.words()),
                None => format!("; set on {}, at the hour at which it was put on", set.words()),
            });
            format!("put on {}{}", put_on.words(), set.unwrap_or_default())
        }
        None => "no day in the record".to_owned(),
    };
    Text::bold(format!("{}, {}", capital(title), cure.printed()))
        .and(format!(": {} ({when})", bench.step_title(planned)))
}

/// Rows of the register for the hour at which a step put on what has to set; none of a step that puts on nothing of the kind.
pub(super) fn register(bench: &Bench, planned: &PlannedStep) -> Vec<[Text; 2]> {
    let supplies = put_on(bench.procedure, bench.network, planned).into_iter();
    let cures = supplies.filter_map(|id| {
        let supply = bench.procedure.supply(id);
        let cure = supply.cure_time?;
        let sets = format!("put on, by the clock; sets for {}", cure.printed());
        Some([Text::plain(capital(&supply.naming.title)), Text::plain(sets)])
    });
    cures.collect()
}
