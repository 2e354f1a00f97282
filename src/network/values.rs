//! Kinds of things, and what values each can have.
//!
//! Whoever says what an act needs or brings about says it of a [`Subject`], so that a part's values can't pass as a
//! fastener's. What only compares, as the proof does, sees numbers ([`Value`], [`Values`]) without their kind; who
//! has to say them gets them back through [`ThingKind::read`]. Nothing here knows acts or orders.

use std::marker::PhantomData;
use std::ops::BitOr;

use super::answers::QuestionId;
use super::few::{Few, Numbered};
use crate::procedure::model::{GaugeId, LookId, PartId, Place, Procedure, SetId, StateId, TemporaryId};
use crate::structure::HoleClass;

/// The values of a kind of thing, by number; two of them with `|` are a set.
macro_rules! domains {
    ($($(#[$doc:meta])* $domain:ident { $($(#[$of:meta])* $value:ident),* })*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $domain { $($(#[$of])* $value),* }

        impl Numbered for $domain {
            fn number(self) -> usize {
                self as usize
            }
            fn numbered(number: usize) -> Self {
                [$($domain::$value),*][number]
            }
        }

        impl BitOr for $domain {
            type Output = Few<$domain>;
            fn bitor(self, other: Self) -> Few<$domain> {
                Few::only(self) | Few::only(other)
            }
        }
    )*};
}

domains! {
    /// Whether a part is on the engine.
    Fit {
        /// It is.
        Fitted,
        /// It is off.
        Off
    }
    /// Where a part is that is sent out.
    Errand {
        /// Never sent.
        Here,
        /// Away.
        Sent,
        /// Back, not yet accepted.
        Back,
        /// Back and accepted.
        Accepted
    }
    /// How a fastener set is.
    Tightness {
        /// Tight.
        Tight,
        /// Slack.
        Slack,
        /// Out.
        Out
    }
    /// Whether a temporary is in the engine.
    Inside {
        /// It is.
        In,
        /// It is not.
        Gone
    }
}

/// No and yes.
impl Numbered for bool {
    fn number(self) -> usize {
        usize::from(self)
    }
    fn numbered(number: usize) -> Self {
        number == 1
    }
}

/// A value of a state, as the index into its values.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct StateValue(pub usize);

impl Numbered for StateValue {
    fn number(self) -> usize {
        self.0
    }
    fn numbered(number: usize) -> Self {
        StateValue(number)
    }
}

/// A value of a thing whose kind stands elsewhere: of one thing, not of two.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Value(u8);

/// Values of such a thing.
pub(crate) type Values = Few<Value>;

impl Numbered for Value {
    fn number(self) -> usize {
        usize::from(self.0)
    }
    fn numbered(number: usize) -> Self {
        Value(u8::try_from(number).expect("a procedure with more values than there are bits is refused"))
    }
}

impl Value {
    /// The value of a thing of a kind, without the kind.
    pub fn of<D: Numbered>(value: D) -> Value {
        Value::numbered(value.number())
    }
}

/// What a thing is; [`ThingKind::is`] says what its values mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ThingKind {
    /// A part, as fitted or off.
    Part(PartId, Place),
    /// Where a part is that is sent out.
    Errand(PartId, Place),
    /// Whether a part is supported.
    Support(PartId, Place),
    /// Whether a part that can fall is steady.
    Steady(PartId, Place),
    /// Whether a part has been cleaned.
    Clean(PartId, Place),
    /// A fastener set, or those of its holes that share covers.
    Set(SetId, Place, HoleClass),
    /// Whether a reading is taken. Sending the part opens it again.
    Reading(GaugeId, Place),
    /// A look, likewise.
    Seen(LookId, Place),
    /// Whether a question that a reading or look answers has been answered; never reopened.
    Answered(QuestionId),
    /// A state of the whole.
    State(StateId),
    /// Whether a temporary is in.
    Temporary(TemporaryId, Place),
}

/// A thing whose values are `D`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Subject<D> {
    kind: ThingKind,
    values: PhantomData<D>,
}

impl<D: Numbered> Subject<D> {
    const fn of(kind: ThingKind) -> Self {
        Subject { kind, values: PhantomData }
    }

    /// The thing.
    pub(super) fn kind(self) -> ThingKind {
        self.kind
    }

    /// Its values without their kind.
    pub(super) fn values(self, values: impl Into<Few<D>>) -> Values {
        values.into().retold()
    }
}

/// A part, as fitted or off.
pub(super) fn part(part: PartId, place: Place) -> Subject<Fit> {
    Subject::of(ThingKind::Part(part, place))
}

/// A part, as sent out or not.
pub(super) fn errand(part: PartId, place: Place) -> Subject<Errand> {
    Subject::of(ThingKind::Errand(part, place))
}

/// A part, as supported or not.
pub(super) fn support(part: PartId, place: Place) -> Subject<bool> {
    Subject::of(ThingKind::Support(part, place))
}

/// A part that can fall, as steady or not.
pub(super) fn steady(part: PartId, place: Place) -> Subject<bool> {
    Subject::of(ThingKind::Steady(part, place))
}

/// A part, as cleaned or not.
pub(super) fn clean(part: PartId, place: Place) -> Subject<bool> {
    Subject::of(ThingKind::Clean(part, place))
}

/// Those holes of a set that share covers.
pub(super) fn holes(set: SetId, place: Place, class: HoleClass) -> Subject<Tightness> {
    Subject::of(ThingKind::Set(set, place, class))
}

/// A reading, as taken or not.
pub(super) fn reading(gauge: GaugeId, place: Place) -> Subject<bool> {
    Subject::of(ThingKind::Reading(gauge, place))
}

/// A look, as taken or not.
pub(super) fn seen(look: LookId, place: Place) -> Subject<bool> {
    Subject::of(ThingKind::Seen(look, place))
}

/// A question, as answered or not.
pub(super) fn answered(question: QuestionId) -> Subject<bool> {
    Subject::of(ThingKind::Answered(question))
}

/// A state of the whole.
pub(super) fn state(state: StateId) -> Subject<StateValue> {
    Subject::of(ThingKind::State(state))
}

/// A temporary.
pub(super) fn temporary(temporary: TemporaryId, place: Place) -> Subject<Inside> {
    Subject::of(ThingKind::Temporary(temporary, place))
}

/// A value together with what it is said of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "each variant is a kind of thing")]
pub enum Is {
    Part(Fit),
    Errand(Errand),
    Support(bool),
    Steady(bool),
    Clean(bool),
    Set(Tightness),
    Reading(bool),
    Seen(bool),
    Answered(bool),
    State(StateId, StateValue),
    Temporary(Inside),
}

impl ThingKind {
    /// What a value of a thing of this kind means.
    pub fn is(self, value: Value) -> Is {
        let number = value.number();
        match self {
            ThingKind::Part(..) => Is::Part(Fit::numbered(number)),
            ThingKind::Errand(..) => Is::Errand(Errand::numbered(number)),
            ThingKind::Support(..) => Is::Support(bool::numbered(number)),
            ThingKind::Steady(..) => Is::Steady(bool::numbered(number)),
            ThingKind::Clean(..) => Is::Clean(bool::numbered(number)),
            ThingKind::Set(..) => Is::Set(Tightness::numbered(number)),
            ThingKind::Reading(..) => Is::Reading(bool::numbered(number)),
            ThingKind::Seen(..) => Is::Seen(bool::numbered(number)),
            ThingKind::Answered(_) => Is::Answered(bool::numbered(number)),
            ThingKind::State(state) => Is::State(state, StateValue(number)),
            ThingKind::Temporary(..) => Is::Temporary(Inside::numbered(number)),
        }
    }

    /// What values of a thing of this kind mean, each.
    pub fn read(self, values: Values) -> impl Iterator<Item = Is> {
        values.iter().map(move |value| self.is(value))
    }

    /// The value that a thing of this kind has when the job starts.
    pub(super) fn at_first(self, procedure: &Procedure) -> Value {
        match self {
            ThingKind::Part(..) => Value::of(Fit::Fitted),
            ThingKind::Errand(..) => Value::of(Errand::Here),
            ThingKind::Steady(..) => Value::of(true),
            ThingKind::Set(..) => Value::of(Tightness::Tight),
            ThingKind::Temporary(..) => Value::of(Inside::Gone),
            ThingKind::State(state) => Value::of(StateValue(procedure.state(state).at_first)),
            ThingKind::Support(..) | ThingKind::Clean(..) | ThingKind::Reading(..) => Value::of(false),
            ThingKind::Seen(..) | ThingKind::Answered(_) => Value::of(false),
        }
    }
}
