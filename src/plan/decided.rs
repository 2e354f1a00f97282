//! What the job has decided, as the plan asks for it: terms of a case, steps done, what becomes of parts.

use crate::decide::{Asked, Change, Decisions, Hold as Wait, Verdict};
use crate::network::Member;
use crate::procedure::model::{GaugeId, LookId, PartId, Place, Procedure, SetId};
use crate::record::Goods;

use super::words::{self, inner};

/// Whether the record says that the step is done.
pub(super) fn done(decisions: &Decisions, member: &Member) -> bool {
    decisions.done.iter().any(|done| done.meets(&member.key))
}

/// What becomes of a part at a place.
pub(crate) fn verdict(decisions: &Decisions, part: PartId, place: Place) -> &Verdict {
    decisions.fates.get(&(part, place)).map_or(&Verdict::Open, |decision| &decision.verdict)
}

/// Whether a part may go back where it was, as far as is decided: only what is renewed or left out for certain doesn't.
pub(crate) fn may_go_back(decisions: &Decisions, part: PartId, place: Place) -> bool {
    !matches!(verdict(decisions, part, place), Verdict::Renew { .. } | Verdict::LeaveOut(_))
}

/// Whether what is waited for is on its way (ordered, sent out), or can be read only once that is back, rather than to be
/// found out now. It holds a step only if
/// the record follows such things: otherwise nothing could ever arrive.
pub(crate) fn arrives(wait: &Wait) -> bool {
    matches!(
        wait,
        Wait::NotInHand(_)
            | Wait::WrongSize(..)
            | Wait::NotStandard(_)
            | Wait::NothingInSize(_)
            | Wait::NotAgreed
            | Wait::NotSent
            | Wait::NotBack
            | Wait::NotAccepted
            | Wait::Refused(_)
            | Wait::ReadAgain(..)
    )
}

/// What a part waits for, as a noun phrase.
pub(crate) fn wait_words(procedure: &Procedure, part: PartId, place: Place, wait: &Wait) -> String {
    let one = procedure.part(part);
    let name = part_name(procedure, part, Some(place));
    match wait {
        Wait::Question(asked) => question_words(procedure, *asked),
        Wait::Never(asked, because) => never_words(procedure, *asked, because),
        Wait::NotInHand(Goods::Part(new, _)) => {
            format!("the new {}: not in hand", inner(&procedure.part(*new).naming.title))
        }
        Wait::NotInHand(Goods::Set(set, _)) => {
            format!("new ones of the {}: not in hand", inner(&procedure.set(*set).naming.title))
        }
        Wait::NotInHand(Goods::Supply(supply)) => {
            format!("{}: not in hand", inner(&procedure.supply(*supply).naming.title))
        }
        Wait::WrongSize(goods, size) => {
            let new = if let Goods::Part(new, _) = goods { procedure.part(*new) } else { one };
            format!("the new {} in size {}: not in hand", inner(&new.naming.title), size.printed())
        }
        Wait::NotStandard(goods) => {
            let new = if let Goods::Part(new, _) = goods { procedure.part(*new) } else { one };
            format!("the new {} in the standard size: not in hand", inner(&new.naming.title))
        }
        Wait::NothingInSize(size) => {
            format!("new parts in size {} for the {name}: not in hand", size.printed())
        }
        Wait::NewPartUnmeasured(gauge, at) => {
            format!("a reading of the new part: {}", gauge_name(procedure, *gauge, *at))
        }
        Wait::NotAgreed => {
            format!("the owner's yes to the work on the {name}: no estimate that is agreed covers it")
        }
        Wait::NotSent => format!("the {name}: not sent out yet"),
        Wait::NotBack => format!("the {name}: not back yet"),
        Wait::NotAccepted => format!("the {name}: back, but not accepted yet"),
        Wait::Refused(why) => format!("the {name}: back and refused, so that it goes out again: {why}"),
        Wait::Unmeasured(gauge, at) => {
            format!("a reading as returned: {}", gauge_name(procedure, *gauge, *at))
        }
        Wait::ReadAgain(gauge, at, change) => {
            let (changed, changed_at) = change.piece();
            let what = part_name(procedure, changed, Some(changed_at));
            let word = match change {
                Change::Machined(..) => "is machined",
                Change::Renewed(..) => "is renewed",
                Change::SentOut(..) => "was sent out",
            };
            format!("a new reading, since the {what} {word}: {}", gauge_name(procedure, *gauge, *at))
        }
        Wait::NotGood(asked, shown) => {
            format!("the {name}: as it is it is not good, {}: {shown}", asked_name(procedure, *asked))
        }
        Wait::NoMeaning(asked, result) => {
            format!("word what “{result}” means for the {name}, {}", asked_name(procedure, *asked))
        }
        Wait::NotChosen => {
            let from = one.select_from.clone().unwrap_or_default();
            format!("a choice: which {name} goes in, of {from}")
        }
        Wait::ToChoose(gauge, at, piece) => {
            let by = gauge_name(procedure, *gauge, *at);
            let piece = piece.map(|piece| format!(": {}", procedure.gauge(*gauge).bands[piece].name));
            format!("a choice in the record: which {name} goes in, by {by}{}", piece.unwrap_or_default())
        }
        Wait::Keep => format!("a decision: what becomes of the {name}"),
        Wait::Found(_, condition) => format!("a decision: what becomes of the {name}, found {condition}"),
    }
}

/// What a question waits for that can't be answered by measuring or looking any more.
pub(super) fn never_words(procedure: &Procedure, asked: Asked, because: &str) -> String {
    format!("a person's word on {}, which can't be had any more ({because})", asked_name(procedure, asked))
}

/// What fasteners of a set wait for, as a noun phrase.
pub(super) fn wait_words_of_set(procedure: &Procedure, id: SetId, place: Place, wait: &Wait) -> String {
    let set = procedure.set(id);
    let name = inner(&words::at_place(procedure, &set.naming, &set.axes, Some(place)));
    match wait {
        Wait::Found(None, condition) => format!("a decision: what becomes of the {name}, found {condition}"),
        Wait::Found(Some(hole), condition) => {
            format!("a decision: what becomes of the {name} of hole {hole}, found {condition}")
        }
        _ => format!("new ones of the {}: not in hand", inner(&set.naming.title)),
    }
}

/// What an open question waits for.
pub(super) fn question_words(procedure: &Procedure, asked: Asked) -> String {
    match asked {
        Asked::Ask(ask) => {
            let ask = procedure.ask(ask);
            format!("an answer: {} ({})", ask.naming.title, words::alternatives(&ask.answers))
        }
        Asked::Gauge(gauge, place) => format!("a reading: {}", gauge_name(procedure, gauge, place)),
        Asked::Look(look, place) => format!("a look: {}", look_name(procedure, look, place)),
    }
}

/// The part with its place.
fn part_name(procedure: &Procedure, part: PartId, place: Option<Place>) -> String {
    let part = procedure.part(part);
    inner(&words::at_place(procedure, &part.naming, &part.axes, place))
}

fn gauge_name(procedure: &Procedure, gauge: GaugeId, place: Place) -> String {
    let gauge = procedure.gauge(gauge);
    inner(&words::at_place(procedure, &gauge.naming, &gauge.axes, Some(place)))
}

fn look_name(procedure: &Procedure, look: LookId, place: Place) -> String {
    let look = procedure.look(look);
    inner(&words::at_place(procedure, &look.naming, &look.axes, Some(place)))
}

fn asked_name(procedure: &Procedure, asked: Asked) -> String {
    match asked {
        Asked::Ask(ask) => procedure.ask(ask).naming.title.clone(),
        Asked::Gauge(gauge, place) => gauge_name(procedure, gauge, place),
        Asked::Look(look, place) => look_name(procedure, look, place),
    }
}
