//! What becomes of each part at each of its places, and why.

use std::collections::BTreeMap;

use super::answers::{all_places, limits, wear};
use super::values::{Book, for_each_reading};
use super::{Answer, Asked, Decisions, Guarded, Hold, Meaning, PartDecision, Size, Verdict, meaning, shown};
use crate::metrology::{Direction, Measured, Side, Sizing, Wear, next_size};
use crate::procedure::model::{Binding, Fate, GaugeId, Judge, Part, PartId, Place};
use crate::quantity::{Numeral, Quantity};
use crate::record::Occasion;

/// What one judge says of a part.
struct Opinion {
    meaning: Option<Meaning>,
    because: String,
    /// What it hangs on, where it can't say.
    hold: Option<Hold>,
    /// The gauges that sizes may be taken from: itself, or what it is computed from.
    gauges: Vec<(GaugeId, Place)>,
}

/// Settles what can be settled.
pub(super) fn fates(book: &Book, decisions: &mut Decisions) {
    let procedure = book.procedure;
    let mut fates = BTreeMap::new();
    for (id, part) in (0u32..).map(PartId).zip(&procedure.parts) {
        for place in all_places(procedure.places(&part.axes)) {
            fates.insert((id, place), fate(book, decisions, id, part, place));
        }
    }
    one_size_for_all(book, &mut fates);
    follow(book, &mut fates);
    decisions.fates = fates;
}

fn fate(book: &Book, decisions: &Decisions, id: PartId, part: &Part, place: Place) -> PartDecision {
    let bound = part.binding(&book.procedure.coordinates(&part.axes, place));
    let Some(choice) = &part.fate else {
        return settled(Verdict::GoesBack, "nothing else is said".to_owned());
    };
    for (fate, guard) in &choice.cases {
        match decisions.guard(book.procedure, guard, &bound) {
            Guarded::Yes => {
                let answers: Vec<String> = guard
                    .0
                    .iter()
                    .flat_map(|term| super::places_asked(book.procedure, &term.question, &bound))
                    .filter_map(|asked| because_of(decisions, asked))
                    .collect();
                return of(book, decisions, id, fate, place, &bound, answers.join("; "));
            }
            Guarded::No => {}
            Guarded::Open(asked) => return open(asked.into_iter().map(Hold::Question).collect()),
        }
    }
    match &choice.otherwise {
        Some(fate) => {
            let words = if choice.cases.is_empty() { "always" } else { "no other case applies" };
            of(book, decisions, id, fate, place, &bound, words.to_owned())
        }
        None => settled(Verdict::GoesBack, "nothing else is said".to_owned()),
    }
}

fn because_of(decisions: &Decisions, asked: Asked) -> Option<String> {
    match decisions.answers.get(&asked)? {
        Answer::Settled { because, .. } => Some(because.clone()),
        Answer::Open(_) => None,
    }
}

fn settled(verdict: Verdict, because: String) -> PartDecision {
    PartDecision { verdict, because, holds: Vec::new() }
}

fn open(holds: Vec<Hold>) -> PartDecision {
    PartDecision { verdict: Verdict::Open, because: String::new(), holds }
}

fn of(
    book: &Book,
    decisions: &Decisions,
    id: PartId,
    fate: &Fate,
    place: Place,
    bound: &Binding,
    because: String,
) -> PartDecision {
    match fate {
        Fate::Renew => settled(Verdict::Renew { size: None }, because),
        Fate::Reuse => settled(Verdict::GoesBack, because),
        Fate::CleanThenReuse => settled(Verdict::CleanAndBack, because),
        Fate::Send(what) => settled(Verdict::Machine { what: what.clone(), to: None }, because),
        Fate::SizeByPartsInHand => {
            let gauges = gauges_of(book, id, place);
            let what = "size by the parts in hand".to_owned();
            machine(book, what, &gauges, because)
        }
        Fate::KeepUntilSettled => PartDecision { verdict: Verdict::Keep, because, holds: vec![Hold::Keep] },
        Fate::LeaveOut(why) => settled(Verdict::LeaveOut(why.clone()), because),
        Fate::By(judges) => judged(book, decisions, judges, bound),
    }
}

/// Gauges that measure a part at a place and have sizes.
fn gauges_of(book: &Book, id: PartId, place: Place) -> Vec<(GaugeId, Place)> {
    let mut found = Vec::new();
    for (gauge_id, gauge) in (0u32..).map(GaugeId).zip(&book.procedure.gauges) {
        if gauge.sizes.is_none() {
            continue;
        }
        for at in all_places(book.procedure.places(&gauge.axes)) {
            if book
                .measured_part(gauge_id, at)
                .is_some_and(|(part, places)| part == id && places.contains(&place))
            {
                found.push((gauge_id, at));
            }
        }
    }
    found
}

/// The worst that any judge says; open while a judge that is open could say worse.
fn judged(book: &Book, decisions: &Decisions, judges: &[Judge], bound: &Binding) -> PartDecision {
    let mut opinions: Vec<Opinion> = Vec::new();
    for judge in judges {
        match judge {
            Judge::Gauge(target) => {
                let axes = &book.procedure.gauge(target.id).axes;
                for place in book.procedure.matching(axes, &target.pattern, bound) {
                    opinions.push(gauge_opinion(book, decisions, target.id, place));
                }
            }
            Judge::Look(target) => {
                let axes = &book.procedure.look(target.id).axes;
                for place in book.procedure.matching(axes, &target.pattern, bound) {
                    opinions.push(look_opinion(book, decisions, Asked::Look(target.id, place)));
                }
            }
        }
    }
    let worst = opinions.iter().filter_map(|opinion| opinion.meaning).max();
    let undecided = opinions.iter().any(|opinion| opinion.meaning.is_none());
    if undecided && worst != Some(Meaning::Renew) {
        return open(opinions.into_iter().filter_map(|opinion| opinion.hold).collect());
    }
    let Some(worst) = worst else { return open(Vec::new()) };
    let deciding: Vec<&Opinion> = opinions.iter().filter(|opinion| opinion.meaning == Some(worst)).collect();
    let because = deciding.iter().map(|opinion| opinion.because.as_str()).collect::<Vec<&str>>().join("; ");
    match worst {
        Meaning::Back => settled(Verdict::GoesBack, because),
        Meaning::Clean => settled(Verdict::CleanAndBack, because),
        Meaning::Renew => settled(Verdict::Renew { size: None }, because),
        Meaning::Machine => {
            // Every place that is judged is machined alike, also those that would do as they are.
            let gauges: Vec<(GaugeId, Place)> =
                opinions.iter().flat_map(|opinion| opinion.gauges.iter().copied()).collect();
            machine(book, "machine".to_owned(), &gauges, because)
        }
    }
}

fn look_opinion(book: &Book, decisions: &Decisions, asked: Asked) -> Opinion {
    let gauges = Vec::new();
    match decisions.answers.get(&asked) {
        Some(Answer::Settled { answer, because }) => {
            let name = asked.answer_name(book.procedure, *answer);
            let meaning = meaning(name);
            let hold = meaning.is_none().then(|| Hold::NoMeaning(asked, name.to_owned()));
            Opinion { meaning, because: because.clone(), hold, gauges }
        }
        _ => Opinion { meaning: None, because: String::new(), hold: Some(Hold::Question(asked)), gauges },
    }
}

fn gauge_opinion(book: &Book, decisions: &Decisions, id: GaugeId, place: Place) -> Opinion {
    let gauge = book.procedure.gauge(id);
    let asked = Asked::Gauge(id, place);
    let sized = |id: &GaugeId| book.procedure.gauge(*id).sizes.is_some();
    let mut gauges: Vec<(GaugeId, Place)> = book.inputs(id, place);
    gauges.retain(|(id, _)| sized(id));
    if !gauge.bands.is_empty() {
        return Opinion { gauges, ..look_opinion(book, decisions, asked) };
    }
    // Without bands the limits judge.
    let value = decisions.values.get(&(id, place, Occasion::AsFound));
    let Some(value) = value else {
        return Opinion { meaning: None, because: String::new(), hold: Some(Hold::Question(asked)), gauges };
    };
    let values = match book.grid(id, place, Occasion::AsFound) {
        Ok(grid) if gauge.formula.is_none() => grid.values(),
        _ => vec![value.measured],
    };
    let limit = |text: &str| format!("{}: {text} {}", value.working, limit_words(gauge));
    let (meaning, words) = match wear(gauge, &values) {
        Wear::AsMade => (Some(Meaning::Back), limit("within")),
        Wear::WithinWorn => (Some(Meaning::Back), limit("not beyond")),
        Wear::Beyond | Wear::WrongSide if gauges.is_empty() => (Some(Meaning::Renew), limit("beyond")),
        Wear::Beyond => (Some(Meaning::Machine), limit("beyond")),
        Wear::WrongSide | Wear::MeasureAgain | Wear::Unknown => (None, String::new()),
    };
    let hold = meaning.is_none().then_some(Hold::Question(asked));
    Opinion { meaning, because: words, hold, gauges }
}

fn limit_words(gauge: &crate::procedure::model::Gauge) -> String {
    match (&gauge.made, gauge.worn.as_ref().and_then(|worn| worn.value)) {
        (_, Some(worn)) => format!("the limit as worn, {}", worn.printed()),
        (Some(made), None) => {
            format!(
                "the limits as made, {}",
                shown::range(Some(made.value.0), made.value.1.or(Some(made.value.0)))
            )
        }
        (None, None) => "its limits".to_owned(),
    }
}

/// Machining, to the next size that cleans up every place; renewal where no size does.
fn machine(book: &Book, what: String, gauges: &[(GaugeId, Place)], because: String) -> PartDecision {
    let Some((id, _)) = gauges.first().copied() else {
        return settled(Verdict::Machine { what, to: None }, because);
    };
    let gauge = book.procedure.gauge(id);
    let places: Vec<Place> =
        gauges.iter().filter(|(other, _)| *other == id).map(|(_, place)| *place).collect();
    let mut readings: Vec<Measured> = Vec::new();
    let mut missing = Vec::new();
    for place in places {
        match book.grid(id, place, Occasion::AsFound) {
            Ok(grid) => readings.extend(grid.values()),
            Err(_) => missing.push(Hold::Question(Asked::Gauge(id, place))),
        }
    }
    let unsized_machining = |holds: Vec<Hold>, because: String| PartDecision {
        verdict: Verdict::Machine { what: what.clone(), to: None },
        because,
        holds,
    };
    if !missing.is_empty() {
        return unsized_machining(missing, because);
    }
    let (Some(sizes), Some(made)) = (&gauge.sizes, &gauge.made) else {
        return unsized_machining(Vec::new(), because);
    };
    let Some(side) = limits(gauge).side().or_else(|| side_of_readings(gauge, &readings)) else {
        return unsized_machining(Vec::new(), because);
    };
    let (direction, standard, sign) = match side {
        Side::Grows => (Direction::Oversize, made.value.0, 1.0),
        Side::Shrinks => (Direction::Undersize, made.value.1.unwrap_or(made.value.0), -1.0),
    };
    let (steps, allowance) = &sizes.value;
    let step_sizes: Vec<f64> = steps.iter().map(|step| step.base()).collect();
    let allowance_base = allowance.map_or(0.0, |allowance| allowance.base());
    let Some(sizing) = next_size(direction, standard.base(), &readings, &step_sizes, allowance_base) else {
        return unsized_machining(Vec::new(), because);
    };
    let words = |step: usize| working(gauge, side, &readings, standard, steps[step], *allowance);
    match sizing {
        Sizing::To { step, .. } => {
            let to = Size {
                gauge: id,
                step: steps[step],
                grows: side == Side::Grows,
                low: moved(made.value.0, steps[step], sign),
                high: made.value.1.map(|high| moved(high, steps[step], sign)),
            };
            settled(Verdict::Machine { what, to: Some(to) }, format!("{because}; {}", words(step)))
        }
        Sizing::MeasureAgain { step, .. } => {
            let again = gauges.iter().map(|(id, place)| Hold::Question(Asked::Gauge(*id, *place))).collect();
            let doubt = "too near for the instrument: measure again";
            unsized_machining(again, format!("{because}; {} ({doubt})", words(step)))
        }
        Sizing::None => {
            let largest = steps.iter().max_by(|a, b| a.base().total_cmp(&b.base()));
            let words = largest.map_or_else(
                || "there are no sizes".to_owned(),
                |step| format!("not even {} cleans up", step.printed()),
            );
            settled(Verdict::Renew { size: None }, format!("{because}; {words}: resleeve, build up or renew"))
        }
    }
}

/// Without a limit as worn, the side on which every reading lies outside the limits as made.
fn side_of_readings(gauge: &crate::procedure::model::Gauge, readings: &[Measured]) -> Option<Side> {
    let (low, high) = limits(gauge).made?;
    let over = readings.iter().any(|reading| high.is_some_and(|high| reading.value > high));
    let under = readings.iter().any(|reading| low.is_some_and(|low| reading.value < low));
    match (over, under) {
        (true, false) => Some(Side::Grows),
        (false, true) => Some(Side::Shrinks),
        _ => None,
    }
}

/// A size moved by an oversize (`sign` 1) or undersize (−1), in the unit and with the places of the size or those
/// of the step, whichever are more.
fn moved(size: Quantity, step: Quantity, sign: f64) -> Quantity {
    let places = |quantity: Quantity| match quantity.numeral() {
        Numeral::Decimal { places, .. } => places,
        Numeral::Fraction { .. } => 4,
    };
    let places =
        if size.unit() == step.unit() { places(size).max(places(step)) } else { places(size).max(4) };
    Quantity::from_base(size.base() + sign * step.base(), size.unit(), places)
}

fn working(
    gauge: &crate::procedure::model::Gauge,
    side: Side,
    readings: &[Measured],
    standard: Quantity,
    step: Quantity,
    allowance: Option<Quantity>,
) -> String {
    let unit = Some(standard.unit());
    let (word, worst, sign, compare) = match side {
        Side::Grows => ("largest", Measured::max(readings), 1.0, "≥"),
        Side::Shrinks => ("smallest", Measured::min(readings), -1.0, "≤"),
    };
    let places =
        shown::places_for(readings.iter().map(|r| 2.0 * r.doubt()).fold(f64::INFINITY, f64::min), unit);
    let worst = worst.map_or(String::new(), |worst| shown::plain(worst.value, unit, places));
    let (plus, minus) = if sign > 0.0 { ("+", "+") } else { ("−", "−") };
    let clean =
        allowance.map_or(String::new(), |allowance| format!(" {minus} {} to clean up", allowance.printed()));
    let id = &gauge.naming.id;
    format!(
        "{} {plus} {} = {} {compare} {word} {id} {worst}{clean}",
        standard.printed(),
        step.printed(),
        moved(standard, step, sign).printed(),
    )
}

/// One size for all places of a part that is machined by the same gauge: the largest step that any of them needs.
fn one_size_for_all(book: &Book, fates: &mut BTreeMap<(PartId, Place), PartDecision>) {
    let mut largest: BTreeMap<(PartId, GaugeId), Size> = BTreeMap::new();
    for ((part, _), decision) in fates.iter() {
        if let Verdict::Machine { to: Some(size), .. } = &decision.verdict {
            let kept = largest.entry((*part, size.gauge)).or_insert_with(|| size.clone());
            if size.step.base() > kept.step.base() {
                *kept = size.clone();
            }
        }
    }
    for ((part, _), decision) in fates.iter_mut() {
        if let Verdict::Machine { to: Some(size), .. } = &mut decision.verdict
            && let Some(kept) = largest.get(&(*part, size.gauge))
            && kept.step != size.step
        {
            let id = &book.procedure.part(*part).naming.id;
            let words = format!("; {} for every `{id}`, since one of them needs it", kept.step.printed());
            decision.because.push_str(&words);
            *size = kept.clone();
        }
    }
}

/// What a verdict makes necessary: renewed together, or renewed in the size that its partner is machined to.
fn follow(book: &Book, fates: &mut BTreeMap<(PartId, Place), PartDecision>) {
    let links = links(book);
    // Each pass settles at least one more part or is the last.
    loop {
        let mut forced: BTreeMap<(PartId, Place), (Option<Quantity>, String)> = BTreeMap::new();
        for link in &links {
            let Some(cause) = fates.get(&link.cause) else { continue };
            let name = |(part, place): (PartId, Place)| {
                let part = book.procedure.part(part);
                shown::named(book.procedure, &part.naming.id, &part.axes, place)
            };
            let size = match &cause.verdict {
                Verdict::Machine { to: Some(size), .. } => Some(size.step),
                Verdict::Renew { size } if link.matched => *size,
                _ => continue,
            };
            let words = match size {
                Some(size) if matches!(cause.verdict, Verdict::Machine { .. }) => {
                    format!(
                        "`{}` is machined to {}: the new one in that size",
                        name(link.cause),
                        size.printed()
                    )
                }
                _ => format!("renewed together with `{}`", name(link.cause)),
            };
            let known = fates.get(&link.effect).map(|effect| &effect.verdict);
            let needs = match known {
                Some(Verdict::Renew { size: known }) => size.is_some() && known.is_none(),
                Some(Verdict::LeaveOut(_)) | None => false,
                Some(_) => true,
            };
            if needs {
                forced.entry(link.effect).or_insert((size, words));
            }
        }
        if forced.is_empty() {
            return;
        }
        for (key, (size, because)) in forced {
            fates.insert(key, settled(Verdict::Renew { size }, because));
        }
    }
}

/// A part whose verdict bears on another.
struct Link {
    cause: (PartId, Place),
    effect: (PartId, Place),
    /// Renewed together; else only sized together.
    matched: bool,
}

/// Parts matched with each other, and parts between which a clearance is computed of which one has sizes: the
/// other goes into it.
fn links(book: &Book) -> Vec<Link> {
    let procedure = book.procedure;
    let mut links = Vec::new();
    for (id, part) in (0u32..).map(PartId).zip(&procedure.parts) {
        for place in all_places(procedure.places(&part.axes)) {
            let bound = part.binding(&procedure.coordinates(&part.axes, place));
            for target in &part.matched_with {
                let axes = &procedure.part(target.id).axes;
                for other in procedure.matching(axes, &target.pattern, &bound) {
                    let (a, b) = ((id, place), (target.id, other));
                    links.push(Link { cause: a, effect: b, matched: true });
                    links.push(Link { cause: b, effect: a, matched: true });
                }
            }
        }
    }
    for (id, gauge) in (0u32..).map(GaugeId).zip(&procedure.gauges) {
        let Some((formula, _)) = &gauge.formula else { continue };
        let mut named = Vec::new();
        for_each_reading(formula, &mut |target| named.push(target.id));
        if named.len() < 2 {
            continue;
        }
        for place in all_places(procedure.places(&gauge.axes)) {
            let measured: Vec<(GaugeId, PartId, Vec<Place>)> = book
                .inputs(id, place)
                .into_iter()
                .filter_map(|(id, place)| {
                    book.measured_part(id, place).map(|(part, places)| (id, part, places))
                })
                .collect();
            for (sized, cause, cause_places) in &measured {
                if procedure.gauge(*sized).sizes.is_none() {
                    continue;
                }
                for (_, effect, effect_places) in measured.iter().filter(|(_, effect, _)| effect != cause) {
                    for at in cause_places {
                        links.extend(effect_places.iter().map(|other| Link {
                            cause: (*cause, *at),
                            effect: (*effect, *other),
                            matched: false,
                        }));
                    }
                }
            }
        }
    }
    links
}
