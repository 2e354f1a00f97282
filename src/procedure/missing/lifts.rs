//! What carries the weight: a hoist for what is above the lifting limit, and a hoist that is strong enough.

use super::Judged;
use crate::diagnostics::Diagnostic;
use crate::procedure::errors;
use crate::procedure::model::*;
use crate::quantity::Dimension;
use crate::source::Span;

/// From this mass on, in kilograms, a part isn't left hanging on its last fastener with one pair of hands there: common
/// practice, no source.
const HUNG: f64 = 5.0;

impl Judged<'_> {
    pub(super) fn lifts(&self) -> Vec<Diagnostic> {
        let mut complaints = Vec::new();
        let mut told: Vec<Span> = Vec::new();
        for (act, work, id, named) in self.worked_parts() {
            let part = self.procedure.part(id);
            let Some(mass) = part.mass else { continue };
            if !matches!(work, PartWork::Take | PartWork::Fit | PartWork::Support)
                || told.contains(&part.naming.span)
            {
                continue;
            }
            let before = complaints.len();
            let hoists = || self.step.listed().map(|(tool, span)| (self.procedure.tool(tool), span));
            let hoists = || hoists().filter(|(tool, _)| tool.kind == ToolKind::Hoist);
            for (hoist, listed) in hoists() {
                let carries =
                    hoist.range.map(|(_, high)| high).filter(|high| high.dimension() == Dimension::MASS);
                if let Some(most) = carries.filter(|most| most.base() < mass.base()) {
                    complaints.push(errors::hoist_too_weak(hoist, part, most, mass, listed));
                }
            }
            if self.procedure.is_heavy(part) && hoists().next().is_none() {
                let at = self.place(named, &part.naming);
                complaints.push(errors::no_hoist(part, self.id, mass, at, self.derived));
            } else if work == PartWork::Take && !self.procedure.is_heavy(part) && self.hangs(act, id) {
                complaints.push(errors::hung(part, self.id, mass, self.place(named, &part.naming)));
            }
            if complaints.len() > before {
                told.push(part.naming.span);
            }
        }
        complaints
    }

    /// Whether a part that isn't heavy but no trifle comes off in the hands of one who also undoes what holds it.
    fn hangs(&self, take: usize, id: PartId) -> bool {
        let part = self.procedure.part(id);
        if self.step.hands > 1 || part.mass.is_none_or(|mass| mass.base() < HUNG) {
            return false;
        }
        let undone = self
            .driven_sets()
            .filter(|(act, work, ..)| *act < take && *work == FasteningWork::Undo)
            .filter(|(_, _, set, _)| self.procedure.holds(*set, id))
            .last();
        let Some((undone, ..)) = undone else { return false };
        let supported = self
            .worked_parts()
            .any(|(act, work, other, _)| act < undone && work == PartWork::Support && other == id);
        !supported
    }
}
