//! The card of the first start: what stops it at once, what can kill, who stands where, and the log of the run. It hangs where
//! everybody at the engine sees it.

use std::collections::BTreeSet;

use super::bench::Bench;
use super::hazard::{hazard_box, hazards_of};
use super::questions::columns;
use super::reading;
use crate::plan::PlacedKind;
use crate::plan::words::{capital, sentence};
use crate::procedure::model::{Deed, GaugeId, HazardId, Place, Signal};
use crate::record::Occasion;
use crate::sheet::{Block, Cell, HazardBox, Sheet, SheetKind, StepLine, Table, Text};

/// Rows of the log. Our own choice, no source.
const ROWS: usize = 6;

/// The card; none where the start says nothing of what may go wrong and reads nothing.
pub(super) fn stop(bench: &Bench) -> Vec<Sheet> {
    let rules = rules(bench);
    let dangers = dangers(bench);
    let gauges = gauges(bench);
    if rules.is_empty() && dangers.is_empty() {
        return Vec::new();
    }
    let seen = if rules.is_empty() { "sees, hears or smells anything wrong" } else { "sees one of these" };
    let told = format!("Whoever {seen} says so, and it is stopped. Nobody asks first.");
    let mut blocks = vec![Block::Notice(Text::bold("STOP. ").and(told))];
    let row = |(condition, action, number): &(String, String, Text)| {
        vec![
            Cell::Text(Text::bold(capital(condition))),
            Cell::Text(Text::plain(sentence(action))),
            Cell::Text(number.clone()),
        ]
    };
    if !rules.is_empty() {
        let columns = columns(&[("If", 4.2), ("At once", 5.0), ("Step", 0.7)]);
        let rows = rules.iter().map(row).collect();
        blocks.push(Block::Table(Table { caption: Text::default(), columns, rows }));
    }
    blocks.extend(dangers.into_iter().map(|id| {
        // How it is avoided says nothing to somebody who doesn't know of what.
        let hazard = bench.procedure.hazard(id);
        let avoidance = Text::bold(sentence(&hazard.hazard)).and(" ").and(sentence(&hazard.avoidance));
        Block::Hazard(HazardBox { avoidance, ..hazard_box(hazard, true) })
    }));
    let who = ["At the controls", "Second person", "Both have read this card, day and hour"];
    let mut widths: Vec<(&str, f64)> = vec![("", 0.4)];
    widths.extend(who.iter().map(|who| (*who, 1.0)));
    let named = |name: &str, blanks: usize| {
        let name = std::iter::once(Cell::Text(Text::plain(name)));
        name.chain((0..blanks).map(|_| Cell::Blank(String::new()))).collect::<Vec<_>>()
    };
    blocks.push(Block::Table(Table {
        caption: Text::default(),
        columns: columns(&widths),
        rows: vec![named("Who", who.len())],
    }));
    let heads: Vec<String> = gauges.iter().map(|id| gauge_head(bench, *id)).collect();
    let limits: Vec<String> = gauges.iter().filter_map(|id| limits(bench, *id)).collect();
    if !limits.is_empty() {
        let words = Text::bold("Log of the run. ").and(format!("{}.", limits.join(". ")));
        blocks.push(Block::Paragraph(words));
    }
    // What doesn't burn anything has no smoke of its own.
    let signs = if bench.procedure.fires() { "Leaks, smoke, sound" } else { "Seen, heard, smelt" };
    let mut widths = vec![("", 0.2), ("Time", 0.5), ("Speed, load", 0.8)];
    widths.extend(heads.iter().map(|head| (head.as_str(), 1.6)));
    widths.extend([(signs, 1.5), ("By", 0.5)]);
    let rows = (1..=ROWS).map(|row| named(&row.to_string(), widths.len() - 1)).collect();
    blocks.push(Block::Table(Table { caption: Text::default(), columns: columns(&widths), rows }));
    vec![Sheet::new(SheetKind::Stop, "STOP card", "For the first start: to hang where both see it", blocks)]
}

/// Rules of a step up to which it tells them itself although the card tells them too. Our own choice, no source.
const FEW_RULES: usize = 2;

/// What a step with so many rules says in their place where the card is printed with it: everybody at the engine has read
/// it and sees it.
pub(super) fn told_by_the_card(bench: &Bench, rules: usize) -> Option<StepLine> {
    (bench.stop_card && rules > FEW_RULES).then(|| StepLine::If {
        condition: Text::plain("anything shows that the STOP card names"),
        action: Text::plain(format!(
            "Stop at once, as the card says. {rules} of its rules are of this step."
        )),
    })
}

/// What to do when something goes wrong at a step of the start, each once, with the step.
fn rules(bench: &Bench) -> Vec<(String, String, Text)> {
    let mut rules: Vec<(String, String, Text)> = Vec::new();
    for planned in bench.open_steps() {
        let number = planned.number.map(|number| number.to_string()).unwrap_or_default();
        let binding = &planned.binding;
        for (condition, action) in
            bench.step(planned).contingencies.iter().filter_map(|wrong| wrong.here(binding))
        {
            if !rules.iter().any(|(known, does, _)| known == condition && does == action) {
                let number = Text::default().and_link(number.clone(), bench.anchor(planned));
                rules.push((condition.clone(), action.clone(), number));
            }
        }
    }
    rules
}

/// What kills, each once, in the order in which it is met.
fn dangers(bench: &Bench) -> Vec<HazardId> {
    let mut met = BTreeSet::new();
    let all = bench.open_steps().flat_map(|planned| hazards_of(bench, planned));
    let grave = all.filter(|id| bench.procedure.hazard(*id).signal == Signal::Danger);
    grave.filter(|id| met.insert(*id)).collect()
}

/// What is read once while it runs.
fn gauges(bench: &Bench) -> Vec<GaugeId> {
    let mut found = Vec::new();
    for act in bench.open_steps().flat_map(|planned| bench.acts(planned)) {
        if !matches!(act.act.deed, Deed::Gauge(_)) {
            continue;
        }
        for placed in &act.things {
            let PlacedKind::Gauge(id) = placed.kind else { continue };
            if bench.procedure.gauge(id).axes.is_empty() && !found.contains(&id) {
                found.push(id);
            }
        }
    }
    found
}

/// The name of a gauge with its unit.
fn gauge_head(bench: &Bench, id: GaugeId) -> String {
    let gauge = bench.procedure.gauge(id);
    let unit = reading::unit(bench, gauge);
    let parts = [gauge.naming.title.clone(), unit].into_iter().filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join(", ")
}

/// What a gauge has to show; nothing where nobody says.
fn limits(bench: &Bench, id: GaugeId) -> Option<String> {
    let gauge = bench.procedure.gauge(id);
    let places: Vec<Place> = bench.procedure.places(&gauge.axes).collect();
    let limits = reading::limit_beside(bench, id, &places, Occasion::AsBuilt);
    (!limits.is_empty()).then(|| format!("{}: {limits}", gauge.naming.title))
}
