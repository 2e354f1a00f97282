//! Questions and their answers: what a person said, which band a gauge fell into, what a look showed.

use super::book::Book;
use super::changed::spoilt;
use super::findings::worst_wear;
use super::lint::fit;
use super::truth::asked_by;
use super::{Answer, Asked, Decisions, Identification, Meaning, Reason, Value, Why, errors, meaning, shown};
use crate::diagnostics::Diagnostic;
use crate::english::spaced;
use crate::metrology::{Fit, Measured, Standing, Wear, band_of, same};
use crate::procedure::model::{Edges, Gauge, GaugeId, LookId, Place, Procedure};
use crate::quantity::Quantity;
use crate::record::{Job, Judged, Judgement, Occasion};

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
    // While answers choose, any that they leave may be right.
    let texts = family.identify.iter().flat_map(|(_, reads)| reads.values());
    let expected: Vec<String> = texts.map(|reads| reads.value.clone()).collect();
    if expected.is_empty() {
        return Identification::Unknown;
    }
    if expected.iter().any(|start| number.value.starts_with(start.as_str())) {
        return Identification::Matches;
    }
    diagnostics.push(errors::other_engine(
        number.span,
        (procedure.whole(), &number.value),
        &expected,
        family.naming.span,
    ));
    Identification::Differs
}

/// Answers what can be answered, and takes down every value.
pub(super) fn answer(book: &Book, decisions: &mut Decisions) {
    let procedure = book.procedure;
    for id in procedure.asks.ids() {
        let answer = book.job.answers.get(&id).map_or(Answer::Open(Why::NotAnswered), |answer| {
            let because = format!("answered: {}", procedure.ask(id).answers[answer.value]);
            Answer::Settled { answer: answer.value, because: because.into() }
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
            Answer::Settled { answer, because: format!("{name}: {}", look.results[answer]).into() }
        }
        None => match (book.never.get(&Asked::Look(id, place)), book.job.judged_looks.get(&(id, place))) {
            (Some(because), Some(judged @ Judgement { as_what: Judged::Band(answer), .. })) => {
                let look = book.procedure.look(id);
                let name = shown::titled(book.procedure, &look.naming, &look.axes, place);
                let result = &look.results[*answer];
                let because = format!("{name} never seen ({because}): {result}, {}", judged.words());
                Answer::Settled { answer: *answer, because: because.into() }
            }
            (Some(because), _) => Answer::Open(Why::Never(because.clone())),
            (None, _) => Answer::Open(Why::NotTaken(Vec::new())),
        },
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
                let banded = standing(book, (id, place), &value);
                decisions.values.insert((id, place, occasion), value);
                banded
            }
            Err(why) => Answer::Open(why),
        };
        found.push((occasion, answer));
    }
    if !book.procedure.gauge(id).bands.is_empty() {
        if let Some((_, last)) = found.last_mut() {
            *last = by_hand(book, (id, place), last.clone());
        }
        let answer = if book.resting.deciding(id) {
            as_found(found)
        } else {
            as_it_is(book, decisions, (id, place), found)
        };
        let answer = answer.unwrap_or_else(|| Answer::Open(Why::NotTaken(book.inputs(id, place))));
        let answer = match (&answer, book.never_read(id, place)) {
            (Answer::Open(Why::NotTaken(_)), Some(because)) => {
                by_hand(book, (id, place), Answer::Open(Why::Never(because.clone())))
            }
            _ => answer,
        };
        decisions.answers.insert(Asked::Gauge(id, place), answer);
    }
}

/// What was found decides: the first occasion that settles it, else the last that was judged at all.
fn as_found(found: Vec<(Occasion, Answer)>) -> Option<Answer> {
    let answers = found.into_iter().map(|(_, answer)| answer);
    answers.reduce(|kept, next| match (&kept, &next) {
        (Answer::Settled { .. }, _) => kept,
        (
            _,
            Answer::Settled { .. }
            | Answer::Open(Why::MeasureAgain(..) | Why::OutsideBands(_) | Why::JudgedBy(..)),
        ) => next,
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
/// the bands' names tell which is worse. What is shown is the reading that decides, with its place.
pub(super) fn standing(book: &Book, at: (GaugeId, Place), value: &Value) -> Answer {
    let gauge = book.procedure.gauge(at.0);
    let bound = book.procedure.bound_at(at);
    let Some((edges, origin)) = book.edges(at, value.occasion) else {
        let asked = asked_by(book.procedure, &gauge.edges, &bound);
        return Answer::Open(if asked.is_empty() {
            Why::OutsideBands(value.shown())
        } else {
            Why::JudgedBy(value.shown(), asked)
        });
    };
    let bands: Vec<Fit> = edges.iter().map(fit).collect();
    let ends = || bands.iter().flat_map(|band| [band.low, band.high]).flatten();
    let spots: Vec<Measured> =
        value.each.iter().map(|(_, spot)| spot.as_read_on(ends(), value.step)).collect();
    let standings: Vec<Standing> = spots.iter().map(|spot| stands(gauge, &bands, *spot)).collect();
    let outside = (0..spots.len()).filter(|index| standings[*index] == Standing::Outside);
    let beside = |index: &usize| {
        let gaps = ends().map(|end| (spots[*index].value - end).abs());
        gaps.fold(f64::INFINITY, f64::min)
    };
    if let Some(piece) = nearest_piece(gauge, value) {
        let because = because(book, at, (edges[piece], origin), value, (piece, None));
        return Answer::Settled { answer: piece, because };
    }
    if let Some(furthest) = outside.max_by(|a, b| beside(a).total_cmp(&beside(b))) {
        return Answer::Open(Why::OutsideBands(value.shown_at(furthest)));
    }
    let touches = |standing: &Standing| match standing {
        Standing::In(band) => vec![*band],
        Standing::Between(bands) => bands.clone(),
        Standing::Outside => Vec::new(),
    };
    let mut touched: Vec<usize> = standings.iter().flat_map(touches).collect();
    touched.sort_unstable();
    touched.dedup();
    match worst(gauge, &standings, &touched) {
        Some(band) => {
            let in_it = (0..spots.len()).filter(|index| standings[*index] == Standing::In(band));
            let culprit = in_it.max_by(|a, b| beside(a).total_cmp(&beside(b)));
            let because = because(book, at, (edges[band], origin), value, (band, culprit));
            Answer::Settled { answer: band, because }
        }
        None => {
            let rank = |index: &usize| {
                touches(&standings[*index]).into_iter().map(|band| meaning(&gauge.bands[band].name)).max()
            };
            let in_doubt = (0..spots.len()).filter(|index| matches!(standings[*index], Standing::Between(_)));
            let shown =
                in_doubt.max_by_key(rank).map_or_else(|| value.shown(), |index| value.shown_at(index));
            Answer::Open(Why::MeasureAgain(shown, touched))
        }
    }
}

/// Of the pieces that are sold, the one that comes nearest to a value, of those that surely come near enough: where two do,
/// either serves, and no doubt of the instrument is in the way.
fn nearest_piece(gauge: &Gauge, value: &Value) -> Option<usize> {
    let (pieces, within) = &gauge.sold.as_ref()?.value;
    let spots = || value.each.iter().map(|(_, spot)| spot);
    let off = |piece: &Quantity| {
        let ends = spots().flat_map(|spot| [spot.low, spot.high]);
        ends.map(|end| (end - piece.base()).abs()).fold(0.0, f64::max)
    };
    let reach = within.base() * (1.0 + 1e-9);
    let serving = pieces.iter().enumerate().filter(|(_, piece)| off(piece) <= reach);
    serving.min_by(|a, b| off(a.1).total_cmp(&off(b.1))).map(|(index, _)| index)
}

/// The band of a value, or the one that a person has put it in where the instrument can't tell.
pub(super) fn by_hand(book: &Book, at: (GaugeId, Place), answer: Answer) -> Answer {
    let Answer::Open(Why::MeasureAgain(shown, _) | Why::OutsideBands(shown) | Why::Never(shown)) = &answer
    else {
        return answer;
    };
    match book.job.judged.get(&at) {
        Some(judged @ Judgement { as_what: Judged::Band(band), .. }) => {
            let name = &book.procedure.gauge(at.0).bands[*band].name;
            let title = &book.procedure.gauge(at.0).naming.title;
            let because = match &answer {
                Answer::Open(Why::Never(_)) => {
                    format!("{title} never read ({shown}): {name}, {}", judged.words())
                }
                _ => format!("{title} = {shown}: {name}, {}", judged.words()),
            };
            Answer::Settled { answer: *band, because: because.into() }
        }
        _ => answer,
    }
}

/// Complains of what a person has judged though nothing is in doubt.
pub(super) fn idle_words(book: &Book, decisions: &Decisions) -> Vec<Diagnostic> {
    let idle = book.job.judged.iter().filter(|((gauge, place), judged)| {
        let mut values =
            OCCASIONS.into_iter().rev().filter_map(|on| decisions.values.get(&(*gauge, *place, on)));
        let Some(latest) = values.next() else { return book.never_read(*gauge, *place).is_none() };
        match judged.as_what {
            // Whether a size is in doubt is seen where it is machined to.
            Judged::Size(_) => false,
            Judged::Band(_) => matches!(standing(book, (*gauge, *place), latest), Answer::Settled { .. }),
            Judged::Good => {
                let wear = worst_wear(&book.limits((*gauge, *place), latest.occasion), latest).0;
                matches!(wear, Wear::AsMade | Wear::WithinWorn)
            }
        }
    });
    let looks = book.job.judged_looks.iter().filter(|((look, place), _)| {
        let taken = book.job.looks.iter().any(|taken| (taken.look, taken.place) == (*look, *place));
        taken || !book.never.contains_key(&Asked::Look(*look, *place))
    });
    let gauges = idle.map(|((gauge, place), judged)| {
        let declared = book.procedure.gauge(*gauge).naming.span;
        errors::not_in_doubt(judged.span, &Asked::Gauge(*gauge, *place).name(book.procedure), declared)
    });
    let looks = looks.map(|((look, place), judged)| {
        let declared = book.procedure.look(*look).naming.span;
        errors::not_in_doubt(judged.span, &Asked::Look(*look, *place).name(book.procedure), declared)
    });
    gauges.chain(looks).collect()
}

/// Where one reading stands. Without doubt on a limit between two bands it is in the better of them, where their names tell
/// which that is: a limit of so much allows so much, to whichever side.
fn stands(gauge: &Gauge, bands: &[Fit], spot: Measured) -> Standing {
    let found = band_of(bands, spot);
    if spot.low != spot.high {
        return found;
    }
    let on = |end: Option<f64>| end.is_some_and(|end| same(end, spot.value));
    let meet = bands.iter().enumerate().filter(|(_, band)| on(band.low) || on(band.high));
    let ranked: Option<Vec<(Meaning, usize)>> =
        meet.map(|(index, _)| Some((meaning(&gauge.bands[index].name)?, index))).collect();
    match ranked.as_deref() {
        Some([a, b]) if a.0 != b.0 => Standing::In(if a.0 < b.0 { a.1 } else { b.1 }),
        _ => found,
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

/// Why a value is in a band. Of several readings, or of what is computed from several, the culprit is told with its place,
/// where the part can't go back for it; where all is well, from the least to the largest.
fn because(
    book: &Book,
    at: (GaugeId, Place),
    (edges, origin): (Edges, Option<&str>),
    value: &Value,
    (band, culprit): (usize, Option<usize>),
) -> Reason {
    let gauge = book.procedure.gauge(at.0);
    let name = &gauge.bands[band].name;
    let range = shown::range(edges.low, edges.high);
    let origin = origin.map(|origin| format!(", from {origin}")).unwrap_or_default();
    let well = matches!(meaning(name), None | Some(Meaning::Back));
    let (working, read) = book.told(at, value, culprit.filter(|_| !well));
    let full = format!("{working}: {name} ({range}{origin})");
    Reason { full, plain: format!("{read} ({}: {range})", spaced(name)) }
}
