//! `reckon backlash`: the play of gears at the pitch circle from a dial at another radius.

use clap::Args;

use super::answer::{Answer, Line};
use super::judged;
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
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

/// Share of its radius that a dial follows as if the arc were straight: a tenth is off by a sixth of a per cent. Our own
/// bound, by geometry.
const MOST_SWING: f64 = 0.1;

/// So many times its own radius a dial is trusted. Our own line, no source.
const MOST_LEVER: f64 = 3.0;
/// Play as a share of the pitch radius beyond which nobody believes it. Our own, no source.
const MOST_PLAY: f64 = 0.05;

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
        if dial.band.high > at.value() * MOST_SWING {
            let mend =
                Mend::doing("give the play that the dial shows, and the radius at which its foot stands");
            return Err(typed::wrong("--dial", "the gear turns so far that a dial can't follow it", mend));
        }
        let play = turning::backlash(dial.band, at.value(), pitch.value());
        if pitch.value() > at.value() * MOST_LEVER {
            answer.finding(
                "the dial stands so near the middle that what it is off counts several times: set it farther out",
            );
        }
        judged::believe("the play", play, pitch.value(), MOST_PLAY, &mut answer);
        let wanted = typed::maybe(self.wanted.as_ref(), |text| typed::range::<Length>("--wanted", text))?;
        let limits: Vec<Length> =
            wanted.iter().flat_map(|wanted| [wanted.band.low, wanted.band.high]).collect();
        answer.estimate(Line::against("play at the pitch circle", play, dial.bench_unit(), 3, &limits));
        if let Some(wanted) = wanted {
            answer.given(wanted.line("play wanted"));
            judged::against("the play", play, wanted.band, &mut answer);
        }
        answer.note("the other gear held fast; the worst of four places all round counts");
        Ok(answer)
    }
}
