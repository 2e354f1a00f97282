//! What this job has settled so far, as far as the plan needs it.

use std::collections::{BTreeMap, BTreeSet};

use crate::network::{Question, QuestionKind};
use crate::procedure::model::{AskId, Fate, FateChoice, Guard, Place, Question as Asked};

/// Answers and progress of a job. The empty value is a job of which nothing is known.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Settled {
    /// Answers given by a person, as indices.
    pub answers: BTreeMap<AskId, usize>,
    /// Bands and results that readings and looks have given, as indices.
    pub readings: BTreeMap<QuestionKind, usize>,
    /// Ids of steps that are done.
    pub done: BTreeSet<String>,
}

impl Settled {
    /// The answer to a question, if there is one.
    pub fn answer(&self, question: &Question) -> Option<usize> {
        self.answer_of(question.kind)
    }

    fn answer_of(&self, kind: QuestionKind) -> Option<usize> {
        match kind {
            QuestionKind::Ask(ask) => self.answers.get(&ask).copied(),
            QuestionKind::Gauge(..) | QuestionKind::Look(..) => self.readings.get(&kind).copied(),
        }
    }

    /// Whether a guard holds at a place; none while that is open.
    pub fn holds(&self, guard: &Guard, place: Place) -> Option<bool> {
        let mut open = false;
        for term in &guard.0 {
            let answer = match &term.question {
                Asked::Ask(ask) => self.answer_of(QuestionKind::Ask(*ask)),
                Asked::Gauge(gauge) => self.read(|at| QuestionKind::Gauge(gauge.id, at), place),
                Asked::Look(look) => self.read(|at| QuestionKind::Look(look.id, at), place),
            };
            match answer {
                Some(answer) if answer != term.answer => return Some(false),
                Some(_) => {}
                None => open = true,
            }
        }
        (!open).then_some(true)
    }

    fn read(&self, kind: impl Fn(Option<Place>) -> QuestionKind, place: Place) -> Option<usize> {
        self.answer_of(kind(Some(place))).or_else(|| self.answer_of(kind(None)))
    }

    /// The fate that applies; none while it is open.
    pub fn fate<'a>(&self, choice: &'a FateChoice, place: Place) -> Option<&'a Fate> {
        for (fate, guard) in &choice.cases {
            match self.holds(guard, place) {
                Some(true) => return Some(fate),
                Some(false) => {}
                None => return None,
            }
        }
        choice.otherwise.as_ref()
    }
}
