//! Questions and their answers: what a person said, which band a gauge fell into, what a look showed.

use super::book::Book;
use super::changed::spoilt;
use super::lint::fit;
use super::{Answer, Asked, Decisions, Identification, Meaning, Value, Why, errors, meaning, shown};
use crate::diagnostics::Diagnostic;
use crate::metrology::{Fit, Limits, Made, Standing, band_of};
use crate::procedure::model::{
    Edges, Formula, Function, Gauge, GaugeId, LookId, Operator, Place, Procedure, Sourced,
};
use crate::record::{Job, Occasion};

/// Occasions in order; the first on which a question can be answered decides it.
const OCCASIONS: [Occasion; 3] = [Occasion::AsFound, Occasion::AsReturned, Occasion::AsBuilt];

/// Whether the number on the engine begins as the family says.
pub(super) fn identify(
    procedure: &Procedure,
    job: &Job,
    diagnostics: &mut Vec<Diagnostic>,
) -> Identification {
    let (Some(family), Some(number)) = (&procedure.family, &job.engine_no) else {
        return Identification::Unknown;
    };
    let expected: Vec<String> = family.identify.iter().map(|(_, reads)| reads.clone()).collect();
    if expected.is_empty() {
        return Identification::Unknown;
    }
    if expected.iter().any(|start| number.value.starts_with(start.as_str())) {
        return Identification::Matches;
    }
    diagnostics.push(errors::other_engine(number.span, &number.value, &expected, family.naming.span));
    Identification::Differs
}

/// Answers what can be answered, and takes down every value.
pub(super) fn answer(book: &Book, decisions: &mut Decisions) {
    let procedure = book.procedure;
    for id in procedure.asks.ids() {
        let answer = book.job.answers.get(&id).map_or(Answer::Open(Why::NotAnswered), |answer| {
            let because = format!("answered: {}", procedure.ask(id).answers[answer.value]);
            Answer::Settled { answer: answer.value, because }
        });
        decisions.answers.insert(Asked::Ask(id), answer);
    }
    for (id, place) in procedure.everywhere() {
        decisions.answers.insert(Asked::Look(id, place), look(book, id, place));
    }
    for (id, place) in procedure.everywhere() {
        gauge(book, decisions, id, place);
    }
}

fn look(book: &Book, id: LookId, place: Place) -> Answer {
    let taken = |occasion: Occasion| {
        book.job
            .looks
            .iter()
            .find(|look| look.look == id && look.place == place && look.occasion == occasion)
            .map(|look| look.result)
    };
    match OCCASIONS.into_iter().find_map(taken) {
        Some(answer) => {
            let look = book.procedure.look(id);
            let name = shown::titled(book.procedure, &look.naming, &look.axes, place);
            Answer::Settled { answer, because: format!("{name}: {}", look.results[answer]) }
        }
        None => Answer::Open(Why::NotTaken(Vec::new())),
    }
}

fn gauge(book: &Book, decisions: &mut Decisions, id: GaugeId, place: Place) {
    let mut found: Vec<(Occasion, Answer)> = Vec::new();
    for occasion in OCCASIONS {
        if !book.touched(id, place, occasion) {
            continue;
        }
        let answer = match book.value(id, place, occasion) {
            Ok(value) => {
                let banded = standing(book, id, place, occasion, &value);
                decisions.values.insert((id, place, occasion), value);
                banded
            }
            Err(why) => Answer::Open(why),
        };
        found.push((occasion, answer));
    }
    if !book.procedure.gauge(id).bands.is_empty() {
        let answer = if book.resting.deciding(id) {
            as_found(found)
        } else {
            as_it_is(book, decisions, (id, place), found)
        };
        let answer = answer.unwrap_or_else(|| Answer::Open(Why::NotTaken(book.inputs(id, place))));
        decisions.answers.insert(Asked::Gauge(id, place), answer);
    }
}

/// What was found decides: the first occasion that settles it, else the last that was judged at all.
fn as_found(found: Vec<(Occasion, Answer)>) -> Option<Answer> {
    let answers = found.into_iter().map(|(_, answer)| answer);
    answers.reduce(|kept, next| match (&kept, &next) {
        (Answer::Settled { .. }, _) => kept,
        (_, Answer::Settled { .. } | Answer::Open(Why::MeasureAgain(..) | Why::OutsideBands(_))) => next,
        _ => kept,
    })
}

/// The engine as it is now decides: the latest occasion, and what was found only if nothing took its value away.
fn as_it_is(
    book: &Book,
    decisions: &Decisions,
    (id, place): (GaugeId, Place),
    mut found: Vec<(Occasion, Answer)>,
) -> Option<Answer> {
    let (occasion, latest) = found.pop()?;
    // The piece that is chosen by it goes in place of the old one, which may be part of the sum.
    let measured = book.procedure.measured((id, place));
    let chosen =
        measured.first().copied().filter(|(part, _)| book.procedure.part(*part).select_from.is_some());
    let mut inputs = book.inputs(id, place).into_iter();
    match inputs.find_map(|input| spoilt(book, decisions, input, chosen)) {
        Some(change) if occasion == Occasion::AsFound => {
            let (part, place) = change.piece();
            Some(Answer::Open(Why::Superseded(part, place)))
        }
        _ => Some(latest),
    }
}

/// The band of a value on one occasion. A gauge read at several spots is judged at each; the worst counts, where
/// the bands' names tell which is worse.
pub(super) fn standing(book: &Book, id: GaugeId, place: Place, occasion: Occasion, value: &Value) -> Answer {
    let gauge = book.procedure.gauge(id);
    let shown_value = shown::with_doubt(value.measured, value.unit, value.places);
    let Some(edges) = gauge.edges.at(&book.procedure.bound(&gauge.axes, place)) else {
        return Answer::Open(Why::OutsideBands(shown_value));
    };
    let bands: Vec<Fit> = edges.value.iter().map(fit).collect();
    let spots = match book.grid(id, place, occasion) {
        Ok(grid) if gauge.formula.is_none() => grid.values(),
        _ => vec![value.measured],
    };
    let standings: Vec<Standing> = spots.iter().map(|spot| band_of(&bands, *spot)).collect();
    if standings.contains(&Standing::Outside) {
        return Answer::Open(Why::OutsideBands(shown_value));
    }
    let mut touched: Vec<usize> = standings
        .iter()
        .flat_map(|standing| match standing {
            Standing::In(band) => vec![*band],
            Standing::Between(bands) => bands.clone(),
            Standing::Outside => Vec::new(),
        })
        .collect();
    touched.sort_unstable();
    touched.dedup();
    match worst(gauge, &standings, &touched) {
        Some(band) => Answer::Settled { answer: band, because: because(gauge, edges, value, band) },
        None => Answer::Open(Why::MeasureAgain(shown_value, touched)),
    }
}

/// The band that counts: the only one, or the worst that some spot is in without doubt if no spot may be in a
/// worse one.
fn worst(gauge: &Gauge, standings: &[Standing], touched: &[usize]) -> Option<usize> {
    let sure = |band: usize| standings.contains(&Standing::In(band));
    let [first, rest @ ..] = touched else { return None };
    if rest.is_empty() {
        return sure(*first)
            .then_some(*first)
            .filter(|_| standings.iter().all(|s| matches!(s, Standing::In(_))));
    }
    let rank = |band: usize| meaning(&gauge.bands[band].name);
    let mut ranked: Vec<(Meaning, usize)> = Vec::new();
    for band in touched {
        ranked.push((rank(*band)?, *band));
    }
    ranked.sort_unstable();
    let (top, band) = *ranked.last()?;
    let alone = ranked.iter().filter(|(meaning, _)| *meaning == top).count() == 1;
    (alone && sure(band)).then_some(band)
}

fn because(gauge: &Gauge, edges: &Sourced<Vec<Edges>>, value: &Value, band: usize) -> String {
    let name = &gauge.bands[band].name;
    let origin = edges.origin.as_ref().map(|origin| format!(", from {origin}")).unwrap_or_default();
    let edges = edges.value[band];
    format!("{}: {name} ({}{origin})", value.working, shown::range(edges.low, edges.high))
}

/// The limits of a gauge at one of its places, in base units.
pub(super) fn limits(procedure: &Procedure, (id, place): (GaugeId, Place)) -> Limits {
    let gauge = procedure.gauge(id);
    let bound = procedure.bound(&gauge.axes, place);
    let made = gauge.made.at(&bound).map(|made| {
        let (low, high) = made.value;
        // A single limit as made is a nominal size, not a range: exactly this.
        Made::Within(Some(low.base()), Some(high.unwrap_or(low).base()))
    });
    let worn = gauge.worn.at(&bound).and_then(|worn| worn.value).map(|worn| worn.base());
    // What can't be less than nought is best at nought, so that its limit as worn lies above.
    let made = made.or_else(|| from_nought(gauge).then_some(Made::FromNought));
    Limits { made, worn }
}

/// Whether a gauge measures how far something is off: nought is the best that it can be.
fn from_nought(gauge: &Gauge) -> bool {
    let plausible = gauge.plausible.is_some_and(|(low, _)| low.numeral().value() == 0.0);
    let computed = gauge.formula.as_ref().is_some_and(|(formula, _)| match formula {
        Formula::Call { function: Function::Spread | Function::OutOfRound | Function::Taper, .. } => true,
        Formula::Operation { operator: Operator::Subtract, left, right } => match (&**left, &**right) {
            (
                Formula::Call { function: Function::Max, arguments: largest },
                Formula::Call { function: Function::Min, arguments: smallest },
            ) => same_readings(largest, smallest),
            _ => false,
        },
        _ => false,
    });
    plausible || computed
}

fn same_readings(a: &[Formula], b: &[Formula]) -> bool {
    let key = |formula: &Formula| match formula {
        Formula::Reading(target) => Some((target.id, target.pattern.clone())),
        _ => None,
    };
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| key(a).is_some() && key(a) == key(b))
}
