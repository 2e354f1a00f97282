//! Limits of gauges as what they mean for a size. It must not know what becomes of a part beyond them.

use super::{Formula, Function, Gauge, GaugeId, Operator, Place, Procedure};
use crate::metrology::{Limits, Made};
use crate::quantity::Quantity;

impl Procedure {
    /// The limits of a gauge at one of its places, in base units; none while open answers choose them.
    pub(crate) fn limits(&self, at: (GaugeId, Place)) -> Limits {
        let gauge = self.gauge(at.0);
        if self.limits_hang(at) {
            return Limits::default();
        }
        let said = self.limits_said(at);
        meant(gauge, said)
    }

    /// Whether answers choose the limits of a gauge at one of its places.
    fn limits_hang(&self, at: (GaugeId, Place)) -> bool {
        let (gauge, bound) = (self.gauge(at.0), self.bound_at(at));
        gauge.made.chosen_by(&bound).chain(gauge.worn.chosen_by(&bound)).next().is_some()
    }

    /// The limit as worn at one of the places of a gauge, and its limits as made, as they are written.
    pub(crate) fn limits_said(&self, at: (GaugeId, Place)) -> LimitsSaid {
        let (gauge, bound) = (self.gauge(at.0), self.bound_at(at));
        let made = gauge.made.at(&bound).map(|made| made.value);
        let worn = gauge.worn.at(&bound).and_then(|worn| worn.value);
        LimitsSaid { made, worn }
    }

    /// Whether the limits of a gauge alone tell of every reading if it will do: one as worn is known, and to which side
    /// of it the size wears.
    pub(crate) fn limits_judge(&self, id: GaugeId) -> bool {
        let gauge = self.gauge(id);
        let mut places = self.places(&gauge.axes);
        places.all(|place| {
            let bound = self.bound_at((id, place));
            let made: Vec<_> = gauge.made.each(&bound).map(|(made, _)| Some(made.value)).collect();
            let made = if made.is_empty() { vec![None] } else { made };
            let mut worn = gauge.worn.each(&bound).map(|(worn, _)| worn.value).peekable();
            let judges = |worn| {
                made.iter().all(|made| meant(gauge, LimitsSaid { made: *made, worn }).side().is_some())
            };
            worn.peek().is_some() && worn.all(judges)
        })
    }
}

/// What limits mean for a size.
fn meant(gauge: &Gauge, said: LimitsSaid) -> Limits {
    // A single limit as made is a nominal size, not a range: exactly this.
    let within = |(low, high): (Quantity, Option<Quantity>)| {
        Made::Within(Some(low.base()), Some(high.unwrap_or(low).base()))
    };
    // What can't be less than nought is best at nought, so that its limit as worn lies above.
    let made = said.made.map(within).or_else(|| from_nought(gauge).then_some(Made::FromNought));
    Limits { made, worn: said.worn.map(|worn| worn.base()) }
}

/// Limits as they are written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct LimitsSaid {
    /// As made, from and to; a nominal size has no second.
    pub made: Option<(Quantity, Option<Quantity>)>,
    /// As worn.
    pub worn: Option<Quantity>,
}

/// Whether a gauge measures how far something is off: nought is the best that it can be.
fn from_nought(gauge: &Gauge) -> bool {
    let computed = gauge.formula.as_ref().is_some_and(|(formula, _)| match formula {
        Formula::Call { function: Function::Spread | Function::OutOfRound | Function::Taper, .. } => true,
        Formula::Operation { operator: Operator::Subtract, left, right } => match (&**left, &**right) {
            (
                Formula::Call { function: Function::Max, arguments: largest },
                Formula::Call { function: Function::Min, arguments: smallest },
            ) => same_readings(largest, smallest),
            _ => false,
        },
        _ => false,
    });
    gauge.best_at_nought || computed
}

fn same_readings(a: &[Formula], b: &[Formula]) -> bool {
    let key = |formula: &Formula| match formula {
        Formula::Reading(target) => Some((target.id, target.pattern.clone())),
        _ => None,
    };
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| key(a).is_some() && key(a) == key(b))
}
