//! `reckon backlash`: the play of gears at the pitch circle from a dial at another radius.

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::mechanics::turning;
use crate::quantity::Length;

/// Play of gears at the pitch circle
#[derive(Debug, Args)]
pub(super) struct BacklashForm {
    /// Play on the dial, or its range
    #[arg(long, allow_hyphen_values = true)]
    dial: String,
    /// Radius at which the dial stands, square to it
    #[arg(long, allow_hyphen_values = true)]
    dial_radius: String,
    /// Pitch radius of the gear that is rocked
    #[arg(long, allow_hyphen_values = true)]
    pitch_radius: String,
    /// Play wanted
    #[arg(long, allow_hyphen_values = true)]
    wanted: Option<String>,
}

impl BacklashForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("backlash", "Backlash");
        let dial: Given<Length> = typed::range("--dial", &self.dial)?;
        let at: Given<Length> = typed::positive("--dial-radius", &self.dial_radius)?;
        let pitch: Given<Length> = typed::positive("--pitch-radius", &self.pitch_radius)?;
        answer.given(dial.line("play on the dial"));
        answer.given(at.line("radius of the dial"));
        answer.given(pitch.line("pitch radius"));
        answer.formula("play = dial · pitch radius/dial radius", turning::BACKLASH_SOURCE);
        let play = turning::backlash(dial.band, at.value(), pitch.value());
        answer.estimate(Line::result("play at the pitch circle", play, dial.bench_unit(), 3));
        if let Some(wanted) =
            typed::maybe(self.wanted.as_ref(), |text| typed::range::<Length>("--wanted", text))?
        {
            answer.given(wanted.line("play wanted"));
            let hair = Length::from_mm(1e-9);
            answer.finding(if play.high < wanted.band.low - hair {
                "the play is less than wanted"
            } else if play.low > wanted.band.high + hair {
                "the play is more than wanted"
            } else if play.low >= wanted.band.low - hair && play.high <= wanted.band.high + hair {
                "the play is as wanted"
            } else {
                "the play may be as wanted: the reading is too doubtful to say"
            });
        }
        answer.note("the other gear held fast; the worst of four places all round counts");
        Ok(answer)
    }
}
