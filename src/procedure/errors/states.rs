//! Complaints about states of the whole.

use super::super::model::{Hazard, Part, State};
use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::procedure as codes;
use crate::source::Span;

/// A part that lets go what a state holds back at one value, while the danger is said to be at another.
pub(in crate::procedure) fn released_into_danger(
    part: &Part,
    state: &State,
    (value, span): (usize, Span),
    (live, hazard): (usize, &Hazard),
) -> Diagnostic {
    let (id, name) = (&part.naming.id, &state.naming.id);
    let (value, live) = (&state.values[value], &state.values[live]);
    Diagnostic::new(
        &codes::RELEASED_INTO_DANGER,
        format!(
            "`{id}` may come off only when `{name}` is not `{value}`, and the danger is there at `{live}`"
        ),
    )
    .at(span, format!("lets go what `{value}` holds back"))
    .at(state.naming.span, format!("`{}` is met while `{live}`", hazard.naming.id))
    .write(format!("`releases {name} = {live}`: taking it lets go what is held back at that value"))
}

/// A state set apart to the value that it has from the start.
pub(in crate::procedure) fn sets_nothing(state: &State, span: Span) -> Diagnostic {
    let (name, first) = (&state.naming.id, &state.values[state.at_first]);
    Diagnostic::new(
        &codes::SETS_NOTHING,
        format!("`{name}` is `{first}` at first, and is set to that while nothing has changed it"),
    )
    .at(span, "changes nothing")
    .at(state.naming.span, format!("`{first}` at first"))
    .help(format!("put `(at first)` behind the value that `{name}` has when the job comes in"))
}

/// What is let out in the strip and never put right again.
pub(in crate::procedure) fn never_back(
    state: &State,
    step: &str,
    (value, span): (usize, Span),
) -> Diagnostic {
    let (name, first) = (&state.naming.id, &state.values[state.at_first]);
    Diagnostic::new(
        &codes::NEVER_BACK,
        format!(
            "`{name}` is `{}` from `{step}` on, and no step of the build or the start sets it again",
            state.values[value]
        ),
    )
    .at(span, "set here")
    .write(format!("`set {name} = {first}` in the step that fills or closes it, with `do \"...\"` for how"))
}

/// A job that ends with a state at a value with a danger.
pub(in crate::procedure) fn left_live(
    state: &State,
    (value, span): (usize, Span),
    hazard: &Hazard,
) -> Diagnostic {
    let (name, first) = (&state.naming.id, &state.values[state.at_first]);
    Diagnostic::new(
        &codes::LEFT_LIVE,
        format!(
            "the job ends with `{name} = {}`, while which `{}` is met",
            state.values[value], hazard.naming.id
        ),
    )
    .at(span, "the last that the start sets")
    .write(format!(
        "`set {name} = {first}` behind what is tried with it, with `do \"...\"` for how it is brought down"
    ))
}
