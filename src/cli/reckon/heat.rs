//! `reckon heat`: how warm the outer part or how cold the inner one must be for an interference fit.

use clap::Args;

use super::answer::{Answer, Line};
use super::fit::refused;
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::heat::{self, COLDS, Expansion, Gap, REFERENCE};
use crate::mechanics::{Band, fit};
use crate::quantity::{
    Bound, Dimension, Length, Quantity, Temperature, Unit, figure_against, limit_figure, stated_figure,
};

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
    /// Temperature it starts at; not stated, 20 °C
    #[arg(long, allow_hyphen_values = true)]
    start: Option<String>,
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

/// The hottest that parts are believed to start at. Our own bound, no source.
const HOTTEST_START: Temperature = Temperature::from_celsius(150.0);

impl HeatForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let bore: Given<Length> = typed::positive("--bore", &self.bore)?;
        let mut answer =
            Answer::new("heat", if self.cool { "Cooling for a fit" } else { "Heating for a fit" });
        answer.given(bore.line("diameter D"));
        let interference = self.interference(bore.value(), &mut answer)?;
        let metal = typed::metal("--material", &self.material)?;
        answer.given(Line::words("metal", metal.name));
        let slip =
            typed::maybe(self.slip.as_ref(), |text| typed::not_below_nothing::<Length>("--slip", text))?;
        match &slip {
            Some(slip) => answer.given(slip.line("clearance to slip home")),
            None => answer.assume(Line::words("clearance to slip home", "none: add `--slip`")),
        }
        let start: Given<Temperature> =
            typed::quantity("--start", self.start.as_deref().unwrap_or("20 degC"))?;
        if start.value() > HOTTEST_START {
            let mend =
                Mend::doing("give the temperature that both parts have before either is heated or cooled");
            return Err(typed::wrong("--start", "so hot no part lies on a bench", mend));
        }
        answer.given_or(self.start.is_some(), start.line("temperature at first"));
        let lost = typed::maybe(self.lost.as_ref(), |text| difference("--lost", text))?;
        match &lost {
            Some((quantity, _)) => answer.given(Line::words("lost on the way", quantity.printed())),
            None => answer.assume(Line::words("lost on the way", "nothing: add `--lost`")),
        }
        let kelvin = lost.map_or(0.0, |(_, kelvin)| kelvin);
        answer.assume(Line::words("the other part", "stays at the temperature at first"));
        let slip = slip.map_or(Length::ZERO, |slip| slip.value());
        let gap = Gap { diameter: bore.value(), interference, slip };
        answer.source(metal.source);
        answer.source(heat::REFERENCE_SOURCE);
        let alpha = metal.millionths;
        answer.tabled(Line::ratio(
            "expansion α about 20 °C, millionths for each kelvin",
            alpha.low,
            alpha.high,
            1,
        ));
        if self.cool {
            cool(gap, metal, start.value(), kelvin, &mut answer)?;
        } else {
            self.heat(gap, metal, start.value(), kelvin, &mut answer)?;
        }
        if start.value() != REFERENCE {
            answer.note("sizes hold at 20 °C: both parts must start at the same temperature");
        }
        Ok(answer)
    }

    fn heat(
        &self,
        gap: Gap,
        metal: &Expansion,
        start: Temperature,
        lost: f64,
        answer: &mut Answer,
    ) -> Asked<()> {
        answer.formula("ΔT = (interference + slip)/(α D)", heat::HEAT_SOURCE);
        let rise = heat::difference(gap, metal.millionths).map(Temperature::from_kelvin);
        let needed = heat::heat_to(gap, metal.millionths, start, lost);
        if needed.high > metal.bound {
            let (most, bound) = (needed.high.celsius(), metal.bound.celsius());
            let (most, bound) = (figure_against(most, 0, &[bound]), stated_figure(bound, 0));
            return Err(typed::wrong(
                "--interference",
                &format!(
                    "it would take {most} °C, and of {} nothing is said here above {bound} °C",
                    metal.name
                ),
                Mend::doing("cool the inner part as well, press it, or measure both again"),
            ));
        }
        answer.estimate(Line::result("difference ΔT", rise, "K", 3));
        answer.estimate(Line::result("heat to", needed, "degC", 3));
        answer.tabled(Line::result(
            "nothing is said of the metal above",
            Band::exactly(metal.bound),
            "degC",
            3,
        ));
        if needed.high > heat::EVEN_EXPANSION {
            answer.finding(
                "above 200 °C metals expand more than these figures have it: this errs to the hot side",
            );
        }
        self.top(needed, answer)?;
        answer.note("heat evenly, never with a flame on one spot; the maker's limits for metal, seals and hardness hold");
        Ok(())
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

/// What the cold makes of it, and what reaches that cold.
fn cool(gap: Gap, metal: &Expansion, start: Temperature, lost: f64, answer: &mut Answer) -> Asked<()> {
    answer.formula(
        "D · α · (K at t − K at the start) = interference + slip, K from the table of the cold",
        heat::HEAT_SOURCE,
    );
    answer.source(metal.cold.source);
    let most = heat::most_contraction(gap.diameter, metal, start);
    let Some(needed) = heat::cool_to(gap, metal, start, lost) else {
        let problem = format!(
            "no cold is enough: in liquid nitrogen it gets smaller by {} mm at least, and that much is asked for on \
             arrival",
            limit_figure(most.mm(), 3, Bound::Most)
        );
        let mend = Mend::doing("heat the outer part as well, or measure both again");
        return Err(typed::wrong("--interference", &problem, mend));
    };
    answer.estimate(Line::result("cool to", needed, "degC", 3));
    answer.estimate(Line::at_most("smaller by, in liquid nitrogen", Band::exactly(most), "mm", 3));
    if let Some((name, _)) = COLDS.iter().find(|(_, cold)| *cold <= needed.low) {
        answer.finding(format!("what reaches it: {name}"));
    }
    answer.note(
        "the cold burns, and what boils off displaces the air: gloves, goggles, an open room; rime is wiped off; iron \
         and steel are brittle while they are cold (common practice, no source)",
    );
    Ok(())
}

/// A difference of temperature, in kelvin; not below nothing.
fn difference(option: &str, text: &str) -> Asked<(Quantity, f64)> {
    let given: Given<Temperature> = typed::not_below_nothing(option, text)?;
    let written = Quantity::parse(text).ok().filter(|written| written.dimension() == Dimension::TEMPERATURE);
    let unit = Unit::find(given.unit()).expect("it was read in this unit");
    let written = written.expect("it was read before");
    Ok((written, written.numeral().value() * unit.scale()))
}
