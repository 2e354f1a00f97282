//! One constructor for each code of this room.

use super::Date;
use super::yaml::{Fault, Node, Value};
use crate::diagnostics::{Diagnostic, Mend, codes::record as codes, nearest};
use crate::procedure::model::Naming;
use crate::quantity::{DimensionError, ParseError, Quantity};
use crate::source::{FileId, Span, Spanned};

/// What mends a name that isn't known: the nearest candidate, or lists them all where there are few.
fn choose<'a>(wanted: &str, candidates: impl IntoIterator<Item = &'a str> + Clone, what: &str) -> Mend {
    if let Some(near) = nearest(wanted, candidates.clone()) {
        return Mend::Write(format!("`{near}`, if that is meant"));
    }
    let mut list: Vec<&str> = candidates.into_iter().collect();
    list.sort_unstable();
    if list.is_empty() {
        return Mend::Do(
            "nothing of that kind is named there: strike it out here, or see whether another procedure is meant"
                .to_owned(),
        );
    }
    let more = list.len().saturating_sub(12);
    list.truncate(12);
    let rest = if more == 0 { String::new() } else { format!(" and {more} more") };
    Mend::Do(format!("{what} are `{}`{rest}", list.join("`, `")))
}

/// How a record begins.
pub(super) const RECORD_EXAMPLE: &str =
    "begin with `job: \"2026-001\"` and `procedure: family.rebuild`, each on its own line";

pub(super) fn empty(file: FileId, example: &str) -> Diagnostic {
    Diagnostic::new(&codes::EMPTY, "the file is empty")
        .at(Span::new(file, 0, 0), "nothing stands here")
        .help(example)
}

pub(super) fn not_a_mapping(node: &Node, example: &str) -> Diagnostic {
    Diagnostic::new(&codes::NOT_A_MAPPING, format!("the file is {}, not keys with values", node.kind()))
        .at(first_line(node.span), "")
        .help(example)
}

/// Complaints point at the start of a value; a whole list under a label would hide where it begins.
fn first_line(span: Span) -> Span {
    span.ending(span.end().min(span.start() + 1).max(span.start()))
}

pub(super) fn too_large(file: FileId, bytes: usize, limit: usize) -> Diagnostic {
    Diagnostic::new(
        &codes::TOO_LARGE,
        format!("the record has {bytes} bytes; more than {limit} are not read"),
    )
    .at(Span::new(file, 0, 0), "")
    .help("name the file of one job")
}

pub(super) fn fault(fault: Fault) -> Diagnostic {
    match fault {
        Fault::Syntax(span, words) => Diagnostic::new(&codes::NOT_YAML, words)
            .at(span, "here")
            .write("one `key: value` to a line, indented with spaces as its neighbours are"),
        Fault::Colon(value) => {
            let quoted = format!("\"{}\"", value.value.replace('\\', "\\\\").replace('"', "\\\""));
            Diagnostic::new(&codes::NOT_YAML, "a value with a colon and a space in it stands between quotes")
                .at(value.span, "here")
                .write(format!("`{quoted}`"))
                .perhaps(value.span, quoted)
        }
        Fault::Comma(number) => {
            let meant = number.value.replacen(',', ".", 1);
            Diagnostic::new(&codes::NOT_YAML, format!("`{}` has a comma where a point belongs", number.value))
                .at(number.span, "here a comma begins the next entry")
                .write(format!("`{meant}`"))
                .perhaps(number.span, meant)
        }
        Fault::Anchor(span) => Diagnostic::new(&codes::ANCHOR, "a record has no anchors, aliases or tags")
            .at(span, "this is one")
            .write("the value out, or put the text between quotes"),
        Fault::Deep(span) => Diagnostic::new(&codes::TOO_DEEP, "keys and lists are nested too deep")
            .at(span, "no record goes this deep")
            .help("check that no bracket is missing before this place"),
        Fault::Duplicate(key, before) => {
            Diagnostic::new(&codes::DUPLICATE_KEY, format!("`{}` stands twice", key.value))
                .at(key.span, "the second time")
                .at(before, "the first time")
                .help("take one of the two away")
        }
    }
}

pub(super) fn unknown_key(key: &Spanned<String>, known: &[&str], what: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_KEY, format!("{what} has no key `{}`", key.value))
        .at(key.span, "not known here")
        .mend(choose(&key.value, known.iter().copied(), "its keys"))
}

pub(super) fn missing_key(span: Span, key: &str, what: &str, example: &str) -> Diagnostic {
    Diagnostic::new(&codes::MISSING_KEY, format!("{what} has no `{key}`"))
        .at(span, "")
        .write(format!("`{example}`"))
}

pub(super) fn wrong_type(key: &str, node: &Node, expected: &str, example: &str) -> Diagnostic {
    let complaint = Diagnostic::new(
        &codes::WRONG_TYPE,
        format!("`{key}` is {}, where {expected} was expected", node.kind()),
    );
    // A colon without a space behind it belongs to the word that it stands in.
    let spaced = match &node.value {
        Value::Scalar { text, plain: true } => {
            text.split_once(':').filter(|(key, value)| !key.is_empty() && !value.is_empty())
        }
        _ => None,
    };
    // In curly brackets what is written so is a key that has no value.
    let bare = key.split_once(':').filter(|(name, value)| !name.is_empty() && !value.is_empty());
    match spaced.or(bare.filter(|_| matches!(node.value, Value::Null))) {
        Some((name, value)) if spaced.is_none() => complaint
            .at(first_line(node.span), "no space stands behind the colon")
            .write(format!("`{name}: {value}`")),
        Some((key, value)) => complaint
            .at(node.span, "no space stands behind the colon")
            .write(format!("`{key}: {value}`"))
            .perhaps(node.span, format!("{key}: {value}")),
        None => complaint.at(first_line(node.span), "").write(format!("it as `{example}`")),
    }
}

pub(super) fn not_a_quantity(span: Span, error: &ParseError) -> Diagnostic {
    Diagnostic::new(&codes::NOT_A_QUANTITY, error.to_string()).at(span, "").mend(error.mend())
}

pub(super) fn wrong_dimension(span: Span, error: &DimensionError, cause: Option<Span>) -> Diagnostic {
    let diagnostic =
        Diagnostic::new(&codes::WRONG_DIMENSION, error.to_string()).at(span, "").mend(error.mend());
    match cause {
        Some(cause) => diagnostic.at(cause, "what it is a reading of"),
        None => diagnostic,
    }
}

pub(super) fn not_a_date(span: Span, text: &str) -> Diagnostic {
    Diagnostic::new(&codes::NOT_A_DATE, format!("`{text}` is not a day"))
        .at(span, "")
        .write("year, month and day, such as `2026-03-05`")
}

pub(super) fn not_an_hour(span: Span, text: &str) -> Diagnostic {
    Diagnostic::new(&codes::NOT_AN_HOUR, format!("`{text}` is not an hour of the day"))
        .at(span, "")
        .write("hours and minutes, such as `14:30`")
}

pub(super) fn not_money(span: Span, text: &str) -> Diagnostic {
    Diagnostic::new(&codes::NOT_MONEY, format!("`{text}` is not a sum of money"))
        .at(span, "")
        .write("a number and a currency, such as `1800 EUR`")
}

pub(super) fn below_nought(span: Span, key: &str, value: Quantity) -> Diagnostic {
    Diagnostic::new(&codes::BELOW_NOUGHT, format!("`{key}` can't be {value}"))
        .at(span, "less than nothing")
        .help("take the sign away, or correct the number")
}

pub(super) fn not_a_count(span: Span, text: &str) -> Diagnostic {
    Diagnostic::new(&codes::NOT_A_COUNT, format!("`{text}` is not a count"))
        .at(span, "")
        .write("a whole number, such as `8`")
}

pub(super) fn not_a_name(span: Span, text: &str) -> Diagnostic {
    Diagnostic::new(&codes::NOT_A_NAME, format!("`{text}` does not name a thing"))
        .at(span, "")
        .write("it as `push_rod[2, inlet]`, a reading as `bore[1] top along`")
}

pub(super) fn not_an_id(id: &Spanned<String>) -> Diagnostic {
    Diagnostic::new(
        &codes::NOT_A_NAME,
        format!("`{}` can't be the name of something of this job's own", id.value),
    )
    .at(id.span, "")
    .write("small letters, digits and underscores, such as `fit_insert`")
}

pub(super) fn unknown_name<'a>(
    span: Span,
    name: &str,
    what: &str,
    candidates: impl IntoIterator<Item = &'a str> + Clone,
    other: Option<(&'static str, Span)>,
) -> Diagnostic {
    let message = match other {
        Some((kind, _)) => format!("`{name}` is {kind}, where {what} was expected"),
        None => format!(
            "the procedure has no {} `{name}`",
            what.trim_start_matches("an ").trim_start_matches("a ")
        ),
    };
    let diagnostic = Diagnostic::new(&codes::UNKNOWN_NAME, message).at(span, "not known").mend(choose(
        name,
        candidates,
        "the names that fit",
    ));
    match other {
        Some((_, declared)) => diagnostic.at(declared, "declared here"),
        None => diagnostic,
    }
}

pub(super) fn unknown_answer<'a>(
    answer: &Spanned<String>,
    question: &str,
    answers: impl IntoIterator<Item = &'a str> + Clone,
    declared: Span,
) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_ANSWER, format!("`{question}` has no answer `{}`", answer.value))
        .at(answer.span, "not one of its answers")
        .at(declared, "declared here")
        .mend(choose(&answer.value, answers, "its answers"))
}

pub(super) fn unknown_came(word: &Spanned<String>, words: [&str; 2]) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_ANSWER, format!("nothing comes `{}`", word.value))
        .at(word.span, "not known")
        .mend(choose(&word.value, words, "the words"))
}

pub(super) fn unknown_piece(
    word: &Spanned<String>,
    goods: &str,
    grades: Vec<&str>,
    declared: Span,
) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_ANSWER, format!("`{goods}` is not bought as `{}`", word.value))
        .at(word.span, "not known")
        .at(declared, "declared here")
        .mend(match choose(&word.value, grades, "its grades") {
            Mend::Write(near) => Mend::Write(format!("{near}; an oversize as `0.25 mm`")),
            Mend::Do(known) => Mend::Do(format!("{known}; an oversize is written as `0.25 mm`")),
        })
}

pub(super) fn nothing_to_settle(named: Span, name: &str, declared: Span) -> Diagnostic {
    Diagnostic::new(&codes::NOTHING_TO_SETTLE, format!("`{name}` is used up: nothing becomes of it"))
        .at(named, "nothing to settle")
        .at(declared, "a supply")
        .help("take it out; what is to be bought of it stands under `orders`")
}

pub(super) fn nobody_keeps(word: &Spanned<String>, name: &str, declared: Span) -> Diagnostic {
    let message = format!("nobody says who settles `{name}` as `{}`, when and why", word.value);
    Diagnostic::new(&codes::NO_REASON, message)
        .at(word.span, "in spite of the procedure it wants a reason, a name and a day")
        .at(declared, "the procedure decides here")
        .write(format!("`{name}: {{{}: \"why\", by: WHO, date: 2026-03-05}}`", word.value))
}

pub(super) fn no_reason(word: &Spanned<String>, name: &str, open: bool, declared: Span) -> Diagnostic {
    let message = format!("nobody says why `{name}` is settled as `{}`", word.value);
    let cause = if open { "left open here" } else { "the procedure decides otherwise here" };
    Diagnostic::new(&codes::NO_REASON, message)
        .at(word.span, "wants a reason")
        .at(declared, cause)
        .write(format!("`{name}: {{{}: \"why\"}}`", word.value))
}

pub(super) fn nobody_judges(word: &Spanned<String>, gauge: &str, declared: Span) -> Diagnostic {
    let message = format!("nobody says who judges `{gauge}` to be `{}`, and why", word.value);
    Diagnostic::new(&codes::NO_REASON, message)
        .at(word.span, "wants a reason, a name and a day")
        .at(declared, "the reading that is judged")
        .write(format!("`{gauge}: {{{}: \"why\", by: WHO, date: DAY}}`", word.value))
}

pub(super) fn nothing_to_choose(named: Span, name: &str, declared: Span) -> Diagnostic {
    Diagnostic::new(&codes::NOTHING_TO_CHOOSE, format!("`{name}` is not chosen from several pieces"))
        .at(named, "nothing to choose")
        .at(declared, "declared here without `select from`, and no gauge of it has `sold`")
        .help("take it out; what is bought in an oversize has its size at its order: `orders: {piston: {size: 0.25 mm}}`")
}

pub(super) fn unknown_estimate(number: &Spanned<String>, known: Vec<&str>) -> Diagnostic {
    let diagnostic =
        Diagnostic::new(&codes::UNKNOWN_ESTIMATE, format!("no estimate `{}` is in the record", number.value))
            .at(number.span, "not among `estimates`");
    if known.is_empty() {
        return diagnostic
            .help("`benchleaf packet JOB.yaml --phase survey --on DAY --record` prints one and notes it");
    }
    diagnostic.mend(choose(&number.value, known, "those that were printed"))
}

pub(super) fn no_present_size(size: &Spanned<Quantity>, gauge: &str, declared: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::NO_PRESENT_SIZE,
        format!("`{gauge}` can't be `{}` over or under already", size.value),
    )
    .at(size.span, "no oversize or undersize")
    .at(declared, "no sizes, or no side to which it wears, or less than nothing")
    .help("give the oversize or undersize without a sign, of a gauge that has `sizes`, `made` and `worn`")
}

pub(super) fn days_reversed(span: Span, name: &str, [before, after]: [(&str, Date); 2]) -> Diagnostic {
    let message = format!("`{name}` {} on {}, and {} only on {}", after.0, after.1, before.0, before.1);
    Diagnostic::new(&codes::DAYS_REVERSED, message).at(span, "of this").help("correct the day that is wrong")
}

pub(super) fn day_missing(span: Span, name: &str, before: &str, after: &str) -> Diagnostic {
    Diagnostic::new(&codes::DAYS_REVERSED, format!("`{name}` {after}, and nothing says when it {before}"))
        .at(span, "of this")
        .help("add the day before it; until then it counts as not having happened")
}

pub(super) fn done_before_it_came(span: Span, step: &str, done: Date, came: Date) -> Diagnostic {
    let message = format!("`{step}` was done on {done}, and the job came in only on {came}");
    Diagnostic::new(&codes::DAYS_REVERSED, message)
        .at(span, "of this")
        .help("correct the day that is wrong: this one, or `received` of the intake")
}

pub(super) fn back_before_sent(span: Span, name: &str, [before, after]: [(&str, Date); 2]) -> Diagnostic {
    let message = format!("`{name}` {} on {}, and {} only on {}", after.0, after.1, before.0, before.1);
    Diagnostic::new(&codes::DAYS_REVERSED, message)
        .at(span, "of this")
        .help("correct the day that is wrong; until then the earlier one counts as not having happened")
}

pub(super) fn not_gone_out(span: Span, name: &str, before: &str, after: &str) -> Diagnostic {
    Diagnostic::new(&codes::DAYS_REVERSED, format!("`{name}` {after}, and nothing says when it {before}"))
        .at(span, "by this")
        .help(format!(
            "add the day before it to `sent` of `{name}`, or the step that did it to `done`; until then it counts as not having \
             happened, and a step that says so as not done"
        ))
}

pub(super) fn unknown_place(span: Span, message: String, mend: Mend, declared: Span) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_PLACE, message).at(span, "").at(declared, "declared here").mend(mend)
}

pub(super) fn unknown_station(span: Span, message: String, mend: Mend, declared: Span) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_STATION, message).at(span, "").at(declared, "declared here").mend(mend)
}

pub(super) fn duplicate_reading(span: Span, what: &str, before: Span) -> Diagnostic {
    Diagnostic::new(&codes::DUPLICATE_READING, format!("{what} stands twice"))
        .at(span, "the second time")
        .at(before, "the first time")
        .help("keep the one that counts; the other may go into a note")
}

pub(super) fn computed(span: Span, gauge: &str, declared: Span) -> Diagnostic {
    Diagnostic::new(&codes::COMPUTED, format!("`{gauge}` is computed, not read"))
        .at(span, "")
        .at(declared, "computed like this")
        .help("give the readings that it is computed from")
}

pub(super) fn unknown_hole(hole: &Spanned<String>, set: &str, last: &str, declared: Span) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_HOLE, format!("`{set}` has no hole `{}`", hole.value))
        .at(hole.span, "")
        .at(declared, "declared here")
        .help(format!("its holes are {last}"))
}

pub(super) fn other_family(written: &Spanned<String>, family: &Naming) -> Diagnostic {
    let message =
        format!("the record is of the family `{}`, the procedure of `{}`", written.value, family.id);
    Diagnostic::new(&codes::OTHER_FAMILY, message)
        .at(written.span, "the family of this record")
        .at(family.span, "the family of the procedure")
        .help("name the procedure of that family under `procedure`, or another record")
}

pub(super) fn strange_names(
    procedure: &Spanned<String>,
    (unknown, met): (usize, usize),
    family: &Naming,
) -> Diagnostic {
    let message = format!(
        "the record seems to be of another family: of its {met} names {unknown} mean nothing in `{}`",
        family.id
    );
    Diagnostic::new(&codes::OTHER_FAMILY, message)
        .at(procedure.span, "the procedure that it names")
        .at(family.span, "the family of that procedure")
        .help(format!(
            "name its procedure here; with `family: {}` in the record every name is told by itself",
            family.id
        ))
}

pub(super) fn other_edition(written: &Spanned<u32>, now: u32, family: &Naming) -> Diagnostic {
    let message = format!(
        "the record was written for edition {} of `{}`, and this is edition {now}",
        written.value, family.id
    );
    Diagnostic::new(&codes::OTHER_EDITION, message)
        .at(written.span, "the edition of this record")
        .at(family.span, "the procedure as it is now")
        .help(format!(
            "see what is told of the record beside this, print what is left anew, and then write `edition: {now}`"
        ))
}

/// `moved` says that the file which the record names isn't there, and that the one asked for has its name.
pub(super) fn other_procedure(written: &Spanned<String>, asked: &str, moved: bool) -> Diagnostic {
    if moved {
        let message =
            format!("the record looks for `{}` from its own folder, and `{asked}` was named", written.value);
        return Diagnostic::new(&codes::OTHER_PROCEDURE, message)
            .at(written.span, "nothing is there: the record may have been moved")
            .help("write here how the procedure is reached from the record's folder, such as `procedure: ../engines/NAME`");
    }
    Diagnostic::new(
        &codes::OTHER_PROCEDURE,
        format!("the record is of `{}`, not of `{asked}`", written.value),
    )
    .at(written.span, "the procedure of this record")
    .help("name the record alone, for it names its procedure; or another record")
}
