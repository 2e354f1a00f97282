//! Codes for faults in the spelling of a procedure.

use crate::diagnostics::{Code, Severity};

/// More text than any procedure has.
pub static TOO_LARGE: Code = Code {
    name: "language/too-large",
    severity: Severity::Error,
    explanation: "The file, or one declaration in it, is far longer than any procedure. It is not read further, so \
                  that a wrong file can't hold up the machine. A long procedure can be spread over several files \
                  that are brought in with `use`.",
};

/// Brackets without end.
pub static TOO_DEEP: Code = Code {
    name: "language/too-deep",
    severity: Severity::Error,
    explanation: "More brackets are open inside each other than the language has any use for. Usually the closing \
                  ones were forgotten, or the file is not a procedure.",
};

/// Nothing there.
pub static EMPTY: Code = Code {
    name: "language/empty",
    severity: Severity::Error,
    explanation: "The file holds nothing, or only comments. A procedure declares at least a family, some parts and \
                  the steps that take them off.",
};

/// A text that isn't closed.
pub static UNCLOSED_TEXT: Code = Code {
    name: "language/unclosed-text",
    severity: Severity::Error,
    explanation: "A text begins with a quote and ends with a quote on the same line. Here the second one is missing \
                  (or there is one too many on the line). A quote inside a text is typed \\\".",
};

/// A backslash that means nothing.
pub static BAD_ESCAPE: Code = Code {
    name: "language/bad-escape",
    severity: Severity::Error,
    explanation: "In a text, a backslash says that the quote or backslash behind it is meant as it stands. Before \
                  anything else it means nothing. Type two backslashes for one.",
};

/// Curly quotes.
pub static WRONG_QUOTES: Code = Code {
    name: "language/wrong-quotes",
    severity: Severity::Error,
    explanation: "Word processors and phones turn straight quotes into curly ones. A procedure needs straight ones \
                  around each text.",
};

/// A character that means nothing.
pub static BAD_CHARACTER: Code = Code {
    name: "language/bad-character",
    severity: Severity::Error,
    explanation: "Outside texts and comments a procedure is written with plain letters, digits and a few marks, all \
                  of them on every keyboard. This character is none of them.",
};

/// A brace that isn't closed.
pub static UNCLOSED_BRACE: Code = Code {
    name: "language/unclosed-brace",
    severity: Severity::Error,
    explanation: "What belongs to a part, a step or another declaration stands between `{` and `}`. Here the \
                  second is missing. The place shown is the one that was opened; look for the last line that \
                  belongs to it and close it there.",
};

/// A brace that closes nothing.
pub static STRAY_BRACE: Code = Code {
    name: "language/stray-brace",
    severity: Severity::Error,
    explanation: "A `}` stands here and no `{` before it is still open. Either it is one too many, or the `{` it \
                  belongs to was forgotten.",
};

/// A name spelt wrong.
pub static BAD_NAME: Code = Code {
    name: "language/bad-name",
    severity: Severity::Error,
    explanation: "Names are written with small letters, digits and `_` between words, and begin with a letter: \
                  `head_nuts`, `push_rod`. So a name is never in doubt, whoever types it. What people read on \
                  paper is the title in quotes behind the name; that may have any letters.",
};

/// Digits that make no number.
pub static BAD_NUMBER: Code = Code {
    name: "language/bad-number",
    severity: Severity::Error,
    explanation: "A number is written with digits and a point (`0.05`), as a fraction (`7/16`) or both (`1 1/2`). \
                  A comma does not stand for the point: commas part the members of a list.",
};

/// A range that can't be.
pub static BAD_RANGE: Code = Code {
    name: "language/bad-range",
    severity: Severity::Error,
    explanation: "A range of positions runs upwards from the first to the last, such as `1 .. 3`, and has at most a \
                  thousand positions.",
};

/// Something out of place.
pub static UNEXPECTED: Code = Code {
    name: "language/unexpected",
    severity: Severity::Error,
    explanation: "At this place the language expects something else. The complaint says what may stand here; the \
                  language reference in grammar/README.md shows each clause with an example.",
};

/// All codes of this room.
pub static ALL: &[&Code] = &[
    &TOO_LARGE,
    &TOO_DEEP,
    &EMPTY,
    &UNCLOSED_TEXT,
    &BAD_ESCAPE,
    &WRONG_QUOTES,
    &BAD_CHARACTER,
    &UNCLOSED_BRACE,
    &STRAY_BRACE,
    &BAD_NAME,
    &BAD_NUMBER,
    &BAD_RANGE,
    &UNEXPECTED,
];
