//! Answers to questions, as conjunctions: "this question has one of these answers, and that one one of those".
//!
//! A [`Case`] is a set of combinations of answers, given as the answers allowed per question. The room asks only
//! three things of cases: whether two can hold together, what is left of one outside others, and how to say it.

use std::cmp::Ordering;

use super::few::{Few, Numbered};
use crate::procedure::model::Seldom;

/// Number of a question in [`super::Network::questions`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct QuestionId(pub u32);

/// An answer of a question, as the index into its answers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Answer(pub usize);

impl Numbered for Answer {
    fn number(self) -> usize {
        self.0
    }
    fn numbered(number: usize) -> Self {
        Answer(number)
    }
}

/// Answers of one question.
pub(crate) type Answers = Few<Answer>;

impl Answers {
    /// Whether an answer, as the index into those of the question, is one of them.
    pub fn allows(self, answer: usize) -> bool {
        self.contains(Answer(answer))
    }
}

/// A set of combinations of answers: every listed question has one of its listed answers. Nothing listed: all.
///
/// Questions stand in the order of their numbers. There are few, and cases are made and compared by the thousand: a list is
/// a fraction of what a map costs.
#[derive(Debug, Clone, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Case(Seldom<(QuestionId, Answers)>);

impl Case {
    /// Every combination of answers.
    pub const fn always() -> Case {
        Case(Seldom::new())
    }

    /// The combinations in which `question` has one of `answers`.
    pub fn when(question: QuestionId, answers: Answers) -> Case {
        Case(Seldom::from([(question, answers)]))
    }

    /// Whether it is every combination.
    pub fn is_always(&self) -> bool {
        self.0.is_empty()
    }

    /// The questions it speaks of, with the answers allowed.
    pub fn terms(&self) -> impl Iterator<Item = (QuestionId, Answers)> + '_ {
        self.0.iter().copied()
    }

    /// The answers that it allows of a question that it speaks of.
    fn of(&self, question: QuestionId) -> Option<Answers> {
        let at = self.0.binary_search_by_key(&question, |term| term.0).ok()?;
        Some(self.0[at].1)
    }

    /// The same with these answers of a question.
    fn with(&self, question: QuestionId, answers: Answers) -> Case {
        let mut terms = self.0.clone();
        match terms.binary_search_by_key(&question, |term| term.0) {
            Ok(at) => terms[at].1 = answers,
            Err(at) => terms.insert(at, (question, answers)),
        }
        Case(terms)
    }

    /// The combinations in both, if there are any.
    pub fn and(&self, other: &Case) -> Option<Case> {
        if other.0.is_empty() {
            return Some(self.clone());
        }
        let mut both = Seldom::with_capacity(self.0.len() + other.0.len());
        let (mut own, mut others) = (self.0.iter().peekable(), other.0.iter().peekable());
        while let (Some(a), Some(b)) = (own.peek(), others.peek()) {
            match a.0.cmp(&b.0) {
                Ordering::Less => both.extend(own.next().copied()),
                Ordering::Greater => both.extend(others.next().copied()),
                Ordering::Equal => {
                    let answers = a.1 & b.1;
                    if answers.is_empty() {
                        return None;
                    }
                    both.push((a.0, answers));
                    own.next();
                    others.next();
                }
            }
        }
        both.extend(own.copied());
        both.extend(others.copied());
        Some(Case(both))
    }

    /// What it asks beside the questions of another.
    pub fn beside(&self, other: &Case) -> Case {
        Case(self.terms().filter(|(question, _)| other.of(*question).is_none()).collect())
    }

    /// Whether some combination is in both.
    pub fn meets(&self, other: &Case) -> bool {
        let (few, many) = if self.0.len() < other.0.len() { (self, other) } else { (other, self) };
        few.terms().all(|(question, answers)| many.of(question).is_none_or(|others| answers.meets(others)))
    }

    /// Whether every combination of it is in `other`.
    pub fn implies(&self, other: &Case) -> bool {
        other
            .terms()
            .all(|(question, allowed)| self.of(question).is_some_and(|own| own.except(allowed).is_empty()))
    }

    /// What is left of it outside `other`, as disjoint cases; `all_answers` gives the answers a question has.
    pub fn without(&self, other: &Case, all_answers: impl Fn(QuestionId) -> Answers) -> Vec<Case> {
        if !self.meets(other) {
            return vec![self.clone()];
        }
        let mut pieces = Vec::new();
        let mut rest = self.clone();
        for (question, allowed) in other.terms() {
            let answers = rest.of(question).unwrap_or_else(|| all_answers(question));
            if !answers.except(allowed).is_empty() {
                pieces.push(rest.with(question, answers.except(allowed)));
            }
            rest = rest.with(question, answers & allowed);
        }
        pieces
    }

    /// The one case that is exactly both together, if there is one: equal, one within the other, or differing in
    /// one question.
    pub fn or(&self, other: &Case) -> Option<Case> {
        if self.implies(other) {
            return Some(other.clone());
        }
        if other.implies(self) {
            return Some(self.clone());
        }
        if self.0.len() != other.0.len() {
            return None;
        }
        let mut differing = None;
        for ((question, own), (second, answers)) in self.terms().zip(other.terms()) {
            if question != second {
                return None;
            }
            if own != answers && differing.replace((question, own | answers)).is_some() {
                return None;
            }
        }
        differing.map(|(question, union)| self.with(question, union))
    }

    /// The case without questions that allow all of their answers.
    pub fn tidied(mut self, all_answers: impl Fn(QuestionId) -> Answers) -> Case {
        self.0.retain(|(question, answers)| !all_answers(*question).except(*answers).is_empty());
        self
    }
}

/// A search for a combination of answers ran past its limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct TooMany;

/// Looks for combinations in `case` that are in none of `others`: the pieces that are left, an empty list if there
/// is none. `work` counts pieces over all calls and is the limit that keeps the time bounded.
///
/// # Errors
/// [`TooMany`] when `work` runs out.
pub(crate) fn left_over<'a>(
    case: &Case,
    others: impl Iterator<Item = &'a Case>,
    all_answers: impl Fn(QuestionId) -> Answers + Copy,
    work: &mut u64,
) -> Result<Vec<Case>, TooMany> {
    let mut pieces = vec![case.clone()];
    for other in others {
        let mut next = Vec::with_capacity(pieces.len());
        for piece in pieces {
            if piece.meets(other) {
                next.extend(piece.without(other, all_answers));
            } else {
                next.push(piece);
            }
        }
        *work = work.checked_sub(next.len() as u64 + 1).ok_or(TooMany)?;
        pieces = next;
        if pieces.is_empty() {
            break;
        }
    }
    Ok(pieces)
}

#[cfg(test)]
mod tests {
    use super::*;

    const THREE: fn(QuestionId) -> Answers = |_| Answers::first(3);

    fn case(terms: &[(u32, &[usize])]) -> Case {
        let answers = |list: &[usize]| {
            list.iter().map(|answer| Answers::only(Answer(*answer))).reduce(|a, b| a | b).unwrap()
        };
        terms.iter().fold(Case::always(), |case, (question, list)| {
            case.and(&Case::when(QuestionId(*question), answers(list))).unwrap()
        })
    }

    #[test]
    fn what_is_left_is_disjoint_and_complete() {
        let whole = case(&[(0, &[0, 1, 2])]);
        let hole = case(&[(0, &[0]), (1, &[1])]);
        let left = whole.without(&hole, THREE);
        for a in 0..3 {
            for b in 0..3 {
                let point = case(&[(0, &[a]), (1, &[b])]);
                let inside = usize::from(point.implies(&hole));
                assert_eq!(left.iter().filter(|piece| point.implies(piece)).count(), 1 - inside);
            }
        }
    }

    #[test]
    fn the_limit_is_an_error_and_not_silence() {
        let others: Vec<Case> = (0..12).map(|q| case(&[(q, &[0]), (q + 12, &[0])])).collect();
        assert_eq!(left_over(&Case::always(), others.iter(), THREE, &mut 100), Err(TooMany));
        assert!(
            left_over(&Case::always(), others.iter().take(3), THREE, &mut 1_000)
                .is_ok_and(|left| !left.is_empty())
        );
    }
}
