//! From what was meant and is said otherwise in this language to one complaint: a name in two words, a part set into another.
//! It must not know what else could stand there,
//! nor, but by a question, which names there are.

use super::errors;
use super::lexeme::{Kind, Lexeme, lexeme, word_before};
use super::place::Place;
use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::language::MISSING_COMMA;
use crate::source::Span;

/// What is to be said in place of a missing comma between two words that are together, with `_` between them, a name that
/// `is_name`; nothing where they aren't. `text` is that of the file, as it was read.
pub(crate) fn parted_name(
    fault: &Diagnostic,
    text: &str,
    is_name: impl FnOnce(&str) -> bool,
) -> Option<Diagnostic> {
    let edit = fault.edit.as_ref().filter(|_| fault.code.name == MISSING_COMMA.name)?;
    let at = edit.span.start();
    text.get(..at)?;
    let (start, before) = word_before(text, at);
    let after = lexeme(text, at);
    let parted = !before.is_empty() && after.kind == Kind::Word;
    let span = Span::new(edit.span.file, start, after.end);
    (parted && is_name(&format!("{before}_{}", after.text)))
        .then(|| errors::parted_name(span, before, after.text))
}

/// How a part is set into another, in words of the trade that are no clause, and where those words end; `known` are the words of
/// clauses of a part.
pub(super) fn set_in(place: Place<'_>, found: &Lexeme<'_>, known: &[&str]) -> Option<(Diagnostic, usize)> {
    let span = place.of(found);
    let into = lexeme(place.text, found.end);
    let into = Some(into).filter(|into| matches!(into.text, "in" | "into" | "on" | "onto"));
    let host = into.map(|into| lexeme(place.text, into.end));
    let host = host.filter(|host| host.kind == Kind::Word && !known.contains(&host.text));
    let behind = host.or(into).map_or(found.end, |last| last.end);
    let fault = match found.text {
        "pressed" | "press" | "shrunk" | "driven" => {
            let host = host.map(|host| (host.text, place.span(found.start, host.end)));
            errors::pressed_into(span, found.text, host)
        }
        "screwed" | "threaded" | "screws" => errors::screwed_into(span, found.text),
        _ => return None,
    };
    Some((fault, behind))
}
