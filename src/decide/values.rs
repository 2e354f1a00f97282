//! Values of gauges: readings in their grid, computed values by their formula, on each occasion.

use super::book::Book;
use super::formula::{Reckoning, Term};
use super::{Value, Why, shown};
use crate::english::spaced;
use crate::metrology::{Measured, Spot};
use crate::procedure::model::{Gauge, GaugeId, Place};
use crate::record::Occasion;

impl Book<'_> {
    /// Value of a gauge as things stood on `occasion`. Readings of a gauge itself must be of that occasion; what a
    /// computed gauge is computed from may be of an earlier one, as long as nothing was done to the part since.
    pub(super) fn value(&self, id: GaugeId, place: Place, occasion: Occasion) -> Result<Value, Why> {
        let gauge = self.procedure.gauge(id);
        let name = || shown::titled(self.procedure, &gauge.naming, &gauge.axes, place);
        let unit = shown::unit_of(gauge);
        let Some((formula, _)) = &gauge.formula else {
            let spots = self.grid(id, place, occasion)?.spots();
            let each: Vec<(String, Measured)> =
                spots.map(|(spot, measured)| (spot_name(gauge, spot), measured)).collect();
            let mut value = Value {
                places: shown::places_for(self.shown_step(id, place), unit),
                working: String::new(),
                step: self.step(id, place),
                each,
                unit,
            };
            value.places = self.telling_places((id, place), &value);
            value.working = format!("{} = {}", name(), value.shown());
            return Ok(value);
        };
        let from_standard = self.counts_from_standard(id, place);
        let reckoning = Reckoning::new(occasion, from_standard);
        let Term { values, figures, .. } =
            self.term(formula, &self.procedure.bound(&gauge.axes, place), &reckoning)?;
        if values.is_empty() {
            return Err(Why::NotTaken(vec![(id, place)]));
        }
        let doubt = values.iter().copied().map(Measured::doubt).fold(0.0, f64::max);
        // What is of another dimension than its readings is shown as finely as they let it be known.
        let alike = |(input, _): &(GaugeId, Place)| self.procedure.gauge(*input).dimension == gauge.dimension;
        let steps = self.inputs(id, place).iter().all(alike) || doubt <= 0.0;
        let shown_step = if steps { self.shown_step(id, place) } else { 2.0 * doubt };
        let mut value = Value {
            each: values.into_iter().map(|measured| (String::new(), measured)).collect(),
            working: String::new(),
            places: shown::places_for(shown_step, unit),
            step: if steps { self.step(id, place) } else { 0.0 },
            unit,
        };
        value.places = self.telling_places((id, place), &value);
        let (written, result) = (self.written(formula), value.shown());
        let plain = shown::from_to(&value.measured(), unit, value.places);
        // Figures that only repeat the result would say it twice.
        value.working = if figures == plain {
            format!("{written} = {result}")
        } else {
            format!("{written} = {figures} = {result}")
        };
        if let Some(words) = self.counted_from(id, place).filter(|_| from_standard) {
            value.working += &format!(" ({words})");
        }
        Ok(value)
    }

    /// What was read, as it is told to somebody who doesn't reckon: the gauge with its place, and what it showed.
    pub(super) fn read(&self, (id, place): (GaugeId, Place), value: &Value) -> String {
        let gauge = self.procedure.gauge(id);
        let name = shown::titled(self.procedure, &gauge.naming, &gauge.axes, place);
        format!("{name}: {}", shown::from_to(&value.measured(), value.unit, value.places))
    }

    /// So many places that no value is shown on a limit of its gauge, or beyond it, that is not.
    fn telling_places(&self, at: (GaugeId, Place), value: &Value) -> u8 {
        let limits = self.limits_of(at);
        let places = value
            .each
            .iter()
            .map(|(_, measured)| shown::places_that_tell(measured.value, value.unit, value.places, &limits));
        places.max().unwrap_or(value.places)
    }

    /// Every limit that is said of a gauge at one of its places, in base units.
    pub(super) fn limits_of(&self, at: (GaugeId, Place)) -> Vec<f64> {
        let edges = self.edges(at).map_or_else(Vec::new, |(edges, _)| edges).into_iter();
        let said = self.limits_said(at);
        let made = said.made.into_iter().flat_map(|(low, high)| [Some(low), high]);
        let limits = edges.flat_map(|edges| [edges.low, edges.high]).chain(made).chain([said.worn]);
        limits.flatten().map(|limit| limit.base()).collect()
    }
}

/// Where at its part a reading is taken: `top along`; nothing where it is read once.
fn spot_name(gauge: &Gauge, spot: Spot) -> String {
    let station = gauge.stations.get(spot.station).map(|(name, _)| spaced(name));
    let direction = gauge.directions.get(spot.direction).map(|name| spaced(name));
    [station, direction].into_iter().flatten().collect::<Vec<_>>().join(" ")
}

impl Value {
    /// Without the names of spots.
    pub(super) fn measured(&self) -> Vec<Measured> {
        self.each.iter().map(|(_, measured)| *measured).collect()
    }

    /// What is shown of it all: one value with its doubt, or from the least to the largest.
    pub(super) fn shown(&self) -> String {
        match self.each.as_slice() {
            [(_, one)] => shown::with_doubt(*one, self.unit, self.places),
            _ => shown::from_to(&self.measured(), self.unit, self.places),
        }
    }

    /// What is shown of one of its readings: its own doubt, and where it was taken: `80.24 ± 0.005 mm top along`.
    pub(super) fn shown_at(&self, index: usize) -> String {
        let (spot, measured) = &self.each[index];
        let shown = shown::with_doubt(*measured, self.unit, self.places);
        if spot.is_empty() { shown } else { format!("{shown} at {spot}") }
    }

    /// One of its readings as it was read, and where: `80.24 mm at top along`.
    pub(super) fn read_at(&self, index: usize) -> String {
        let (spot, measured) = &self.each[index];
        let read = shown::plain(measured.value, self.unit, self.places);
        if spot.is_empty() { read } else { format!("{read} at {spot}") }
    }
}
