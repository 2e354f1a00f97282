//! `reckon clearance`: hole less shaft, from what was measured, cold and warm.

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::heat::{self, METALS, REFERENCE};
use crate::mechanics::{Band, Citation, Seen};
use crate::quantity::{Length, Temperature};

/// Clearance between a hole and a shaft as measured
#[derive(Debug, Args)]
pub(super) struct ClearanceForm {
    /// Diameter of the hole, or its range: `80.02 mm .. 80.04 mm`
    #[arg(long, allow_hyphen_values = true)]
    hole: String,
    /// Diameter of the shaft, or its range: `79.95 mm`
    #[arg(long, allow_hyphen_values = true)]
    shaft: String,
    /// Metal round the hole
    #[arg(long, requires_all = ["shaft_metal", "at"])]
    hole_metal: Option<String>,
    /// Metal of the shaft
    #[arg(long, requires_all = ["hole_metal", "at"])]
    shaft_metal: Option<String>,
    /// Temperature at which it is wanted as well: `90 degC`
    #[arg(long, requires_all = ["hole_metal", "shaft_metal"], allow_hyphen_values = true)]
    at: Option<String>,
}

impl ClearanceForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let hole: Given<Length> = typed::range("--hole", &self.hole)?;
        let shaft: Given<Length> = typed::range("--shaft", &self.shaft)?;
        let mut answer = Answer::new("clearance", "Clearance");
        answer.given(hole.line("hole"));
        answer.given(shaft.line("shaft"));
        answer.formula("clearance = hole − shaft", Citation::new("by definition", Seen::Derived));
        answer.source(heat::REFERENCE_SOURCE);
        let cold = Band { low: hole.band.low - shaft.band.high, high: hole.band.high - shaft.band.low };
        answer.estimate(Line::result("clearance on diameter, as measured", cold, "mm", 3));
        let share = |gap: Length, size: Length| gap / size * 1e3;
        answer.estimate(Line::ratio(
            "in thousandths of the shaft",
            share(cold.low, shaft.band.high),
            share(cold.high, shaft.band.low),
            2,
        ));
        if let (Some(outer), Some(inner), Some(at)) = (&self.hole_metal, &self.shaft_metal, &self.at) {
            let at: Given<Temperature> = typed::quantity("--at", at)?;
            answer.given(Line::words("metal round the hole", outer.trim()));
            answer.given(Line::words("metal of the shaft", inner.trim()));
            answer.given(at.line("temperature"));
            let kelvin = (at.value() - REFERENCE).base();
            let grows = |option, name: &str, size: Band<Length>| -> Asked<Band<Length>> {
                let metal = heat::metal_named(name.trim()).ok_or_else(|| {
                    let names: Vec<&str> = METALS.iter().map(|metal| metal.name).collect();
                    let problem = format!("no metal is called `{}` here", name.trim());
                    typed::wrong_word(
                        option,
                        &problem,
                        Mend::doing(format!("metals known are {}", names.join(", "))),
                    )
                })?;
                Ok(metal.millionths.map(|alpha| heat::change(size.high, alpha, kelvin)))
            };
            let (out, within) =
                (grows("--hole-metal", outer, hole.band)?, grows("--shaft-metal", inner, shaft.band)?);
            for name in [outer, inner] {
                answer.source(heat::metal_named(name.trim()).map_or(heat::HEAT_SOURCE, |metal| metal.source));
            }
            let warm =
                Band { low: cold.low + out.low - within.high, high: cold.high + out.high - within.low };
            answer.formula("ΔD = α D (t − 20 °C)", heat::REFERENCE_SOURCE);
            answer.estimate(Line::result("clearance at that temperature", warm, "mm", 3));
        }
        if cold.low < Length::ZERO {
            answer.finding("below nothing it is interference");
        }
        Ok(answer)
    }
}
