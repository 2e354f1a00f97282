//! `reckon displacement`: swept volume, and the compression ratio where the chamber is known.

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::cli::wrong_use::whole;
use crate::mechanics::{Band, displacement};
use crate::quantity::{Length, Volume};

/// Displacement from bore and stroke, and the compression ratio
#[derive(Debug, Args)]
pub(super) struct DisplacementForm {
    /// `80 mm`
    #[arg(long, allow_hyphen_values = true)]
    bore: String,
    /// `88 mm`
    #[arg(long, allow_hyphen_values = true)]
    stroke: String,
    /// How many cylinders; not stated, one
    #[arg(long, value_parser = whole::<u32>(1, 64))]
    cylinders: Option<u32>,
    /// Volume left above one piston at top dead centre: `22 cm3`
    #[arg(long, allow_hyphen_values = true)]
    chamber: Option<String>,
}

impl DisplacementForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let bore: Given<Length> = typed::positive("--bore", &self.bore)?;
        let stroke: Given<Length> = typed::positive("--stroke", &self.stroke)?;
        let mut answer = Answer::new("displacement", "Displacement");
        answer.given(bore.line("bore B"));
        answer.given(stroke.line("stroke S"));
        let cylinders = self.cylinders.unwrap_or(1);
        answer.given_or(self.cylinders.is_some(), Line::words("cylinders N", cylinders.to_string()));
        answer.formula("V = π (B/2)² S N", displacement::SWEPT_SOURCE);
        let one = displacement::swept(bore.value(), stroke.value());
        let all = one * f64::from(cylinders);
        answer.estimate(Line::result("swept by one piston", Band::exactly(one), "cm3", 4));
        answer.estimate(Line::result("displacement", Band::exactly(all), "cm3", 4));
        let chamber =
            typed::maybe(self.chamber.as_ref(), |text| typed::positive::<Volume>("--chamber", text))?;
        if let Some(chamber) = chamber {
            answer.given(chamber.line("chamber V_c"));
            answer.formula("ratio = (V + V_c)/V_c, V of one cylinder", displacement::RATIO_SOURCE);
            let ratio = displacement::compression_ratio(one, chamber.value()).fraction();
            answer.estimate(Line::ratio("compression ratio", ratio, ratio, 2));
            super::compression::believed(ratio, &mut answer);
        }
        Ok(answer)
    }
}
