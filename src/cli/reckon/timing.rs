//! `reckon timing`: what is read on a degree wheel to durations, lobe centres and overlap.

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::Band;
use crate::mechanics::crank::{self, Opening};
use crate::quantity::{Angle, Length};

/// A degree wheel: duration, lobe centres, overlap
#[derive(Debug, Args)]
pub(super) struct TimingForm {
    /// Inlet opens before top dead centre; `-4 deg` where it opens after
    #[arg(long, allow_hyphen_values = true)]
    inlet_opens: String,
    /// Inlet closes after bottom dead centre
    #[arg(long, allow_hyphen_values = true)]
    inlet_closes: String,
    /// Exhaust opens before bottom dead centre
    #[arg(long, allow_hyphen_values = true)]
    exhaust_opens: String,
    /// Exhaust closes after top dead centre
    #[arg(long, allow_hyphen_values = true)]
    exhaust_closes: String,
    /// Lift at which it was read: `1 mm`
    #[arg(long, allow_hyphen_values = true)]
    read_at: Option<String>,
}

/// The most that a valve is believed to be open. Our own bound, no source: racing engines come to some 330°.
const MOST_OPEN: Angle = Angle::from_degrees(400.0);

/// The most that a valve is believed to lift. Our own bound, no source: those of large engines come to some 30 mm.
const MOST_LIFT: Length = Length::from_mm(60.0);

impl TimingForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("timing", "Valve timing by the degree wheel");
        let mut read = |option, name, text: &str| -> Asked<Angle> {
            let angle: Given<Angle> = typed::quantity(option, text)?;
            answer.given(angle.line(name));
            if angle.value().degrees().abs() >= 180.0 {
                let mend = Mend::doing("give it from the dead centre named, less than half a turn");
                return Err(typed::wrong(
                    option,
                    "so far from the dead centre no valve opens or closes",
                    mend,
                ));
            }
            Ok(angle.value())
        };
        let inlet = Opening {
            opens_before: read("--inlet-opens", "inlet opens before top", &self.inlet_opens)?,
            closes_after: read("--inlet-closes", "inlet closes after bottom", &self.inlet_closes)?,
        };
        let exhaust = Opening {
            opens_before: read("--exhaust-opens", "exhaust opens before bottom", &self.exhaust_opens)?,
            closes_after: read("--exhaust-closes", "exhaust closes after top", &self.exhaust_closes)?,
        };
        match &self.read_at {
            Some(text) => {
                let lift: Given<Length> = typed::positive("--read-at", text)?;
                if lift.value() > MOST_LIFT {
                    let mend = Mend::doing("mind the unit: it is read at a millimetre or so of lift");
                    return Err(typed::wrong("--read-at", "no valve lifts so far", mend));
                }
                answer.given(lift.line("read at a lift of"));
            }
            None => answer.assume(Line::words("read at a lift of", "one and the same for all four")),
        }
        answer.formula("duration = opens before + 180° + closes after", crank::WHEEL_SOURCE);
        answer.formula("lobe centre = duration/2 − opens before", crank::WHEEL_SOURCE);
        let degrees = |name: &str, angle: Angle| Line::result(name, Band::exactly(angle), "deg", 4);
        for (name, valve, dead) in [("inlet", &inlet, "after top"), ("exhaust", &exhaust, "before top")] {
            if valve.duration() <= Angle::ZERO {
                let mend = Mend::doing("read the wheel again");
                return Err(typed::wrong(
                    &format!("--{name}-closes"),
                    "the valve closes before it opens",
                    mend,
                ));
            }
            answer.estimate(degrees(&format!("{name} open for"), valve.duration()));
            if valve.duration() > MOST_OPEN {
                answer.finding(format!("no {name} valve is open for so long: read the wheel again"));
            }
            let middle = valve.middle();
            // The exhaust's middle is told from the top, where its stroke ends.
            let middle = if name == "inlet" { middle } else { Angle::from_degrees(180.0) - middle };
            answer.estimate(degrees(&format!("{name} lobe centre, {dead}"), middle));
        }
        answer
            .estimate(degrees("between the lobes, of the camshaft", crank::between_lobes(&inlet, &exhaust)));
        let overlap = crank::overlap(&inlet, &exhaust);
        if overlap < Angle::ZERO {
            answer.estimate(degrees("both shut about the top for", -overlap));
        } else {
            answer.estimate(degrees("overlap", overlap));
        }
        answer.note("degrees of the crank; the lobe centre is the middle of the opening, which is the peak only of an even lobe");
        Ok(answer)
    }
}
