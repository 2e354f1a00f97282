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
    explanation: "A range is written with two points between its ends: `1 .. 3`, `20 N.m .. 120 N.m`. A range of \
                  positions runs upwards and has at most a thousand of them.",
};

/// A number without space before its unit.
pub static MISSING_SPACE: Code = Code {
    name: "language/missing-space",
    severity: Severity::Error,
    explanation: "A number and its unit are two words: `30 N.m`, not `30N.m`. So neither is ever misread.",
};

/// A unit that isn't known.
pub static UNKNOWN_UNIT: Code = Code {
    name: "language/unknown-unit",
    severity: Severity::Error,
    explanation: "Behind a number stands its unit, spelt in one way only, so that 30 of one thing is never taken \
                  for 30 of another. The language reference lists the units. A number without a unit is a count.",
};

/// A word that declares nothing.
pub static UNKNOWN_DECLARATION: Code = Code {
    name: "language/unknown-declaration",
    severity: Severity::Error,
    explanation: "Outside braces, each line begins something: a part, a set of fasteners, a step and so on, with \
                  the word for it. This word is none of them.",
};

/// A word that starts no clause here.
pub static UNKNOWN_CLAUSE: Code = Code {
    name: "language/unknown-clause",
    severity: Severity::Error,
    explanation: "Between the braces of a declaration each clause begins with its own word, and each kind of \
                  declaration has its own clauses. This word begins none of them: it may be spelt wrong, or \
                  belong to another kind of declaration.",
};

/// A declaration inside another.
pub static MISPLACED: Code = Code {
    name: "language/misplaced",
    severity: Severity::Error,
    explanation: "Parts, fasteners, steps and the rest stand side by side, not inside each other; only a block or \
                  a trial holds steps. Usually the closing `}` of what stands above was forgotten.",
};

/// A fixed word spelt wrong.
pub static UNKNOWN_WORD: Code = Code {
    name: "language/unknown-word",
    severity: Severity::Error,
    explanation: "Inside a clause some words are fixed, such as `by` in `held by`, or one of a short list, such \
                  as `bolt` or `stud`. This word is none of those that may stand here.",
};

/// A fixed word left out.
pub static MISSING_WORD: Code = Code {
    name: "language/missing-word",
    severity: Severity::Error,
    explanation: "Some clauses are two words or more, such as `held by` or `number one at`. One of them is \
                  missing.",
};

/// Two members of a list without a comma.
pub static MISSING_COMMA: Code = Code {
    name: "language/missing-comma",
    severity: Severity::Error,
    explanation: "The members of a list are parted by commas, wherever its lines end. Without one, the next word \
                  would begin a new clause, and this one doesn't.",
};

/// A comma that parts nothing.
pub static LOOSE_COMMA: Code = Code {
    name: "language/loose-comma",
    severity: Severity::Error,
    explanation: "A comma parts the members of a list. Here there is no list, or no member behind the comma.",
};

/// No equals sign.
pub static MISSING_EQUALS: Code = Code {
    name: "language/missing-equals",
    severity: Severity::Error,
    explanation: "What something is, is said with `=`: `axis cyl = 1 .. 3`, `when valve_gear = renew`, `set \
                  coolant = drained`.",
};

/// No text in quotes.
pub static MISSING_TEXT: Code = Code {
    name: "language/missing-text",
    severity: Severity::Error,
    explanation: "Words that are printed as they stand are put in straight double quotes, on one line.",
};

/// A text without a clause.
pub static LOOSE_TEXT: Code = Code {
    name: "language/loose-text",
    severity: Severity::Error,
    explanation: "A text in quotes always belongs to a word before it: the title behind a name, the instruction \
                  behind an act, `do \"...\"` for plain words. This one stands alone.",
};

/// No name.
pub static MISSING_NAME: Code = Code {
    name: "language/missing-name",
    severity: Severity::Error,
    explanation: "A name is missing: of what is being declared (right behind the first word, before the title), \
                  or of what a clause speaks of.",
};

/// No number.
pub static MISSING_NUMBER: Code = Code {
    name: "language/missing-number",
    severity: Severity::Error,
    explanation: "A number is missing. If it is not known, don't make one up: torques, worn limits, capacities, \
                  lengths and key data may be given as `unknown`, and any other clause can be left out.",
};

/// No opening brace.
pub static MISSING_BRACE: Code = Code {
    name: "language/missing-brace",
    severity: Severity::Error,
    explanation: "What belongs to a declaration stands between `{` and `}`, behind its name and title.",
};

/// A comment as other languages write it.
pub static NOT_A_COMMENT: Code = Code {
    name: "language/not-a-comment",
    severity: Severity::Error,
    explanation: "A comment begins with `--` and runs to the end of its line.",
};

/// So many faults that the rest is not told.
pub static TOO_MANY: Code = Code {
    name: "language/too-many",
    severity: Severity::Notice,
    explanation: "A file with so many faults is probably not a procedure, or one slip has thrown much of it out \
                  of step. Mend the first ones and check again.",
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
    &MISSING_SPACE,
    &UNKNOWN_UNIT,
    &UNKNOWN_DECLARATION,
    &UNKNOWN_CLAUSE,
    &MISPLACED,
    &UNKNOWN_WORD,
    &MISSING_WORD,
    &MISSING_COMMA,
    &LOOSE_COMMA,
    &MISSING_EQUALS,
    &MISSING_TEXT,
    &LOOSE_TEXT,
    &MISSING_NAME,
    &MISSING_NUMBER,
    &MISSING_BRACE,
    &NOT_A_COMMENT,
    &TOO_MANY,
    &UNEXPECTED,
];
