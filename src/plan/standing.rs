//! Whether a step is present, absent, done or held: answers against the case under which it is done.

use super::hold;
use super::types::{Hold, HoldCause, PlannedLine, Standing};
use super::{Settled, words};
use crate::network::{Member, Network, Node, Question, QuestionKind};
use crate::procedure::model::{Procedure, Step};

/// Where a step stands in this job.
pub(super) fn standing(
    procedure: &Procedure,
    network: &Network,
    settled: &Settled,
    node: &Node,
    member: &Member,
    step: &Step,
    lines: &[PlannedLine],
) -> Standing {
    let mut holds = Vec::new();
    for (id, allowed) in member.case.terms() {
        let question = &network.questions[id.0 as usize];
        match settled.answer(question) {
            Some(answer) if allowed >> answer & 1 == 0 => return Standing::Absent,
            Some(_) => {}
            None => {
                holds.push(Hold { cause: HoldCause::Question(id), text: open_question(procedure, question) })
            }
        }
    }
    if settled.done.contains(&member.id) {
        return Standing::Done;
    }
    for construct in &step.unchecked {
        holds.push(Hold {
            cause: HoldCause::Unchecked,
            text: format!("“{construct}”, which the procedure says here and nothing acts on yet"),
        });
    }
    holds.extend(hold::holds(procedure, settled, node, lines));
    holds.sort();
    holds.dedup();
    if holds.is_empty() { Standing::Present } else { Standing::Held(holds) }
}

/// What an open question waits for.
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
            format!(
                "a reading: {}",
                words::inner(&words::at_place(procedure, &gauge.naming, &gauge.axes, place))
            )
        }
        QuestionKind::Look(look, place) => {
            let look = procedure.look(look);
            format!("a look: {}", words::inner(&words::at_place(procedure, &look.naming, &look.axes, place)))
        }
    }
}
