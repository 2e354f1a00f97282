//! How things, values, answers and acts are said in complaints and reasons.

use super::answers::Case;
use super::types::Thing;
use super::types::*;
use crate::procedure::model::{Place, Procedure};

/// A name with its place, such as `push_rod[2, inlet]`.
fn placed(procedure: &Procedure, id: &str, axes: &[crate::procedure::model::AxisId], place: Place) -> String {
    if axes.is_empty() { id.to_owned() } else { format!("{id}[{}]", procedure.place_name(axes, place)) }
}

/// The thing's name as it is written in a procedure.
pub fn thing_name(procedure: &Procedure, questions: &[Question], thing: &Thing) -> String {
    match thing.kind {
        ThingKind::Part(part, place)
        | ThingKind::Errand(part, place)
        | ThingKind::Support(part, place)
        | ThingKind::Steady(part, place)
        | ThingKind::Clean(part, place) => {
            let part = procedure.part(part);
            placed(procedure, &part.naming.id, &part.axes, place)
        }
        ThingKind::Set(set, place, _) => {
            let set = procedure.set(set);
            placed(procedure, &set.naming.id, &set.axes, place)
        }
        ThingKind::Reading(gauge, place) => {
            let gauge = procedure.gauge(gauge);
            placed(procedure, &gauge.naming.id, &gauge.axes, place)
        }
        ThingKind::Seen(look, place) => {
            let look = procedure.look(look);
            placed(procedure, &look.naming.id, &look.axes, place)
        }
        ThingKind::Answered(question) => question_name(procedure, &questions[question.0 as usize]),
        ThingKind::State(state) => procedure.state(state).naming.id.clone(),
        ThingKind::Temporary(temporary, place) => {
            let temporary = procedure.temporary(temporary);
            placed(procedure, &temporary.naming.id, &temporary.axes, place)
        }
    }
}

/// A question's name as it is written in a procedure.
pub fn question_name(procedure: &Procedure, question: &Question) -> String {
    match question.kind {
        QuestionKind::Ask(ask) => procedure.ask(ask).naming.id.clone(),
        QuestionKind::Gauge(gauge, place) => {
            let gauge = procedure.gauge(gauge);
            place.map_or(gauge.naming.id.clone(), |place| {
                placed(procedure, &gauge.naming.id, &gauge.axes, place)
            })
        }
        QuestionKind::Look(look, place) => {
            let look = procedure.look(look);
            place
                .map_or(look.naming.id.clone(), |place| placed(procedure, &look.naming.id, &look.axes, place))
        }
    }
}

/// Values in words: `off`, `slack or out`, `drained`.
pub fn values(procedure: &Procedure, kind: ThingKind, values: Value) -> String {
    let words: Vec<String> = match kind {
        ThingKind::Part(..) => pick(values, &["fitted", "off"]),
        ThingKind::Errand(..) => pick(values, &["never sent", "sent", "back", "accepted"]),
        ThingKind::Support(..) => pick(values, &["not supported", "supported"]),
        ThingKind::Steady(..) => pick(values, &["unsteady", "steady"]),
        ThingKind::Clean(..) => pick(values, &["not clean", "clean"]),
        ThingKind::Set(..) => pick(values, &["tight", "slack", "out"]),
        ThingKind::Reading(..) | ThingKind::Seen(..) => pick(values, &["not taken", "taken"]),
        ThingKind::Answered(_) => pick(values, &["open", "answered"]),
        ThingKind::Temporary(..) => pick(values, &["in", "not in"]),
        ThingKind::State(state) => {
            let names: Vec<&str> = procedure.state(state).values.iter().map(String::as_str).collect();
            pick(values, &names)
        }
    };
    words.join(" or ")
}

fn pick(values: Value, words: &[&str]) -> Vec<String> {
    words
        .iter()
        .enumerate()
        .filter(|(bit, _)| values & (1 << bit) != 0)
        .map(|(_, word)| (*word).to_owned())
        .collect()
}

/// Answers in words: `valve_gear = renew and plating = worn`; empty for every combination.
pub fn case(procedure: &Procedure, questions: &[Question], case: &Case) -> String {
    let terms: Vec<String> = case
        .terms()
        .map(|(id, answers)| {
            let question = &questions[id.0 as usize];
            let named: Vec<&str> = question
                .answers
                .iter()
                .enumerate()
                .filter(|(bit, _)| answers & (1 << bit) != 0)
                .map(|(_, word)| word.as_str())
                .collect();
            format!("{} = {}", question_name(procedure, question), named.join(" or "))
        })
        .collect();
    terms.join(" and ")
}

/// What to type to bring a value about.
pub fn mend(procedure: &Procedure, questions: &[Question], thing: &Thing, allowed: Value) -> String {
    let name = thing_name(procedure, questions, thing);
    match thing.kind {
        ThingKind::Part(..) if allowed & OFF != 0 => format!("take {name}"),
        ThingKind::Part(..) => format!("fit {name}"),
        ThingKind::Errand(..) if allowed & ACCEPTED != 0 => format!("accept {name}"),
        ThingKind::Errand(..) if allowed & BACK != 0 => format!("receive {name}"),
        ThingKind::Errand(..) => format!("send {name} \"what is to be done\""),
        ThingKind::Support(..) | ThingKind::Steady(..) => format!("support {name}"),
        ThingKind::Clean(..) => format!("clean {name}"),
        ThingKind::Set(..) if allowed & OUT != 0 => format!("undo {name}"),
        ThingKind::Set(..) if allowed & TIGHT != 0 => format!("tighten {name}"),
        ThingKind::Set(..) => format!("slacken {name}"),
        ThingKind::Reading(..) => format!("gauge {name}"),
        ThingKind::Seen(..) => format!("look {name}"),
        ThingKind::Answered(question) => match questions[question.0 as usize].kind {
            QuestionKind::Look(..) => format!("look {name}"),
            QuestionKind::Gauge(..) | QuestionKind::Ask(_) => format!("gauge {name}"),
        },
        ThingKind::Temporary(..) if allowed & IN != 0 => format!("put in {name}"),
        ThingKind::Temporary(..) => format!("take out {name}"),
        ThingKind::State(_) => {
            let first = 1 << allowed.trailing_zeros();
            format!("set {name} = {}", values(procedure, thing.kind, first))
        }
    }
}
