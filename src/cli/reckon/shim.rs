//! `reckon shim`: the shim, washer or disc for a wanted play, such as lash or end float, and which of those sold to take.

use clap::Args;

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::cli::wrong_use::whole;
use crate::diagnostics::Mend;
use crate::mechanics::{Band, shim};
use crate::quantity::Length;

/// Shim for a wanted play: valve lash, end float; and which of those sold to take
#[derive(Debug, Args)]
pub(super) struct ShimForm {
    /// Play as read, or its range
    #[arg(long, allow_hyphen_values = true)]
    play: String,
    /// Thickness of what was in, all of it; not stated, nothing was in
    #[arg(long, allow_hyphen_values = true)]
    old: Option<String>,
    /// Play wanted: `0.15 mm .. 0.20 mm`
    #[arg(long, allow_hyphen_values = true)]
    wanted: String,
    /// What is sold: `2.40 mm, 2.45 mm, 2.50 mm`
    #[arg(long, allow_hyphen_values = true)]
    sold: Option<String>,
    /// How many of one thickness go in together; not stated, one
    #[arg(long, value_parser = whole::<u32>(1, 20))]
    pieces: Option<u32>,
}

/// The most that is taken for a play. Our own bound, no source.
const MOST_PLAY: Length = Length::from_mm(25.0);

impl ShimForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("shim", "Shim for a play");
        let play = self.play()?;
        let wanted: Given<Length> = typed::range("--wanted", &self.wanted)?;
        answer.given(play.line("play as read"));
        answer.given(wanted.line("play wanted"));
        let old = typed::maybe(self.old.as_ref(), |text| typed::positive::<Length>("--old", text))?;
        match &old {
            Some(old) => answer.given(old.line("was in")),
            None => answer.assume(Line::words("was in", "nothing")),
        }
        for (option, most) in [("--play", play.band.high), ("--wanted", wanted.band.high)] {
            if most > MOST_PLAY {
                let mend =
                    Mend::doing("mind the unit: a play is tenths of a millimetre, thousandths of an inch");
                return Err(typed::wrong(option, "so much is no play that a shim takes up", mend));
            }
        }
        let pieces = self.pieces.unwrap_or(1);
        answer.given_or(self.pieces.is_some(), Line::words("pieces together", pieces.to_string()));
        answer.assume_exact(play.band.is_exact());
        answer.formula("new = old + read − wanted", shim::SHIM_SOURCE);
        let old = old.map_or(Length::ZERO, |old| old.value());
        let Some(range) = shim::thickness(old, play.band, wanted.band) else {
            answer.finding("the play is known too badly for so narrow a wish: read it again");
            let middle = (play.band.low + play.band.high - wanted.band.low - wanted.band.high) / 2.0;
            answer.estimate(Line::result(
                "thickness about",
                Band::exactly(old + middle),
                play.bench_unit(),
                4,
            ));
            return Ok(answer);
        };
        if range.high <= Length::ZERO {
            return Err(typed::wrong(
                "--play",
                "no shim is thin enough: the play is less than wanted with nothing in",
                Mend::doing("give what was in with `--old`, or make room"),
            ));
        }
        let low = range.low.max(Length::ZERO);
        answer.estimate(Line::within(
            "thickness, all together",
            Band { low, high: range.high },
            play.bench_unit(),
            4,
        ));
        self.choose((old, pieces), &play, (range, wanted.band), &mut answer)?;
        Ok(answer)
    }

    /// A play may be nothing, where what is in is too thick.
    fn play(&self) -> Asked<Given<Length>> {
        if self.play.contains("..") {
            return typed::range("--play", &self.play);
        }
        typed::not_below_nothing("--play", &self.play)
    }

    fn choose(
        &self,
        (old, pieces): (Length, u32),
        play: &Given<Length>,
        (range, wanted): (Band<Length>, Band<Length>),
        answer: &mut Answer,
    ) -> Asked<()> {
        let Some(sold) = &self.sold else {
            answer.note("give what is sold with `--sold` to choose from it");
            return Ok(());
        };
        let sold = typed::sold(sold)?;
        answer.given(Line::words("sold", format!("{} thicknesses", sold.len())));
        let Some(best) = shim::choose(&sold, pieces, range) else { return Ok(()) };
        let change = old - best * f64::from(pieces);
        answer.estimate(Line::result("piece to take", Band::exactly(best), play.bench_unit(), 4));
        let comes = Band { low: play.band.low + change, high: play.band.high + change };
        answer.estimate(Line::against(
            "play with it",
            comes,
            play.bench_unit(),
            3,
            &[wanted.low, wanted.high],
        ));
        if !shim::within(best, pieces, range) {
            answer.finding("none of those sold keeps within what is wanted: this is only the nearest");
        }
        Ok(())
    }
}
