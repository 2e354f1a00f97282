//! Decisions in words.

use super::{Asked, Because, Change, Decisions, Identification, PartDecision, Size, Verdict, Why, shown};
use crate::english::list;
use crate::procedure::model::{AxisId, Naming, PartId, Place, Procedure, SetId};
use crate::quantity::Quantity;
use crate::record::Goods;

/// The id of a part with its place.
pub(super) fn part_name(procedure: &Procedure, id: PartId, place: Place) -> String {
    let part = procedure.part(id);
    shown::named(procedure, &part.naming.id, &part.axes, place)
}

/// The id of a set with its place.
pub(super) fn set_name(procedure: &Procedure, id: SetId, place: Place) -> String {
    let set = procedure.set(id);
    shown::named(procedure, &set.naming.id, &set.axes, place)
}

/// The id of something to buy.
pub(super) fn goods_name(procedure: &Procedure, goods: Goods) -> String {
    let (naming, axes, place) = told_by(procedure, goods);
    place.map_or_else(|| naming.id.clone(), |place| shown::named(procedure, &naming.id, axes, place))
}

/// How goods are called, with their place if they are for one.
pub(super) fn goods_title(procedure: &Procedure, goods: Goods) -> String {
    let (naming, axes, place) = told_by(procedure, goods);
    match place.map(|place| procedure.place_name(axes, place)).filter(|name| !name.is_empty()) {
        Some(place) => format!("{} {place}", naming.title),
        None => naming.title.clone(),
    }
}

/// What goods are told by: names, axes, and the one place that they are for.
pub(super) fn told_by(procedure: &Procedure, goods: Goods) -> (&Naming, &[AxisId], Option<Place>) {
    match goods {
        Goods::Part(id, place) => (&procedure.part(id).naming, &procedure.part(id).axes, place),
        Goods::Set(id, place) => (&procedure.set(id).naming, &procedure.set(id).axes, place),
        Goods::Supply(id) => (&procedure.supply(id).naming, &[], None),
    }
}

impl Size {
    /// The step with its sign: `+0.50 mm`, `−0.25 mm`.
    pub fn step_words(&self) -> String {
        signed(self.step, self.grows)
    }

    /// The step in words: `0.50 mm over`.
    pub fn way(&self) -> String {
        format!("{} {}", self.step.printed(), if self.grows { "over" } else { "under" })
    }

    /// What is machined and to what: `bore to 80.50 to 80.52 mm (+0.50 mm)`.
    pub fn words(&self, procedure: &Procedure) -> String {
        let id = &procedure.gauge(self.gauge).naming.id;
        let range = match self.high {
            Some(_) => shown::range(Some(self.low), self.high),
            None => self.low.printed(),
        };
        format!("{id} {range} ({})", self.step_words())
    }
}

fn signed(step: Quantity, grows: bool) -> String {
    format!("{}{}", if grows { '+' } else { '−' }, step.printed())
}

impl Verdict {
    /// One word for programs.
    pub fn word(&self) -> &'static str {
        match self {
            Verdict::GoesBack => "goes_back",
            Verdict::CleanAndBack => "clean_and_back",
            Verdict::Machine { .. } => "machine",
            Verdict::Renew { .. } => "renew",
            Verdict::LeaveOut(_) => "leave_out",
            Verdict::Keep => "keep",
            Verdict::Open => "open",
        }
    }

    /// In words.
    pub fn words(&self, procedure: &Procedure) -> String {
        match self {
            Verdict::GoesBack => "goes back".to_owned(),
            Verdict::CleanAndBack => "clean, and back".to_owned(),
            Verdict::Machine { what, to } if to.is_empty() => format!("machine: {what}"),
            Verdict::Machine { what, to } => {
                let sizes: Vec<String> = to.iter().map(|size| size.words(procedure)).collect();
                format!("machine: {what}: {}", sizes.join(", "))
            }
            Verdict::Renew { size: None } => "renew".to_owned(),
            Verdict::Renew { size: Some(size) } => format!("renew, size {}", size.printed()),
            Verdict::LeaveOut(why) => format!("leave out: {why}"),
            Verdict::Keep => "keep until it is settled".to_owned(),
            Verdict::Open => "open".to_owned(),
        }
    }
}

impl Change {
    /// In words: "`cylinder_head` is machined".
    pub fn words(self, procedure: &Procedure) -> String {
        let (part, place, word) = match self {
            Change::Machined(part, place) => (part, place, "is machined"),
            Change::Renewed(part, place) => (part, place, "is renewed"),
            Change::SentOut(part, place) => (part, place, "was sent out"),
        };
        format!("`{}` {word}", part_name(procedure, part, place))
    }
}

impl Why {
    /// Why a question is open, in words.
    pub fn words(&self, procedure: &Procedure, asked: Asked) -> String {
        let answers = |list: &[usize]| {
            let names: Vec<&str> = list.iter().map(|answer| asked.answer_name(procedure, *answer)).collect();
            names.join(" or ")
        };
        match self {
            Why::NotAnswered => "not answered".to_owned(),
            Why::NotTaken(_) => "not taken".to_owned(),
            Why::Never(because) => format!("it can't be had any more ({because}): a person settles it"),
            Why::MeasureAgain(value, list) if list.len() == 1 => {
                format!("{value}: {}, or outside every band: measure again", answers(list))
            }
            Why::MeasureAgain(value, list) => format!("{value}: {}: measure again", answers(list)),
            Why::OutsideBands(value) => format!("{value}: in none of its bands"),
            Why::JudgedBy(value, asked) => {
                let names: Vec<String> =
                    asked.iter().map(|asked| format!("`{}`", asked.name(procedure))).collect();
                format!("{value}: what it is judged by hangs on {}", list(&names))
            }
            Why::Implausible => "a reading can hardly be right".to_owned(),
            Why::Superseded(part, place) => {
                format!("`{}` has changed since it was read", part_name(procedure, *part, *place))
            }
            Why::Undefined => "it can't be computed from these readings".to_owned(),
        }
    }
}

impl Identification {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Identification::Unknown => "the number is not known",
            Identification::Matches => "the number is of this family",
            Identification::Differs => "the number is not of this family: every sheet is held",
        }
    }
}

impl Decisions {
    /// What all work that can't be undone waits for, as a noun phrase: what is stamped on the engine, and in what condition it
    /// was found.
    pub(crate) fn of_the_engine(&self, procedure: &Procedure) -> Vec<String> {
        let other = (self.identification == Identification::Differs)
            .then(|| Identification::right_procedure(procedure));
        other.into_iter().chain(self.as_found(procedure)).collect()
    }

    /// What work waits for, as a noun phrase, because of the condition in which the whole engine was found.
    pub(crate) fn as_found(&self, procedure: &Procedure) -> impl Iterator<Item = String> {
        let whole = procedure.whole();
        let found = self.engine_found.iter();
        found.map(move |condition| format!("a decision: what becomes of the {whole}, found {condition}"))
    }
}

/// Things with the same verdict, reason and holds, told together.
pub(super) struct Told<'a> {
    pub(super) names: Vec<String>,
    pub(super) decision: &'a PartDecision,
}

/// Parts, or sets, with like ones told together; those that go back without a reason to speak of are left out
/// unless `all`.
pub(super) fn told<'a>(list: impl Iterator<Item = (String, &'a PartDecision)>, all: bool) -> Vec<Told<'a>> {
    let mut told: Vec<Told> = Vec::new();
    for (name, decision) in list {
        let plain = decision.verdict == Verdict::GoesBack
            && decision.because == Because::NothingSaid
            && decision.holds.is_empty();
        if plain && !all {
            continue;
        }
        match told.iter_mut().find(|other| *other.decision == *decision) {
            Some(other) => other.names.push(name),
            None => told.push(Told { names: vec![name], decision }),
        }
    }
    told
}

/// What is said of a part or of fasteners that were not there when it came.
pub(crate) fn came_without_it(procedure: &Procedure) -> String {
    format!("the {} came without it", procedure.whole())
}

/// Why a part that the answers say is not there does not go back.
pub(super) fn not_there(procedure: &Procedure) -> String {
    format!("this {} hasn't got it", procedure.whole())
}

/// Every part with its name, in declared order.
pub(super) fn parts<'a>(
    procedure: &'a Procedure,
    decisions: &'a Decisions,
) -> impl Iterator<Item = (String, &'a PartDecision)> {
    decisions.fates.iter().map(|((id, place), decision)| (part_name(procedure, *id, *place), decision))
}

/// Every set with its name, in declared order.
pub(super) fn sets<'a>(
    procedure: &'a Procedure,
    decisions: &'a Decisions,
) -> impl Iterator<Item = (String, &'a PartDecision)> {
    decisions.sets.iter().map(|((id, place), decision)| (set_name(procedure, *id, *place), decision))
}
