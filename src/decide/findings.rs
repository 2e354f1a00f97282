//! Readings beyond their limits: told whether or not anything hangs on them. What bands say it must not know: where a gauge
//! has such, they say what is not good, and not the limits as made.

use super::book::Book;
use super::changed::reads_in_building;
use super::{Asked, Decisions, Finding, Hold, Value, Verdict, errors, shown, sized_before};
use crate::diagnostics::Diagnostic;
use crate::metrology::{Limits, Measured, Wear};
use crate::procedure::model::{GaugeId, Place};
use crate::record::{Judgement, Occasion, Reading};
use crate::structure::PartAt;

/// How far a value has gone by some limits: the worst of its readings, and which that is.
pub(super) fn worst_wear(limits: &Limits, value: &Value) -> (Wear, usize) {
    let ends = || {
        let (low, high) = limits.made.map_or((None, None), |made| made.range());
        [low, high, limits.worn].into_iter().flatten()
    };
    let wear = |(_, spot): &(String, Measured)| limits.wear(spot.as_read_on(ends(), value.step));
    let rank = |wear: Wear| match wear {
        Wear::AsMade => 0,
        Wear::WithinWorn => 1,
        Wear::Unknown => 2,
        Wear::MeasureAgain => 3,
        Wear::WrongSide => 4,
        Wear::Beyond => 5,
    };
    // How far outside, so that of several beyond a limit the furthest is shown.
    let outside = |(_, spot): &(String, Measured)| {
        ends().map(|end| (spot.value - end).abs()).fold(f64::INFINITY, f64::min)
    };
    let mut worst = (Wear::Unknown, 0);
    for (index, spot) in value.each.iter().enumerate() {
        let (this, kept) = (wear(spot), value.each.get(worst.1));
        let further = kept.is_some_and(|kept| outside(spot) > outside(kept));
        if index == 0 || rank(this) > rank(worst.0) || rank(this) == rank(worst.0) && further {
            worst = (this, index);
        }
    }
    worst
}

/// Complains of each reading that goes out as it is, beyond a limit, where nobody lets it pass.
pub(super) fn left_beyond(book: &Book, decisions: &Decisions) -> Vec<Diagnostic> {
    let standing = decisions.findings.iter().filter(|finding| finding.stands);
    standing
        .filter_map(|finding| {
            let of_it = |reading: &&Reading| {
                (reading.gauge, reading.place, reading.occasion)
                    == (finding.gauge, finding.place, finding.occasion)
            };
            let reading = book.job.readings.iter().find(of_it)?;
            let name = Asked::Gauge(finding.gauge, finding.place).name(book.procedure);
            let declared = book.procedure.gauge(finding.gauge).naming.span;
            Some(errors::left_beyond(reading.span, &name, (finding.occasion, &finding.words), declared))
        })
        .collect()
}

/// Every value that lies beyond a limit of its gauge, on each occasion.
pub(super) fn findings(book: &Book, decisions: &Decisions) -> Vec<Finding> {
    let found = decisions.values.iter().filter_map(|((gauge, place, occasion), value)| {
        if *occasion > Occasion::AsFound && of_other_size(book, decisions, (*gauge, *place)) {
            return None;
        }
        let words = beyond(book, (*gauge, *place), value)?;
        let judged = book.job.judged.get(&(*gauge, *place)).filter(|judged| judged.accepts());
        let accepted = judged.map(Judgement::words);
        let mut finding =
            Finding { gauge: *gauge, place: *place, occasion: *occasion, words, accepted, stands: false };
        finding.stands = finding.accepted.is_none()
            && *occasion == Occasion::AsBuilt
            && is_beyond(book, decisions, &finding);
        Some(finding)
    });
    found.collect()
}

/// Whether what a gauge shows is machined to another size, or bought in one, than its limits are about: it is judged when it
/// is accepted.
fn of_other_size(book: &Book, decisions: &Decisions, at: (GaugeId, Place)) -> bool {
    let inputs = book.inputs(at.0, at.1);
    let verdicts = decisions.fates.values().map(|decision| &decision.verdict);
    let mut sizes = verdicts.flat_map(|verdict| match verdict {
        Verdict::Machine { to, .. } => to.as_slice(),
        _ => &[],
    });
    let machined = sizes.any(|size| inputs.iter().any(|(input, _)| *input == size.gauge));
    let mut pieces = inputs.iter().flat_map(|input| book.procedure.measured(*input));
    machined
        || pieces.any(|piece| {
            let verdict = decisions.fates.get(&piece).map(|decision| &decision.verdict);
            matches!(verdict, Some(Verdict::Renew { size: Some(_) }))
        })
}

/// What a value is beyond, in words.
fn beyond(book: &Book, at: (GaugeId, Place), value: &Value) -> Option<String> {
    let said = book.limits_said(at, value.occasion);
    let (wear, index) = worst_wear(&book.limits(at, value.occasion), value);
    let made = || match said.made {
        Some((low, Some(high))) => shown::range(Some(low), Some(high)),
        Some((nominal, None)) => nominal.printed(),
        None => String::new(),
    };
    let words = match (wear, said.worn) {
        (Wear::Beyond, Some(worn)) => format!("beyond the worn limit {}", worn.printed()),
        (Wear::Beyond, None) if said.made.is_some() && book.procedure.gauge(at.0).bands.is_empty() => {
            format!("not as made ({}), and no limit as worn is known", made())
        }
        (Wear::WrongSide, _) if said.made.is_some() => {
            format!("on the other side of what it was made to ({}) than it wears", made())
        }
        _ => return None,
    };
    let as_found = value.occasion == Occasion::AsFound;
    let before = as_found.then(|| sized_before::maybe(book, at)).flatten();
    let hint = before.map_or_else(String::new, |present| format!("; or is it {} already?", present.words()));
    Some(format!("{}, {words}{hint}", value.shown_at(index)))
}

/// Whether nothing but what it was made to says what is good, and nothing read later will: what is set on the way back and read
/// there may be found as it is.
fn as_made_alone(book: &Book, limits: &Limits, finding: &Finding) -> bool {
    limits.made.is_some()
        && book.procedure.gauge(finding.gauge).bands.is_empty()
        && (finding.occasion > Occasion::AsFound || !reads_in_building(book, finding.gauge))
}

/// Whether nothing was read there later.
fn is_last(decisions: &Decisions, finding: &Finding) -> bool {
    let later = [Occasion::AsReturned, Occasion::AsBuilt].into_iter().filter(|on| *on > finding.occasion);
    !later.into_iter().any(|on| decisions.values.contains_key(&(finding.gauge, finding.place, on)))
}

/// Whether it is beyond a limit as worn, or as made where no other is known.
fn is_beyond(book: &Book, decisions: &Decisions, finding: &Finding) -> bool {
    let at = (finding.gauge, finding.place);
    let limits = book.limits(at, finding.occasion);
    let value = decisions.values.get(&(finding.gauge, finding.place, finding.occasion));
    (limits.worn.is_some() || as_made_alone(book, &limits, finding))
        && value.is_some_and(|value| worst_wear(&limits, value).0 == Wear::Beyond)
}

/// What holds a part that goes back as it is: what was last read of it, and still counts, lies beyond a limit as worn, or as made
/// where no other is known, and nobody has accepted that.
pub(super) fn beyond_worn(book: &Book, decisions: &Decisions, part: PartAt) -> Vec<Hold> {
    let last = |finding: &&Finding| is_last(decisions, finding);
    let counts = |finding: &&Finding| {
        let mut inputs = book.inputs(finding.gauge, finding.place).into_iter();
        finding.occasion > Occasion::AsFound || !inputs.any(|input| book.superseded.contains_key(&input))
    };
    let worn_beyond = |finding: &&Finding| is_beyond(book, decisions, finding);
    let of_it = |finding: &&Finding| book.procedure.measured((finding.gauge, finding.place)).contains(&part);
    let holding = decisions.findings.iter().filter(of_it).filter(|finding| finding.accepted.is_none());
    holding
        .filter(last)
        .filter(counts)
        .filter(worn_beyond)
        .map(|finding| Hold::NotGood(Asked::Gauge(finding.gauge, finding.place), finding.words.clone()))
        .collect()
}
