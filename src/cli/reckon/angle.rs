//! `reckon angle`: what a turn beyond snug adds to the preload, capped at yield.

use clap::Args;

use super::answer::{Answer, Line};
use super::thread::words;
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::angle::{self, Ending, Held, STEEL_MODULUS, Shank};
use crate::mechanics::joint::{modulus_of, plate_metals};
use crate::mechanics::torque::{self, Bearing, UNSTATED_FRICTION};
use crate::mechanics::{Band, Thread, class};
use crate::quantity::{Angle, Length, Pressure, Ratio, Stiffness, Torque, stated_figure};

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
    /// Coefficient of friction, or its range: it decides the preload at that torque, and the twist
    #[arg(long, allow_hyphen_values = true)]
    friction: Option<String>,
    /// Metal of the clamped parts: `aluminium`
    #[arg(long)]
    clamped: Option<String>,
}

/// A method of tightening turns by less. Our own line, no source.
const MOST_TURN: Angle = Angle::from_degrees(360.0);

impl AngleForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let thread = typed::thread(&self.thread)?;
        let (class, strength) = typed::strength(&self.class, &thread)?;
        let grip: Given<Length> = typed::positive("--grip", &self.grip)?;
        let turn: Given<Angle> = typed::positive("--turn", &self.turn)?;
        let mut answer = Answer::new(
            "angle",
            format!("{thread} turned on by {}°", stated_figure(turn.value().degrees(), 0)),
        );
        answer.given(Line::words("thread", words(&thread)));
        answer.given(Line::words("class", class.to_string()));
        answer.source(class.source());
        if let Some(proviso) = class.proviso(&thread) {
            answer.note(proviso);
        }
        if turn.value() > MOST_TURN {
            return Err(typed::wrong(
                "--turn",
                "more than a full turn breaks a bolt, or only closes the joint",
                Mend::doing("give the angle from the torque at which the parts are closed"),
            ));
        }
        answer.given(grip.line("grip"));
        answer.given(turn.line("turn θ"));
        let bolt = self.bolt(&thread, grip.value(), &mut answer)?;
        let members = angle::member_stiffness(thread.diameter(), grip.value(), self.modulus(&mut answer)?);
        let friction = self.friction(&mut answer)?;
        let applied = self.applied(&mut answer)?;
        let bearing = Bearing::hexagon(&thread);
        answer.assume(Line::words("under the head", "a hexagon on a medium hole"));
        answer.assume(Line::words("bolt of", "steel"));
        answer.source(bearing.source);
        let stiffness = bolt.map(|bolt| angle::in_row(bolt, members));
        let turned =
            angle::turn(&thread, applied, turn.value(), &Held { strength, friction, bearing, stiffness });
        answer.formula("ΔF = θ/360° · P · k, 1/k = 1/k_b + 1/k_m", angle::GAIN_SOURCE);
        answer.source(angle::BOLT_SOURCE);
        answer.source(angle::MEMBER_SOURCE);
        answer.estimate(Line::result("stiffness of the bolt k_b", bolt, "kN/mm", 3));
        let line = |name, band| Line::result(name, band, "kN/mm", 3);
        answer.estimate(line("stiffness of the clamped parts k_m", Band::exactly(members)));
        if applied.high > Torque::ZERO {
            answer.formula("T = F (0.16 P + 0.58 d2 μ + D_Km/2 · μ)", torque::LONG_SOURCE);
            answer.estimate(Line::result("preload before the turn", turned.start, "kN", 3));
        }
        answer.estimate(Line::result("gain while all stays elastic ΔF", turned.gain, "kN", 3));
        answer.formula(
            "F = A_s · R_e / √(1 + 3 x²), x = 3/2 · d2/d_s · (P/(π d2) + 1.155 μ)",
            torque::SHARE_SOURCE,
        );
        let name = "load at yield, pull and twist together";
        answer.estimate(Line::result(name, turned.yields_at, "kN", 3));
        let pull = Band::exactly(class::yield_load(&thread, &strength));
        answer.estimate(Line::result("load at yield, pull alone", pull, "kN", 3));
        let name = "preload after the turn, not beyond yield";
        answer.estimate(Line::result(name, turned.preload, "kN", 3));
        if turned.start.high > turned.yields_at.low {
            let sure = turned.start.low > turned.yields_at.high;
            let verb = if sure { "is" } else { "may be" };
            answer.finding(format!(
                "at the torque before the turn it {verb} beyond yield already: that torque is not to be set"
            ));
        }
        answer.finding(match turned.ending {
            Ending::Yielding => {
                "the bolt is turned into yield: renew it each time, unless the maker says otherwise"
            }
            Ending::PerhapsYielding => {
                "the bolt may be turned into yield, as shank and friction are: treat it as used once"
            }
            Ending::Elastic => "the bolt stays elastic by this reckoning",
        });
        answer.note("yield by the least that the class guarantees; most bolts bear more");
        if grip.value() < thread.diameter() {
            answer.finding(
                "the grip is shorter than the bolt is thick: faces and threads give more than reckoned",
            );
        }
        answer.note("gaskets and a long free thread take up part of the turn");
        answer.note("never put a last circular pass at full torque on bolts tightened by angle");
        Ok(answer)
    }

    /// Young's modulus of the clamped parts.
    fn modulus(&self, answer: &mut Answer) -> Asked<Pressure> {
        let name = self.clamped.as_deref().unwrap_or("steel").trim();
        let modulus = modulus_of(name).ok_or_else(|| {
            let known: Vec<&str> = plate_metals().collect();
            let problem = format!("no metal is called `{name}` here");
            typed::wrong_word(
                "--clamped",
                &problem,
                Mend::doing(format!("metals known are {}", known.join(", "))),
            )
        })?;
        answer.given_or(self.clamped.is_some(), Line::words("clamped parts of", name));
        Ok(modulus)
    }

    fn friction(&self, answer: &mut Answer) -> Asked<Band<Ratio>> {
        let friction = typed::maybe(self.friction.as_ref(), |text| typed::friction("--friction", text))?;
        let span = friction.unwrap_or(UNSTATED_FRICTION);
        answer.given_or(
            friction.is_some(),
            Line::ratio("friction μ", span.low.fraction(), span.high.fraction(), 2),
        );
        Ok(span)
    }

    /// The torque at which the turn starts.
    fn applied(&self, answer: &mut Answer) -> Asked<Band<Torque>> {
        let applied = typed::maybe(self.torque.as_ref(), |text| typed::range::<Torque>("--torque", text))?;
        let Some(applied) = applied else {
            answer.assume(Line::words("torque before the turn", "none: from a joint just closed"));
            return Ok(Band::exactly(Torque::ZERO));
        };
        answer.given(applied.line("torque before the turn"));
        Ok(applied.band)
    }

    fn bolt(&self, thread: &Thread, grip: Length, answer: &mut Answer) -> Asked<Band<Stiffness>> {
        let stiffness = |plain: Length| {
            angle::bolt_stiffness(thread, Shank { plain, free_thread: grip - plain }, STEEL_MODULUS)
        };
        let plain = typed::maybe(self.shank.as_ref(), |text| typed::quantity::<Length>("--shank", text))?;
        let Some(plain) = plain else {
            answer.assume(Line::words("plain shank", "from none of the grip to all of it"));
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
}
