//! What is said of clauses in words of the trade that this language has other words for: `otherwise` tells which they are.

use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::language as codes;
use crate::english::size_in_a_name;
use crate::source::Span;

/// What is pressed or shrunk into something; `host` is what that is, where it is named, with all the words that say so.
pub(super) fn pressed_into(place: Span, word: &str, host: Option<(&str, Span)>) -> Diagnostic {
    let complaint = unknown_in("part", place, word);
    let write = |within: &str| {
        format!(
            "`within {within} in place too`, and `off with` and `on with` the tool that presses it; the fit itself as \
             gauges, in the survey"
        )
    };
    match host {
        Some((host, span)) => {
            complaint.write(write(host)).perhaps(span, format!("within {host} in place too"))
        }
        None => complaint.write(write("PART")),
    }
}

/// What is screwed into something by a thread of its own.
pub(super) fn screwed_into(place: Span, word: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_CLAUSE, format!("`{word}` is not known in `part`"))
        .at(place, "what has a thread of its own is a fastener")
        .write(
            "`fasteners NAME 1 \"...\" { kind plug  thread M6x1  drive 8 mm  once }` in place of the part, and `undo NAME` in \
             the step",
        )
}

fn unknown_in(owner: &str, place: Span, word: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_CLAUSE, format!("`{word}` is not known in `{owner}`")).at(place, "")
}

/// How many there are, as a clause.
pub(super) fn counted_in_braces(place: Span, owner: &str, count: Option<&str>) -> Diagnostic {
    let count = count.unwrap_or("2");
    let head = Diagnostic::new(
        &codes::UNKNOWN_CLAUSE,
        format!("how many there are stands before the title, and not in the braces of `{owner}`"),
    );
    head.at(place, "").write(format!(
        "`{owner} NAME {count} \"Title\" {{ ... }}`; where each has a place of its own, `axis side = left, right` and \
         `{owner} NAME[side] \"Title\" {{ ... }}`"
    ))
}

/// How many there are, behind the title in place of before it; with both as they should stand.
pub(super) fn count_behind_title(both: Span, place: Span, word: &str, meant: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNEXPECTED, "how many there are stands before the title")
        .at(place, "")
        .write(format!("`{word} NAME {meant}`"))
        .perhaps(both, meant)
}

/// A fate without the word for it.
pub(super) fn bare_fate(place: Span, word: &str) -> Diagnostic {
    unknown_in("part", place, word).write(format!("`fate {word}`")).perhaps(place, format!("fate {word}"))
}

/// What holds by its fit alone.
pub(super) fn held_by_fit(place: Span, word: &str) -> Diagnostic {
    unknown_in("part", place, word).write(
        "`off with PULLER` and `on with TOOL` for what draws it off and drives it home, and `comes off \"...\"` for how it is let \
         go; `within HOST in place too` where it is pressed into another part",
    )
}

/// That fasteners are not used twice, in the words for parts.
pub(super) fn used_once(place: Span, word: &str) -> Diagnostic {
    unknown_in("fasteners", place, word)
        .write("`once`: each goes in once only, and new ones are ordered")
        .perhaps(place, "once")
}

/// `fate` of fasteners, which say it by a word of their own.
pub(super) fn fate_of_fasteners(place: Span, fate: &str) -> Diagnostic {
    let meant = if fate == "renew" { "once" } else { "reusable" };
    unknown_in("fasteners", place, "fate").write(format!("`{meant}`")).perhaps(place, meant)
}

/// A left-hand thread in two words.
pub(super) fn left_hand(place: Span, second: &str) -> Diagnostic {
    unknown_in("fasteners", place, &format!("left {second}")).write("`left-hand`").mended(place, "left-hand")
}

/// An inside hexagon in words of its own order.
pub(super) fn inside_hexagon(place: Span, written: &str, size: &str) -> Diagnostic {
    let meant = format!("\"{size} mm hexagon\"  both ways with hex_{}", size_in_a_name(size));
    Diagnostic::new(&codes::UNEXPECTED, format!("a drive isn't written `{written}`"))
        .at(place, "a size alone is across flats, outside")
        .write(format!("`drive {meant}`: what a key goes into is said in words, with the tool that fits it"))
        .perhaps(place, meant)
}

/// How fasteners are locked, in other words.
pub(super) fn locked_by(place: Span, written: &str, meant: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_WORD, format!("a lock isn't written `locked {written}`"))
        .at(place, "")
        .write(format!("`locked {meant}`"))
        .perhaps(place, meant)
}

/// What locks them is named, and not how it does.
pub(super) fn lock_unsaid(place: Span, by: &str, name: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_WORD, format!("`locked {by} {name}` doesn't say how it locks"))
        .at(place, "")
        .write(format!(
            "`locked by tab {name}`, `locked by split pin {name}`, `locked by wire {name}` or `locked by thread-locker {name}`, \
             whichever it is; `locked by stake` alone"
        ))
}

/// A limit of a gauge under a word that holds none.
pub(super) fn limit_of_gauge(place: Span, word: &str) -> Diagnostic {
    unknown_in("gauge", place, word).write(
        "`made 0.10 mm .. 0.30 mm from \"...\"` for what a new one has, `worn 0.50 mm from \"...\"` for how far it may go; \
         for results by name `bands good 0 mm .. 0.50 mm, renew above 0.50 mm from \"...\"`",
    )
}

/// What a gauge is read with, under a word that doesn't say so.
pub(super) fn instrument(place: Span, word: &str) -> Diagnostic {
    unknown_in("gauge", place, word).write("`instrument`").perhaps(place, "instrument")
}

/// A tool in a gauge, which says in words what it is read with.
pub(super) fn instrument_named(place: Span, word: &str) -> Diagnostic {
    unknown_in("gauge", place, word).write(
        "`instrument \"Dial gauge\" resolution 0.01 mm` here, for what it is read with and how fine, and `tools dial_gauge` in the \
         step that reads it",
    )
}

/// How often it is gone round, in place of what each round goes to.
pub(super) fn counted_passes(place: Span, written: &str, amount: &str, rounds: usize) -> Diagnostic {
    let same = vec![amount; rounds.clamp(2, 6)].join(", ");
    Diagnostic::new(&codes::UNEXPECTED, format!("a torque isn't written `{written}`: each pass says what it goes to"))
        .at(place, "")
        .write(format!(
            "the torque of each pass with a comma between, the last one last: `10 N.m, {amount}`; where each goes to the same, \
             `{same}`"
        ))
}

/// A kind that there is no word for; with the place of the whole clause, and the kind under which such a thing counts.
pub(super) fn no_such_kind(
    (place, clause): (Span, Span),
    (owner, word): (&str, &str),
    kinds: &str,
    meant: Option<&str>,
) -> Diagnostic {
    let fault = Diagnostic::new(&codes::UNKNOWN_WORD, format!("there is no kind `{word}` of `{owner}`"))
        .at(place, "");
    match meant {
        Some(meant) => fault.write(format!("`kind {meant}`")).perhaps(place, meant),
        None => fault
            .help(format!("leave `kind {word}` out: a {owner} needs none; the kinds are {kinds}"))
            .perhaps(clause, ""),
    }
}
