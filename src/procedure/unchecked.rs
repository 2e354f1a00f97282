//! Constructs that are understood and kept, but that nothing acts on yet: the one list of them.
//!
//! Each is told once as a notice. A step whose work rests on one prints as held; what no work rests on holds nothing. When something comes to act on a construct, its row goes.

use std::collections::BTreeSet;

use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::source::Span;

/// A construct that nothing acts on yet.
struct Construct {
    /// What it is called.
    name: &'static str,
    /// The things that use it, with the place of their names.
    uses: fn(&Procedure) -> Vec<(Name, Span)>,
    /// Whether work rests on it.
    holds: bool,
}

const NOT_YET: [Construct; 2] = [
    Construct {
        name: "`open time`",
        uses: |p| supplies(p, |supply| supply.open_time.is_some()),
        holds: false,
    },
    Construct {
        name: "`cure time`",
        uses: |p| supplies(p, |supply| supply.cure_time.is_some()),
        holds: false,
    },
];

fn supplies(procedure: &Procedure, with: fn(&Supply) -> bool) -> Vec<(Name, Span)> {
    let numbered = (0u32..).map(SupplyId).zip(&procedure.supplies);
    numbered
        .filter(|(_, supply)| with(supply))
        .map(|(id, supply)| (Name::Supply(id), supply.naming.span))
        .collect()
}

/// Whether the work of a step rests on what one of these things says.
fn rests_on(step: &Step, things: &BTreeSet<Name>) -> bool {
    let among = |name: Name| things.contains(&name);
    let by_act = step.acts().any(|act| match &act.deed {
        Deed::Part { work: PartWork::Fit | PartWork::Send, what } => {
            what.iter().any(|part| among(Name::Part(part.id)))
        }
        _ => false,
    });
    by_act || step.supplies.iter().any(|(supply, _, _)| among(Name::Supply(*supply)))
}

impl Resolver {
    /// Tells of each such construct once, and holds the steps that rest on one.
    pub fn not_yet_checked(&mut self) {
        for construct in &NOT_YET {
            let things = (construct.uses)(&self.procedure);
            let Some((_, first)) = things.iter().min_by_key(|(_, span)| *span) else { continue };
            self.complain(errors::not_yet_checked(construct.name, *first, construct.holds));
            if construct.holds {
                let things = things.into_iter().map(|(thing, _)| thing).collect();
                for step in self.procedure.steps.iter_mut().filter(|step| rests_on(step, &things)) {
                    step.unchecked.push(construct.name.replace('`', ""));
                }
            }
        }
    }
}
