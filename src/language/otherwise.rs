//! From what was meant and is said otherwise in this language to one complaint: a name in two words, a part set into another, a
//! count behind its title, an inside hexagon. It must not know what else could stand there, nor, but by a question, which names
//! there are.

use super::errors;
use super::lexeme::{Kind, Lexeme, end_before, lexeme, lexemes, word_before};
use super::otherwise_errors as said;
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

/// What begins like no clause of this declaration and has a clause all the same, and where its words end, if nothing else of it stands
/// behind them.
pub(super) fn clause(
    place: Place<'_>,
    found: &Lexeme<'_>,
    owner: &str,
) -> Option<(Diagnostic, Option<usize>)> {
    let span = place.of(found);
    let next = lexeme(place.text, found.end);
    let to_next = || place.span(found.start, next.end);
    match (owner, found.text) {
        ("part" | "fasteners" | "temporary", "count" | "number" | "quantity" | "qty" | "pieces") => {
            let counted = next.kind == Kind::Number;
            let end = if counted { next.end } else { found.end };
            Some((said::counted_in_braces(span, owner, counted.then_some(next.text)), Some(end)))
        }
        ("part", "renew" | "reuse") => Some((said::bare_fate(span, found.text), Some(found.end))),
        ("part", "taper" | "tapered" | "interference" | "keyed") => {
            Some((said::held_by_fit(span, found.text), Some(found.end)))
        }
        ("fasteners", "renew" | "new" | "replace") => {
            Some((said::used_once(span, found.text), Some(found.end)))
        }
        ("fasteners", "single" | "one") if matches!(next.text, "use" | "time") => {
            Some((said::used_once(to_next(), &format!("{} {}", found.text, next.text)), Some(next.end)))
        }
        ("fasteners", "fate") if matches!(next.text, "renew" | "reuse") => {
            Some((said::fate_of_fasteners(to_next(), next.text), Some(next.end)))
        }
        ("fasteners", "left") if matches!(next.text, "hand" | "handed") => {
            Some((said::left_hand(to_next(), next.text), Some(next.end)))
        }
        ("fasteners", word) if is_hexagon(word) => {
            let (fault, end) = driven_inside(place, found)?;
            Some((fault, Some(end)))
        }
        ("gauge", "with" | "using" | "tool") if next.kind == Kind::Text => {
            Some((said::instrument(span, found.text), None))
        }
        ("gauge", "with" | "using" | "tool" | "tools") => {
            Some((said::instrument_named(span, found.text), None))
        }
        ("gauge", "good" | "limit" | "min" | "max" | "minimum" | "maximum" | "between" | "ok") => {
            Some((said::limit_of_gauge(span, found.text), None))
        }
        _ => None,
    }
}

/// How often it is gone round to a torque, behind it: `22 N.m in 2 passes`, `22 N.m twice`; and where those words end.
pub(super) fn passes(place: Place<'_>, found: &Lexeme<'_>) -> Option<(Diagnostic, usize)> {
    let text = place.text;
    let line = text[..found.start].rfind(['\n', '{', ';']).map_or(0, |at| at + 1);
    let before: Vec<Lexeme<'_>> = lexemes(&text[..found.start], line).collect();
    let from = before.iter().rfind(|word| word.kind == Kind::Number)?.start;
    let amount = text[from..found.start].trim_end();
    if !before.iter().any(|word| word.text == "tighten") || amount.contains([',', '"']) {
        return None;
    }
    let (rounds, end) = match found.text {
        "twice" => (2, found.end),
        "in" => {
            let count = lexeme(text, found.end);
            let word = lexeme(text, count.end);
            let rounds = super::digits::figures(count.text).unwrap_or(count.text).parse().ok()?;
            matches!(word.text, "pass" | "passes" | "rounds" | "stages" | "steps" | "goes")
                .then_some((rounds, word.end))?
        }
        _ => return None,
    };
    Some((said::counted_passes(place.span(found.start, end), &text[found.start..end], amount, rounds), end))
}

/// Words for a hexagon that a key goes into.
fn is_hexagon(word: &str) -> bool {
    matches!(word, "hex" | "hexagon" | "allen" | "inside" | "internal" | "key")
}

/// An inside hexagon by a word before its size or behind it: `drive hex 6 mm`, `drive 6 mm hex`; and where those words end.
pub(super) fn driven_inside(place: Place<'_>, found: &Lexeme<'_>) -> Option<(Diagnostic, usize)> {
    let text = place.text;
    let line = text[..found.start].rfind(['\n', '{', ';']).map_or(0, |at| at + 1);
    let drive = text[line..found.start].rfind("drive").map(|at| line + at)?;
    let words: Vec<Lexeme<'_>> = lexemes(text, drive + "drive".len())
        .take_while(|word| is_hexagon(word.text) || word.kind == Kind::Number || word.text == "mm")
        .collect();
    let size = words.iter().find(|word| word.kind == Kind::Number)?;
    let (first, last) = (words.first()?, words.last()?);
    let reached = words.iter().any(|word| word.start == found.start);
    reached.then(|| {
        (
            said::inside_hexagon(place.span(first.start, last.end), &text[first.start..last.end], size.text),
            last.end,
        )
    })
}

/// The end or side that goes by this word of the trade.
pub(super) fn end(word: &str) -> Option<&'static str> {
    match word {
        "above" | "over" | "up" | "upper" => Some("top"),
        "underneath" | "under" | "beneath" | "bottom" | "lower" | "down" => Some("below"),
        "back" | "behind" => Some("rear"),
        _ => None,
    }
}

/// A lock behind `locked`, in words other than those for it, and where they end: `locked with wire`, `locked by thread_locker`.
pub(super) fn lock(place: Place<'_>, found: &Lexeme<'_>) -> Option<(Diagnostic, usize)> {
    let text = place.text;
    let (start, before) = word_before(text, found.start);
    let (from, by, how) = match (before, found.text) {
        ("locked", "with" | "using") => (found.start, found.text, lexeme(text, found.end)),
        ("by", _) if word_before(text, start).1 == "locked" => (start, "by", *found),
        _ => return None,
    };
    if how.kind != Kind::Word {
        return None;
    }
    // What the way of locking is called, and the piece behind it, where that is named by the same word.
    let (lock, piece) = match how.text {
        "tab" | "wire" | "stake" | "thread-locker" if by != "by" => (how.text, None),
        "split" if by != "by" => ("split", None),
        name if name.contains("locker") => ("thread-locker", Some(name)),
        name if name.contains("pin") || name == "cotter" => ("split pin", Some(name)),
        name if name.contains("wire") => ("wire", Some(name)),
        name if name.contains("tab") => ("tab", Some(name)),
        _ if by == "by" => return None,
        name => return Some((said::lock_unsaid(place.span(from, how.end), by, name), how.end)),
    };
    let next = lexeme(text, how.end);
    // `locked by thread_locker thread_locker` has its piece.
    let named = piece.filter(|name| *name != lock && next.text != *name);
    let meant = named.map_or_else(|| format!("by {lock}"), |name| format!("by {lock} {name}"));
    let span = place.span(from, how.end);
    Some((said::locked_by(span, &text[from..how.end], &meant), how.end))
}

/// How many there are, behind the title that it stands before; with where the number ends.
pub(super) fn count_behind(place: Place<'_>, found: &Lexeme<'_>) -> Option<(Diagnostic, usize)> {
    let text = place.text;
    let titled = text[..end_before(text, found.start)].strip_suffix('"')?;
    let title = titled.rfind(['"', '\n']).filter(|at| titled[*at..].starts_with('"'))?;
    let head = text[..title].rfind('\n').map_or(0, |at| at + 1);
    let word = lexeme(text, head).text;
    let count = found.text.bytes().all(|byte| byte.is_ascii_digit());
    let declares = matches!(word, "part" | "fasteners" | "temporary") && !text[head..title].contains('{');
    (count && declares).then(|| {
        let title_text = &text[title..=titled.len()];
        let span = place.span(title, found.end);
        (
            said::count_behind_title(span, place.of(found), word, &format!("{} {title_text}", found.text)),
            found.end,
        )
    })
}

/// A kind that is none of those that there are, by what goes by that word in the trade.
pub(super) fn kind(place: Place<'_>, found: &Lexeme<'_>, owner: &str, kinds: &str) -> Option<Diagnostic> {
    let (_, before) = word_before(place.text, found.start);
    if before != "kind" || !matches!(owner, "part" | "tool") {
        return None;
    }
    let small = found.text.to_ascii_lowercase();
    let rows: &[(&str, &[&str])] = if owner == "part" { PART_KINDS } else { TOOL_KINDS };
    let meant = rows.iter().find(|(_, words)| words.contains(&small.as_str())).map(|(kind, _)| *kind);
    let clause = place.span(word_before(place.text, found.start).0, found.end);
    Some(said::no_such_kind((place.of(found), clause), (owner, found.text), kinds, meant))
}

/// What there is a kind for, by the words of the trade.
const PART_KINDS: &[(&str, &[&str])] = &[
    ("bearing", &["bush", "bushing", "bushes", "shell", "shells", "race"]),
    ("seal", &["o_ring", "oring", "lip", "gland", "packing"]),
    ("gasket", &["joint", "paper"]),
    ("spring", &["circlip", "clip", "snap_ring", "coil"]),
    ("running", &["shaft", "piston", "gear", "rotating", "sliding"]),
];

const TOOL_KINDS: &[(&str, &[&str])] = &[
    ("socket", &["hex", "hexagon", "key", "allen"]),
    ("spanner", &["ring"]),
    ("wrench", &["torque"]),
    ("measuring", &["gauge", "micrometer", "caliper", "dial"]),
    ("hoist", &["crane", "jack", "sling", "tackle"]),
    ("puller", &["extractor", "drawer"]),
];

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
            said::pressed_into(span, found.text, host)
        }
        "screwed" | "threaded" | "screws" => said::screwed_into(span, found.text),
        _ => return None,
    };
    Some((fault, behind))
}
