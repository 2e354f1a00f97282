//! The record as it was written: names still text, each with its place, quantities read.

use super::{Approval, Date, Done, Money, Note, Order, Sent};
use crate::quantity::Quantity;
use crate::source::{FileId, Span, Spanned};

/// Everything that a job's file says.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// The file.
    pub file: FileId,
    /// Number or name of the job.
    pub job: Option<Spanned<String>>,
    /// Path of the procedure, relative to the record.
    pub procedure: Option<Spanned<String>>,
    /// What is stamped on the engine.
    pub engine_no: Option<Spanned<String>>,
    /// Whose engine it is.
    pub customer: Option<Spanned<String>>,
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
    /// Lengths of fasteners as they came out: set, hole letter, length.
    pub lengths: Vec<WrittenLengths>,
    /// Things ordered.
    pub orders: Vec<(Named, Order)>,
    /// Parts sent out.
    pub sent: Vec<(Named, Sent)>,
    /// What was settled by hand.
    pub settled: Vec<WrittenSettled>,
    /// What the owner agreed to.
    pub approved: Vec<Approval<Named>>,
    /// Packets printed.
    pub prints: Vec<Print>,
    /// What is said when the engine goes back.
    pub handover: Handover,
}

/// A thing named with its place: `push_rod[2, inlet]`, and words that follow it, such as a station.
#[derive(Debug, Clone, PartialEq)]
pub struct Named {
    /// The id.
    pub name: String,
    /// Positions, in the order of the thing's axes.
    pub positions: Vec<String>,
    /// Words after it.
    pub words: Vec<String>,
    /// Where it stands.
    pub span: Span,
}

/// Lengths of the fasteners of one set, by hole letter.
pub type WrittenLengths = (Named, Vec<(Spanned<String>, Spanned<Quantity>)>);

/// When in the life of a part it was judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(clippy::enum_variant_names, reason = "the trade's words: as found, as returned, as built")]
pub enum Occasion {
    /// As it came out of the engine.
    AsFound,
    /// As it came back from the machine shop.
    AsReturned,
    /// As it goes in; new parts are measured like this too.
    AsBuilt,
}

impl Occasion {
    /// Every occasion with its key in a record.
    pub const KEYS: [(&'static str, Occasion); 3] = [
        ("as_found", Occasion::AsFound),
        ("as_returned", Occasion::AsReturned),
        ("as_built", Occasion::AsBuilt),
    ];

    /// The words that are printed.
    pub fn words(self) -> &'static str {
        match self {
            Occasion::AsFound => "as found",
            Occasion::AsReturned => "as returned",
            Occasion::AsBuilt => "as built",
        }
    }
}

/// Who did something, and when.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Signature {
    /// Initials.
    pub by: Option<String>,
    /// The day.
    pub date: Option<Date>,
}

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
    /// Who, and when.
    pub signature: Signature,
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
}

/// Something found different from what the procedure says.
#[derive(Debug, Clone, PartialEq)]
pub enum Found {
    /// Another length.
    Length(Spanned<Quantity>),
    /// Another number of pieces.
    Count(Spanned<u32>),
    /// Another thread.
    Thread(Spanned<String>),
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
}

/// A packet printed.
#[derive(Debug, Clone, PartialEq)]
pub struct Print {
    /// When.
    pub date: Option<Date>,
    /// Which phase.
    pub phase: Option<Spanned<String>>,
    /// Fingerprint of the packet.
    pub fingerprint: Spanned<String>,
    /// Fingerprints of its sheets.
    pub sheets: Vec<(String, String)>,
}

/// What was there when the engine came in.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Intake {
    /// When.
    pub received: Option<Date>,
    /// Hours run.
    pub hours: Option<Quantity>,
    /// What the owner says.
    pub complaint: Option<String>,
    /// What came with it.
    pub came_with: Vec<String>,
    /// What is missing.
    pub missing: Vec<String>,
    /// What is broken.
    pub broken: Vec<String>,
    /// Photographs by name.
    pub photographs: Vec<String>,
    /// Up to what sum work may go without asking.
    pub spend_limit: Option<Money>,
    /// Who gave leave to strip.
    pub leave_to_strip: Option<String>,
}

/// What is said when the engine goes back.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Handover {
    /// When.
    pub date: Option<Date>,
    /// Work the owner declined.
    pub declined: Vec<String>,
    /// Old parts that went back with the engine.
    pub returned: Vec<String>,
    /// How it is to be run in.
    pub running_in: Vec<String>,
    /// Hours of labour.
    pub labour: Option<Quantity>,
}
