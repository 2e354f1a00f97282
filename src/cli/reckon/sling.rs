//! `reckon sling`: what the two legs of a sling bear, and where the centre of gravity lies by two scales.

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::Band;
use crate::mechanics::rigging::{self, FLATTEST, Sling};
use crate::quantity::{Force, Length, Mass};

/// A load on two legs: its centre of gravity, and what each leg bears
#[derive(Debug, Args)]
pub(super) struct SlingForm {
    /// What hangs on it; with two scales, their sum
    #[arg(
        long,
        required_unless_present = "scale_first",
        conflicts_with = "scale_first",
        allow_hyphen_values = true
    )]
    mass: Option<String>,
    /// From the first lug to the second, level
    #[arg(long, allow_hyphen_values = true)]
    apart: String,
    /// From the first lug to the centre of gravity, level; not stated, half way
    #[arg(long, conflicts_with = "scale_first", allow_hyphen_values = true)]
    centre: Option<String>,
    /// What a scale under the first lug shows
    #[arg(long, requires = "scale_second", allow_hyphen_values = true)]
    scale_first: Option<String>,
    /// What a scale under the second lug shows
    #[arg(long, requires = "scale_first", conflicts_with = "mass", allow_hyphen_values = true)]
    scale_second: Option<String>,
    /// From the lugs up to the hook
    #[arg(long, allow_hyphen_values = true)]
    height: String,
    /// What a leg may bear, upright: `10 kN`
    #[arg(long, allow_hyphen_values = true)]
    leg_limit: Option<String>,
}

impl SlingForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("sling", "Load on two legs");
        let apart: Given<Length> = typed::positive("--apart", &self.apart)?;
        let height: Given<Length> = typed::positive("--height", &self.height)?;
        answer.given(apart.line("lugs apart L"));
        answer.given(height.line("hook above the lugs"));
        let (mass, centre) = self.load(apart.value(), &mut answer)?;
        if centre <= Length::ZERO || centre >= apart.value() {
            let mend = Mend::doing("sling it so that the centre of gravity lies between the lugs");
            return Err(typed::wrong(
                "--centre",
                "the load tips: its centre of gravity is not between the lugs",
                mend,
            ));
        }
        let sling = Sling { mass, first: centre, second: apart.value() - centre, height: height.value() };
        answer.formula("F = share of the weight/sin α, α between leg and level", rigging::SLING_SOURCE);
        answer.assume(Line::words("hook", "straight above the centre of gravity, where it swings to"));
        let limit =
            typed::maybe(self.leg_limit.as_ref(), |text| typed::positive::<Force>("--leg-limit", text))?;
        if let Some(limit) = &limit {
            answer.given(limit.line("a leg may bear"));
        }
        let legs = sling.legs();
        for (name, leg) in ["first leg", "second leg"].into_iter().zip(legs) {
            answer.estimate(Line::result(&format!("{name}, angle α"), Band::exactly(leg.angle), "deg", 3));
            answer.estimate(Line::result(&format!("{name}, pull"), Band::exactly(leg.pull), "kN", 3));
        }
        if legs.iter().any(|leg| leg.angle < FLATTEST) {
            answer.finding(
                "a leg is flatter than 30°: longer legs, or a beam between them (common practice, no source)",
            );
        }
        if let Some(limit) = limit {
            let over = legs.iter().any(|leg| leg.pull > limit.value());
            answer.finding(if over {
                "a leg bears more than it may"
            } else {
                "both legs bear what they may"
            });
        }
        answer.note("at rest: a jerk adds to it; lugs and shackles pulled aslant bear less than straight");
        Ok(answer)
    }

    /// Mass, and how far its centre lies from the first lug.
    fn load(&self, apart: Length, answer: &mut Answer) -> Asked<(Mass, Length)> {
        if let (Some(first), Some(second)) = (&self.scale_first, &self.scale_second) {
            let first: Given<Mass> = typed::positive("--scale-first", first)?;
            let second: Given<Mass> = typed::positive("--scale-second", second)?;
            answer.given(first.line("scale under the first lug"));
            answer.given(second.line("scale under the second lug"));
            answer.formula("x = m₂ · L/(m₁ + m₂)", rigging::CENTRE_SOURCE);
            let centre = rigging::centre(first.value(), second.value(), apart);
            answer.estimate(Line::result(
                "centre of gravity from the first lug",
                Band::exactly(centre),
                "mm",
                3,
            ));
            return Ok((first.value() + second.value(), centre));
        }
        let mass: Given<Mass> = typed::positive("--mass", self.mass.as_deref().unwrap_or_default())?;
        answer.given(mass.line("mass"));
        let centre = typed::maybe(self.centre.as_ref(), |text| typed::quantity::<Length>("--centre", text))?;
        match &centre {
            Some(centre) => answer.given(centre.line("centre of gravity from the first lug")),
            None => answer.assume(Line::words("centre of gravity", "half way between the lugs")),
        }
        Ok((mass.value(), centre.map_or(apart / 2.0, |centre| centre.value())))
    }
}
