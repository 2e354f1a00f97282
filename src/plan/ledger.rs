//! The ledger: every part, fastener set and temporary, where it comes off, where it goes, where it is back.

use std::collections::BTreeMap;

use super::types::{Placed, PlacedKind, Plan, Standing};
use super::{PlannedLine, verdict, words};
use crate::decide::{Decisions, Verdict};
use crate::procedure::model::{
    Deed, FasteningWork, Naming, Part, PartId, PartWork, Phase, Place, Procedure, Reuse, SetId, StepKey,
    TemporaryId,
};

/// One thing of the ledger with all its places.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LedgerLine {
    /// What it is.
    pub kind: PlacedKind,
    /// Its id.
    pub id: String,
    /// Its title.
    pub title: String,
    /// Pieces over all its places.
    pub pieces: u32,
    /// Steps that take it off, out or (for a temporary) put it in.
    pub off: Vec<LedgerStep>,
    /// Where it goes meanwhile.
    pub goes: String,
    /// Steps that put it back, or take a temporary out.
    pub back: Vec<LedgerStep>,
    /// What comes back, where that is not simply the same piece.
    pub comes_back: String,
}

/// A step of the ledger.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct LedgerStep {
    /// Phase.
    pub phase: Phase,
    /// Which.
    pub key: StepKey,
    /// Number in its phase.
    pub number: Option<usize>,
    /// Places of the thing that are done there.
    pub places: usize,
}

/// The ledger of a plan, in declared order: parts, fastener sets, temporaries. Steps that the answers leave out don't
/// count, nor what is undone and done again within a block or trial.
pub(crate) fn ledger(procedure: &Procedure, decisions: &Decisions, plan: &Plan) -> Vec<LedgerLine> {
    let mut trips = Trips::of(procedure, plan);
    let mut line =
        |kind: PlacedKind, naming: &Naming, pieces: u32, goes: String, comes_back: String| LedgerLine {
            kind,
            id: naming.id.clone(),
            title: naming.title.clone(),
            pieces,
            off: trips.off.remove(&kind).unwrap_or_default(),
            goes,
            back: trips.back.remove(&kind).unwrap_or_default(),
            comes_back,
        };
    let mut lines = Vec::new();
    for (id, part) in procedure.parts.numbered() {
        let pieces = part.count * places(procedure.places(&part.axes).len());
        let (goes, comes_back) = (part_goes(decisions, id, part), part_comes_back(decisions, id));
        lines.push(line(PlacedKind::Part(id), &part.naming, pieces, goes, comes_back));
    }
    for (id, set) in procedure.sets.numbered() {
        let pieces = set.count * places(procedure.places(&set.axes).len());
        let reuse = set.reuse.as_ref().map(|(reuse, _)| reuse);
        let (goes, comes_back) = set_words(procedure, set.stays, set.captive, reuse);
        lines.push(line(PlacedKind::Set(id), &set.naming, pieces, goes, comes_back));
    }
    for (id, temporary) in procedure.temporaries.numbered() {
        let pieces = places(procedure.places(&temporary.axes).len());
        let goes = temporary.into.clone().unwrap_or_default();
        let comes_back = if temporary.may_stay { "may stay in".to_owned() } else { String::new() };
        lines.push(line(PlacedKind::Temporary(id), &temporary.naming, pieces, goes, comes_back));
    }
    lines
}

fn places(count: usize) -> u32 {
    u32::try_from(count).expect("places are few")
}

/// The steps at which each thing goes off and comes back, read off the plan in one walk.
#[derive(Default)]
struct Trips {
    off: BTreeMap<PlacedKind, Vec<LedgerStep>>,
    back: BTreeMap<PlacedKind, Vec<LedgerStep>>,
}

impl Trips {
    fn of(procedure: &Procedure, plan: &Plan) -> Trips {
        let mut trips = Trips::default();
        for (phase, step) in plan.steps().filter(|(_, step)| step.standing != Standing::Absent && !step.trial)
        {
            for line in &step.lines {
                let PlannedLine::Act(act) = line else { continue };
                let (trips, places) = match &act.act.deed {
                    Deed::Part { work: PartWork::Take, .. } => (&mut trips.off, parts_of(&act.things)),
                    Deed::Part { work: PartWork::Fit, .. } => (&mut trips.back, parts_of(&act.things)),
                    Deed::Fasten { work: FasteningWork::Undo | FasteningWork::Slacken, .. } => {
                        (&mut trips.off, sets_of(procedure, &act.things))
                    }
                    Deed::Fasten { work: FasteningWork::Tighten, .. } => {
                        (&mut trips.back, sets_of(procedure, &act.things))
                    }
                    Deed::PutIn(target) => (&mut trips.off, temporary_of(target.id, &act.things)),
                    Deed::TakeOut(target) => (&mut trips.back, temporary_of(target.id, &act.things)),
                    _ => continue,
                };
                for (kind, places) in places {
                    let found: &mut Vec<LedgerStep> = trips.entry(kind).or_default();
                    // A step stands once, however many acts it has for the thing.
                    if found.last().is_none_or(|last| last.key != step.key) {
                        let (phase, key, number) = (phase.phase, step.key.clone(), step.number);
                        found.push(LedgerStep { phase, key, number, places });
                    }
                }
            }
        }
        trips
    }
}

/// Parts of an act with the number of their places.
fn parts_of(things: &[Placed]) -> BTreeMap<PlacedKind, usize> {
    let mut found = BTreeMap::new();
    for placed in things.iter().filter(|placed| matches!(placed.kind, PlacedKind::Part(_))) {
        *found.entry(placed.kind).or_default() += placed.places.len();
    }
    found
}

/// Sets of an act, those of its joints too, likewise.
fn sets_of(procedure: &Procedure, things: &[Placed]) -> BTreeMap<PlacedKind, usize> {
    let mut found = BTreeMap::new();
    for placed in things {
        let sets: Vec<SetId> = match placed.kind {
            PlacedKind::Set(set) => vec![set],
            PlacedKind::Joint(joint) => {
                let mut sets: Vec<SetId> = procedure.joint(joint).members.iter().map(|m| m.set.id).collect();
                sets.sort_unstable();
                sets.dedup();
                sets
            }
            _ => continue,
        };
        for set in sets {
            *found.entry(PlacedKind::Set(set)).or_default() += placed.places.len();
        }
    }
    found
}

fn temporary_of(id: TemporaryId, things: &[Placed]) -> BTreeMap<PlacedKind, usize> {
    let places = things.iter().map(|placed| placed.places.len()).sum();
    BTreeMap::from([(PlacedKind::Temporary(id), places)])
}

fn part_goes(decisions: &Decisions, id: PartId, part: &Part) -> String {
    let rack = if part.worn_in { "rack" } else { "bagged" };
    match verdict(decisions, id, Place(0)) {
        Verdict::Open => format!("{}: to be judged", if part.worn_in { "rack" } else { "kept" }),
        Verdict::Renew { .. } => "kept, to compare".to_owned(),
        Verdict::GoesBack => rack.to_owned(),
        Verdict::CleanAndBack if part.worn_in => "wash, rack".to_owned(),
        Verdict::CleanAndBack => "wash".to_owned(),
        Verdict::Machine { what, .. } => format!("out: {what}"),
        Verdict::Keep => "kept until settled".to_owned(),
        Verdict::LeaveOut(why) => format!("left out: {why}"),
    }
}

fn part_comes_back(decisions: &Decisions, id: PartId) -> String {
    match verdict(decisions, id, Place(0)) {
        Verdict::Renew { .. } => "new".to_owned(),
        Verdict::Machine { .. } => "when accepted".to_owned(),
        Verdict::LeaveOut(_) => "not at all".to_owned(),
        Verdict::Open | Verdict::Keep => "to settle".to_owned(),
        Verdict::GoesBack | Verdict::CleanAndBack => "same".to_owned(),
    }
}

fn set_words(procedure: &Procedure, stays: bool, captive: bool, reuse: Option<&Reuse>) -> (String, String) {
    let goes = if stays {
        "stays in"
    } else if captive {
        "stays with its part"
    } else {
        "bagged"
    };
    let comes_back = match reuse {
        Some(Reuse::Once) => "new".to_owned(),
        Some(Reuse::Unknown) => "to settle".to_owned(),
        Some(Reuse::By(gauge)) => {
            format!("to settle, by {}", words::inner(&procedure.gauge(gauge.id).naming.title))
        }
        Some(Reuse::Reusable) | None => "same".to_owned(),
    };
    (goes.to_owned(), comes_back)
}
