//! What must come before a part goes back: new parts in hand and measured, work accepted, readings as returned.

use std::collections::BTreeSet;

use super::answers::{all_places, changed, limits, standing};
use super::formula::for_each_reading;
use super::values::Book;
use super::{Answer, Asked, Decisions, Hold, Meaning, Size, ToMeasure, Verdict, Why, meaning, shown};
use crate::metrology::{Limits, Wear};
use crate::procedure::model::{
    Act, Condition, Deed, Fate, GaugeId, Judge, LookId, PartCondition, PartId, Phase, Place, Procedure, Step,
};
use crate::quantity::Quantity;
use crate::record::{Goods, Job, Occasion, Order};

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
        Verdict::Renew { size } => {
            if let Some(hold) = not_in_hand(book, part, place, *size) {
                return vec![hold];
            }
            let judges = judging(book, part, place).into_iter();
            judges.filter_map(|asked| accepted_by(book, decisions, asked, Occasion::AsBuilt)).collect()
        }
        Verdict::Machine { to, .. } => {
            let mut holds = parts_to_size_by(book, decisions, part, place, to);
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

/// The order of a part at one place, or of all of its places.
fn order_of<'a>(book: &Book<'a>, part: PartId, place: Place) -> Option<(Goods, &'a Order)> {
    [Goods::Part(part, Some(place)), Goods::Part(part, None)]
        .into_iter()
        .find_map(|goods| book.job.orders.get(&goods).map(|order| (goods, order)))
}

/// What speaks against a new part: it has not come, or not in the size that is needed.
fn not_in_hand(book: &Book, part: PartId, place: Place, size: Option<Quantity>) -> Option<Hold> {
    match (order_of(book, part, place), size) {
        (Some((goods, order)), Some(size)) if order.arrived.is_some() => {
            let right = order.size.is_some_and(|found| same(found, size));
            (!right).then_some(Hold::WrongSize(goods, size))
        }
        (Some((_, order)), None) if order.arrived.is_some() => None,
        _ => Some(Hold::NotInHand(Goods::Part(part, None))),
    }
}

/// Whether two sizes are the same, be they written in different units.
fn same(a: Quantity, b: Quantity) -> bool {
    (a.base() - b.base()).abs() <= 1e-9 * a.base().abs()
}

/// The new parts that go into a part must be there and measured before it is sized. Which they are, a clearance
/// between the two tells; where none does, something in the size that is machined to must have come.
fn parts_to_size_by(
    book: &Book,
    decisions: &Decisions,
    part: PartId,
    place: Place,
    to: &[Size],
) -> Vec<Hold> {
    let choice = book.procedure.part(part).fate.as_ref();
    let mut fates = choice
        .into_iter()
        .flat_map(|choice| choice.cases.iter().map(|(fate, _)| fate).chain(&choice.otherwise));
    let by_parts_in_hand = fates.any(|fate| *fate == Fate::SizeByPartsInHand);
    let mut holds = Vec::new();
    for size in to {
        let partners = partners(book, part, place, size.gauge);
        let bought = bought_by(book, part, place, size.gauge);
        holds.extend(bought.iter().filter_map(|(new, at)| not_in_hand(book, *new, *at, Some(size.step))));
        if partners.is_empty() && bought.is_empty() && by_parts_in_hand {
            let mut orders = book.job.orders.values().filter(|order| order.arrived.is_some());
            if !orders.any(|order| order.size.is_some_and(|found| same(found, size.step))) {
                holds.push(Hold::NothingInSize(size.step));
            }
        }
        for (gauge, at) in partners {
            let Some((partner, places)) = book.measured_part(gauge, at) else { continue };
            for partner_place in places.into_iter().filter(|place| changed(decisions, partner, *place)) {
                match not_in_hand(book, partner, partner_place, Some(size.step)) {
                    Some(hold) => holds.push(hold),
                    None if book.grid(gauge, at, Occasion::AsBuilt).is_err() => {
                        holds.push(Hold::NewPartUnmeasured(gauge, at));
                    }
                    None => {}
                }
            }
        }
    }
    holds.dedup();
    holds
}

/// Parts that are bought in the size that a gauge of a part is machined to, by what the procedure says of them.
fn bought_by(book: &Book, part: PartId, place: Place, gauge: GaugeId) -> Vec<(PartId, Place)> {
    let procedure = book.procedure;
    let mut found = Vec::new();
    for (id, other) in (0u32..).map(PartId).zip(&procedure.parts) {
        for at in all_places(procedure.places(&other.axes)) {
            let bound = other.binding(&procedure.coordinates(&other.axes, at));
            let sized = other.sized_by.iter().filter(|target| target.id == gauge).any(|target| {
                let axes = &procedure.gauge(gauge).axes;
                procedure.matching(axes, &target.pattern, &bound).into_iter().any(|at| {
                    book.measured_part(gauge, at)
                        .is_some_and(|(measured, places)| measured == part && places.contains(&place))
                })
            });
            if sized {
                found.push((id, at));
            }
        }
    }
    found
}

/// Gauges of other parts that are computed with together with this gauge of a part.
fn partners(book: &Book, part: PartId, place: Place, sized: GaugeId) -> Vec<(GaugeId, Place)> {
    let mut found = Vec::new();
    for (id, gauge) in (0u32..).map(GaugeId).zip(&book.procedure.gauges) {
        if gauge.formula.is_none() {
            continue;
        }
        for at in all_places(book.procedure.places(&gauge.axes)) {
            let inputs = book.inputs(id, at);
            let of = |(gauge, at): &(GaugeId, Place)| book.measured_part(*gauge, *at);
            let mut own = inputs.iter().filter(|(gauge, _)| *gauge == sized).filter_map(of);
            let ours = own.any(|(other, places)| other == part && places.contains(&place));
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
                if comes_later(book, id, place) {
                    return None;
                }
                let missing =
                    if occasion == Occasion::AsBuilt { Hold::NewPartUnmeasured } else { Hold::Unmeasured };
                return Some(missing(id, place));
            };
            let gauge = procedure.gauge(id);
            let inputs = book.inputs(id, place);
            let verdicts = decisions.fates.values().map(|decision| &decision.verdict);
            let mut sizes = verdicts
                .filter_map(|verdict| if let Verdict::Machine { to, .. } = verdict { Some(to) } else { None })
                .flatten();
            if !gauge.bands.is_empty()
                && sizes.any(|size| inputs.iter().any(|(input, _)| *input == size.gauge))
            {
                // Its bands are about the size that was; the size that was machined to judges now.
                return None;
            }
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

/// Whether a gauge, or one that it is computed from, is read with its part fitted or while the engine is built: what
/// the building shows can't be asked for before it, and the step that reads it holds what comes after.
pub(super) fn comes_later(book: &Book, id: GaugeId, place: Place) -> bool {
    let procedure = book.procedure;
    book.inputs(id, place).into_iter().any(|(id, _)| {
        let gauge = procedure.gauge(id);
        let needs_it_fitted = gauge.needs.iter().any(|need| match need {
            Condition::Part(target, PartCondition::Fitted) => {
                gauge.of.as_ref().is_some_and(|of| of.id == target.id)
            }
            _ => false,
        });
        let read = |act: &Act| {
            matches!(&act.deed, Deed::Gauge(targets) if targets.iter().any(|target| target.id == id))
        };
        let building = procedure.steps.iter().filter(|step| matches!(step.phase, Phase::Build | Phase::Start));
        let read_in_step = building.flat_map(Step::acts).any(read);
        let then = procedure.sets.iter().map(|set| &set.then).chain(procedure.joints.iter().map(|joint| &joint.then));
        gauge.taken_off == Some(false) || needs_it_fitted || read_in_step || then.flatten().any(read)
    })
}

/// Whether a look belongs to the building and to nothing before it.
fn looked_at_in_building(book: &Book, id: LookId) -> bool {
    let looks = |step: &&Step| {
        step.acts().any(
            |act| matches!(&act.deed, Deed::Look(targets) if targets.iter().any(|target| target.id == id)),
        )
    };
    let building = |step: &Step| matches!(step.phase, Phase::Build | Phase::Start);
    let mut steps = book.procedure.steps.iter().filter(looks).peekable();
    steps.peek().is_some() && steps.all(building)
}

/// Whether a gauge of one part is computed with together with a gauge of another.
pub fn goes_into_a_clearance(procedure: &Procedure, id: GaugeId) -> bool {
    let part = |gauge: GaugeId| procedure.gauge(gauge).of.as_ref().map(|of| of.id);
    procedure.gauges.iter().filter_map(|gauge| gauge.formula.as_ref()).any(|(formula, _)| {
        let mut named = Vec::new();
        for_each_reading(formula, &mut |target| named.push(target.id));
        named.contains(&id) && named.iter().any(|other| part(*other) != part(id))
    })
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
    let fate =
        |part: PartId, place: Place| decisions.fates.get(&(part, place)).map(|decision| &decision.verdict);
    let mut target = None;
    for verdict in book
        .measured_part(id, place)
        .into_iter()
        .flat_map(|(part, places)| places.into_iter().filter_map(move |place| fate(part, place)))
    {
        match verdict {
            Verdict::Machine { to, .. } => target = to.iter().find(|size| size.gauge == id).or(target),
            // Which of its sizes moved with the oversize only the clearance to its partner tells.
            Verdict::Renew { size: Some(_) } if goes_into_a_clearance(book.procedure, id) => return None,
            _ => {}
        }
    }
    let values = match book.grid(id, place, occasion) {
        Ok(grid) if gauge.formula.is_none() => grid.values(),
        _ => vec![value.measured],
    };
    // What is new or machined has to be as made; as worn is for what merely goes back.
    let made = match target {
        Some(size) => Some((Some(size.low.base()), Some(size.high.unwrap_or(size.low).base()))),
        None => limits(gauge).made,
    };
    let worn = if made == Some((None, Some(0.0))) { limits(gauge).worn } else { None };
    let wears: Vec<Wear> = values.iter().map(|value| Limits { made, worn }.wear(*value)).collect();
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
            (Asked::Look(id, _), _) if looked_at_in_building(book, id) => {
                add(asked, Occasion::AsBuilt, "looked at while it is built".to_owned());
            }
            (Asked::Look(..), _) => add(asked, Occasion::AsFound, "not looked at yet".to_owned()),
            (Asked::Gauge(..), Why::NotTaken(inputs)) => {
                for (id, place) in inputs {
                    let occasion =
                        if comes_later(book, *id, *place) { Occasion::AsBuilt } else { Occasion::AsFound };
                    add(Asked::Gauge(*id, *place), occasion, format!("`{name}` needs it"));
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
                        let on = |occasion| book.grid(id, place, occasion).is_ok();
                        let (occasion, because) = if on(Occasion::AsReturned) {
                            (Occasion::AsReturned, "too near a limit of the size ordered: measure again")
                        } else if on(Occasion::AsFound) {
                            (Occasion::AsFound, "too near what a size would clean up: measure again")
                        } else {
                            (Occasion::AsFound, "a size hangs on it")
                        };
                        add(Asked::Gauge(id, place), occasion, because.to_owned());
                    }
                }
                _ => {}
            }
        }
    }
    found
}
