//! What was decided.

use std::collections::{BTreeMap, BTreeSet};

use super::{Because, Reason};
use crate::metrology::Measured;
use crate::procedure::model::{
    AskId, GaugeId, LookId, PartId, Place, Procedure, SetId, StepId, StepKey, SupplyId,
};
use crate::quantity::{Quantity, Unit};
use crate::record::{Came, Date, Goods, Hour, Occasion};

/// Everything that follows from a procedure and a record.
#[derive(Debug, Clone, PartialEq)]
pub struct Decisions {
    /// Whether the engine is of the family.
    pub identification: Identification,
    /// Conditions in which the whole engine was found, and of which nobody has said what follows from them.
    pub engine_found: Vec<String>,
    /// Each question at each of its places.
    pub answers: BTreeMap<Asked, Answer>,
    /// Value of each gauge that could be had, at each place and on each occasion.
    pub values: BTreeMap<(GaugeId, Place, Occasion), Value>,
    /// What becomes of each part at each of its places.
    pub fates: BTreeMap<(PartId, Place), PartDecision>,
    /// Readings beyond their limits, in declared order.
    pub findings: Vec<Finding>,
    /// Which graded piece goes in, for each new part that is chosen from some.
    pub chosen: BTreeMap<(PartId, Place), Chosen>,
    /// Whether each set goes back, at each of its places.
    pub sets: BTreeMap<(SetId, Place), PartDecision>,
    /// What each set is tightened to.
    pub torques: super::Torques,
    /// Steps done.
    pub done: BTreeSet<StepKey>,
    /// When each was done that the record has as done: the day, and the hour where it has one.
    pub done_at: Vec<(StepKey, Option<Date>, Option<Hour>)>,
    /// The last day on which anything in the record was done, read or came.
    pub last_day: Option<Date>,
    /// Where steps that are done at several places together are done already.
    pub partly: BTreeMap<StepId, Vec<Place>>,
    /// Steps left out, or that can't be done any more, and why, with who says so.
    pub not_done: Vec<(StepKey, String)>,
    /// Things that came in.
    pub in_hand: BTreeSet<Goods>,
    /// Parts of this job's own, which the procedure takes for supplies: how many there are of each.
    pub own_parts: BTreeMap<SupplyId, u32>,
    /// Parts and sets that were off before the engine was taken apart, or weren't with it, each at its place.
    pub came: BTreeMap<Goods, Came>,
    /// Readings and looks of the engine as it was found that can't be had any more, and why.
    pub never: BTreeMap<Asked, String>,
    /// What is still to be measured or looked at, in declared order.
    pub to_measure: Vec<ToMeasure>,
    /// Whether the owner has given leave to take the engine apart.
    pub leave_to_strip: bool,
    /// Whether there is a job at all, rather than a procedure alone.
    pub of_a_job: bool,
}

/// Whether what is stamped on the engine is what the family says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Identification {
    /// The record has no number, or the family says nothing of it.
    Unknown,
    /// It begins as it should.
    Matches,
    /// It does not: every sheet is held.
    Differs,
}

impl Identification {
    /// What everything waits for where it differs.
    pub(crate) fn right_procedure(procedure: &Procedure) -> String {
        format!("the right procedure: the {} is stamped otherwise than this family", procedure.whole())
    }
}

/// A question at one place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Asked {
    /// A question to a person.
    Ask(AskId),
    /// A gauge with bands.
    Gauge(GaugeId, Place),
    /// A look.
    Look(LookId, Place),
}

/// What is known of a question.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// Index of the answer, band or result, and the arithmetic on one line.
    Settled {
        /// Index.
        answer: usize,
        /// Why, in words and figures.
        because: Reason,
    },
    /// Not yet.
    Open(Why),
}

/// Why a question is open.
#[derive(Debug, Clone, PartialEq)]
pub enum Why {
    /// Nobody has answered it.
    NotAnswered,
    /// Not every reading is taken; a computed gauge waits for these.
    NotTaken(Vec<(GaugeId, Place)>),
    /// So near a limit that the instrument can't tell, or spread over several bands: the value as shown, and
    /// the bands it may be in.
    MeasureAgain(String, Vec<usize>),
    /// In none of the bands: the value as shown.
    OutsideBands(String),
    /// Answers to these choose what it is judged by: the value as shown.
    JudgedBy(String, Vec<Asked>),
    /// A reading that can't be.
    Implausible,
    /// It can't be taken any more, and why.
    Never(String),
    /// An earlier reading counts no longer: the part was machined or renewed since.
    Superseded(PartId, Place),
    /// It can't be computed: division by what may be nought.
    Undefined,
}

/// Value of a gauge.
#[derive(Debug, Clone, PartialEq)]
pub struct Value {
    /// When it was so.
    pub occasion: Occasion,
    /// Each reading with its bounds, in base units, and where it was taken, such as `at top along`; of a computed value
    /// those that reach furthest, with the readings that decide them where others might have: `from 80.24 mm at top along`.
    pub each: Vec<(String, Measured)>,
    /// How it came about, such as `max(bore) - 80 mm = 80.09 mm - 80 mm = 0.09 mm`.
    pub working: String,
    /// Unit in which it is shown; none for a pure number.
    pub unit: Option<&'static Unit>,
    /// Places with which it is shown.
    pub places: u8,
    /// The least by which readings of it differ, in base units; nought where they don't step.
    pub step: f64,
}

/// A reading beyond a limit.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// What was read.
    pub gauge: GaugeId,
    /// Where.
    pub place: Place,
    /// When.
    pub occasion: Occasion,
    /// The worst reading with its spot, and the limit: `80.30 ± 0.005 mm, beyond the worn limit 80.10 mm`.
    pub words: String,
    /// Who accepts it, and why.
    pub accepted: Option<String>,
    /// Whether it goes out so: read as it was built, beyond a limit that decides, and let pass by nobody. What came back so is
    /// complained of where it is accepted.
    pub stands: bool,
}

/// Which piece goes in.
#[derive(Debug, Clone, PartialEq)]
pub enum Chosen {
    /// This one, and why, with the arithmetic.
    Piece {
        /// The piece.
        piece: String,
        /// Why.
        because: String,
    },
    /// A gauge that is read while the engine is built tells.
    AtTheBench(GaugeId, Place),
    /// Nothing tells yet: the gauge that would, if there is one.
    Open(Option<(GaugeId, Place)>),
}

/// What becomes of a part at one place.
#[derive(Debug, Clone, PartialEq)]
pub struct PartDecision {
    /// What becomes of it.
    pub verdict: Verdict,
    /// Why.
    pub because: Because,
    /// What must come before it is fitted; empty when it may go in now.
    pub holds: Vec<Hold>,
    /// Pieces that are new though the others go back.
    pub(crate) new_among: NewAmong,
}

impl PartDecision {
    /// Settled, with nothing that must come first.
    pub(super) fn settled(verdict: Verdict, because: Because) -> Self {
        PartDecision::waiting(verdict, because, Vec::new())
    }

    /// Not settled as long as these hold it.
    pub(super) fn open(holds: Vec<Hold>) -> Self {
        PartDecision::waiting(Verdict::Open, Because::Silent, holds)
    }

    /// Settled, but held by these.
    pub(super) fn waiting(verdict: Verdict, because: Because, holds: Vec<Hold>) -> Self {
        PartDecision { verdict, because, holds, new_among: NewAmong::default() }
    }
}

/// Pieces of a thing that are new though the others go back.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct NewAmong {
    /// How many didn't come out; nobody may know of which hole.
    pub missing: u32,
    /// The holes out of which nothing came: those of the missing of which it is known.
    pub empty: Vec<String>,
    /// The holes of the others that don't go back.
    pub holes: Vec<String>,
    /// The holes of which nobody has settled what becomes of their pieces.
    pub open: Vec<String>,
    /// Why, in words.
    pub because: Vec<String>,
}

impl NewAmong {
    /// Whether not every piece simply goes back.
    pub(crate) fn any(&self) -> bool {
        self.pieces() > 0 || !self.open.is_empty()
    }

    /// How many were not there to come out.
    pub(crate) fn not_there(&self) -> u32 {
        self.missing.max(u32::try_from(self.empty.len()).expect("holes have letters"))
    }

    /// How many.
    pub(crate) fn pieces(&self) -> u32 {
        let count = |holes: &[String]| u32::try_from(holes.len()).expect("holes have letters");
        self.missing.max(count(&self.empty)) + count(&self.holes)
    }
}

/// What becomes of a part.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// It goes back.
    GoesBack,
    /// It is cleaned and goes back.
    CleanAndBack,
    /// It is sent out and comes back changed.
    Machine {
        /// What is to be done.
        what: String,
        /// To what sizes, one for each gauge; empty where it is not a matter of size, or not settled.
        to: Vec<Size>,
    },
    /// A new one goes in.
    Renew {
        /// Its oversize or undersize, where it has to match what was machined.
        size: Option<Quantity>,
    },
    /// Nothing goes in, and why.
    LeaveOut(String),
    /// It is kept until it is settled what becomes of it.
    Keep,
    /// Not settled.
    Open,
}

/// A size to machine to.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// The gauge by which it is judged.
    pub gauge: GaugeId,
    /// Oversize or undersize.
    pub step: Quantity,
    /// Whether metal comes off a bore (it grows) rather than a journal.
    pub grows: bool,
    /// Finished size, from.
    pub low: Quantity,
    /// Finished size, to; none where no tolerance is given.
    pub high: Option<Quantity>,
}

/// What must come before a part is fitted.
#[derive(Debug, Clone, PartialEq)]
pub enum Hold {
    /// A question is open.
    Question(Asked),
    /// A question is open that can't be answered by looking or measuring any more, and why.
    Never(Asked, String),
    /// The new part is not in hand.
    NotInHand(Goods),
    /// Something arrived, but not in the size that is needed, or its size is not in the record.
    WrongSize(Goods, Quantity),
    /// Something arrived in an oversize or undersize, and the standard size is needed.
    NotStandard(Goods),
    /// It is sized by new parts, and nothing in this size is in hand.
    NothingInSize(Quantity),
    /// The new part has to be measured: this gauge, as built.
    NewPartUnmeasured(GaugeId, Place),
    /// It is to be sent out, and of the estimates that were printed the owner has agreed to none that covers it.
    NotAgreed,
    /// It has not been sent out.
    NotSent,
    /// It is not back.
    NotBack,
    /// It is back, but not accepted.
    NotAccepted,
    /// It is back, didn't pass, and goes out again: why.
    Refused(String),
    /// It has to be measured again as it came back: this gauge.
    Unmeasured(GaugeId, Place),
    /// Every reading of this gauge lies at a size to which it may have been bored or ground before, and nobody has said whether:
    /// by how much, and the same in words, `0.25 mm over`.
    SizedBefore(GaugeId, Quantity, String),
    /// A reading of it as found counts no longer: this gauge, and what happened to what it rests on.
    ReadAgain(GaugeId, Place, Change),
    /// As it is now it is not good: the gauge or look, and what it shows.
    NotGood(Asked, String),
    /// Nothing says what a result means for the part: the result.
    NoMeaning(Asked, String),
    /// It is kept until it is settled what becomes of it.
    Keep,
    /// It was found in a condition in which it can't simply go back, all of it or at the hole of this letter, and nobody has
    /// settled what becomes of it.
    Found(Option<String>, String),
    /// Nobody has said which of the graded pieces goes in.
    NotChosen,
    /// Nobody has said in the record which of the pieces that are sold goes in: the one that the reading asks for, where it is
    /// taken, and the gauge.
    ToChoose(GaugeId, Place, Option<usize>),
}

/// What happens to a part so that it is no longer as it was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Change {
    /// It is machined.
    Machined(PartId, Place),
    /// A new one goes in.
    Renewed(PartId, Place),
    /// The record sends it out though its verdict does not.
    SentOut(PartId, Place),
}

impl Change {
    /// The part that it happens to.
    pub fn piece(self) -> (PartId, Place) {
        match self {
            Change::Machined(part, place) | Change::Renewed(part, place) | Change::SentOut(part, place) => {
                (part, place)
            }
        }
    }
}

/// Something that is still to be measured or looked at.
#[derive(Debug, Clone, PartialEq)]
pub struct ToMeasure {
    /// What.
    pub asked: Asked,
    /// When.
    pub occasion: Occasion,
    /// Why.
    pub because: String,
}

impl Decisions {
    /// The names of the places at which a step is done that isn't done at all of them: `1 suction`.
    pub(crate) fn done_places(&self, procedure: &Procedure, key: &StepKey) -> Vec<String> {
        let StepKey::Written(id, None) = key else { return Vec::new() };
        let each = &procedure.step(*id).each;
        let places = self.partly.get(id).into_iter().flatten();
        places.map(|place| procedure.place_name(each, *place).replace(", ", " ")).collect()
    }

    /// Which of several pieces goes in where a part was, if that is chosen.
    pub fn piece(&self, at: (PartId, Place)) -> Option<&str> {
        match self.chosen.get(&at) {
            Some(Chosen::Piece { piece, .. }) => Some(piece),
            _ => None,
        }
    }

    /// The answer to a question, if it is settled.
    pub fn answer(&self, asked: Asked) -> Option<usize> {
        match self.answers.get(&asked) {
            Some(Answer::Settled { answer, .. }) => Some(*answer),
            _ => None,
        }
    }

    /// Questions that are open, in declared order of their kind.
    pub fn open_questions(&self) -> impl Iterator<Item = (Asked, &Why)> {
        self.answers.iter().filter_map(|(asked, answer)| match answer {
            Answer::Open(why) => Some((*asked, why)),
            Answer::Settled { .. } => None,
        })
    }
}

impl Asked {
    /// Its id with its place, such as `bore_wear[2]`.
    pub fn name(self, procedure: &Procedure) -> String {
        let (id, axes, place): (&str, &[_], Place) = match self {
            Asked::Ask(ask) => (&procedure.ask(ask).naming.id, &[], Place(0)),
            Asked::Gauge(gauge, place) => {
                (&procedure.gauge(gauge).naming.id, &procedure.gauge(gauge).axes, place)
            }
            Asked::Look(look, place) => (&procedure.look(look).naming.id, &procedure.look(look).axes, place),
        };
        procedure.placed(id, axes, place)
    }

    /// The words of one of its answers.
    pub fn answer_name(self, procedure: &Procedure, answer: usize) -> &str {
        match self {
            Asked::Ask(ask) => &procedure.ask(ask).answers[answer],
            Asked::Gauge(gauge, _) => &procedure.gauge(gauge).bands[answer].name,
            Asked::Look(look, _) => &procedure.look(look).results[answer],
        }
    }
}
