//! Limits of gauges as what they mean for a size. It must not know what becomes of a part beyond them.

use super::{Formula, Function, Gauge, GaugeId, Operator, Place, Procedure};
use crate::metrology::{Limits, Made};
use crate::quantity::{Dimension, Quantity};

impl Procedure {
    /// The limits of a gauge at one of its places, in base units.
    pub(crate) fn limits(&self, at: (GaugeId, Place)) -> Limits {
        let (gauge, bound) = (self.gauge(at.0), self.bound_at(at));
        let made = gauge.made.at(&bound).map(|made| {
            let (low, high) = made.value;
            // A single limit as made is a nominal size, not a range: exactly this.
            Made::Within(Some(low.base()), Some(high.unwrap_or(low).base()))
        });
        let worn = gauge.worn.at(&bound).and_then(|worn| worn.value).map(|worn| worn.base());
        // What can't be less than nought is best at nought, so that its limit as worn lies above.
        let made = made.or_else(|| from_nought(gauge).then_some(Made::FromNought));
        Limits { made, worn }
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
        let mut places = self.places(&self.gauge(id).axes);
        places.all(|place| self.limits((id, place)).side().is_some())
    }
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
    // A pressure that can't be less than nothing is no better for being little.
    let flaw = matches!(gauge.dimension, Some(Dimension::LENGTH | Dimension::ANGLE));
    let plausible = flaw && gauge.plausible.is_some_and(|(low, _)| low.numeral().value() == 0.0);
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
    plausible || computed
}

fn same_readings(a: &[Formula], b: &[Formula]) -> bool {
    let key = |formula: &Formula| match formula {
        Formula::Reading(target) => Some((target.id, target.pattern.clone())),
        _ => None,
    };
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| key(a).is_some() && key(a) == key(b))
}
