//! Whether what a guard or a case demands of the answers is so, as far as they are known.

use super::{Asked, Decisions};
use crate::network::answers::{Answers, Case};
use crate::network::{Network, QuestionKind};
use crate::procedure::model::{Binding, Cases, GaugeId, Guard, Place, Procedure, Question};

/// Whether a condition holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Truth {
    /// It does.
    Yes,
    /// It does not, whatever is still open.
    No,
    /// It hangs on these questions.
    Open(Vec<Asked>),
}

impl Truth {
    /// Whether all of several conditions hold, each of one question: none while that is open.
    fn all(conditions: impl Iterator<Item = (Asked, Option<bool>)>) -> Truth {
        let mut open = Vec::new();
        for (asked, holds) in conditions {
            match holds {
                Some(true) => {}
                Some(false) => return Truth::No,
                None => open.push(asked),
            }
        }
        if open.is_empty() { Truth::Yes } else { Truth::Open(open) }
    }
}

impl Decisions {
    /// Whether a guard holds where the axes in `bound` stand at one position. A term about a thing with further
    /// axes holds only if it holds at every place.
    pub fn guard(&self, procedure: &Procedure, guard: &Guard, bound: &Binding) -> Truth {
        Truth::all(guard.0.iter().flat_map(|term| {
            let holds = |asked: Asked| self.answer(asked).map(|answer| answer == term.answer);
            places_asked(procedure, &term.question, bound).into_iter().map(move |asked| (asked, holds(asked)))
        }))
    }

    /// Whether the answer to a question of the network is one of `allowed`.
    pub fn term(&self, procedure: &Procedure, kind: QuestionKind, allowed: Answers) -> Truth {
        Truth::all(self.allowed(procedure, kind, allowed))
    }

    /// Whether a case of the network holds.
    pub fn case(&self, procedure: &Procedure, network: &Network, case: &Case) -> Truth {
        Truth::all(case.terms().flat_map(|(question, allowed)| {
            self.allowed(procedure, network.questions[question.0 as usize].kind, allowed)
        }))
    }

    /// A question of the network at each of its places, and whether its answer there is one of `allowed`. One about a
    /// whole gauge or look is put at every place.
    fn allowed(
        &self,
        procedure: &Procedure,
        kind: QuestionKind,
        allowed: Answers,
    ) -> impl Iterator<Item = (Asked, Option<bool>)> {
        let asked: Vec<Asked> = match kind {
            QuestionKind::Ask(ask) => vec![Asked::Ask(ask)],
            QuestionKind::Gauge(gauge, Some(place)) => vec![Asked::Gauge(gauge, place)],
            QuestionKind::Look(look, Some(place)) => vec![Asked::Look(look, place)],
            QuestionKind::Gauge(gauge, None) => procedure
                .places(&procedure.gauge(gauge).axes)
                .map(|place| Asked::Gauge(gauge, place))
                .collect(),
            QuestionKind::Look(look, None) => {
                procedure.places(&procedure.look(look).axes).map(|place| Asked::Look(look, place)).collect()
            }
        };
        asked.into_iter().map(move |asked| (asked, self.answer(asked).map(|answer| allowed.allows(answer))))
    }
}

/// The questions that choose the limits of a gauge at one of its places, as far as they are open.
pub(super) fn limits_asked(procedure: &Procedure, at: (GaugeId, Place)) -> Vec<Asked> {
    let (gauge, bound) = (procedure.gauge(at.0), procedure.bound_at(at));
    let mut asked = asked_by(procedure, &gauge.made, &bound);
    asked.extend(asked_by(procedure, &gauge.worn, &bound));
    asked
}

/// The questions that choose a value.
pub(super) fn asked_by<T>(procedure: &Procedure, cases: &Cases<T>, bound: &Binding) -> Vec<Asked> {
    let terms = cases.chosen_by(bound).flat_map(|when| &when.0);
    terms.flat_map(|term| places_asked(procedure, &term.question, bound)).collect()
}

/// A question at each place that it means when the axes in `bound` stand at one position.
pub(crate) fn places_asked(procedure: &Procedure, question: &Question, bound: &Binding) -> Vec<Asked> {
    let gauge = |(gauge, place)| Asked::Gauge(gauge, place);
    match question {
        Question::Ask(id) => vec![Asked::Ask(*id)],
        Question::Gauge(target) => procedure.meant(target, bound).into_iter().map(gauge).collect(),
        Question::Look(target) => {
            let meant = procedure.meant(target, bound).into_iter();
            meant.map(|(look, place)| Asked::Look(look, place)).collect()
        }
    }
}
