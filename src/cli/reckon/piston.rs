//! `reckon piston`: how far a piston has come down at a crank angle, and the angle for a height.

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::{Band, crank};
use crate::quantity::{Angle, Length};

/// Height of a piston at a crank angle, or the angle for a height
#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("asked").required(true).args(["angle", "down"]))]
pub(super) struct PistonForm {
    /// Stroke
    #[arg(long, allow_hyphen_values = true)]
    stroke: String,
    /// Length of the rod, middle of its eye to middle of its big end
    #[arg(long, allow_hyphen_values = true)]
    rod: String,
    /// Crank angle from top dead centre, either way
    #[arg(long, allow_hyphen_values = true)]
    angle: Option<String>,
    /// How far it has come down from the top
    #[arg(long, allow_hyphen_values = true)]
    down: Option<String>,
}

impl PistonForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("piston", "Piston and crank");
        let stroke: Given<Length> = typed::positive("--stroke", &self.stroke)?;
        let rod: Given<Length> = typed::positive("--rod", &self.rod)?;
        answer.given(stroke.line("stroke"));
        answer.given(rod.line("rod l"));
        if rod.value() <= stroke.value() / 2.0 {
            let mend = Mend::doing("give the rod from middle to middle: it is longer than half the stroke");
            return Err(typed::wrong("--rod", "so short a rod can't go round", mend));
        }
        answer.assume(Line::words("pin and bore", "in line with the crank: no offset"));
        answer.formula("x = r (1 − cos θ) + l − √(l² − r² sin² θ), r half the stroke", crank::PISTON_SOURCE);
        if let Some(text) = &self.angle {
            let angle: Given<Angle> = typed::quantity("--angle", text)?;
            answer.given(angle.line("crank from the top θ"));
            if angle.value().degrees().abs() > 360.0 {
                answer.finding("more than a whole turn: reckoned where the crank comes to stand; mind the unit of the angle");
            }
            let down = crank::piston_down(stroke.value(), rod.value(), angle.value());
            answer.estimate(Line::result("down from the top x", Band::exactly(down), stroke.bench_unit(), 5));
        }
        if let Some(text) = &self.down {
            let down: Given<Length> = typed::not_below_nothing("--down", text)?;
            answer.given(down.line("down from the top x"));
            let angle = crank::angle_at(stroke.value(), rod.value(), down.value()).ok_or_else(|| {
                let mend = Mend::doing("give it within the stroke");
                typed::wrong("--down", "it comes down no farther than its stroke", mend)
            })?;
            answer.estimate(Line::result("crank from the top θ, either way", Band::exactly(angle), "deg", 4));
        }
        Ok(answer)
    }
}
