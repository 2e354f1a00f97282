//! Values that differ by place and by answer: where and under which answers each holds, and whether one always does.

use std::collections::BTreeSet;

use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::diagnostics::Diagnostic;
use crate::language::tree::{self, Setting, Word};
use crate::quantity::Quantity;
use crate::source::Span;

/// What a value is said of.
pub(super) enum Owner {
    /// Something declared, which may have axes.
    Thing(Name),
    /// A line of the family, by its words.
    Line(String),
}

/// What is told where no case holds: behind which case, of which thing, at which place, under which answers.
type LeftOut = fn(Span, &str, &str, &str) -> Diagnostic;

impl Resolver {
    /// Positions at which something said of `owner` holds; none if they can't be read.
    pub(super) fn places(&mut self, owner: Name, at: &[Setting]) -> Option<Places> {
        if at.is_empty() {
            return Some(Places::default());
        }
        let axes = self.axes_of(owner).to_vec();
        self.places_along(&axes, at, |resolver, axis| {
            let thing = resolver.declared(owner);
            let shape = resolver.shape(owner);
            errors::axis_not_here(axis, &thing, &shape)
        })
    }

    /// Positions along some axes and the groups of those; none if they can't be read. `strange` tells of an axis that
    /// is neither.
    pub(super) fn places_along(
        &mut self,
        axes: &[AxisId],
        at: &[Setting],
        strange: impl Fn(&Self, &Word) -> Diagnostic,
    ) -> Option<Places> {
        let mut places = Vec::new();
        for setting in at {
            let name = self.lookup(&setting.name.name, &["an axis"])?;
            let Name::Axis(axis) = name else { return None };
            let along = |own: &AxisId| {
                let groupings = &self.procedure.axis(*own).groupings;
                *own == axis || groupings.iter().any(|grouping| grouping.by == axis)
            };
            if !axes.iter().any(along) {
                let complaint = strange(self, &setting.name.name);
                self.complain(complaint);
                return None;
            }
            let positions = self.procedure.axis(axis).positions.clone();
            let position = self.value(name, "position", &positions, &setting.value)?;
            let span = setting.name.span.to(setting.value.span);
            places.push((axis, u16::try_from(position).ok()?, span));
        }
        Some(Places(places.into()))
    }

    /// The values of a clause of `owner`, as far as they can be read. Complains of a case that never counts, and of
    /// places and answers without any.
    pub(super) fn cases<T, U>(
        &mut self,
        owner: &Owner,
        cases: &[tree::Case<T>],
        value: impl FnMut(&mut Self, &tree::Case<T>) -> Option<U>,
    ) -> Cases<Sourced<U>> {
        self.judged_cases(owner, cases, errors::no_case, value).0
    }

    /// How many there are of a thing, of which every place and every answer must tell: nothing that is held can stand for
    /// a number of pieces.
    pub(super) fn counts(
        &mut self,
        owner: Name,
        cases: &[tree::Case<tree::Amount>],
        what: &str,
    ) -> Cases<Sourced<u32>> {
        self.judged_cases(&Owner::Thing(owner), cases, errors::no_count, |resolver, case| {
            resolver.count(&case.value, what)
        })
        .0
    }

    /// The same, with a last value for the places and answers that have none: where others are told apart, what holds
    /// there is not known, which is more than not said.
    pub(super) fn cases_or<T, U>(
        &mut self,
        owner: &Owner,
        cases: &[tree::Case<T>],
        unknown: U,
        value: impl FnMut(&mut Self, &tree::Case<T>) -> Option<U>,
    ) -> Cases<Sourced<U>> {
        let (mut found, gap) = self.judged_cases(owner, cases, errors::no_case, value);
        found.0.extend(gap.map(|span| (Sourced { value: unknown, origin: None, span }, Scope::default())));
        found
    }

    /// Complains of a fate that never counts, and of answers under which nothing is said of what becomes of a part.
    pub(super) fn judge_fate(&mut self, id: PartId, choice: &FateChoice) {
        let scope = |when: &Guard| Scope { at: Places::default(), when: when.clone() };
        let case = |span: Span, when: &Guard| (Sourced { value: (), origin: None, span }, scope(when));
        let mut cases: Vec<(Sourced<()>, Scope)> = Vec::new();
        for (_, when) in &choice.cases {
            let span = when.0.iter().map(|term| term.span).reduce(Span::to);
            cases.push(case(span.unwrap_or(choice.span), when));
        }
        if cases.is_empty() {
            return;
        }
        if choice.otherwise.is_some() {
            cases.push(case(choice.span, &Guard::default()));
        }
        self.judge_cases(&Owner::Thing(Name::Part(id)), &Cases(cases.into()), errors::no_fate_case);
    }

    /// Cases, and the last of them if they leave places or answers out, of which `left_out` tells.
    fn judged_cases<T, U>(
        &mut self,
        owner: &Owner,
        cases: &[tree::Case<T>],
        left_out: LeftOut,
        mut value: impl FnMut(&mut Self, &tree::Case<T>) -> Option<U>,
    ) -> (Cases<Sourced<U>>, Option<Span>) {
        let mut read = Vec::with_capacity(cases.len());
        for case in cases {
            let scope = self.scope(owner, &case.scope);
            let value = value(self, case);
            read.push(scope.zip(value.map(|value| sourced(value, &case.origin, case.span))));
        }
        // What can't be read may be the case that is missing, or the one that counts before another.
        let sound = read.iter().all(Option::is_some);
        let found: Vec<(Sourced<U>, Scope)> =
            read.into_iter().flatten().map(|(scope, value)| (value, scope)).collect();
        let found = Cases(found.into());
        let gap = if sound { self.judge_cases(owner, &found, left_out) } else { None };
        (found, gap)
    }

    /// Where and under which answers something said of `owner` holds; none if that can't be read, which must not turn
    /// into "always".
    fn scope(&mut self, owner: &Owner, scope: &tree::Scope) -> Option<Scope> {
        let at = match owner {
            Owner::Thing(name) => self.places(*name, &scope.at),
            Owner::Line(words) => {
                self.places_along(&[], &scope.at, |_, axis| errors::no_positions(axis, words))
            }
        };
        let when = self.guard(&scope.when);
        let whole = when.0.len() == scope.when.len();
        at.filter(|_| whole).map(|at| Scope { at, when })
    }

    /// Complains of cases that never count, and of what they leave out; the last of them if they do.
    fn judge_cases<U>(
        &mut self,
        owner: &Owner,
        cases: &Cases<Sourced<U>>,
        left_out: LeftOut,
    ) -> Option<Span> {
        // One that always counts counts wherever there is anything.
        let always = matches!(cases.0.as_slice(), [(_, scope)] if scope.always());
        if always && self.is_always_there(owner) {
            return None;
        }
        let (axes, thing) = match owner {
            Owner::Thing(name) => (self.axes_of(*name).to_vec(), self.declared(*name).value),
            Owner::Line(words) => (Vec::new(), words.clone()),
        };
        let said = |procedure: &Procedure, answers: &[(&Question, usize)]| -> Vec<String> {
            answers.iter().map(|(question, answer)| said_so(procedure, question, *answer)).collect()
        };
        let spans: Vec<Span> = cases.values().map(|value| value.span).collect();
        let last = *spans.last()?;
        let (mut counts, mut elsewhere) = (vec![false; spans.len()], vec![false; spans.len()]);
        let mut missing = None;
        for place in self.procedure.places(&axes) {
            let bound = self.procedure.bound(&axes, place);
            let here = guards(cases, &bound);
            let there = match owner {
                Owner::Thing(name) => self.there(*name, place),
                Owner::Line(_) => vec![Guard::default()],
            };
            let there: Vec<(usize, &Guard)> = there.iter().enumerate().collect();
            let mut left = MOST_COMBINATIONS;
            under_all_answers(&self.procedure, &there, &mut Vec::new(), &mut |answers, there| {
                under_all_answers(&self.procedure, &here, &mut answers.to_vec(), &mut |answers, first| {
                    match (first, there) {
                        (Some(first), Some(_)) => counts[first] = true,
                        // Nothing needs to be said of what an engine hasn't got.
                        (Some(first), None) => elsewhere[first] = true,
                        (None, None) => {}
                        (None, Some(_)) => {
                            missing = missing.take().or(Some((place, said(&self.procedure, answers))));
                        }
                    }
                    left -= 1;
                    left > 0
                })
            });
            // Past that nothing is known of the rest.
            if left == 0 {
                return None;
            }
        }
        for (index, _) in counts.iter().enumerate().filter(|(_, counts)| !**counts) {
            let before = index.checked_sub(1).map(|before| spans[before]);
            self.complain(if elsewhere[index] {
                errors::idle_where_absent(spans[index], &thing)
            } else {
                errors::idle_case(spans[index], before)
            });
        }
        missing.map(|(place, answers)| {
            let place = self.procedure.place_name(&axes, place);
            self.complain(left_out(last, &thing, &place, &answers.join(" and ")));
            last
        })
    }

    /// Whether every engine has a thing, as far as that can be seen at once.
    fn is_always_there(&self, owner: &Owner) -> bool {
        let Owner::Thing(name) = owner else { return true };
        let always = |id: &PartId| self.procedure.part(*id).present.is_empty();
        let there = match name {
            Name::Part(id) => always(id),
            Name::Set(id) => {
                let held = self.purposes.held.get(id);
                self.procedure.set(*id).present.is_empty() && held.is_none_or(|held| held.iter().all(always))
            }
            Name::Gauge(id) => self.purposes.measured.get(id).is_none_or(always),
            _ => true,
        };
        there && self.procedure.places(self.axes_of(*name)).len() > 0
    }

    /// Complains of what is said of some places and never counts, since what stands before it does wherever it would;
    /// the first place of which nothing is said.
    pub(super) fn idle_cases(&mut self, owner: Name, said: &[(Span, &Places)]) -> Option<Place> {
        let axes = self.axes_of(owner).to_vec();
        let mut counts = vec![false; said.len()];
        let mut missing = None;
        for place in self.procedure.places(&axes) {
            let bound = self.procedure.bound(&axes, place);
            match said.iter().position(|(_, places)| places.hold(&bound)) {
                Some(first) => counts[first] = true,
                None => missing = missing.or(Some(place)),
            }
        }
        for (index, _) in counts.iter().enumerate().filter(|(_, counts)| !**counts) {
            let before = index.checked_sub(1).map(|before| said[before].0);
            self.complain(errors::idle_case(said[index].0, before));
        }
        missing
    }
}

/// More combinations of answers than this are not gone through for one value.
const MOST_COMBINATIONS: u32 = 10_000;

/// Whether more than so many combinations of answers matter to some guards.
pub(super) fn many_answers(procedure: &Procedure, guards: &[&Guard], most: u32) -> bool {
    let cases: Vec<(usize, &Guard)> = guards.iter().copied().enumerate().collect();
    let mut left = most;
    !under_all_answers(procedure, &cases, &mut Vec::new(), &mut |_, _| {
        left = left.saturating_sub(1);
        left > 0
    })
}

/// Goes through every combination of answers to the questions of some guards; whether there are no more than `most`.
pub(super) fn under_answers_to<'c>(
    procedure: &Procedure,
    guards: &[&'c Guard],
    most: u32,
    tell: &mut impl FnMut(&[(&'c Question, usize)]),
) -> bool {
    let mut questions: Vec<&Question> = Vec::new();
    for term in guards.iter().flat_map(|guard| &guard.0) {
        if !questions.iter().any(|known| known.id() == term.question.id()) {
            questions.push(&term.question);
        }
    }
    let combinations = questions.iter().map(|question| possible(procedure, question).len());
    let combinations = combinations.fold(1_usize, usize::saturating_mul);
    if u32::try_from(combinations).map_or(true, |combinations| combinations > most) {
        return false;
    }
    for mut number in 0..combinations {
        let answers = questions.iter().rev().map(|question| {
            let possible = possible(procedure, question).len();
            let answer = number % possible;
            number /= possible;
            (*question, answer)
        });
        let mut answers: Vec<_> = answers.collect();
        answers.reverse();
        tell(&answers);
    }
    true
}

/// Goes through the answers to the questions of some cases, as far as they matter. Tells of each combination which case
/// is the first to hold, until `tell` has had enough; whether it hasn't.
fn under_all_answers<'c>(
    procedure: &Procedure,
    cases: &[(usize, &'c Guard)],
    answers: &mut Vec<(&'c Question, usize)>,
    tell: &mut impl FnMut(&[(&'c Question, usize)], Option<usize>) -> bool,
) -> bool {
    let known = |term: &GuardTerm| {
        let same = answers.iter().find(|(question, _)| question.id() == term.question.id());
        same.map(|(_, answer)| *answer == term.answer)
    };
    for (index, guard) in cases {
        if guard.0.iter().any(|term| known(term) == Some(false)) {
            continue;
        }
        let Some(open) = guard.0.iter().find(|term| known(term).is_none()) else {
            return tell(answers, Some(*index));
        };
        for answer in 0..possible(procedure, &open.question).len() {
            answers.push((&open.question, answer));
            let go_on = under_all_answers(procedure, cases, answers, tell);
            answers.pop();
            if !go_on {
                return false;
            }
        }
        return true;
    }
    tell(answers, None)
}

/// What a gauge says of one of its places under some answers.
pub(crate) struct SaidLimits<'p> {
    /// As made.
    pub made: Option<&'p Sourced<(Quantity, Option<Quantity>)>>,
    /// As worn.
    pub worn: Option<&'p Sourced<Option<Quantity>>>,
    /// Where its bands end.
    pub edges: Option<&'p Sourced<Vec<Edges>>>,
}

/// What a gauge says of one of its places under each combination of answers that its limits hang on.
pub(crate) fn said_limits<'p>(procedure: &Procedure, gauge: &'p Gauge, place: Place) -> Vec<SaidLimits<'p>> {
    let bound = procedure.bound(&gauge.axes, place);
    let guards = [guards(&gauge.made, &bound), guards(&gauge.worn, &bound), guards(&gauge.edges, &bound)];
    let [made, worn, edges] = guards.each_ref().map(Vec::as_slice);
    let mut found: BTreeSet<[Option<usize>; 3]> = BTreeSet::new();
    let mut left = MOST_COMBINATIONS;
    let mut answers = Vec::new();
    under_all_answers(procedure, made, &mut answers, &mut |answers, made| {
        under_all_answers(procedure, worn, &mut answers.to_vec(), &mut |answers, worn| {
            under_all_answers(procedure, edges, &mut answers.to_vec(), &mut |_, edges| {
                found.insert([made, worn, edges]);
                left -= 1;
                left > 0
            })
        })
    });
    let said = |[made, worn, edges]: [Option<usize>; 3]| SaidLimits {
        made: made.map(|at| &gauge.made.0[at].0),
        worn: worn.map(|at| &gauge.worn.0[at].0),
        edges: edges.map(|at| &gauge.edges.0[at].0),
    };
    found.into_iter().map(said).collect()
}

/// The cases that may count where the axes in `bound` stand, by their index, each with the answers that choose it.
fn guards<'c, T>(cases: &'c Cases<T>, bound: &Binding) -> Vec<(usize, &'c Guard)> {
    let here = cases.0.iter().enumerate().filter(|(_, (_, scope))| scope.at.hold(bound));
    here.map(|(index, (_, scope))| (index, &scope.when)).collect()
}

/// The answers, bands or results of a question.
fn possible<'p>(procedure: &'p Procedure, question: &Question) -> Vec<&'p str> {
    match question {
        Question::Ask(id) => procedure.ask(*id).answers.iter().map(String::as_str).collect(),
        Question::Gauge(target) => {
            procedure.gauge(target.id).bands.iter().map(|band| band.name.as_str()).collect()
        }
        Question::Look(target) => procedure.look(target.id).results.iter().map(String::as_str).collect(),
    }
}

/// A question with its answer, as it is written.
fn said_so(procedure: &Procedure, question: &Question, answer: usize) -> String {
    let naming = match question {
        Question::Ask(id) => &procedure.ask(*id).naming,
        Question::Gauge(target) => &procedure.gauge(target.id).naming,
        Question::Look(target) => &procedure.look(target.id).naming,
    };
    format!("{} = {}", naming.id, possible(procedure, question)[answer])
}

/// A value with its origin and place.
pub(super) fn sourced<T>(value: T, origin: &tree::Origin, span: Span) -> Sourced<T> {
    Sourced { value, origin: origin.as_ref().map(|origin| origin.value.clone()), span }
}
