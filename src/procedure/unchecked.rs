//! Constructs that are understood and kept, but that nothing acts on yet: the one list of them.
//!
//! Each is told once as a notice, and a step whose work rests on one prints as held. When something comes to act
//! on a construct, its row goes.

use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::source::Span;

/// A construct that nothing acts on yet.
struct Construct {
    /// What it is called.
    name: &'static str,
    /// Where a part uses it.
    in_part: fn(&Part) -> Option<Span>,
    /// Where a gauge uses it.
    in_gauge: fn(&Gauge) -> Option<Span>,
}

const NOT_YET: &[Construct] = &[
    Construct {
        name: "a computed gauge",
        in_part: |_| None,
        in_gauge: |gauge| gauge.formula.as_ref().map(|(_, span)| *span),
    },
    Construct {
        name: "`select from`",
        in_part: |part| part.select_from.as_ref().map(|_| part.naming.span),
        in_gauge: |_| None,
    },
    Construct {
        name: "`size by parts in hand`",
        in_part: |part| part.fate.as_ref().filter(|fate| sizes_by_parts(fate)).map(|fate| fate.span),
        in_gauge: |_| None,
    },
];

fn sizes_by_parts(choice: &FateChoice) -> bool {
    let fates = choice.cases.iter().map(|(fate, _)| fate).chain(&choice.otherwise);
    fates.into_iter().any(|fate| *fate == Fate::SizeByPartsInHand)
}

impl Resolver {
    /// Tells of each such construct once, and holds the steps that rest on one.
    pub fn not_yet_checked(&mut self) {
        for construct in NOT_YET {
            let parts: Vec<Option<Span>> = self.procedure.parts.iter().map(construct.in_part).collect();
            let gauges: Vec<Option<Span>> = self.procedure.gauges.iter().map(construct.in_gauge).collect();
            let Some(first) = parts.iter().chain(&gauges).flatten().min().copied() else { continue };
            self.complain(errors::not_yet_checked(construct.name, first));
            for step in &mut self.procedure.steps {
                let rests_on_it = step.acts().any(|act| match &act.deed {
                    Deed::Part { work: PartWork::Fit | PartWork::Send, what } => {
                        what.iter().any(|part| parts[part.id.index()].is_some())
                    }
                    Deed::Gauge(what) => what.iter().any(|gauge| gauges[gauge.id.index()].is_some()),
                    _ => false,
                }) || step.when.0.iter().any(|term| match &term.question {
                    Question::Gauge(gauge) => gauges[gauge.id.index()].is_some(),
                    _ => false,
                });
                if rests_on_it {
                    step.unchecked.push(construct.name.replace('`', ""));
                }
            }
        }
    }
}
