//! Readings that can hardly be right: outside what the procedure calls plausible, with a guess at the slip.

use super::sizes::Sizes;
use super::{errors, shown};
use crate::diagnostics::Diagnostic;
use crate::metrology::{Slip, questioned};
use crate::procedure::model::Procedure;
use crate::quantity::{Quantity, Unit};
use crate::record::{Job, Reading};
use crate::source::Span;

/// A complaint about a reading outside what is plausible.
pub(super) fn question(procedure: &Procedure, job: &Job, reading: &Reading) -> Option<Diagnostic> {
    let gauge = procedure.gauge(reading.gauge);
    let at = (reading.gauge, reading.place);
    let (low, high) = Sizes::plausible(procedure, job, at, reading.occasion)?;
    let (unit, places) = (reading.value.unit(), places_of(reading.value));
    let in_inches = ["in", "thou"].contains(&unit.symbol);
    let (slip, meant) = questioned(reading.value.base(), low.base(), high.base(), in_inches)?;
    let in_unit =
        |unit: &'static Unit, places: u8| meant.map(|meant| Quantity::from_base(meant, unit, places));
    let same_unit = in_unit(unit, places.max(3));
    let guess = match slip {
        Slip::Decimal(_) => {
            same_unit.map(|meant| format!("did the decimal point slip? `{meant}` would be plausible"))
        }
        Slip::InchesReadAsMillimetres => {
            let number = reading.value.numeral();
            same_unit
                .map(|meant| format!("was `{number}` read in inches? that is `{meant}`: write `{number} in`"))
        }
        Slip::MillimetresReadAsInches => {
            let number = reading.value.numeral();
            Some(format!("was `{number}` read in millimetres? write `{number} mm`"))
        }
        Slip::Thousandths => {
            let number = reading.value.numeral();
            Some(format!("was `{number}` read in thousandths of an inch? write `{number} thou`"))
        }
        Slip::Unexplained => None,
    };
    let name = shown::named(procedure, &gauge.naming.id, &gauge.axes, reading.place);
    let span: Span = gauge.naming.span;
    Some(errors::implausible(reading.span, &name, reading.value, (low, high), span, guess))
}

fn places_of(quantity: Quantity) -> u8 {
    match quantity.numeral() {
        crate::quantity::Numeral::Decimal { places, .. } => places,
        crate::quantity::Numeral::Fraction { .. } => 4,
    }
}
