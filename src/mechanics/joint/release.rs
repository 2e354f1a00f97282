//! Releasing a joint: what the fasteners still in bear while the others come out, in one go and in rounds.

use super::{Band, Ground, Joint, NoEquilibrium, State};
use crate::mechanics::pattern::larger_first;
use crate::quantity::{Force, Length, Ratio, figure};

/// A class of risk, worst last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Risk {
    /// No fastener bears much more than it did.
    Fine,
    /// Some fastener comes to bear three tenths more than it did, or nears its proof load; or a spring pushes.
    Watch,
    /// Some fastener passes its proof load, and not the load at which it yields.
    BeyondProof,
    /// Some fastener passes the load at which it yields, and not the one at which it breaks.
    BeyondYield,
    /// Some fastener passes the load at which it breaks, if all stayed elastic: it stretches for good before that.
    BeyondBreaking,
}

impl Risk {
    /// The word for it.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Risk::Fine => "fine",
            Risk::Watch => "watch",
            Risk::BeyondProof => "beyond proof",
            Risk::BeyondYield => "beyond yield",
            Risk::BeyondBreaking => "beyond breaking",
        }
    }

    /// What the word means, for whoever reads it on a sheet.
    pub(crate) fn meaning(self) -> String {
        match self {
            Risk::Fine => "no fastener still in comes to bear much more than it did".to_owned(),
            Risk::Watch => format!(
                "a fastener still in comes to bear over {WATCH_RATIO} times its load or over {WATCH_PROOF} of proof, or a \
                 spring pushes (our own line, no source)"
            ),
            Risk::BeyondProof => "a fastener still in passes its proof load".to_owned(),
            Risk::BeyondYield => "a fastener still in is stretched for good".to_owned(),
            Risk::BeyondBreaking => {
                "a fastener still in is stretched far, and would break if it didn't give way".to_owned()
            }
        }
    }
}

/// A load this many times the first one is worth watching. Our own line; common practice, no source.
const WATCH_RATIO: f64 = 1.3;
/// A load above this share of proof is worth watching, if it has grown. Our own line; common practice, no source.
const WATCH_PROOF: f64 = 0.9;
/// Peaks closer than this, as a share of the first load, count as the same. Our own line; common practice, no source.
const SAME_PEAK: f64 = 0.05;

/// One act of a release and what it leaves.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Stage {
    /// The fastener worked.
    pub bolt: usize,
    /// Round, from 1.
    pub round: usize,
    /// Load on every fastener after it; nothing on those that are out.
    pub loads: Vec<Force>,
    /// Load on the gasket after it.
    pub gasket: Force,
    /// Rise of one end over the other.
    pub tilt: Length,
    /// Bend of the face.
    pub bow: Length,
}

/// One way of releasing, from the first act to the last that leaves the part in balance.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Course {
    /// Acts in order.
    pub stages: Vec<Stage>,
    /// Fasteners still in when balance was lost, if it was.
    pub lost_balance: Option<usize>,
    /// Greatest load on each fastener as a multiple of its first load.
    pub peaks: Vec<f64>,
    /// The greatest of them.
    pub peak: f64,
    /// Which fastener that was.
    pub peak_bolt: Option<usize>,
    /// Greatest load on a fastener as a share of its proof load, where a proof load is known.
    pub peak_proof: Option<Ratio>,
    /// Greatest tilt.
    pub tilt: Length,
    /// Greatest bend.
    pub bow: Length,
    /// Class.
    pub risk: Risk,
}

/// What the study of a release found. Each course is the worse of the two ends of the gasket's stiffness.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ReleaseReport {
    /// Share of the bolts in the stiffness of the whole.
    pub stiffness_ratio: Band<Ratio>,
    /// The given order, each fastener out in one go.
    pub one_go: Course,
    /// The given order in rounds.
    pub rounds: Course,
    /// How many rounds.
    pub round_count: usize,
    /// The opposite order, each in one go: for comparison only.
    pub opposite: Course,
    /// Larger sizes first, each in one go, where there are several sizes: for comparison only.
    pub large_first: Option<Course>,
    /// Fasteners below the largest size.
    pub smaller: Vec<usize>,
    /// What pushes the part off.
    pub spring: Force,
    /// Class of the given order in one go.
    pub risk: Risk,
    /// Whether rounds lower the peak by enough to propose them.
    pub rounds_help: bool,
    /// Whether the given order and its opposite differ in peak.
    pub order_matters: bool,
    /// What all of it rests on.
    pub assumptions: Vec<String>,
}

impl ReleaseReport {
    /// The findings in words, most important first. None of them reorders anything.
    pub(crate) fn findings(&self) -> Vec<String> {
        let mut found = Vec::new();
        if self.spring > Force::ZERO {
            found.push(format!(
                "a spring pushes the part off with {} N: the last fasteners carry all of it; let it down with long \
                 guide bolts or a clamp before the last ones come out",
                figure(self.spring.newtons(), 0)
            ));
        }
        match self.risk {
            Risk::BeyondProof | Risk::BeyondYield | Risk::BeyondBreaking => found.push(self.risk.meaning()),
            Risk::Watch => {
                found.push("a fastener still in takes up much of what the others let go".to_owned());
            }
            Risk::Fine => {}
        }
        if let Some(left) = self.one_go.lost_balance {
            found.push(format!(
                "with {left} fasteners left the part is no longer held in balance: support it"
            ));
        }
        if self.rounds_help {
            found.push(format!(
                "{} rounds lower the greatest load from {} to {} times its first value",
                self.round_count,
                figure(self.one_go.peak, 2),
                figure(self.rounds.peak, 2)
            ));
        }
        if let Some(large) = &self.large_first {
            let small =
                |course: &Course| self.smaller.iter().map(|&bolt| course.peaks[bolt]).fold(1.0, f64::max);
            let (given, other) = (small(&self.one_go), small(large));
            if other - given > SAME_PEAK {
                found.push(format!(
                    "larger sizes first would bring the smaller ones to {} times their load, against {}",
                    figure(other, 2),
                    figure(given, 2)
                ));
            } else {
                found.push("which size comes out first hardly matters for the smaller ones".to_owned());
            }
        }
        if !self.order_matters && !self.rounds_help {
            found.push("for the loads the order hardly matters on this joint".to_owned());
        } else if !self.order_matters {
            found.push("the order by itself hardly matters for the loads; the rounds do".to_owned());
        }
        found
    }
}

/// Studies the release of a joint in `order` (a permutation of its fasteners), in one go and in `round_count`
/// rounds, over the gasket's band of stiffness.
///
/// # Errors
/// Even the tight joint has no equilibrium, as with a single fastener outside the gasket.
pub(crate) fn study(
    joint: &Joint,
    order: &[usize],
    round_count: usize,
) -> Result<ReleaseReport, NoEquilibrium> {
    let opposite: Vec<usize> = order.iter().rev().copied().collect();
    let large = large_first(joint, order);
    let ground = &Ground::of(joint);
    let one_go = worse(joint, ground, order, 1)?;
    let rounds = worse(joint, ground, order, round_count)?;
    let opposite = worse(joint, ground, &opposite, 1)?;
    let large_first = match large {
        Some(large) => Some(worse(joint, ground, &large, 1)?),
        None => None,
    };
    let spring = joint.spring_load();
    let largest = joint.bolts.iter().map(|bolt| bolt.diameter).fold(Length::ZERO, Length::max);
    let smaller = (0..joint.bolts.len()).filter(|&bolt| joint.bolts[bolt].diameter < largest).collect();
    Ok(ReleaseReport {
        stiffness_ratio: joint.stiffness_ratio(),
        risk: one_go.risk,
        rounds_help: rounds.peak < one_go.peak - SAME_PEAK,
        order_matters: (one_go.peak - opposite.peak).abs() > SAME_PEAK,
        one_go,
        rounds,
        round_count,
        opposite,
        large_first,
        smaller,
        spring,
        assumptions: joint.assumptions(),
    })
}

/// The same order with larger sizes before smaller ones; none if that is no other order.
fn large_first(joint: &Joint, order: &[usize]) -> Option<Vec<usize>> {
    let mut sorted = order.to_vec();
    sorted.sort_by(|&a, &b| larger_first(joint.bolts[a].diameter, joint.bolts[b].diameter));
    (sorted != order).then_some(sorted)
}

/// One course alone: the given order in so many rounds, at the worse end of the gasket's stiffness.
///
/// # Errors
/// As [`study`].
pub(crate) fn course_in_rounds(
    joint: &Joint,
    ground: &Ground,
    order: &[usize],
    rounds: usize,
) -> Result<Course, NoEquilibrium> {
    worse(joint, ground, order, rounds)
}

/// The worse of the courses at the two ends of the gasket's stiffness.
fn worse(joint: &Joint, ground: &Ground, order: &[usize], rounds: usize) -> Result<Course, NoEquilibrium> {
    let band = joint.stiffness();
    let soft = course(joint, ground, order, rounds, band.low)?;
    let hard = course(joint, ground, order, rounds, band.high)?;
    let rank = |course: &Course| (course.risk, course.lost_balance.is_some());
    let soft_is_worse = rank(&soft).cmp(&rank(&hard)).then(soft.peak.total_cmp(&hard.peak)).is_ge();
    Ok(if soft_is_worse { soft } else { hard })
}

fn course(
    joint: &Joint,
    ground: &Ground,
    order: &[usize],
    rounds: usize,
    stiffness: f64,
) -> Result<Course, NoEquilibrium> {
    let mut state = State::all_at(joint, ground, 1.0, stiffness)?;
    let first = state.loads();
    let take_ups: Vec<Length> =
        (0..first.len()).map(|bolt| state.take_up(bolt).unwrap_or(Length::ZERO)).collect();
    let mut stages = Vec::new();
    let mut lost_balance = None;
    'rounds: for round in 1..=rounds {
        for (place, &bolt) in order.iter().enumerate() {
            let last_round = round == rounds;
            let left = order.len() - place - 1;
            if last_round && left == 0 {
                // The last fastener out leaves nothing to bear a load.
                break 'rounds;
            }
            let done = if last_round {
                state.remove(bolt)
            } else {
                let share = 1.0 - round as f64 / rounds as f64;
                state.back_off_to(bolt, take_ups[bolt] * share)
            };
            if done.is_err() {
                lost_balance = Some(if last_round { left } else { order.len() });
                break 'rounds;
            }
            stages.push(Stage {
                bolt,
                round,
                loads: state.loads(),
                gasket: state.gasket_load(),
                tilt: state.tilt(),
                bow: state.bow(),
            });
        }
    }
    Ok(judged(joint, &first, stages, lost_balance))
}

fn judged(joint: &Joint, first: &[Force], stages: Vec<Stage>, lost_balance: Option<usize>) -> Course {
    let mut peaks = vec![1.0; first.len()];
    let mut peak_proof: Option<f64> = None;
    let mut grown_near_proof = false;
    let mut beyond = Risk::Fine;
    for stage in &stages {
        for (bolt, load) in stage.loads.iter().enumerate() {
            let multiple = *load / first[bolt];
            peaks[bolt] = f64::max(peaks[bolt], multiple);
            if let Some(bears) = joint.bolts[bolt].bears {
                let share = *load / bears.proof;
                let passed = [
                    (bears.proof, Risk::BeyondProof),
                    (bears.yielding, Risk::BeyondYield),
                    (bears.breaking, Risk::BeyondBreaking),
                ];
                let worst = passed.into_iter().filter(|(limit, _)| load > limit).map(|(_, risk)| risk).max();
                beyond = beyond.max(worst.unwrap_or(Risk::Fine));
                peak_proof = Some(peak_proof.map_or(share, |peak| peak.max(share)));
                grown_near_proof |= share > WATCH_PROOF && multiple > 1.0 + SAME_PEAK;
            }
        }
    }
    let peak = peaks.iter().copied().fold(1.0, f64::max);
    let peak_bolt = if peak > 1.0 { peaks.iter().position(|other| *other == peak) } else { None };
    let most = |part: fn(&Stage) -> Length| stages.iter().map(part).fold(Length::ZERO, Length::max);
    let risk = if beyond > Risk::Fine {
        beyond
    } else if peak > WATCH_RATIO || grown_near_proof || joint.spring_load() > Force::ZERO {
        Risk::Watch
    } else {
        Risk::Fine
    };
    Course {
        tilt: most(|stage| stage.tilt),
        bow: most(|stage| stage.bow),
        peaks,
        peak,
        peak_bolt,
        peak_proof: peak_proof.map(Ratio::from_fraction),
        lost_balance,
        risk,
        stages,
    }
}
