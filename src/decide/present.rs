//! Sizes that an engine has already: limits, bands and values that count from what it is now. It must not know what becomes
//! of a part.

use super::book::Book;
use super::sizing::moved;
use crate::english::list;
use crate::metrology::{Limits, Side};
use crate::procedure::model::{
    Edges, Formula, Gauge, GaugeId, LimitsSaid, Operator, Place, Procedure, grouped,
};
use crate::quantity::{Dimension, Quantity};
use crate::record::Job;

/// What a gauge was bored or ground to before: by how much, and whether it is over or under its standard size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Present {
    /// By how much.
    pub step: Quantity,
    /// Whether it is over the standard size, not under it.
    pub over: bool,
}

impl Present {
    /// In words: `0.25 mm over`.
    pub(crate) fn words(self) -> String {
        format!("{} {}", self.step.printed(), if self.over { "over" } else { "under" })
    }

    fn sign(self) -> f64 {
        if self.over { 1.0 } else { -1.0 }
    }

    /// By how much it is off its standard size, in base units, with its sign.
    fn shift(self) -> f64 {
        self.sign() * self.step.base()
    }

    /// A size or limit of the standard size as it is now.
    pub(crate) fn of(self, size: Quantity) -> Quantity {
        moved(size, self.step, self.sign())
    }
}

/// The present size of a gauge at one of its places; none where it is standard.
pub(crate) fn present(procedure: &Procedure, job: &Job, at: (GaugeId, Place)) -> Option<Present> {
    if job.present.is_empty() {
        return None;
    }
    let Some(step) = job.present.get(&at) else { return goes_into(procedure, job, at) };
    let over = procedure.limits(at).side()? == Side::Grows;
    (step.value.numeral().value() > 0.0).then_some(Present { step: step.value, over })
}

/// The present size of what a gauge without sizes of its own goes into, or lies around: a clearance is the difference between
/// the two, and stays what it was.
fn goes_into(procedure: &Procedure, job: &Job, (id, place): (GaugeId, Place)) -> Option<Present> {
    let gauge = procedure.gauge(id);
    if gauge.sizes.is_some() || gauge.formula.is_some() {
        return None;
    }
    let mut sizes: Vec<Present> = Vec::new();
    for (computed, clearance) in procedure.gauges.numbered() {
        let Some((formula, _)) = &clearance.formula else { continue };
        let Some(other) = other_side(procedure, formula, id) else { continue };
        for at in procedure.places(&clearance.axes) {
            let inputs = procedure.readings_behind(computed, at);
            if inputs.contains(&(id, place)) {
                let partners = inputs.into_iter().filter(|(input, _)| *input == other);
                sizes.extend(
                    partners.map(|partner| present(procedure, job, partner)).collect::<Option<Vec<_>>>()?,
                );
            }
        }
    }
    let first = sizes.first().copied()?;
    sizes.iter().all(|size| *size == first).then_some(first)
}

/// The sized gauge from which a formula takes this one, or which it takes from this one; none of any other formula.
fn other_side(procedure: &Procedure, formula: &Formula, id: GaugeId) -> Option<GaugeId> {
    let Formula::Operation { left, right, operator: Operator::Subtract } = formula else { return None };
    let alone = |side: &Formula| match side.readings().as_slice() {
        [only] => Some(only.id),
        _ => None,
    };
    let (left, right) = (alone(left)?, alone(right)?);
    let other = if left == id { right } else { left };
    let both = left == id || right == id;
    (both && other != id && procedure.gauge(other).sizes.is_some()).then_some(other)
}

/// The limits of a gauge as they are now, as they are written.
fn limits_now(procedure: &Procedure, job: &Job, at: (GaugeId, Place)) -> LimitsSaid {
    let said = procedure.limits_said(at);
    let Some(present) = present(procedure, job, at) else { return said };
    let made = said.made.map(|(low, high)| (present.of(low), high.map(|high| present.of(high))));
    LimitsSaid { made, worn: said.worn.map(|worn| present.of(worn)) }
}

impl Book<'_> {
    /// The present size of a gauge; none where it is standard.
    pub(super) fn present(&self, at: (GaugeId, Place)) -> Option<Present> {
        present(self.procedure, self.job, at)
    }

    /// The limits of a gauge as they are now, as they are written.
    pub(super) fn limits_said(&self, at: (GaugeId, Place)) -> LimitsSaid {
        limits_now(self.procedure, self.job, at)
    }

    /// The same in base units.
    pub(super) fn limits(&self, at: (GaugeId, Place)) -> Limits {
        let limits = self.procedure.limits(at);
        self.present(at).map_or(limits, |present| limits.moved(present.shift()))
    }

    /// The ends of each band of a gauge, in their order, with their origin. Bands of what is read count from its present
    /// size.
    pub(super) fn edges(&self, at: (GaugeId, Place)) -> Option<(Vec<Edges>, Option<&str>)> {
        let edges = self.procedure.gauge(at.0).edges.at(&self.procedure.bound_at(at))?;
        let origin = edges.origin.as_deref();
        let Some(present) = self.present(at) else { return Some((edges.value.clone(), origin)) };
        let of = |end: Option<Quantity>| end.map(|end| present.of(end));
        let now = edges.value.iter().map(|edges| Edges { low: of(edges.low), high: of(edges.high) });
        Some((now.collect(), origin))
    }

    /// Whether a gauge is computed from sizes and a stated one, such as `max(bore) - 80 mm`: it tells how far they are from
    /// standard, and counts from what they are now.
    pub(super) fn counts_from_standard(&self, id: GaugeId, place: Place) -> bool {
        let sized = |(input, _): &(GaugeId, Place)| self.procedure.gauge(*input).sizes.is_some();
        let inputs = self.inputs(id, place);
        !inputs.is_empty() && inputs.iter().all(sized) && self.states_a_length(id)
    }

    fn states_a_length(&self, id: GaugeId) -> bool {
        let mut waiting = vec![id];
        let mut met = Vec::new();
        while let Some(id) = waiting.pop() {
            met.push(id);
            let Some((formula, _)) = &self.procedure.gauge(id).formula else { continue };
            if states_a_length(formula) {
                return true;
            }
            let inner = formula.readings().into_iter().map(|target| target.id);
            waiting.extend(inner.filter(|id| !met.contains(id)));
        }
        false
    }

    /// By how much the readings of a gauge are off standard, in base units.
    pub(super) fn off_standard(&self, at: (GaugeId, Place)) -> f64 {
        self.present(at).map_or(0.0, Present::shift)
    }

    /// From which sizes a computed value is counted, in words; none where all are standard.
    pub(super) fn counted_from(&self, id: GaugeId, place: Place) -> Option<String> {
        let mut told: Vec<String> = Vec::new();
        for at in self.inputs(id, place) {
            if let Some(present) = self.present(at) {
                let gauge = self.procedure.gauge(at.0);
                let name = super::shown::titled(self.procedure, &gauge.naming, &gauge.axes, at.1);
                let words = format!("{} from {}", crate::english::inner(&name), present.words());
                if !told.contains(&words) {
                    told.push(words);
                }
            }
        }
        (!told.is_empty()).then(|| format!("counted: {}", told.join(", ")))
    }
}

fn states_a_length(formula: &Formula) -> bool {
    match formula {
        Formula::Amount(amount) => amount.dimension() == Dimension::LENGTH,
        Formula::Count(_) | Formula::Reading(_) => false,
        Formula::Operation { left, right, .. } => states_a_length(left) || states_a_length(right),
        Formula::Call { arguments, .. } => arguments.iter().any(states_a_length),
    }
}

/// The present sizes of an engine by their ids, a line for each gauge; with a word where they are mixed within one.
pub(super) fn present_lines(procedure: &Procedure, job: &Job) -> Vec<String> {
    let named = |gauge: &Gauge, at: &[Place]| {
        let names =
            at.iter().map(|place| super::shown::named(procedure, &gauge.naming.id, &gauge.axes, *place));
        names.collect::<Vec<_>>().join(", ")
    };
    present_by(procedure, job, &named).into_iter().map(|(_, line)| line).collect()
}

/// From and to, as made; a nominal size has no second.
type Made = (Quantity, Option<Quantity>);

/// What a gauge is made to on this engine, where it was machined to `machined` or has a present size; none where that isn't one
/// and the same at every place.
pub(crate) fn made_now(
    procedure: &Procedure,
    job: &Job,
    id: GaugeId,
    machined: Option<Made>,
) -> Option<Made> {
    let mut all = procedure.places(&procedure.gauge(id).axes);
    let made = |place| limits_now(procedure, job, (id, place)).made;
    machined.or_else(|| {
        let first = made(all.next()?)?;
        all.all(|place| made(place) == Some(first)).then_some(first)
    })
}

/// The same by their titles, as they are printed.
pub(crate) fn present_sizes(procedure: &Procedure, job: &Job) -> Vec<(GaugeId, String)> {
    let named = |gauge: &Gauge, at: &[Place]| {
        let title = &gauge.naming.title;
        if at.len() == procedure.places(&gauge.axes).len() {
            return title.clone();
        }
        let places: Vec<String> = at.iter().map(|place| procedure.place_name(&gauge.axes, *place)).collect();
        format!("{title} {}", list(&places))
    };
    present_by(procedure, job, &named)
}

fn present_by(
    procedure: &Procedure,
    job: &Job,
    named: &dyn Fn(&Gauge, &[Place]) -> String,
) -> Vec<(GaugeId, String)> {
    let mut lines = Vec::new();
    for (id, gauge) in procedure.gauges.numbered() {
        let places: Vec<Place> = procedure.places(&gauge.axes).collect();
        if !places.iter().any(|place| job.present.contains_key(&(id, *place))) {
            continue;
        }
        let size = |place| {
            present(procedure, job, (id, place)).map_or_else(|| "standard".to_owned(), Present::words)
        };
        let sizes = grouped(places, size);
        let mixed = if sizes.len() > 1 { "; mixed sizes" } else { "" };
        let told = sizes.iter().map(|(words, at)| format!("{}: {words}", named(gauge, at)));
        lines.push((id, format!("{}{mixed}", told.collect::<Vec<_>>().join("; "))));
    }
    lines
}
