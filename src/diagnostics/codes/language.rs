//! Codes for faults in the spelling of a procedure.

codes! {
    /// More text than any procedure has.
    TOO_LARGE = error "language/too-large",
        "The file, or one declaration in it, is far longer than any procedure. It is not read further, so that a wrong \
         file can't hold up the machine. A long procedure can be spread over several files that are brought in with \
         `use`.";

    /// A position behind what is so at every one.
    SAID_OF_ALL = error "language/said-of-all",
        "`at bank = left` says that something is so at that position only. Behind some clauses it would mean nothing: \
         two people for ten minutes are two people for ten minutes, whichever bank they work at, and a joint has one \
         material of gasket in every estimate. The reference of the language says behind which clauses it may stand, \
         and what to write instead of it behind the others.";

    /// Brackets without end.
    TOO_DEEP = error "language/too-deep",
        "More brackets are open inside each other than the language has any use for. Usually the closing ones were \
         forgotten, or the file is not a procedure.";

    /// Nothing there.
    EMPTY = error "language/empty",
        "The file holds nothing, or only comments. A procedure declares at least a family, some parts and the steps \
         that take them off.";

    /// A text that isn't closed.
    UNCLOSED_TEXT = error "language/unclosed-text",
        "A text begins with a quote and ends with a quote on the same line. Here the second one is missing (or there \
         is one too many on the line). A quote inside a text is typed \\\".";

    /// A backslash that means nothing.
    BAD_ESCAPE = error "language/bad-escape",
        "In a text, a backslash says that the quote or backslash behind it is meant as it stands. Before anything else \
         it means nothing. Type two backslashes for one.";

    /// Curly quotes.
    WRONG_QUOTES = error "language/wrong-quotes",
        "Word processors and phones turn straight quotes into curly ones. A procedure needs straight ones around each \
         text.";

    /// A character that means nothing.
    BAD_CHARACTER = error "language/bad-character",
        "Outside texts and comments a procedure is written with plain letters, digits and a few marks, all of them on \
         every keyboard. This character is none of them.";

    /// A brace that isn't closed.
    UNCLOSED_BRACE = error "language/unclosed-brace",
        "What belongs to a part, a step or another declaration stands between `{` and `}`. Here the second is missing. \
         The place shown is the one that was opened; look for the last line that belongs to it and close it there.";

    /// A brace that closes nothing.
    STRAY_BRACE = error "language/stray-brace",
        "A `}` stands here and no `{` before it is still open. Either it is one too many, or the `{` it belongs to was \
         forgotten.";

    /// A name spelt wrong.
    BAD_NAME = error "language/bad-name",
        "Names are written with small letters, digits and `_` between words, and begin with a letter: `head_nuts`, \
         `push_rod`. So a name is never in doubt, whoever types it. What people read on paper is the title in quotes \
         behind the name; that may have any letters.";

    /// Digits that make no number.
    BAD_NUMBER = error "language/bad-number",
        "A number is written with digits and a point (`0.05`), as a fraction (`7/16`) or both (`1 1/2`). A comma does \
         not stand for the point: commas part the members of a list.";

    /// A range that can't be.
    BAD_RANGE = error "language/bad-range",
        "A range is written with two points between its ends: `1 .. 3`, `20 N.m .. 120 N.m`. A range of positions runs \
         upwards and has at most a thousand of them.";

    /// A number without space before its unit.
    MISSING_SPACE = error "language/missing-space",
        "A number and its unit are two words: `30 N.m`, not `30N.m`. So neither is ever misread.";

    /// A unit that isn't known.
    UNKNOWN_UNIT = error "language/unknown-unit",
        "Behind a number stands its unit, spelt in one way only, so that 30 of one thing is never taken for 30 of \
         another. The language reference lists the units. A number without a unit is a count.";

    /// A word that declares nothing.
    UNKNOWN_DECLARATION = error "language/unknown-declaration",
        "Outside braces, each line begins something: a part, a set of fasteners, a step and so on, with the word for \
         it. This word is none of them.";

    /// A word that starts no clause here.
    UNKNOWN_CLAUSE = error "language/unknown-clause",
        "Between the braces of a declaration each clause begins with its own word, and each kind of declaration has \
         its own clauses. This word begins none of them: it may be spelt wrong, or belong to another kind of \
         declaration.";

    /// A declaration inside another.
    MISPLACED = error "language/misplaced",
        "Parts, fasteners, steps and the rest stand side by side, not inside each other; only a block or a trial holds \
         steps. Usually the closing `}` of what stands above was forgotten.";

    /// A fixed word spelt wrong.
    UNKNOWN_WORD = error "language/unknown-word",
        "Inside a clause some words are fixed, such as `by` in `held by`, or one of a short list, such as `bolt` or \
         `stud`. This word is none of those that may stand here.";

    /// A fixed word left out.
    MISSING_WORD = error "language/missing-word",
        "Some clauses are two words or more, such as `held by` or `number one at`. One of them is missing.";

    /// Two members of a list without a comma.
    MISSING_COMMA = error "language/missing-comma",
        "The members of a list are parted by commas, wherever its lines end. Without one, the next word would begin a \
         new clause, and this one doesn't.";

    /// A comma that parts nothing.
    LOOSE_COMMA = error "language/loose-comma",
        "A comma parts the members of a list. Here there is no list, or no member behind the comma.";

    /// No equals sign.
    MISSING_EQUALS = error "language/missing-equals",
        "What something is, is said with `=`: `axis cyl = 1 .. 3`, `when valve_gear = renew`, `set coolant = drained`.";

    /// No text in quotes.
    MISSING_TEXT = error "language/missing-text",
        "Words that are printed as they stand are put in straight double quotes, on one line.";

    /// A text without a clause.
    LOOSE_TEXT = error "language/loose-text",
        "A text in quotes always belongs to a word before it: the title behind a name, the instruction behind an act, \
         `do \"...\"` for plain words. This one stands alone.";

    /// No name.
    MISSING_NAME = error "language/missing-name",
        "A name is missing: of what is being declared (right behind the first word, before the title), or of what a \
         clause speaks of.";

    /// No number.
    MISSING_NUMBER = error "language/missing-number",
        "A number is missing. If it is not known, don't make one up: torques, worn limits, capacities, lengths and key \
         data may be given as `unknown`, and any other clause can be left out.";

    /// No opening brace.
    MISSING_BRACE = error "language/missing-brace",
        "What belongs to a declaration stands between `{` and `}`, behind its name and title.";

    /// A comment as other languages write it.
    NOT_A_COMMENT = error "language/not-a-comment",
        "A comment begins with `--` and runs to the end of its line.";

    /// So many faults that the rest is not told.
    TOO_MANY = notice "language/too-many",
        "A file with so many faults is probably not a procedure, or one slip has thrown much of it out of step. Mend \
         the first ones and check again.";

    /// A form that would say something else.
    NOT_LAID_OUT = error "language/not-laid-out",
        "Before a file is replaced by its tidy form, the form is read again and must have the same words and comments in \
         the same order. Here it hasn't, which is a fault of the program; the file is left as it is.";

    /// Something out of place.
    UNEXPECTED = error "language/unexpected",
        "At this place the language expects something else. The complaint says what may stand here; the language \
         reference in grammar/README.md shows each clause with an example.";
}
