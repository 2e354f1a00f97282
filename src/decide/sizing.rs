//! To what size a part is machined.

use std::collections::BTreeMap;

use super::book::Book;
use super::sizes::moved;
use super::truth::limits_asked;
use super::{Asked, Because, Hold, PartDecision, Present, Reason, Size, Verdict, shown};
use crate::english::inner;
use crate::metrology::{Direction, Grid, Limits, Measured, Side, Sizing, next_size, on_old_centre, same};
use crate::procedure::model::{Gauge, GaugeId, PartId, Place, Sourced};
use crate::quantity::{Bound, Quantity, Unit};
use crate::record::{Judged, Judgement, Occasion};

/// Machining, to the next size of each gauge that cleans up every place; renewal where no size does. Without
/// gauges it is no matter of size.
pub(super) fn machine(
    book: &Book,
    what: String,
    gauges: &[(GaugeId, Place)],
    mut because: Because,
) -> PartDecision {
    let mut ids: Vec<GaugeId> = gauges.iter().map(|(id, _)| *id).collect();
    ids.sort_unstable();
    ids.dedup();
    let (mut to, mut holds) = (Vec::new(), Vec::new());
    for id in ids {
        let places: Vec<Place> =
            gauges.iter().filter(|(other, _)| *other == id).map(|(_, place)| *place).collect();
        match size(book, id, &places) {
            Sized::To(size, words) => {
                to.push(size);
                because = because.and(words);
            }
            Sized::Open(open, words) => {
                holds.extend(open);
                because = words.into_iter().fold(because, Because::and);
            }
            Sized::Nothing(words) => {
                return PartDecision::settled(Verdict::Renew { size: None }, because.and(words));
            }
        }
    }
    PartDecision::waiting(Verdict::Machine { what, to }, because, holds)
}

/// The size that one gauge asks for.
enum Sized {
    To(Size, Reason),
    /// What it hangs on; with words where the instrument can't tell.
    Open(Vec<Hold>, Option<Reason>),
    /// No size cleans up.
    Nothing(String),
}

fn size(book: &Book, id: GaugeId, places: &[Place]) -> Sized {
    let gauge = book.procedure.gauge(id);
    // Each with the size that its place has already, if that isn't standard.
    let mut read: Vec<(Measured, Option<Present>)> = Vec::new();
    let mut missing = Vec::new();
    for place in places {
        match book.grid(id, *place, Occasion::AsFound) {
            Ok(grid) => {
                let present = book.present((id, *place), Occasion::AsFound);
                read.extend(grid.values().into_iter().map(|reading| (reading, present)));
            }
            Err(_) => missing.push(Hold::Question(Asked::Gauge(id, *place))),
        }
    }
    missing.extend(
        places.iter().flat_map(|place| limits_asked(book.procedure, (id, *place))).map(Hold::Question),
    );
    let again = || places.iter().map(|place| Hold::Question(Asked::Gauge(id, *place))).collect();
    let (Some(sizes), Some((made, stated))) = (&gauge.sizes, standard(book, id, places)) else {
        return Sized::Open(missing, None);
    };
    if !missing.is_empty() {
        return Sized::Open(missing, None);
    }
    if places.iter().any(|place| book.procedure.limits((id, *place)) != stated) {
        let words = format!("`{}` has other limits at other places, so one size can't do", gauge.naming.id);
        return Sized::Open(again(), Some(words.into()));
    }
    let readings: Vec<Measured> = read.iter().map(|(reading, _)| *reading).collect();
    let Some(side) = stated.side().or_else(|| side_of_readings(&stated, &readings)) else {
        let again = again();
        return Sized::Open(again, Some(format!("which way `{}` wears is not said", gauge.naming.id).into()));
    };
    let (direction, standard, sign) = match side {
        Side::Grows => (Direction::Oversize, made.value.0, 1.0),
        Side::Shrinks => (Direction::Undersize, made.value.1.unwrap_or(made.value.0), -1.0),
    };
    let (steps, allowance) = &sizes.value;
    let step_sizes: Vec<f64> = steps
        .iter()
        .map(|step| {
            // What has a size everywhere isn't machined to it again.
            let has = |present: &Option<Present>| present.is_some_and(|now| now.step.base() >= step.base());
            if read.iter().all(|(_, present)| has(present)) { f64::NEG_INFINITY } else { step.base() }
        })
        .collect();
    let allowance_base = allowance.map_or(0.0, |allowance| allowance.base());
    let now = |present: Option<Present>| present.map_or(standard, |present| present.of(standard));
    let counted: Vec<Measured> = read
        .iter()
        .map(|(reading, present)| match gauge.old_centre {
            true => on_old_centre(now(*present).base(), *reading),
            false => *reading,
        })
        .collect();
    let furthest =
        read.iter().zip(&counted).max_by(|(_, a), (_, b)| (sign * a.value).total_cmp(&(sign * b.value)));
    let worst = furthest.map(|((reading, present), _)| (*reading, now(*present)));
    let finest = places_of(&readings, Some(standard.unit()));
    let words = |step: usize| working(gauge, sign, (worst, finest), standard, steps[step], *allowance);
    let to = |step: usize| Size {
        gauge: id,
        step: steps[step],
        grows: side == Side::Grows,
        low: moved(made.value.0, steps[step], sign, made.value.1.map(|_| Bound::Least)),
        high: made.value.1.map(|high| moved(high, steps[step], sign, Some(Bound::Most))),
    };
    let next = next_size(direction, standard.base(), &counted, &step_sizes, allowance_base);
    if let (Some(Sizing::To { step, .. } | Sizing::MeasureAgain { step, .. }), Some((chosen, judgement))) =
        (&next, size_by_hand(book, id, places))
    {
        let said = format!("{}, {}", steps[chosen].printed(), judgement.words());
        if steps[chosen].base() >= steps[*step].base() {
            let full = format!("{}; {said}", words(*step));
            return Sized::To(to(chosen), Reason { full, plain: said });
        }
        return Sized::Open(again(), Some(format!("{}; {said}: that doesn't clean up", words(*step)).into()));
    }
    match next {
        Some(Sizing::To { step, .. }) => {
            let one_sided = worn_one_side(book, (id, places), direction);
            let on_its_own = next_size(direction, standard.base(), &one_sided, &step_sizes, allowance_base);
            let question = centre_asked(book, (id, places), steps, step, on_its_own);
            let full = [Some(words(step)), question].into_iter().flatten().collect::<Vec<_>>().join("; ");
            let size = to(step);
            let title = inner(&gauge.naming.title);
            let plain = format!("{title}: the next size that cleans it up is {}", size.way());
            Sized::To(size, Reason { full, plain })
        }
        Some(Sizing::MeasureAgain { step, .. }) => Sized::Open(
            again(),
            Some(Reason {
                full: format!("{} (too near for the instrument: measure again)", words(step)),
                plain: "too near a size for the instrument: it is measured again".to_owned(),
            }),
        ),
        Some(Sizing::None) => {
            let largest = steps.iter().max_by(|a, b| a.base().total_cmp(&b.base()));
            let most = largest.map_or("no size".to_owned(), |step| format!("not even {}", step.printed()));
            let worst = match side {
                Side::Grows => Measured::max(&readings),
                Side::Shrinks => Measured::min(&readings),
            };
            let unit = Some(standard.unit());
            let worst = worst
                .map_or(String::new(), |worst| shown::plain(worst.value, unit, places_of(&readings, unit)));
            let title = inner(&gauge.naming.title);
            let words = format!("{most} cleans up {title} {worst}: resleeve, build up or renew");
            Sized::Nothing(words)
        }
        None => Sized::Open(Vec::new(), None),
    }
}

/// What each bore or journal comes to on the centre that it had, where all by which it is out of round was worn from one side:
/// as much has to go from the other. Geometry, as [`on_old_centre`]; what is worn alike all round is worn about that centre.
fn worn_one_side(book: &Book, (id, places): (GaugeId, &[Place]), direction: Direction) -> Vec<Measured> {
    let grids = places.iter().filter_map(|place| book.grid(id, *place, Occasion::AsFound).ok());
    let one = |grid: &Grid| {
        let unlike = grid.out_of_round()?.spread;
        Some(match direction {
            Direction::Oversize => Measured::max(&grid.values())? + unlike,
            Direction::Undersize => Measured::min(&grid.values())? - unlike,
        })
    };
    grids.filter_map(one).collect()
}

/// A bore or a journal that is worn more one way than the other may be worn on one side: what it takes where it is machined on
/// the centre that it had, if that is more. There is no other threshold: the sizes and the allowance that are stated decide
/// whether it makes a difference.
fn centre_asked(
    book: &Book,
    (id, places): (GaugeId, &[Place]),
    steps: &[Quantity],
    step: usize,
    on_old_centre: Option<Sizing>,
) -> Option<String> {
    let gauge = book.procedure.gauge(id);
    if gauge.old_centre {
        return None;
    }
    let grids = places.iter().filter_map(|place| book.grid(id, *place, Occasion::AsFound).ok());
    let unlike: Vec<Measured> = grids.filter_map(Grid::out_of_round).map(|unlike| unlike.spread).collect();
    let most = Measured::max(&unlike).filter(|most| most.low > 0.0)?;
    let unit = gauge.unit.or(Some(steps[step].unit()));
    let most = shown::plain(most.value, unit, places_of(&unlike, unit));
    let takes = match on_old_centre? {
        Sizing::To { step: other, .. } | Sizing::MeasureAgain { step: other, .. } => {
            if steps[other].base() <= steps[step].base() {
                return None;
            }
            format!("then it takes {}, settled in the record by whoever says so", steps[other].printed())
        }
        Sizing::None => "then no size cleans it up".to_owned(),
    };
    Some(format!(
        "{} is {most} out of round: machined on the old centre? {takes}",
        inner(&gauge.naming.title)
    ))
}

/// The size that a person has chosen at some of these places, in spite of how near the reading lies to another: the largest.
fn size_by_hand<'b>(book: &'b Book<'_>, id: GaugeId, places: &[Place]) -> Option<(usize, &'b Judgement)> {
    let (steps, _) = &book.procedure.gauge(id).sizes.as_ref()?.value;
    let judged = places.iter().filter_map(|place| book.job.judged.get(&(id, *place)));
    let chosen = judged.filter_map(|judgement| match judgement.as_what {
        Judged::Size(step) => Some((step, judgement)),
        Judged::Good | Judged::Band(_) => None,
    });
    chosen.max_by(|a, b| steps[a.0].base().total_cmp(&steps[b.0].base()))
}

/// A limit as made, with its origin.
type Made = Sourced<(Quantity, Option<Quantity>)>;

/// The size as made that sizes count from, with all of the limits, at the first of some places.
fn standard<'b>(book: &'b Book<'_>, id: GaugeId, places: &[Place]) -> Option<(&'b Made, Limits)> {
    let (gauge, first) = (book.procedure.gauge(id), *places.first()?);
    let made = gauge.made.at(&book.procedure.bound(&gauge.axes, first))?;
    Some((made, book.procedure.limits((id, first))))
}

/// Places that show the finest of some readings.
fn places_of(readings: &[Measured], unit: Option<&'static Unit>) -> u8 {
    let finest = readings.iter().map(|reading| 2.0 * reading.doubt()).fold(f64::INFINITY, f64::min);
    shown::places_for(finest, unit)
}

/// Without a limit as worn, the side on which every reading lies outside the limits as made.
fn side_of_readings(limits: &Limits, readings: &[Measured]) -> Option<Side> {
    let (low, high) = limits.made?.range();
    let over = readings.iter().any(|reading| high.is_some_and(|high| reading.value > high));
    let under = readings.iter().any(|reading| low.is_some_and(|low| reading.value < low));
    match (over, under) {
        (true, false) => Some(Side::Grows),
        (false, true) => Some(Side::Shrinks),
        _ => None,
    }
}

/// How a step cleans up the worst of some readings, which stands with the size that it was read on and with the places that
/// show it; `sign` is 1 for a bore and −1 for a journal.
fn working(
    gauge: &Gauge,
    sign: f64,
    (worst, places): (Option<(Measured, Quantity)>, u8),
    standard: Quantity,
    step: Quantity,
    allowance: Option<Quantity>,
) -> String {
    let unit = Some(standard.unit());
    let word = if sign > 0.0 { "largest" } else { "smallest" };
    let now = worst.map_or(standard, |(_, now)| now);
    let worst = worst.map(|(worst, _)| worst);
    // The most that the worst may be for the size to clean it up, so that it isn't rounded onto it or across.
    let finished = standard.base() + sign * (step.base() - allowance.map_or(0.0, Quantity::base));
    let most = if gauge.old_centre { f64::midpoint(finished, now.base()) } else { finished };
    let beyond = worst.is_some_and(|worst| !same(worst.value, most) && sign * (worst.value - most) > 0.0);
    let compare = match (sign > 0.0, beyond) {
        (true, false) => "≥",
        (true, true) => "<",
        (false, false) => "≤",
        (false, true) => ">",
    };
    let worst = worst.map_or(String::new(), |worst| {
        shown::plain(worst.value, unit, shown::places_that_tell(worst, unit, places, &[most]))
    });
    let (plus, minus) = if sign > 0.0 { ("+", "+") } else { ("−", "−") };
    let clean =
        allowance.map_or(String::new(), |allowance| format!(" {minus} {} to clean up", allowance.printed()));
    let title = inner(&gauge.naming.title);
    let worst = if gauge.old_centre {
        let wear = if sign > 0.0 {
            format!("({word} {title} {worst} − {})", now.printed())
        } else {
            format!("({} − {word} {title} {worst})", now.printed())
        };
        return format!(
            "{} {plus} {} = {} {compare} {} {plus} 2 × {wear}{clean}, worn on one side and machined on the old centre",
            standard.printed(),
            step.printed(),
            moved(standard, step, sign, None).printed(),
            now.printed(),
        );
    } else {
        worst
    };
    format!(
        "{} {plus} {} = {} {compare} {word} {title} {worst}{clean}",
        standard.printed(),
        step.printed(),
        moved(standard, step, sign, None).printed(),
    )
}

/// One size for all places of a part that is machined by the same gauge from the same size as made: the largest step
/// that any of them needs.
pub(super) fn one_size_for_all(book: &Book, fates: &mut BTreeMap<(PartId, Place), PartDecision>) {
    /// The size as made that a size counts from, in whole nanometres.
    fn standard(size: &Size) -> i64 {
        let sign = if size.grows { 1.0 } else { -1.0 };
        #[allow(clippy::cast_possible_truncation, reason = "no engine measures a million kilometres")]
        let nanometres = ((size.low.base() - sign * size.step.base()) * 1e9).round() as i64;
        nanometres
    }
    let mut largest: BTreeMap<(PartId, GaugeId, i64), Size> = BTreeMap::new();
    for ((part, _), decision) in fates.iter() {
        let Verdict::Machine { to, .. } = &decision.verdict else { continue };
        for size in to {
            let kept = largest.entry((*part, size.gauge, standard(size))).or_insert_with(|| size.clone());
            if size.step.base() > kept.step.base() {
                *kept = size.clone();
            }
        }
    }
    for ((part, _), decision) in fates.iter_mut() {
        let Verdict::Machine { to, .. } = &mut decision.verdict else { continue };
        for size in to {
            if let Some(kept) =
                largest.get(&(*part, size.gauge, standard(size))).filter(|kept| kept.step != size.step)
            {
                let id = &book.procedure.part(*part).naming.id;
                let words = format!("{} for every `{id}`, since one of them needs it", kept.step.printed());
                decision.because = std::mem::take(&mut decision.because).and(words);
                *size = kept.clone();
            }
        }
    }
}
