//! A stated torque that is set lower by a rule, as where threads are oiled that it means dry: the torque that is set counts
//! everywhere, and its origin tells what was stated and by which rule it was lowered.

use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::Less;
use crate::quantity::{Bound, Dimension, Quantity, Ratio, pair, range_pair, share_of};

/// More than this share off is no rule for what is on the threads. Our own line, no source: the greatest published one is 30 %
/// (US Army TM 9-2320-303-24-1, into aluminium).
const MOST_OFF: f64 = 0.5;

impl Resolver {
    /// Lowers what is stated, and says so in its origin.
    pub(super) fn lower(&mut self, stated: &mut Sourced<Tightening>, less: &Less) {
        self.needs_origin(&less.origin, less.span, "a torque that is set lower");
        let Some(off) = self.positive(&less.share, Dimension::RATIO) else { return };
        if off.base() > MOST_OFF {
            self.complain(errors::lowered_too_far(&less.share, MOST_OFF));
            return;
        }
        let Tightening::Passes(passes) = &mut stated.value else {
            self.complain(errors::nothing_to_lower(less.span, stated.span));
            return;
        };
        if passes.iter().any(|pass| matches!(pass, Pass::Angle(..))) {
            self.complain(errors::angle_lowered(less.span, stated.span));
            return;
        }
        let said: Vec<String> = passes.iter().map(said).collect();
        let left = Ratio::from_fraction(1.0 - off.base());
        for pass in passes {
            *pass = lowered(*pass, left);
        }
        let rule = less.origin.as_ref().map_or_else(String::new, |origin| format!(" ({})", origin.value));
        stated.origin = Some(format!(
            "{}: {}; set {} lower, {}{rule}",
            stated.origin.as_deref().unwrap_or("the procedure"),
            said.join(", "),
            off.printed(),
            less.because.value
        ));
    }
}

/// What a pass is stated as, in both units.
fn said(pass: &Pass) -> String {
    match *pass {
        Pass::Torque(low, Some(high)) => range_pair(low, high).to_string(),
        Pass::Torque(torque, None) => pair(torque).to_string(),
        Pass::Angle(angle, _) => angle.printed(),
    }
}

/// A single torque goes down to the digits shown, a range inward.
fn lowered(pass: Pass, left: Ratio) -> Pass {
    let of = |torque: Quantity, bound| share_of(torque, left, bound);
    match pass {
        Pass::Torque(low, Some(high)) => Pass::Torque(of(low, Bound::Least), Some(of(high, Bound::Most))),
        Pass::Torque(torque, None) => Pass::Torque(of(torque, Bound::Most), None),
        angle @ Pass::Angle(..) => angle,
    }
}
