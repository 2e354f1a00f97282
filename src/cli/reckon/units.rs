//! `reckon units`: a quantity in every unit of its kind; without one, every unit with its size.

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked};
use crate::mechanics::{Citation, Seen};
use crate::quantity::{Dimension, Quantity, Unit};

/// A quantity in every unit of its kind; alone, the units of the language with their size
#[derive(Debug, Args)]
pub(super) struct UnitsForm {
    /// `82 N.m`
    #[arg(value_name = "QUANTITY", allow_hyphen_values = true)]
    quantity: Option<String>,
}

/// Where the sizes come from.
const SIZES: Citation = Citation::new(
    "exact products of 0.0254 m, 0.45359237 kg and 9.80665 m/s² as NIST Special Publication 811 has them",
    Seen::FromMemory,
);

impl UnitsForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let Some(text) = &self.quantity else { return Ok(every_unit()) };
        let written = Quantity::parse(text)
            .map_err(|error| typed::wrong("QUANTITY", &error.to_string(), error.mend()))?;
        typed::within_reason("QUANTITY", written.numeral().value())?;
        let mut answer = Answer::new("units", format!("{} in other units", written.printed()));
        answer.given(Line::alone("quantity", written));
        answer.formula("amount · size of one unit / size of the other", SIZES);
        let difference = written.dimension() == Dimension::TEMPERATURE && !written.unit().is_scale();
        for unit in Unit::measuring(written.dimension()).filter(|unit| **unit != *written.unit()) {
            // Kelvin are a difference here, which is one in degrees too, not a point on their scale.
            answer
                .tabled(Line::in_unit(if difference { unit.degrees_apart() } else { unit }, written.base()));
        }
        if difference {
            answer.note("a difference of temperatures, in every unit");
        }
        Ok(answer)
    }
}

fn every_unit() -> Answer {
    let mut answer =
        Answer::new("units", "Units of the language, in metres, kilograms, seconds, kelvin and radians");
    answer.formula("amount in base units = (number + offset) · size", SIZES);
    for unit in Unit::all() {
        answer.tabled(Line::ratio(unit.symbol, unit.scale(), unit.scale(), 12));
    }
    answer.note("degC and degF are offset by 273.15 and 459.67");
    answer
}
