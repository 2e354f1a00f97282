//! `reckon spring`: rate of a valve spring, its load at the fitted height and open, and how far it is from coil bind.

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::Band;
use crate::mechanics::coil_spring::{self, SHEAR_MODULUS};
use crate::quantity::{Force, Length, Stiffness};

/// A coil spring: rate, load at a height, coil bind
#[derive(Debug, Args)]
pub(super) struct SpringForm {
    /// Free height
    #[arg(long, conflicts_with = "measured", allow_hyphen_values = true)]
    free: Option<String>,
    /// Two heights and the loads measured there: `40 mm = 250 N, 31 mm = 620 N`
    #[arg(long, conflicts_with = "wire")]
    measured: Option<String>,
    /// Rate, where it is known: `35 N/mm`; with the free height, or a load measured at one height
    #[arg(long, conflicts_with_all = ["measured", "wire"], requires = "fitted", allow_hyphen_values = true)]
    rate: Option<String>,
    /// A load at one height, for a known rate: `40 mm = 250 N`
    #[arg(long, requires = "rate", conflicts_with_all = ["free", "measured", "wire"])]
    load: Option<String>,
    /// Thickness of the wire
    #[arg(long, requires_all = ["outside", "coils", "free"], allow_hyphen_values = true)]
    wire: Option<String>,
    /// Outside diameter of the coils
    #[arg(long, requires = "wire", conflicts_with_all = ["measured", "rate"], allow_hyphen_values = true)]
    outside: Option<String>,
    /// Coils, all of them, the closed ends counted: `6.5`
    #[arg(long, requires = "wire", conflicts_with_all = ["measured", "rate"], allow_hyphen_values = true)]
    coils: Option<String>,
    /// Closed coils that don't work, both ends together; not stated, 2
    #[arg(long, requires = "coils", conflicts_with_all = ["measured", "rate"], allow_hyphen_values = true)]
    closed: Option<String>,
    /// Fitted height, valve shut
    #[arg(long, allow_hyphen_values = true)]
    fitted: Option<String>,
    /// Lift of the valve
    #[arg(long, requires = "fitted", allow_hyphen_values = true)]
    lift: Option<String>,
    /// Height at which the coils touch, where it is known
    #[arg(long, conflicts_with = "wire", allow_hyphen_values = true)]
    solid: Option<String>,
}

/// The stiffest that a valve's spring is believed to be. Our own bound, no source: those of engines come to some 100 N/mm.
const MOST_RATE: Stiffness = Stiffness::from_newtons_per_mm(1000.0);

/// A spring as it is known.
struct Known {
    /// A height and the load there.
    at: (Length, Force),
    rate: Stiffness,
    solid: Option<Length>,
}

impl SpringForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("spring", "Coil spring");
        let known = match (&self.measured, &self.rate, &self.wire) {
            (Some(measured), ..) => self.measured(measured, &mut answer)?,
            (None, Some(rate), _) => self.rated(rate, &mut answer)?,
            (None, None, Some(wire)) => self.wound(wire, &mut answer)?,
            (None, None, None) => {
                return Err(typed::too_little(
                    "neither measured loads nor a rate nor a wire was given",
                    Mend::doing(
                        "add `--measured \"40 mm = 250 N, 31 mm = 620 N\"`, `--rate` with `--free`, or `--wire`, `--outside`, `--coils` and `--free`",
                    ),
                ));
            }
        };
        if self.rate.is_none() {
            answer.estimate(Line::result("rate k", Band::exactly(known.rate), "N/mm", 3));
        }
        if known.rate > MOST_RATE {
            answer.finding("so stiff is no spring of a valve: mind the unit of its rate or loads");
        }
        if let Some(solid) = known.solid {
            answer.estimate(Line::result("height at which the coils touch", Band::exactly(solid), "mm", 4));
        }
        if let Some(text) = &self.fitted {
            self.loads(text, &known, &mut answer)?;
        }
        Ok(answer)
    }

    fn measured(&self, text: &str, answer: &mut Answer) -> Asked<Known> {
        let points = typed::heights_and_loads("--measured", text)?;
        let wrong = || {
            let mend = Mend::write("two heights, each with its load: `40 mm = 250 N, 31 mm = 620 N`");
            typed::wrong("--measured", "a rate takes two heights, and more load at the lower one", mend)
        };
        let &[first, second] = points.as_slice() else { return Err(wrong()) };
        let (high, low) = if first.0 > second.0 { (first, second) } else { (second, first) };
        if high.0 <= low.0 || low.1 <= high.1 {
            return Err(wrong());
        }
        answer.given(Line::words("measured", text.trim()));
        answer.assume(Line::words("rate", "the same all the way: no coils that touch early"));
        answer.formula("k = (F₂ − F₁)/(L₁ − L₂)", coil_spring::LOAD_SOURCE);
        let rate = coil_spring::rate_between(high, low);
        Ok(Known { at: high, rate, solid: self.touching(answer)? })
    }

    /// A spring whose rate is known, from its free height, where it bears nothing, or from a load at one height.
    fn rated(&self, rate: &str, answer: &mut Answer) -> Asked<Known> {
        let rate: Given<Stiffness> = typed::positive("--rate", rate)?;
        answer.given(rate.line("rate k"));
        let at = match (&self.load, &self.free) {
            (Some(load), _) => {
                let points = typed::heights_and_loads("--load", load)?;
                let &[at] = points.as_slice() else {
                    let mend = Mend::write("one height with its load: `40 mm = 250 N`");
                    return Err(typed::wrong("--load", "one load is wanted", mend));
                };
                answer.given(Line::words("load", load.trim()));
                at
            }
            (None, Some(free)) => {
                let free: Given<Length> = typed::positive("--free", free)?;
                answer.given(free.line("free height"));
                (free.value(), Force::ZERO)
            }
            (None, None) => {
                return Err(typed::too_little(
                    "a rate alone doesn't say where the spring begins to bear",
                    Mend::doing("add `--free \"46 mm\"`, or `--load \"40 mm = 250 N\"`"),
                ));
            }
        };
        answer.assume(Line::words("rate", "the same all the way: no coils that touch early"));
        Ok(Known { at, rate: rate.value(), solid: self.touching(answer)? })
    }

    /// The height at which the coils touch, where it is given.
    fn touching(&self, answer: &mut Answer) -> Asked<Option<Length>> {
        let solid = typed::maybe(self.solid.as_ref(), |text| typed::positive::<Length>("--solid", text))?;
        if let Some(solid) = &solid {
            answer.given(solid.line("height at which the coils touch"));
        }
        Ok(solid.map(|solid| solid.value()))
    }

    fn wound(&self, wire: &str, answer: &mut Answer) -> Asked<Known> {
        let wire: Given<Length> = typed::positive("--wire", wire)?;
        let outside: Given<Length> =
            typed::positive("--outside", self.outside.as_deref().unwrap_or_default())?;
        let free: Given<Length> = typed::positive("--free", self.free.as_deref().unwrap_or_default())?;
        let coils = typed::ratio("--coils", self.coils.as_deref().unwrap_or_default())?.high.fraction();
        let closed = typed::maybe(self.closed.as_ref(), |text| typed::ratio("--closed", text))?;
        let dead = closed.map_or(2.0, |closed| closed.high.fraction());
        let mean = outside.value() - wire.value();
        let refuse =
            |option, problem: &str, mend: &str| Err(typed::wrong(option, problem, Mend::doing(mend)));
        if mean < wire.value() * 3.0 {
            return refuse(
                "--outside",
                "coils so tight are not reckoned by this formula",
                "it holds from a mean diameter of 3 wires up",
            );
        }
        if coils <= dead {
            return refuse(
                "--coils",
                "none of the coils works",
                "count all coils, the closed ends with them",
            );
        }
        let solid = coil_spring::solid_height(wire.value(), coils);
        if free.value() <= solid {
            return refuse(
                "--free",
                "the coils touch before it is fitted",
                "measure free height, wire and coils again",
            );
        }
        for line in [wire.line("wire d"), outside.line("outside of the coils"), free.line("free height")] {
            answer.given(line);
        }
        answer.given(Line::stated("coils, all", coils, coils, 1));
        answer.given_or(closed.is_some(), Line::stated("closed coils", dead, dead, 1));
        answer.assume(Line::result(
            "shear modulus G of spring steel",
            Band::exactly(SHEAR_MODULUS),
            "MPa",
            3,
        ));
        answer
            .formula("k = G d⁴/(8 D³ n), D the mean diameter, n the working coils", coil_spring::RATE_SOURCE);
        answer.formula("solid height = d · all coils", coil_spring::BIND_SOURCE);
        let (index, working) = (mean / wire.value(), coils - dead);
        if !(4.0..=20.0).contains(&index) || working < 2.0 {
            answer.source(coil_spring::RANGE_SOURCE);
            answer.finding(
                "outside what the formula is trusted for: a mean diameter of 4 to 20 wires, and two working coils; measure its loads instead",
            );
        }
        let rate = coil_spring::rate(wire.value(), mean, coils - dead, SHEAR_MODULUS);
        answer.note(
            "a spring with unlike gaps, a conical one, or two in each other have no one rate: measure them",
        );
        Ok(Known { at: (free.value(), Force::ZERO), rate, solid: Some(solid) })
    }

    fn loads(&self, fitted: &str, known: &Known, answer: &mut Answer) -> Asked<()> {
        let fitted: Given<Length> = typed::positive("--fitted", fitted)?;
        answer.given(fitted.line("fitted height"));
        answer.formula("F = F₁ + k (L₁ − L)", coil_spring::LOAD_SOURCE);
        let load = |height| coil_spring::load(known.at, known.rate, height);
        let shut = load(fitted.value());
        if shut < Force::ZERO {
            answer.finding("it is loose at the fitted height");
        }
        answer.estimate(Line::result(
            "load at the fitted height",
            Band::exactly(shut.max(Force::ZERO)),
            "N",
            3,
        ));
        let lift = typed::maybe(self.lift.as_ref(), |text| typed::positive::<Length>("--lift", text))?;
        let Some(lift) = lift else { return Ok(()) };
        answer.given(lift.line("lift"));
        let open = fitted.value() - lift.value();
        if open <= Length::ZERO {
            let mend = Mend::doing("measure both again");
            return Err(typed::wrong("--lift", "the lift is more than the fitted height", mend));
        }
        answer.estimate(Line::result("height open", Band::exactly(open), "mm", 4));
        let Some(solid) = known.solid else {
            load_open(load(open), answer);
            answer.finding("whether the coils touch is not known: add `--solid`");
            return Ok(());
        };
        let left = open - solid;
        if left <= Length::ZERO {
            answer.finding("coil bind: the coils touch before the valve is open");
            return Ok(());
        }
        load_open(load(open), answer);
        answer.estimate(Line::result("left before coil bind", Band::exactly(left), "mm", 3));
        Ok(())
    }
}

/// The load with the valve open: none where the spring is loose even then.
fn load_open(load: Force, answer: &mut Answer) {
    if load < Force::ZERO {
        answer.finding("it is loose even with the valve open: mind the heights");
    }
    answer.estimate(Line::result("load open", Band::exactly(load.max(Force::ZERO)), "N", 3));
}
