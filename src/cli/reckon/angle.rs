//! `reckon angle`: what a turn beyond snug adds to the preload, capped at yield.

use clap::Args;

use super::answer::{Answer, Line};
use super::thread::words;
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::angle::{self, STEEL_MODULUS, Shank};
use crate::mechanics::torque::{self, Bearing, Friction, UNSTATED_FRICTION};
use crate::mechanics::{Band, Thread, class};
use crate::quantity::{Angle, Force, Length, Stiffness, Torque};

/// What turning a bolt on by an angle adds to its preload
#[derive(Debug, Args)]
pub(super) struct AngleForm {
    /// `M10`, `7/16-20 UNF`
    #[arg(value_name = "THREAD")]
    thread: String,
    /// Property class or grade: `10.9`
    #[arg(long)]
    class: String,
    /// Clamped length: `60 mm`
    #[arg(long, allow_hyphen_values = true)]
    grip: String,
    /// Angle turned after the torque: `90 deg`
    #[arg(long, allow_hyphen_values = true)]
    turn: String,
    /// Plain shank within the grip: `30 mm`; not stated, anything from none to all of it
    #[arg(long, allow_hyphen_values = true)]
    shank: Option<String>,
    /// Torque before the turn: `30 N.m`
    #[arg(long, allow_hyphen_values = true)]
    torque: Option<String>,
    /// Coefficient of friction at that torque, or its range
    #[arg(long, requires = "torque", allow_hyphen_values = true)]
    friction: Option<String>,
}

impl AngleForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let thread = typed::thread(&self.thread)?;
        let (class, strength) = typed::strength(&self.class, &thread)?;
        let grip: Given<Length> = typed::positive("--grip", &self.grip)?;
        let turn: Given<Angle> = typed::positive("--turn", &self.turn)?;
        let mut answer =
            Answer::new("angle", format!("{thread} turned on by {:.0}°", turn.value().degrees()));
        answer.given(Line::words("thread", words(&thread)));
        answer.given(Line::words("class", class.to_string()));
        answer.source(class.source());
        answer.given(grip.line("grip"));
        answer.given(turn.line("turn θ"));
        let bolt = self.bolt(&thread, grip.value(), &mut answer)?;
        let members = angle::member_stiffness(thread.diameter(), grip.value(), STEEL_MODULUS);
        let joint = bolt.map(|bolt| angle::in_row(bolt, members));
        let start = self.start(&thread, &mut answer)?;
        answer.formula("ΔF = θ/360° · P · k, 1/k = 1/k_b + 1/k_m", angle::GAIN_SOURCE);
        answer.source(angle::BOLT_SOURCE);
        answer.source(angle::MEMBER_SOURCE);
        answer.estimate(Line::result("stiffness of the bolt k_b", bolt, "kN/mm", 3));
        answer.estimate(Line::result(
            "stiffness of the clamped parts k_m",
            Band::exactly(members),
            "kN/mm",
            3,
        ));
        let yields = class::yield_load(&thread, &strength);
        let at = |start, stiffness| angle::turn(&thread, start, turn.value(), stiffness, yields);
        let (soft, stiff) = (at(start.low, joint.low), at(start.high, joint.high));
        let gain = Band { low: soft.elastic_gain, high: stiff.elastic_gain };
        answer.estimate(Line::result("gain while all stays elastic ΔF", gain, "kN", 3));
        answer.estimate(Line::result("load at yield", Band::exactly(yields), "kN", 3));
        let preload = Band { low: soft.preload, high: stiff.preload };
        answer.estimate(Line::result("preload after the turn, not beyond yield", preload, "kN", 3));
        answer.finding(match (soft.yields, stiff.yields) {
            (true, _) => "the bolt is turned into yield: renew it each time, unless the maker says otherwise",
            (false, true) => "the bolt may be turned into yield, as its shank is: treat it as used once",
            (false, false) => "the bolt stays elastic by this reckoning",
        });
        answer.note(
            "steel bolt and steel parts; soft parts, gaskets and a long free thread take up part of the turn",
        );
        answer.note("never put a last circular pass at full torque on bolts tightened by angle");
        Ok(answer)
    }

    fn bolt(&self, thread: &Thread, grip: Length, answer: &mut Answer) -> Asked<Band<Stiffness>> {
        let stiffness = |plain: Length| {
            angle::bolt_stiffness(thread, Shank { plain, free_thread: grip - plain }, STEEL_MODULUS)
        };
        let plain = typed::maybe(self.shank.as_ref(), |text| typed::quantity::<Length>("--shank", text))?;
        let Some(plain) = plain else {
            answer.given(Line::words("plain shank", "not stated: from none of the grip to all of it"));
            return Ok(Band::between(stiffness(Length::ZERO), stiffness(grip)));
        };
        if plain.value() < Length::ZERO || plain.value() > grip {
            return Err(typed::wrong(
                "--shank",
                "the plain shank is not a part of the grip",
                Mend::doing("give the length of plain shank within the grip, from `0 mm` up to the grip"),
            ));
        }
        answer.given(plain.line("plain shank"));
        Ok(Band::exactly(stiffness(plain.value())))
    }

    /// The load at which the turn starts.
    fn start(&self, thread: &Thread, answer: &mut Answer) -> Asked<Band<Force>> {
        let applied = typed::maybe(self.torque.as_ref(), |text| typed::range::<Torque>("--torque", text))?;
        let Some(applied) = applied else {
            answer.note("no torque before the turn was given: the turn is reckoned from a joint just closed");
            return Ok(Band::exactly(Force::ZERO));
        };
        answer.given(applied.line("torque before the turn"));
        let friction = typed::maybe(self.friction.as_ref(), |text| typed::ratio("--friction", text))?;
        let span = friction.unwrap_or(UNSTATED_FRICTION);
        let name = if friction.is_some() { "friction" } else { "friction, not stated" };
        answer.given(Line::ratio(name, span.low.fraction(), span.high.fraction(), 2));
        let bearing = Bearing::hexagon(thread);
        let at = |torque, mu| torque::preload_from(thread, torque, Friction::everywhere(mu), bearing);
        let start = Band { low: at(applied.band.low, span.high), high: at(applied.band.high, span.low) };
        answer.formula("T = F (0.16 P + 0.58 d2 μ + D_Km/2 · μ)", torque::LONG_SOURCE);
        answer.estimate(Line::result("preload before the turn", start, "kN", 3));
        Ok(start)
    }
}
