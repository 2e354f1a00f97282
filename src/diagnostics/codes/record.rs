//! Codes for the records of jobs.

codes! {
    /// There is nothing in the file.
    EMPTY = error "record/empty",
        "The record has nothing in it but perhaps comments. A record of a job begins with `job: \"2026-001\"` and \
         `procedure: family.rebuild`.";

    /// The top of the file is no mapping.
    NOT_A_MAPPING = error "record/not-a-mapping",
        "A record is a list of keys, each with a colon and its value, such as `engine_no: BW3-0412`. This file holds \
         something else: a single text or a list. Check that the right file was named.";

    /// More bytes than any record.
    TOO_LARGE = error "record/too-large",
        "The record is far larger than the record of any job could be, so it is not read. Check that the right file \
         was named.";

    /// The text is not YAML.
    NOT_YAML = error "record/not-yaml",
        "A record is YAML: keys with colons, indented with spaces, lists with dashes. At this place the text can't be \
         read as such, or could be read in two ways. Often a quotation mark or bracket is missing, or a line is \
         indented differently from its neighbours.";

    /// Anchors, aliases, tags.
    ANCHOR = error "record/anchor",
        "YAML can name a value with `&` and repeat it with `*`, and change its kind with `!`. A record is a plain \
         account of a job and uses none of these: a few lines of them can unfold into more text than a computer holds. \
         Write the value out, or put text that begins with such a sign between quotes.";

    /// Nested too deep.
    TOO_DEEP = error "record/too-deep",
        "Keys within keys go deeper here than any record needs. Probably brackets are missing.";

    /// A key twice.
    DUPLICATE_KEY = error "record/duplicate-key",
        "The same key stands twice in one place, so it is not clear which value counts. Readings are keys too: a \
         second reading at the same place and on the same occasion is not kept beside the first. Take one away.";

    /// A key that records don't have.
    UNKNOWN_KEY = error "record/unknown-key",
        "Records have no such key here. It is an error rather than ignored, because a misspelt key would quietly lose \
         what stands under it.";

    /// A key that must be there is not.
    MISSING_KEY = error "record/missing-key",
        "Something can't be understood without this key.";

    /// A value of another kind than the key takes.
    WRONG_TYPE = error "record/wrong-type",
        "The key takes another kind of value: a single value, a list (lines with dashes) or further keys (indented \
         below it).";

    /// A quantity that can't be read.
    NOT_A_QUANTITY = error "record/not-a-quantity",
        "A number of something is written with its unit, such as `80.02 mm` or `3.2 L`. The program never guesses a \
         unit.";

    /// A quantity that measures something else.
    WRONG_DIMENSION = error "record/wrong-dimension",
        "The value is written in a unit that measures something else than what is asked for here.";

    /// A day that can't be read.
    NOT_A_DATE = error "record/not-a-date",
        "Days are written year, month, day with dashes, such as `2026-03-05`.";

    /// A sum that can't be read.
    NOT_MONEY = error "record/not-money",
        "Sums are written as a number and the three letters of the currency, such as `1800 EUR` or `18.50 GBP`.";

    /// A time, length or mass with a sign before it.
    BELOW_NOUGHT = error "record/below-nought",
        "Hours, lengths and masses are never less than nothing. A deviation is a reading, and may have a sign.";

    /// An hour that can't be read.
    NOT_AN_HOUR = error "record/not-an-hour",
        "Hours are written hours, minutes with a colon, such as `14:30`.";

    /// A count that can't be read.
    NOT_A_COUNT = error "record/not-a-count",
        "A count is a whole number without a unit, such as `8`.";

    /// A thing that can't be read.
    NOT_A_NAME = error "record/not-a-name",
        "Things are named as the procedure names them, with the position in square brackets where there are several: \
         `push_rod[2, inlet]`; a reading has its station and direction after it: `bore[1] top along`.";

    /// A name the procedure does not have.
    UNKNOWN_NAME = error "record/unknown-name",
        "The procedure declares nothing of this name that could stand here. Check the spelling, and that the record \
         names the right procedure.";

    /// An answer the question does not have.
    UNKNOWN_ANSWER = error "record/unknown-answer",
        "The question, look or state has other answers. An answer that does not exist is never taken for an open one.";

    /// A place the thing does not have.
    UNKNOWN_PLACE = error "record/unknown-place",
        "The thing has no such position, or a position is missing or too many. Positions are those of the axes that \
         the procedure gives the thing, in the same order.";

    /// A station or direction the gauge does not have.
    UNKNOWN_STATION = error "record/unknown-station",
        "The gauge has no such station or direction, or one is missing. A gauge with stations and directions has a \
         reading at each of them.";

    /// A reading twice.
    DUPLICATE_READING = error "record/duplicate-reading",
        "The same gauge was read twice at the same place on the same occasion. Keep the reading that counts; the other \
         may go into a note.";

    /// A reading of what is computed.
    COMPUTED = error "record/computed",
        "The gauge is computed from other readings, so it is not read. Give the readings that it is computed from.";

    /// A hole the set does not have.
    UNKNOWN_HOLE = error "record/unknown-hole",
        "Holes are named by letters in the order in which the procedure declares them: A, B, C and so on.";

    /// Something is settled that nothing left open.
    NOTHING_TO_SETTLE = error "record/nothing-to-settle",
        "That a thing goes back is settled by hand only where the procedure keeps it until it is settled, or says \
         nothing of using it again. Everything else is decided by its own rule: a word in the record would talk good \
         what that rule judges. It may be renewed or left out all the same, with the reason.";

    /// Something is settled without the reason that it needs.
    NO_REASON = error "record/no-reason",
        "What is left out, and what is renewed though the procedure would let it go back, says why: the reason stands \
         on the sheets and in the ledger, where somebody will ask.";

    /// A piece is chosen of what comes in one piece only.
    NOTHING_TO_CHOOSE = error "record/nothing-to-choose",
        "The record says which of several pieces goes in for a part, but the procedure doesn't have that part chosen: it has \
         neither `select from` nor a gauge with `sold`. Probably another part is meant.";

    /// A present size of what has none.
    NO_PRESENT_SIZE = error "record/no-present-size",
        "A size that the engine was bored or ground to before is said of a gauge that has no sizes, or whose limits don't tell \
         whether sizes go up or down, or it is less than nothing. Which way it goes, the limits as made and as worn tell.";

    /// What came after happened before, by its days.
    DAYS_REVERSED = warning "record/days-reversed",
        "What was ordered comes and is then compared; what was sent out comes back and is then accepted; a step is done once \
         the job has come in. By the days in the record one of these happened before what it follows, or without it: a \
         slip of the pencil, or a day that nobody wrote down.";

    /// The record is of another procedure.
    OTHER_PROCEDURE = error "record/other-procedure",
        "The procedure on the command line is not the one that the record names. A record's answers and readings mean \
         something only for its own procedure.";

    /// The record is of another engine family than its procedure.
    OTHER_FAMILY = error "record/other-family",
        "The record says of which family its engine is, and the procedure that it names is of another; or it doesn't say \
         so, and most of its names mean nothing in that procedure. Its names are then not told one by one.";

    /// The record was written for another edition of its procedure.
    OTHER_EDITION = warning "record/other-edition",
        "The record says for which edition of the procedure it was written, and the procedure has another now: what was \
         printed, and what is done, followed another text.";

    /// The owner agreed to an estimate that the record doesn't hold.
    UNKNOWN_ESTIMATE = error "record/unknown-estimate",
        "An approval says to which printed estimate it belongs, by the number on it, and the record has none of that number \
         under `estimates`. What it covers can't be told then.";
}
