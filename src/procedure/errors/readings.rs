//! Complaints about gauges, looks and formulas.

use super::quoted;
use crate::diagnostics::codes::procedure as codes;
use crate::diagnostics::{Code, Diagnostic};
use crate::language::tree::Word;
use crate::procedure::model::{Naming, Operator};
use crate::quantity::Quantity;
use crate::source::Span;

pub(in crate::procedure) fn bands_gap(upper: Span, lower: Span, from: &str, to: &str) -> Diagnostic {
    Diagnostic::new(&codes::BANDS_GAP, format!("values between `{from}` and `{to}` have no result"))
        .at(upper, "begins above the end of the one before")
        .at(lower, "ends here")
        .help(format!("let one band begin where the other ends, at `{from}` or at `{to}`"))
}

pub(in crate::procedure) fn bands_overlap(upper: Span, lower: Span, a: &str, b: &str) -> Diagnostic {
    Diagnostic::new(&codes::BANDS_OVERLAP, format!("bands `{a}` and `{b}` share values"))
        .at(upper, format!("`{b}`"))
        .at(lower, format!("`{a}`"))
        .help("let one band begin where the other ends")
}

/// A gauge has bands of its own beside the pieces that it chooses from.
pub(in crate::procedure) fn sold_and_bands(at: Span, gauge: &Naming) -> Diagnostic {
    Diagnostic::new(&codes::SOLD_AND_BANDS, format!("`{}` has bands and pieces to choose from", gauge.id))
        .at(at, "each piece is a band already")
        .help("judge by another gauge, or name the pieces as bands and take `sold` out")
}

/// Pieces are named, but nothing works out which of them goes into what.
pub(in crate::procedure) fn sold_for_nothing(at: Span, gauge: &Naming) -> Diagnostic {
    Diagnostic::new(
        &codes::SOLD_FOR_NOTHING,
        format!("nothing says for which part `{}` chooses, or by what size", gauge.id),
    )
    .at(at, "chosen for what?")
    .write("`of PART`, and with `is` how its size is worked out from what is read")
}

pub(in crate::procedure) fn sold_and_kept(at: Span, gauge: &Naming, part: &Naming) -> Diagnostic {
    Diagnostic::new(
        &codes::SOLD_FOR_NOTHING,
        format!("`{}` chooses a piece, and `{}` is never renewed", gauge.id, part.id),
    )
    .at(at, "chosen, and never fitted")
    .at(part.span, "it goes back whatever is chosen")
    .help("give the part `fate renew`, or `fate renew when` the answer that asks for another piece")
}

/// Between two pieces lie values that neither serves.
pub(in crate::procedure) fn sold_too_far_apart(
    at: Span,
    within: Span,
    from: Quantity,
    to: Quantity,
) -> Diagnostic {
    Diagnostic::new(
        &codes::SOLD_TOO_FAR_APART,
        format!("no piece is sold for a size between `{from}` and `{to}`"),
    )
    .at(at, "these are sold")
    .at(within, "so near it has to come")
    .help("name the piece between them, or allow half the step between neighbours")
}

pub(in crate::procedure) fn no_bands(at: Span, gauge: &Word) -> Diagnostic {
    Diagnostic::new(&codes::NO_BANDS, format!("`{}` has no bands that could answer a question", gauge.value))
        .at(at, "used as a question here")
        .at(gauge.span, "declared without bands")
        .write(
            "bands for the gauge, such as `bands good 0 mm .. 0.05 mm, renew above 0.05 mm`; a fate can hang on `made` \
             with `worn` as well",
        )
}

pub(in crate::procedure) fn formula_dimension(at: Span, message: &str, help: &str) -> Diagnostic {
    Diagnostic::new(&codes::FORMULA_DIMENSION, message).at(at, "").help(help)
}

/// Temperatures on a scale that are added, multiplied, or mixed with differences of them.
pub(in crate::procedure) fn points_combined(at: Span, operator: Operator) -> Diagnostic {
    let what = match operator {
        Operator::Add => "add temperatures on a scale",
        Operator::Subtract => "take a temperature on a scale from a difference",
        Operator::Multiply | Operator::Divide => "multiply or divide a temperature on a scale",
    };
    Diagnostic::new(&codes::POINTS_COMBINED, format!("a formula can't {what}"))
        .at(at, "twice 20 °C is not 40 °C")
        .help("take one from another, or use `spread`, `mean`, `max` or `min`; write a difference in `K`: `outlet - 5 K`")
}

pub(in crate::procedure) fn formula_circle(at: Span, names: &[String]) -> Diagnostic {
    Diagnostic::new(
        &codes::FORMULA_CIRCLE,
        format!("`{}` is computed from itself", names.first().map_or("", |n| n)),
    )
    .at(at, format!("by way of {}", names.join(", ")))
    .help("compute one of them from readings")
}

pub(in crate::procedure) fn no_gauge_unit(gauge: &Word) -> Diagnostic {
    Diagnostic::new(&codes::NO_GAUGE_UNIT, format!("gauge `{}` has no unit", gauge.value))
        .at(gauge.span, "read, but in what?")
        .write("`unit mm`")
}

/// A list of bands for some positions names one that the first list hasn't.
pub(in crate::procedure) fn other_bands(at: Span, name: &str, known: &[&str], first: Span) -> Diagnostic {
    Diagnostic::new(&codes::OTHER_BANDS, format!("no other position has a band `{name}`"))
        .at(at, "only here")
        .at(first, "the bands are named here")
        .help(format!("name {}: only their edges may differ by position", quoted(known)))
}

/// A list of bands for some positions leaves one out.
pub(in crate::procedure) fn band_missing(at: Span, name: &str, first: Span) -> Diagnostic {
    Diagnostic::new(&codes::OTHER_BANDS, format!("band `{name}` has no edges at these positions"))
        .at(at, format!("no `{name}` in this list"))
        .at(first, "it is named here")
        .write(format!("`{name}` with its edges at these positions"))
}

/// A line of the family is said of one position.
pub(in crate::procedure) fn no_positions(axis: &Word, line: &str) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_AXIS, format!("`{line}` has no positions"))
        .at(axis.span, "an axis")
        .help("say it of the whole, or let answers choose with `when`")
}

/// A case that another, which stands before it, leaves nothing to; or one whose positions exclude each other.
pub(in crate::procedure) fn idle_case(at: Span, before: Option<Span>) -> Diagnostic {
    let complaint = Diagnostic::new(&codes::IDLE_CASE, "this value never counts").at(at, "nowhere");
    match before {
        Some(before) => complaint.at(before, "what stands before it holds wherever it does"),
        None => complaint,
    }
    .help("take it out, or give the value before it the positions or answers at which it holds")
}

/// A case that holds only on engines that haven't got the thing.
pub(in crate::procedure) fn idle_where_absent(at: Span, thing: &str) -> Diagnostic {
    Diagnostic::new(&codes::IDLE_CASE, "this value never counts")
        .at(at, format!("`{thing}` isn't there wherever it would hold"))
        .help("take it out, or say in `present when` that it is there then too")
}

/// No case holds at a place, or under some answers.
pub(in crate::procedure) fn no_case(at: Span, thing: &str, place: &str, answers: &str) -> Diagnostic {
    left_out(&codes::NO_CASE, at, &format!("nothing is said of `{thing}"), place, answers)
}

/// Under some answers nothing is said of what becomes of a part.
pub(in crate::procedure) fn no_fate_case(at: Span, thing: &str, place: &str, answers: &str) -> Diagnostic {
    left_out(&codes::NO_CASE, at, &format!("nothing says what becomes of `{thing}"), place, answers)
}

/// No number of pieces holds at a place, or under some answers.
pub(in crate::procedure) fn no_count(at: Span, thing: &str, place: &str, answers: &str) -> Diagnostic {
    left_out(&codes::NO_COUNT, at, &format!("nothing says how many there are of `{thing}"), place, answers)
}

fn left_out(code: &'static Code, at: Span, what: &str, place: &str, answers: &str) -> Diagnostic {
    let place = if place.is_empty() { String::new() } else { format!("[{place}]") };
    let (when, left_out) = if answers.is_empty() {
        (String::new(), "positions")
    } else {
        (format!(" when {answers}"), "answers")
    };
    Diagnostic::new(code, format!("{what}{place}`{when}"))
        .at(at, format!("the {left_out} named before this leave others out"))
        .write("a value for the others, such as `, else ...` at the end")
}
