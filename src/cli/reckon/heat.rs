//! `reckon heat`: how warm the outer part or how cold the inner one must be for an interference fit.

use clap::Args;

use super::answer::{Answer, Line};
use super::fit::refused;
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::heat::{self, Gap, METALS, REFERENCE};
use crate::mechanics::{Band, fit};
use crate::quantity::{Dimension, Length, Quantity, Temperature, Unit};

/// Heating (or cooling) for an interference fit
#[derive(Debug, Args)]
pub(super) struct HeatForm {
    /// Diameter at the fit: `50 mm`
    #[arg(long, allow_hyphen_values = true)]
    bore: String,
    /// Interference to overcome: `0.042 mm`
    #[arg(long, required_unless_present = "fit", allow_hyphen_values = true)]
    interference: Option<String>,
    /// Take the interference from a fit: `H7/p6`
    #[arg(long, conflicts_with = "interference")]
    fit: Option<String>,
    /// Metal of the part that is heated or cooled: `grey iron`
    #[arg(long)]
    material: String,
    /// Clearance wanted so that it slips home: `0.02 mm`
    #[arg(long, allow_hyphen_values = true)]
    slip: Option<String>,
    /// Temperature it starts at
    #[arg(long, default_value = "20 degC", allow_hyphen_values = true)]
    start: String,
    /// What it loses on the way, as a difference: `15 degC`
    #[arg(long, allow_hyphen_values = true)]
    lost: Option<String>,
    /// The maker's top temperature: it always holds
    #[arg(long, allow_hyphen_values = true)]
    top: Option<String>,
    /// Cool the inner part instead
    #[arg(long, conflicts_with = "top")]
    cool: bool,
}

impl HeatForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let bore: Given<Length> = typed::positive("--bore", &self.bore)?;
        let mut answer =
            Answer::new("heat", if self.cool { "Cooling for a fit" } else { "Heating for a fit" });
        answer.given(bore.line("diameter D"));
        let interference = self.interference(bore.value(), &mut answer)?;
        let metal = heat::metal_named(self.material.trim()).ok_or_else(|| {
            let names: Vec<&str> = METALS.iter().map(|metal| metal.name).collect();
            let problem = format!("no metal is called `{}` here", self.material.trim());
            typed::wrong_word(
                "--material",
                &problem,
                Mend::doing(format!("metals known are {}", names.join(", "))),
            )
        })?;
        answer.given(Line::words("metal", metal.name));
        let slip = typed::maybe(self.slip.as_ref(), |text| typed::quantity::<Length>("--slip", text))?;
        if let Some(slip) = &slip {
            answer.given(slip.line("clearance to slip home"));
        }
        let start: Given<Temperature> = typed::quantity("--start", &self.start)?;
        answer.given(start.line("temperature at first"));
        let lost = typed::maybe(self.lost.as_ref(), |text| difference("--lost", text))?;
        if let Some((quantity, _)) = &lost {
            answer.given(Line::words("lost on the way", quantity.printed()));
        }
        let kelvin = lost.map_or(0.0, |(_, kelvin)| kelvin);
        let slip = slip.map_or(Length::ZERO, |slip| slip.value());
        let gap = Gap { diameter: bore.value(), interference, slip };
        let alpha = metal.millionths;
        answer.formula("ΔT = (interference + slip)/(α D)", heat::HEAT_SOURCE);
        answer.source(metal.source);
        answer.source(heat::REFERENCE_SOURCE);
        answer.tabled(Line::ratio("expansion α, millionths for each kelvin", alpha.low, alpha.high, 1));
        let rise = heat::difference(gap, alpha).map(Temperature::from_kelvin);
        answer.estimate(Line::result("difference ΔT", rise, "K", 3));
        let needed = if self.cool {
            heat::cool_to(gap, alpha, start.value(), kelvin)
        } else {
            heat::heat_to(gap, alpha, start.value(), kelvin)
        };
        if needed.low.base() <= 0.0 {
            return Err(typed::wrong(
                "--interference",
                "no temperature is cold enough for so much",
                Mend::doing("heat the outer part as well, or measure both again"),
            ));
        }
        answer.estimate(Line::result(if self.cool { "cool to" } else { "heat to" }, needed, "degC", 3));
        self.top(needed, &mut answer)?;
        if start.value() != REFERENCE {
            answer.note("sizes hold at 20 °C: both parts must start at the same temperature");
        }
        if slip == Length::ZERO {
            answer.note("nothing is allowed for slipping it home: add `--slip`");
        }
        answer.note("heat evenly, never with a flame on one spot; the maker's limits for metal, seals and hardness hold");
        Ok(answer)
    }

    fn interference(&self, bore: Length, answer: &mut Answer) -> Asked<Length> {
        if let Some(text) = &self.fit {
            let (hole, shaft) = fit::parse(text).map_err(|error| refused(&error))?;
            let found = fit::fit(bore, hole, shaft).map_err(|error| refused(&error))?;
            let most = -found.clearance().low;
            if most <= Length::ZERO {
                let problem = format!("`{hole}/{shaft}` has no interference at this size");
                return Err(typed::wrong_word("--fit", &problem, Mend::doing("it goes together cold")));
            }
            answer.given(Line::words("fit", format!("{hole}/{shaft}")));
            answer.given(Line::result("greatest interference", Band::exactly(most), "um", 4));
            answer.source(fit::FIT_SOURCE);
            return Ok(most);
        }
        let text = self.interference.as_deref().unwrap_or_default();
        let given: Given<Length> = typed::positive("--interference", text)?;
        answer.given(given.line("interference"));
        Ok(given.value())
    }

    fn top(&self, needed: Band<Temperature>, answer: &mut Answer) -> Asked<()> {
        let Some(text) = &self.top else { return Ok(()) };
        let top: Given<Temperature> = typed::quantity("--top", text)?;
        answer.given(top.line("top temperature"));
        if heat::passes(needed, top.value()) {
            answer.finding("the top temperature holds: by heat alone it may not go together, so cool the inner part as well");
        }
        Ok(())
    }
}

/// A difference of temperature, in kelvin.
fn difference(option: &str, text: &str) -> Asked<(Quantity, f64)> {
    let given: Given<Temperature> = typed::quantity(option, text)?;
    let written = Quantity::parse(text).ok().filter(|written| written.dimension() == Dimension::TEMPERATURE);
    let unit = Unit::find(given.unit()).expect("it was read in this unit");
    let written = written.expect("it was read before");
    Ok((written, written.numeral().value() * unit.scale()))
}
