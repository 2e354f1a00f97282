//! Labels for what comes off at a step: a bag of its fasteners, and what goes out or is too heavy to lose its way on a shelf; as
//! many pieces as come off there.

use std::collections::BTreeMap;

use super::bench::Bench;
use super::bolts::lengths_at;
use super::fastener::came_out;
use super::ledger::step_list;
use super::lengths::any_recorded;
use crate::decide::{GoesIn, Verdict, part_goes_in, set_goes_in};
use crate::plan::{LedgerStep, PlacedKind, PlannedStep, fastened, verdict, words};
use crate::procedure::model::{
    Deed, FastenerKind, FasteningWork, PartId, PartWork, Phase, Pieces, Place, SetId,
};
use crate::record::Goods;
use crate::sheet::{Block, LabelBlock, LabelSize, Sheet, SheetKind};

/// Twenty-seven labels of this size go on a page of A4, twenty-four on one of Letter. Our own choice, no source.
const LABEL: LabelSize = LabelSize { width: 60.0, height: 28.0 };

/// What comes off at a step, or goes back there, each thing with its places.
type Things<Id> = BTreeMap<Id, Vec<Place>>;

/// The sheet of labels; none where nothing comes off.
pub(super) fn labels(bench: &Bench) -> Vec<Sheet> {
    let blocks: Vec<Block> = bench.blocks.iter().flat_map(|block| of_step(bench, block)).collect();
    if blocks.is_empty() {
        return Vec::new();
    }
    let subtitle = "One for each bag, one for what goes out or stands by itself";
    vec![Sheet { labels: Some(LABEL), ..Sheet::new(SheetKind::Tags, "Labels", subtitle, blocks) }]
}

/// A set in a bag.
struct Bagged {
    id: SetId,
    /// Where they came from.
    places: Vec<Place>,
    /// How many, in words.
    many: String,
    /// Of those that don't go back, why they are kept.
    old: Option<&'static str>,
}

/// The labels of what one step takes off.
fn of_step(bench: &Bench, block: &[usize]) -> Vec<Block> {
    let steps = || block.iter().map(|at| &bench.plan.steps[*at]);
    let planned = &bench.plan.steps[block[0]];
    let number = planned.number.map(|number| number.to_string()).unwrap_or_default();
    let of_job = bench.material.job.name.clone().unwrap_or_else(|| bench.family_title());
    let label = |title: String, mut lines: Vec<String>| {
        lines.retain(|line| !line.is_empty());
        lines.push(of_job.clone());
        Block::Label(LabelBlock {
            title,
            lines,
            number: String::new(),
            code_text: String::new(),
            anchor: None,
            step: Some(bench.anchor(planned)),
        })
    };
    let mut bagged: Vec<Bagged> = Vec::new();
    let mut bag_back: Vec<LedgerStep> = Vec::new();
    for (id, places) in sets(bench, steps(), Way::Off) {
        let set = bench.procedure.set(id);
        let pieces = came_out(bench, id, &places);
        if set.stays || set.captive || pieces == Pieces::from(0) {
            continue;
        }
        let new = places.iter().all(|place| set_goes_in(bench.material.decisions, id, *place).is_new());
        // What doesn't go back is kept until the new ones are compared with it.
        let old = new.then_some("old, to compare");
        let many = words::many(&set.naming.title, pieces);
        if !new {
            let steps = back(bench, |step| {
                sets(bench, std::iter::once(step), Way::Back)
                    .get(&id)
                    .is_some_and(|at| at.iter().any(|place| places.contains(place)))
            });
            bag_back.extend(steps.into_iter().filter(|step| !bag_back.contains(step)).collect::<Vec<_>>());
        }
        bagged.push(Bagged { id, places, many, old });
    }
    let bag = (!bagged.is_empty()).then(|| {
        let each = bagged.iter().map(|set @ Bagged { many, old, .. }| {
            let length = length_in_bag(bench, set, &bagged);
            let notes: Vec<String> = length.into_iter().chain(old.map(str::to_owned)).collect();
            if notes.is_empty() { many.clone() } else { format!("{many} ({})", notes.join("; ")) }
        });
        let each: Vec<String> = each.collect();
        label(format!("Bag S {number}"), vec![words::capital(&each.join(", ")), told(&bag_back)])
    });
    let alone = parts(bench, steps(), Way::Off).into_iter().filter_map(|(id, places)| {
        let part = bench.procedure.part(id);
        let out = places.iter().find_map(|place| match verdict(bench.material.decisions, id, *place) {
            Verdict::Machine { what, .. } => Some(format!("Goes out: {what}")),
            _ => None,
        });
        if out.is_none() && part.mass.is_none() {
            return None;
        }
        let pieces = bench.procedure.part_pieces(id, &places);
        let many = if pieces.several() { format!(", {pieces} pieces") } else { String::new() };
        let new =
            |place: &Place| matches!(part_goes_in(bench.material.decisions, id, *place), GoesIn::New(_));
        let back = if places.iter().all(new) {
            "Old: to compare".to_owned()
        } else {
            told(&back(bench, |step| {
                parts(bench, std::iter::once(step), Way::Back)
                    .get(&id)
                    .is_some_and(|at| at.iter().any(|place| places.contains(place)))
            }))
        };
        let title = if places.len() < bench.procedure.places(&part.axes).len() {
            let names: Vec<String> =
                places.iter().map(|place| bench.place_name(&part.axes, *place)).collect();
            format!("{} {}", part.naming.title, words::list(&names))
        } else {
            part.naming.title.clone()
        };
        Some(label(title, vec![format!("Off at S {number}{many}"), out.unwrap_or_default(), back]))
    });
    let alone: Vec<Block> = alone.collect();
    bag.into_iter().chain(alone).collect()
}

/// What the bag says of the length of a set: which belongs where, if its own are of several lengths or nobody knows them, and
/// how long they are, if others in the bag go into the same thread and are not of the same length.
fn length_in_bag(bench: &Bench, bagged: &Bagged, together: &[Bagged]) -> Option<String> {
    let set = bench.procedure.set(bagged.id);
    if set.kind == FastenerKind::Nut {
        return None;
    }
    let length = lengths_at(bench, bagged.id, &bagged.places);
    let mistaken = |other: &Bagged| {
        let entry = bench.procedure.set(other.id);
        let fits = match (set.size(), entry.size()) {
            (Some(one), Some(other)) => one == other,
            _ => true,
        };
        let bolts = other.id != bagged.id && entry.kind != FastenerKind::Nut;
        bolts && fits && !length.same(&lengths_at(bench, other.id, &other.places))
    };
    let said = says_length(bench, bagged);
    let others = together.iter().any(|other| mistaken(other) && (said || says_length(bench, other)));
    let apart = length.known.len() > 1 || (said && !length.open.is_empty());
    (apart || others).then(|| length.told())
}

/// Whether the procedure speaks of the length of a set, or the record has one.
fn says_length(bench: &Bench, bagged: &Bagged) -> bool {
    !bench.procedure.set(bagged.id).lengths.is_empty() || any_recorded(bench, bagged.id, &bagged.places)
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    Off,
    Back,
}

/// The fasteners that come out at some steps, or are tightened there.
fn sets<'s>(bench: &Bench, steps: impl Iterator<Item = &'s PlannedStep>, way: Way) -> Things<SetId> {
    let mut found = Things::new();
    for act in steps.flat_map(|step| bench.acts(step)) {
        let Deed::Fasten { work, .. } = act.act.deed else { continue };
        let wanted = if way == Way::Off { FasteningWork::Undo } else { FasteningWork::Tighten };
        if work != wanted {
            continue;
        }
        for (id, places) in fastened(bench.procedure, &act.things) {
            let known: &mut Vec<Place> = found.entry(id).or_default();
            known.extend(places.into_iter().filter(|place| !known.contains(place)).collect::<Vec<_>>());
        }
    }
    found
}

/// The parts that come off at some steps, or go on there.
fn parts<'s>(bench: &Bench, steps: impl Iterator<Item = &'s PlannedStep>, way: Way) -> Things<PartId> {
    let mut found = Things::new();
    for act in steps.flat_map(|step| bench.acts(step)) {
        let Deed::Part { work, .. } = act.act.deed else { continue };
        let wanted = if way == Way::Off { PartWork::Take } else { PartWork::Fit };
        if work != wanted {
            continue;
        }
        for placed in &act.things {
            let PlacedKind::Part(id) = placed.kind else { continue };
            let known: &mut Vec<Place> = found.entry(id).or_default();
            let on = placed.places.iter().filter(|place| {
                way == Way::Back
                    || !bench.material.decisions.came.contains_key(&Goods::Part(id, Some(**place)))
            });
            known.extend(on.copied().filter(|place| !known.contains(place)).collect::<Vec<_>>());
        }
    }
    found.retain(|_, places| !places.is_empty());
    found
}

/// The steps after the strip that put something back.
fn back(bench: &Bench, puts: impl Fn(&PlannedStep) -> bool) -> Vec<LedgerStep> {
    let steps = bench.material.plan.steps().filter(|(phase, step)| {
        phase.phase != Phase::Strip && step.number.is_some() && !step.trial && puts(step)
    });
    let told = steps.map(|(phase, step)| LedgerStep {
        phase: phase.phase,
        key: step.key.clone(),
        number: step.number,
        places: 1,
    });
    told.collect()
}

fn told(steps: &[LedgerStep]) -> String {
    if steps.is_empty() { String::new() } else { format!("Back at {}", step_list(steps)) }
}
