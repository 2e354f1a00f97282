//! Which gauges choose a piece for a part, of several that there are, rather than judge it. It must not know what they chose.

use super::book::Book;
use crate::procedure::model::{Fate, FateChoice, Gauge, GaugeId, Judge, Part, PartId, Place};
use crate::structure::PartAt;

/// The gauges whose bands are the pieces that a part at one place is chosen from, at the places where they measure it.
pub(super) fn choosing<'b>(
    book: &'b Book<'_>,
    (id, place): PartAt,
) -> impl Iterator<Item = (GaugeId, Place)> + 'b {
    let part = book.procedure.part(id);
    let gauges = book.procedure.gauges.numbered();
    let gauges = gauges.filter(move |(gauge_id, gauge)| chooses(part, id, *gauge_id, gauge));
    let places =
        gauges.flat_map(|(gauge_id, gauge)| book.procedure.places(&gauge.axes).map(move |at| (gauge_id, at)));
    places.filter(move |at| book.procedure.measured(*at).contains(&(id, place)))
}

/// The gauge that works out which of the pieces that are sold goes in; a person has to say in the record that it is that one.
pub(super) fn choosing_from_sold(book: &Book, key: PartAt) -> Option<(GaugeId, Place)> {
    choosing(book, key).find(|(gauge, _)| book.procedure.gauge(*gauge).sold.is_some())
}

/// Whether the bands of a gauge are the pieces that a part is chosen from.
pub(super) fn chooses(part: &Part, id: PartId, gauge_id: GaugeId, gauge: &Gauge) -> bool {
    part.select_from.is_some()
        && !gauge.bands.is_empty()
        && gauge.of.as_ref().is_some_and(|of| of.id == id)
        && !judges(part, gauge_id)
}

/// Whether a gauge decides if the part goes back.
fn judges(part: &Part, id: GaugeId) -> bool {
    let mut fates = part.fate.iter().flat_map(FateChoice::fates);
    fates.any(|fate| match fate {
        Fate::By(judges) => {
            judges.iter().any(|judge| matches!(judge, Judge::Gauge(target) if target.id == id))
        }
        _ => false,
    })
}
