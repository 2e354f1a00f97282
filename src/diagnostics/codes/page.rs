//! Codes for what can't be set on paper.

use crate::diagnostics::{Code, Severity};

/// A character has no glyph.
pub static MISSING_GLYPH: Code = Code {
    name: "page/missing-glyph",
    severity: Severity::Error,
    explanation: "The fonts that packets are printed with have no picture for this character, so it would come out \
                  as an empty box, and somebody at the bench would have to guess. Write it in words instead. All \
                  European letters, Greek, Cyrillic and the usual signs of the trade (° × · ⌀ ± ½ ≤ ≥ µ Ω) are \
                  there.",
};

/// A script needs more than one letter after the other.
pub static UNSUPPORTED_SCRIPT: Code = Code {
    name: "page/unsupported-script",
    severity: Severity::Error,
    explanation: "Packets are set from left to right, one letter after the other. Scripts that run from right to \
                  left, join their letters, or have thousands of signs would come out wrong or not at all, and a \
                  wrong word on a bench sheet is worse than none. Write the text in the Latin, Greek or Cyrillic \
                  alphabet.",
};

/// A label can't hold its words.
pub static LABEL_TOO_SMALL: Code = Code {
    name: "page/label-too-small",
    severity: Severity::Warning,
    explanation: "A cut-out label holds a part's title, its place, which way round it goes, the job and a number. \
                  Type is made smaller until all of it fits; this label's words don't fit even so, and the last of \
                  them are not printed. Shorten the title of the part, or print on larger labels.",
};

/// All codes of this room.
pub static ALL: &[&Code] = &[&LABEL_TOO_SMALL, &MISSING_GLYPH, &UNSUPPORTED_SCRIPT];
