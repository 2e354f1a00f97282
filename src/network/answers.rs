//! Answers to questions, as conjunctions: "this question has one of these answers, and that one one of those".
//!
//! A [`Case`] is a set of combinations of answers, given as the answers allowed per question. The room asks only
//! three things of cases: whether two can hold together, what is left of one outside others, and how to say it.

use std::collections::BTreeMap;

use super::few::{Few, Numbered};

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
#[derive(Debug, Clone, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Case(BTreeMap<QuestionId, Answers>);

impl Case {
    /// Every combination of answers.
    pub fn always() -> Case {
        Case::default()
    }

    /// The combinations in which `question` has one of `answers`.
    pub fn when(question: QuestionId, answers: Answers) -> Case {
        Case(BTreeMap::from([(question, answers)]))
    }

    /// Whether it is every combination.
    pub fn is_always(&self) -> bool {
        self.0.is_empty()
    }

    /// The questions it speaks of, with the answers allowed.
    pub fn terms(&self) -> impl Iterator<Item = (QuestionId, Answers)> + '_ {
        self.0.iter().map(|(question, answers)| (*question, *answers))
    }

    /// The combinations in both, if there are any.
    pub fn and(&self, other: &Case) -> Option<Case> {
        if other.0.is_empty() {
            return Some(self.clone());
        }
        let mut both = self.0.clone();
        for (question, answers) in &other.0 {
            let left = both.entry(*question).or_insert(*answers);
            *left = *left & *answers;
            if left.is_empty() {
                return None;
            }
        }
        Some(Case(both))
    }

    /// What it asks beside the questions of another.
    pub fn beside(&self, other: &Case) -> Case {
        let own = self.0.iter().filter(|(question, _)| !other.0.contains_key(question));
        Case(own.map(|(question, answers)| (*question, *answers)).collect())
    }

    /// Whether some combination is in both.
    pub fn meets(&self, other: &Case) -> bool {
        let (few, many) = if self.0.len() < other.0.len() { (self, other) } else { (other, self) };
        few.0
            .iter()
            .all(|(question, answers)| many.0.get(question).is_none_or(|others| answers.meets(*others)))
    }

    /// Whether every combination of it is in `other`.
    pub fn implies(&self, other: &Case) -> bool {
        other.0.iter().all(|(question, allowed)| {
            self.0.get(question).is_some_and(|answers| answers.except(*allowed).is_empty())
        })
    }

    /// What is left of it outside `other`, as disjoint cases; `all_answers` gives the answers a question has.
    pub fn without(&self, other: &Case, all_answers: impl Fn(QuestionId) -> Answers) -> Vec<Case> {
        if !self.meets(other) {
            return vec![self.clone()];
        }
        let mut pieces = Vec::new();
        let mut rest = self.clone();
        for (question, allowed) in &other.0 {
            let answers = rest.0.get(question).copied().unwrap_or_else(|| all_answers(*question));
            if !answers.except(*allowed).is_empty() {
                let mut piece = rest.clone();
                piece.0.insert(*question, answers.except(*allowed));
                pieces.push(piece);
            }
            rest.0.insert(*question, answers & *allowed);
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
        if !self.0.keys().eq(other.0.keys()) {
            return None;
        }
        let mut differing = self.0.iter().filter(|(question, answers)| other.0[question] != **answers);
        let (question, answers) = differing.next()?;
        if differing.next().is_some() {
            return None;
        }
        let mut union = self.clone();
        union.0.insert(*question, *answers | other.0[question]);
        Some(union)
    }

    /// The case without questions that allow all of their answers.
    pub fn tidied(mut self, all_answers: impl Fn(QuestionId) -> Answers) -> Case {
        self.0.retain(|question, answers| !all_answers(*question).except(*answers).is_empty());
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
