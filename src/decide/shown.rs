//! Numbers for people: which unit, how many places.

use crate::metrology::Measured;
use crate::procedure::model::{AxisId, Gauge, Naming, Place, Procedure};
use crate::quantity::{self, Dimension, Numeral, Quantity, Unit, places_in_doubt, tells};

/// The unit in which a gauge is shown: its own, else that of its limits, else the first of those that measure what
/// it measures. None for a pure number.
pub(super) fn unit_of(gauge: &Gauge) -> Option<&'static Unit> {
    let edges = gauge.edges.values().flat_map(|edges| &edges.value);
    let limit = edges.filter_map(|edges| edges.low.or(edges.high)).next();
    let limit = limit.or_else(|| gauge.made.values().next().map(|made| made.value.0));
    gauge.unit.or_else(|| limit.map(Quantity::unit)).or_else(|| {
        gauge
            .dimension
            .filter(|dimension| *dimension != Dimension::RATIO)
            .and_then(|dimension| Unit::measuring(dimension).next())
    })
}

/// Places that show a step of `step` base units in `unit`, six at most.
pub(super) fn places_for(step: f64, unit: Option<&Unit>) -> u8 {
    let step = step / unit.map_or(1.0, Unit::scale);
    // A step of 0.01 may come out of the conversion as 0.0099999.
    (0u8..6).find(|places| 10f64.powi(-i32::from(*places)) <= step * 1.000_001).unwrap_or(6)
}

/// At least `places`, and as many as it takes so that its doubt covers what rounding does to it, and it is not shown on one of `limits`, or beyond it, that it is
/// not on or beyond: what is rounded on a sheet goes neither into tolerance nor out of it.
pub(super) fn places_that_tell(value: Measured, unit: Option<&Unit>, places: u8, limits: &[f64]) -> u8 {
    let number = |base: f64| unit.map_or(base, |unit| unit.number_for(base));
    let limits: Vec<f64> = limits.iter().map(|limit| number(*limit)).collect();
    let places = places_in_doubt(value.value, value.doubt(), unit, places);
    tells(number(value.value), places, &limits)
}

/// A value in its unit.
pub(super) fn plain(value: f64, unit: Option<&'static Unit>, places: u8) -> String {
    match unit {
        Some(unit) => Quantity::from_base(value, unit, places).printed(),
        None => Numeral::rounded(value, places).to_string(),
    }
}

/// One value, or from the least to the largest: `46.18 mm to 46.34 mm`.
pub(super) fn from_to(values: &[Measured], unit: Option<&'static Unit>, places: u8) -> String {
    let single = |value: f64| plain(value, unit, places);
    match (Measured::min(values), Measured::max(values)) {
        (Some(min), Some(max)) if min.value < max.value => {
            format!("{} to {}", single(min.value), single(max.value))
        }
        (Some(min), _) => single(min.value),
        _ => "nothing".to_owned(),
    }
}

/// A value with its unit, and how far it may be off where it may: `0.09 ± 0.01 mm`.
pub(super) fn with_doubt(value: Measured, unit: Option<&'static Unit>, places: u8) -> String {
    quantity::with_doubt(value.value, value.doubt(), unit, places)
}

/// A band or range with open ends: `0.05 to 0.30 mm`, `above 0.30 mm`, `up to 0.05 mm`.
pub(super) fn range(low: Option<Quantity>, high: Option<Quantity>) -> String {
    match (low, high) {
        (Some(low), Some(high)) => quantity::from_to(low, high),
        (Some(low), None) => format!("above {}", low.printed()),
        (None, Some(high)) => format!("up to {}", high.printed()),
        (None, None) => "any value".to_owned(),
    }
}

/// The title of a thing with its place, as a reason names it.
pub(super) fn titled(procedure: &Procedure, naming: &Naming, axes: &[AxisId], place: Place) -> String {
    let place = procedure.place_name(axes, place);
    if place.is_empty() { naming.title.clone() } else { format!("{} {place}", naming.title) }
}

/// The id of a thing with its place.
pub(super) fn named(procedure: &Procedure, id: &str, axes: &[AxisId], place: Place) -> String {
    procedure.placed(id, axes, place)
}
