//! What is waited for, in words: with ids on the screen, with titles on paper. Both stand here and nowhere else, so that one hold
//! says the same in the verdict, at its step and on every list.

use super::words::{goods_name, told_by};
use super::{Asked, Change, Hold, shown};
use crate::english::{alternatives, inner};
use crate::procedure::model::{AskId, GaugeId, LookId, PartId, Place, Procedure, SetId};
use crate::record::Goods;

impl Hold {
    /// What is missing, in words.
    pub fn words(&self, procedure: &Procedure) -> String {
        let gauge = |id, place| Asked::Gauge(id, place).name(procedure);
        match self {
            Hold::Question(asked) => format!("`{}` is open", asked.name(procedure)),
            Hold::Never(asked, because) => {
                format!("`{}` can't be had any more ({because}): a person settles it", asked.name(procedure))
            }
            Hold::NotInHand(goods) => format!("`{}` is not in hand", goods_name(procedure, *goods)),
            Hold::WrongSize(goods, size) => {
                format!("`{}` is not in hand in size {}", goods_name(procedure, *goods), size.printed())
            }
            Hold::NotStandard(goods) => {
                format!("`{}` is not in hand in the standard size", goods_name(procedure, *goods))
            }
            Hold::NothingInSize(size) => format!("no new part in size {} is in hand", size.printed()),
            Hold::NewPartUnmeasured(id, place) => format!("new part not measured: `{}`", gauge(*id, *place)),
            Hold::NotAgreed => "no estimate that the owner has agreed to covers it".to_owned(),
            Hold::NotSent => "not sent out".to_owned(),
            Hold::NotBack => "not back".to_owned(),
            Hold::NotAccepted => "back, but not accepted".to_owned(),
            Hold::Refused(why) => format!("back, and refused ({why}): it goes out again"),
            Hold::Unmeasured(id, place) => format!("not measured as it came back: `{}`", gauge(*id, *place)),
            Hold::ReadAgain(id, place, change) => {
                format!("not measured again: `{}`, since {}", gauge(*id, *place), change.words(procedure))
            }
            Hold::SizedBefore(id, step, words) => {
                let name = &procedure.gauge(*id).naming.id;
                format!(
                    "is `{name}` {words} already? `present: {{{name}: {}}}` if it is, `present: {{{name}: 0 {}}}` if not",
                    step.printed(),
                    step.unit().symbol
                )
            }
            Hold::NotGood(asked, what) => format!("not good: `{}` is {what}", asked.name(procedure)),
            Hold::NoMeaning(asked, result) => {
                format!("`{}` is `{result}`, which does not say what becomes of it", asked.name(procedure))
            }
            Hold::Keep => "not settled what becomes of it".to_owned(),
            Hold::Found(None, condition) => format!("found {condition}: not settled what becomes of it"),
            Hold::Found(Some(hole), condition) => {
                format!("hole {hole} found {condition}: not settled what becomes of it")
            }
            Hold::ToChoose(id, place, None) => format!("not chosen by `{}`", gauge(*id, *place)),
            Hold::ToChoose(id, place, Some(piece)) => {
                let name = &procedure.gauge(*id).bands[*piece].name;
                format!("not chosen: by `{}` it is {name}", gauge(*id, *place))
            }
            Hold::NotChosen => "not said which of the graded pieces goes in".to_owned(),
        }
    }

    /// What a part waits for, as a noun phrase.
    pub(crate) fn words_of_part(&self, procedure: &Procedure, part: PartId, place: Place) -> String {
        let one = procedure.part(part);
        let name = part_title(procedure, part, place);
        match self {
            Hold::Question(asked) => question_words(procedure, *asked),
            Hold::Never(asked, because) => never_words(procedure, *asked, because),
            Hold::NotInHand(Goods::Part(new, _)) => {
                format!("the new {}: not in hand", inner(&procedure.part(*new).naming.title))
            }
            Hold::NotInHand(Goods::Set(set, _)) => {
                format!("new ones of the {}: not in hand", inner(&procedure.set(*set).naming.title))
            }
            Hold::NotInHand(Goods::Supply(supply)) => {
                format!("{}: not in hand", inner(&procedure.supply(*supply).naming.title))
            }
            Hold::WrongSize(goods, size) => {
                let new = if let Goods::Part(new, _) = goods { procedure.part(*new) } else { one };
                format!("the new {} in size {}: not in hand", inner(&new.naming.title), size.printed())
            }
            Hold::NotStandard(goods) => {
                let (new, ..) = told_by(procedure, *goods);
                format!("the new {} in the standard size: not in hand", inner(&new.title))
            }
            Hold::NothingInSize(size) => {
                format!("new parts in size {} for the {name}: not in hand", size.printed())
            }
            Hold::NewPartUnmeasured(gauge, at) => {
                format!("a reading of the new part: {}", gauge_title(procedure, *gauge, Some(*at)))
            }
            Hold::NotAgreed => {
                format!("the owner's yes to the work on the {name}: no estimate that is agreed covers it")
            }
            Hold::NotSent => format!("the {name}: not sent out yet"),
            Hold::NotBack => format!("the {name}: not back yet"),
            Hold::NotAccepted => format!("the {name}: back, but not accepted yet"),
            Hold::Refused(why) => format!("the {name}: back and refused, so that it goes out again: {why}"),
            Hold::Unmeasured(gauge, at) => {
                format!("a reading as returned: {}", gauge_title(procedure, *gauge, Some(*at)))
            }
            Hold::ReadAgain(gauge, at, change) => {
                let (changed, changed_at) = change.piece();
                let what = part_title(procedure, changed, changed_at);
                let word = match change {
                    Change::Machined(..) => "is machined",
                    Change::Renewed(..) => "is renewed",
                    Change::SentOut(..) => "was sent out",
                };
                format!(
                    "a new reading, since the {what} {word}: {}",
                    gauge_title(procedure, *gauge, Some(*at))
                )
            }
            Hold::SizedBefore(gauge, _, words) => format!(
                "word on whether it is {words} already, or standard and worn so far: {}",
                gauge_title(procedure, *gauge, None)
            ),
            Hold::NotGood(asked, shown) => {
                format!("the {name}: as it is it is not good, {}: {shown}", asked_title(procedure, *asked))
            }
            Hold::NoMeaning(asked, result) => {
                format!("word what “{result}” means for the {name}, {}", asked_title(procedure, *asked))
            }
            Hold::NotChosen => {
                let from = one.select_from.clone().unwrap_or_default();
                format!("a choice: which {name} goes in, of {from}")
            }
            Hold::ToChoose(gauge, at, piece) => {
                let by = gauge_title(procedure, *gauge, Some(*at));
                let piece = piece.map(|piece| format!(": {}", procedure.gauge(*gauge).bands[piece].name));
                format!("a choice in the record: which {name} goes in, by {by}{}", piece.unwrap_or_default())
            }
            Hold::Keep => format!("a decision: what becomes of the {name}"),
            Hold::Found(_, condition) => format!("a decision: what becomes of the {name}, found {condition}"),
        }
    }

    /// What fasteners of a set wait for, as a noun phrase.
    pub(crate) fn words_of_set(&self, procedure: &Procedure, id: SetId, place: Place) -> String {
        let set = procedure.set(id);
        let name = inner(&shown::titled(procedure, &set.naming, &set.axes, place));
        match self {
            Hold::Found(None, condition) => {
                format!("a decision: what becomes of the {name}, found {condition}")
            }
            Hold::Found(Some(hole), condition) => {
                format!("a decision: what becomes of the {name} of hole {hole}, found {condition}")
            }
            Hold::NotStandard(_) => {
                format!("new ones of the {} in the standard size: not in hand", inner(&set.naming.title))
            }
            _ => format!("new ones of the {}: not in hand", inner(&set.naming.title)),
        }
    }
}

/// What an open question waits for.
fn question_words(procedure: &Procedure, asked: Asked) -> String {
    match asked {
        Asked::Ask(ask) => answer_words(procedure, ask),
        Asked::Gauge(gauge, place) => reading_words(procedure, gauge, Some(place)),
        Asked::Look(look, place) => look_words(procedure, look, Some(place)),
    }
}

/// An answer that is waited for.
pub(crate) fn answer_words(procedure: &Procedure, ask: AskId) -> String {
    let ask = procedure.ask(ask);
    format!("an answer: {} ({})", ask.naming.title, alternatives(&ask.answers))
}

/// A reading that is waited for; one about a whole gauge names no place.
pub(crate) fn reading_words(procedure: &Procedure, gauge: GaugeId, place: Option<Place>) -> String {
    format!("a reading: {}", gauge_title(procedure, gauge, place))
}

/// A look that is waited for; one about all of its places names none.
pub(crate) fn look_words(procedure: &Procedure, look: LookId, place: Option<Place>) -> String {
    format!("a look: {}", look_title(procedure, look, place))
}

/// What a question waits for that can't be answered by measuring or looking any more.
pub(crate) fn never_words(procedure: &Procedure, asked: Asked, because: &str) -> String {
    format!("a person's word on {}, which can't be had any more ({because})", asked_title(procedure, asked))
}

fn part_title(procedure: &Procedure, part: PartId, place: Place) -> String {
    let part = procedure.part(part);
    inner(&shown::titled(procedure, &part.naming, &part.axes, place))
}

fn gauge_title(procedure: &Procedure, gauge: GaugeId, place: Option<Place>) -> String {
    let gauge = procedure.gauge(gauge);
    let at = |place| shown::titled(procedure, &gauge.naming, &gauge.axes, place);
    inner(&place.map_or_else(|| gauge.naming.title.clone(), at))
}

fn look_title(procedure: &Procedure, look: LookId, place: Option<Place>) -> String {
    let look = procedure.look(look);
    let at = |place| shown::titled(procedure, &look.naming, &look.axes, place);
    inner(&place.map_or_else(|| look.naming.title.clone(), at))
}

fn asked_title(procedure: &Procedure, asked: Asked) -> String {
    match asked {
        Asked::Ask(ask) => procedure.ask(ask).naming.title.clone(),
        Asked::Gauge(gauge, place) => gauge_title(procedure, gauge, Some(place)),
        Asked::Look(look, place) => look_title(procedure, look, Some(place)),
    }
}
