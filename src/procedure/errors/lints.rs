//! Complaints about what is probably not meant.

use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::procedure as codes;
use crate::language::tree::Word;
use crate::procedure::model::{Naming, Setup};
use crate::source::Span;

pub(in crate::procedure) fn unused(kind: &str, name: &Word) -> Diagnostic {
    nothing_uses(kind, name).help("name it where it is needed, or take it out")
}

pub(in crate::procedure) fn unused_part(name: &Word) -> Diagnostic {
    let id = &name.value;
    nothing_uses("part", name).write(format!(
        "`take {id}` in the step that takes it off, and at the part what it is `under` or `held by`; what stays on the machine is \
         named by what it holds: `clamps ..., {id}` in the joint, `within {id}` in what sits in it; if there is none, take it out"
    ))
}

fn nothing_uses(kind: &str, name: &Word) -> Diagnostic {
    Diagnostic::new(&codes::UNUSED, format!("nothing uses {kind} `{}`", name.value))
        .at(name.span, "declared here")
}

/// `thing` usually brings a hazard of this kind, and `clause` is what it would say.
pub(in crate::procedure) fn unused_hazard(name: &Word, thing: Option<(&Naming, &str)>) -> Diagnostic {
    let id = &name.value;
    let complaint = nothing_uses("hazard", name);
    match thing {
        Some((thing, clause)) => complaint.at(thing.span, "may be what brings it").write(format!(
            "`{clause}` in `{}`, or in what else brings it; `hazard {id}` before the act in a step; if nothing brings it, take \
             it out",
            thing.id
        )),
        None => complaint.write(format!(
            "`hazard {id} off`, `on` or `both ways` in the part or the fasteners that bring it, or `hazard {id}` before the act \
             in a step; if nothing brings it, take it out"
        )),
    }
}

pub(in crate::procedure) fn long_instruction(at: Span, words: usize) -> Diagnostic {
    Diagnostic::new(&codes::LONG_INSTRUCTION, format!("a sentence of {words} words"))
        .at(at, "more than 20 words")
        .help("make two sentences of it")
}

pub(in crate::procedure) fn two_actions(at: Span, second: &str) -> Diagnostic {
    Diagnostic::new(&codes::TWO_ACTIONS, format!("an instruction goes on to a second action with `{second}`"))
        .at(at, "two actions")
        .help("make two acts of it, so that each has its own tick")
}

pub(in crate::procedure) fn no_family_origin(name: &Word) -> Diagnostic {
    Diagnostic::new(
        &codes::NO_FAMILY_ORIGIN,
        format!("family `{}` doesn't say where its data comes from", name.value),
    )
    .at(name.span, "no origin")
    .write("`origin \"...\"`")
}

pub(in crate::procedure) fn no_lift_at(part: &Word, mass: Span, limit: &str) -> Diagnostic {
    Diagnostic::new(
        &codes::NO_LIFT_AT,
        format!("`{}` is above the lifting limit of {limit} and has no `lift at`", part.value),
    )
    .at(mass, "needs a hoist")
    .at(part.span, "declared here")
    .write("`lift at \"where the hoist is hooked\"`")
}

pub(in crate::procedure) fn new_part_way(part: &Word, marked: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::NEW_PART_WAY,
        format!("a new `{}` may go in, and nothing says which way round", part.value),
    )
    .at(part.span, "may be renewed")
    .at(marked, "a new one comes without this mark")
    .write("`way \"...\"`, such as `way \"arrow to the front\"`")
}

/// The `seen from` of a joint, and a step's change of a setup to a value.
pub(in crate::procedure) fn figures_not_turned(
    seen: Span,
    setup: &Setup,
    value: &str,
    changed: Span,
) -> Diagnostic {
    let id = &setup.naming.id;
    Diagnostic::new(
        &codes::FIGURES_NOT_TURNED,
        format!("figures of joints stay as declared: nothing says how it lies with `{id} {value}`"),
    )
    .at(seen, "shown from this side, whatever the setup")
    .at(changed, format!("`{id}` is changed here"))
    .at(setup.naming.span, "declared here")
    .write(format!(
        "`turns engine = {} up top, {value} up below` in `{id}`, with the face that lies uppermost at each of its \
         values, if it turns the whole",
        setup.values[setup.at_first]
    ))
}

/// A hazard that stands while a state has a value, and nothing gives it that value.
pub(in crate::procedure) fn hazard_never_met(at: Span, state: &str, value: &str) -> Diagnostic {
    Diagnostic::new(
        &codes::HAZARD_NEVER_MET,
        format!("`{state}` is never `{value}`, so this hazard is never told"),
    )
    .at(at, "no step brings it about")
    .write(format!("`set {state} = {value}` in the step that does, or take the hazard out"))
}
