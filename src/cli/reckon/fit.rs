//! `reckon fit`: limits of hole and shaft, and the clearance or interference between them.

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::mechanics::Band;
use crate::mechanics::fit::{self, FitError, FitKind};
use crate::quantity::Length;

/// Limits of a fit such as H7/p6 at a size
#[derive(Debug, Args)]
pub(super) struct FitForm {
    /// Nominal size: `50 mm`
    #[arg(value_name = "SIZE", allow_hyphen_values = true)]
    size: String,
    /// Hole and shaft: `H7/p6`
    #[arg(value_name = "FIT")]
    fit: String,
}

/// A complaint about a fit or its size.
pub(super) fn refused(error: &FitError) -> Box<crate::diagnostics::Diagnostic> {
    match error {
        FitError::SizeOutOfRange => typed::wrong("SIZE", &error.to_string(), error.mend()),
        _ => typed::wrong_word("FIT", &error.to_string(), error.mend()),
    }
}

/// Share of a size that its deviations are believed to be. Our own, no source.
const MOST_DEVIATION: f64 = 0.1;

impl FitForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let size: Given<Length> = typed::positive("SIZE", &self.size)?;
        let (hole, shaft) = fit::parse(&self.fit).map_err(|error| refused(&error))?;
        let found = fit::fit(size.value(), hole, shaft).map_err(|error| refused(&error))?;
        let mut answer = Answer::new("fit", format!("Fit {hole}/{shaft}"));
        answer.given(Line::limits("nominal size", size.band, "mm"));
        answer.given(Line::words("hole and shaft", format!("{hole}/{shaft}")));
        answer.formula("clearance = hole − shaft; below nothing it is interference", fit::FIT_SOURCE);
        let limits = |name, band| Line::limits(name, band, "um");
        answer.tabled(limits("deviation of the hole", found.hole));
        answer.tabled(limits("deviation of the shaft", found.shaft));
        let sizes = |deviation: Band<Length>| Band {
            low: size.value() + deviation.low,
            high: size.value() + deviation.high,
        };
        answer.tabled(Line::limits("hole", sizes(found.hole), "mm"));
        answer.tabled(Line::limits("shaft", sizes(found.shaft), "mm"));
        let clearance = found.clearance();
        let grip = Band { low: -clearance.high, high: -clearance.low };
        match found.kind() {
            FitKind::Clearance => answer.tabled(limits("clearance", clearance)),
            FitKind::Interference => answer.tabled(limits("interference", grip)),
            FitKind::Transition => {
                answer.tabled(Line::limit("clearance, at most", clearance.high, "um"));
                answer.tabled(Line::limit("interference, at most", grip.high, "um"));
            }
        }
        answer.tabled(Line::words(
            "kind",
            match found.kind() {
                FitKind::Clearance => "clearance fit",
                FitKind::Interference => "interference fit",
                FitKind::Transition => "transition fit",
            },
        ));
        let widest = [found.hole, found.shaft].map(|band| band.low.abs().max(band.high.abs()));
        if widest[0].max(widest[1]) > size.value() * MOST_DEVIATION {
            answer
                .finding("these limits are more than a tenth of the size itself: mind the unit of the size");
        }
        answer.source(crate::mechanics::heat::REFERENCE_SOURCE);
        answer.note("limits from a table; parts are measured, at 20 °C");
        Ok(answer)
    }
}
