//! `reckon torque`: torque and preload of a bolt, both ways; without either, what nine tenths of yield allow.

use clap::{Args, ValueEnum};

use super::answer::{Answer, Line};
use super::thread::words;
use super::torque_link::{Link, beyond, overshoot, shares};
use super::typed::{self, Asked, Given};
use crate::diagnostics::Mend;
use crate::mechanics::assess::{self, Fastening, NINETY};
use crate::mechanics::scatter::{self, Method};
use crate::mechanics::torque::{self, BELIEVED_NUT_FACTOR, Bearing, NUT_FACTORS, UNSTATED_FRICTION};
use crate::mechanics::{Band, Citation, Class, Seen, Strength, Thread, class};
use crate::quantity::{Angle, Force, Length, Ratio, Torque, stated_figure};

/// So many diameters of a thread are believed of the face that turns. Our own bound, no source.
const WIDEST_FACE: f64 = 5.0;

/// Torque from preload or preload from torque; with neither, both at 90 % of yield
#[derive(Debug, Args)]
pub(super) struct TorqueForm {
    /// `M12x1.25`, `3/8-16 UNC`
    #[arg(value_name = "THREAD")]
    thread: String,
    /// Property class or grade: `10.9`, `SAE 8`
    #[arg(long)]
    class: Option<String>,
    /// Coefficient of friction of threads and head, or its range: `0.12`, `0.10 .. 0.14`
    #[arg(long, conflicts_with = "nut_factor", allow_hyphen_values = true)]
    friction: Option<String>,
    /// Coefficient of friction under the head, where it differs from that of the threads
    #[arg(long, requires = "friction", conflicts_with = "nut_factor", allow_hyphen_values = true)]
    head_friction: Option<String>,
    /// Nut factor K, or a condition such as `lubricated`: by T = K d F
    #[arg(long, allow_hyphen_values = true)]
    nut_factor: Option<String>,
    /// Preload wanted: `40 kN`
    #[arg(long, conflicts_with = "torque", allow_hyphen_values = true)]
    preload: Option<String>,
    /// Torque applied: `95 N.m`
    #[arg(long, allow_hyphen_values = true)]
    torque: Option<String>,
    /// Way of tightening, for the scatter
    #[arg(long, value_enum)]
    method: Option<Way>,
    /// Diameter of the face that turns: `16.6 mm`
    #[arg(long, requires = "hole", allow_hyphen_values = true)]
    washer_face: Option<String>,
    /// Diameter of the hole under it: `13.5 mm`
    #[arg(long, requires = "washer_face", allow_hyphen_values = true)]
    hole: Option<String>,
}

/// Ways of tightening as they are typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Way {
    /// By feel
    Feel,
    /// Torque wrench, friction estimated
    TorqueWrench,
    /// Torque wrench, torque found by test
    TorqueWrenchTested,
    /// Torque and angle, or to yield
    Angle,
    /// Impact wrench
    Impact,
    /// By measured stretch
    Stretch,
}

impl Way {
    fn method(self) -> Method {
        match self {
            Way::Feel => Method::ByFeel,
            Way::TorqueWrench => Method::TorqueWrench,
            Way::TorqueWrenchTested => Method::TorqueWrenchTested,
            Way::Angle => Method::AngleOrYield,
            Way::Impact => Method::Impact,
            Way::Stretch => Method::Stretch,
        }
    }
}

impl TorqueForm {
    pub(super) fn answer(&self) -> Asked<Answer> {
        let thread = typed::thread(&self.thread)?;
        let mut answer = Answer::new("torque", format!("Torque and preload of {thread}"));
        answer.given(Line::words("thread", words(&thread)));
        let strength = self.strength(&thread, &mut answer)?;
        let link = self.link(&thread, &mut answer)?;
        let preload = typed::maybe(self.preload.as_ref(), |text| typed::range::<Force>("--preload", text))?;
        let applied = typed::maybe(self.torque.as_ref(), |text| typed::range::<Torque>("--torque", text))?;
        match (preload, applied, strength) {
            (Some(preload), _, strength) => {
                torque_for(&thread, &link, &preload, strength, &mut answer);
            }
            (None, Some(applied), strength) => {
                let method = self.method.unwrap_or(Way::TorqueWrench).method();
                answer.given_or(self.method.is_some(), Line::words("tightened", method.name()));
                preload_from(&thread, &link, &applied, strength, method, &mut answer);
            }
            (None, None, Some((_, strength))) => match &link {
                Link::Long { .. } => self.at_ninety(&thread, strength, &link, &mut answer),
                Link::Short(_) => at_three_quarters(&thread, strength, &link, &mut answer),
            },
            (None, None, None) => {
                return Err(typed::too_little(
                    "neither class nor preload nor torque was given",
                    Mend::doing("add `--class 8.8`, `--preload \"40 kN\"` or `--torque \"95 N.m\"`"),
                ));
            }
        }
        answer.note("none of these is a torque to set");
        Ok(answer)
    }

    fn strength(&self, thread: &Thread, answer: &mut Answer) -> Asked<Option<(Class, Strength)>> {
        let Some(text) = &self.class else { return Ok(None) };
        let (class, strength) = typed::strength(text, thread)?;
        answer.given(Line::words("class", class.to_string()));
        answer.source(class.source());
        if let Some(proviso) = class.proviso(thread) {
            answer.note(proviso);
        }
        Ok(Some((class, strength)))
    }

    /// The friction or nut factor that was given; with none, the whole span of friction.
    fn link(&self, thread: &Thread, answer: &mut Answer) -> Asked<Link> {
        if let Some(text) = &self.nut_factor {
            let known = NUT_FACTORS.iter().find(|known| known.condition == text.trim());
            let factor = match known {
                Some(known) => {
                    answer.given(Line::words("condition", known.condition));
                    answer.source(known.source);
                    known.factor
                }
                None => self.plain_factor(text)?,
            };
            answer.given(Line::stated("nut factor K", factor.low.fraction(), factor.high.fraction(), 2));
            answer.formula("T = K d F", torque::SHORT_SOURCE);
            return Ok(Link::Short(factor));
        }
        let friction = typed::maybe(self.friction.as_ref(), |text| typed::friction("--friction", text))?;
        let head =
            typed::maybe(self.head_friction.as_ref(), |text| typed::friction("--head-friction", text))?;
        let line = |name, band: Band<Ratio>| Line::ratio(name, band.low.fraction(), band.high.fraction(), 2);
        if let Some(friction) = friction {
            answer.given(line(
                if head.is_some() { "friction of the threads μ_G" } else { "friction μ_G = μ_K" },
                friction,
            ));
        } else {
            answer.assume(line("friction μ_G = μ_K, from well oiled to dry", UNSTATED_FRICTION));
            answer.source(torque::UNSTATED_FRICTION_SOURCE);
            answer.note(
                "add `--friction`; pastes with molybdenum disulphide lie below that span, at 0.04 to 0.10",
            );
        }
        if let Some(head) = head {
            answer.given(line("friction under the head μ_K", head));
        }
        let bearing = self.bearing(thread, answer)?;
        answer.formula("T = F (0.16 P + 0.58 d2 μ_G + D_Km/2 · μ_K)", torque::LONG_SOURCE);
        Ok(Link::Long { friction: friction.unwrap_or(UNSTATED_FRICTION), head, bearing })
    }

    fn plain_factor(&self, text: &str) -> Asked<Band<Ratio>> {
        let read = typed::ratio("--nut-factor", text);
        if let Ok(factor) = read {
            return typed::believed("--nut-factor", factor, BELIEVED_NUT_FACTOR, "nut factors");
        }
        read.map_err(|complaint| {
            let number = text.trim().starts_with(|c: char| c.is_ascii_digit() || "-.".contains(c));
            if number {
                return complaint;
            }
            let conditions: Vec<&str> = NUT_FACTORS.iter().map(|known| known.condition).collect();
            let problem = format!("no condition of threads is called `{}`", text.trim());
            let mend = Mend::write(format!("a number such as `0.2`, or one of: {}", conditions.join("; ")));
            typed::wrong_word("--nut-factor", &problem, mend)
        })
    }

    fn bearing(&self, thread: &Thread, answer: &mut Answer) -> Asked<Bearing> {
        let (Some(face), Some(hole)) = (&self.washer_face, &self.hole) else {
            let bearing = Bearing::hexagon(thread);
            answer.assume(Line::result(
                "mean diameter under a hexagon head D_Km",
                Band::exactly(bearing.mean_diameter),
                "mm",
                4,
            ));
            answer.source(bearing.source);
            return Ok(bearing);
        };
        let face: Given<Length> = typed::positive("--washer-face", face)?;
        let hole: Given<Length> = typed::positive("--hole", hole)?;
        if hole.value() < thread.diameter() {
            let mend = Mend::doing("give the diameter of the hole that the bolt goes through");
            return Err(typed::wrong("--hole", "the bolt doesn't go through so small a hole", mend));
        }
        if face.value() > thread.diameter() * WIDEST_FACE {
            let mend = Mend::doing("mind the unit: a head turns on some one and a half diameters");
            return Err(typed::wrong("--washer-face", "no head turns on so wide a face", mend));
        }
        if hole.value() >= face.value() {
            return Err(typed::wrong(
                "--hole",
                "the hole is as wide as the face that turns on it",
                Mend::doing("give the diameter of the washer face, and the smaller one of the hole"),
            ));
        }
        answer.given(face.line("washer face"));
        answer.given(hole.line("hole"));
        Ok(Bearing::between(face.value(), hole.value()))
    }

    /// Preload and torque at nine tenths of yield, under pull and twist.
    fn at_ninety(&self, thread: &Thread, strength: Strength, link: &Link, answer: &mut Answer) {
        let Link::Long { bearing, .. } = link else { return };
        let at =
            |hard: bool| torque::at_share_of_yield(thread, &strength, link.friction(hard), *bearing, NINETY);
        let (easy, hard) = (at(false), at(true));
        answer.formula(
            "F = A_s · 0.9 R_p0.2 / √(1 + 3 x²), x = 3/2 · d2/d_s · (P/(π d2) + 1.155 μ_G)",
            torque::SHARE_SOURCE,
        );
        let preload = Band::between(easy.preload, hard.preload);
        answer.estimate(Line::at_most("preload at 90 % of yield, at most", preload, "kN", 3));
        let torque = Band::exactly(easy.torque.min(hard.torque));
        if easy.torque == hard.torque {
            answer.estimate(Line::at_most("torque for it", torque, "N.m", 3));
        } else {
            // Only the least torque keeps below over the whole span: the greater ones belong to a friction each.
            answer.estimate(Line::at_most("torque for it, whatever the friction", torque, "N.m", 3));
            let name = format!(
                "torque for it, only at friction {}",
                stated_figure(link.friction(true).thread.fraction(), 2)
            );
            answer.estimate(Line::at_most(&name, Band::exactly(hard.torque), "N.m", 3));
            let slick = torque::preload_from(thread, hard.torque, link.friction(false), *bearing);
            answer.estimate(Line::result(
                "preload from that where it is slick",
                Band::exactly(slick),
                "kN",
                3,
            ));
            answer.finding(
                "the torques are not a permitted range: only the first holds over all of the friction",
            );
        }
        let method = self.method.unwrap_or(Way::TorqueWrench).method();
        answer.given_or(self.method.is_some(), Line::words("tightened", method.name()));
        let spread = method.spread();
        answer.tabled(Line::ratio("scatter α_A", spread.low.fraction(), spread.high.fraction(), 2));
        let least = Band {
            low: scatter::least_preload(preload.low, method).low,
            high: scatter::least_preload(preload.high, method).high,
        };
        answer.formula("F_min = F_max / α_A", method.source());
        answer.estimate(Line::result("least preload when that is the greatest", least, "kN", 3));
        let proof = class::proof_load(thread, &strength);
        answer.estimate(Line::ratio("share of the proof load", preload.low / proof, preload.high / proof, 2));
        let factor = |hard| torque::nut_factor(thread, link.friction(hard), *bearing).fraction();
        answer.estimate(Line::ratio("nut factor K that belongs to it", factor(false), factor(true), 3));
    }
}

/// Three quarters of the proof load, for a joint that comes apart again, by the nut factor.
fn at_three_quarters(thread: &Thread, strength: Strength, link: &Link, answer: &mut Answer) {
    let proof = class::proof_load(thread, &strength);
    let preload = Band::exactly(proof * 0.75);
    let source = "F = 0.75 F_p for joints that come apart again, Shigley eq. 8-31";
    answer.formula("F = 0.75 · A_s · S_p", Citation::new(source, Seen::FromMemory));
    answer.estimate(Line::at_most("preload at 75 % of the proof load", preload, "kN", 3));
    let torque = link.torque(thread, preload);
    if torque.is_exact() {
        answer.estimate(Line::at_most("torque for it", torque, "N.m", 3));
        return;
    }
    // Only the least keeps below over the whole range of the nut factor: the greater ones belong to one factor each.
    let (least, most) = (Band::exactly(torque.low), Band::exactly(torque.high));
    answer.estimate(Line::at_most("torque for it, whatever the nut factor", least, "N.m", 3));
    answer.estimate(Line::at_most("torque for it, only at the greatest nut factor", most, "N.m", 3));
    overshoot(thread, link, torque.high, answer);
    answer.finding("the torques are not a permitted range: only the first holds over all of the nut factor");
}

fn torque_for(
    thread: &Thread,
    link: &Link,
    preload: &Given<Force>,
    strength: Option<(Class, Strength)>,
    answer: &mut Answer,
) {
    answer.given(preload.line("preload wanted"));
    let torque = link.torque(thread, preload.band);
    answer.estimate(Line::result("torque for it", torque, "N.m", 3));
    let mut loads = [(preload.band.low, false), (preload.band.high, true)];
    if !torque.is_exact() && preload.band.is_exact() {
        loads[1] = (overshoot(thread, link, torque.high, answer), false);
        answer.finding(
            "the torques are not a permitted range: the greatest brings that preload only where it turns hardest",
        );
    }
    shares(thread, preload.band, strength, answer);
    beyond(thread, link, loads, strength, answer);
}

fn preload_from(
    thread: &Thread,
    link: &Link,
    applied: &Given<Torque>,
    strength: Option<(Class, Strength)>,
    method: Method,
    answer: &mut Answer,
) {
    answer.given(applied.line("torque"));
    let preload = link.preload(thread, applied.band);
    answer.estimate(Line::result("preload from it", preload, "kN", 3));
    if preload.is_exact() {
        answer.formula("F_min = 2 F/(1 + α_A), F_max = α_A F_min", method.source());
        let band = scatter::about_mean(preload.low, method);
        answer.estimate(Line::result("preload as it scatters", band, "kN", 3));
    } else {
        answer.note("the band is that of the friction; the wrench's own error comes on top");
    }
    shares(thread, preload, strength, answer);
    beyond(thread, link, [(preload.low, true), (preload.high, false)], strength, answer);
    let (Some((class, _)), Link::Long { friction, head: None, .. }) = (strength, link) else { return };
    let fastening = Fastening {
        thread: *thread,
        class,
        nut: None,
        tapped: None,
        friction: Some(*friction),
        grip: None,
        single_use: false,
        may_be_low: false,
    };
    for finding in assess::assess(&fastening, applied.band, Angle::ZERO).unwrap_or_default() {
        answer.finding(finding.to_string());
    }
}
