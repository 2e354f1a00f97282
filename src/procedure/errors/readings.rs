//! Complaints about gauges, looks and formulas.

use crate::diagnostics::Diagnostic;
use crate::diagnostics::codes::procedure as codes;
use crate::language::tree::Word;
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

pub(in crate::procedure) fn no_bands(at: Span, gauge: &Word) -> Diagnostic {
    Diagnostic::new(&codes::NO_BANDS, format!("`{}` has no bands that could answer a question", gauge.value))
        .at(at, "used as a question here")
        .at(gauge.span, "declared without bands")
        .write("bands for the gauge, such as `bands good 0 mm .. 0.05 mm, renew above 0.05 mm`")
}

pub(in crate::procedure) fn formula_dimension(at: Span, message: &str, help: &str) -> Diagnostic {
    Diagnostic::new(&codes::FORMULA_DIMENSION, message).at(at, "").help(help)
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
