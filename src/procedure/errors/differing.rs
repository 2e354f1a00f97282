//! Complaints about a procedure that differs from another.

use std::collections::BTreeSet;

use super::super::model::Differing;
use super::quoted;
use crate::diagnostics::codes::procedure as codes;
use crate::diagnostics::{Diagnostic, Mend, nearest};
use crate::language::tree::{Amount, Quote, Without, Word};
use crate::source::Span;

/// What an edition of the other procedure changed.
pub(in crate::procedure) struct Revision<'a> {
    /// The edition.
    pub edition: &'a Amount,
    /// What was changed.
    pub what: &'a Quote,
    /// In what.
    pub names: &'a [Word],
}

/// Places at which both changed the same, that are shown.
const MOST_BOTH: usize = 6;

pub(in crate::procedure) fn nothing_to_change(span: Span) -> Diagnostic {
    Diagnostic::new(&codes::NOTHING_TO_CHANGE, "this differs from no other procedure")
        .at(span, "nothing is declared that this could change")
        .help("say in `family` which procedure it differs from, such as `of \"engine.rebuild\" at edition 4`")
}

pub(in crate::procedure) fn change_unknown(word: &Word, near: Option<(&str, Span)>) -> Diagnostic {
    let name = &word.value;
    let complaint =
        Diagnostic::new(&codes::CHANGE_UNKNOWN, format!("nothing is called `{name}` that could be changed"))
            .at(word.span, "the procedure that this one is of declares no such thing");
    match near {
        Some((near, declared)) => complaint
            .at(declared, format!("`{near}` is declared here"))
            .write(format!("`{near}`, if that is meant"))
            .perhaps(word.span, near),
        None => complaint.help("what is new is declared without `change`"),
    }
}

pub(in crate::procedure) fn change_of_gone(word: &Word, out: Span) -> Diagnostic {
    Diagnostic::new(&codes::CHANGED_TWICE, format!("`{}` is taken out already", word.value))
        .at(word.span, "changed here")
        .at(out, "taken out here")
        .help("keep one of the two")
}

pub(in crate::procedure) fn changed_kind(word: &Word, says: &str, is: &str, declared: Span) -> Diagnostic {
    Diagnostic::new(&codes::CHANGED_KIND, format!("`{}` is declared with `{is}`", word.value))
        .at(word.span, format!("changed as `{says}`"))
        .at(declared, format!("declared with `{is}` here"))
        .write(format!(
            "`change {is} {}`; to make it another kind of thing, take it out and declare a new one",
            word.value
        ))
}

pub(in crate::procedure) fn changed_twice(word: &Word, again: Span, first: Span) -> Diagnostic {
    Diagnostic::new(&codes::CHANGED_TWICE, format!("two changes say the same of `{}`", word.value))
        .at(again, "said again here")
        .at(first, "first said here")
        .help("keep the one that is meant")
}

pub(in crate::procedure) fn declared_anew(word: &Word, item: Span, declared: Span) -> Diagnostic {
    let start = Span::new(item.file, item.start(), item.start());
    Diagnostic::new(
        &codes::DECLARED_ANEW,
        format!("`{}` is declared by the procedure that this one is of", word.value),
    )
    .at(word.span, "declared again here")
    .at(declared, "declared here")
    .write(format!(
        "`change` before it to change that one, or another name than `{}` for a new one",
        word.value
    ))
    .perhaps(start, "change ")
}

pub(in crate::procedure) fn no_such_clause(
    named: Span,
    words: &str,
    thing: &str,
    near: Option<(&str, Span)>,
    declared: Span,
) -> Diagnostic {
    let complaint = Diagnostic::new(&codes::NO_SUCH_CLAUSE, format!("\"{thing}\" says no `{words}`"))
        .at(named, "nothing there reads so");
    match near {
        Some((near, span)) => complaint
            .at(span, "this is what it says")
            .write(format!("`{near}`, if that is meant"))
            .perhaps(named, near),
        None => complaint
            .at(declared, "declared here, without it")
            .help("leave this out; what is only added needs no `instead of`"),
    }
}

pub(in crate::procedure) fn clause_not_one(named: Span, words: &str, found: &[Span]) -> Diagnostic {
    let complaint = Diagnostic::new(&codes::CLAUSE_NOT_ONE, format!("`{words}` stands there more than once"))
        .at(named, "which of them is meant?");
    found
        .iter()
        .take(4)
        .fold(complaint, |complaint, span| complaint.at(*span, "it could be this"))
        .help("name the clause whole; where they are the same word for word, take the declaration out and write a new one")
}

pub(in crate::procedure) fn changes_nothing(span: Span, was: Span) -> Diagnostic {
    Diagnostic::new(&codes::CHANGES_NOTHING, "this changes nothing")
        .at(span, "says what is said already")
        .at(was, "said here")
        .help("leave it out: it would only hide a later edition of the other procedure")
}

pub(in crate::procedure) fn base_edition(
    then: &Amount,
    now: &Amount,
    at: Span,
    changed: &[&str],
    revisions: &[Revision<'_>],
    differing: &[Differing],
) -> Diagnostic {
    let mut names: Vec<&str> = changed.to_vec();
    names.sort_unstable();
    names.dedup();
    let told = told(revisions, then, now);
    let read = if !told.is_empty() {
        told
    } else if names.is_empty() {
        "see whether it still holds".to_owned()
    } else {
        format!("read again what is changed of {}", quoted(&names).replace(" or ", " and "))
    };
    let complaint = Diagnostic::new(
        &codes::BASE_EDITION,
        format!(
            "this was written against edition {}, and that procedure is at edition {}",
            then.digits, now.digits
        ),
    )
    .at(then.span, "written against this edition")
    .at(at, "it is this edition now");
    // Where both changed the same thing, one of the two hides the other.
    let both = revisions.iter().flat_map(|revision| {
        let of_it = |one: &&Differing| revision.names.iter().any(|name| name.value == one.id);
        let words = format!("edition {} changed `{{}}` as well", revision.edition.digits);
        differing.iter().filter(of_it).map(move |one| (one.at, words.replace("{}", &one.id)))
    });
    let mut met = BTreeSet::new();
    both.filter(|(at, _)| met.insert((at.file, at.start())))
        .take(MOST_BOTH)
        .fold(complaint, |complaint, (at, words)| complaint.at(at, words))
        .help(format!("{read}, then write `at edition {}`", now.digits))
}

/// What the editions between two changed, in the words of whoever changed it; nothing where one of them doesn't say.
fn told(revisions: &[Revision<'_>], then: &Amount, now: &Amount) -> String {
    let said = |edition: u64| revisions.iter().any(|revision| revision.edition.value as u64 == edition);
    if revisions.is_empty() || !(then.value as u64 + 1..=now.value as u64).all(said) {
        return String::new();
    }
    let words = revisions.iter().map(|Revision { edition, what, names, .. }| {
        let names: Vec<&str> = names.iter().map(|name| name.value.as_str()).collect();
        let within = if names.is_empty() {
            String::new()
        } else {
            format!(", {}", quoted(&names).replace(" or ", " and "))
        };
        format!("edition {}{within}: {}", edition.digits, what.value)
    });
    format!("see whether it still holds ({})", words.collect::<Vec<_>>().join("; "))
}

pub(in crate::procedure) fn revised_unknown<'a>(
    name: &Word,
    known: impl Iterator<Item = &'a str>,
) -> Diagnostic {
    let complaint =
        Diagnostic::new(&codes::REVISED_UNKNOWN, format!("`{}` is not declared in this edition", name.value))
            .at(name.span, "said to have been changed");
    match nearest(&name.value, known) {
        Some(near) => complaint.write(format!("`{near}`, if that is meant")).perhaps(name.span, near),
        None => complaint.help("name what it was changed in; what was taken out stands in the words"),
    }
}

pub(in crate::procedure) fn revised_later(edition: &Amount, now: &Amount) -> Diagnostic {
    Diagnostic::new(
        &codes::REVISED_LATER,
        format!("edition {} is later than this one, {}", edition.digits, now.digits),
    )
    .at(edition.span, "changed by an edition to come")
    .at(now.span, "it is this edition")
    .write(format!("`edition {}`, so that those who build on it are told", edition.digits))
    .perhaps(now.span, &edition.digits)
}

pub(in crate::procedure) fn no_base_edition(span: Span, file: &Quote, now: Option<&str>) -> Diagnostic {
    let complaint = Diagnostic::new(
        &codes::NO_BASE_EDITION,
        "nothing says against which edition of the other procedure this was written",
    )
    .at(span, "of whatever edition it is at");
    match now {
        Some(now) => {
            let end = Span::new(span.file, file.span.end(), file.span.end());
            complaint
                .mend(Mend::Write(format!("`at edition {now}` behind the name of its file")))
                .perhaps(end, format!(" at edition {now}"))
        }
        None => complaint.help("give the other procedure an `edition`, and name it here"),
    }
}

pub(in crate::procedure) fn no_family_below(span: Span) -> Diagnostic {
    Diagnostic::new(&codes::NO_FAMILY_BELOW, "that file declares no family that this one could be of")
        .at(span, "of this one")
        .help("name the file of a whole procedure; a file of parts or tools comes in by `use`")
}

pub(in crate::procedure) fn emptied_step(step: &Word, without: &Without) -> Diagnostic {
    let end = Span::new(without.span.file, without.span.end(), without.span.end());
    Diagnostic::new(&codes::EMPTIED_STEP, format!("nothing is left to do in `{}`", step.value))
        .at(without.span, "it only handles what is taken out here")
        .at(step.span, "the step is declared here")
        .write(format!("`{}` behind the others, to take the step out too", step.value))
        .perhaps(end, format!(", {}", step.value))
}

pub(in crate::procedure) fn still_named(name: &str, uses: &[Span], out: Span) -> Diagnostic {
    let complaint = Diagnostic::new(&codes::STILL_NAMED, format!("`{name}` is taken out and still needed"))
        .at(out, "taken out here");
    uses.iter()
        .take(4)
        .fold(complaint, |complaint, span| complaint.at(*span, "needed here"))
        .help(format!("change what needs `{name}`, or take that out too"))
}
