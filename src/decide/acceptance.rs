//! What must come before a part goes back: new parts in hand and measured, work accepted, readings as returned.

use std::collections::BTreeSet;

use super::answers::{all_places, changed, standing, wear};
use super::values::Book;
use super::{Answer, Asked, Decisions, Hold, Meaning, ToMeasure, Verdict, Why, meaning, shown};
use crate::metrology::Wear;
use crate::procedure::model::{Fate, GaugeId, Judge, PartId, Place};
use crate::record::{Goods, Job, Occasion};

/// Things that came in.
pub(super) fn in_hand(job: &Job) -> BTreeSet<Goods> {
    job.orders.iter().filter(|(_, order)| order.arrived.is_some()).map(|(goods, _)| *goods).collect()
}

/// Adds to each part what must come before it is fitted, and lists what is still to be measured.
pub(super) fn holds(book: &Book, decisions: &mut Decisions) {
    let keys: Vec<(PartId, Place)> = decisions.fates.keys().copied().collect();
    for key in keys {
        let found = before_fitting(book, decisions, key);
        if let Some(decision) = decisions.fates.get_mut(&key) {
            for hold in found {
                if !decision.holds.contains(&hold) {
                    decision.holds.push(hold);
                }
            }
        }
    }
    decisions.to_measure = to_measure(book, decisions);
}

fn before_fitting(book: &Book, decisions: &Decisions, key: (PartId, Place)) -> Vec<Hold> {
    let (part, place) = key;
    let Some(decision) = decisions.fates.get(&key) else { return Vec::new() };
    match &decision.verdict {
        Verdict::Renew { .. } => {
            let goods = [Goods::Part(part, Some(place)), Goods::Part(part, None)];
            if goods.iter().any(|goods| decisions.in_hand.contains(goods)) {
                judging(book, part, place)
                    .into_iter()
                    .filter_map(|asked| accepted_by(book, decisions, asked, Occasion::AsBuilt))
                    .collect()
            } else {
                let [_, every] = goods;
                vec![Hold::NotInHand(every)]
            }
        }
        Verdict::Machine { .. } => {
            let mut holds = parts_to_size_by(book, decisions, part, place);
            match book.job.sent.get(&key) {
                None => holds.push(Hold::NotSent),
                Some(work) if work.sent.is_none() => holds.push(Hold::NotSent),
                Some(work) if work.back.is_none() => holds.push(Hold::NotBack),
                Some(work) => {
                    let judges = judging(book, part, place);
                    let returned = judges
                        .into_iter()
                        .filter_map(|asked| accepted_by(book, decisions, asked, Occasion::AsReturned));
                    holds.extend(returned);
                    if work.accepted.is_none() {
                        holds.push(Hold::NotAccepted);
                    }
                }
            }
            holds
        }
        _ => Vec::new(),
    }
}

/// `size by parts in hand`: the parts that go into this one must be there and measured before it is sized.
fn parts_to_size_by(book: &Book, decisions: &Decisions, part: PartId, place: Place) -> Vec<Hold> {
    let choice = book.procedure.part(part).fate.as_ref();
    let fates = choice
        .into_iter()
        .flat_map(|choice| choice.cases.iter().map(|(fate, _)| fate).chain(&choice.otherwise));
    if !fates.into_iter().any(|fate| *fate == Fate::SizeByPartsInHand) {
        return Vec::new();
    }
    let mut holds = Vec::new();
    for (gauge, at) in partners(book, part, place) {
        let Some((partner, places)) = book.measured_part(gauge, at) else { continue };
        for partner_place in places {
            let goods = [Goods::Part(partner, Some(partner_place)), Goods::Part(partner, None)];
            if !goods.iter().any(|goods| decisions.in_hand.contains(goods)) {
                holds.push(Hold::NotInHand(Goods::Part(partner, None)));
            } else if book.grid(gauge, at, Occasion::AsBuilt).is_err() {
                holds.push(Hold::NewPartUnmeasured(gauge, at));
            }
        }
    }
    holds.dedup();
    holds
}

/// Gauges of other parts that are computed with together with a gauge of this part.
fn partners(book: &Book, part: PartId, place: Place) -> Vec<(GaugeId, Place)> {
    let mut found = Vec::new();
    for (id, gauge) in (0u32..).map(GaugeId).zip(&book.procedure.gauges) {
        if gauge.formula.is_none() {
            continue;
        }
        for at in all_places(book.procedure.places(&gauge.axes)) {
            let inputs = book.inputs(id, at);
            let of = |(gauge, at): &(GaugeId, Place)| book.measured_part(*gauge, *at);
            let ours =
                inputs.iter().filter_map(of).any(|(other, places)| other == part && places.contains(&place));
            if ours {
                let others = inputs.iter().filter(|input| of(input).is_some_and(|(other, _)| other != part));
                found.extend(others.copied());
            }
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// The gauges and looks that judge a part at one place, and those that measure it and have limits.
fn judging(book: &Book, part: PartId, place: Place) -> Vec<Asked> {
    let procedure = book.procedure;
    let declared = procedure.part(part);
    let bound = declared.binding(&procedure.coordinates(&declared.axes, place));
    let choice = declared.fate.as_ref();
    let fates = choice
        .into_iter()
        .flat_map(|choice| choice.cases.iter().map(|(fate, _)| fate).chain(&choice.otherwise));
    let mut found = Vec::new();
    for fate in fates {
        let Fate::By(judges) = fate else { continue };
        for judge in judges {
            match judge {
                Judge::Gauge(target) => {
                    let axes = &procedure.gauge(target.id).axes;
                    let places = procedure.matching(axes, &target.pattern, &bound);
                    found.extend(places.into_iter().map(|place| Asked::Gauge(target.id, place)));
                }
                Judge::Look(target) => {
                    let axes = &procedure.look(target.id).axes;
                    let places = procedure.matching(axes, &target.pattern, &bound);
                    found.extend(places.into_iter().map(|place| Asked::Look(target.id, place)));
                }
            }
        }
    }
    for (id, gauge) in (0u32..).map(GaugeId).zip(&procedure.gauges) {
        if gauge.bands.is_empty() && gauge.made.is_none() {
            continue;
        }
        for at in all_places(procedure.places(&gauge.axes)) {
            if book.measured_part(id, at).is_some_and(|(of, places)| of == part && places.contains(&place)) {
                found.push(Asked::Gauge(id, at));
            }
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// What speaks against a part by one gauge or look on this occasion or later: not taken, in doubt, or not good.
fn accepted_by(book: &Book, decisions: &Decisions, asked: Asked, occasion: Occasion) -> Option<Hold> {
    let procedure = book.procedure;
    match asked {
        Asked::Ask(_) => None,
        Asked::Look(id, place) => {
            let looks = book.job.looks.iter();
            let later =
                looks.filter(|look| look.look == id && look.place == place && look.occasion >= occasion);
            // A new part is looked at when it is compared with the old one; only returned work is looked at again.
            let Some(latest) = later.max_by_key(|look| look.occasion) else {
                return (occasion == Occasion::AsReturned).then_some(Hold::Question(asked));
            };
            let name = &procedure.look(id).results[latest.result];
            good(asked, name)
        }
        Asked::Gauge(id, place) => {
            let superseded = |part, place| changed(decisions, part, place);
            let latest = [Occasion::AsBuilt, Occasion::AsReturned]
                .into_iter()
                .filter(|later| *later >= occasion && book.touched(id, place, *later))
                .find_map(|later| book.value(id, place, later, &superseded).ok().map(|value| (later, value)));
            let Some((later, value)) = latest else {
                let missing =
                    if occasion == Occasion::AsBuilt { Hold::NewPartUnmeasured } else { Hold::Unmeasured };
                return Some(missing(id, place));
            };
            let gauge = procedure.gauge(id);
            if !gauge.bands.is_empty() {
                return match standing(book, id, place, later, &value) {
                    Answer::Settled { answer, .. } => good(asked, &gauge.bands[answer].name),
                    Answer::Open(_) => Some(Hold::Question(asked)),
                };
            }
            sized(book, decisions, id, place, later, &value)
        }
    }
}

fn good(asked: Asked, name: &str) -> Option<Hold> {
    match meaning(name) {
        Some(Meaning::Back | Meaning::Clean) => None,
        Some(_) => Some(Hold::NotGood(asked, name.to_owned())),
        None => Some(Hold::NoMeaning(asked, name.to_owned())),
    }
}

/// A size without bands against its limits: those of the size that it was machined to, else those as made.
fn sized(
    book: &Book,
    decisions: &Decisions,
    id: GaugeId,
    place: Place,
    occasion: Occasion,
    value: &super::Value,
) -> Option<Hold> {
    let asked = Asked::Gauge(id, place);
    let gauge = book.procedure.gauge(id);
    let shown_value = || shown::with_doubt(value.measured, value.unit, value.places);
    let target = book.measured_part(id, place).and_then(|(part, places)| {
        places.into_iter().find_map(|place| match &decisions.fates.get(&(part, place))?.verdict {
            Verdict::Machine { to: Some(size), .. } if size.gauge == id => Some(size.clone()),
            _ => None,
        })
    });
    let values = match book.grid(id, place, occasion) {
        Ok(grid) if gauge.formula.is_none() => grid.values(),
        _ => vec![value.measured],
    };
    let limits = match &target {
        Some(size) => crate::metrology::Limits {
            made: Some((Some(size.low.base()), size.high.map(|high| high.base()).or(Some(size.low.base())))),
            worn: None,
        },
        None => crate::metrology::Limits { worn: None, ..super::answers::limits(gauge) },
    };
    let wears: Vec<Wear> = match target {
        Some(_) => values.iter().map(|value| limits.wear(*value)).collect(),
        None => vec![wear(gauge, &values)],
    };
    if wears.iter().all(|wear| matches!(wear, Wear::AsMade | Wear::WithinWorn)) {
        None
    } else if wears.iter().any(|wear| matches!(wear, Wear::Beyond | Wear::WrongSide)) {
        Some(Hold::NotGood(asked, shown_value()))
    } else {
        Some(Hold::Question(asked))
    }
}

/// What is still to be measured, in declared order: gauges that are read and looks, with why.
fn to_measure(book: &Book, decisions: &Decisions) -> Vec<ToMeasure> {
    let mut found: Vec<ToMeasure> = Vec::new();
    let mut add = |asked: Asked, occasion: Occasion, because: String| {
        if !found.iter().any(|other| other.asked == asked && other.occasion == occasion) {
            found.push(ToMeasure { asked, occasion, because });
        }
    };
    let procedure = book.procedure;
    for (asked, why) in decisions.open_questions() {
        let name = asked.name(procedure);
        match (asked, why) {
            (Asked::Look(..), _) => add(asked, Occasion::AsFound, "not looked at yet".to_owned()),
            (Asked::Gauge(..), Why::NotTaken(inputs)) => {
                for (id, place) in inputs {
                    let because = format!("`{name}` needs it");
                    add(Asked::Gauge(*id, *place), Occasion::AsFound, because);
                }
            }
            (Asked::Gauge(id, place), Why::MeasureAgain(value, _)) => {
                for (id, place) in book.inputs(id, place) {
                    let because = format!("`{name}` is {value}, too near a limit: measure again");
                    add(Asked::Gauge(id, place), Occasion::AsFound, because);
                }
            }
            (Asked::Gauge(id, place), Why::Implausible) => {
                for (id, place) in book.inputs(id, place) {
                    let because = "a reading can hardly be right".to_owned();
                    add(Asked::Gauge(id, place), Occasion::AsFound, because);
                }
            }
            _ => {}
        }
    }
    for decision in decisions.fates.values() {
        for hold in &decision.holds {
            match hold {
                Hold::NewPartUnmeasured(id, place) => {
                    for (id, place) in book.inputs(*id, *place) {
                        add(
                            Asked::Gauge(id, place),
                            Occasion::AsBuilt,
                            "the new part is measured".to_owned(),
                        );
                    }
                }
                Hold::Unmeasured(id, place) => {
                    for (id, place) in book.inputs(*id, *place) {
                        let because = "machined parts are measured as they came back".to_owned();
                        add(Asked::Gauge(id, place), Occasion::AsReturned, because);
                    }
                }
                Hold::Question(Asked::Gauge(id, place)) if book.procedure.gauge(*id).bands.is_empty() => {
                    for (id, place) in book.inputs(*id, *place) {
                        if book.grid(id, place, Occasion::AsFound).is_err() {
                            add(Asked::Gauge(id, place), Occasion::AsFound, "a size hangs on it".to_owned());
                        }
                    }
                }
                _ => {}
            }
        }
    }
    found
}
