//! Gauges that are read at the same places, for tables with a row a gauge and a column a place. What stands in the cells it
//! must not know.

use super::bench::Bench;
use crate::procedure::model::{AxisId, GaugeId, Place};

/// Gauges by the axes along which they are read, each once, in the order in which they come.
pub(super) fn by_axes<'a>(
    bench: &Bench<'a>,
    gauges: impl IntoIterator<Item = GaugeId>,
) -> Vec<(&'a [AxisId], Vec<GaugeId>)> {
    let mut found: Vec<(&[AxisId], Vec<GaugeId>)> = Vec::new();
    for id in gauges {
        let axes = bench.procedure.gauge(id).axes.as_slice();
        match found.iter_mut().find(|(known, _)| *known == axes) {
            Some((_, gauges)) if gauges.contains(&id) => {}
            Some((_, gauges)) => gauges.push(id),
            None => found.push((axes, vec![id])),
        }
    }
    found
}

/// What stands above the column of each place: its name, or these words where there is one place without a name.
pub(super) fn place_heads(bench: &Bench, axes: &[AxisId], places: &[Place], unnamed: &str) -> Vec<String> {
    let head = |place: &Place| match bench.place_name(axes, *place) {
        name if name.is_empty() => unnamed.to_owned(),
        name => name,
    };
    places.iter().map(head).collect()
}
