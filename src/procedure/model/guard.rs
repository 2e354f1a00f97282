//! Questions with finitely many answers, and what hangs on them.

use super::{AskId, GaugeId, LookId, Name, Pattern, Seldom, Target};
use crate::source::Span;

/// A question with finitely many answers: asked of a person, or decided by a reading.
#[derive(Debug, Clone, PartialEq)]
pub enum Question {
    /// An ask.
    Ask(AskId),
    /// A gauge, by its bands.
    Gauge(Target<GaugeId>),
    /// A look, by its results.
    Look(Target<LookId>),
}

impl Question {
    /// What is asked, and of which positions, wherever it is said.
    pub fn id(&self) -> (Name, Option<&Pattern>) {
        match self {
            Question::Ask(id) => (Name::Ask(*id), None),
            Question::Gauge(target) => (Name::Gauge(target.id), Some(&target.pattern)),
            Question::Look(target) => (Name::Look(target.id), Some(&target.pattern)),
        }
    }
}

/// `QUESTION = answer and ...`: every term must hold. No terms: always.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Guard(pub Seldom<GuardTerm>);

/// One term of a guard.
#[derive(Debug, Clone, PartialEq)]
pub struct GuardTerm {
    /// The question.
    pub question: Question,
    /// Index of the answer, band or result.
    pub answer: usize,
    /// Where it is said.
    pub span: Span,
}
