//! Hazards: their boxes, and the stretches of work over which protective equipment is worn.

use std::collections::BTreeMap;

use super::already::idle_hazards;
use super::bench::Bench;
use crate::plan::words::sentence;
use crate::plan::{PlannedLine, PlannedStep};
use crate::procedure::model::{Hazard, HazardId, Signal};
use crate::sheet::{HazardBox, SignalWord, Text};

/// Steps that are printed in one block.
pub(super) type Together<'b> = Vec<&'b PlannedStep>;

/// The box of a hazard. What to wear is said once where it begins, not in every box.
pub(super) fn hazard_box(hazard: &Hazard, told: bool) -> HazardBox {
    HazardBox {
        word: signal_word(hazard.signal),
        hazard: Text::bold(sentence(&hazard.hazard)),
        consequence: Text::plain(sentence(&hazard.consequence)),
        avoidance: Text::plain(sentence(&hazard.avoidance)),
        protective_equipment: Vec::new(),
        turned: None,
        told,
    }
}

fn signal_word(signal: Signal) -> SignalWord {
    match signal {
        Signal::Danger => SignalWord::Danger,
        Signal::Warning => SignalWord::Warning,
        Signal::Caution => SignalWord::Caution,
        Signal::Notice => SignalWord::Notice,
    }
}

/// The signal word as printed.
pub(super) fn word(signal: Signal) -> &'static str {
    match signal {
        Signal::Danger => "DANGER",
        Signal::Warning => "WARNING",
        Signal::Caution => "CAUTION",
        Signal::Notice => "NOTICE",
    }
}

/// Hazards of a step in order, but those that only what is off already would bring.
pub(super) fn hazards_of(bench: &Bench, planned: &PlannedStep) -> Vec<HazardId> {
    let idle = idle_hazards(bench, planned);
    let hazards = planned.lines.iter().filter_map(|line| match line {
        PlannedLine::Hazard(hazard) => Some(*hazard),
        PlannedLine::Act(_) | PlannedLine::Hold(_) | PlannedLine::SetUp(..) => None,
    });
    hazards.filter(|hazard| !idle.contains(hazard)).collect()
}

/// What is put on before each block, with the index of the last block for which it is worn; indices into the blocks given.
pub(super) type Wear = BTreeMap<usize, Vec<(String, usize)>>;

/// Steps apart over which a thing is rather kept on than taken off and put on again. Our own choice, no source.
const KEEP_ON: usize = 3;

/// Where protective equipment begins and ends over a stretch of work.
pub(super) fn wear(bench: &Bench, blocks: &[&Together]) -> Wear {
    let mut uses: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    for (index, steps) in blocks.iter().enumerate() {
        for hazard in steps.iter().flat_map(|planned| hazards_of(bench, planned)) {
            for item in &bench.procedure.hazard(hazard).wear {
                let list = uses.entry(item.clone()).or_default();
                if list.last() != Some(&index) {
                    list.push(index);
                }
            }
        }
    }
    let mut wear = Wear::default();
    for (item, at) in uses {
        let mut run: Option<(usize, usize)> = None;
        for index in at.into_iter().map(Some).chain([None]) {
            match (run, index) {
                (Some((first, last)), Some(next)) if next - last <= KEEP_ON => run = Some((first, next)),
                (previous, next) => {
                    if let Some((first, last)) = previous {
                        wear.entry(first).or_default().push((item.clone(), last));
                    }
                    run = next.map(|next| (next, next));
                }
            }
        }
    }
    wear
}
