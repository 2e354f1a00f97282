//! A stated torque against what the bolt, the nut and the hole can bear.
//!
//! With a stated friction the comparison is made at it. Without one it is made over the whole span, and a
//! finding stands only if all of the span agrees. The weaker of bolt, nut and tapped hole decides. What is found
//! here is for warnings: no figure of it is ever a torque to set.

use std::fmt;

use super::angle;
use super::band::Band;
use super::class::{self, Class, ClassError, Strength};
use super::engagement::{self, NutClass, Tapped};
use super::thread::Thread;
use super::torque::{Bearing, Friction, UNSTATED_FRICTION, at_share_of_yield, preload_from};
use crate::quantity::{Angle, Force, Length, Ratio, Torque, Unit, at_most_figure, rounded, stated_figure};

/// Below this share of the proof load, even at the least friction, a torque is far too low for the class. Our own
/// line; common practice, no source.
pub(crate) const FAR_TOO_LOW: Ratio = Ratio::from_percent(30.0);
/// Share of yield that a torque should not pass (VDI 2230, from memory).
pub(crate) const NINETY: Ratio = Ratio::from_percent(90.0);
/// Grips assumed where none is stated, in diameters: wide enough for any joint. Our own estimate, no source.
const UNSTATED_GRIP: (f64, f64) = (1.0, 12.0);

/// A fastener as it is clamped.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Fastening {
    /// Its thread.
    pub thread: Thread,
    /// Class marked on the bolt, screw or stud.
    pub class: Class,
    /// Class of the nut, where there is one and it is known.
    pub nut: Option<NutClass>,
    /// What the hole is tapped into, and how deep the thread engages where that is known.
    pub tapped: Option<(Tapped, Option<Length>)>,
    /// Stated friction; none means the whole span.
    pub friction: Option<Band<Ratio>>,
    /// Clamped length, where known.
    pub grip: Option<Length>,
    /// Renewed each time.
    pub single_use: bool,
    /// A soft, hollow or plug fastener: never "too low".
    pub may_be_low: bool,
}

/// What a finding says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Verdict {
    /// The preload stays below a fraction of what the class can bear.
    FarTooLow,
    /// Above nine tenths of yield.
    AboveNinety,
    /// Into yield, and the fastener is not renewed each time.
    IntoYield,
    /// The tapped thread strips first.
    Strips,
}

/// What decided.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Weakest {
    /// The bolt.
    Bolt,
    /// The nut: its class is below the bolt's.
    Nut,
    /// The tapped hole.
    Hole,
}

/// A finding with its arithmetic.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Finding {
    /// What it says.
    pub verdict: Verdict,
    /// What decided.
    pub weakest: Weakest,
    /// The stated torque, low and high end.
    pub stated: Band<Torque>,
    /// Angle stated after it.
    pub angle: Angle,
    /// Friction over which it holds.
    pub friction: Band<Ratio>,
    /// Whether that friction was stated.
    pub friction_stated: bool,
    /// Preload that the statement brings, from the greatest friction to the least; an estimate.
    pub preload: Band<Force>,
    /// Load that it is compared with, over the same friction; an estimate.
    pub limit: Band<Force>,
}

/// Compares a stated torque, and an angle after it (0 if there is none), with the fastening.
///
/// # Errors
/// The class doesn't exist for the thread.
pub(crate) fn assess(
    fastening: &Fastening,
    stated: Band<Torque>,
    angle: Angle,
) -> Result<Vec<Finding>, ClassError> {
    let thread = &fastening.thread;
    let (strength, weakest) = weaker(fastening)?;
    let friction = fastening.friction.unwrap_or(UNSTATED_FRICTION);
    let bearing = Bearing::hexagon(thread);
    let loads = Loads { fastening, strength, friction, bearing, stated, angle };
    let preload = loads.preload();
    let proof = class::proof_load(thread, &strength);
    let share = |share: Ratio| {
        friction
            .map(|mu| at_share_of_yield(thread, &strength, Friction::everywhere(mu), bearing, share).preload)
    };
    let finding = |verdict, weakest, limit| Finding {
        verdict,
        weakest,
        stated,
        angle,
        friction,
        friction_stated: fastening.friction.is_some(),
        preload,
        limit,
    };
    let mut findings = Vec::new();
    let turned = angle > Angle::ZERO;
    if !turned && !fastening.may_be_low && preload.high < proof * FAR_TOO_LOW.fraction() {
        findings.push(finding(Verdict::FarTooLow, weakest, Band::exactly(proof * FAR_TOO_LOW.fraction())));
    }
    if loads.reach(Ratio::from_percent(100.0)) {
        if !fastening.single_use || weakest == Weakest::Nut {
            findings.push(finding(Verdict::IntoYield, weakest, share(Ratio::from_percent(100.0))));
        }
    } else if loads.reach(NINETY) && !fastening.single_use {
        findings.push(finding(Verdict::AboveNinety, weakest, share(NINETY)));
    }
    if let Some((material, Some(depth))) = fastening.tapped
        && let Some(strip) = engagement::strip_load(thread, material, depth)
        && preload.low > strip.high
    {
        findings.push(finding(Verdict::Strips, Weakest::Hole, strip));
    }
    Ok(findings)
}

/// The strength that counts: the bolt's, or that of the strongest bolt which the nut holds.
fn weaker(fastening: &Fastening) -> Result<(Strength, Weakest), ClassError> {
    let bolt = fastening.class.strength(&fastening.thread)?;
    let held = match fastening.nut {
        Some(nut) => nut.strongest_bolt().strength(&fastening.thread).ok(),
        None => None,
    };
    Ok(match held {
        Some(nut) if nut.yielding < bolt.yielding => (nut, Weakest::Nut),
        _ => (bolt, Weakest::Bolt),
    })
}

struct Loads<'a> {
    fastening: &'a Fastening,
    strength: Strength,
    friction: Band<Ratio>,
    bearing: Bearing,
    stated: Band<Torque>,
    angle: Angle,
}

impl Loads<'_> {
    /// Preload from the least torque at the greatest friction and the softest grip to the reverse.
    fn preload(&self) -> Band<Force> {
        let at =
            |torque, mu| preload_from(&self.fastening.thread, torque, Friction::everywhere(mu), self.bearing);
        let gain = self.gain();
        Band {
            low: at(self.stated.low, self.friction.high) + gain.low,
            high: at(self.stated.high, self.friction.low) + gain.high,
        }
    }

    /// What the angle adds while all stays elastic, from the softest to the stiffest grip.
    fn gain(&self) -> Band<Force> {
        if self.angle <= Angle::ZERO {
            return Band::exactly(Force::ZERO);
        }
        let thread = &self.fastening.thread;
        let gain = |grip: Length| {
            let shank = angle::Shank::threaded(grip);
            let stiffness = angle::in_row(
                angle::bolt_stiffness(thread, shank, angle::STEEL_MODULUS),
                angle::member_stiffness(thread.diameter(), grip, angle::STEEL_MODULUS),
            );
            angle::elastic_gain(thread.pitch(), self.angle, stiffness)
        };
        match self.fastening.grip {
            Some(grip) => Band::exactly(gain(grip)),
            None => Band::between(
                gain(thread.diameter() * UNSTATED_GRIP.0),
                gain(thread.diameter() * UNSTATED_GRIP.1),
            ),
        }
    }

    /// Whether the statement reaches a share of yield whatever the friction within its span. By torque alone both
    /// sides move with the friction, so torques are compared at each end; with an angle the least preload is
    /// compared with plain tension, which is the later of the two to yield.
    fn reach(&self, share: Ratio) -> bool {
        let thread = &self.fastening.thread;
        if self.angle > Angle::ZERO {
            let tension = class::yield_load(thread, &self.strength) * share.fraction();
            return self.preload().low >= tension;
        }
        [self.friction.low, self.friction.high].into_iter().all(|mu| {
            let limit =
                at_share_of_yield(thread, &self.strength, Friction::everywhere(mu), self.bearing, share);
            self.stated.low > limit.torque
        })
    }
}

/// The arithmetic in one sentence: torque, friction, preload, limit.
impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.stated.is_exact() {
            write!(f, "{} to ", plain(self.stated.low))?;
        }
        write!(f, "{} N·m", plain(self.stated.high))?;
        let turned = self.angle > Angle::ZERO;
        if turned {
            write!(f, " and {}°", stated_figure(self.angle.degrees(), 0))?;
        }
        let friction = if self.friction.is_exact() {
            stated_figure(self.friction.low.fraction(), 2)
        } else {
            let [low, high] =
                [self.friction.low, self.friction.high].map(|end| stated_figure(end.fraction(), 2));
            format!("{low} to {high}")
        };
        let stated = if self.friction_stated { "stated" } else { "not stated" };
        let give = if turned { "would, if all stayed elastic, give" } else { "give" };
        write!(f, " at friction {friction} ({stated}) {give} {} preload", force_band(self.preload))?;
        let limit = force_band(self.limit);
        match self.verdict {
            Verdict::FarTooLow => write!(f, ", below {limit}, 30 % of the proof load"),
            Verdict::AboveNinety => write!(f, ", above {limit}, 90 % of yield under pull and twist"),
            Verdict::IntoYield => write!(f, ", beyond {limit}, where it yields under pull and twist"),
            Verdict::Strips => write!(f, ", beyond {limit}, where the tapped thread strips"),
        }?;
        f.write_str(match self.weakest {
            Weakest::Bolt => " (bolt decides; estimates)",
            Weakest::Nut => " (nut decides; estimates)",
            Weakest::Hole => " (tapped hole decides; estimates)",
        })
    }
}

/// A stated torque in newton metres, to a tenth where it has one.
fn plain(torque: Torque) -> String {
    at_most_figure(torque.newton_metres(), 2)
}

fn force_band(band: Band<Force>) -> String {
    let kilonewton = Unit::find("kN").expect("a unit of the table");
    let (low, high) = (rounded(band.low.base(), kilonewton), rounded(band.high.base(), kilonewton));
    if low == high { high.printed() } else { format!("{} to {}", low.numeral(), high.printed()) }
}
