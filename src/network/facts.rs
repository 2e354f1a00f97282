//! The register of all things that have a value and of all questions, and the answers under which things are there.

use std::collections::{BTreeMap, HashMap};

use super::answers::{Answer, Answers, Case, QuestionId};
use super::types::*;
use super::types::{Question, Thing};
use super::values::{StateValue, Subject, ThingKind, Tightness, Value, holes};
use crate::procedure::model::{self, *};
use crate::structure::{HoleClass, Structure};

/// The structure of the engine, and the register of things.
pub(super) struct Facts<'a> {
    pub procedure: &'a Procedure,
    pub things: Vec<Thing>,
    pub questions: Vec<Question>,
    index: HashMap<ThingKind, ThingId>,
    question_index: BTreeMap<QuestionKind, QuestionId>,
    pub structure: Structure,
}

impl<'a> Facts<'a> {
    /// Nothing registered yet.
    pub(super) fn new(procedure: &'a Procedure) -> Self {
        Facts {
            procedure,
            things: Vec::new(),
            questions: Vec::new(),
            index: HashMap::new(),
            question_index: BTreeMap::new(),
            structure: Structure::of(procedure),
        }
    }

    /// As a network has registered them, numbers and all.
    pub(super) fn known(procedure: &'a Procedure, network: &Network) -> Self {
        let things = (0u32..).map(ThingId).zip(&network.things);
        let questions = (0u32..).map(QuestionId).zip(&network.questions);
        Facts {
            procedure,
            index: things.map(|(id, thing)| (thing.kind, id)).collect(),
            question_index: questions.map(|(id, question)| (question.kind, id)).collect(),
            things: network.things.clone(),
            questions: network.questions.clone(),
            structure: network.structure.clone(),
        }
    }

    /// What a set at a place is: one thing, and one more for each of its holes that a fact names.
    pub(super) fn set_things(
        &self,
        set: SetId,
        place: Place,
    ) -> impl Iterator<Item = (HoleClass, Subject<Tightness>)> + use<> {
        self.structure.hole_classes(set).map(move |class| (class, holes(set, place, class)))
    }

    /// Whether a part is above the lifting limit of the procedure.
    pub(super) fn heavy(&self, part: PartId) -> bool {
        self.procedure.is_heavy(self.procedure.part(part))
    }

    /// The number of a thing; registered at its first use.
    pub(super) fn thing(&mut self, kind: ThingKind) -> ThingId {
        if let Some(id) = self.index.get(&kind) {
            return *id;
        }
        let id = ThingId(u32::try_from(self.things.len()).expect("far fewer things than that"));
        let start = kind.at_first(self.procedure);
        let at_build = match kind {
            ThingKind::State(state) => {
                self.procedure.state(state).at_build.map(|value| Value::of(StateValue(value)))
            }
            _ => None,
        };
        self.things.push(Thing { kind, start, at_build });
        self.index.insert(kind, id);
        id
    }

    /// The number of a question; registered at its first use.
    pub(super) fn question(&mut self, kind: QuestionKind) -> QuestionId {
        if let Some(id) = self.question_index.get(&kind) {
            return *id;
        }
        let answers = match kind {
            QuestionKind::Ask(ask) => self.procedure.ask(ask).answers.clone(),
            QuestionKind::Gauge(gauge, _) => {
                self.procedure.gauge(gauge).bands.iter().map(|b| b.name.clone()).collect()
            }
            QuestionKind::Look(look, _) => self.procedure.look(look).results.clone(),
        };
        let id = QuestionId(u32::try_from(self.questions.len()).expect("far fewer questions than that"));
        self.questions.push(Question { kind, answers });
        self.question_index.insert(kind, id);
        id
    }

    /// Answers under which a guard holds; none if it can never hold.
    pub(super) fn case(&mut self, guard: &Guard, binding: &Binding) -> Option<Case> {
        let mut case = Case::always();
        for term in &guard.0 {
            let kind = match &term.question {
                model::Question::Ask(ask) => QuestionKind::Ask(*ask),
                model::Question::Gauge(target) => {
                    let axes = &self.procedure.gauge(target.id).axes;
                    QuestionKind::Gauge(target.id, self.only_place(axes, &target.pattern, binding))
                }
                model::Question::Look(target) => {
                    let axes = &self.procedure.look(target.id).axes;
                    QuestionKind::Look(target.id, self.only_place(axes, &target.pattern, binding))
                }
            };
            let question = self.question(kind);
            case = case.and(&Case::when(question, Answers::only(Answer(term.answer))))?;
        }
        Some(case)
    }

    fn only_place(&self, axes: &[AxisId], pattern: &Pattern, binding: &Binding) -> Option<Place> {
        let places = self.procedure.matching(axes, pattern, binding);
        if places.len() == 1 { places.first().copied() } else { None }
    }

    /// What is left of a case outside others, as disjoint cases.
    pub(super) fn outside<'c>(&self, case: Case, others: impl Iterator<Item = &'c Case>) -> Vec<Case> {
        outside(&self.questions, case, others)
    }

    /// Answers under which every part that a set holds is left out.
    pub(super) fn nothing_to_hold(&mut self, (set, place): (SetId, Place)) -> Vec<Case> {
        self.of_all_held((set, place), Facts::left_out)
    }

    /// Answers under which something holds of every part that a set holds; none for a set that holds nothing.
    fn of_all_held(
        &mut self,
        (set, place): (SetId, Place),
        cases_of: impl Fn(&mut Self, PartId, Place) -> Vec<Case>,
    ) -> Vec<Case> {
        let mut all: Option<Vec<Case>> = None;
        let held = self.structure.held((set, place)).len();
        for index in 0..held {
            let (part, at) = self.structure.held((set, place))[index].part;
            let of_one = cases_of(self, part, at);
            let both = match all {
                None => of_one,
                Some(before) => before.iter().flat_map(|a| of_one.iter().filter_map(|b| a.and(b))).collect(),
            };
            // Where one part is there whatever the answers, nothing is left that the others could narrow.
            if both.is_empty() {
                return both;
            }
            all = Some(both);
        }
        all.unwrap_or_default()
    }

    /// Answers under which a part is left out.
    pub(super) fn left_out(&mut self, part: PartId, place: Place) -> Vec<Case> {
        let mut cases = self.absent(part, place);
        cases.extend(self.fate_cases(part, place, |fate| matches!(fate, Fate::LeaveOut(_))));
        cases
    }

    /// Answers under which the engine hasn't got the part, as disjoint cases.
    pub(super) fn absent(&mut self, part: PartId, place: Place) -> Vec<Case> {
        let procedure = self.procedure;
        let present = procedure.present((part, place));
        if present.0.is_empty() {
            return Vec::new();
        }
        let binding = procedure.bound_at((part, place));
        let present = self.case(&present, &binding);
        self.outside(Case::always(), present.iter())
    }

    /// Answers under which a set is absent, as disjoint cases: the engine hasn't got it, or none of the parts that it
    /// holds.
    pub(super) fn absent_set(&mut self, set: SetId, place: Place) -> Vec<Case> {
        let procedure = self.procedure;
        let present = procedure.set_present((set, place));
        let mut cases = Vec::new();
        if !present.0.is_empty() {
            let present = self.case(&present, &procedure.bound_at((set, place)));
            cases = self.outside(Case::always(), present.iter());
        }
        for case in self.of_all_held((set, place), Facts::absent) {
            let rest = self.outside(case, cases.iter());
            cases.extend(rest);
        }
        cases
    }

    /// Answers under which a part's fate is one of those that `wanted` picks, as disjoint cases.
    pub(super) fn fate_cases(
        &mut self,
        part: PartId,
        place: Place,
        wanted: impl Fn(&Fate) -> bool,
    ) -> Vec<Case> {
        let procedure = self.procedure;
        let part = procedure.part(part);
        let Some(choice) = &part.fate else { return Vec::new() };
        if !choice.cases.iter().map(|(fate, _)| fate).chain(&choice.otherwise).any(&wanted) {
            return Vec::new();
        }
        let binding = procedure.bound(&part.axes, place);
        let mut rest = vec![Case::always()];
        let mut chosen = Vec::new();
        for (fate, guard) in &choice.cases {
            let Some(case) = self.case(guard, &binding) else { continue };
            if wanted(fate) {
                chosen.extend(rest.iter().filter_map(|piece| piece.and(&case)));
            }
            rest = rest.into_iter().flat_map(|piece| self.outside(piece, [&case].into_iter())).collect();
        }
        if choice.otherwise.as_ref().is_some_and(wanted) {
            chosen.extend(rest);
        }
        chosen
    }
}

/// What is left of a case outside others, as disjoint cases.
pub(super) fn outside<'c>(
    questions: &[Question],
    case: Case,
    others: impl Iterator<Item = &'c Case>,
) -> Vec<Case> {
    let all = |question: QuestionId| questions[question.0 as usize].all();
    others
        .fold(vec![case], |pieces, other| pieces.iter().flat_map(|piece| piece.without(other, all)).collect())
}
