//! What is declared and then has no part in the work: sets that hold nothing or are never loosened, parts with a
//! fate that never come off, readings that nobody takes. Each is more likely a forgotten line than an intention.

use std::collections::BTreeSet;

use super::acts::fastened;
use super::errors;
use super::facts::Facts;
use crate::diagnostics::Diagnostic;
use crate::procedure::model::*;

/// Complaints about idle declarations; what is wrong with the sets in `told` was said elsewhere.
pub(super) fn idle(facts: &Facts<'_>, told: &BTreeSet<SetId>) -> Vec<Diagnostic> {
    let procedure = facts.procedure;
    let used = Used::of(procedure);
    let mut found = Vec::new();
    for (id, set) in procedure.sets.numbered() {
        if told.contains(&id) {
            continue;
        }
        let holds = procedure.places(&set.axes).any(|place| !facts.structure.held((id, place)).is_empty());
        let may_idle =
            set.stays || matches!(set.kind, FastenerKind::Plug | FastenerKind::Hollow | FastenerKind::Stud);
        if !holds && !may_idle {
            found.push(errors::holds_nothing(&set.naming.id, set.naming.span));
        } else if !set.stays && !used.loosened.contains(&id) {
            found.push(errors::never_loosened(&set.naming.id, set.naming.span));
        }
    }
    for (id, part) in procedure.parts.numbered() {
        let idle = |fate: &&FateChoice| !used.taken.contains(&id) && changes(fate);
        if let Some(fate) = part.fate.as_ref().filter(idle) {
            found.push(errors::never_comes_off(&part.naming.id, part.naming.span, fate.span));
        }
    }
    for (id, gauge) in procedure.gauges.numbered() {
        if gauge.formula.is_none() && !used.gauged.contains(&id) {
            found.push(errors::never_taken(&gauge.naming.id, "gauge", gauge.naming.span));
        }
    }
    for (id, look) in procedure.looks.numbered() {
        if !used.seen.contains(&id) {
            found.push(errors::never_taken(&look.naming.id, "look", look.naming.span));
        }
    }
    found
}

/// Whether anything but staying as it is may become of the part.
fn changes(choice: &FateChoice) -> bool {
    choice.cases.iter().map(|(fate, _)| fate).chain(&choice.otherwise).any(|fate| *fate != Fate::Reuse)
}

/// What the steps work on.
#[derive(Default)]
struct Used {
    loosened: BTreeSet<SetId>,
    taken: BTreeSet<PartId>,
    gauged: BTreeSet<GaugeId>,
    seen: BTreeSet<LookId>,
}

impl Used {
    fn of(procedure: &Procedure) -> Used {
        let mut used = Used::default();
        let then = procedure.joints.iter().map(|joint| &joint.then);
        let then = then.chain(procedure.sets.iter().map(|set| &set.then)).flatten();
        for act in procedure.steps.iter().flat_map(Step::acts).chain(then) {
            match &act.deed {
                Deed::Fasten { work, what, .. }
                    if matches!(work, FasteningWork::Undo | FasteningWork::Slacken) =>
                {
                    let sets = fastened(procedure, *work, what, &Binding::default());
                    used.loosened.extend(sets.into_iter().map(|(set, _, _)| set));
                }
                Deed::Part { work: PartWork::Take, what } => {
                    used.taken.extend(what.iter().map(|target| target.id));
                }
                Deed::Gauge(what) => used.gauged.extend(what.iter().map(|target| target.id)),
                Deed::Look(what) => used.seen.extend(what.iter().map(|target| target.id)),
                _ => {}
            }
        }
        used
    }
}
