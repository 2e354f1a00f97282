//! `reckon press`: force to press a fit together, and the torque that it holds.

use clap::Args;

use super::answer::{Answer, Line};
use super::fit::refused;
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::joint::plate_metals;
use crate::mechanics::press::{self, Cylinder, PressFit};
use crate::mechanics::{Band, fit};
use crate::quantity::{Length, Ratio, stated_figure};

/// Force to press a fit together, and what it holds
#[derive(Debug, Args)]
pub(super) struct PressForm {
    /// Diameter at the fit
    #[arg(long, allow_hyphen_values = true)]
    diameter: String,
    /// Length of the fit
    #[arg(long, allow_hyphen_values = true)]
    length: String,
    /// Outside diameter of the hub
    #[arg(long, allow_hyphen_values = true)]
    outside: String,
    /// Bore of a hollow shaft or bush; not stated, solid
    #[arg(long, allow_hyphen_values = true)]
    hollow: Option<String>,
    /// Interference, or its range: `0.02 mm .. 0.05 mm`
    #[arg(long, required_unless_present = "fit", allow_hyphen_values = true)]
    interference: Option<String>,
    /// Take the interference from a fit: `H7/p6`
    #[arg(long, conflicts_with = "interference")]
    fit: Option<String>,
    /// Metal of the hub
    #[arg(long)]
    hub: String,
    /// Metal of the shaft
    #[arg(long)]
    shaft: String,
    /// Coefficient of friction between them, or its range; not stated, 0.06 to 0.20
    #[arg(long, allow_hyphen_values = true)]
    friction: Option<String>,
}

/// Friction of pressed parts from oiled to dry: our own estimate, no source.
const UNSTATED: Band<Ratio> = Band { low: Ratio::from_fraction(0.06), high: Ratio::from_fraction(0.20) };

/// Drawn by more than this the hub is not taken for elastic: where the yield of steel is counted, 0.2 % of lasting stretch.
/// Our own line, no source.
const MOST_STRAIN: Ratio = Ratio::from_fraction(0.002);

impl PressForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("press", "Press fit");
        let fitted = self.sizes(&mut answer)?;
        let interference = self.interference(fitted.diameter, &mut answer)?;
        let mu = typed::friction_or(self.friction.as_ref(), UNSTATED, &mut answer)?;
        answer.assume(Line::words("both parts", "plain cylinders of one length, elastic, faces smooth"));
        answer.formula("p = δ/(d (C_o/E_o + C_i/E_i))", press::PRESS_SOURCE);
        answer.formula("F = μ p π d L, T = F d/2", press::HOLD_SOURCE);
        let pressure = interference.map(|interference| fitted.pressure(interference));
        answer.estimate(Line::result("pressure p", pressure, "MPa", 3));
        let hoop = pressure.map(|pressure| fitted.hoop_stress(pressure));
        answer.estimate(Line::result("pull along the hub at its bore", hoop, "MPa", 3));
        let force =
            Band { low: fitted.force(pressure.low, mu.low), high: fitted.force(pressure.high, mu.high) };
        answer.estimate(Line::result("force to press it home", force, "kN", 3));
        let torque =
            Band { low: fitted.torque(pressure.low, mu.low), high: fitted.torque(pressure.high, mu.high) };
        answer.estimate(Line::result("torque that it holds", torque, "N.m", 3));
        if fitted.strain(hoop.high) > MOST_STRAIN {
            answer.finding(format!(
                "the hub is drawn by more than {} % at its bore, where few metals are still elastic: it may burst or give, \
                 and holds less than reckoned",
                stated_figure(MOST_STRAIN.percent(), 1)
            ));
        }
        answer.finding("count on the lower end for what it holds, and on the upper end for the press");
        answer.note("rough faces lose some of the interference as they are pressed; whether the hub bears the pull is not reckoned");
        Ok(answer)
    }

    fn sizes(&self, answer: &mut Answer) -> Asked<PressFit> {
        let diameter: Given<Length> = typed::positive("--diameter", &self.diameter)?;
        let length: Given<Length> = typed::positive("--length", &self.length)?;
        let outside: Given<Length> = typed::positive("--outside", &self.outside)?;
        let hollow = typed::maybe(self.hollow.as_ref(), |text| typed::positive::<Length>("--hollow", text))?;
        answer.given(diameter.line("diameter d"));
        answer.given(length.line("length of the fit L"));
        answer.given(outside.line("outside of the hub D"));
        match &hollow {
            Some(hollow) => answer.given(hollow.line("bore of the shaft a")),
            None => answer.assume(Line::words("shaft", "solid")),
        }
        let bore = hollow.map_or(Length::ZERO, |hollow| hollow.value());
        let between = |option, problem| {
            Err(typed::wrong(option, problem, Mend::doing("measure all three diameters again")))
        };
        if outside.value() <= diameter.value() {
            return between("--outside", "the hub is no wider than the fit");
        }
        if bore >= diameter.value() {
            return between("--hollow", "the shaft's bore is as wide as the fit");
        }
        let mut of = |option: &str, name: &str, part: &str, free: Length| {
            answer.given(Line::words(part, name.trim()));
            Cylinder::of(name.trim(), free).ok_or_else(|| {
                let known: Vec<&str> = plate_metals().collect();
                let problem = format!("no metal is called `{}` here", name.trim());
                typed::wrong_word(
                    option,
                    &problem,
                    Mend::doing(format!("metals known are {}", known.join(", "))),
                )
            })
        };
        Ok(PressFit {
            diameter: diameter.value(),
            length: length.value(),
            hub: of("--hub", &self.hub, "metal of the hub", outside.value())?,
            shaft: of("--shaft", &self.shaft, "metal of the shaft", bore)?,
        })
    }

    fn interference(&self, diameter: Length, answer: &mut Answer) -> Asked<Band<Length>> {
        let Some(text) = &self.fit else {
            let given: Given<Length> =
                typed::range("--interference", self.interference.as_deref().unwrap_or_default())?;
            answer.given(given.line("interference δ"));
            return Ok(given.band);
        };
        let (hole, shaft) = fit::parse(text).map_err(|error| refused(&error))?;
        let found = fit::fit(diameter, hole, shaft).map_err(|error| refused(&error))?;
        let clearance = found.clearance();
        if clearance.high > Length::ZERO {
            let problem = format!("`{hole}/{shaft}` may have no interference at this size");
            let mend = Mend::doing("give the interference as measured, with `--interference`");
            return Err(typed::wrong_word("--fit", &problem, mend));
        }
        let grip = Band { low: -clearance.high, high: -clearance.low };
        answer.given(Line::words("fit", format!("{hole}/{shaft}")));
        answer.given(Line::limits("interference δ", grip, "um"));
        answer.source(fit::FIT_SOURCE);
        Ok(grip)
    }
}
