//! Values of gauges: readings in their grid, computed values by their formula, on each occasion.

use super::book::Book;
use super::formula::{Reckoning, Term};
use super::traced::{Traced, Witness};
use super::{Value, Why, shown};
use crate::english::{inner, spaced};
use crate::metrology::{Measured, Spot, same};
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
                spots.map(|(spot, measured)| (at_spot(gauge, spot), measured)).collect();
            let mut value = Value {
                occasion,
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
        let from_standard = self.counts_from_standard((id, place), occasion);
        let reckoning = Reckoning::new(occasion, from_standard);
        let Term { values, figures, .. } =
            self.term(formula, &self.procedure.bound(&gauge.axes, place), &reckoning)?;
        if values.is_empty() {
            return Err(Why::NotTaken(vec![(id, place)]));
        }
        let bare = Traced::bare(&values);
        let steps = self.steps_as_read((id, place)) || bare.iter().all(|value| value.doubt() <= 0.0);
        let shown_step = self.fineness((id, place), &bare);
        let mut value = Value {
            occasion,
            each: values.iter().map(|value| (self.from(value), value.measured)).collect(),
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
        if let Some(words) = self.counted_from((id, place), occasion).filter(|_| from_standard) {
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

    /// The readings that decide a computed value, where others might have: `from 80.24 mm at top along and 80.02 mm at
    /// bottom across`; with the gauge where they are of several. Only where, if it is one and the value is what it showed.
    fn from(&self, Traced { measured, by }: &Traced) -> String {
        let several = |witness: &Witness| witness.of_several || witness.spot.is_some();
        let telling: Vec<&Witness> = by.iter().filter(|witness| several(witness)).collect();
        let of_one = telling.iter().all(|witness| witness.at.0 == telling[0].at.0);
        let words: Vec<(String, String)> = telling
            .iter()
            .map(|Witness { at: (id, place), spot, of_several, read }| {
                let gauge = self.procedure.gauge(*id);
                let unit = shown::unit_of(gauge);
                let places = shown::places_for(self.shown_step(*id, *place), unit);
                let name = match of_several {
                    true => Some(shown::titled(self.procedure, &gauge.naming, &gauge.axes, *place)),
                    false if of_one => None,
                    false => Some(gauge.naming.title.clone()),
                };
                let spot = spot.map(|spot| spot_name(gauge, spot)).filter(|spot| !spot.is_empty());
                let place: Vec<String> =
                    [name.map(|name| inner(&name)), spot].into_iter().flatten().collect();
                (shown::plain(*read, unit, places), place.join(", "))
            })
            .collect();
        match (words.as_slice(), telling.as_slice()) {
            ([], _) => String::new(),
            ([(_, place)], [only]) if same(only.read, measured.value) => format!("at {place}"),
            _ => {
                let words: Vec<String> =
                    words.into_iter().map(|(read, place)| format!("{read} at {place}")).collect();
                format!("from {}", words.join(" and "))
            }
        }
    }

    /// Why a value is what it is, for the desk and in plain words: where `culprit` decides, with what it shows and where that
    /// was read; of several without one, from the least to the largest.
    pub(super) fn told(
        &self,
        at: (GaugeId, Place),
        value: &Value,
        culprit: Option<usize>,
    ) -> (String, String) {
        let gauge = self.procedure.gauge(at.0);
        let culprit =
            culprit.filter(|index| value.each.get(*index).is_some_and(|(origin, _)| !origin.is_empty()));
        let Some(index) = culprit else { return (value.working.clone(), self.read(at, value)) };
        let titled = shown::titled(self.procedure, &gauge.naming, &gauge.axes, at.1);
        let full = match value.each.as_slice() {
            _ if gauge.formula.is_none() => format!("{titled} = {}", value.shown_at(index)),
            [(origin, _)] => format!("{}, {origin}", value.working),
            _ => format!("{}, furthest {}", value.working, value.shown_at(index)),
        };
        (full, format!("{titled}: {}", value.read_at(index)))
    }

    /// So many places that no value is shown on a limit of its gauge, or beyond it, that is not, nor further off than it may be.
    fn telling_places(&self, at: (GaugeId, Place), value: &Value) -> u8 {
        let limits = self.limits_of(at, value.occasion);
        let places = value
            .each
            .iter()
            .map(|(_, measured)| shown::places_that_tell(*measured, value.unit, value.places, &limits));
        places.max().unwrap_or(value.places)
    }

    /// Every limit that is said of a gauge at one of its places on an occasion, in base units.
    pub(super) fn limits_of(&self, at: (GaugeId, Place), occasion: Occasion) -> Vec<f64> {
        let edges = self.edges(at, occasion).map_or_else(Vec::new, |(edges, _)| edges).into_iter();
        let said = self.limits_said(at, occasion);
        let made = said.made.into_iter().flat_map(|(low, high)| [Some(low), high]);
        let limits = edges.flat_map(|edges| [edges.low, edges.high]).chain(made).chain([said.worn]);
        limits.flatten().map(|limit| limit.base()).collect()
    }
}

/// The same with its preposition.
fn at_spot(gauge: &Gauge, spot: Spot) -> String {
    let name = spot_name(gauge, spot);
    if name.is_empty() { name } else { format!("at {name}") }
}

/// Where at its part a reading is taken: `top along`; nothing where it is read once.
fn spot_name(gauge: &Gauge, spot: Spot) -> String {
    let station = gauge.stations.get(spot.station).map(|(name, _)| spaced(name));
    let direction = gauge.directions.get(spot.direction).map(|name| spaced(name));
    [station, direction].into_iter().flatten().collect::<Vec<_>>().join(" ")
}

impl Value {
    /// Without where they are from.
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
        let (origin, measured) = &self.each[index];
        let shown = shown::with_doubt(*measured, self.unit, self.places);
        if origin.is_empty() { shown } else { format!("{shown} {origin}") }
    }

    /// One of its readings as it was read, and where: `80.24 mm at top along`.
    pub(super) fn read_at(&self, index: usize) -> String {
        let (origin, measured) = &self.each[index];
        let read = shown::plain(measured.value, self.unit, self.places);
        if origin.is_empty() { read } else { format!("{read} {origin}") }
    }
}
