//! `reckon ring-gap`: a ring's gap in the bore it goes into, and what is to be filed.

use clap::Args;

use super::answer::{Answer, Line};
use super::judged;
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::{Band, ring_gap};
use crate::quantity::Length;

/// Gap of a piston ring in its bore, and what to file off
#[derive(Debug, Args)]
pub(super) struct RingGapForm {
    /// Gap as measured, the ring square in a bore, or its range
    #[arg(long, allow_hyphen_values = true)]
    gap: String,
    /// Bore that it goes into
    #[arg(long, allow_hyphen_values = true)]
    bore: String,
    /// Bore that it was tried in, where it is another
    #[arg(long, allow_hyphen_values = true)]
    tried_in: Option<String>,
    /// Gap wanted: `0.30 mm .. 0.45 mm`
    #[arg(long, allow_hyphen_values = true)]
    wanted: Option<String>,
}

/// Share of the bore by which the bore that a ring was tried in may differ, and share that a gap may be: ten times what is
/// usual and more. Our own bounds, no source.
const MOST_UNLIKE: f64 = 0.03;
const MOST_GAP: f64 = 0.1;

impl RingGapForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("ring-gap", "Gap of a piston ring");
        let gap: Given<Length> = typed::range("--gap", &self.gap)?;
        let bore: Given<Length> = typed::positive("--bore", &self.bore)?;
        answer.given(gap.line("gap as measured"));
        answer.given(bore.line("bore that it goes into"));
        let tried =
            typed::maybe(self.tried_in.as_ref(), |text| typed::positive::<Length>("--tried-in", text))?;
        match &tried {
            Some(tried) => answer.given(tried.line("bore that it was tried in")),
            None => answer.assume(Line::words("bore that it was tried in", "the one it goes into")),
        }
        answer.formula("gap = measured + π (bore − tried in)", ring_gap::GAP_SOURCE);
        let tried_in = tried.map_or(bore.value(), |tried| tried.value());
        if beyond_like(tried_in, bore.value()) {
            let mend = Mend::doing(
                "give the two bores as measured: they differ by hundredths of themselves at most",
            );
            return Err(typed::wrong(
                "--tried-in",
                "no ring that goes into one of these bores fits the other",
                mend,
            ));
        }
        let found = ring_gap::in_bore(gap.band, tried_in, bore.value());
        if found.low <= Length::ZERO {
            answer.finding("its ends butt: it is too long for this bore until it is filed");
        }
        let wanted = typed::maybe(self.wanted.as_ref(), |text| typed::range::<Length>("--wanted", text))?;
        for (option, widest) in
            [("--gap", Some(gap.band.high)), ("--wanted", wanted.map(|wanted| wanted.band.high))]
        {
            if widest.is_some_and(|widest| widest > bore.value() * MOST_GAP) {
                let mend = Mend::doing("mind the unit: a gap is some thousandths of the bore");
                return Err(typed::wrong(option, "no ring of this bore has so wide a gap", mend));
            }
        }
        let limits = wanted.iter().flat_map(|wanted| [wanted.band.low, wanted.band.high]);
        let limits: Vec<Length> = limits.chain([Length::ZERO]).collect();
        answer.estimate(Line::against("gap in this bore", found, gap.bench_unit(), 3, &limits));
        answer.assume_exact(gap.band.is_exact());
        answer.estimate(Line::ratio(
            "gap in thousandths of the bore",
            found.low / bore.value() * 1e3,
            found.high / bore.value() * 1e3,
            1,
        ));
        if let Some(wanted) = &wanted {
            answer.given(wanted.line("gap wanted"));
            file(found, wanted, &mut answer);
        } else {
            answer.note("no gap is proposed here: 4 thousandths of the bore is a rule of the trade, common practice, no source");
        }
        answer.note("try it where the bore is least worn or at its smallest, pushed square by a piston");
        Ok(answer)
    }
}

/// Whether two bores are so unlike that no one ring goes into both.
fn beyond_like(one: Length, other: Length) -> bool {
    (one - other).abs() > other * MOST_UNLIKE
}

fn file(found: Band<Length>, wanted: &Given<Length>, answer: &mut Answer) {
    let unit = wanted.bench_unit();
    let wanted = wanted.band;
    if judged::beyond(found.low, wanted.high) {
        answer.finding("the gap is wider than wanted: nothing can be filed back on");
        return;
    }
    match ring_gap::to_file(found, wanted) {
        Some(off) if off.low <= Length::ZERO => {
            answer.finding("the gap is as wanted: nothing is to be filed");
        }
        Some(off) => answer.estimate(Line::within("to file off", off, unit, 3)),
        None => answer.finding("the gap is known too badly for so narrow a wish: measure it again"),
    }
}
