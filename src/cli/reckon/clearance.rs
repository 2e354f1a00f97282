//! `reckon clearance`: hole less shaft, from what was measured, cold and warm.

use clap::Args;

use super::answer::{Answer, Line};
use super::judged;
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::heat::{self, REFERENCE};
use crate::mechanics::{Band, Citation, Seen};
use crate::quantity::{Length, Temperature, stated_figure};

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
    /// Temperature of the shaft, where it is another: `160 degC`
    #[arg(long, requires = "at", allow_hyphen_values = true)]
    shaft_at: Option<String>,
}

/// Interference as a share of the size that a fit is pressed with at the most: u at small sizes has 0.6 %. Our own line, no
/// source.
const MOST_GRIP: f64 = 0.01;
/// Clearance or interference as a share of the size beyond which nobody believes it. Our own, no source.
const MOST_CLEARANCE: f64 = 0.05;

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
        answer.estimate(Line::against("clearance on diameter, as measured", cold, "mm", 3, &[Length::ZERO]));
        let share = |gap: Length, size: Length| gap / size * 1e3;
        answer.estimate(Line::ratio(
            "in thousandths of the shaft",
            share(cold.low, shaft.band.high),
            share(cold.high, shaft.band.low),
            2,
        ));
        answer.assume_exact(hole.band.is_exact() && shaft.band.is_exact());
        if self.at.is_none() {
            answer.assume(Line::words("temperature", "both measured at one, and run at that: add `--at`"));
        }
        if cold.low < Length::ZERO {
            answer.finding("below nothing it is interference");
        }
        if cold.high < -hole.band.low * MOST_GRIP && cold.high >= -hole.band.low * MOST_CLEARANCE {
            answer.finding("no fit is pressed so tight: a reading or its unit is wrong, read both again");
        }
        judged::believe(
            "the clearance",
            cold,
            hole.band.low.min(shaft.band.low),
            MOST_CLEARANCE,
            &mut answer,
        );
        self.warm(&hole, &shaft, cold, &mut answer)?;
        Ok(answer)
    }

    fn warm(
        &self,
        hole: &Given<Length>,
        shaft: &Given<Length>,
        cold: Band<Length>,
        answer: &mut Answer,
    ) -> Asked<()> {
        let (Some(outer), Some(inner), Some(at)) = (&self.hole_metal, &self.shaft_metal, &self.at) else {
            return Ok(());
        };
        let at: Given<Temperature> = typed::quantity("--at", at)?;
        let shaft_at =
            typed::maybe(self.shaft_at.as_ref(), |text| typed::quantity::<Temperature>("--shaft-at", text))?;
        let mut grows = |part: &str, options: (&str, &str), metal: &str, size: Length, at: Temperature| {
            let metal = typed::metal(options.0, metal)?;
            answer.given(Line::words(&format!("metal of the {part}"), metal.name));
            answer.source(metal.source);
            if at < REFERENCE {
                answer.source(metal.cold.source);
            }
            heat::change_at(size, metal, at).ok_or_else(|| {
                let bound = stated_figure(metal.bound.celsius(), 0);
                let mend = Mend::doing(format!("of {} it is reckoned from −196 to {bound} °C", metal.name));
                typed::wrong(options.1, "so hot or cold nothing is known of it here", mend)
            })
        };
        let inner_at = shaft_at.map_or(at.value(), |given| given.value());
        let out = grows("hole", ("--hole-metal", "--at"), outer, hole.band.high, at.value())?;
        let option = if shaft_at.is_some() { "--shaft-at" } else { "--at" };
        let within = grows("shaft", ("--shaft-metal", option), inner, shaft.band.high, inner_at)?;
        answer.given(at.line(if shaft_at.is_some() { "temperature of the hole" } else { "temperature" }));
        match shaft_at {
            Some(given) => answer.given(given.line("temperature of the shaft")),
            None => answer
                .assume(Line::words("temperature of the shaft", "that of the hole: a piston runs hotter")),
        }
        let warm = Band { low: cold.low + out.low - within.high, high: cold.high + out.high - within.low };
        answer.formula("ΔD = α D (t − 20 °C)", heat::REFERENCE_SOURCE);
        answer.estimate(Line::against("clearance at that temperature", warm, "mm", 3, &[Length::ZERO]));
        if cold.low >= Length::ZERO && warm.low <= Length::ZERO {
            answer.finding(if warm.high <= Length::ZERO {
                "it seizes at that temperature: nothing of the clearance is left"
            } else {
                "it may seize at that temperature: the least clearance is used up"
            });
        }
        Ok(())
    }
}
