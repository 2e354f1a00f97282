//! `reckon injector`: how much thicker or thinner the shims must be for a wanted opening pressure.

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::{Band, injector};
use crate::quantity::{Length, Pressure};

/// Shims of an injector for a wanted opening pressure
#[derive(Debug, Args)]
pub(super) struct InjectorForm {
    /// Pressure at which it opens
    #[arg(long, allow_hyphen_values = true)]
    opens: String,
    /// Pressure wanted, or its range
    #[arg(long, allow_hyphen_values = true)]
    wanted: String,
    /// A step of shim, as tried on this kind of injector or told by its maker: `0.05 mm`
    #[arg(long, allow_hyphen_values = true)]
    step: String,
    /// What that step raises the pressure by: `5 bar`
    #[arg(long, allow_hyphen_values = true)]
    raises: String,
}

/// So many steps are followed in a straight line. Our own line, no source.
const MOST_STEPS: f64 = 10.0;

/// Thickest step of shim that is believed. Our own line, no source.
const MOST_STEP: Length = Length::from_mm(1.0);

impl InjectorForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("injector", "Opening pressure of an injector");
        let opens: Given<Pressure> = typed::positive("--opens", &self.opens)?;
        let wanted: Given<Pressure> = typed::range("--wanted", &self.wanted)?;
        let step: Given<Length> = typed::positive("--step", &self.step)?;
        let raises: Given<Pressure> = typed::positive("--raises", &self.raises)?;
        if step.value() > MOST_STEP {
            let mend = Mend::doing("mind the unit: a step of shim is some hundredths of a millimetre");
            return Err(typed::wrong("--step", "no injector is set by so thick a step", mend));
        }
        if raises.value() > opens.value() {
            let mend = Mend::doing("mind the unit: a step raises it by a few hundredths of what it opens at");
            return Err(typed::wrong("--raises", "no step of shim raises it by as much again", mend));
        }
        answer.given(opens.line("opens at"));
        answer.given(wanted.line("wanted"));
        answer.given(step.line("step of shim"));
        answer.given(raises.line("raises it by"));
        answer.formula("change = (wanted − read) · step/raises", injector::INJECTOR_SOURCE);
        let change =
            |pressure| injector::shim_change(opens.value(), pressure, (step.value(), raises.value()));
        let change = Band { low: change(wanted.band.low), high: change(wanted.band.high) };
        let within = change.low <= Length::ZERO && change.high >= Length::ZERO;
        if within {
            answer.finding("it opens as wanted: the shims stay");
        } else if change.high < Length::ZERO {
            let thinner = Band { low: -change.high, high: -change.low };
            answer.estimate(Line::result("shims thinner by", thinner, "mm", 3));
        } else {
            answer.estimate(Line::result("shims thicker by", change, "mm", 3));
        }
        answer.assume(Line::words("step", "the same all the way from what it opens at to what is wanted"));
        let steps = (wanted.band.low - opens.value()).abs().max((wanted.band.high - opens.value()).abs());
        if steps > raises.value() * MOST_STEPS {
            answer.finding(
                "more than ten such steps: read it again after the first few, the spring may be the wrong one or broken",
            );
        }
        answer.note("the step is that of one kind of injector: no figure for all of them is known");
        answer.note("the jet goes through skin: test it in its guard, hands away");
        Ok(answer)
    }
}
