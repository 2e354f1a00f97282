//! Complaints about numbers and their units.

use crate::diagnostics::codes::procedure as codes;
use crate::diagnostics::{Diagnostic, Mend};
use crate::english::alternatives;
use crate::language::tree::{Amount, AmountRange, Word};
use crate::quantity::{Dimension, DimensionError, ParseError, Quantity, Unit};
use crate::source::Span;

pub(in crate::procedure) fn no_unit(amount: &Amount, expected: Option<Dimension>) -> Diagnostic {
    let digits = &amount.digits;
    let complaint = Diagnostic::new(&codes::NO_UNIT, format!("`{digits}` has no unit"));
    match expected {
        Some(dimension) => {
            let units: Vec<String> =
                Unit::measuring(dimension).map(|unit| format!("`{digits} {}`", unit.symbol)).collect();
            complaint
                .at(amount.span, format!("{} is wanted here", dimension.name()))
                .write(alternatives(&units))
        }
        None => complaint
            .at(amount.span, "a quantity is wanted here")
            .mend(ParseError::NoUnit { number: digits.clone() }.mend()),
    }
}

pub(in crate::procedure) fn unknown_unit(unit: &Word, expected: Option<Dimension>) -> Diagnostic {
    let nearest = Unit::nearest(&unit.value);
    let mend = match (nearest, expected) {
        (None, Some(dimension)) => {
            let units: Vec<&str> = Unit::measuring(dimension).map(|unit| unit.symbol).collect();
            Mend::doing(format!("{} is written in {}", dimension.name(), super::quoted(&units)))
        }
        _ => ParseError::UnknownUnit { symbol: unit.value.clone(), nearest }.mend(),
    };
    Diagnostic::new(&codes::UNKNOWN_UNIT, format!("no unit is written `{}`", unit.value))
        .at(unit.span, "not a unit")
        .mend(mend)
}

pub(in crate::procedure) fn wrong_dimension(amount: &Amount, error: DimensionError) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_DIMENSION, error.to_string())
        .at(amount.span, format!("{} is wanted here", error.expected.name()))
        .mend(error.mend())
}

pub(in crate::procedure) fn too_cold(amount: &Amount, error: &ParseError) -> Diagnostic {
    Diagnostic::new(&codes::TOO_COLD, error.to_string())
        .at(amount.span, "below the absolute nought")
        .mend(error.mend())
}

pub(in crate::procedure) fn torque_or_angle(amount: &Amount, found: Quantity) -> Diagnostic {
    let name = found.dimension().name();
    Diagnostic::new(
        &codes::WRONG_DIMENSION,
        format!("`{found}` is {name}, where a torque or an angle was expected"),
    )
    .at(amount.span, "a torque or an angle is wanted here")
    .help("tighten to a torque such as `30 N.m`, or on by an angle such as `90 deg`")
}

pub(in crate::procedure) fn not_an_amount(amount: &Amount, found: Quantity) -> Diagnostic {
    let name = found.dimension().name();
    Diagnostic::new(
        &codes::WRONG_DIMENSION,
        format!("`{found}` is {name}, where an amount of a supply was expected"),
    )
    .at(amount.span, "an amount is wanted here")
    .help("write a number of pieces, or a volume, a mass, a length or an area, such as `20 mL`")
}

pub(in crate::procedure) fn not_a_count(amount: &Amount, what: &str) -> Diagnostic {
    let written = written(amount);
    let complaint = Diagnostic::new(&codes::NOT_A_COUNT, format!("`{written}` is not a count of {what}"))
        .at(amount.span, "a whole number of at least one is wanted here");
    match (&amount.unit, amount.value) {
        (Some(_), value) if value >= 1.0 && value.fract() == 0.0 => complaint
            .write(format!("`{}`, without unit", amount.digits))
            .perhaps(amount.span, amount.digits.clone()),
        _ => complaint.write("a whole number, such as `1`"),
    }
}

pub(in crate::procedure) fn not_a_number(amount: &Amount) -> Diagnostic {
    Diagnostic::new(&codes::NOT_A_NUMBER, format!("`{}` is not a number", amount.digits))
        .at(amount.span, "can't be read")
        .write("it like `82`, `0.05` or `7/16`")
}

/// Says of a number without a unit that its comma was meant as a point, where digits follow that comma in the text at once.
pub(in crate::procedure) fn with_decimal_comma(fault: &mut Diagnostic, number: Span, text: &str) {
    if fault.code.name != codes::NO_UNIT.name {
        return;
    }
    let behind = text.get(number.end()..).and_then(|rest| rest.strip_prefix(','));
    let digits =
        behind.map_or("", |rest| &rest[..rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len())]);
    let whole = text.get(number.start()..number.end()).unwrap_or_default();
    if digits.is_empty() || whole.contains(['.', '/', ' ']) {
        return;
    }
    let meant = format!("{whole}.{digits}");
    let span = number.ending(number.end() + 1 + digits.len());
    *fault = Diagnostic::new(&codes::NOT_A_NUMBER, format!("`{whole},{digits}` is not a number"))
        .at(span, "read as two numbers, the first without a unit")
        .write(format!("`{meant}`"))
        .perhaps(span, meant);
}

pub(in crate::procedure) fn not_positive(amount: &Amount) -> Diagnostic {
    Diagnostic::new(&codes::NOT_POSITIVE, format!("`{}` is not more than nothing", written(amount)))
        .at(amount.span, "must be more than nothing")
        .help(format!(
            "give its value, such as `1 {}`",
            amount.unit.as_ref().map_or("mm", |unit| &unit.value)
        ))
}

pub(in crate::procedure) fn range_reversed(range: &AmountRange, high: &Amount) -> Diagnostic {
    Diagnostic::new(&codes::RANGE_REVERSED, format!("`{}` is above `{}`", written(&range.low), written(high)))
        .at(range.low.span.to(high.span), "the lower end stands first")
        .write(format!("`{} .. {}`", written(high), written(&range.low)))
        .perhaps(range.low.span.to(high.span), format!("{} .. {}", written(high), written(&range.low)))
}

pub(super) fn written(amount: &Amount) -> String {
    match &amount.unit {
        Some(unit) => format!("{} {}", amount.digits, unit.value),
        None => amount.digits.clone(),
    }
}

pub(in crate::procedure) fn friction_unit(unit: &Word) -> Diagnostic {
    Diagnostic::new(&codes::WRONG_DIMENSION, "a coefficient of friction has no unit")
        .at(unit.span, "a bare number is wanted here")
        .write("it like `friction 0.10 .. 0.16`")
}

pub(in crate::procedure) fn not_money(amount: &Amount) -> Diagnostic {
    Diagnostic::new(&codes::NOT_MONEY, format!("`{}` is not a price", written(amount)))
        .at(amount.span, "a price is wanted here")
        .write("a number with at most two places and a currency, such as `12.50 EUR`")
}

pub(in crate::procedure) fn too_many_holes(amount: &Amount, most: u32) -> Diagnostic {
    Diagnostic::new(&codes::NOT_A_COUNT, format!("`{}` holes are more than a joint can have", amount.digits))
        .at(amount.span, format!("more than {most}"))
        .help("correct the count")
}

pub(in crate::procedure) fn too_large_a_count(amount: &Amount, what: &str, most: u32) -> Diagnostic {
    Diagnostic::new(&codes::OUT_OF_REASON, format!("`{}` {what} are more than there can be", amount.digits))
        .at(amount.span, format!("more than {most}"))
        .help("correct the count")
}

pub(in crate::procedure) fn too_long_a_time(amount: &Amount) -> Diagnostic {
    Diagnostic::new(
        &codes::OUT_OF_REASON,
        format!("`{}` is longer than anything at a bench takes", written(amount)),
    )
    .at(amount.span, "more than a year")
    .help("correct the number or its unit")
}

pub(in crate::procedure) fn too_many_answers(fate: Span, most: u32) -> Diagnostic {
    Diagnostic::new(
        &codes::OUT_OF_REASON,
        "what becomes of a part hangs on too many answers at once to be gone through",
    )
    .at(fate, format!("more than {most} combinations"))
    .help("put what belongs together into one question, or split the part")
}

pub(in crate::procedure) fn not_a_length_unit(word: &Word, unit: &Unit) -> Diagnostic {
    Diagnostic::new(
        &codes::WRONG_DIMENSION,
        format!("`{}` measures {}, where a length was expected", word.value, unit.dimension.name()),
    )
    .at(word.span, "places of holes are lengths")
    .write("`mm` or `in`")
}
