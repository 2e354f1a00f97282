//! What is said about each fault in the spelling of a procedure.

use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::language as codes;
use crate::source::Span;

/// More text than any procedure has.
pub(super) fn too_large(place: Span, what: &str) -> Diagnostic {
    Diagnostic::new(&codes::TOO_LARGE, format!("{what} is too large to be a procedure"))
        .at(place, "nothing from here on was read")
        .help("check that the right file was named, or spread the procedure over several files with `use \"other.leaf\"`")
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
        .help("begin with the engine, such as `family my_engine \"My engine\"`, then parts and steps")
}

/// A quote that isn't closed on its line.
pub(super) fn unclosed_text(place: Span) -> Diagnostic {
    Diagnostic::new(&codes::UNCLOSED_TEXT, "this text has no closing quote on its line")
        .at(place, "opened here")
        .help("type `\"` where the words end; a text stays on one line")
}

/// A backslash before something that needs none.
pub(super) fn bad_escape(place: Span) -> Diagnostic {
    Diagnostic::new(&codes::BAD_ESCAPE, "a lone `\\` in a text")
        .at(place, "")
        .help("type `\\\\` for a backslash and `\\\"` for a quote; nothing else takes a backslash")
}

/// Quotes as a word processor sets them.
pub(super) fn wrong_quotes(place: Span) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_QUOTES, "this text stands in curly quotes")
        .at(place, "")
        .help("type straight quotes: `\"like this\"`")
}

/// A character that has no meaning outside a text.
pub(super) fn bad_character(place: Span, letter: char) -> Diagnostic {
    let shown: String =
        if letter.is_control() { letter.escape_unicode().collect() } else { letter.to_string() };
    let help = match letter {
        '·' | '⋅' | '∙' => "units are written with a point: `N.m`",
        '×' => "type the letter `x`, as in `M12x1.25`",
        '°' => "type `deg` for an angle, `degC` for a temperature",
        'µ' | 'μ' => "type `um` for thousandths of a millimetre",
        '–' | '—' | '−' => "type `-` for a minus, `..` between two limits, `--` before a comment",
        '…' => "type `..` between two limits",
        '½' | '¼' | '¾' => "type fractions with a stroke: `1/2 in`",
        'Ø' | '⌀' | 'ø' => "leave the sign out: a size is a number with its unit",
        '“' | '”' | '„' | '‘' | '’' | '«' | '»' => "type straight quotes: `\"like this\"`",
        _ => {
            "take it out, or put it inside a text: only texts in quotes and comments may hold such characters"
        }
    };
    Diagnostic::new(&codes::BAD_CHARACTER, format!("`{shown}` means nothing here")).at(place, "").help(help)
}

/// A brace that is never closed.
pub(super) fn unclosed_brace(open: Span, noticed: Option<Span>) -> Diagnostic {
    let fault = Diagnostic::new(&codes::UNCLOSED_BRACE, "this `{` is never closed").at(open, "opened here");
    let fault = match noticed {
        Some(place) => fault.at(place, "this starts something new"),
        None => fault,
    };
    fault.help("type `}` behind the last clause that belongs to it")
}

/// A brace that closes nothing.
pub(super) fn stray_brace(place: Span) -> Diagnostic {
    Diagnostic::new(&codes::STRAY_BRACE, "this `}` closes nothing")
        .at(place, "")
        .help("take it out, or look above for a missing `{`")
}

/// A name with capitals or hyphens.
pub(super) fn bad_name(place: Span, written: &str) -> Diagnostic {
    let proper = super::build::proper_name(written);
    Diagnostic::new(&codes::BAD_NAME, format!("`{written}` is not spelt as a name"))
        .at(place, "")
        .help(format!("type `{proper}`: names have small letters, digits and `_`, and begin with a letter"))
}

/// A number without a value.
pub(super) fn bad_number(place: Span, written: &str) -> Diagnostic {
    Diagnostic::new(&codes::BAD_NUMBER, format!("`{written}` is not a number"))
        .at(place, "")
        .help("write numbers as `12`, `0.05`, `7/16` or `1 1/2`")
}

/// A range that runs backwards or without end.
pub(super) fn bad_range(place: Span, written: &str) -> Diagnostic {
    Diagnostic::new(&codes::BAD_RANGE, format!("`{written}` is not a range of positions"))
        .at(place, "")
        .help("write the first and the last position, such as `1 .. 3`")
}

/// Something that doesn't belong where it stands.
pub(super) fn unexpected(place: Span, found: &str, expected: &str) -> Diagnostic {
    Diagnostic::new(&codes::UNEXPECTED, format!("`{found}` doesn't belong here"))
        .at(place, format!("expected {expected}"))
        .help(format!("type {expected} here"))
}
