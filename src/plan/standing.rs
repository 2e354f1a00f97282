//! Whether a step is present, absent, done or held: answers against the case under which it is done.

use super::types::{Hold, HoldCause, PlannedLine, Standing};
use super::{Known, decided, hold, words};
use crate::decide::{Identification, Truth};
use crate::network::{Member, Node, Question, QuestionKind};
use crate::procedure::model::Procedure;

/// Where a step stands in this job.
pub(super) fn standing(known: &Known, node: &Node, member: &Member, lines: &[PlannedLine]) -> Standing {
    let Known { procedure, network, decisions, .. } = *known;
    let mut holds = Vec::new();
    for (id, allowed) in member.case.terms() {
        let question = &network.questions[id.0 as usize];
        match decisions.term(procedure, question.kind, allowed) {
            Truth::No => return Standing::Absent,
            Truth::Yes => {}
            Truth::Open(_) => {
                holds.push(Hold { cause: HoldCause::Question(id), text: open_question(procedure, question) });
            }
        }
    }
    if decided::done(decisions, member) {
        return Standing::Done;
    }
    if decisions.identification == Identification::Differs {
        holds.push(Hold {
            cause: HoldCause::Identity,
            text: "the right procedure: the engine is stamped otherwise than this family".to_owned(),
        });
    }
    holds.extend(hold::holds(known, node, lines));
    holds.sort();
    holds.dedup();
    if holds.is_empty() { Standing::Present } else { Standing::Held(holds) }
}

/// What an open question of the network waits for; one about a whole gauge or look names no place.
fn open_question(procedure: &Procedure, question: &Question) -> String {
    match question.kind {
        QuestionKind::Ask(ask) => {
            format!(
                "an answer: {} ({})",
                procedure.ask(ask).naming.title,
                words::alternatives(&question.answers)
            )
        }
        QuestionKind::Gauge(gauge, place) => {
            let gauge = procedure.gauge(gauge);
            let name = words::at_place(procedure, &gauge.naming, &gauge.axes, place);
            format!("a reading: {}", words::inner(&name))
        }
        QuestionKind::Look(look, place) => {
            let look = procedure.look(look);
            format!("a look: {}", words::inner(&words::at_place(procedure, &look.naming, &look.axes, place)))
        }
    }
}
