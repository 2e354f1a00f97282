//! What must come before a part goes back: new parts in hand and measured, work accepted, readings as returned.

use super::answers::{by_hand, standing};
use super::book::Book;
use super::changed::{comes_later, spoilt, to_read_again};
use super::choosing::chooses;
use super::findings::{beyond_worn, worst_wear};
use super::in_hand::{not_in_hand, not_standard, parts_to_size_by};
use super::truth::limits_asked;
use super::{Answer, Asked, Change, Decisions, Hold, Meaning, Size, Value, Verdict, meaning};
use crate::metrology::{Limits, Made, Wear};
use crate::procedure::model::{Fate, FateChoice, GaugeId, Judge, PartId, Place, Procedure};
use crate::record::{Judgement, Occasion, Settlement};
use crate::structure::PartAt;

/// Adds to each part what must come before it is fitted.
pub(super) fn holds(book: &Book, decisions: &mut Decisions) {
    let keys: Vec<PartAt> = decisions.fates.keys().copied().collect();
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
}

fn before_fitting(book: &Book, decisions: &Decisions, key: PartAt) -> Vec<Hold> {
    let (part, place) = key;
    let Some(decision) = decisions.fates.get(&key) else { return Vec::new() };
    match &decision.verdict {
        Verdict::Renew { size } => {
            let standard = || size.is_none().then(|| not_standard(book, decisions, key)).flatten();
            if let Some(hold) = not_in_hand(book, part, place, *size).or_else(standard) {
                return vec![hold];
            }
            let judges = judging(book, part, place).into_iter();
            judges.flat_map(|asked| new_part(book, decisions, asked, key)).collect()
        }
        _ if decision.new_among.pieces() > 0 && not_in_hand(book, part, place, None).is_some() => {
            not_in_hand(book, part, place, None).into_iter().collect()
        }
        Verdict::Machine { to, .. } => {
            let mut holds = parts_to_size_by(book, decisions, part, place, to);
            holds.extend(away(book, key));
            if book.job.sent.get(&key).is_some_and(|work| work.back.is_some()) {
                let mut judges = judging(book, part, place);
                judges.extend(on_the_bench(book, part, place));
                judges.sort_unstable();
                judges.dedup();
                holds.extend(
                    judges
                        .into_iter()
                        .filter_map(|asked| accepted_by(book, decisions, asked, Occasion::AsReturned)),
                );
                holds.extend(not_accepted(book, key));
            }
            holds
        }
        Verdict::GoesBack | Verdict::CleanAndBack => {
            let mut holds = Vec::new();
            if book.job.sent.contains_key(&key) || book.job.extra_work.contains_key(&key) {
                holds.extend(away(book, key).or_else(|| not_accepted(book, key)));
            }
            if book.by_hand(key).is_some_and(Settlement::keeps) {
                // A person answers for it, whatever its readings say.
                return holds;
            }
            let judges = judging(book, part, place).into_iter();
            holds.extend(judges.flat_map(|asked| same_part(book, decisions, asked, key)));
            let known = |hold: &Hold| {
                holds.iter().any(|known: &Hold| matches!((known, hold), (Hold::NotGood(one, _), Hold::NotGood(other, _)) if one == other))
            };
            let beyond: Vec<Hold> =
                beyond_worn(book, decisions, key).into_iter().filter(|hold| !known(hold)).collect();
            holds.extend(beyond);
            holds
        }
        _ => Vec::new(),
    }
}

/// Whether a part that goes out is away, or still to go.
fn away(book: &Book, key: PartAt) -> Option<Hold> {
    match book.job.sent.get(&key) {
        None => Some(Hold::NotSent),
        Some(work) if work.sent.is_none() => Some(Hold::NotSent),
        Some(work) if work.back.is_none() => Some(Hold::NotBack),
        Some(_) => None,
    }
}

fn not_accepted(book: &Book, key: PartAt) -> Option<Hold> {
    let work = book.job.sent.get(&key)?;
    let refused = book.job.refusal(key.0, key.1).map(|refused| Hold::Refused(refused.words()));
    work.accepted.is_none().then(|| refused.unwrap_or(Hold::NotAccepted))
}

/// What speaks against a new part by one gauge or look. Where what it sits in was machined, it is read together with
/// that, as it came back.
fn new_part(book: &Book, decisions: &Decisions, asked: Asked, key: PartAt) -> Vec<Hold> {
    let mut occasion = Occasion::AsBuilt;
    if let Asked::Gauge(id, at) = asked {
        let again = to_read_again(book, decisions, (id, at), key);
        if !again.is_empty() {
            return again;
        }
        let mut inputs = book.inputs(id, at).into_iter();
        if inputs.any(|input| {
            spoilt(book, decisions, input, Some(key))
                .is_some_and(|change| !matches!(change, Change::Renewed(..)))
        }) {
            occasion = Occasion::AsReturned;
        }
    }
    accepted_by(book, decisions, asked, occasion).into_iter().collect()
}

/// What speaks against a part that goes back by a gauge that something else takes its reading as found from.
fn same_part(book: &Book, decisions: &Decisions, asked: Asked, key: PartAt) -> Vec<Hold> {
    let Asked::Gauge(id, at) = asked else { return Vec::new() };
    let again = to_read_again(book, decisions, (id, at), key);
    if !again.is_empty() {
        return again;
    }
    let mut inputs = book.inputs(id, at).into_iter();
    if inputs.any(|input| spoilt(book, decisions, input, None).is_some()) {
        accepted_by(book, decisions, asked, Occasion::AsReturned).into_iter().collect()
    } else {
        Vec::new()
    }
}

/// The gauges of a part that are read on the bench: what came back is measured by all of them.
fn on_the_bench(book: &Book, part: PartId, place: Place) -> Vec<Asked> {
    let mut found = Vec::new();
    for (id, gauge) in book.procedure.gauges.numbered() {
        for at in book.procedure.places(&gauge.axes) {
            let of_it = || book.procedure.measured((id, at)).contains(&(part, place));
            if gauge.formula.is_none() && of_it() && !comes_later(book, id, at) {
                found.push(Asked::Gauge(id, at));
            }
        }
    }
    found
}

/// The gauges and looks that judge a part at one place, and those that measure it and have limits.
fn judging(book: &Book, part: PartId, place: Place) -> Vec<Asked> {
    let procedure = book.procedure;
    let declared = procedure.part(part);
    let bound = procedure.bound(&declared.axes, place);
    let fates = declared.fate.iter().flat_map(FateChoice::fates);
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
    for (id, gauge) in procedure.gauges.numbered() {
        // What chooses the piece doesn't judge it.
        let judges = !gauge.bands.is_empty() && !chooses(declared, part, id, gauge);
        for at in procedure.places(&gauge.axes) {
            let limited =
                || procedure.limits((id, at)).made.is_some() || !limits_asked(procedure, (id, at)).is_empty();
            if !judges && !limited() {
                continue;
            }
            // What is computed and is of nothing itself is of all that it is computed from.
            let inputs = if gauge.of.is_none() { book.inputs(id, at) } else { vec![(id, at)] };
            let of_it = |input| procedure.measured(input).contains(&(part, place));
            if inputs.into_iter().any(of_it) {
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
            let latest = [Occasion::AsBuilt, Occasion::AsReturned]
                .into_iter()
                .filter(|later| *later >= occasion && book.touched(id, place, *later))
                .find_map(|later| book.value(id, place, later).ok());
            let Some(value) = latest else {
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
                return match by_hand(book, (id, place), standing(book, (id, place), &value)) {
                    Answer::Settled { answer, .. } => good(asked, &gauge.bands[answer].name),
                    Answer::Open(_) => Some(Hold::Question(asked)),
                };
            }
            sized(book, decisions, (id, place), &value)
        }
    }
}

/// Whether a gauge of one part is computed with together with a gauge of another.
pub(crate) fn goes_into_a_clearance(procedure: &Procedure, id: GaugeId) -> bool {
    let part = |gauge: GaugeId| procedure.gauge(gauge).of.as_ref().map(|of| of.id);
    procedure.gauges.iter().filter_map(|gauge| gauge.formula.as_ref()).any(|(formula, _)| {
        let named: Vec<GaugeId> = formula.readings().iter().map(|target| target.id).collect();
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

/// What a piece that is back, or new, is to be.
struct Aims<'a> {
    /// The size that it was machined to.
    target: Option<&'a Size>,
    /// Whether it is another piece, or was machined.
    fresh: bool,
}

/// None where only the clearance to its partner tells which of its sizes moved with the oversize.
fn aims<'a>(book: &Book, decisions: &'a Decisions, (id, place): (GaugeId, Place)) -> Option<Aims<'a>> {
    let mut aims = Aims { target: None, fresh: false };
    let measured = book.procedure.measured((id, place));
    for verdict in measured.iter().filter_map(|piece| Some(&decisions.fates.get(piece)?.verdict)) {
        aims.fresh |= matches!(verdict, Verdict::Renew { .. } | Verdict::Machine { .. });
        match verdict {
            Verdict::Machine { to, .. } => {
                aims.target = to.iter().find(|size| size.gauge == id).or(aims.target);
            }
            Verdict::Renew { size: Some(_) } if goes_into_a_clearance(book.procedure, id) => return None,
            _ => {}
        }
    }
    Some(aims)
}

/// The limits that judge what is back, or new: those of the size that it was machined to, else those as made; none where
/// nothing is said of either.
fn limits_by(book: &Book, at: (GaugeId, Place), aims: &Aims, occasion: Occasion) -> Option<Limits> {
    let stated = book.limits(at, occasion);
    // What is new or machined has to be as made; as worn is for what merely goes back.
    let made = match aims.target {
        Some(size) => Made::Within(Some(size.low.base()), Some(size.high.unwrap_or(size.low).base())),
        None => stated.made?,
    };
    let worn = if !aims.fresh || made == Made::FromNought { stated.worn } else { None };
    Some(Limits { made: Some(made), worn })
}

/// The limits that judge a gauge once its piece is back, or in; none where they don't, or nothing is said.
pub(super) fn limits_back(
    book: &Book,
    decisions: &Decisions,
    at: (GaugeId, Place),
    occasion: Occasion,
) -> Option<Limits> {
    limits_by(book, at, &aims(book, decisions, at)?, occasion)
}

/// A size without bands against its limits.
fn sized(book: &Book, decisions: &Decisions, (id, place): (GaugeId, Place), value: &Value) -> Option<Hold> {
    let asked = Asked::Gauge(id, place);
    let aims = aims(book, decisions, (id, place))?;
    if let (None, Some(open)) = (aims.target, limits_asked(book.procedure, (id, place)).first()) {
        return Some(Hold::Question(*open));
    }
    // Where nothing is said, that it was read is enough.
    let limits = limits_by(book, (id, place), &aims, value.occasion)?;
    match worst_wear(&limits, value) {
        (Wear::AsMade | Wear::WithinWorn, _) => None,
        // A person has read it again, or accepts it as it is.
        _ if book.job.judged.get(&(id, place)).is_some_and(Judgement::accepts) => None,
        (Wear::Beyond | Wear::WrongSide, index) => Some(Hold::NotGood(asked, value.shown_at(index))),
        _ => Some(Hold::Question(asked)),
    }
}
