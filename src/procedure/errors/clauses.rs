//! Complaints about clauses of declarations and steps.

use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::procedure as codes;
use crate::language::tree::Word;
use crate::source::Span;

pub(in crate::procedure) fn duplicate_clause(clause: &str, again: Span, first: Span) -> Diagnostic {
    Diagnostic::new(&codes::DUPLICATE_CLAUSE, format!("`{clause}` is said twice"))
        .at(again, "said again here")
        .at(first, "first said here")
        .help(format!("keep one `{clause}`"))
}

pub(in crate::procedure) fn missing_clause(
    kind: &str,
    name: &Word,
    clause: &str,
    example: &str,
) -> Diagnostic {
    Diagnostic::new(&codes::MISSING_CLAUSE, format!("{kind} `{}` has no `{clause}`", name.value))
        .at(name.span, "declared here")
        .write(format!("`{example}`"))
}

pub(in crate::procedure) fn repeated_entry(name: &str, again: Span, first: Span) -> Diagnostic {
    Diagnostic::new(&codes::REPEATED_ENTRY, format!("`{name}` is listed twice"))
        .at(again, "listed again here")
        .at(first, "first listed here")
        .help("leave one of them out")
}

/// `relation` reads on from "is", such as `after`, `under`, `within`.
pub(in crate::procedure) fn links_itself(thing: &Word, relation: &str, at: Span) -> Diagnostic {
    Diagnostic::new(&codes::LINKS_ITSELF, format!("`{}` is {relation} itself", thing.value))
        .at(at, "names what it stands in")
        .help(format!("name something else, or take this out of `{relation}`"))
}

/// Links of a circle: where it is said that the first lies under the second, and both.
pub(in crate::procedure) fn covered_in_circle(links: &[(Span, String, String)]) -> Diagnostic {
    let ring: Vec<String> =
        links.iter().map(|(_, under, over)| format!("`{under}` under `{over}`")).collect();
    let message = format!("none of these can come off first: {}", ring.join(", "));
    let complaint = Diagnostic::new(&codes::COVERED_IN_CIRCLE, message);
    let said =
        |(span, under, over): &(Span, String, String)| (*span, format!("here `{under}` lies under `{over}`"));
    links
        .iter()
        .map(said)
        .fold(complaint, |complaint, (span, words)| complaint.at(span, words))
        .help("one of these lines is not true: take it out")
}

pub(in crate::procedure) fn not_apart(at: Span, step: &Word) -> Diagnostic {
    Diagnostic::new(&codes::NOT_APART, format!("`{}` is one step for all of its positions", step.value))
        .at(at, "a single position can't be named")
        .at(step.span, "not declared `apart`")
        .write(format!("`{}`, or let it say `each AXIS apart`", step.value))
}

pub(in crate::procedure) fn idle_axis(axis: &Word) -> Diagnostic {
    Diagnostic::new(&codes::IDLE_AXIS, format!("nothing in the step has the axis `{}`", axis.value))
        .at(axis.span, "every position would be the same work")
        .help(format!("take `{}` out of `each`, or work on a thing that has it", axis.value))
}

pub(in crate::procedure) fn empty_step(step: &Word) -> Diagnostic {
    Diagnostic::new(&codes::EMPTY_STEP, format!("step `{}` has no acts", step.value))
        .at(step.span, "nothing is to be done")
        .help("say what is done, such as `do \"Note the number on its plate.\"`")
}

/// A condition of its own behind an act of the step.
pub(in crate::procedure) fn late_when(when: Span, first: Span) -> Diagnostic {
    Diagnostic::new(&codes::LATE_WHEN, "a condition stands behind work that it should govern")
        .at(when, "is it for the whole step, or for one act?")
        .at(first, "read first, as if it were done in any case")
        .help("for the whole step write it before the first act; for one act, right behind that act")
}
