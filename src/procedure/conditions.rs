//! Conditions and guards: what must be so for work or a reading, and under which answers something holds.

use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::{self, Reference, Setting, Word};

const PART_CONDITIONS: [(&str, PartCondition); 3] =
    [("fitted", PartCondition::Fitted), ("off", PartCondition::Off), ("supported", PartCondition::Supported)];

const SET_CONDITIONS: [(&str, SetCondition); 3] =
    [("tight", SetCondition::Tight), ("slack", SetCondition::Slack), ("out", SetCondition::Out)];

const TEMPORARY_CONDITIONS: [(&str, bool); 2] = [("in", true), ("out", false)];

impl Resolver {
    /// Conditions that must all hold.
    pub(super) fn conditions(
        &mut self,
        owner: Name,
        conditions: &[tree::Condition],
        scope: &tree::Scope,
    ) -> Vec<Local<Condition>> {
        let Some(at) = self.places(owner, &scope.at) else { return Vec::new() };
        let mut out = Vec::new();
        for condition in conditions {
            match condition {
                tree::Condition::State(setting) => {
                    if let Some((state, value)) = self.state(setting) {
                        out.push(Condition::State(state, value, setting.name.span.to(setting.value.span)));
                    }
                }
                tree::Condition::Thing { thing, condition } => self.condition_of(thing, condition, &mut out),
            }
        }
        out.into_iter().map(|what| Local { what, at: at.clone() }).collect()
    }

    fn condition_of(&mut self, thing: &Reference, word: &Word, out: &mut Vec<Condition>) {
        const WANTED: [&str; 4] = ["a part", "a fastener set", "a joint", "a temporary"];
        let span = thing.span;
        match self.thing(thing, &WANTED) {
            Some((Name::Part(id), pattern)) => {
                if let Some(condition) = self.word(word, "a condition of a part", &PART_CONDITIONS) {
                    out.push(Condition::Part(Target { id, pattern, span }, condition));
                }
            }
            Some((Name::Set(id), pattern)) => {
                if let Some(condition) = self.word(word, "a condition of a fastener set", &SET_CONDITIONS) {
                    out.push(Condition::Set(Target { id, pattern, span }, condition));
                }
            }
            Some((Name::Joint(id), pattern)) => {
                if let Some(condition) = self.word(word, "a condition of a joint", &SET_CONDITIONS) {
                    let sets = self.sets_of_joint(&Target { id, pattern, span });
                    out.extend(sets.into_iter().map(|set| Condition::Set(set, condition)));
                }
            }
            Some((Name::Temporary(id), pattern)) => {
                if let Some(is_in) = self.word(word, "a condition of a temporary", &TEMPORARY_CONDITIONS) {
                    out.push(Condition::Temporary(Target { id, pattern, span }, is_in));
                }
            }
            _ => {}
        }
    }

    /// What holds a part: a set, or the sets of a joint.
    pub(super) fn holders(&mut self, holder: &Reference) -> Vec<Target<SetId>> {
        let span = holder.span;
        match self.thing(holder, &["a fastener set", "a joint"]) {
            Some((Name::Set(id), pattern)) => vec![Target { id, pattern, span }],
            Some((Name::Joint(id), pattern)) => self.sets_of_joint(&Target { id, pattern, span }),
            _ => Vec::new(),
        }
    }

    /// The sets of a joint at the positions that are meant of the joint.
    fn sets_of_joint(&self, joint: &Target<JointId>) -> Vec<Target<SetId>> {
        let entry = self.procedure.joint(joint.id);
        let members = entry.members.iter().map(|member| {
            let own = &self.procedure.set(member.set.id).axes;
            let pattern = self.procedure.carried(&joint.pattern, &entry.axes, &member.set.pattern, own);
            Target { id: member.set.id, pattern, span: joint.span }
        });
        members.collect()
    }

    /// `QUESTION = answer and ...`
    pub(super) fn guard(&mut self, settings: &[Setting]) -> Guard {
        Guard(settings.iter().filter_map(|setting| self.guard_term(setting)).collect())
    }

    fn guard_term(&mut self, setting: &Setting) -> Option<GuardTerm> {
        let span = setting.name.span;
        let (name, pattern) = self.thing(&setting.name, &["a question", "a gauge", "a look"])?;
        let (question, what, known) = match name {
            Name::Ask(id) => (Question::Ask(id), "answer", self.procedure.ask(id).answers.clone()),
            Name::Gauge(id) => {
                self.must_have_bands(id, span)?;
                let bands = self.procedure.gauge(id).bands.iter().map(|band| band.name.clone()).collect();
                (Question::Gauge(Target { id, pattern, span }), "band", bands)
            }
            Name::Look(id) => {
                let results = self.procedure.look(id).results.clone();
                (Question::Look(Target { id, pattern, span }), "result", results)
            }
            _ => return None,
        };
        let answer = self.value(name, what, &known, &setting.value)?;
        Some(GuardTerm { question, answer, span: span.to(setting.value.span) })
    }

    /// Complains if a gauge can't answer a question.
    pub(super) fn must_have_bands(&mut self, id: GaugeId, at: crate::source::Span) -> Option<()> {
        if self.procedure.gauge(id).bands.is_empty() {
            let gauge = self.declared(Name::Gauge(id));
            if self.in_trouble(&gauge.value) {
                self.hold_back();
            } else {
                self.complain(errors::no_bands(at, &gauge));
            }
            return None;
        }
        Some(())
    }
}
