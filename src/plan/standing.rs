//! Whether a step is present, absent, done or held: answers against the case under which it is done.

use super::types::{Hold, HoldCause, Plan, PlannedLine, PlannedStep, Standing};
use super::{Known, decided, hold, setting};
use crate::decide::{Asked, Identification, Truth, answer_words, look_words, never_words, reading_words};
use crate::network::answers::QuestionId;
use crate::network::{Network, Node, Question, QuestionKind};
use crate::procedure::model::{Phase, Procedure, SupplyId};

/// Where a step stands in this job.
pub(super) fn standing(known: &Known, node: &Node, index: usize, lines: &[PlannedLine]) -> Standing {
    let member = &node.members[index];
    let Known { procedure, network, decisions, .. } = *known;
    let mut holds = Vec::new();
    for (id, allowed) in member.case.terms() {
        let question = &network.questions[id.0 as usize];
        match decisions.term(procedure, question.kind, allowed) {
            Truth::No => return Standing::Absent,
            Truth::Yes => {}
            Truth::Open(_) => {
                holds.push(Hold { cause: HoldCause::Question(id), text: open_question(known, question) });
            }
        }
    }
    let acts = lines.iter().filter_map(|line| match line {
        PlannedLine::Act(act) => act.given.as_ref(),
        PlannedLine::Hazard(_) | PlannedLine::Hold(_) | PlannedLine::SetUp(..) => None,
    });
    for asked in acts.flat_map(|given| &given.open) {
        holds.extend(asked_by(network, *asked).map(|id| Hold {
            cause: HoldCause::Question(id),
            text: open_question(known, &network.questions[id.0 as usize]),
        }));
    }
    if decided::done(decisions, member) {
        return Standing::Done;
    }
    if let Some(because) = decisions.not_done(&member.key) {
        return Standing::NotDone(because.to_owned());
    }
    if decisions.identification == Identification::Differs {
        holds.push(Hold {
            cause: HoldCause::Identity,
            text: Identification::right_procedure(known.procedure),
        });
    }
    // To find out more it may be taken apart and measured.
    if matches!(node.phase, Phase::Build | Phase::Start) || hold::sends(lines) {
        holds.extend(decisions.as_found(known.procedure).map(|text| Hold { cause: HoldCause::Engine, text }));
    }
    holds.extend(hold::holds(known, node, index, lines));
    holds.extend(hold::own_parts(known, member));
    holds.sort();
    // What the step itself asks goes before a part that hangs on the same.
    let mut told: Vec<String> = Vec::new();
    holds.retain(|hold| {
        let new = !told.contains(&hold.text);
        told.push(hold.text.clone());
        new
    });
    if holds.is_empty() { Standing::Present } else { Standing::Held(holds) }
}

/// Holds what is left of the start, and what is filled before it, for what has not set yet.
pub(super) fn wait_to_set(procedure: &Procedure, plan: &mut Plan, setting: &[(SupplyId, String)]) {
    if setting.is_empty() {
        return;
    }
    let wetted =
        |phase: Phase, step: &PlannedStep| phase == Phase::Start || setting::fills(procedure, phase, step);
    let steps = plan.phases.iter_mut().flat_map(|plan| {
        let phase = plan.phase;
        plan.steps.iter_mut().map(move |step| (phase, step))
    });
    for (_, step) in steps.filter(|(phase, step)| step.standing.is_left() && wetted(*phase, step)) {
        let waits = setting
            .iter()
            .map(|(supply, text)| Hold { cause: HoldCause::Setting(*supply), text: text.clone() });
        let own = match std::mem::replace(&mut step.standing, Standing::Present) {
            Standing::Held(holds) => holds,
            _ => Vec::new(),
        };
        step.standing = Standing::Held(own.into_iter().chain(waits).collect());
    }
}

/// The question of the network that this is, or is one place of.
fn asked_by(network: &Network, asked: Asked) -> Option<QuestionId> {
    let mut questions = (0u32..).zip(&network.questions);
    questions.find(|(_, question)| asked_by_kind(question.kind, asked)).map(|(id, _)| QuestionId(id))
}

fn asked_by_kind(kind: QuestionKind, asked: Asked) -> bool {
    match (kind, asked) {
        (QuestionKind::Ask(a), Asked::Ask(b)) => a == b,
        (QuestionKind::Gauge(a, at), Asked::Gauge(b, place)) => a == b && at.is_none_or(|at| at == place),
        (QuestionKind::Look(a, at), Asked::Look(b, place)) => a == b && at.is_none_or(|at| at == place),
        _ => false,
    }
}

/// What an open question of the network waits for; one about a whole gauge or look names no place.
fn open_question(known: &Known, question: &Question) -> String {
    let Known { procedure, decisions, .. } = *known;
    let mut never =
        known.decisions.open_questions().filter(|(asked, _)| asked_by_kind(question.kind, *asked));
    if let Some((asked, because)) = never.find_map(|(asked, _)| Some((asked, decisions.never(asked)?))) {
        return never_words(procedure, asked, because);
    }
    match question.kind {
        QuestionKind::Ask(ask) => answer_words(procedure, ask),
        QuestionKind::Gauge(gauge, place) => reading_words(procedure, gauge, place),
        QuestionKind::Look(look, place) => look_words(procedure, look, place),
    }
}
