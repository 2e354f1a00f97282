//! What each reading rests on: the parts that take its value away when they are machined or renewed. From what the
//! procedure declares of its gauges: what they are `of`, whose fate they decide, whether they are read with their part
//! fitted, and then what that part sits in and on. It must not know what becomes of any part.

use std::collections::{BTreeMap, BTreeSet};

use super::values::measured_part;
use crate::procedure::model::{
    At, Binding, Condition, CoverThing, Deed, Fate, FateChoice, Gauge, GaugeId, Guard, Judge, PartCondition,
    PartId, Phase, Place, Procedure, Question, Reuse, Step, Target,
};

/// A part at one of its places.
pub(super) type Piece = (PartId, Place);

/// What one reading rests on.
#[derive(Default)]
pub(super) struct Rest {
    /// What is measured or judged by it, and what is within that: the part itself first. A new one has another value.
    pub(super) measured: Vec<Piece>,
    /// What that sits in and on, from near to far, where it is read with its part fitted: machining it moves the value.
    pub(super) seat: Vec<Piece>,
}

/// What readings rest on, and what they are for.
pub(super) struct Resting {
    /// By gauge that is read, at each place.
    on: BTreeMap<(GaugeId, Place), Rest>,
    surveyed: BTreeSet<GaugeId>,
    deciding: BTreeSet<GaugeId>,
}

impl Resting {
    pub(super) fn new(procedure: &Procedure) -> Resting {
        let frame = Frame::new(procedure);
        let judged = judged(procedure);
        let mut on = BTreeMap::new();
        for (id, gauge) in procedure.gauges.numbered() {
            if gauge.formula.is_some() {
                continue;
            }
            for place in procedure.places(&gauge.axes) {
                let mut rest = frame.rest(gauge, place, own(procedure, id, place));
                rest.measured.extend(judged.get(&(id, place)).into_iter().flatten());
                on.insert((id, place), rest);
            }
        }
        Resting { on, surveyed: surveyed(procedure), deciding: deciding(procedure) }
    }

    /// What a reading rests on; nothing for what is computed.
    pub(super) fn on(&self, id: GaugeId, place: Place) -> Option<&Rest> {
        self.on.get(&(id, place))
    }

    /// Whether a step of the survey reads it: it can be read before the building begins.
    pub(super) fn surveyed(&self, id: GaugeId) -> bool {
        self.surveyed.contains(&id)
    }

    /// Whether a fate, or work before the building, hangs on its bands: what was found decides. Otherwise its bands are
    /// about the engine as it is built, and the latest reading counts.
    pub(super) fn deciding(&self, id: GaugeId) -> bool {
        self.deciding.contains(&id)
    }
}

/// The pieces that a gauge measures at one place.
fn own(procedure: &Procedure, id: GaugeId, place: Place) -> Vec<Piece> {
    let measured = measured_part(procedure, id, place);
    measured
        .into_iter()
        .flat_map(|(part, places)| places.into_iter().map(move |place| (part, place)))
        .collect()
}

/// What sits in and on what.
struct Frame<'a> {
    procedure: &'a Procedure,
    hosts: BTreeMap<Piece, Piece>,
    contents: BTreeMap<Piece, Vec<Piece>>,
    /// What lies directly under a piece: what is covered by it, and what it is clamped to.
    below: BTreeMap<Piece, Vec<Piece>>,
}

impl<'a> Frame<'a> {
    fn new(procedure: &'a Procedure) -> Frame<'a> {
        let (hosts, contents, below) = (BTreeMap::new(), BTreeMap::new(), BTreeMap::new());
        let mut frame = Frame { procedure, hosts, contents, below };
        for (id, part) in procedure.parts.numbered() {
            for place in procedure.places(&part.axes) {
                let coordinates = procedure.coordinates(&part.axes, place);
                let bound = procedure.bound(&part.axes, place);
                if let Some(within) = &part.within
                    && let Some(host) = frame.pieces(&within.host, &bound).first().copied()
                {
                    frame.hosts.insert((id, place), host);
                    frame.contents.entry(host).or_default().push((id, place));
                }
                for cover in &part.under {
                    let here = cover.at.0.iter().zip(&coordinates).all(|(at, coordinate)| match at {
                        At::Axis => true,
                        At::Position(position) => position == coordinate,
                    });
                    if let (true, CoverThing::Part(over)) = (here, &cover.by) {
                        for over in frame.pieces(over, &bound) {
                            frame.below.entry(over).or_default().push((id, place));
                        }
                    }
                }
            }
        }
        for joint in &procedure.joints {
            for place in procedure.places(&joint.axes) {
                let bound = procedure.bound(&joint.axes, place);
                let clamped: Vec<Vec<Piece>> =
                    joint.clamps.iter().map(|target| frame.pieces(target, &bound)).collect();
                for (at, upper) in clamped.iter().enumerate() {
                    for piece in upper {
                        frame.below.entry(*piece).or_default().extend(clamped[at + 1..].iter().flatten());
                    }
                }
            }
        }
        frame
    }

    fn pieces(&self, target: &Target<PartId>, bound: &Binding) -> Vec<Piece> {
        self.procedure.meant(target, bound)
    }

    /// What a reading of these pieces rests on. What is read on the bench rests on nothing but itself; what the gauge needs
    /// off bears nothing but what is in it.
    fn rest(&self, gauge: &Gauge, place: Place, own: Vec<Piece>) -> Rest {
        let bound = self.procedure.bound(&gauge.axes, place);
        let needed = |wanted: PartCondition| -> Vec<Piece> {
            let needs = gauge.needs.iter().filter_map(|need| match need {
                Condition::Part(target, condition) if *condition == wanted => {
                    Some(self.pieces(target, &bound))
                }
                _ => None,
            });
            needs.flatten().collect()
        };
        let (fitted, off) = (needed(PartCondition::Fitted), needed(PartCondition::Off));
        let in_place = gauge.taken_off == Some(false);
        if !in_place && !own.iter().any(|piece| fitted.contains(piece)) {
            return Rest { measured: own, seat: Vec::new() };
        }
        let mut seat: Vec<Piece> = Vec::new();
        let mut carried: Vec<Piece> = own.iter().chain(&fitted).copied().collect();
        let mut next = 0;
        while let Some(piece) = carried.get(next).copied() {
            next += 1;
            let host = self.hosts.get(&piece).copied();
            if let Some(host) = host {
                seat.push(host);
                if (in_place || fitted.contains(&host)) && !off.contains(&host) && !carried.contains(&host) {
                    carried.push(host);
                }
            }
            let under = self.below.get(&piece).into_iter().flatten().copied();
            // Of another assembly than its own only what the engine as it stands brings into play.
            let under = under.filter(|under| in_place || self.hosts.get(under).copied() == host);
            for under in under.filter(|under| !off.contains(under)) {
                seat.push(under);
                if !carried.contains(&under) {
                    carried.push(under);
                }
            }
        }
        let within = own.iter().filter_map(|piece| self.contents.get(piece)).flatten();
        let measured = own.iter().chain(within).copied().collect();
        Rest { measured, seat }
    }
}

/// The parts whose fate a gauge that is read decides, itself or through what is computed from it.
fn judged(procedure: &Procedure) -> BTreeMap<(GaugeId, Place), Vec<Piece>> {
    let mut found: BTreeMap<(GaugeId, Place), Vec<Piece>> = BTreeMap::new();
    for (id, part) in procedure.parts.numbered() {
        for place in procedure.places(&part.axes) {
            let bound = procedure.bound(&part.axes, place);
            for target in judges(part.fate.iter().flat_map(FateChoice::fates)) {
                for (_, at) in procedure.meant(target, &bound) {
                    for input in procedure.readings_behind(target.id, at) {
                        found.entry(input).or_default().push((id, place));
                    }
                }
            }
        }
    }
    found
}

fn judges<'a>(fates: impl Iterator<Item = &'a Fate>) -> impl Iterator<Item = &'a Target<GaugeId>> {
    let judges = fates.filter_map(|fate| if let Fate::By(judges) = fate { Some(judges) } else { None });
    judges.flatten().filter_map(|judge| if let Judge::Gauge(target) = judge { Some(target) } else { None })
}

fn surveyed(procedure: &Procedure) -> BTreeSet<GaugeId> {
    let survey = procedure.steps.iter().filter(|step| step.phase == Phase::Survey);
    let acts = survey.flat_map(Step::acts);
    let read = acts.filter_map(|act| if let Deed::Gauge(targets) = &act.deed { Some(targets) } else { None });
    read.flatten().map(|target| target.id).collect()
}

fn deciding(procedure: &Procedure) -> BTreeSet<GaugeId> {
    let mut found = BTreeSet::new();
    let mut guard = |guard: &Guard| {
        found.extend(guard.0.iter().filter_map(|term| match &term.question {
            Question::Gauge(target) => Some(target.id),
            _ => None,
        }));
    };
    for part in &procedure.parts {
        guard(&part.present);
        part.fate.iter().flat_map(|choice| &choice.cases).for_each(|(_, when)| guard(when));
    }
    let before = |step: &&Step| matches!(step.phase, Phase::Strip | Phase::Survey);
    procedure.steps.iter().filter(before).for_each(|step| guard(&step.when));
    let fates = procedure.parts.iter().filter_map(|part| part.fate.as_ref()).flat_map(FateChoice::fates);
    found.extend(judges(fates).map(|target| target.id));
    let reused = procedure.sets.iter().filter_map(|set| match &set.reuse {
        Some((Reuse::By(target), _)) => Some(target.id),
        _ => None,
    });
    found.extend(reused);
    found
}
