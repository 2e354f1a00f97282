//! What a joint has on single engines, where it hangs on answers which of its sets are there.

use std::borrow::Cow;

use super::cases::under_answers_to;
use super::model::{Guard, GuardTerm, Joint, JointId, Member, Place, Procedure, SetId};

/// Engines that have another choice of its sets than this many are not told apart. Our own line, no source.
const MOST_CHOICES: u32 = 64;

/// A joint as some engines have it.
pub(crate) struct Fitted<'p> {
    /// The answers under any of which it is so; none where it is so on every engine.
    pub when: Vec<Guard>,
    /// The joint with the sets that are there, each hole with its own letter.
    pub joint: Cow<'p, Joint>,
}

/// The places of one set of a joint where the joint is at some of its own, as far as this engine may have it there.
pub(crate) fn in_joint(
    procedure: &Procedure,
    joint: &Joint,
    member: &Member,
    places: &[Place],
) -> Vec<Place> {
    let bound = places.iter().map(|place| procedure.bound(&joint.axes, *place));
    let meant = bound.flat_map(|bound| procedure.meant(&member.set, &bound)).map(|(_, place)| place);
    let mut found: Vec<Place> = meant.filter(|place| !member.absent.contains(place)).collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// A joint at some of its places, once for each choice of its sets that open answers leave: with all of them where none hangs
/// on any.
pub(crate) fn as_fitted<'p>(procedure: &'p Procedure, joint: &'p Joint, places: &[Place]) -> Vec<Fitted<'p>> {
    let there: Vec<(&Member, Vec<Guard>)> = joint
        .members
        .iter()
        .map(|member| {
            let at = in_joint(procedure, joint, member, places);
            (member, at.into_iter().map(|place| procedure.set_present((member.set.id, place))).collect())
        })
        .collect();
    let guards: Vec<&Guard> =
        there.iter().flat_map(|(_, guards)| guards).filter(|guard| !guard.0.is_empty()).collect();
    let mut choices: Vec<(Vec<usize>, Vec<Guard>)> = Vec::new();
    let told = under_answers_to(procedure, &guards, MOST_CHOICES, &mut |answers| {
        let holds =
            |guard: &Guard| guard.0.iter().all(|term| answers.contains(&(&term.question, term.answer)));
        let indices = there.iter().enumerate().filter(|(_, (_, guards))| guards.iter().any(holds));
        let members: Vec<usize> = indices.map(|(index, _)| index).collect();
        let when = answers.iter().map(|(question, answer)| GuardTerm {
            question: (*question).clone(),
            answer: *answer,
            span: joint.naming.span,
        });
        let when = Guard(when.collect());
        match choices.iter_mut().find(|(same, _)| *same == members) {
            Some((_, under)) => under.push(when),
            None => choices.push((members, vec![when])),
        }
    });
    if !told {
        return vec![Fitted { when: Vec::new(), joint: Cow::Borrowed(joint) }];
    }
    let only = choices.len() == 1;
    choices.retain(|(members, _)| !members.is_empty() || joint.members.is_empty());
    let fitted = choices.into_iter().map(|(members, when)| {
        let when = if only { Vec::new() } else { when };
        if members.len() == joint.members.len() {
            return Fitted { when, joint: Cow::Borrowed(joint) };
        }
        let members = members.into_iter().map(|index| joint.members[index].clone()).collect();
        Fitted { when, joint: Cow::Owned(Joint { members, ..joint.clone() }) }
    });
    fitted.collect()
}

/// The procedure once for each choice of the sets of a joint that some engine has.
pub(crate) fn each_fitted(procedure: &Procedure, id: JointId) -> Vec<Cow<'_, Procedure>> {
    let joint = procedure.joint(id);
    let places: Vec<Place> = procedure.places(&joint.axes).collect();
    let fitted = as_fitted(procedure, joint, &places);
    let with = |fitted: Fitted<'_>| match fitted.joint {
        Cow::Borrowed(_) => Cow::Borrowed(procedure),
        Cow::Owned(joint) => {
            let mut procedure = procedure.clone();
            procedure.joints[id] = joint;
            Cow::Owned(procedure)
        }
    };
    fitted.into_iter().map(with).collect()
}

impl Procedure {
    /// Whether no engine has both of two sets anywhere: their answers exclude each other.
    pub(crate) fn never_both(&self, a: SetId, b: SetId) -> bool {
        let everywhere = |set: SetId| {
            let said = self.set(set).present.iter().filter(|(_, at)| at.everywhere());
            said.flat_map(|(guard, _)| &guard.0)
        };
        everywhere(a).any(|one| {
            everywhere(b).any(|other| one.question.id() == other.question.id() && one.answer != other.answer)
        })
    }
}
