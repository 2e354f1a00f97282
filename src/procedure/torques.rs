//! Stated torques against what fasteners bear, and engagements against what a tapped hole needs, through
//! `mechanics`.
//!
//! What can't be compared (no class, a thread that isn't in the tables, `general`, `by feel`, `unknown`) is passed
//! over in silence: nothing is assumed.

use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::diagnostics::Diagnostic;
use crate::mechanics::Band;
use crate::mechanics::assess::{self, Fastening as Clamped};
use crate::mechanics::engagement::Tapped;
use crate::quantity::{Angle, Length, Quantity, Ratio, Torque};

impl Resolver {
    /// Warns of every torque and engagement that doesn't fit its fasteners.
    pub(super) fn torques(&mut self) {
        let mut complaints = Vec::new();
        for set in &self.procedure.sets {
            complaints.extend(short_engagement(set));
            for tightening in set.tightening.values() {
                complaints.extend(compare(set, None, tightening));
            }
        }
        for joint in &self.procedure.joints {
            for member in &joint.members {
                for tightening in member.tightening.values() {
                    complaints.extend(compare(self.procedure.set(member.set.id), Some(joint), tightening));
                }
            }
        }
        self.diagnostics.extend(complaints);
    }
}

/// The findings on one stated tightening.
fn compare(set: &FastenerSet, joint: Option<&Joint>, tightening: &Sourced<Tightening>) -> Vec<Diagnostic> {
    let Tightening::Passes(passes) = &tightening.value else { return Vec::new() };
    let (Some((torque, angle)), Some(clamped)) = (final_pass(passes), clamped(set, joint)) else {
        return Vec::new();
    };
    // A class that doesn't exist for the thread was complained of where it is declared.
    let findings = assess::assess(&clamped, torque, angle).unwrap_or_default();
    findings.iter().map(|finding| errors::torque_finding(set, tightening.span, finding)).collect()
}

/// The last torque and the angle turned after it.
pub(super) fn final_pass(passes: &[Pass]) -> Option<(Band<Torque>, Angle)> {
    let last = passes.iter().rposition(|pass| matches!(pass, Pass::Torque(..)))?;
    let torque = |quantity: Quantity| Torque::try_from(quantity).ok();
    let Pass::Torque(low, high) = passes[last] else { return None };
    let angles = passes[last + 1..].iter().filter_map(|pass| match pass {
        Pass::Angle(low, _) => Angle::try_from(*low).ok(),
        Pass::Torque(..) => None,
    });
    let angle = angles.fold(Angle::ZERO, |sum, angle| sum + angle);
    Some((Band::between(torque(low)?, torque(high.unwrap_or(low))?), angle))
}

/// The set as `mechanics` sees it; none if its thread or strength isn't known.
fn clamped(set: &FastenerSet, joint: Option<&Joint>) -> Option<Clamped> {
    let nut = set.nut();
    let low_by_kind = set.soft || matches!(set.kind, FastenerKind::Hollow | FastenerKind::Plug);
    let friction = set.friction.as_ref().or_else(|| joint.and_then(|joint| joint.friction.as_ref()));
    let tapped = (set.kind != FastenerKind::Nut).then(|| tapped(set)).flatten();
    Some(Clamped {
        thread: set.thread()?,
        // A nut says nothing of its bolt: the strongest that it holds is the kindest assumption against "too high".
        class: set.bolt_class()?,
        nut,
        tapped,
        friction: friction
            .map(|stated| stated.value)
            .map(|(low, high)| Band::between(Ratio::from_fraction(low), Ratio::from_fraction(high))),
        grip: None,
        single_use: set.reuse.values().any(|reuse| reuse.value == Reuse::Once),
        // ... and no ground at all for "too low".
        may_be_low: low_by_kind || nut.is_some(),
    })
}

fn tapped(set: &FastenerSet) -> Option<(Tapped, Option<Length>)> {
    let material = match set.into? {
        Into::Iron => Tapped::Iron,
        Into::Steel => Tapped::Steel,
        Into::Aluminium => Tapped::Aluminium,
        Into::Insert => Tapped::Insert,
    };
    let depth = set.engagement.and_then(|depth| Length::try_from(depth).ok());
    Some((material, depth))
}

fn short_engagement(set: &FastenerSet) -> Option<Diagnostic> {
    let (material, depth) = tapped(set)?;
    let depth = depth?;
    let least = material.least_engagement(&set.thread()?);
    (depth < least).then(|| errors::short_engagement(set, material.name(), least))
}
