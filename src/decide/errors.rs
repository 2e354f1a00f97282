//! One constructor for each code of this room.

use super::Present;
use crate::diagnostics::{Diagnostic, codes::decide as codes, nearest};
use crate::quantity::{Money, Quantity};
use crate::record::{Occasion, Order};
use crate::source::{Span, Spanned};

pub(super) fn implausible(
    span: Span,
    gauge: &str,
    value: Quantity,
    range: (Quantity, Quantity),
    declared: Span,
    guess: Option<String>,
) -> Diagnostic {
    let diagnostic = Diagnostic::new(&codes::IMPLAUSIBLE, format!("`{gauge}` can hardly be `{value}`"))
        .at(span, format!("not between {} and {}", range.0, range.1))
        .at(declared, "declared here");
    match guess {
        Some(guess) => diagnostic.help(guess),
        None => diagnostic.help("measure again, or correct the record"),
    }
}

/// A reading of what goes out that is beyond its limit.
pub(super) fn left_beyond(
    span: Span,
    gauge: &str,
    (occasion, words): (Occasion, &str),
    declared: Span,
) -> Diagnostic {
    Diagnostic::new(&codes::LEFT_BEYOND, format!("`{gauge}`, {}: {words}", occasion.words()))
        .at(span, "it goes out so, and nobody lets it pass")
        .at(declared, "declared here")
        .help(format!(
            "mend what is wrong and read it again; or a person lets it pass by name: `settled: {{\"{gauge}\": {{good: \"why\", by: \
             NAME, date: DAY}}}}`"
        ))
}

pub(super) fn not_in_doubt(span: Span, gauge: &str, declared: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::NOT_IN_DOUBT,
        format!("`{gauge}` is judged by hand, but what it shows is not in doubt"),
    )
    .at(span, "nothing for a person to judge")
    .at(declared, "what it shows decides")
    .help("take it out; a part is renewed or left out in spite of its readings by its own name")
}

pub(super) fn other_piece(
    span: Span,
    (asked, chosen): (&str, &str),
    because: &str,
    declared: Span,
) -> Diagnostic {
    Diagnostic::new(
        &codes::OTHER_PIECE,
        format!("`{chosen}` is chosen, where the reading asks for `{asked}`"),
    )
    .at(span, because)
    .at(declared, "chosen by this")
    .write(format!("`piece: {asked}`, or behind `why:` the reason for another"))
}

pub(super) fn other_engine(
    span: Span,
    (whole, number): (&str, &str),
    expected: &[String],
    declared: Span,
) -> Diagnostic {
    Diagnostic::new(&codes::OTHER_ENGINE, format!("the {whole} number `{number}` is not of this family"))
        .at(span, "")
        .at(declared, "the family")
        .help(format!("numbers of the family begin with `{}`", expected.join("` or `")))
}

pub(super) fn over_the_limit(number: &Spanned<String>, limit: &Money, sum: &Money) -> Diagnostic {
    let message = format!(
        "estimate `{}` comes to {sum} with its labour, and the owner agreed up to {limit}",
        number.value
    );
    Diagnostic::new(&codes::OVER_THE_LIMIT, message)
        .at(number.span, "so that nothing of it is agreed")
        .help("ask the owner: name the items that may go on with a limit of their own, or a higher limit")
}

pub(super) fn agreed_to_nothing(span: Span, by: &str) -> Diagnostic {
    let message = format!("`{by}` agreed to everything, and no estimate was printed before that");
    Diagnostic::new(&codes::AGREED_TO_NOTHING, message).at(span, "so that nothing is agreed by it").help(
        "`packet JOB.yaml --phase survey --record` prints the estimate and notes it: once it is agreed to, its number goes here as \
         `estimate: NUMBER`; or `items: [THING, THING]` if a few things were meant",
    )
}

pub(super) fn wrong_size(
    span: Span,
    goods: &str,
    ordered: Option<Quantity>,
    wanted: Option<Quantity>,
) -> Diagnostic {
    let how = ordered.map_or("without its size".to_owned(), |size| format!("in {}", size.printed()));
    let wanted = wanted.map_or("the standard size".to_owned(), |size| size.printed());
    let message = format!("`{goods}` was ordered {how}, and {wanted} goes in");
    Diagnostic::new(&codes::WRONG_SIZE, message)
        .at(span, "this order")
        .help("change the order with the supplier, and then its `size` here; what can't be changed is returned and ordered anew")
}

pub(super) fn no_such_size(goods: &str, order: &Order) -> Diagnostic {
    let how = order.size.map(|size| format!(" in {}", size.printed())).unwrap_or_default();
    let did = if order.arrived.is_some() { "came" } else { "was ordered" };
    Diagnostic::new(&codes::WRONG_SIZE, format!("`{goods}` {did}{how}, and it comes in no oversize or undersize"))
        .at(order.span, "this order")
        .help(
            "take `size` out of the order if it is the usual one; if it is another thing, it is returned and ordered anew, or \
             the procedure says `sized by` or `sized with` of the part",
        )
}

pub(super) fn counted_twice(span: Span, hole: &str, missing: u32) -> Diagnostic {
    let message = format!("nobody says whether that of `{hole}` came out, and {missing} of its set didn't");
    Diagnostic::new(&codes::COUNTED_TWICE, message)
        .at(span, "one is bought for this hole beside those")
        .write("a note on the hole with `found: {count: 0}` if nothing came out of it, or `found: {count: 1}` if it did")
}

pub(super) fn too_many(span: Span, name: &str, [found, most]: [u32; 2], declared: Span) -> Diagnostic {
    Diagnostic::new(&codes::TOO_MANY, format!("{found} of `{name}` came out, where the procedure has {most}"))
        .at(span, "more than there are")
        .at(declared, "the procedure")
        .help("correct the number; one that has more of them differs from its family: its procedure's author wants to know, and \
               what the steps say of them doesn't fit it")
}

pub(super) fn second_name(span: Span, name: &str, danger: &str, declared: Span) -> Diagnostic {
    Diagnostic::new(&codes::SECOND_NAME, format!("one name is not enough to keep `{name}`: it {danger}"))
        .at(span, "kept by one person alone")
        .at(declared, format!("why it matters: it {danger}"))
        .write("beside `by: WHO` the name of another who answers for it, `second: WHO`")
}

pub(super) fn sized_before(span: Span, names: &[String], present: Present, declared: Span) -> Diagnostic {
    let (words, step) = (present.words(), present.step.printed());
    let nought = format!("0 {}", present.step.unit().symbol);
    let entries = |size: &str| {
        let quoted = |name: &String| match name.contains('[') {
            true => format!("\"{name}\": {size}"),
            false => format!("{name}: {size}"),
        };
        names.iter().map(quoted).collect::<Vec<_>>().join(", ")
    };
    let message = format!("`{}` may be {words} already, and nobody has said so", names.join("`, `"));
    Diagnostic::new(&codes::SIZED_BEFORE, message)
        .at(span, "every reading lies at that size or past it")
        .at(declared, "the sizes that are sold")
        .write(format!(
            "`present: {{{}}}` if the crown of a piston or the back of a shell says so, or `present: {{{}}}` if it is standard and \
             worn so far",
            entries(&step),
            entries(&nought)
        ))
}

pub(super) fn sent_too_soon(span: Span, part: &str, waits: String) -> Diagnostic {
    let message = format!("`{part}` was sent out before it was known what is to be done to it");
    Diagnostic::new(&codes::SENT_TOO_SOON, message)
        .at(span, waits)
        .help("let the machine shop wait, or write down what has been found and what has come since")
}

pub(super) fn accepted_not_good(span: Span, part: &str, words: &str) -> Diagnostic {
    let message = format!("`{part}` is accepted, but as it came back it is not good");
    Diagnostic::new(&codes::ACCEPTED_NOT_GOOD, message).at(span, words).help(format!(
        "take `accepted` out and say why it was refused, `refused: [{{part: {part}, because: \"...\", by: WHO, date: 2026-03-20}}]`; \
         or settle the reading with name and day, or measure it again"
    ))
}

pub(super) fn result_without_meaning(
    result: &str,
    question: &str,
    part: &str,
    declared: Span,
    used: Span,
) -> Diagnostic {
    let message = format!("`{result}` of `{question}` does not say what becomes of `{part}`");
    Diagnostic::new(&codes::RESULT_WITHOUT_MEANING, message)
        .at(declared, "")
        .at(used, "the fate that hangs on it")
        .help("name it `good`, `clean`, `machine` or `renew`, or begin its name with one of them: `renew_pitted`")
}

pub(super) fn falls_to_else(result: &str, question: &str, part: &str, at: Span) -> Diagnostic {
    let message =
        format!("`{part}` goes back where `{question}` is `{result}`: no case of its fate names that");
    Diagnostic::new(&codes::FALLS_TO_ELSE, message).at(at, "it falls to the last word").write(format!(
        "`renew when {question} = {result}`, or what else becomes of it then, before the `else`"
    ))
}

pub(super) fn new_one_condemned(band: &str, gauge: &str, at: Span, made: Span) -> Diagnostic {
    Diagnostic::new(&codes::NEW_ONE_CONDEMNED, format!("by `{gauge}` a part as made is `{band}`"))
        .at(at, "this band holds what is as made")
        .at(made, "as made")
        .help("name the bands the other way round, or correct their limits")
}

pub(super) fn unknown_step(span: Span, id: &str, known: &[String]) -> Diagnostic {
    let diagnostic =
        Diagnostic::new(&codes::UNKNOWN_STEP, format!("there is no step `{id}`")).at(span, "not known");
    match nearest(id, known.iter().map(String::as_str)) {
        Some(near) => diagnostic.write(format!("`{near}`, if that is meant")),
        None => diagnostic.help("`benchleaf order` lists the steps of a phase"),
    }
}

pub(super) fn skipped_step(span: Span, later: &str, skipped: &str, declared: Span) -> Diagnostic {
    Diagnostic::new(&codes::SKIPPED_STEP, format!("`{later}` is done, but `{skipped}` before it is not"))
        .at(span, "done here")
        .at(declared, "the step that was skipped")
        .help(format!(
            "add `{skipped}` to `done` if it is done; if it won't be, `not_done: {{{skipped}: {{because: \"...\", by: WHO}}}}`; \
             if it will be later, say `out_of_order: \"why\"` beside `{later}`"
        ))
}

pub(super) fn half_done(span: Span, other: &str, missing: &str, declared: Span) -> Diagnostic {
    let message = format!("`{other}` is done, but the block of `{missing}` is begun and not finished");
    Diagnostic::new(&codes::HALF_DONE_BLOCK, message)
        .at(span, "done here, in another block that is under way")
        .at(declared, "nothing comes between the steps of this block")
        .help(format!("add `{missing}` and what follows it in its block to `done` if they are done"))
}

pub(super) fn done_but_left_out(span: Span, id: &str, declared: Span) -> Diagnostic {
    Diagnostic::new(&codes::DONE_BUT_LEFT_OUT, format!("`{id}` is done, but the answers leave it out"))
        .at(span, "done here")
        .at(declared, "not part of this job as it is answered now")
        .help("correct the answer or the reading, or see for yourself that what is left still fits what stands there")
}
