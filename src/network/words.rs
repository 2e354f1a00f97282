//! How things, values, answers and acts are said in complaints and reasons.

use super::answers::Case;
use super::types::Thing;
use super::types::*;
use super::values::{Errand, Fit, Inside, Is, ThingKind, Tightness, Values};
use crate::procedure::model::Procedure;

/// The thing's name as it is written in a procedure.
pub(crate) fn thing_name(procedure: &Procedure, questions: &[Question], thing: &Thing) -> String {
    match thing.kind {
        ThingKind::Part(part, place)
        | ThingKind::Errand(part, place)
        | ThingKind::Support(part, place)
        | ThingKind::Steady(part, place)
        | ThingKind::Clean(part, place) => {
            let part = procedure.part(part);
            procedure.placed(&part.naming.id, &part.axes, place)
        }
        ThingKind::Set(set, place, _) => {
            let set = procedure.set(set);
            procedure.placed(&set.naming.id, &set.axes, place)
        }
        ThingKind::Reading(gauge, place) => {
            let gauge = procedure.gauge(gauge);
            procedure.placed(&gauge.naming.id, &gauge.axes, place)
        }
        ThingKind::Seen(look, place) => {
            let look = procedure.look(look);
            procedure.placed(&look.naming.id, &look.axes, place)
        }
        ThingKind::Answered(question) => question_name(procedure, &questions[question.0 as usize]),
        ThingKind::State(state) => procedure.state(state).naming.id.clone(),
        ThingKind::Temporary(temporary, place) => {
            let temporary = procedure.temporary(temporary);
            procedure.placed(&temporary.naming.id, &temporary.axes, place)
        }
    }
}

/// A question's name as it is written in a procedure.
pub(crate) fn question_name(procedure: &Procedure, question: &Question) -> String {
    match question.kind {
        QuestionKind::Ask(ask) => procedure.ask(ask).naming.id.clone(),
        QuestionKind::Gauge(gauge, place) => {
            let gauge = procedure.gauge(gauge);
            place.map_or(gauge.naming.id.clone(), |place| {
                procedure.placed(&gauge.naming.id, &gauge.axes, place)
            })
        }
        QuestionKind::Look(look, place) => {
            let look = procedure.look(look);
            place.map_or(look.naming.id.clone(), |place| procedure.placed(&look.naming.id, &look.axes, place))
        }
    }
}

/// Values in words: `off`, `slack or out`, `drained`.
pub(crate) fn values(procedure: &Procedure, kind: ThingKind, values: Values) -> String {
    kind.read(values).map(|is| value(procedure, is)).collect::<Vec<&str>>().join(" or ")
}

fn value(procedure: &Procedure, is: Is) -> &str {
    match is {
        Is::Part(Fit::Fitted) => "fitted",
        Is::Part(Fit::Off) => "off",
        Is::Errand(Errand::Here) => "never sent",
        Is::Errand(Errand::Sent) => "sent",
        Is::Errand(Errand::Back) => "back",
        Is::Errand(Errand::Accepted) => "accepted",
        Is::Support(false) => "not supported",
        Is::Support(true) => "supported",
        Is::Steady(false) => "unsteady",
        Is::Steady(true) => "steady",
        Is::Clean(false) => "not clean",
        Is::Clean(true) => "clean",
        Is::Set(Tightness::Tight) => "tight",
        Is::Set(Tightness::Slack) => "slack",
        Is::Set(Tightness::Out) => "out",
        Is::Reading(false) | Is::Seen(false) => "not taken",
        Is::Reading(true) | Is::Seen(true) => "taken",
        Is::Answered(false) => "open",
        Is::Answered(true) => "answered",
        Is::Temporary(Inside::In) => "in",
        Is::Temporary(Inside::Gone) => "not in",
        Is::State(state, value) => &procedure.state(state).values[value.0],
    }
}

/// Answers in words: `valve_gear = renew and plating = worn`; empty for every combination.
pub(crate) fn case(procedure: &Procedure, questions: &[Question], case: &Case) -> String {
    let terms: Vec<String> = case
        .terms()
        .map(|(id, answers)| {
            let question = &questions[id.0 as usize];
            let named: Vec<&str> = question
                .answers
                .iter()
                .enumerate()
                .filter(|(index, _)| answers.allows(*index))
                .map(|(_, word)| word.as_str())
                .collect();
            format!("{} = {}", question_name(procedure, question), named.join(" or "))
        })
        .collect();
    terms.join(" and ")
}

/// What to type to bring a value about.
pub(crate) fn mend(procedure: &Procedure, questions: &[Question], thing: &Thing, allowed: Values) -> String {
    let name = thing_name(procedure, questions, thing);
    let would_do = |is: Is| thing.kind.read(allowed).any(|one| one == is);
    match thing.kind {
        ThingKind::Part(..) if would_do(Is::Part(Fit::Off)) => format!("take {name}"),
        ThingKind::Part(..) => format!("fit {name}"),
        ThingKind::Errand(..) if would_do(Is::Errand(Errand::Back)) => format!("receive {name}"),
        ThingKind::Errand(..) if would_do(Is::Errand(Errand::Accepted)) => format!("accept {name}"),
        ThingKind::Errand(..) => format!("send {name} \"what is to be done\""),
        ThingKind::Support(..) | ThingKind::Steady(..) => format!("support {name}"),
        ThingKind::Clean(..) => format!("clean {name}"),
        ThingKind::Set(..) if would_do(Is::Set(Tightness::Out)) => format!("undo {name}"),
        ThingKind::Set(..) if would_do(Is::Set(Tightness::Tight)) => format!("tighten {name}"),
        ThingKind::Set(..) => format!("slacken {name}"),
        ThingKind::Reading(..) => format!("gauge {name}"),
        ThingKind::Seen(..) => format!("look {name}"),
        ThingKind::Answered(question) => match questions[question.0 as usize].kind {
            QuestionKind::Look(..) => format!("look {name}"),
            QuestionKind::Gauge(..) | QuestionKind::Ask(_) => format!("gauge {name}"),
        },
        ThingKind::Temporary(..) if would_do(Is::Temporary(Inside::In)) => format!("put in {name}"),
        ThingKind::Temporary(..) => format!("take out {name}"),
        ThingKind::State(_) => {
            let first = thing.kind.read(allowed).next().map_or("", |is| value(procedure, is));
            format!("set {name} = {first}")
        }
    }
}
