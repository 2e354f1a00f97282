//! The ledger: every part, fastener set and temporary, where it comes off, where it goes, where it is back.

use std::collections::BTreeMap;

use super::types::{Placed, PlacedKind, Plan, PlannedStep, Standing};
use super::{PlannedLine, fastened, step_of, verdict, words};
use crate::decide::{Decisions, GoesIn, Truth, Verdict, hangs_on, part_goes_in, set_goes_in};
use crate::network::Network;
use crate::procedure::model::{
    AxisId, Deed, FastenerSet, FasteningWork, Naming, Part, PartWork, Phase, Pieces, Place, Procedure, Reuse,
    SetId, StepKey, SupplyId, TemporaryId, grouped,
};
use crate::record::{Came, Goods};

/// One thing of the ledger with all its places.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LedgerLine {
    /// What it is; none for a part of this job's own, which was not on the engine.
    pub kind: Option<PlacedKind>,
    /// Its id.
    pub id: String,
    /// Its title.
    pub title: String,
    /// Pieces over all its places.
    pub pieces: Pieces,
    /// Steps that take it off, out or (for a temporary) put it in.
    pub off: Vec<LedgerStep>,
    /// Where it was not on the engine when that was taken apart: how it came, and the names of the places, none where it is all
    /// of them.
    pub came: Vec<(&'static str, Vec<String>)>,
    /// Where it goes meanwhile, with its places where that differs.
    pub goes: Told,
    /// Steps that put it back, or take a temporary out.
    pub back: Vec<LedgerStep>,
    /// What comes back, likewise.
    pub comes_back: Told,
}

/// What is said of a thing of the ledger: once for all its places, or apart for some.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Told(Vec<Saying>);

#[derive(Debug, Clone, PartialEq)]
struct Saying {
    words: String,
    /// What else a screen has room for.
    more: String,
    /// Names of the places of which it is said.
    at: Vec<String>,
}

impl Told {
    /// The same of all.
    fn all(words: impl Into<String>) -> Told {
        Told::all_with(words, "")
    }

    fn all_with(words: impl Into<String>, more: impl Into<String>) -> Told {
        Told(vec![Saying { words: words.into(), more: more.into(), at: Vec::new() }])
    }

    /// Of groups of places, the largest first: the places are named of the others only.
    fn of(mut groups: Vec<((String, String), Vec<String>)>) -> Told {
        groups.sort_by_key(|(_, at)| std::cmp::Reverse(at.len()));
        Told(groups.into_iter().map(|((words, more), at)| Saying { words, more, at }).collect())
    }

    /// In few words: `same; new: 3 inlet`.
    pub(crate) fn short(&self) -> String {
        self.told(|saying| saying.words.clone())
    }

    /// With the reasons: `out: bored; new: 2`.
    pub(crate) fn long(&self) -> String {
        self.told(|saying| format!("{}{}", saying.words, saying.more))
    }

    fn told(&self, words: impl Fn(&Saying) -> String) -> String {
        let told = self.0.iter().enumerate().map(|(index, saying)| match index {
            0 => words(saying),
            _ => format!("{}: {}", words(saying), words::list(&saying.at)),
        });
        told.collect::<Vec<_>>().join("; ")
    }
}

impl LedgerLine {
    /// Where it comes off, as `steps` tells the steps, or how it came: `S 12; off before: left`.
    pub(crate) fn off_words(&self, steps: String) -> String {
        match self.came_words() {
            None => steps,
            Some(came) if self.came_everywhere() => came,
            Some(came) => format!("{steps}; {came}"),
        }
    }

    /// How it came where it was not on the engine: `off before: left`, without places where it is all of them.
    pub(crate) fn came_words(&self) -> Option<String> {
        let came = self.came.iter().map(|(word, at)| match at.as_slice() {
            [] => (*word).to_owned(),
            at => format!("{word}: {}", words::list(at)),
        });
        (!self.came.is_empty()).then(|| came.collect::<Vec<_>>().join("; "))
    }

    /// Whether it was on the engine nowhere.
    pub(crate) fn came_everywhere(&self) -> bool {
        matches!(self.came.as_slice(), [(_, at)] if at.is_empty())
    }
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
pub(crate) fn ledger(
    procedure: &Procedure,
    network: &Network,
    decisions: &Decisions,
    plan: &Plan,
) -> Vec<LedgerLine> {
    let mut trips = Trips::of(procedure, plan);
    let mut line =
        |kind: PlacedKind, naming: &Naming, pieces: Pieces, goes: Told, comes_back: Told| LedgerLine {
            came: came(procedure, decisions, kind),
            kind: Some(kind),
            id: naming.id.clone(),
            title: naming.title.clone(),
            pieces,
            off: trips.off.remove(&kind).unwrap_or_default(),
            goes,
            back: trips.back.remove(&kind).unwrap_or_default(),
            comes_back,
        };
    let own = own_parts(procedure, network, decisions, plan);
    let mut lines = Vec::new();
    for (id, part) in procedure.parts.numbered() {
        let pieces = procedure.part_pieces(id, &everywhere(procedure, &part.axes));
        let names = |words: &dyn Fn(Place) -> (String, String)| {
            let groups = grouped(procedure.places(&part.axes), words);
            Told::of(
                groups.into_iter().map(|(words, at)| (words, named(procedure, &part.axes, &at))).collect(),
            )
        };
        let goes = names(&|place| part_goes(part, verdict(decisions, id, place)));
        let comes_back = names(&|place| {
            let goes_in = part_goes_in(decisions, id, place);
            let words = match (&goes_in, decisions.piece((id, place))) {
                (GoesIn::New(None), Some(piece)) => format!("{}, {piece}", goes_in.word()),
                _ => goes_in.word(),
            };
            (words, String::new())
        });
        let mut line = line(PlacedKind::Part(id), &part.naming, pieces, goes, comes_back);
        let as_it_is =
            |place| matches!(verdict(decisions, id, place), Verdict::GoesBack | Verdict::CleanAndBack);
        if line.off.is_empty() && line.back.is_empty() && procedure.places(&part.axes).all(as_it_is) {
            (line.goes, line.comes_back) = (Told::all("stays on"), Told::default());
        }
        lines.push(line);
    }
    lines.extend(own);
    for (id, set) in procedure.sets.numbered() {
        let pieces = procedure.set_pieces(id, &everywhere(procedure, &set.axes));
        let not_there = |place: Place| {
            let bound = procedure.bound_at((id, place));
            decisions.guard(procedure, &procedure.set_present((id, place)), &bound) == Truth::No
        };
        let goes = if procedure.places(&set.axes).all(not_there) {
            format!("not on this {}", procedure.whole())
        } else if set.stays {
            "stays in".to_owned()
        } else if set.captive {
            "stays with its part".to_owned()
        } else {
            "bagged".to_owned()
        };
        let back = |place| set_comes_back(procedure, set, place, &set_goes_in(decisions, id, place));
        let groups = grouped(procedure.places(&set.axes), back);
        let groups = groups.into_iter().map(|(words, at)| (words, named(procedure, &set.axes, &at)));
        let (goes, comes_back) = (Told::all(goes), Told::of(groups.collect()));
        lines.push(line(PlacedKind::Set(id), &set.naming, pieces, goes, comes_back));
    }
    for (id, temporary) in procedure.temporaries.numbered() {
        let pieces = procedure.temporary_pieces(id, &everywhere(procedure, &temporary.axes));
        let into = temporary.into.as_deref().unwrap_or_default();
        let (short, rest) = into.split_at(into.find([':', ',']).unwrap_or(into.len()));
        let goes = Told::all_with(short, rest);
        let comes_back = if temporary.may_stay { Told::all("may stay in") } else { Told::default() };
        lines.push(line(PlacedKind::Temporary(id), &temporary.naming, pieces, goes, comes_back));
    }
    lines
}

/// How a thing came where it was not on the engine.
fn came(procedure: &Procedure, decisions: &Decisions, kind: PlacedKind) -> Vec<(&'static str, Vec<String>)> {
    let at = |place: Place| {
        let goods = match kind {
            PlacedKind::Part(id) => Goods::Part(id, Some(place)),
            PlacedKind::Set(id) => Goods::Set(id, Some(place)),
            _ => return None,
        };
        decisions.came.get(&goods).map(|came| match came {
            Came::Off => "off before",
            Came::Without => "came without",
        })
    };
    let axes = kind.axes(procedure);
    let groups = grouped(procedure.places(axes), at);
    let all = groups.len() == 1;
    let told = groups.into_iter().filter_map(|(word, places)| {
        Some((word?, if all { Vec::new() } else { named(procedure, axes, &places) }))
    });
    told.collect()
}

/// The parts of this job's own, with the steps that put them in.
fn own_parts(
    procedure: &Procedure,
    network: &Network,
    decisions: &Decisions,
    plan: &Plan,
) -> Vec<LedgerLine> {
    let line = |(id, count): (&SupplyId, &u32)| {
        let uses = |step: &PlannedStep| {
            let mut supplies = step_of(procedure, network, step.source).supplies_at(&step.binding);
            supplies.any(|(supply, ..)| supply == id)
        };
        let steps = plan.steps().filter(|(_, step)| step.standing != Standing::Absent && uses(step));
        let naming = &procedure.supply(*id).naming;
        LedgerLine {
            kind: None,
            id: naming.id.clone(),
            title: naming.title.clone(),
            pieces: Pieces::from(*count),
            off: Vec::new(),
            came: Vec::new(),
            goes: Told::default(),
            back: steps
                .map(|(phase, step)| LedgerStep {
                    phase: phase.phase,
                    key: step.key.clone(),
                    number: step.number,
                    places: 1,
                })
                .collect(),
            comes_back: Told::all(GoesIn::New(None).word()),
        }
    };
    decisions.own_parts.iter().map(line).collect()
}

fn everywhere(procedure: &Procedure, axes: &[AxisId]) -> Vec<Place> {
    procedure.places(axes).collect()
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
        // What is left out, or can't be done any more, takes nothing off and brings nothing back.
        let passed = |step: &PlannedStep| matches!(step.standing, Standing::Absent | Standing::NotDone(_));
        for (phase, step) in plan.steps().filter(|(_, step)| !passed(step) && !step.trial) {
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
            PlacedKind::Joint(_) => {
                let here = fastened(procedure, std::slice::from_ref(placed)).into_iter();
                let mut sets: Vec<SetId> = here.map(|(set, _)| set).collect();
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

fn named(procedure: &Procedure, axes: &[AxisId], places: &[Place]) -> Vec<String> {
    places.iter().map(|place| procedure.place_name(axes, *place).replace(", ", " ")).collect()
}

fn part_goes(part: &Part, verdict: &Verdict) -> (String, String) {
    let rack = if part.worn_in { "rack" } else { "kept" };
    let (words, more) = match verdict {
        Verdict::Open => (if part.worn_in { "rack" } else { "kept" }, ": to be judged".to_owned()),
        Verdict::Renew { .. } => ("kept", ", to compare".to_owned()),
        Verdict::GoesBack => (rack, String::new()),
        Verdict::CleanAndBack => ("wash", if part.worn_in { ", rack".to_owned() } else { String::new() }),
        Verdict::Machine { what, .. } => ("out", format!(": {what}")),
        Verdict::Keep => ("kept until settled", String::new()),
        Verdict::LeaveOut(why) => ("left out", format!(": {why}")),
    };
    (words.to_owned(), more)
}

fn set_comes_back(
    procedure: &Procedure,
    set: &FastenerSet,
    place: Place,
    goes_in: &GoesIn,
) -> (String, String) {
    let bound = procedure.bound(&set.axes, place);
    let by = match (goes_in, set.reuse.at(&bound).map(|said| &said.value)) {
        (GoesIn::Unsettled, Some(Reuse::By(gauge))) => {
            format!(", by {}", words::inner(&procedure.gauge(gauge.id).naming.title))
        }
        (GoesIn::Unsettled, None) => match set.reuse.chosen_by(&bound).collect::<Vec<_>>() {
            choosing if choosing.is_empty() => String::new(),
            choosing => format!(": {}", hangs_on(procedure, choosing)),
        },
        _ => String::new(),
    };
    (goes_in.word(), by)
}
