//! What is said about each fault in the spelling of a procedure.

use crate::diagnostics::codes::language as codes;
use crate::diagnostics::{Code, Diagnostic, Mend};
use crate::english::one_of;
use crate::quantity::Unit;
use crate::source::Span;

/// Right behind a place.
fn behind(place: Span) -> Span {
    Span::new(place.file, place.end(), place.end())
}

/// More text than any procedure has.
pub(super) fn too_large(place: Span, what: &str) -> Diagnostic {
    Diagnostic::new(&codes::TOO_LARGE, format!("{what} is too large to be a procedure"))
        .at(place, "nothing from here on was read")
        .help("check that the right file was named, or spread the procedure over several files with `use \"other.rebuild\"`")
}

/// Braces or brackets without end.
pub(super) fn too_deep(place: Span) -> Diagnostic {
    Diagnostic::new(&codes::TOO_DEEP, "too many open brackets inside each other")
        .at(place, "nothing from here on was read")
        .help("close each `{`, `(` and `[` with its partner: clauses need one pair of braces, a block of steps two")
}

/// Nothing but space and comments.
pub(super) fn empty(place: Span) -> Diagnostic {
    Diagnostic::new(&codes::EMPTY, "this file declares nothing")
        .at(place, "")
        .help("begin with what is rebuilt, such as `family dock_winch \"Dock winch\"`, then parts and steps")
}

/// A form that would say something else.
pub(super) fn not_laid_out(start: Span) -> Diagnostic {
    Diagnostic::new(&codes::NOT_LAID_OUT, "this file can't be laid out without changing what it says")
        .at(start, "it was left as it is")
        .help("this is a fault of the program, not of the file: please report it with the file")
}

/// A quote that isn't closed on its line.
pub(super) fn unclosed_text(place: Span) -> Diagnostic {
    Diagnostic::new(&codes::UNCLOSED_TEXT, "this text has no closing quote on its line")
        .at(place, "opened here")
        .write("`\"` where the words end; a text stays on one line")
}

/// A backslash before something that needs none.
pub(super) fn bad_escape(place: Span) -> Diagnostic {
    Diagnostic::new(&codes::BAD_ESCAPE, "a lone `\\` in a text")
        .at(place, "")
        .write("`\\\\` for a backslash and `\\\"` for a quote; nothing else takes a backslash")
        .perhaps(place, "\\\\")
}

/// Quotes as a word processor sets them.
pub(super) fn wrong_quotes(place: Span, words: &str) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_QUOTES, "this text stands in curly quotes")
        .at(place, "")
        .write("straight quotes: `\"like this\"`")
        .mended(place, format!("\"{words}\""))
}

/// A character that has no meaning outside a text.
pub(super) fn bad_character(place: Span, letter: char) -> Diagnostic {
    let shown: String = match letter {
        // Complaints put what they name between backticks.
        '`' => "backtick".to_owned(),
        _ if letter.is_control() => letter.escape_unicode().collect(),
        _ => letter.to_string(),
    };
    let mend = match letter {
        '·' | '⋅' | '∙' => Mend::doing("units are written with a point: `N.m`"),
        '×' => Mend::write("the letter `x`, as in `M12x1.25`"),
        '°' => Mend::write("`deg` for an angle, `degC` for a temperature"),
        'µ' | 'μ' => Mend::write("`um` for thousandths of a millimetre"),
        '–' | '—' | '−' => {
            Mend::write("`-` for a minus, `..` between two limits, `--` before a comment")
        }
        '…' => Mend::write("`..` between two limits"),
        '½' | '¼' | '¾' => Mend::write("fractions with a stroke: `1/2 in`"),
        'Ø' | '⌀' | 'ø' => Mend::doing("leave the sign out: a size is a number with its unit"),
        '`' | '“' | '”' | '„' | '‘' | '’' | '«' | '»' => {
            Mend::write("straight quotes: `\"like this\"`")
        }
        _ => Mend::doing(
            "take it out, or put it inside a text: only texts in quotes and comments may hold such characters",
        ),
    };
    let fault = Diagnostic::new(&codes::BAD_CHARACTER, format!("`{shown}` means nothing here"));
    let fault = fault.at(place, "").mend(mend);
    match letter {
        '·' | '⋅' | '∙' => fault.mended(place, "."),
        '×' => fault.mended(place, "x"),
        '…' => fault.mended(place, " .. "),
        'µ' | 'μ' => fault.perhaps(place, "u"),
        '°' => fault.perhaps(place, " deg"),
        '–' | '—' | '−' => fault.perhaps(place, "-"),
        '½' => fault.perhaps(place, " 1/2"),
        '¼' => fault.perhaps(place, " 1/4"),
        '¾' => fault.perhaps(place, " 3/4"),
        _ => fault,
    }
}

/// A brace that is never closed.
pub(super) fn unclosed_brace(open: Span, noticed: Option<Span>) -> Diagnostic {
    let fault = Diagnostic::new(&codes::UNCLOSED_BRACE, "this `{` is never closed").at(open, "opened here");
    let fault = match noticed {
        Some(place) => fault.at(place, "this starts something new"),
        None => fault,
    };
    fault.write("`}` behind the last clause that belongs to it")
}

/// A brace that closes nothing.
pub(super) fn stray_brace(place: Span) -> Diagnostic {
    Diagnostic::new(&codes::STRAY_BRACE, "this `}` closes nothing")
        .at(place, "")
        .help("take it out, or look above for a missing `{`")
        .perhaps(place, "")
}

/// A name with capitals or hyphens.
pub(super) fn bad_name(place: Span, written: &str) -> Diagnostic {
    let proper = super::names::proper_name(written);
    Diagnostic::new(&codes::BAD_NAME, format!("`{written}` is not spelt as a name"))
        .at(place, "")
        .write(format!("`{proper}`: names have small letters, digits and `_`, and begin with a letter"))
        .perhaps(place, proper.clone())
}

/// Digits that make no number.
pub(super) fn bad_number(place: Span, written: &str, meant: Option<&str>) -> Diagnostic {
    let help = match meant {
        Some(meant) => format!("`{meant}`"),
        None => "numbers as `12`, `0.05`, `7/16` or `1 1/2`".to_owned(),
    };
    let fault = Diagnostic::new(&codes::BAD_NUMBER, format!("`{written}` is not a number"));
    let fault = fault.at(place, "").write(help);
    match meant {
        // Only where the digits are all that is written: a unit behind them would go.
        Some(meant) if !written.contains(|c: char| c.is_alphabetic()) => fault.mended(place, meant),
        _ => fault,
    }
}

/// A range that runs backwards or without end.
pub(super) fn bad_range(place: Span, written: &str) -> Diagnostic {
    Diagnostic::new(&codes::BAD_RANGE, format!("`{written}` makes no range"))
        .at(place, "")
        .write("the first, two points and the last, such as `1 .. 3` or `20 N.m .. 120 N.m`")
        .perhaps(place, "..")
}

/// A range of pieces whose step doesn't lead from one end to the other.
pub(super) fn bad_pieces(place: Span) -> Diagnostic {
    Diagnostic::new(&codes::BAD_RANGE, "no whole number of steps leads from the one size to the other")
        .at(place, "all three in one unit, and at most a hundred pieces")
        .write("the smallest, the largest and what lies between two, such as `0.40 mm .. 0.80 mm by 0.05 mm`")
}

/// A number that runs into its unit.
pub(super) fn missing_space(place: Span, written: &str, meant: &str) -> Diagnostic {
    Diagnostic::new(&codes::MISSING_SPACE, format!("`{written}` has no space before its unit"))
        .at(place, "")
        .write(format!("`{meant}`"))
        .mended(place, &meant[meant.rfind(' ').unwrap_or_default()..])
}

/// A thread with white space or a wrong sign before its pitch.
pub(super) fn spaced_thread(place: Span, written: &str, meant: &str) -> Diagnostic {
    Diagnostic::new(&codes::BAD_NUMBER, format!("a thread isn't written `{written}`"))
        .at(place, "")
        .write(format!("`{meant}`, in one word"))
        .mended(place, meant)
}

/// A stroke between two limits, the unit behind both of them.
pub(super) fn stroke_range(place: Span, written: &str, (low, high): (&str, &str), unit: &str) -> Diagnostic {
    Diagnostic::new(&codes::BAD_RANGE, format!("`{written}` makes no range"))
        .at(place, "")
        .write(format!("`{low}{unit} .. {high}{unit}`, if a range is meant"))
        .perhaps(place, format!("{low}{unit} .. {high}"))
}

/// A value between quotes.
pub(super) fn quoted_number(place: Span, before: &str, written: &str) -> Diagnostic {
    Diagnostic::new(
        &codes::MISSING_NUMBER,
        format!("no number behind `{before}`: what stands in quotes is words"),
    )
    .at(place, "")
    .write(format!("`{written}`, without quotes"))
    .perhaps(place, written)
}

/// A number in letters.
pub(super) fn spelt_number(place: Span, written: &str, figures: &str) -> Diagnostic {
    Diagnostic::new(&codes::BAD_NUMBER, format!("`{written}` is not a number"))
        .at(place, "")
        .write(format!("`{figures}`"))
        .mended(place, figures)
}

/// A mark that people put before what belongs to a word.
pub(super) fn loose_mark(place: Span, mark: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNEXPECTED, format!("`{mark}` doesn't belong here"))
        .at(place, "")
        .help("take it out: what belongs to a word stands right behind it")
        .mended(place, "")
}

/// Inches by the sign of the trade, which begins a text here.
pub(super) fn inch_mark(place: Span, number: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_UNIT, format!("`{number}\"`: a quote begins a text, it is no unit"))
        .at(place, "")
        .write(format!("`{number} in`"))
        .mended(place, " in")
}

/// A word behind a number that is no unit.
pub(super) fn unknown_unit(place: Span, written: &str, meant: Option<&str>) -> Diagnostic {
    let fault = Diagnostic::new(&codes::UNKNOWN_UNIT, format!("`{written}` is not a unit")).at(place, "");
    match meant {
        Some(meant) => fault.write(format!("`{meant}`, if that is meant")).perhaps(place, meant),
        None => {
            let symbols: Vec<&str> = Unit::all().iter().map(|unit| unit.symbol).collect();
            fault.help(format!("the units are {}", symbols.join(", ")))
        }
    }
}

/// A word that starts no declaration.
pub(super) fn unknown_declaration(
    place: Span,
    word: &str,
    known: &[&str],
    meant: Option<&str>,
) -> Diagnostic {
    let fault = Diagnostic::new(&codes::UNKNOWN_DECLARATION, format!("nothing is declared with `{word}`"))
        .at(place, "");
    match meant {
        Some(meant) => fault.write(format!("`{meant}`, if that is meant")).perhaps(place, meant),
        None => fault.help(format!("begin with one of {}", one_of(known))),
    }
}

/// `change` before something that is no declaration, or that can't be changed.
pub(super) fn no_change(place: Span, found: &str) -> Diagnostic {
    let words = match found {
        "" => "nothing stands behind `change`".to_owned(),
        found => format!("`{found}` is nothing that can be changed"),
    };
    Diagnostic::new(&codes::UNKNOWN_DECLARATION, words)
        .at(place, "the word of a declaration is wanted behind this")
        .help("say what is changed, such as `change part NAME { ... }` or `change strip NAME { ... }`; of the family itself, write the line anew in `family`")
}

/// A clause that stands outside any braces.
pub(super) fn clause_outside(place: Span, word: &str, owner: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_DECLARATION, format!("`{word}` stands outside any braces"))
        .at(place, "")
        .help(format!("move it between the `{{` and `}}` of the `{owner}` it belongs to; a `}}` above may be one too many"))
}

/// A word that starts no clause of this declaration.
pub(super) fn unknown_clause(
    place: Span,
    word: &str,
    owner: &str,
    clauses: &[&str],
    meant: Option<&str>,
) -> Diagnostic {
    let fault =
        Diagnostic::new(&codes::UNKNOWN_CLAUSE, format!("`{word}` is not known in `{owner}`")).at(place, "");
    match meant {
        Some(meant) => fault.write(format!("`{meant}`, if that is meant")).perhaps(place, meant),
        None => fault.help(format!("here `{owner}` knows {}", one_of(clauses))),
    }
}

/// `at` behind what is so at every position.
pub(super) fn said_of_all(place: Span, owner: &str) -> Diagnostic {
    let fault = Diagnostic::new(&codes::SAID_OF_ALL, "what is said before `at` is so at every position")
        .at(place, "no position is named behind it");
    fault.help(match owner {
        "strip" | "survey" | "build" | "start" => {
            "people, times and the order are those of the whole step: write `each AXIS apart`, a step for each \
             position, or two steps; `at` may stand behind every act"
                .to_owned()
        }
        "fasteners" => "where it differs by position, declare two sets".to_owned(),
        _ => format!("where it differs by position, declare two {owner}s"),
    })
}

/// `by hand` alone, of fasteners.
pub(super) fn driven_by_hand(place: Span) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_CLAUSE, "`by hand` is not known in `fasteners`")
        .at(place, "")
        .write("`drive by hand`, where fingers turn it")
        .perhaps(place, "drive by")
}

/// A clause that belongs to another declaration.
pub(super) fn clause_of_other(place: Span, word: &str, owner: &str, other: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_CLAUSE, format!("`{word}` is not known in `{owner}`"))
        .at(place, format!("this is said of `{other}`"))
        .help(format!("move it between the braces of the `{other}` it belongs to"))
}

/// A declaration inside another.
pub(super) fn misplaced(place: Span, word: &str, owner: &str) -> Diagnostic {
    Diagnostic::new(&codes::MISPLACED, format!("`{word}` can't stand inside `{owner}`"))
        .at(place, "")
        .help(format!("close the `{owner}` with `}}` before it, or move it out"))
}

/// A fixed word inside a clause that is spelt wrong.
pub(super) fn unknown_word(place: Span, word: &str, meant: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_WORD, format!("`{word}` is not known here"))
        .at(place, "")
        .write(format!("`{meant}`, if that is meant"))
        .perhaps(place, meant)
}

/// A word that is none of a closed list.
pub(super) fn not_of_list(place: Span, word: &str, list: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNKNOWN_WORD, format!("`{word}` is not known here")).at(place, "").write(list)
}

/// `clean` alone is half of a fate.
pub(super) fn clean_alone(place: Span) -> Diagnostic {
    Diagnostic::new(&codes::MISSING_WORD, "`clean` doesn't say what becomes of it then")
        .at(place, "")
        .write("`clean then reuse`: it goes back clean")
        .perhaps(behind(place), " then reuse")
}

/// A fixed word that was left out.
pub(super) fn missing_word(place: Span, word: &str, before: &str, after: &str) -> Diagnostic {
    Diagnostic::new(&codes::MISSING_WORD, format!("`{word}` is missing behind `{before}`"))
        .at(place, "")
        .write(format!("`{}`", format!("{before} {word} {after}").trim_end()))
        .perhaps(behind(place), format!(" {word}"))
}

/// A hazard of a part or of fasteners that doesn't say on which way it is met.
pub(super) fn missing_direction(place: Span, hazard: &str) -> Diagnostic {
    let message = format!("nothing says whether `{hazard}` is met when this comes off or when it goes on");
    Diagnostic::new(&codes::MISSING_WORD, message)
        .at(place, "")
        .write(format!("`hazard {hazard} off`, `hazard {hazard} on` or `hazard {hazard} both ways`"))
        .perhaps(behind(place), " both ways")
}

/// A colon in the place of an equals sign.
pub(super) fn colon_for_equals(colon: Span, before: &str, after: &str) -> Diagnostic {
    Diagnostic::new(&codes::MISSING_EQUALS, format!("no `=` behind `{before}`"))
        .at(colon, "")
        .write(format!("`{before} = {after}`"))
        .perhaps(colon, " =")
}

/// Two members of a list without a comma.
pub(super) fn missing_comma(place: Span, before: &str, after: &str) -> Diagnostic {
    Diagnostic::new(&codes::MISSING_COMMA, format!("no comma between `{before}` and `{after}`"))
        .at(place, "")
        .write(format!("`{before}, {after}`, or take one of them out"))
        .perhaps(behind(place), ",")
}

/// A name written in two words, with `_` for whose blank the text has it.
pub(super) fn parted_name(place: Span, before: &str, after: &str) -> Diagnostic {
    two_words(&codes::MISSING_COMMA, place, (before, after))
        .write(format!("`{before}_{after}`, if that is meant; `{before}, {after}` are two"))
}

/// The name of a declaration, written in two words.
pub(super) fn name_in_two(place: Span, before: &str, after: &str) -> Diagnostic {
    two_words(&codes::BAD_NAME, place, (before, after)).write(format!("`{before}_{after}`"))
}

fn two_words(code: &'static Code, place: Span, (before, after): (&str, &str)) -> Diagnostic {
    Diagnostic::new(code, format!("`{before} {after}` is no name: a name is one word"))
        .at(place, "")
        .perhaps(place, format!("{before}_{after}"))
}

/// A comma that parts nothing. Where what stands behind it is something of its own, nothing is lost with it.
pub(super) fn loose_comma(place: Span, alone: bool) -> Diagnostic {
    let fault = Diagnostic::new(&codes::LOOSE_COMMA, "this `,` parts nothing").at(place, "");
    if alone {
        return fault.help("take it out: commas stand between the members of one list").mended(place, "");
    }
    fault.help("no list goes on here: take it out with what stands behind it, or say that where it belongs")
}

/// Lengths of single holes, each with its hole behind it.
pub(super) fn hole_behind_length(place: Span, meant: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNEXPECTED, "the hole stands before the length that is in it")
        .at(place, "")
        .write(format!("`{meant}`"))
        .perhaps(place, meant)
}

/// A thing that is needed, and nothing that says how.
pub(super) fn needed_how(place: Span, before: &str) -> Diagnostic {
    Diagnostic::new(&codes::MISSING_WORD, format!("nothing says how `{before}` is to be"))
        .at(place, "")
        .write(format!(
            "`{before} fitted`, `{before} off`, `{before} tight`, `{before} out`; of a state `{before} = ...`"
        ))
        .perhaps(behind(place), " fitted")
}

/// No `=` where a value is given.
pub(super) fn missing_equals(place: Span, before: &str, after: &str) -> Diagnostic {
    let shown = if after.chars().all(|c| c.is_ascii_punctuation()) { "..." } else { after };
    let fault = Diagnostic::new(&codes::MISSING_EQUALS, format!("no `=` behind `{before}`")).at(place, "");
    // Behind a place nothing is meant but a word that tells how something is, and that is none of them.
    if before == "]" {
        return fault.help(format!(
            "a part is `fitted`, `off` or `supported`, fasteners are `tight`, `slack` or `out`, a state or a result stands \
             behind `=`; that a reading is taken first is said by `after` and the step that takes it, not by `{shown}`"
        ));
    }
    fault.write(format!("`{before} = {shown}`")).perhaps(behind(place), " =")
}

/// Words without quotes, or no words at all.
pub(super) fn missing_text(place: Span, words: Option<&str>) -> Diagnostic {
    let fault = Diagnostic::new(&codes::MISSING_TEXT, "a text in quotes is missing here").at(place, "");
    match words {
        Some(words) => fault.write(format!("`\"{words}\"`")).perhaps(place, format!("\"{words}\"")),
        None => fault.write("the words in straight double quotes: `\"like this\"`"),
    }
}

/// A text that no clause asks for.
pub(super) fn loose_text(place: Span, in_step: bool) -> Diagnostic {
    Diagnostic::new(&codes::LOOSE_TEXT, "this text belongs to nothing").at(place, "").mend(if in_step {
        Mend::write("`do` before it to print it as an act, or put it behind the act it explains")
    } else {
        Mend::doing("put a word before it that says what it is, such as `way` or `lift at`, or take it out")
    })
}

/// No name where one is needed.
pub(super) fn missing_name(place: Span, before: &str, declares: bool, meant: Option<&str>) -> Diagnostic {
    Diagnostic::new(&codes::MISSING_NAME, format!("no name behind `{before}`")).at(place, "").write(
        match meant {
            Some(meant) => format!("a name such as `{before} {meant}`, then the text"),
            None if declares => {
                format!("a name of your own behind it, in small letters: `{before} my_name`")
            }
            None => format!("`{before}` and the name of what is meant"),
        },
    )
}

/// No number where one is needed.
pub(super) fn missing_number(place: Span, before: &str, expected: &str, example: &str) -> Diagnostic {
    let help = match expected.strip_prefix("a number with its unit") {
        Some(rest) => format!("a number with its unit, such as {example}{rest}"),
        None if expected == "a whole number" => format!("a whole number, such as {example}"),
        None => expected.to_owned(),
    };
    Diagnostic::new(&codes::MISSING_NUMBER, format!("no number behind `{before}`")).at(place, "").write(help)
}

/// Clauses without the brace that opens them.
pub(super) fn missing_brace(place: Span, owner: &str, clause: Span) -> Diagnostic {
    Diagnostic::new(&codes::MISSING_BRACE, format!("no `{{` before the clauses of this `{owner}`"))
        .at(place, "")
        .at(clause, "the clauses begin here")
        .write("`{` here, and `}` behind the last clause")
}

/// A block or trial without steps.
pub(super) fn no_steps(place: Span, owner: &str) -> Diagnostic {
    Diagnostic::new(&codes::MISSING_BRACE, format!("this `{owner}` has no steps"))
        .at(place, "")
        .write("its steps between `{` and `}`")
}

/// A comment as other languages write it.
pub(super) fn not_a_comment(place: Span) -> Diagnostic {
    Diagnostic::new(&codes::NOT_A_COMMENT, "comments don't begin like this")
        .at(place, "")
        .write("`--` before a comment; it runs to the end of its line")
        .perhaps(place, "--")
}

/// Something that doesn't belong where it stands.
pub(super) fn unexpected(place: Span, found: &str, expected: &str) -> Diagnostic {
    let fault = Diagnostic::new(&codes::UNEXPECTED, format!("`{found}` doesn't belong here"));
    if expected.is_empty() {
        return fault.at(place, "").help("take it out");
    }
    fault.at(place, "").write(format!("{expected}, or take it out"))
}

/// A clause that stops too early.
pub(super) fn unfinished(place: Span, before: &str, expected: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNEXPECTED, format!("something is missing behind `{before}`"))
        .at(place, "")
        .write(expected)
}

/// So many faults that the rest is not told.
pub(super) fn too_many(place: Span) -> Diagnostic {
    Diagnostic::new(
        &codes::TOO_MANY,
        format!("more than {} faults; the rest of this file was not read", super::MOST_FAULTS),
    )
    .at(place, "")
    .help("mend these first, then check again")
}
