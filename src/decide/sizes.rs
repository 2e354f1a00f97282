//! Sizes that an engine has: those that it was found with, and those that it has once its parts are machined or renewed.
//! Limits, bands and values count from them. It must not know why anything becomes of a part.

use std::collections::BTreeMap;

use super::{PartDecision, Verdict, offset};
use crate::english::list;
use crate::metrology::Side;
use crate::procedure::model::{
    Formula, Gauge, GaugeId, LimitsSaid, Operator, PartId, Place, Procedure, grouped,
};
use crate::quantity::{Bound, Numeral, Quantity, limit_of};
use crate::record::{Job, Occasion};

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
    pub(super) fn shift(self) -> f64 {
        self.sign() * self.step.base()
    }

    /// A size of the standard one as it is now.
    pub(crate) fn of(self, size: Quantity) -> Quantity {
        moved(size, self.step, self.sign(), None)
    }

    /// The least that something of the standard size may be, as it is now.
    pub(crate) fn least(self, limit: Quantity) -> Quantity {
        moved(limit, self.step, self.sign(), Some(Bound::Least))
    }

    /// The most.
    pub(crate) fn most(self, limit: Quantity) -> Quantity {
        moved(limit, self.step, self.sign(), Some(Bound::Most))
    }

    /// The limit as worn.
    pub(crate) fn worn(self, limit: Quantity) -> Quantity {
        if self.over { self.most(limit) } else { self.least(limit) }
    }
}

/// What becomes of each part at each of its places.
pub(crate) type Fates = BTreeMap<(PartId, Place), PartDecision>;

/// The sizes of an engine as it was found, or once what becomes of its parts has come about.
#[derive(Clone, Copy)]
pub(crate) struct Sizes<'a> {
    procedure: &'a Procedure,
    job: &'a Job,
    fates: Option<&'a Fates>,
}

impl<'a> Sizes<'a> {
    /// As it was found.
    pub(crate) fn found(procedure: &'a Procedure, job: &'a Job) -> Self {
        Sizes { procedure, job, fates: None }
    }

    /// As they are on an occasion, if these are the fates of its parts.
    pub(crate) fn on(procedure: &'a Procedure, job: &'a Job, fates: &'a Fates, occasion: Occasion) -> Self {
        Sizes { procedure, job, fates: (occasion > Occasion::AsFound).then_some(fates) }
    }

    /// The size of a gauge at one of its places; none where it is standard.
    pub(crate) fn of(self, at: (GaugeId, Place)) -> Option<Present> {
        if let Some(changed) = self.changed(at) {
            return changed;
        }
        let gauge = self.procedure.gauge(at.0);
        if let Some(step) = self.job.present.get(&at) {
            let over = self.procedure.limits(at).side()? == Side::Grows;
            return (step.value.numeral().value() > 0.0).then_some(Present { step: step.value, over });
        }
        match &gauge.formula {
            _ if self.job.present.is_empty() && self.fates.is_none() || gauge.sizes.is_some() => None,
            Some((formula, _)) => self.of_what_moves_alike(formula, at),
            None => self.goes_into(at),
        }
    }

    /// What a new part, or what one was machined to, makes of the size of a gauge: a new one is of the standard size, unless it
    /// is bought in another, of which its own limits don't tell.
    fn changed(self, at: (GaugeId, Place)) -> Option<Option<Present>> {
        let fates = self.fates?;
        let pieces = self.procedure.measured(at).into_iter();
        let mut verdicts = pieces.filter_map(|piece| fates.get(&piece)).map(|decision| &decision.verdict);
        verdicts.find_map(|verdict| match verdict {
            Verdict::Renew { .. } => Some(None),
            Verdict::Machine { to, .. } => {
                let size = to.iter().find(|size| size.gauge == at.0)?;
                Some(Some(Present { step: size.step, over: size.grows }))
            }
            _ => None,
        })
    }

    /// The size of what is computed from sizes alone and moves as they do, such as `max(bore)`; none where they aren't all the
    /// same, and where a stated size stands in it, from which it is counted.
    fn of_what_moves_alike(self, formula: &Formula, (id, place): (GaugeId, Place)) -> Option<Present> {
        let procedure = self.procedure;
        let inputs = procedure.readings_behind(id, place);
        let sized = |(input, _): &(GaugeId, Place)| procedure.gauge(*input).sizes.is_some();
        if !inputs.iter().all(sized) || offset::moves(procedure, formula) != Some(1.0) {
            return None;
        }
        let first = self.of(*inputs.first()?)?;
        let alike = inputs.iter().all(|input| self.of(*input) == Some(first));
        (alike && !offset::states_a_length(procedure, id)).then_some(first)
    }

    /// The size of what a gauge without sizes of its own goes into, or lies around: a clearance is the difference between the
    /// two, and stays what it was.
    fn goes_into(self, (id, place): (GaugeId, Place)) -> Option<Present> {
        let procedure = self.procedure;
        let mut sizes: Vec<Present> = Vec::new();
        for (computed, clearance) in procedure.gauges.numbered() {
            let Some((formula, _)) = &clearance.formula else { continue };
            let Some(other) = other_side(procedure, formula, id) else { continue };
            for at in procedure.places(&clearance.axes) {
                let inputs = procedure.readings_behind(computed, at);
                if inputs.contains(&(id, place)) {
                    let partners = inputs.into_iter().filter(|(input, _)| *input == other);
                    sizes.extend(partners.map(|partner| self.of(partner)).collect::<Option<Vec<_>>>()?);
                }
            }
        }
        let first = sizes.first().copied()?;
        sizes.iter().all(|size| *size == first).then_some(first)
    }

    /// The limits of a gauge, as they are written.
    pub(crate) fn limits_said(self, at: (GaugeId, Place)) -> LimitsSaid {
        let said = self.procedure.limits_said(at);
        let Some(present) = self.of(at) else { return said };
        let made = said.made.map(|(low, high)| match high {
            Some(high) => (present.least(low), Some(present.most(high))),
            None => (present.of(low), None),
        });
        LimitsSaid { made, worn: said.worn.map(|worn| present.worn(worn)) }
    }

    /// From where to where a reading of a gauge is plausible: as it is stated, and as far as the size that it has, or may be
    /// machined to, moves that; none where nothing is stated.
    pub(crate) fn plausible(
        procedure: &'a Procedure,
        job: &'a Job,
        at: (GaugeId, Place),
        occasion: Occasion,
    ) -> Option<(Quantity, Quantity)> {
        let gauge = procedure.gauge(at.0);
        let (low, high) = gauge.plausible?;
        let side = procedure.limits(at).side();
        let later = gauge.sizes.as_ref().filter(|_| occasion > Occasion::AsFound);
        let steps = later.into_iter().flat_map(|sizes| &sizes.value.0);
        let largest = steps.copied().max_by(|a, b| a.base().total_cmp(&b.base()));
        let later = side.zip(largest).map(|(side, step)| Present { step, over: side == Side::Grows });
        let sizes = [Sizes::found(procedure, job).of(at), later];
        let moved = sizes.into_iter().flatten();
        Some(moved.fold((low, high), |(low, high), size| match size.over {
            true => (low, if size.most(high).base() > high.base() { size.of(high) } else { high }),
            false => (if size.least(low).base() < low.base() { size.of(low) } else { low }, high),
        }))
    }
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

/// The sizes that an engine is found with, by the ids of the gauges, a line for each; with a word where they are mixed within
/// one.
pub(super) fn present_lines(procedure: &Procedure, job: &Job) -> Vec<String> {
    let named = |gauge: &Gauge, at: &[Place]| {
        let names =
            at.iter().map(|place| super::shown::named(procedure, &gauge.naming.id, &gauge.axes, *place));
        names.collect::<Vec<_>>().join(", ")
    };
    let lines = Sizes::found(procedure, job).by(&named);
    lines.into_iter().map(|(_, line)| line).collect()
}

impl Sizes<'_> {
    /// What a gauge is made to, from and to, where that is one and the same at every place; a nominal size has no second.
    pub(crate) fn made(self, id: GaugeId) -> Option<(Quantity, Option<Quantity>)> {
        let mut all = self.procedure.places(&self.procedure.gauge(id).axes);
        let made = |place| self.limits_said((id, place)).made;
        let first = made(all.next()?)?;
        all.all(|place| made(place) == Some(first)).then_some(first)
    }

    /// The gauges that aren't of their standard size everywhere, or of which a record says what they are, with that by their
    /// titles, as it is printed.
    pub(crate) fn titled(self) -> Vec<(GaugeId, String)> {
        let procedure = self.procedure;
        let named = |gauge: &Gauge, at: &[Place]| {
            let title = &gauge.naming.title;
            if at.len() == procedure.places(&gauge.axes).len() {
                return title.clone();
            }
            let places: Vec<String> =
                at.iter().map(|place| procedure.place_name(&gauge.axes, *place)).collect();
            format!("{title} {}", list(&places))
        };
        self.by(&named)
    }

    fn by(self, named: &dyn Fn(&Gauge, &[Place]) -> String) -> Vec<(GaugeId, String)> {
        let procedure = self.procedure;
        let mut lines = Vec::new();
        for (id, gauge) in procedure.gauges.numbered().filter(|(_, gauge)| gauge.sizes.is_some()) {
            let places: Vec<Place> = procedure.places(&gauge.axes).collect();
            let told = |place: &Place| match self.fates {
                None => self.job.present.contains_key(&(id, *place)),
                Some(_) => self.of((id, *place)).is_some(),
            };
            if !places.iter().any(told) {
                continue;
            }
            let size = |place| self.of((id, place)).map_or_else(|| "standard".to_owned(), Present::words);
            let sizes = grouped(places, size);
            let mixed = if sizes.len() > 1 { "; mixed sizes" } else { "" };
            let told = sizes.iter().map(|(words, at)| format!("{}: {words}", named(gauge, at)));
            lines.push((id, format!("{}{mixed}", told.collect::<Vec<_>>().join("; "))));
        }
        lines
    }
}

/// A size moved by an oversize (`sign` 1) or undersize (−1), in the unit and with the places of the size or those
/// of the step, whichever are more; a limit, where these are of different units, to the side that it allows.
pub(super) fn moved(size: Quantity, step: Quantity, sign: f64, bound: Option<Bound>) -> Quantity {
    let places = |quantity: Quantity| match quantity.numeral() {
        Numeral::Decimal { places, .. } => places,
        Numeral::Fraction { .. } => 4,
    };
    let places =
        if size.unit() == step.unit() { places(size).max(places(step)) } else { places(size).max(5) };
    let base = size.base() + sign * step.base();
    match bound {
        Some(bound) => limit_of(base, size.unit(), places, bound),
        None => Quantity::from_base(base, size.unit(), places),
    }
}
