//! `reckon runout`: dial readings to run-out and bend, and a gap over a span to a twist.

use clap::Args;

use super::answer::{Answer, Line};
use super::judged;
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::{Band, turning};
use crate::quantity::Length;

/// Run-out to bend; twist of a rod over its span
#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("read").required(true).args(["readings", "gap"]))]
pub(super) struct RunoutForm {
    /// Readings of the dial all round: `0 mm, 0.03 mm, -0.02 mm`
    #[arg(long, allow_hyphen_values = true)]
    readings: Option<String>,
    /// Gap at one end of an arbor, the other touching
    #[arg(long, requires = "span", allow_hyphen_values = true)]
    gap: Option<String>,
    /// Between the blocks that the arbor lies on
    #[arg(long, requires = "gap", conflicts_with = "readings", allow_hyphen_values = true)]
    span: Option<String>,
    /// Most that the run-out, or the gap for the same span, may be
    #[arg(long, allow_hyphen_values = true)]
    most: Option<String>,
}

/// The most that a dial gauge is taken to show, and the share of a span that a gap is still an angle of. Our own bounds, no
/// source.
const MOST_RUN_OUT: Length = Length::from_mm(10.0);
const MOST_TWIST: f64 = 0.1;

impl RunoutForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("runout", "Run-out and twist");
        let most =
            typed::maybe(self.most.as_ref(), |text| typed::not_below_nothing::<Length>("--most", text))?;
        if let Some(most) = &most {
            answer.given(most.line("may be, at most"));
        }
        let found = match (&self.readings, &self.gap, &self.span) {
            (Some(readings), ..) => {
                let limits: Vec<Length> = most.iter().map(Given::value).collect();
                run_out(readings, &limits, &mut answer)?
            }
            (None, Some(gap), Some(span)) => twist(gap, span, &mut answer)?,
            _ => {
                return Err(typed::too_little(
                    "nothing was read",
                    Mend::doing("add `--readings`, or `--gap` and `--span`"),
                ));
            }
        };
        if let Some(most) = most {
            answer.finding(if judged::beyond(found, most.value()) {
                "it is more than it may be"
            } else {
                "it is within what it may be"
            });
        }
        Ok(answer)
    }
}

fn run_out(text: &str, limits: &[Length], answer: &mut Answer) -> Asked<Length> {
    let readings = typed::list::<Length>("--readings", text)?;
    let first: Given<Length> = typed::quantity("--readings", text.split(',').next().unwrap_or_default())?;
    let unit = first.bench_unit();
    let found = turning::run_out(&readings).filter(|_| readings.len() > 1).ok_or_else(|| {
        let mend = Mend::write("readings all round: `0 mm, 0.03 mm, -0.02 mm`");
        typed::wrong("--readings", "one reading shows no run-out", mend)
    })?;
    if found > MOST_RUN_OUT {
        let mend = Mend::doing("mind the unit: readings of a dial differ by hundredths of a millimetre");
        return Err(typed::wrong("--readings", "no shaft runs out so far under a dial", mend));
    }
    answer.given(Line::words("readings", text.trim()));
    answer.formula("run-out = greatest − least, bend = run-out/2", turning::RUN_OUT_SOURCE);
    answer.estimate(Line::against("run-out", Band::exactly(found), unit, 3, limits));
    answer.estimate(Line::result("bend", Band::exactly(turning::bend(found)), unit, 3));
    answer
        .note("run-out holds what is out of round as well: read beside the journal on a place that is round");
    Ok(found)
}

fn twist(gap: &str, span: &str, answer: &mut Answer) -> Asked<Length> {
    let gap: Given<Length> = typed::not_below_nothing("--gap", gap)?;
    let span: Given<Length> = typed::positive("--span", span)?;
    if gap.value() > span.value() * MOST_TWIST {
        let mend = Mend::doing("give the gap under the arbor, and the way between its blocks");
        return Err(typed::wrong("--gap", "so wide a gap is no twist of a rod", mend));
    }
    answer.given(gap.line("gap"));
    answer.given(span.line("span"));
    answer.formula("twist = gap/span", turning::TWIST_SOURCE);
    let twist = turning::over_span(gap.value(), span.value()).fraction() * 1e3;
    answer.estimate(Line::ratio("twist or bend, in thousandths of the span", twist, twist, 2));
    Ok(gap.value())
}
