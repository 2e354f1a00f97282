//! The entries of a record that are the same whether its names are looked up or not, with the names in them left open.

use super::{Date, Hour};
use crate::procedure::model::{GaugeId, JointId, LookId, PartId, Place, SetId, StepKey, SupplyId};
use crate::quantity::{Money, Quantity};
use crate::source::{Span, Spanned};

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

impl Signature {
    /// Behind what was done: ` by HK on 2026-03-05`.
    pub(crate) fn words(&self) -> String {
        let by = self.by.as_ref().map(|by| format!(" by {by}"));
        let on = self.date.map(|date| format!(" on {date}"));
        by.into_iter().chain(on).collect()
    }
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
    /// Another size.
    Size(Spanned<Quantity>),
    /// In what condition it is, where it can't simply go back: `sheared`, `cross-threaded`, `not original`.
    Condition(String),
    /// It didn't come off at its step.
    Came(Came),
    /// Something that somebody has put there, and that the procedure doesn't know.
    Added(String),
}

/// What was different of a thing when the engine came in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Came {
    /// It was off already, and is there.
    Off,
    /// The engine came without it.
    Without,
}

impl Came {
    /// Every word, as it stands in a record.
    pub const WORDS: [(&'static str, Came); 2] = [("off", Came::Off), ("without", Came::Without)];
}

/// What a note is about.
#[derive(Debug, Clone, PartialEq)]
pub enum About {
    /// A part; every place of it where none is given.
    Part(PartId, Option<Place>),
    /// A fastener set.
    Set(SetId, Option<Place>),
    /// The hole of this letter and its fastener; at every place of the set where none is given.
    Hole(SetId, Option<Place>, String),
    /// A joint.
    Joint(JointId, Option<Place>),
    /// What a gauge reads, such as a bore.
    Gauge(GaugeId, Option<Place>),
    /// What a look judges.
    Look(LookId, Option<Place>),
    /// The whole engine.
    Engine,
    /// A step, of the procedure or derived.
    Step(StepKey),
}

/// A bench note; what it is about is a name as long as it isn't looked up.
#[derive(Debug, Clone, PartialEq)]
pub struct Note<A = About> {
    /// What it is about.
    pub about: A,
    /// What is said.
    pub says: Option<String>,
    /// What was found different from the procedure.
    pub found: Vec<Found>,
    /// Who, and when.
    pub signature: Signature,
    /// Where it stands.
    pub span: Span,
}

/// A step done; it is a name as long as it isn't looked up.
#[derive(Debug, Clone, PartialEq)]
pub struct Done<S = StepKey> {
    /// Which.
    pub step: S,
    /// Who, and when.
    pub signature: Signature,
    /// At what o'clock it was finished: from then on counts what it put on and what has to set.
    pub at: Option<Hour>,
    /// How long it took, all people together.
    pub time: Option<Quantity>,
    /// Who checked what the step holds for, and signed.
    pub second: Option<String>,
    /// With what the sets of this id were tightened; all of the step where none is named.
    pub wrenches: Vec<(Option<Spanned<String>>, String)>,
    /// What the sets of this id were tightened to in the end; all of the step where none is named.
    pub reached: Vec<(Option<Spanned<String>>, Spanned<Quantity>)>,
    /// Photographs that were taken, by number or name of the file.
    pub photographs: Vec<String>,
    /// Fingerprint of the step as it was printed.
    pub fingerprint: Option<Spanned<String>>,
    /// Why it was done though steps before it were not, where it was.
    pub out_of_order: Option<String>,
    /// Where it stands.
    pub span: Span,
}

impl<S> Done<S> {
    /// With what a set was tightened.
    pub(crate) fn wrench(&self, set: &str) -> Option<&str> {
        let own = |(name, _): &&(Option<Spanned<String>>, String)| {
            name.as_ref().is_some_and(|name| name.value == set)
        };
        let all = || self.wrenches.iter().find(|(name, _)| name.is_none());
        self.wrenches.iter().find(own).or_else(all).map(|(_, wrench)| wrench.as_str())
    }

    /// What a set was tightened to in the end.
    pub(crate) fn reached(&self, set: &str) -> Option<&Spanned<Quantity>> {
        let own = |(name, _): &&(Option<Spanned<String>>, Spanned<Quantity>)| {
            name.as_ref().is_some_and(|name| name.value == set)
        };
        let all = || self.reached.iter().find(|(name, _)| name.is_none());
        self.reached.iter().find(own).or_else(all).map(|(_, value)| value)
    }

    /// The same said of a step by another name.
    pub(super) fn of<T>(&self, step: T) -> Done<T> {
        Done {
            step,
            signature: self.signature.clone(),
            at: self.at,
            time: self.time,
            second: self.second.clone(),
            wrenches: self.wrenches.clone(),
            reached: self.reached.clone(),
            photographs: self.photographs.clone(),
            fingerprint: self.fingerprint.clone(),
            out_of_order: self.out_of_order.clone(),
            span: self.span,
        }
    }
}

/// A step that is left out, or can't be done any more; it is a name as long as it isn't looked up.
#[derive(Debug, Clone, PartialEq)]
pub struct NotDone<S = StepKey> {
    /// Which.
    pub step: S,
    /// Why.
    pub because: String,
    /// Who says so, and when.
    pub signature: Signature,
    /// Where it stands.
    pub span: Span,
}

impl<S> NotDone<S> {
    /// Why, with who says so: `the rocker gear came off first, HK, 2026-02-25`.
    pub(crate) fn words(&self) -> String {
        let date = self.signature.date.map(|date| date.to_string());
        let signed = self.signature.by.iter().cloned().chain(date);
        signed.fold(self.because.clone(), |words, signed| format!("{words}, {signed}"))
    }
}

/// What can be bought; every place of it where none is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Goods {
    /// A part.
    Part(PartId, Option<Place>),
    /// A fastener set.
    Set(SetId, Option<Place>),
    /// A supply.
    Supply(SupplyId),
}

/// Something ordered.
#[derive(Debug, Clone, PartialEq)]
pub struct Order {
    /// When it was ordered.
    pub ordered: Option<Date>,
    /// When it should come.
    pub due: Option<Date>,
    /// When it came.
    pub arrived: Option<Date>,
    /// When it was compared with the old one and found right.
    pub compared: Option<Date>,
    /// Its oversize or undersize.
    pub size: Option<Quantity>,
    /// How many.
    pub quantity: Option<u32>,
    /// From whom.
    pub supplier: Option<String>,
    /// What it costs altogether.
    pub cost: Option<Money>,
    /// Where it stands.
    pub span: Span,
}

/// A part sent out.
#[derive(Debug, Clone, PartialEq)]
pub struct Sent {
    /// To whom.
    pub to: Option<String>,
    /// When it left.
    pub sent: Option<Date>,
    /// When it came back.
    pub back: Option<Date>,
    /// When it passed the goods-back check.
    pub accepted: Option<Date>,
    /// Who accepted it.
    pub by: Option<String>,
    /// Where it stands.
    pub span: Span,
}

/// Work that came back and didn't pass the goods-back check; its part is a name as long as it isn't looked up.
#[derive(Debug, Clone, PartialEq)]
pub struct Refused<P = (PartId, Place)> {
    /// The part.
    pub part: P,
    /// Why.
    pub because: String,
    /// Who, and when.
    pub signature: Signature,
}

impl<P> Refused<P> {
    /// Why, with who refused it and when: `main journal 2 too small, MV, 2026-04-09`.
    pub(crate) fn words(&self) -> String {
        let date = self.signature.date.map(|date| date.to_string());
        let signed = self.signature.by.iter().cloned().chain(date);
        std::iter::once(self.because.clone()).chain(signed).collect::<Vec<_>>().join(", ")
    }
}

/// What the owner agreed to; things are names as long as they aren't looked up.
#[derive(Debug, Clone, PartialEq)]
pub struct Approval<G = Goods> {
    /// Who.
    pub by: String,
    /// When.
    pub date: Option<Date>,
    /// What; empty is everything.
    pub items: Vec<G>,
    /// Up to what sum.
    pub up_to: Option<Money>,
    /// Number of the printed estimate that it is of.
    pub estimate: Option<Spanned<String>>,
    /// Where it stands.
    pub span: Span,
}

/// An estimate as it was printed: only what had a price is in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimate<G = Goods> {
    /// The number on it.
    pub number: Spanned<String>,
    /// When.
    pub date: Option<Date>,
    /// What it came to, labour included.
    pub sum: Option<Money>,
    /// What was to be bought, and what all pieces of it were to cost.
    pub goods: Vec<(G, Money)>,
    /// Parts that were to be sent out, and what the work was to cost.
    pub work: Vec<(G, Money)>,
}

impl<G> Estimate<G> {
    /// Whether it was printed by a day; where one of both days isn't known, it may have been.
    pub fn was_there(&self, day: Option<Date>) -> bool {
        day.zip(self.date).is_none_or(|(day, printed)| printed <= day)
    }
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
    /// What the seller said of it, which nobody has measured.
    pub seller: Option<String>,
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
    /// What the owner has paid on account.
    pub deposit: Option<Money>,
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
