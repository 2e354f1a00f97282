//! The record as it bears on one procedure: every name a number, every reading at its place.

use std::collections::BTreeMap;

use super::earlier::{Earlier, taken_words, told_again};
use super::{
    Approval, Date, Done, Estimate, ExtraPart, GeneralTorques, Goods, Handover, Intake, NotDone, Note,
    Occasion, Order, Prices, Print, Refused, Sent, Signature, WrittenWork,
};
use crate::english::same_words;
use crate::procedure::model::{AskId, GaugeId, LookId, PartId, Place, SetId, StepId, SupplyId};
use crate::quantity::{Dimension, Quantity};
use crate::source::{Span, Spanned};

/// A job's record with its names resolved. The default is a job of which nothing is known yet.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Job {
    /// Number or name of the job.
    pub name: Option<String>,
    /// What is stamped on the engine.
    pub engine_no: Option<Spanned<String>>,
    /// Whose engine it is.
    pub customer: Option<String>,
    /// The day on which the engine is promised to be ready.
    pub promised: Option<Date>,
    /// Which of the shop's stands the engine sits on, by the shop's own name for it.
    pub stand: Option<String>,
    /// Index of the answer to each question that is answered, and where it stands.
    pub answers: BTreeMap<AskId, Spanned<usize>>,
    /// What was there when the engine came in.
    pub intake: Intake,
    /// Readings in written order.
    pub readings: Vec<Reading>,
    /// Looks in written order.
    pub looks: Vec<LookTaken>,
    /// Bench notes in written order.
    pub notes: Vec<Note>,
    /// Steps done in written order.
    pub done: Vec<Done>,
    /// Steps that are done at all of their places together, at the places at which they are done so far.
    pub partly: Vec<Done<(StepId, Place)>>,
    /// Steps left out, or that can't be done any more.
    pub not_done: Vec<NotDone>,
    /// Length of a fastener by set, place of the set, and hole letter.
    pub lengths: BTreeMap<(SetId, Place, String), Spanned<Quantity>>,
    /// Things ordered.
    pub orders: BTreeMap<Goods, Order>,
    /// Parts sent out.
    pub sent: BTreeMap<(PartId, Place), Sent>,
    /// What came back and didn't pass the goods-back check, in written order.
    pub refused: Vec<Refused>,
    /// What was settled by hand of things that the procedure leaves open.
    pub settled: BTreeMap<Goods, Settlement>,
    /// What was settled by hand of the fastener of one hole.
    pub settled_holes: BTreeMap<(SetId, Place, String), Settlement>,
    /// What a person has judged of readings that the instrument leaves in doubt, or accepts as they are.
    pub judged: BTreeMap<(GaugeId, Place), Judgement>,
    /// What a person has judged of what can't be looked at any more.
    pub judged_looks: BTreeMap<(LookId, Place), Judgement>,
    /// By whose word work on the engine goes on, though it was found in some condition.
    pub settled_engine: Option<Settlement>,
    /// Pieces chosen of those that are sold.
    pub chosen: BTreeMap<(PartId, Place), PieceChosen>,
    /// Sizes that the engine was bored or ground to before, by how much; nought where it is standard again.
    pub present: BTreeMap<(GaugeId, Place), Spanned<Quantity>>,
    /// Steps of this job's own, each with why it is done.
    pub extra_steps: Vec<(StepId, Option<String>)>,
    /// Parts of this job's own, which the procedure takes for supplies.
    pub extra_parts: Vec<(SupplyId, ExtraPart)>,
    /// Work that is sent out and that the procedure hasn't got.
    pub extra_work: BTreeMap<(PartId, Place), WrittenWork>,
    /// What the owner agreed to.
    pub approvals: Vec<Approval>,
    /// Estimates printed, in written order.
    pub estimates: Vec<Estimate>,
    /// Packets printed, in written order.
    pub prints: Vec<Print>,
    /// What is said when the engine goes back.
    pub handover: Handover,
    /// What things and work cost, by a file of prices; empty where none was given.
    pub prices: Prices,
    /// The shop's own table of torques, where its crib has one.
    pub general_torques: Option<GeneralTorques>,
    /// How far instruments of the shop may themselves be off, by their names in its crib.
    pub instrument_errors: Vec<(String, Quantity)>,
}

/// A reading at its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The gauge.
    pub gauge: GaugeId,
    /// Its place.
    pub place: Place,
    /// Index of the station; none where the gauge has no stations.
    pub station: Option<usize>,
    /// Index of the direction; none where the gauge has no directions.
    pub direction: Option<usize>,
    /// When it was taken.
    pub occasion: Occasion,
    /// What was read.
    pub value: Quantity,
    /// What it was read with, where it was not the gauge's own instrument.
    pub instrument: Option<String>,
    /// How far that may itself be off, where the record says so.
    pub error: Option<Quantity>,
    /// Who, and when.
    pub signature: Signature,
    /// What was read there before, the first first; nothing counts from it.
    pub earlier: Vec<Earlier<Quantity>>,
    /// Where it stands.
    pub span: Span,
}

impl Reading {
    /// What was read again, with what was read before, in words; none of what was read once.
    pub(crate) fn again(&self) -> Option<String> {
        let now = taken_words(self.value.printed(), self.instrument.as_deref(), &self.signature);
        told_again(now, self.earlier.iter().map(|earlier| earlier.words(|value| value.printed())))
    }
}

impl LookTaken {
    /// What was judged again, with what was judged before, in words; none of what was judged once.
    pub(crate) fn again(&self, result: impl Fn(usize) -> String) -> Option<String> {
        let now = taken_words(result(self.result), None, &self.signature);
        told_again(now, self.earlier.iter().map(|earlier| earlier.words(|value| result(*value))))
    }
}

/// A condition judged.
#[derive(Debug, Clone, PartialEq)]
pub struct LookTaken {
    /// The look.
    pub look: LookId,
    /// Its place.
    pub place: Place,
    /// When it was judged.
    pub occasion: Occasion,
    /// Index of the result.
    pub result: usize,
    /// Who, and when.
    pub signature: Signature,
    /// What it was judged before, by the index of the result, the first first; nothing counts from it.
    pub earlier: Vec<Earlier<usize>>,
    /// Where it stands.
    pub span: Span,
}

/// What becomes of a thing that was settled by hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Settled {
    /// It goes back.
    GoesBack,
    /// It is cleaned and goes back.
    CleanAndBack,
    /// A new one goes in.
    Renew,
    /// Nothing goes in.
    LeaveOut,
    /// It goes back as it is: the owner was told, and doesn't want the work.
    Declined,
}

/// What was settled by hand of one thing.
#[derive(Debug, Clone, PartialEq)]
pub struct Settlement {
    /// What becomes of it.
    pub what: Settled,
    /// Why; always there for what is left out, and for what is settled against the procedure.
    pub why: Option<String>,
    /// Who, and when; always there for what is kept in spite of the procedure.
    pub signature: Signature,
    /// Who says so too.
    pub second: Option<String>,
    /// What may come of it, and is accepted.
    pub risk: Option<String>,
    /// Whether it counts whatever the procedure says of the thing.
    pub all_the_same: bool,
    /// Where it stands.
    pub span: Span,
}

/// The piece that somebody chose of those that are sold.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceChosen {
    /// Which.
    pub piece: String,
    /// Why, where it is said.
    pub why: Option<String>,
    /// Who, and when.
    pub signature: Signature,
    /// Where it stands.
    pub span: Span,
}

impl PieceChosen {
    /// In words: `chosen by HK on 2026-03-05: the last one in the drawer`.
    pub(crate) fn words(&self) -> String {
        let why = self.why.as_ref().map_or(String::new(), |why| format!(": {why}"));
        format!("chosen{}{why}", self.signature.words())
    }
}

/// As what a person judges a reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Judged {
    /// Good, of a gauge with limits alone.
    Good,
    /// In this band, or with this result of a look, by its index.
    Band(usize),
    /// To be machined to this size, by its index.
    Size(usize),
}

/// What a person judges a reading to be.
#[derive(Debug, Clone, PartialEq)]
pub struct Judgement {
    /// As what.
    pub as_what: Judged,
    /// Why.
    pub why: String,
    /// Who, and when.
    pub signature: Signature,
    /// Who says so too.
    pub second: Option<String>,
    /// Where it stands.
    pub span: Span,
}

impl Settlement {
    /// Whether the thing goes back in spite of the procedure.
    pub(crate) fn keeps(&self) -> bool {
        self.all_the_same && self.what.keeps()
    }

    /// Why, who said so and when, who said it too, and what may come of it; none of what has no reason.
    pub(crate) fn words(&self) -> Option<String> {
        let why = self.why.as_ref()?;
        let declined = if self.what == Settled::Declined { "declined: " } else { "" };
        let date = self.signature.date.map(|date| date.to_string());
        let named: String =
            self.signature.by.iter().cloned().chain(date).map(|word| format!(", {word}")).collect();
        let second = self.second.as_ref().map(|second| format!("; {second} agrees")).unwrap_or_default();
        let risk = self.risk.as_ref().map(|risk| format!("; risk accepted: {risk}")).unwrap_or_default();
        Some(format!("{declined}{why}{named}{second}{risk}"))
    }
}

impl Judgement {
    /// In words: `settled by HK on 2026-03-05: read again with a finer gauge`.
    pub(crate) fn words(&self) -> String {
        let names: Vec<String> = self.signature.by.iter().chain(&self.second).cloned().collect();
        let date = self.signature.date.map(|date| format!(" on {date}")).unwrap_or_default();
        format!("settled by {}{date}: {}", names.join(" and "), self.why)
    }

    /// Whether it accepts the part as it was read, and doesn't send it to be machined.
    pub(crate) fn accepts(&self) -> bool {
        !matches!(self.as_what, Judged::Size(_))
    }

    /// The word for a reading of a gauge that has limits alone.
    pub(crate) const GOOD: &'static str = "good";
}

impl Settled {
    /// Every word that settles, as it stands in a record.
    pub const WORDS: [(&'static str, Settled); 5] = [
        ("goes_back", Settled::GoesBack),
        ("clean_and_back", Settled::CleanAndBack),
        ("renew", Settled::Renew),
        ("leave_out", Settled::LeaveOut),
        ("declined", Settled::Declined),
    ];

    /// Whether the old piece goes back.
    pub(crate) fn keeps(self) -> bool {
        matches!(self, Settled::GoesBack | Settled::CleanAndBack | Settled::Declined)
    }
}

impl Job {
    /// The printed estimate of this number.
    pub(crate) fn estimate(&self, number: &str) -> Option<&Estimate> {
        self.estimates.iter().find(|estimate| estimate.number.value == number)
    }

    /// What came back of a part and didn't pass, in written order.
    pub(crate) fn refusals(&self, part: PartId, place: Place) -> impl Iterator<Item = &Refused> {
        self.refused.iter().filter(move |refused| refused.part == (part, place))
    }

    /// Why a part that is back goes out again: it didn't pass when it came back the last time.
    pub(crate) fn refusal(&self, part: PartId, place: Place) -> Option<&Refused> {
        let back = self.sent.get(&(part, place)).filter(|sent| sent.accepted.is_none())?.back?;
        self.refusals(part, place)
            .filter(|refused| refused.signature.date.is_none_or(|date| date >= back))
            .last()
    }

    /// Whether the record follows what is ordered and sent out.
    pub(crate) fn follows_goods(&self) -> bool {
        !self.orders.is_empty() || !self.sent.is_empty()
    }

    /// How far an instrument of the shop may itself be off by its crib, where it measures what is asked for.
    pub(crate) fn instrument_error(&self, name: &str, dimension: Dimension) -> Option<Quantity> {
        let named = self.instrument_errors.iter().filter(|(known, _)| same_words(known, name));
        named.map(|(_, error)| *error).find(|error| error.dimension() == dimension)
    }

    /// What was settled of a thing: at its place, else everywhere.
    pub fn settled(&self, at_place: Goods, everywhere: Goods) -> Option<&Settlement> {
        self.settled.get(&at_place).or_else(|| self.settled.get(&everywhere))
    }
}
