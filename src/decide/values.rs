//! Values of gauges: readings in their grid, computed values by their formula, on each occasion.

use super::book::Book;
use super::formula::{Reckoning, Term, together};
use super::{Value, Why, shown};
use crate::procedure::model::{GaugeId, Place};
use crate::record::Occasion;

impl Book<'_> {
    /// Value of a gauge as things stood on `occasion`. Readings of a gauge itself must be of that occasion; what a
    /// computed gauge is computed from may be of an earlier one, as long as nothing was done to the part since.
    pub(super) fn value(&self, id: GaugeId, place: Place, occasion: Occasion) -> Result<Value, Why> {
        let gauge = self.procedure.gauge(id);
        let term = match &gauge.formula {
            None => {
                let values = self.grid(id, place, occasion)?.values();
                Term { figures: self.figures(id, &values), values }
            }
            Some((formula, _)) => {
                let reckoning = Reckoning::new(occasion);
                self.term(formula, &self.procedure.bound(&gauge.axes, place), &reckoning)?
            }
        };
        let measured = together(&term.values).ok_or_else(|| Why::NotTaken(vec![(id, place)]))?;
        let unit = shown::unit_of(gauge);
        // What is of another dimension than its readings is shown as finely as they let it be known.
        let alike = |(input, _): &(GaugeId, Place)| self.procedure.gauge(*input).dimension == gauge.dimension;
        let step = if self.inputs(id, place).iter().all(alike) || measured.doubt() <= 0.0 {
            self.step(id, place)
        } else {
            2.0 * measured.doubt()
        };
        let places = shown::places_for(step, unit);
        let result = shown::with_doubt(measured, unit, places);
        let name = || shown::titled(self.procedure, &gauge.naming, &gauge.axes, place);
        let working = match &gauge.formula {
            // Figures that only repeat the result would say it twice.
            Some((formula, _)) if term.figures != shown::plain(measured.value, unit, places) => {
                format!("{} = {} = {result}", self.written(formula), term.figures)
            }
            Some((formula, _)) => format!("{} = {result}", self.written(formula)),
            None if term.values.len() > 1 => format!("{} = {}", name(), term.figures),
            None => format!("{} = {result}", name()),
        };
        Ok(Value { measured, working, unit, places })
    }
}
