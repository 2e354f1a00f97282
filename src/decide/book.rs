//! The readings of a job by place, each in its grid, and which of them count. It must not know what is computed from them.

use std::collections::{BTreeMap, BTreeSet};

use super::never::{Never, never};
use super::resting::Resting;
use super::sizes::Fates;
use super::{Asked, Why, shown, slips};
use crate::diagnostics::Diagnostic;
use crate::metrology::{Grid, Measured, Spot};
use crate::procedure::model::{Gauge, GaugeId, Place, Procedure};
use crate::quantity::{Numeral, Unit, places_in_doubt};
use crate::record::{Goods, Job, Occasion, Reading, Settlement};
use crate::structure::{PartAt, Structure};

/// Procedure, record and the readings by place.
pub(super) struct Book<'a> {
    pub(super) procedure: &'a Procedure,
    pub(super) job: &'a Job,
    grids: BTreeMap<(GaugeId, Place, Occasion), Grid>,
    implausible: BTreeSet<(GaugeId, Place, Occasion)>,
    /// Smallest step of the readings of a gauge.
    steps: BTreeMap<GaugeId, f64>,
    /// Most places with which one was written down, as the step they show.
    written: BTreeMap<GaugeId, f64>,
    /// What each reading rests on.
    pub(super) resting: Resting,
    /// What can't be read or looked at any more.
    pub(super) never: Never,
    /// What has taken its value from a reading as found since, by what has been decided so far.
    pub(super) superseded: Superseded,
    /// What becomes of each part, by what has been decided so far.
    pub(super) fates: Fates,
}

/// The piece that has taken its value from a reading as found since.
pub(super) type Superseded = BTreeMap<(GaugeId, Place), PartAt>;

impl<'a> Book<'a> {
    /// Sorts the readings, and questions those that can't be: they count as not taken.
    pub(super) fn new(
        procedure: &'a Procedure,
        structure: &Structure,
        job: &'a Job,
        diagnostics: &mut Vec<Diagnostic>,
    ) -> Self {
        let mut book = Book {
            procedure,
            job,
            grids: BTreeMap::new(),
            implausible: BTreeSet::new(),
            steps: BTreeMap::new(),
            written: BTreeMap::new(),
            resting: Resting::new(procedure, structure),
            never: never(procedure, job),
            superseded: Superseded::new(),
            fates: Fates::new(),
        };
        for reading in &job.readings {
            let gauge = procedure.gauge(reading.gauge);
            let key = (reading.gauge, reading.place, reading.occasion);
            if let Some(diagnostic) = slips::question(procedure, job, reading) {
                book.implausible.insert(key);
                diagnostics.push(diagnostic);
                continue;
            }
            let step = step_of(gauge, reading);
            let finest = book.steps.entry(reading.gauge).or_insert(step);
            *finest = finest.min(step);
            if let Some(shows) = reading.value.numeral().step() {
                let shows = shows * reading.value.unit().scale();
                let finest = book.written.entry(reading.gauge).or_insert(shows);
                *finest = finest.min(shows);
            }
            let spot = Spot {
                station: reading.station.unwrap_or_default(),
                direction: reading.direction.unwrap_or_default(),
            };
            let measured = Measured::read(reading.value.base(), step).off_by(error_of(job, gauge, reading));
            book.grids.entry(key).or_default().insert(spot, measured);
        }
        book
    }

    /// What the record settles of a part at one place.
    pub(super) fn by_hand(&self, (part, place): PartAt) -> Option<&'a Settlement> {
        self.job.settled(Goods::Part(part, Some(place)), Goods::Part(part, None))
    }

    /// Whether anything was read of this gauge, or of one that it is computed from, on this occasion.
    pub(super) fn touched(&self, id: GaugeId, place: Place, occasion: Occasion) -> bool {
        let inputs = self.inputs(id, place);
        inputs.iter().any(|(gauge, place)| {
            let key = (*gauge, *place, occasion);
            self.grids.contains_key(&key) || self.implausible.contains(&key)
        })
    }

    /// The gauges that are read for this one, with their places: itself unless it is computed.
    pub(super) fn inputs(&self, id: GaugeId, place: Place) -> Vec<(GaugeId, Place)> {
        self.procedure.readings_behind(id, place)
    }

    /// Why a reading of the engine as it was found can't be had any more; none where it can.
    pub(super) fn never_read(&self, id: GaugeId, place: Place) -> Option<&String> {
        let untaken = |at: &(GaugeId, Place)| self.grid(at.0, at.1, Occasion::AsFound).is_err();
        let inputs = self.inputs(id, place).into_iter().filter(untaken);
        inputs.into_iter().find_map(|(id, place)| self.never.get(&Asked::Gauge(id, place)))
    }

    /// The readings of a gauge, if all of them were taken.
    pub(super) fn grid(&self, id: GaugeId, place: Place, occasion: Occasion) -> Result<&Grid, Why> {
        let key = (id, place, occasion);
        if self.implausible.contains(&key) {
            return Err(Why::Implausible);
        }
        let gauge = self.procedure.gauge(id);
        let wanted = gauge.stations.len().max(1) * gauge.directions.len().max(1);
        match self.grids.get(&key) {
            Some(grid) if grid.values().len() >= wanted => Ok(grid),
            _ => Err(Why::NotTaken(vec![(id, place)])),
        }
    }

    /// The occasion whose reading counts for a gauge as things stood on `occasion`: the latest up to then. A
    /// reading as found does not count where something that it rests on was machined or renewed since.
    pub(super) fn counting(&self, id: GaugeId, place: Place, occasion: Occasion) -> Result<Occasion, Why> {
        let order = [Occasion::AsBuilt, Occasion::AsReturned, Occasion::AsFound];
        let mut up_to = order.into_iter().filter(|earlier| *earlier <= occasion);
        let found = up_to.find(|earlier| self.touched(id, place, *earlier));
        let found = found.ok_or_else(|| Why::NotTaken(vec![(id, place)]))?;
        if found == Occasion::AsFound
            && occasion > Occasion::AsFound
            && let Some((part, place)) = self.superseded.get(&(id, place)).copied()
        {
            return Err(Why::Superseded(part, place));
        }
        Ok(found)
    }

    /// Smallest step of what a gauge is read or computed from; a thousandth of its unit where nothing tells.
    pub(super) fn step(&self, id: GaugeId, place: Place) -> f64 {
        let inputs = self.inputs(id, place);
        let steps = inputs.iter().filter_map(|(gauge, _)| self.steps.get(gauge)).copied();
        let finest = steps.filter(|step| *step > 0.0).fold(f64::INFINITY, f64::min);
        if finest.is_finite() {
            return finest;
        }
        shown::unit_of(self.procedure.gauge(id)).map_or(1e-3, |unit| unit.scale() * 1e-3)
    }

    /// The step with which a value is shown: that of the finest writing or instrument that it comes from.
    pub(super) fn shown_step(&self, id: GaugeId, place: Place) -> f64 {
        let inputs = self.inputs(id, place);
        let written = inputs.iter().filter_map(|(gauge, _)| self.written.get(gauge)).copied();
        written.fold(self.step(id, place), f64::min)
    }

    /// Values in figures: one, or from the least to the largest; in the unit in which they lie apart where they are
    /// differences of readings of the gauge.
    pub(super) fn figures(&self, id: GaugeId, values: &[Measured], differ: bool) -> String {
        let unit = shown::unit_of(self.procedure.gauge(id));
        let unit = if differ { unit.map(Unit::apart) } else { unit };
        let places = shown::places_for(self.fineness((id, Place(0)), values), unit);
        let in_doubt = values.iter().map(|value| places_in_doubt(value.value, value.doubt(), unit, places));
        shown::from_to(values, unit, in_doubt.max().unwrap_or(places))
    }

    /// The step with which values of a gauge are shown: what is of another dimension than its readings as finely as they let
    /// it be known.
    pub(super) fn fineness(&self, (id, place): (GaugeId, Place), values: &[Measured]) -> f64 {
        let doubt = values.iter().copied().map(Measured::doubt).fold(0.0, f64::max);
        if self.steps_as_read((id, place)) || doubt <= 0.0 { self.shown_step(id, place) } else { 2.0 * doubt }
    }

    /// Whether a gauge is read, or computed of what measures the same.
    pub(super) fn steps_as_read(&self, (id, place): (GaugeId, Place)) -> bool {
        let gauge = self.procedure.gauge(id);
        let alike = |(input, _): &(GaugeId, Place)| self.procedure.gauge(*input).dimension == gauge.dimension;
        self.inputs(id, place).iter().all(alike)
    }
}

/// A fraction of an inch is read off a rule, which is divided into sixty-fourths, unless the gauge says otherwise. Common
/// practice, no source.
const RULE: u32 = 64;

/// The smallest step that counts for a reading: that of the instrument, or that of the writing if it is coarser.
fn step_of(gauge: &Gauge, reading: &Reading) -> f64 {
    let instrument = gauge.instrument.as_ref().and_then(|(_, resolution)| *resolution);
    let instrument = instrument.map(|resolution| resolution.numeral().value() * resolution.unit().scale());
    let scale = reading.value.unit().scale();
    match reading.value.numeral() {
        Numeral::Fraction { denominator, .. } => {
            instrument.unwrap_or(scale / f64::from(denominator.max(RULE)))
        }
        written => instrument.unwrap_or(0.0).max(written.step().map_or(0.0, |step| step * scale)),
    }
}

/// How far the instrument may itself be off, in base units: as the record says of this reading; else as the shop's crib says of
/// what it was read with, or as the procedure says of what it should be read with.
fn error_of(job: &Job, gauge: &Gauge, reading: &Reading) -> f64 {
    let own = gauge.instrument.as_ref().map(|(name, _)| name);
    let with = reading.instrument.as_ref().or(own);
    let in_crib = with.and_then(|name| job.instrument_error(name, reading.value.dimension()));
    let stated = gauge.error.as_ref().map(|error| error.value);
    let error = reading.error.or(in_crib).or(stated);
    error.map_or(0.0, |error| error.numeral().value().abs() * error.unit().scale())
}
