//! What runs in oil and says nothing of what goes on it before it is fitted; what is coated while it is hot.

use std::collections::{BTreeMap, BTreeSet};

use crate::diagnostics::Diagnostic;
use crate::procedure::errors;
use crate::procedure::model::*;
use crate::quantity::Temperature;

/// Complains of each part that comes off at some time and of which this should be said.
pub(in crate::procedure) fn nothing_on_it(procedure: &Procedure) -> Vec<Diagnostic> {
    // At some position nothing is said.
    let silent = |(_, part): &(PartId, &Part)| {
        let said = || part.handling.coats.iter().map(|coat| &coat.at).chain(&part.handling.dry);
        let mut places = procedure.places(&part.axes);
        places.any(|place| !said().any(|at| at.hold(&procedure.bound(&part.axes, place))))
    };
    let mut off = BTreeSet::new();
    for act in procedure.steps.iter().flat_map(Step::acts) {
        if let Deed::Part { work: PartWork::Take, what } = &act.deed {
            off.extend(what.iter().map(|target| target.id));
        }
    }
    let taken = |(id, _): &(PartId, &Part)| off.contains(id);
    let complaint = |(_, part): (PartId, &Part)| {
        let cause = if part.worn_in {
            "is worn in"
        } else if !part.sized_by.is_empty() || !part.sized_with.is_empty() {
            "is bought to size"
        } else if part.select_from.is_some() {
            "is selected"
        } else if part.teeth.is_some() {
            "has teeth"
        } else if let Some(kind) = part.kind {
            match kind {
                PartKind::Gasket | PartKind::Spring => return None,
                PartKind::Seal => "is a seal",
                PartKind::Bearing => "is a bearing",
                PartKind::Running => "runs in oil",
            }
        } else {
            return None;
        };
        Some(errors::nothing_on_it(part, cause))
    };
    procedure.parts.numbered().filter(silent).filter(taken).filter_map(complaint).collect()
}

/// What is no warmer may be oiled: a piston warmed for its pin is, its bores as the pin goes in. Common practice, no source.
const WARM: Temperature = Temperature::from_celsius(80.0);

/// Complains of each part that a step heats and then fits, and that is coated before it goes on.
pub(in crate::procedure) fn coated_hot(procedure: &Procedure) -> Vec<Diagnostic> {
    let mut complaints = Vec::new();
    for step in &procedure.steps {
        let mut heated = BTreeMap::new();
        for act in step.acts() {
            match &act.deed {
                Deed::Heat { what, to, .. } if to.base() > WARM.kelvin() => {
                    heated.insert(what.id, act.span);
                }
                Deed::Part { work: PartWork::Fit, what } => {
                    for (id, at) in what.iter().filter_map(|part| Some((part.id, heated.remove(&part.id)?))) {
                        let part = procedure.part(id);
                        let coat = part.handling.coats.first();
                        complaints.extend(
                            coat.map(|coat| errors::coated_hot(part, at, coat.span, &step.naming.id)),
                        );
                    }
                }
                _ => {}
            }
        }
    }
    complaints
}
