//! How a computed value moves with the sizes that it is computed from. It must not know any size.

use crate::procedure::model::{Formula, Function, GaugeId, Operator, Procedure};
use crate::quantity::Dimension;

/// Formulas within formulas that are looked into: none that is written is as deep, and a ring of them ends.
const DEPTH: usize = 16;

/// By how much a value moves where all that is read for it is larger by one: 1 for `max(bore)`, and for `max(bore) - 80 mm`;
/// nought for `max(bore) - min(bore)`. None where it doesn't move in proportion, such as the area of a bore.
pub(super) fn moves(procedure: &Procedure, formula: &Formula) -> Option<f64> {
    within(procedure, formula, DEPTH)
}

fn within(procedure: &Procedure, formula: &Formula, depth: usize) -> Option<f64> {
    let moves = |formula: &Formula| within(procedure, formula, depth.checked_sub(1)?);
    match formula {
        Formula::Amount(_) | Formula::Count(_) => Some(0.0),
        Formula::Reading(target) => match &procedure.gauge(target.id).formula {
            Some((formula, _)) => moves(formula),
            None => Some(1.0),
        },
        Formula::Operation { operator, left, right } => {
            let (by, other) = (moves(left)?, moves(right)?);
            match (operator, left.as_ref(), right.as_ref()) {
                (Operator::Add, ..) => Some(by + other),
                (Operator::Subtract, ..) => Some(by - other),
                (Operator::Multiply, _, Formula::Count(count)) => Some(by * count),
                (Operator::Multiply, Formula::Count(count), _) => Some(other * count),
                (Operator::Divide, _, Formula::Count(count)) => Some(by / count),
                _ => None,
            }
        }
        Formula::Call { function, arguments } => {
            let mut each = arguments.iter().map(moves);
            let first = each.next()??;
            // Of what moves unlike, the largest may be another one then.
            if !each.all(|by| by == Some(first)) {
                return None;
            }
            match function {
                Function::Max | Function::Min | Function::Mean => Some(first),
                Function::Spread | Function::OutOfRound | Function::Taper => Some(0.0),
                Function::Sum => None,
            }
        }
    }
}

/// Whether a length is stated in the formula of a gauge, or in one that it uses.
pub(super) fn states_a_length(procedure: &Procedure, id: GaugeId) -> bool {
    let mut waiting = vec![id];
    let mut met = Vec::new();
    while let Some(id) = waiting.pop() {
        met.push(id);
        let Some((formula, _)) = &procedure.gauge(id).formula else { continue };
        if has_a_length(formula) {
            return true;
        }
        let inner = formula.readings().into_iter().map(|target| target.id);
        waiting.extend(inner.filter(|id| !met.contains(id)));
    }
    false
}

fn has_a_length(formula: &Formula) -> bool {
    match formula {
        Formula::Amount(amount) => amount.dimension() == Dimension::LENGTH,
        Formula::Count(_) | Formula::Reading(_) => false,
        Formula::Operation { left, right, .. } => has_a_length(left) || has_a_length(right),
        Formula::Call { arguments, .. } => arguments.iter().any(has_a_length),
    }
}
