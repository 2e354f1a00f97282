//! Tightening a joint in passes: how evenly the fasteners are loaded after each pass.
//!
//! A fastener tightened later lets its neighbours down. Every fastener is brought exactly to the load of the
//! pass; the scatter of the torque itself comes on top.

use super::{Band, Ground, Joint, NoEquilibrium, Point, State};
use crate::quantity::Ratio;

/// Loads after a pass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PassResult {
    /// Share of the full load that the pass goes to.
    pub share: Ratio,
    /// Whether it goes round in circular order instead of the pattern.
    pub circular: bool,
    /// Standard deviation of the loads over their mean, each load as a share of its fastener's full load.
    pub scatter: Ratio,
    /// Least and greatest load as a share of the full one.
    pub loads: Band<Ratio>,
}

/// What the study of a tightening found, at the worse end of the gasket's stiffness.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct TightenReport {
    /// The stated passes in the given order.
    pub passes: Vec<PassResult>,
    /// One more pass at full load in circular order; none where the set is tightened by angle or into yield, where
    /// it must not be done.
    pub last_circular: Option<PassResult>,
    /// Share of the bolts in the stiffness of the whole.
    pub stiffness_ratio: Band<Ratio>,
    /// What all of it rests on.
    pub assumptions: Vec<String>,
}

/// Load at which work starts: nipped up, as a share of the full load. Common practice, no source.
const NIPPED: f64 = 0.1;

/// One pass: the fasteners in the order in which they are worked, each with the share of its full load that the pass
/// brings it to.
pub(crate) type Pass = Vec<(usize, Ratio)>;

/// Studies tightening in passes that need not go over every fastener, as where larger sizes are brought to their full
/// load before the first of the smaller. `by_torque` are the fasteners that a last circular pass may go over: those
/// tightened by torque alone and below yield.
///
/// # Errors
/// The nipped-up joint has no equilibrium.
pub(crate) fn study_passes(
    joint: &Joint,
    passes: &[Pass],
    by_torque: &[usize],
) -> Result<TightenReport, NoEquilibrium> {
    let (band, ground) = (joint.stiffness(), &Ground::of(joint));
    let soft = results(joint, ground, passes, by_torque, band.low)?;
    let hard = results(joint, ground, passes, by_torque, band.high)?;
    let last = |results: &[PassResult]| {
        results.get(passes.len().wrapping_sub(1)).map_or(0.0, |pass| pass.scatter.fraction())
    };
    let mut results = if last(&soft) >= last(&hard) { soft } else { hard };
    let last_circular = if by_torque.is_empty() { None } else { results.pop() };
    Ok(TightenReport {
        passes: results,
        last_circular,
        stiffness_ratio: joint.stiffness_ratio(),
        assumptions: joint.assumptions(),
    })
}

/// The passes, and after them one at full load in circular order where any fastener may be gone over again.
fn results(
    joint: &Joint,
    ground: &Ground,
    passes: &[Pass],
    by_torque: &[usize],
    stiffness: f64,
) -> Result<Vec<PassResult>, NoEquilibrium> {
    let mut state = State::all_at(joint, ground, NIPPED, stiffness)?;
    let full = Ratio::from_percent(100.0);
    let around: Pass = circular(joint)
        .into_iter()
        .filter(|bolt| by_torque.contains(bolt))
        .map(|bolt| (bolt, full))
        .collect();
    let last = if around.is_empty() { None } else { Some((&around, true)) };
    let mut results = Vec::new();
    for (pass, is_circular) in passes.iter().map(|pass| (pass, false)).chain(last) {
        for (bolt, share) in pass {
            state.tighten(*bolt, joint.bolts[*bolt].load * share.fraction())?;
        }
        let share = pass.iter().map(|(_, share)| *share).fold(Ratio::ZERO, Ratio::max);
        // Sizes that are not worked yet say nothing of a pass; at the end all count.
        let is_last = results.len() + 1 >= passes.len();
        let worked: Vec<usize> = if is_last {
            (0..joint.bolts.len()).collect()
        } else {
            pass.iter().map(|(bolt, _)| *bolt).collect()
        };
        results.push(result(joint, &state, share, is_circular, &worked));
    }
    Ok(results)
}

fn result(joint: &Joint, state: &State, share: Ratio, circular: bool, worked: &[usize]) -> PassResult {
    let loads: Vec<f64> = worked.iter().map(|bolt| state.load(*bolt) / joint.bolts[*bolt].load).collect();
    let count = loads.len().max(1) as f64;
    let mean = loads.iter().sum::<f64>() / count;
    let variance = loads.iter().map(|load| (load - mean).powi(2)).sum::<f64>() / count;
    let (low, high) =
        loads.iter().fold((f64::INFINITY, 0.0f64), |(low, high), v| (low.min(*v), high.max(*v)));
    PassResult {
        share,
        circular,
        scatter: Ratio::from_fraction(if mean > 0.0 { variance.sqrt() / mean } else { 0.0 }),
        loads: Band { low: Ratio::from_fraction(low), high: Ratio::from_fraction(high) },
    }
}

/// Clockwise round the middle, from the first fastener.
fn circular(joint: &Joint) -> Vec<usize> {
    let holes: Vec<Point> = joint.bolts.iter().map(|bolt| bolt.at).collect();
    let middle = Point::middle(&holes);
    let angle = |hole: &Point| {
        let (x, y) = middle.to(*hole);
        x.atan2(y)
    };
    let first = holes.first().map_or(0.0, angle);
    let from_first = |bolt: usize| (angle(&holes[bolt]) - first + 1e-12).rem_euclid(std::f64::consts::TAU);
    let mut order: Vec<usize> = (0..holes.len()).collect();
    order.sort_by(|&a, &b| from_first(a).total_cmp(&from_first(b)));
    order
}
