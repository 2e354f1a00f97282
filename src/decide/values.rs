//! Values of gauges: readings in their grid, computed values by their formula, on each occasion.

use std::collections::{BTreeMap, BTreeSet};

use super::{Value, Why, errors, shown};
use crate::diagnostics::Diagnostic;
use crate::metrology::{Grid, Measured, Slip, Spot, questioned};
use crate::procedure::model::{
    Binding, Formula, Function, Gauge, GaugeId, Operator, PartId, Place, Procedure, Target,
};
use crate::quantity::{Quantity, Unit};
use crate::record::{Job, Occasion, Reading};
use crate::source::Span;

/// Deepest chain of gauges computed from gauges; a longer one goes in a circle.
const DEEPEST: usize = 32;

/// Procedure, record and the readings by place.
pub(super) struct Book<'a> {
    pub(super) procedure: &'a Procedure,
    pub(super) job: &'a Job,
    grids: BTreeMap<(GaugeId, Place, Occasion), Grid>,
    implausible: BTreeSet<(GaugeId, Place, Occasion)>,
    /// Smallest step of the readings of a gauge.
    steps: BTreeMap<GaugeId, f64>,
}

/// Readings that count no longer.
pub(super) type Superseded<'a> = &'a dyn Fn(PartId, Place) -> bool;

/// A value on the way through a formula: itself, and how it is written with figures.
struct Term {
    values: Vec<Measured>,
    figures: String,
}

impl<'a> Book<'a> {
    /// Sorts the readings, and questions those that can't be: they count as not taken.
    pub(super) fn new(procedure: &'a Procedure, job: &'a Job, diagnostics: &mut Vec<Diagnostic>) -> Self {
        let mut book = Book {
            procedure,
            job,
            grids: BTreeMap::new(),
            implausible: BTreeSet::new(),
            steps: BTreeMap::new(),
        };
        for reading in &job.readings {
            let gauge = procedure.gauge(reading.gauge);
            let key = (reading.gauge, reading.place, reading.occasion);
            if let Some(diagnostic) = question(procedure, gauge, reading) {
                book.implausible.insert(key);
                diagnostics.push(diagnostic);
                continue;
            }
            let step = step_of(gauge, reading);
            let finest = book.steps.entry(reading.gauge).or_insert(step);
            *finest = finest.min(step);
            let spot = Spot {
                station: reading.station.unwrap_or_default(),
                direction: reading.direction.unwrap_or_default(),
            };
            let measured = Measured::read(reading.value.base(), step);
            book.grids.entry(key).or_default().insert(spot, measured);
        }
        book
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
        let mut found = Vec::new();
        self.collect(id, place, 0, &mut found);
        found.sort_unstable();
        found.dedup();
        found
    }

    fn collect(&self, id: GaugeId, place: Place, depth: usize, found: &mut Vec<(GaugeId, Place)>) {
        let gauge = self.procedure.gauge(id);
        let Some((formula, _)) = &gauge.formula else {
            found.push((id, place));
            return;
        };
        if depth < DEEPEST {
            let bound = self.binding(gauge, place);
            for_each_reading(formula, &mut |target| {
                for place in self.places(target, &bound) {
                    self.collect(target.id, place, depth + 1, found);
                }
            });
        }
    }

    fn binding(&self, gauge: &Gauge, place: Place) -> Binding {
        let coordinates = self.procedure.coordinates(&gauge.axes, place);
        let position = |at: usize| u16::try_from(at).expect("an axis has a few hundred positions at most");
        Binding(gauge.axes.iter().copied().zip(coordinates.into_iter().map(position)).collect())
    }

    fn places(&self, target: &Target<GaugeId>, bound: &Binding) -> Vec<Place> {
        self.procedure.matching(&self.procedure.gauge(target.id).axes, &target.pattern, bound)
    }

    /// The part that a gauge measures at one of its places.
    pub(super) fn measured_part(&self, id: GaugeId, place: Place) -> Option<(PartId, Vec<Place>)> {
        let gauge = self.procedure.gauge(id);
        let of = gauge.of.as_ref()?;
        let bound = self.binding(gauge, place);
        Some((of.id, self.procedure.matching(&self.procedure.part(of.id).axes, &of.pattern, &bound)))
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
    /// reading of a part that was machined or renewed since does not count.
    fn counting(
        &self,
        id: GaugeId,
        place: Place,
        occasion: Occasion,
        superseded: Superseded,
    ) -> Result<Occasion, Why> {
        let order = [Occasion::AsBuilt, Occasion::AsReturned, Occasion::AsFound];
        let mut up_to = order.into_iter().filter(|earlier| *earlier <= occasion);
        let found = up_to.find(|earlier| self.touched(id, place, *earlier));
        let found = found.ok_or_else(|| Why::NotTaken(vec![(id, place)]))?;
        if found == Occasion::AsFound
            && occasion > Occasion::AsFound
            && let Some((part, places)) = self.measured_part(id, place)
            && let Some(place) = places.into_iter().find(|place| superseded(part, *place))
        {
            return Err(Why::Superseded(part, place));
        }
        Ok(found)
    }

    /// Value of a gauge as things stood on `occasion`. Readings of a gauge itself must be of that occasion; what a
    /// computed gauge is computed from may be of an earlier one, as long as nothing was done to the part since.
    pub(super) fn value(
        &self,
        id: GaugeId,
        place: Place,
        occasion: Occasion,
        superseded: Superseded,
    ) -> Result<Value, Why> {
        let gauge = self.procedure.gauge(id);
        let term = match &gauge.formula {
            None => {
                let values = self.grid(id, place, occasion)?.values();
                Term { figures: self.figures(id, &values), values }
            }
            Some((formula, _)) => self.term(formula, &self.binding(gauge, place), occasion, superseded, 0)?,
        };
        let measured = together(&term.values).ok_or_else(|| Why::NotTaken(vec![(id, place)]))?;
        let unit = shown::unit_of(gauge);
        let places = shown::places_for(self.step(id, place), unit);
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

    /// Smallest step of what a gauge is read or computed from; a thousandth of its unit where nothing tells.
    fn step(&self, id: GaugeId, place: Place) -> f64 {
        let inputs = self.inputs(id, place);
        let steps = inputs.iter().filter_map(|(gauge, _)| self.steps.get(gauge)).copied();
        let finest = steps.filter(|step| *step > 0.0).fold(f64::INFINITY, f64::min);
        if finest.is_finite() {
            return finest;
        }
        shown::unit_of(self.procedure.gauge(id)).map_or(1e-3, |unit| unit.scale() * 1e-3)
    }

    /// Values in figures: one, or from the least to the largest.
    fn figures(&self, id: GaugeId, values: &[Measured]) -> String {
        let unit = shown::unit_of(self.procedure.gauge(id));
        let places = shown::places_for(self.step(id, Place(0)), unit);
        let single = |value: f64| shown::plain(value, unit, places);
        match (Measured::min(values), Measured::max(values)) {
            (Some(min), Some(max)) if min.value < max.value => {
                format!("{} to {}", single(min.value), single(max.value))
            }
            (Some(min), _) => single(min.value),
            _ => "nothing".to_owned(),
        }
    }

    fn term(
        &self,
        formula: &Formula,
        bound: &Binding,
        occasion: Occasion,
        superseded: Superseded,
        depth: usize,
    ) -> Result<Term, Why> {
        let inner = |formula: &Formula| self.term(formula, bound, occasion, superseded, depth);
        match formula {
            Formula::Amount(quantity) => {
                Ok(Term { values: vec![Measured::exact(quantity.base())], figures: quantity.printed() })
            }
            Formula::Count(count) => {
                Ok(Term { values: vec![Measured::exact(*count)], figures: count.to_string() })
            }
            Formula::Reading(target) => {
                let mut values = Vec::new();
                for place in self.places(target, bound) {
                    values.extend(self.reading(target.id, place, occasion, superseded, depth)?);
                }
                Ok(Term { figures: self.figures(target.id, &values), values })
            }
            Formula::Operation { operator, left, right } => {
                let (left, right) = (inner(left)?, inner(right)?);
                let figures = format!("{} {} {}", left.figures, sign(*operator), right.figures);
                let (Some(a), Some(b)) = (together(&left.values), together(&right.values)) else {
                    return Err(Why::Undefined);
                };
                let value = match operator {
                    Operator::Add => a + b,
                    Operator::Subtract => a - b,
                    Operator::Multiply => a * b,
                    Operator::Divide => a.over(b).ok_or(Why::Undefined)?,
                };
                Ok(Term { values: vec![value], figures })
            }
            Formula::Call { function, arguments } => {
                self.call(*function, arguments, bound, occasion, superseded, depth)
            }
        }
    }

    /// Everything read or computed for a gauge at one place.
    fn reading(
        &self,
        id: GaugeId,
        place: Place,
        occasion: Occasion,
        superseded: Superseded,
        depth: usize,
    ) -> Result<Vec<Measured>, Why> {
        let gauge = self.procedure.gauge(id);
        match &gauge.formula {
            Some(_) if depth >= DEEPEST => Err(Why::Undefined),
            Some((formula, _)) => {
                let bound = self.binding(gauge, place);
                self.term(formula, &bound, occasion, superseded, depth + 1).map(|term| term.values)
            }
            None => {
                let counting = self.counting(id, place, occasion, superseded)?;
                self.grid(id, place, counting).map(Grid::values)
            }
        }
    }

    fn call(
        &self,
        function: Function,
        arguments: &[Formula],
        bound: &Binding,
        occasion: Occasion,
        superseded: Superseded,
        depth: usize,
    ) -> Result<Term, Why> {
        if let (Function::OutOfRound | Function::Taper, [Formula::Reading(target)]) = (function, arguments) {
            let mut values = Vec::new();
            for place in self.places(target, bound) {
                let counting = self.counting(target.id, place, occasion, superseded)?;
                let grid = self.grid(target.id, place, counting)?;
                let value = if function == Function::Taper { grid.taper() } else { grid.out_of_round() };
                values.push(value.ok_or(Why::Undefined)?);
            }
            let worst = Measured::max(&values).ok_or(Why::Undefined)?;
            return Ok(Term { figures: self.figures(target.id, &[worst]), values: vec![worst] });
        }
        let mut values = Vec::new();
        let mut unit = None;
        for argument in arguments {
            values.extend(self.term(argument, bound, occasion, superseded, depth)?.values);
            for_each_reading(argument, &mut |target| unit = unit.or(Some(target.id)));
        }
        let value = match function {
            Function::Max => Measured::max(&values),
            Function::Min => Measured::min(&values),
            Function::Mean => Measured::mean(&values),
            Function::Sum => Measured::sum(&values),
            // Stations and directions only a single gauge has; over anything else both are the whole spread.
            Function::Spread | Function::OutOfRound | Function::Taper => Measured::spread(&values),
        };
        let value = value.ok_or(Why::Undefined)?;
        let figures = match unit {
            Some(gauge) => self.figures(gauge, &[value]),
            None => self.written(&Formula::Call { function, arguments: arguments.to_vec() }),
        };
        Ok(Term { values: vec![value], figures })
    }

    /// A formula as the procedure writes it.
    fn written(&self, formula: &Formula) -> String {
        match formula {
            Formula::Amount(quantity) => quantity.printed(),
            Formula::Count(count) => count.to_string(),
            Formula::Reading(target) => self.procedure.gauge(target.id).naming.id.clone(),
            Formula::Operation { operator, left, right } => {
                let side = |side: &Formula, tight: bool| {
                    let loose = matches!(
                        side,
                        Formula::Operation { operator: Operator::Add | Operator::Subtract, .. }
                    );
                    let text = self.written(side);
                    if tight && loose { format!("({text})") } else { text }
                };
                let product = matches!(operator, Operator::Multiply | Operator::Divide);
                let right_tight = product || *operator == Operator::Subtract;
                format!("{} {} {}", side(left, product), sign(*operator), side(right, right_tight))
            }
            Formula::Call { function, arguments } => {
                let arguments: Vec<String> =
                    arguments.iter().map(|argument| self.written(argument)).collect();
                format!("{}({})", word(*function), arguments.join(", "))
            }
        }
    }
}

/// From the least to the largest of several values, around their mean.
fn together(values: &[Measured]) -> Option<Measured> {
    Some(Measured {
        low: Measured::min(values)?.low,
        value: Measured::mean(values)?.value,
        high: Measured::max(values)?.high,
    })
}

fn sign(operator: Operator) -> &'static str {
    match operator {
        Operator::Add => "+",
        Operator::Subtract => "−",
        Operator::Multiply => "×",
        Operator::Divide => "÷",
    }
}

fn word(function: Function) -> &'static str {
    match function {
        Function::Max => "max",
        Function::Min => "min",
        Function::Mean => "mean",
        Function::Sum => "sum",
        Function::Spread => "spread",
        Function::OutOfRound => "out_of_round",
        Function::Taper => "taper",
    }
}

/// Every reading that a formula names.
pub(super) fn for_each_reading(formula: &Formula, found: &mut dyn FnMut(&Target<GaugeId>)) {
    match formula {
        Formula::Amount(_) | Formula::Count(_) => {}
        Formula::Reading(target) => found(target),
        Formula::Operation { left, right, .. } => {
            for_each_reading(left, found);
            for_each_reading(right, found);
        }
        Formula::Call { arguments, .. } => {
            arguments.iter().for_each(|argument| for_each_reading(argument, found));
        }
    }
}

/// The smallest step that counts for a reading: that of the instrument, or that of the writing if it is coarser.
fn step_of(gauge: &Gauge, reading: &Reading) -> f64 {
    let instrument = gauge.instrument.as_ref().and_then(|(_, resolution)| *resolution);
    let instrument =
        instrument.map_or(0.0, |resolution| resolution.numeral().value() * resolution.unit().scale());
    let written = reading.value.numeral().step().map_or(0.0, |step| step * reading.value.unit().scale());
    instrument.max(written)
}

/// A complaint about a reading outside what is plausible.
fn question(procedure: &Procedure, gauge: &Gauge, reading: &Reading) -> Option<Diagnostic> {
    let (low, high) = gauge.plausible?;
    let (slip, meant) = questioned(reading.value.base(), low.base(), high.base())?;
    let (unit, places) = (reading.value.unit(), places_of(reading.value));
    let in_unit =
        |unit: &'static Unit, places: u8| meant.map(|meant| Quantity::from_base(meant, unit, places));
    let same_unit = in_unit(unit, places.max(3));
    let guess = match slip {
        Slip::Decimal(_) => {
            same_unit.map(|meant| format!("did the decimal point slip? `{meant}` would be plausible"))
        }
        Slip::InchesReadAsMillimetres => {
            let number = reading.value.numeral();
            same_unit
                .map(|meant| format!("was `{number}` read in inches? that is `{meant}`: write `{number} in`"))
        }
        Slip::MillimetresReadAsInches => {
            let number = reading.value.numeral();
            Some(format!("was `{number}` read in millimetres? write `{number} mm`"))
        }
        Slip::Thousandths => {
            let number = reading.value.numeral();
            Some(format!("was `{number}` read in thousandths of an inch? write `{number} thou`"))
        }
        Slip::Unexplained => None,
    };
    let name = shown::named(procedure, &gauge.naming.id, &gauge.axes, reading.place);
    let span: Span = gauge.naming.span;
    Some(errors::implausible(reading.span, &name, reading.value, (low, high), span, guess))
}

fn places_of(quantity: Quantity) -> u8 {
    match quantity.numeral() {
        crate::quantity::Numeral::Decimal { places, .. } => places,
        crate::quantity::Numeral::Fraction { .. } => 4,
    }
}
