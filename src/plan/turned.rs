//! How far the engine is turned until a cylinder stands where it is to stand: reckoned along the planned order, from
//! where the turn before left it. What happens on the engine between the steps of the start, and what a held step will
//! do some day, leaves it unknown.

use super::types::{PlannedLine, PlannedStep, Standing};
use crate::procedure::model::{Deed, Phase, Procedure};
use crate::procedure::{Crank, moves};
use crate::quantity::{Angle, Quantity, Unit};

/// Tells each turn until a cylinder stands somewhere how far it goes, as far as that is known.
pub(super) fn reckon(procedure: &Procedure, phase: Phase, steps: &mut [PlannedStep]) {
    let mut crank = Crank::new(procedure);
    let mut last = None;
    for step in steps.iter_mut().filter(|step| step.standing != Standing::Absent) {
        // Between the steps of the start the engine may run; no order splits a block.
        if phase == Phase::Start && last != Some(step.node) {
            crank.forget();
        }
        last = Some(step.node);
        let mut moved = false;
        for line in &mut step.lines {
            let PlannedLine::Act(planned) = line else { continue };
            moved |= moves(procedure, &planned.act);
            let turned = crank.pass(&planned.act, &step.binding);
            let Deed::TurnByHand { angle, to: Some(_), .. } = &planned.act.deed else { continue };
            planned.turned = match (angle, turned) {
                // What is stated holds as far as nothing speaks against it.
                (Some(stated), Some(turned)) if turned.misses.is_none() => Some(*stated),
                (_, Some(turned)) => turned.angle.and_then(degrees),
                (stated, None) => *stated,
            };
        }
        if moved && matches!(step.standing, Standing::Held(_)) {
            crank.forget();
        }
    }
}

/// An angle as it is printed: whole degrees where it is whole.
fn degrees(angle: Angle) -> Option<Quantity> {
    let whole = (angle.degrees() - angle.degrees().round()).abs() < 0.05;
    angle.in_unit(Unit::find("deg")?, if whole { 0 } else { 1 }).ok()
}
