//! `reckon bearing`: clearance of a plain bearing from bore, shell and journal, or from a crushed strip; and the shell to take.

use clap::Args;

use super::answer::{Answer, Line};
use super::judged;
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::bearing;
use crate::mechanics::{Band, shim};
use crate::quantity::Length;

/// Clearance of a plain bearing, and the shell for a wanted one
#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("way").required(true).args(["bore", "strip"]))]
pub(super) struct BearingForm {
    /// Bore with its caps tight and no shells in: `56.00 mm`, or its range
    #[arg(long, requires = "journal", allow_hyphen_values = true)]
    bore: Option<String>,
    /// Diameter of the journal, or its range
    #[arg(long, requires = "bore", conflicts_with = "strip", allow_hyphen_values = true)]
    journal: Option<String>,
    /// Thickness of one shell in its middle, or its range
    #[arg(long, requires = "bore", conflicts_with = "strip", allow_hyphen_values = true)]
    shell: Option<String>,
    /// Clearance wanted: `0.03 mm .. 0.07 mm`
    #[arg(long, allow_hyphen_values = true)]
    wanted: Option<String>,
    /// Shells that are sold, by thickness: `1.98 mm, 2.00 mm`
    #[arg(long, requires_all = ["bore", "wanted"], allow_hyphen_values = true)]
    sold: Option<String>,
    /// Width of a crushed plastic strip at its widest
    #[arg(long, requires = "marks", allow_hyphen_values = true)]
    strip: Option<String>,
    /// The scale on the strip's packet, width and clearance: `1.5 mm = 0.05 mm, 1.0 mm = 0.08 mm`
    #[arg(long, requires = "strip", conflicts_with = "bore")]
    marks: Option<String>,
}

/// What is found, as the findings name it.
const CLEARANCE: &str = "the clearance";

/// Clearance as a share of the journal beyond which nobody believes it: some twenty times what is usual. Our own, no source.
const MOST_CLEARANCE: f64 = 0.02;

impl BearingForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let mut answer = Answer::new("bearing", "Plain bearing");
        let wanted = typed::maybe(self.wanted.as_ref(), |text| typed::range::<Length>("--wanted", text))?;
        if let Some(wanted) = &wanted {
            answer.given(wanted.line("clearance wanted"));
        }
        if let Some(width) = &self.strip {
            let found = self.by_strip(width, wanted.as_ref(), &mut answer)?;
            if let Some(wanted) = &wanted {
                judged::against(CLEARANCE, found, wanted.band, &mut answer);
            }
        }
        let (Some(bore), Some(journal)) = (&self.bore, &self.journal) else { return Ok(answer) };
        let bore: Given<Length> = typed::range("--bore", bore)?;
        let journal: Given<Length> = typed::range("--journal", journal)?;
        answer.given(bore.line("bore"));
        answer.given(journal.line("journal"));
        answer.formula("clearance = bore − 2 · shell − journal", bearing::BEARING_SOURCE);
        answer.assume(Line::words("both shells", "alike"));
        let shell = typed::maybe(self.shell.as_ref(), |text| typed::range::<Length>("--shell", text))?;
        if shell.is_none() && wanted.is_none() {
            return Err(typed::too_little(
                "neither a shell nor a wanted clearance was given",
                Mend::doing("add `--shell \"2.00 mm\"` or `--wanted \"0.03 mm .. 0.07 mm\"`"),
            ));
        }
        if let Some(shell) = &shell {
            answer.given(shell.line("shell"));
            let found = bearing::clearance(bore.band, shell.band, journal.band);
            let limits = wanted.iter().flat_map(|wanted| [wanted.band.low, wanted.band.high]);
            let limits: Vec<Length> = limits.chain([Length::ZERO]).collect();
            answer.estimate(Line::against("clearance on diameter", found, bore.bench_unit(), 3, &limits));
            if found.low < Length::ZERO {
                answer.finding("below nothing there is no clearance: the journal is gripped");
            }
            judged::believe(CLEARANCE, found, journal.band.low, MOST_CLEARANCE, &mut answer);
            if let Some(wanted) = &wanted {
                judged::against(CLEARANCE, found, wanted.band, &mut answer);
            }
        }
        let shell_exact = shell.as_ref().is_none_or(|shell| shell.band.is_exact());
        answer.assume_exact(bore.band.is_exact() && journal.band.is_exact() && shell_exact);
        if let Some(wanted) = &wanted {
            self.choose(&bore, journal.band, wanted.band, &mut answer)?;
        }
        answer.note("shells are thickest in the middle and thinner at the joint: measure there, and the bore square to it");
        Ok(answer)
    }

    fn by_strip(
        &self,
        width: &str,
        wanted: Option<&Given<Length>>,
        answer: &mut Answer,
    ) -> Asked<Band<Length>> {
        let width: Given<Length> = typed::positive("--strip", width)?;
        answer.given(width.line("width of the strip"));
        let marks = typed::pairs::<Length>("--marks", self.marks.as_deref().unwrap_or_default())?;
        answer.given(Line::words("marks of its scale", marks.len().to_string()));
        let mut sorted = marks.clone();
        sorted.sort_by(|a, b| a.0.base().total_cmp(&b.0.base()));
        if sorted.windows(2).any(|pair| pair[0].0 == pair[1].0 || pair[0].1 <= pair[1].1) {
            let mend = Mend::write("width first, then clearance: `1.5 mm = 0.05 mm, 1.0 mm = 0.08 mm`");
            return Err(typed::wrong(
                "--marks",
                "the wider a strip is crushed, the less is the clearance",
                mend,
            ));
        }
        let found = bearing::by_strip(width.value(), &marks).ok_or_else(|| {
            let mend = Mend::doing(
                "read it again, or take a strip of another colour: nothing is guessed beyond the scale",
            );
            typed::wrong("--strip", "the width lies outside the marks of the scale", mend)
        })?;
        answer.formula("between the two nearest marks, straight", bearing::STRIP_SOURCE);
        let limits: Vec<Length> =
            wanted.iter().flat_map(|wanted| [wanted.band.low, wanted.band.high]).collect();
        let exactly = Band::exactly(found);
        answer.estimate(Line::against("clearance by the strip", exactly, width.bench_unit(), 2, &limits));
        answer.note("no oil, the cap to its full torque, and the shaft not turned while the strip is in");
        Ok(Band::exactly(found))
    }

    fn choose(
        &self,
        bore: &Given<Length>,
        journal: Band<Length>,
        wanted: Band<Length>,
        answer: &mut Answer,
    ) -> Asked<()> {
        let (unit, bore) = (bore.bench_unit(), bore.band);
        let Some(range) = bearing::shell_for(bore, journal, wanted) else {
            answer.finding(
                "bore and journal are known too badly for so narrow a clearance: measure them again",
            );
            return Ok(());
        };
        if range.low <= Length::ZERO {
            let mend =
                Mend::doing("give the bore without shells, and the diameter of the journal, not its radius");
            return Err(typed::wrong("--journal", "no shell is thin enough between bore and journal", mend));
        }
        answer.estimate(Line::within("thickness of a shell for it", range, unit, 4));
        let Some(sold) = &self.sold else { return Ok(()) };
        let sold = typed::sold(sold)?;
        let Some(best) = shim::choose(&sold, 1, range) else { return Ok(()) };
        answer.estimate(Line::result("shell to take", Band::exactly(best), unit, 4));
        let found = bearing::clearance(bore, Band::exactly(best), journal);
        answer.estimate(Line::against("clearance with it", found, unit, 3, &[wanted.low, wanted.high]));
        if !shim::within(best, 1, range) {
            answer.finding("none of those sold keeps within what is wanted: this is only the nearest");
        }
        Ok(())
    }
}
