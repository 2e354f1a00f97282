//! Complaints of this room. Sheets carry no places in the source, so each names the words around the fault.

use super::words::{Refusal, Refused};
use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::page as codes;

/// A character that can't be set.
pub(super) fn refused(Refused { character, refusal, around }: &Refused) -> Diagnostic {
    match refusal {
        Refusal::Missing => missing_glyph(*character, around),
        Refusal::Script(name) => unsupported_script(*character, name, around),
    }
}

/// No face has a glyph for `character`.
fn missing_glyph(character: char, around: &str) -> Diagnostic {
    Diagnostic::new(
        &codes::MISSING_GLYPH,
        format!("no letter in the fonts for `{character}` (U+{:04X}) in `{around}`", u32::from(character)),
    )
    .write("it in words, or with a letter of the Latin, Greek or Cyrillic alphabet")
}

/// `character` belongs to a script that can't be set.
fn unsupported_script(character: char, script: &str, around: &str) -> Diagnostic {
    Diagnostic::new(
        &codes::UNSUPPORTED_SCRIPT,
        format!("can't set {script} writing: `{character}` (U+{:04X}) in `{around}`", u32::from(character)),
    )
    .write("it in the Latin, Greek or Cyrillic alphabet")
}

/// The words of the label with this `title` don't fit it in the smallest type.
pub(super) fn label_too_small(title: &str) -> Diagnostic {
    let start: String = title.chars().take(40).collect();
    let start = if start.len() < title.len() { format!("{start}…") } else { start };
    Diagnostic::new(&codes::LABEL_TOO_SMALL, format!("the words of the label `{start}` don't fit it")).help(
        "shorten the title of the part, or what is done to it outside; what is missing is in the ledger",
    )
}
