//! Turns by hand in the order as it was written: a stated angle that doesn't bring the cylinder where it is to stand.

use super::errors;
use super::types::{Network, StepSource};
use crate::diagnostics::Diagnostic;
use crate::procedure::model::{CylinderAt, Deed, Phase, Procedure};
use crate::procedure::{Crank, moves};

/// Complaints about every phase.
pub(super) fn turns(procedure: &Procedure, network: &Network) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for (phase, order) in &network.orders {
        let mut crank = Crank::new(procedure);
        let mut last: Option<&CylinderAt> = None;
        for node in order.iter().map(|node| &network.nodes[node.index()]) {
            // Between steps of the start the engine may run.
            if *phase == Phase::Start {
                crank.forget();
            }
            for member in &node.members {
                let step = match member.step {
                    StepSource::Written(id) => procedure.step(id),
                    StepSource::Derived(index) => &network.derived[index].step,
                };
                for act in step.acts() {
                    let Some(binding) = procedure.narrowed(&member.binding, &act.scope.at) else { continue };
                    let misses = crank.pass(act, &binding).and_then(|turned| turned.misses);
                    let Deed::TurnByHand { to: Some(to), .. } = &act.deed else { continue };
                    if let (Some(misses), Some(last)) = (misses, last) {
                        let axis = procedure.axis(to.axis);
                        let name =
                            |at: u16| format!("`{}` {}", axis.naming.id, axis.positions[usize::from(at)]);
                        let wanted = procedure.cylinder(to, &member.binding).map(name).unwrap_or_default();
                        let brought: Vec<String> = misses.iter().copied().map(name).collect();
                        found.push(errors::turn_misses(act.span, last.span, &wanted, &brought));
                    }
                    last = Some(to);
                }
                // What is done only under some answers leaves it open where the crankshaft stands.
                if !member.case.is_always() && step.acts().any(|act| moves(procedure, act)) {
                    crank.forget();
                }
            }
        }
    }
    found
}
