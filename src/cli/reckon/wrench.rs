//! `reckon wrench`: what to set with an adapter, whether the wrench is trusted there, and a locking nut's drag.

use clap::{Args, ValueEnum};

use super::answer::{Answer, Line};
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::Band;
use crate::mechanics::wrench::{self, Adapter, DragRule, Suits, Wrench};
use crate::quantity::{Angle, Length, Torque, stated_figure};

/// The setting of a torque wrench with an adapter or crowfoot
#[derive(Debug, Args)]
pub(super) struct WrenchForm {
    /// Torque wanted at the fastener, or its range: `300 lbf.in`, `50 lbf.in .. 70 lbf.in`
    #[arg(long, allow_hyphen_values = true)]
    torque: String,
    /// From the centre of the drive to the middle of the grip: `10 in`
    #[arg(long, requires = "adapter", allow_hyphen_values = true)]
    length: Option<String>,
    /// From the centre of the drive to the centre of the fastener: `4 in`
    #[arg(long, requires = "length", allow_hyphen_values = true)]
    adapter: Option<String>,
    /// Between adapter and wrench: `0 deg` straight on, `90 deg` square, `180 deg` straight back
    #[arg(long, requires = "adapter", allow_hyphen_values = true)]
    angle: Option<String>,
    /// Ends of the wrench's scale: `40 N.m .. 200 N.m`
    #[arg(long)]
    scale: Option<String>,
    /// Torque that a locking nut takes before it seats: `30 lbf.in`
    #[arg(long, allow_hyphen_values = true)]
    drag: Option<String>,
    /// What to do about the drag: published rules disagree, so you choose
    #[arg(long, value_enum, requires = "drag")]
    drag_rule: Option<Drag>,
}

/// The rules for drag, as they are typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Drag {
    /// Always add it
    Always,
    /// Add it if it is at least a third of the torque, of a range's lower end
    FromAThird,
}

/// Once round.
const ROUND: Angle = Angle::from_degrees(360.0);

impl WrenchForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let wanted: Given<Torque> = typed::range("--torque", &self.torque)?;
        let mut answer = Answer::new("wrench", "Setting of a torque wrench");
        answer.given(wanted.line("torque at the fastener"));
        let mut torque = wanted.band;
        if let Some(drag) =
            typed::maybe(self.drag.as_ref(), |text| typed::positive::<Torque>("--drag", text))?
        {
            let rule = match self.drag_rule {
                Some(Drag::Always) => DragRule::Always,
                Some(Drag::FromAThird) => DragRule::FromAThird,
                None => {
                    return Err(typed::too_little(
                        "two published rules for the drag of a locking nut disagree, and neither was chosen",
                        Mend::doing("add `--drag-rule always` or `--drag-rule from-a-third`"),
                    ));
                }
            };
            answer.given(drag.line("drag of the locking nut"));
            let formula = match rule {
                DragRule::Always => "T = T_stated + T_drag",
                DragRule::FromAThird => {
                    "T = T_stated + T_drag where T_drag ≥ a third of the lower end of T_stated, else T_stated"
                }
            };
            answer.formula(formula, rule.source());
            let added = wrench::with_drag(torque, drag.value(), rule);
            if rule == DragRule::FromAThird {
                let third = Band::exactly(rule.counts_from(torque.low));
                let name = "the drag counts from a third of the lower end";
                answer.estimate(Line::result(name, third, wanted.unit(), 3));
                answer.finding(if added == torque {
                    "the drag is less than that: it is left out, at both ends"
                } else {
                    "the drag counts, and is added at both ends"
                });
            }
            if drag.value() > torque.low {
                answer.finding(
                    "the nut takes more than the torque itself: its drag or its unit is wrong, or the nut is not to be used",
                );
            }
            torque = added;
            answer.estimate(Line::result("torque with drag", torque, wanted.unit(), 3));
        }
        if self.drag.is_none() {
            answer.assume(Line::words("drag of a locking nut", "none: add `--drag`"));
        }
        if let (Some(length), Some(adapter)) = (&self.length, &self.adapter) {
            let length: Given<Length> = typed::positive("--length", length)?;
            let reach: Given<Length> = typed::quantity("--adapter", adapter)?;
            if reach.value() < Length::ZERO {
                let mend =
                    Mend::doing("give its length, and turn it by `--angle`: `180 deg` is straight back");
                return Err(typed::wrong("--adapter", "a length is nothing or more", mend));
            }
            answer.given(length.line("wrench, drive to grip L"));
            answer.given(reach.line("adapter, drive to fastener A"));
            let angle = typed::maybe(self.angle.as_ref(), |text| typed::quantity::<Angle>("--angle", text))?;
            if angle.as_ref().is_some_and(|angle| angle.value().abs() > ROUND) {
                let mend = Mend::doing("give it from straight on, `0 deg`, to straight back, `180 deg`");
                return Err(typed::wrong("--angle", "an adapter stands no more than once round", mend));
            }
            if let Some(angle) = &angle {
                answer.given(angle.line("angle α"));
            } else {
                answer.assume(Line::words("angle α", "0°, straight on"));
            }
            let angle = angle.map_or(Angle::ZERO, |angle| angle.value());
            let adapter = Adapter { length: reach.value(), angle };
            let set = |torque| {
                wrench::setting(torque, length.value(), adapter).map_err(|error| {
                    typed::wrong(
                        "--adapter",
                        &error.to_string(),
                        Mend::doing("measure both lengths again, or turn the adapter"),
                    )
                })
            };
            torque = Band { low: set(torque.low)?, high: set(torque.high)? };
            answer.formula("T_set = T · L / (L + A cos α)", wrench::ADAPTER_SOURCE);
        } else {
            answer.assume(Line::words("adapter", "none: the wrench is set to the torque itself"));
        }
        answer.estimate(Line::result("set the wrench to", torque, wanted.unit(), 3));
        if !wanted.band.is_exact() {
            answer.note("a range is for castle nuts: start at its lower end, on to the next slot, never back, and not past its upper end");
        }
        self.scale(torque, &mut answer)?;
        answer.note("hold the wrench at the middle of its grip, or the lever is another");
        Ok(answer)
    }

    fn scale(&self, torque: Band<Torque>, answer: &mut Answer) -> Asked<()> {
        let Some(text) = &self.scale else { return Ok(()) };
        let scale: Given<Torque> = typed::range("--scale", text)?;
        let wrench = Wrench { scale: scale.band };
        answer.given(scale.line("scale of the wrench"));
        answer.source(wrench::RANGE_SOURCE);
        answer.estimate(Line::result("trusted part of the scale", wrench.trusted(), scale.unit(), 3));
        answer.tabled(Line::words(
            "error allowed",
            format!("±{} %", stated_figure(wrench.tolerance().percent(), 0)),
        ));
        answer.finding(match wrench.suits(torque) {
            Suits::Well => "this wrench does it well: the setting lies in the middle of its scale",
            Suits::Enough => "this wrench does it: the setting lies in the trusted part of its scale",
            Suits::No => "this wrench does not do it: the setting lies outside the trusted part of its scale",
        });
        Ok(())
    }
}
