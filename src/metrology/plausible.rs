//! Readings that can't be: what was probably meant.

/// What probably happened to a reading outside what is plausible.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Slip {
    /// The decimal point slipped; it was meant to be this many times what was written.
    Decimal(f64),
    /// Written in millimetres, read in inches.
    InchesReadAsMillimetres,
    /// Written in inches, read in millimetres.
    MillimetresReadAsInches,
    /// Written in millimetres, read in thousandths of an inch; or in inches and read in thousandths.
    Thousandths,
    /// Nothing that we know of.
    Unexplained,
}

/// None for a value from `low` up to `high`; else the slip that would explain it. What was written in inches or thousandths of
/// them can have been meant in millimetres, and what was not, in inches.
pub(crate) fn questioned(value: f64, low: f64, high: f64, in_inches: bool) -> Option<(Slip, Option<f64>)> {
    let fits = |value: f64| value >= low && value <= high;
    if fits(value) {
        return None;
    }
    let slips = [
        (Slip::InchesReadAsMillimetres, 25.4),
        (Slip::MillimetresReadAsInches, 1.0 / 25.4),
        (Slip::Decimal(10.0), 10.0),
        (Slip::Decimal(0.1), 0.1),
        (Slip::Decimal(100.0), 100.0),
        (Slip::Decimal(0.01), 0.01),
        (Slip::Thousandths, 0.0254),
        (Slip::Decimal(1000.0), 1000.0),
        (Slip::Decimal(0.001), 0.001),
    ];
    let possible = |slip: Slip| match slip {
        Slip::InchesReadAsMillimetres => !in_inches,
        Slip::MillimetresReadAsInches => in_inches,
        _ => true,
    };
    let found = slips.into_iter().find(|(slip, factor)| possible(*slip) && fits(value * factor));
    Some(found.map_or((Slip::Unexplained, None), |(slip, factor)| (slip, Some(value * factor))))
}
