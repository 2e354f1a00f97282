//! The record as it was written: names still text, each with its place, quantities read.

use super::{
    Approval, Date, Done, Earlier, Estimate, Handover, Intake, Named, NotDone, Note, Occasion, Order, Print,
    Refused, Sent, Signature,
};
use crate::quantity::{Money, Quantity};
use crate::source::{FileId, Spanned};

/// Everything that a job's file says.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// The file.
    pub file: FileId,
    /// Number or name of the job.
    pub job: Option<Spanned<String>>,
    /// Path of the procedure, relative to the record.
    pub procedure: Option<Spanned<String>>,
    /// Id of the engine family, as the procedure declares it.
    pub family: Option<Spanned<String>>,
    /// Edition of the procedure for which the record was written.
    pub edition: Option<Spanned<u32>>,
    /// What is stamped on the engine.
    pub engine_no: Option<Spanned<String>>,
    /// Whose engine it is.
    pub customer: Option<Spanned<String>>,
    /// The day on which the engine is promised to be ready.
    pub promised: Option<Date>,
    /// Which of the shop's stands the engine sits on.
    pub stand: Option<Spanned<String>>,
    /// Path of a file with what the procedure has otherwise for this job, relative to the record.
    pub changes: Option<Spanned<String>>,
    /// Path of a file with prices, relative to the record.
    pub prices: Option<Spanned<String>>,
    /// Path of the shop's crib, relative to the record.
    pub crib: Option<Spanned<String>>,
    /// Answers to the procedure's questions.
    pub answers: Vec<(Spanned<String>, Spanned<String>)>,
    /// What was there when the engine came in.
    pub intake: Intake,
    /// Readings of all kinds in written order.
    pub readings: Vec<WrittenReading>,
    /// Looks of all kinds in written order.
    pub looks: Vec<WrittenLook>,
    /// Bench notes.
    pub notes: Vec<Note<Named>>,
    /// Steps done.
    pub done: Vec<Done<Named>>,
    /// Steps left out, or that can't be done any more.
    pub not_done: Vec<NotDone<Named>>,
    /// Lengths of fasteners as they came out: set, hole letter, length.
    pub lengths: Vec<WrittenLengths>,
    /// Things ordered.
    pub orders: Vec<(Named, Order)>,
    /// Parts sent out.
    pub sent: Vec<(Named, Sent)>,
    /// What came back and didn't pass.
    pub refused: Vec<Refused<Named>>,
    /// Sizes that the engine was bored or ground to before.
    pub present: Vec<(Named, Spanned<Quantity>)>,
    /// Pieces chosen of those that are sold.
    pub chosen: Vec<WrittenChoice>,
    /// What was settled by hand.
    pub settled: Vec<WrittenSettled>,
    /// Work that the procedure hasn't got.
    pub extra: WrittenExtra,
    /// What the owner agreed to.
    pub approved: Vec<Approval<Named>>,
    /// Estimates printed.
    pub estimates: Vec<Estimate<Named>>,
    /// Packets printed.
    pub prints: Vec<Print>,
    /// What is said when the engine goes back.
    pub handover: Handover,
}

/// Lengths of the fasteners of one set, by hole letter.
pub(crate) type WrittenLengths = (Named, Vec<(Spanned<String>, Spanned<Quantity>)>);

/// A reading.
#[derive(Debug, Clone, PartialEq)]
pub struct WrittenReading {
    /// Gauge and place; the words are station and direction.
    pub gauge: Named,
    /// When it was taken.
    pub occasion: Occasion,
    /// What was read.
    pub value: Spanned<Quantity>,
    /// What it was read with.
    pub instrument: Option<String>,
    /// How far that may itself be off.
    pub error: Option<Spanned<Quantity>>,
    /// Who, and when.
    pub signature: Signature,
    /// What was read there before, the first first.
    pub earlier: Vec<Earlier<Spanned<Quantity>>>,
}

/// A condition judged.
#[derive(Debug, Clone, PartialEq)]
pub struct WrittenLook {
    /// Look and place.
    pub look: Named,
    /// When it was judged.
    pub occasion: Occasion,
    /// The result.
    pub result: Spanned<String>,
    /// Who, and when.
    pub signature: Signature,
    /// What it was judged before, the first first.
    pub earlier: Vec<Earlier<Spanned<String>>>,
}

/// Work of this job that the procedure hasn't got.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct WrittenExtra {
    /// Steps.
    pub steps: Vec<ExtraStep>,
    /// Parts that are bought and fitted.
    pub parts: Vec<ExtraPart>,
    /// Tools by id, with their titles.
    pub tools: Vec<(Spanned<String>, Spanned<String>)>,
    /// Work that is sent out.
    pub work: Vec<WrittenWork>,
}

/// A step of this job.
#[derive(Debug, Clone, PartialEq)]
pub struct ExtraStep {
    /// Its id.
    pub id: Spanned<String>,
    /// Its title.
    pub title: Spanned<String>,
    /// Its phase.
    pub phase: Spanned<String>,
    /// Steps that come before it.
    pub after: Vec<Named>,
    /// Steps that come after it.
    pub before: Vec<Named>,
    /// What is done, in words.
    pub acts: Vec<Spanned<String>>,
    /// Tools.
    pub tools: Vec<Spanned<String>>,
    /// Extra parts and supplies, each with its amount behind it.
    pub parts: Vec<Spanned<String>>,
    /// Hazards, shown before the first act.
    pub hazards: Vec<Spanned<String>>,
    /// People.
    pub hands: Option<Spanned<u32>>,
    /// Time it takes.
    pub time: Option<Spanned<Quantity>>,
    /// What a second person checks at its end.
    pub hold: Option<Spanned<String>>,
    /// Why it is done.
    pub why: Option<String>,
    /// Who says so, and when.
    pub signature: Signature,
}

/// A part of this job: bought and fitted, and not in the procedure.
#[derive(Debug, Clone, PartialEq)]
pub struct ExtraPart {
    /// Its id.
    pub id: Spanned<String>,
    /// Its title.
    pub title: Spanned<String>,
    /// How many.
    pub count: u32,
    /// Price of one.
    pub price: Option<Money>,
    /// Part number.
    pub part_number: Option<String>,
    /// From whom.
    pub supplier: Option<String>,
    /// How long it takes to come.
    pub lead_time: Option<Quantity>,
}

/// Work on a part of the engine that is sent out, and that the procedure hasn't got.
#[derive(Debug, Clone, PartialEq)]
pub struct WrittenWork {
    /// The part.
    pub part: Named,
    /// What is to be done.
    pub what: String,
    /// What it costs.
    pub price: Option<Money>,
    /// To whom.
    pub to: Option<String>,
    /// How long it takes.
    pub lead_time: Option<Quantity>,
}

/// What was settled of a thing by hand.
#[derive(Debug, Clone, PartialEq)]
pub struct WrittenSettled {
    /// The thing.
    pub thing: Named,
    /// What becomes of it.
    pub word: Spanned<String>,
    /// Why, where it is said.
    pub why: Option<Spanned<String>>,
    /// Who says so, and when, where it is said.
    pub signature: Signature,
    /// Who says so too.
    pub second: Option<String>,
    /// What may come of it.
    pub risk: Option<String>,
}

/// A piece chosen of those that are sold.
#[derive(Debug, Clone, PartialEq)]
pub struct WrittenChoice {
    /// The part that it is for.
    pub part: Named,
    /// Which.
    pub piece: Spanned<String>,
    /// Why, where it is said.
    pub why: Option<String>,
    /// Who chose it, and when.
    pub signature: Signature,
}
