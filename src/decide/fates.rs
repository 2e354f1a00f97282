//! What becomes of each part at each of its places, and why.

use std::collections::BTreeMap;

use super::book::Book;
use super::findings::worst_wear;
use super::follow::follow;
use super::found::as_found;
use super::meaning::is_sleeve;
use super::sizing::{machine, one_size_for_all};
use super::truth::asked_by;
use super::truth::limits_asked;
use super::{
    Answer, Asked, Because, Decisions, Hold, Meaning, PartDecision, Reason, Truth, Verdict, meaning,
    places_asked, sized_before,
};
use crate::english::spaced;
use crate::metrology::{Side, Wear};
use crate::procedure::model::{Binding, Fate, GaugeId, Judge, Part, PartId, Place};
use crate::quantity::{Bound, limit_pair};
use crate::record::{Goods, Judged, Occasion, Settled, Settlement};

/// What one judge says of a part.
struct Opinion {
    meaning: Option<Meaning>,
    because: Reason,
    /// The name of its result.
    result: String,
    /// What it hangs on, where it can't say.
    hold: Option<Hold>,
    /// The gauges that sizes may be taken from: itself, or what it is computed from.
    gauges: Vec<(GaugeId, Place)>,
}

/// Settles what can be settled.
pub(super) fn fates(book: &Book, decisions: &mut Decisions) {
    let procedure = book.procedure;
    let mut fates = BTreeMap::new();
    for (id, part) in procedure.parts.numbered() {
        for place in procedure.places(&part.axes) {
            let decided = fate(book, decisions, id, part, place);
            let count = procedure.part_pieces(id, &[place]);
            let mut found = as_found(book, Goods::Part(id, Some(place)), &count, decided);
            if count.settled().is_none() && !matches!(found.verdict, Verdict::LeaveOut(_)) {
                let asked = asked_by(procedure, &part.count, &procedure.bound(&part.axes, place));
                found.holds.extend(asked.into_iter().map(Hold::Question));
            }
            fates.insert((id, place), found);
        }
    }
    one_size_for_all(book, &mut fates);
    for (key, decision) in &mut fates {
        let asked = sized_before::asked(book, *key, decision);
        decision.holds.extend(asked);
    }
    follow(book, &mut fates);
    decisions.fates = fates;
}

fn fate(book: &Book, decisions: &Decisions, id: PartId, part: &Part, place: Place) -> PartDecision {
    let bound = book.procedure.bound(&part.axes, place);
    match decisions.guard(book.procedure, &book.procedure.present((id, place)), &bound) {
        Truth::Yes => {}
        Truth::No => {
            return PartDecision::settled(
                Verdict::LeaveOut(super::words::not_there(book.procedure)),
                Because::Silent,
            );
        }
        Truth::Open(asked) => return PartDecision::open(asked.into_iter().map(Hold::Question).collect()),
    }
    let by_hand = book.by_hand((id, place));
    if let Some(settlement) = by_hand.filter(|settlement| settlement.all_the_same) {
        return settled_by_hand(settlement);
    }
    let decided = by_its_fate(book, decisions, (id, place), &bound);
    crack_tested(book, decisions, part, &bound, decided)
}

/// What a part is tested for cracks by goes before whatever else decides of it.
fn crack_tested(
    book: &Book,
    decisions: &Decisions,
    part: &Part,
    bound: &Binding,
    decided: PartDecision,
) -> PartDecision {
    let Some(test) = &part.crack_test else { return decided };
    if matches!(decided.verdict, Verdict::Renew { .. } | Verdict::LeaveOut(_)) {
        return decided;
    }
    let tested = [Judge::Look(*test.clone())];
    let by_test = judged(book, decisions, &tested, bound);
    if matches!(by_test.verdict, Verdict::Renew { .. } | Verdict::Machine { .. }) { by_test } else { decided }
}

/// What becomes of a part by what the procedure says of its fate.
fn by_its_fate(
    book: &Book,
    decisions: &Decisions,
    (id, place): (PartId, Place),
    bound: &Binding,
) -> PartDecision {
    let part = book.procedure.part(id);
    let by_hand = book.by_hand((id, place));
    let Some(choice) = &part.fate else {
        return PartDecision::settled(Verdict::GoesBack, Because::NothingSaid);
    };
    for (fate, guard) in &choice.cases {
        match decisions.guard(book.procedure, guard, bound) {
            Truth::Yes => {
                let terms = guard.0.iter();
                let asked: Vec<Asked> =
                    terms.flat_map(|term| places_asked(book.procedure, &term.question, bound)).collect();
                let answers: Vec<Reason> =
                    asked.iter().filter_map(|asked| because_of(decisions, *asked)).collect();
                let gauges = sized_inputs(book, &asked, id, place);
                return of(book, decisions, fate, bound, Because::found(answers), (&gauges, by_hand));
            }
            Truth::No => {}
            Truth::Open(asked) => return PartDecision::open(asked.into_iter().map(Hold::Question).collect()),
        }
    }
    match &choice.otherwise {
        Some(fate) => {
            let asked = choice.cases.iter().flat_map(|(_, guard)| &guard.0);
            let mut reasons: Vec<Reason> = asked
                .flat_map(|term| places_asked(book.procedure, &term.question, bound))
                .filter_map(|asked| because_of(decisions, asked))
                .collect();
            reasons.dedup();
            let because = if reasons.is_empty() { Because::Always } else { Because::Found(reasons) };
            let gauges = sized_inputs(book, &[], id, place);
            of(book, decisions, fate, bound, because, (&gauges, by_hand))
        }
        None => PartDecision::settled(Verdict::GoesBack, Because::NothingSaid),
    }
}

fn because_of(decisions: &Decisions, asked: Asked) -> Option<Reason> {
    match decisions.answers.get(&asked)? {
        Answer::Settled { because, .. } => Some(because.clone()),
        Answer::Open(_) => None,
    }
}

/// What becomes of a thing by what the record settles.
pub(super) fn settled_by_hand(by_hand: &Settlement) -> PartDecision {
    let because = Because::Record(by_hand.words());
    let verdict = match by_hand.what {
        Settled::GoesBack | Settled::Declined => Verdict::GoesBack,
        Settled::CleanAndBack => Verdict::CleanAndBack,
        Settled::Renew => Verdict::Renew { size: None },
        Settled::LeaveOut => Verdict::LeaveOut(by_hand.words().unwrap_or_else(|| because.to_string())),
    };
    PartDecision::settled(verdict, because)
}

/// What a fate that applies means; `gauges` are those whose sizes it may be machined to.
fn of(
    book: &Book,
    decisions: &Decisions,
    fate: &Fate,
    bound: &Binding,
    because: Because,
    (gauges, by_hand): (&[(GaugeId, Place)], Option<&Settlement>),
) -> PartDecision {
    match fate {
        Fate::Renew => PartDecision::settled(Verdict::Renew { size: None }, because),
        Fate::Reuse => PartDecision::settled(Verdict::GoesBack, because),
        Fate::CleanThenReuse => PartDecision::settled(Verdict::CleanAndBack, because),
        Fate::Send(what) => machine(book, what.clone(), gauges, because),
        Fate::SizeByPartsInHand => machine(book, "size by the parts in hand".to_owned(), gauges, because),
        Fate::KeepUntilSettled if by_hand.is_some() => {
            by_hand.map_or_else(|| PartDecision::open(Vec::new()), settled_by_hand)
        }
        Fate::KeepUntilSettled => PartDecision::waiting(Verdict::Keep, because, vec![Hold::Keep]),
        Fate::LeaveOut(why) => PartDecision::settled(Verdict::LeaveOut(why.clone()), because),
        Fate::By(judges) => judged(book, decisions, judges, bound),
    }
}

/// Gauges of a part that have sizes and from which the questions were answered; where the questions name none,
/// only a fate that is itself about size asks for them.
fn sized_inputs(book: &Book, asked: &[Asked], id: PartId, place: Place) -> Vec<(GaugeId, Place)> {
    let own = gauges_of(book, id, place);
    let inputs: Vec<(GaugeId, Place)> = asked
        .iter()
        .filter_map(|asked| match asked {
            Asked::Gauge(gauge, place) => Some(book.inputs(*gauge, *place)),
            _ => None,
        })
        .flatten()
        .collect();
    own.into_iter().filter(|gauge| inputs.contains(gauge)).collect()
}

/// Gauges that measure a part at a place and have sizes.
fn gauges_of(book: &Book, id: PartId, place: Place) -> Vec<(GaugeId, Place)> {
    let mut found = Vec::new();
    for (gauge_id, gauge) in book.procedure.gauges.numbered() {
        if gauge.sizes.is_none() {
            continue;
        }
        for at in book.procedure.places(&gauge.axes) {
            if book.procedure.measured((gauge_id, at)).contains(&(id, place)) {
                found.push((gauge_id, at));
            }
        }
    }
    found
}

/// The worst that any judge says; open while a judge that is open could say worse.
pub(super) fn judged(book: &Book, decisions: &Decisions, judges: &[Judge], bound: &Binding) -> PartDecision {
    let mut opinions: Vec<Opinion> = Vec::new();
    for judge in judges {
        match judge {
            Judge::Gauge(target) => {
                for (_, place) in book.procedure.meant(target, bound) {
                    opinions.push(gauge_opinion(book, decisions, target.id, place));
                }
            }
            Judge::Look(target) => {
                for (_, place) in book.procedure.meant(target, bound) {
                    opinions.push(look_opinion(book, decisions, Asked::Look(target.id, place)));
                }
            }
        }
    }
    let worst = opinions.iter().filter_map(|opinion| opinion.meaning).max();
    let undecided = opinions.iter().any(|opinion| opinion.meaning.is_none());
    if undecided && worst != Some(Meaning::Renew) {
        return PartDecision::open(opinions.into_iter().filter_map(|opinion| opinion.hold).collect());
    }
    let Some(worst) = worst else { return PartDecision::open(Vec::new()) };
    let deciding: Vec<&Opinion> = opinions.iter().filter(|opinion| opinion.meaning == Some(worst)).collect();
    let because = Because::found(deciding.iter().map(|opinion| opinion.because.clone()).collect());
    match worst {
        Meaning::Back => PartDecision::settled(Verdict::GoesBack, because),
        Meaning::Clean => PartDecision::settled(Verdict::CleanAndBack, because),
        Meaning::Renew => PartDecision::settled(Verdict::Renew { size: None }, because),
        Meaning::Machine => {
            // Every place that is judged is machined alike, also those that would do as they are. A sleeve makes up for
            // what was worn away: its own wear asks for no size, it is finished with the others.
            let sleeved = |opinion: &&Opinion| opinion.meaning == Some(worst) && is_sleeve(&opinion.result);
            let others = opinions.iter().filter(|opinion| !sleeved(opinion));
            let gauges: Vec<(GaugeId, Place)> =
                others.flat_map(|opinion| opinion.gauges.iter().copied()).collect();
            let to_size = deciding.iter().any(|opinion| !is_sleeve(&opinion.result));
            let gauges = if to_size { gauges } else { Vec::new() };
            let mut what: Vec<String> = Vec::new();
            for opinion in &deciding {
                let words = spaced(&opinion.result);
                if !what.contains(&words) {
                    what.push(words);
                }
            }
            machine(book, what.join(", "), &gauges, because)
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
            Opinion { meaning, because: because.clone(), result: name.to_owned(), hold, gauges }
        }
        _ => Opinion {
            meaning: None,
            because: String::new().into(),
            result: String::new(),
            hold: Some(Hold::Question(asked)),
            gauges,
        },
    }
}

/// What a gauge says by its bands, or without any by its limits.
fn gauge_opinion(book: &Book, decisions: &Decisions, id: GaugeId, place: Place) -> Opinion {
    let asked = Asked::Gauge(id, place);
    let sized = |id: &GaugeId| book.procedure.gauge(*id).sizes.is_some();
    let mut gauges: Vec<(GaugeId, Place)> = book.inputs(id, place);
    gauges.retain(|(id, _)| sized(id));
    if book.procedure.gauge(id).bands.is_empty() {
        limits_opinion(book, decisions, (id, place), gauges)
    } else {
        Opinion { gauges, ..look_opinion(book, decisions, asked) }
    }
}

/// What a gauge says by its limits as found: up to the one as worn its part goes back, beyond it is machined to the next
/// size, or renewed where it has none.
fn limits_opinion(
    book: &Book,
    decisions: &Decisions,
    at: (GaugeId, Place),
    gauges: Vec<(GaugeId, Place)>,
) -> Opinion {
    let asked = Asked::Gauge(at.0, at.1);
    let open = |hold| Opinion {
        meaning: None,
        because: String::new().into(),
        result: String::new(),
        hold: Some(hold),
        gauges: gauges.clone(),
    };
    let Some(value) = decisions.values.get(&(at.0, at.1, Occasion::AsFound)) else {
        let Some(because) = book.never_read(at.0, at.1) else { return open(Hold::Question(asked)) };
        let Some(by_hand) = book.job.judged.get(&at) else {
            return open(Hold::Never(asked, because.clone()));
        };
        let title = &book.procedure.gauge(at.0).naming.title;
        return Opinion {
            meaning: Some(Meaning::Back),
            because: format!("{title} never read ({because}): {}", by_hand.words()).into(),
            result: String::new(),
            hold: None,
            gauges,
        };
    };
    if let Some(choosing) = limits_asked(book.procedure, at).first() {
        return open(Hold::Question(*choosing));
    }
    let said = book.limits_said(at, Occasion::AsFound);
    let told = |words: String| Reason {
        full: format!("{}: {words}", value.working),
        plain: format!("{}, {words}", book.read(at, value)),
    };
    let (wear, index) = worst_wear(&book.limits(at, Occasion::AsFound), value);
    let by_wear = |words: &str| {
        let beyond = wear == Wear::Beyond;
        let (working, read) = book.told(at, value, beyond.then_some(index));
        let bound = book.limits(at, Occasion::AsFound).side().map(|side| match side {
            Side::Grows => Bound::Most,
            Side::Shrinks => Bound::Least,
        });
        let worn = said.worn.map(|worn| worn.printed()).unwrap_or_default();
        let pair = said.worn.map(|worn| limit_pair(worn, bound).to_string()).unwrap_or_default();
        Reason {
            full: format!("{working}: {words} the worn limit {worn}"),
            plain: format!("{read}, {words} the worn limit {pair}"),
        }
    };
    let judged = |meaning, because: Reason, result: &str| Opinion {
        meaning: Some(meaning),
        because,
        result: result.to_owned(),
        hold: None,
        gauges: gauges.clone(),
    };
    let by_hand = book.job.judged.get(&at);
    let to_size = by_hand.is_some_and(|judged| matches!(judged.as_what, Judged::Size(_)));
    match ((wear, index), by_hand) {
        ((Wear::AsMade | Wear::WithinWorn, _), _) => judged(Meaning::Back, by_wear("within"), ""),
        ((Wear::Beyond, _), _) if gauges.is_empty() => judged(Meaning::Renew, by_wear("beyond"), ""),
        ((Wear::Beyond, _), _) => judged(Meaning::Machine, by_wear("beyond"), "to the next size"),
        (_, Some(by_hand)) if to_size => judged(Meaning::Machine, told(by_hand.words()), "to the next size"),
        (_, Some(by_hand)) => judged(Meaning::Back, told(by_hand.words()), ""),
        ((Wear::WrongSide, index), None) => {
            let made = said.made.map_or_else(String::new, |(low, high)| {
                let made =
                    high.map_or_else(|| low.printed(), |high| super::shown::range(Some(low), Some(high)));
                format!(", not as made ({made})")
            });
            open(Hold::NotGood(asked, format!("{}{made}", value.shown_at(index))))
        }
        _ => open(Hold::Question(asked)),
    }
}
