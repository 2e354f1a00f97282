//! How long fasteners are: as they came out, as far as the record tells, else as stated. It must not know what is done with
//! them.

use super::bench::Bench;
use crate::procedure::model::{Lengths, Place, SetId};
use crate::quantity::Quantity;

/// The length of a fastener as it came out, where the record has it: at several places only if it is written down for
/// each of them and the same.
pub(super) fn recorded_length(bench: &Bench, id: SetId, places: &[Place], letter: &str) -> Option<Quantity> {
    let at = |place: &Place| {
        let found = bench.material.job.lengths.get(&(id, *place, letter.to_owned()));
        found.map(|length| length.value)
    };
    let first = places.first().and_then(at)?;
    let same = |length: Quantity| (length.base() - first.base()).abs() < 1e-9;
    places.iter().all(|place| at(place).is_some_and(same)).then_some(first)
}

/// Whether the record has the length of any fastener of a set at these places.
pub(super) fn any_recorded(bench: &Bench, id: SetId, places: &[Place]) -> bool {
    let mut known = bench.material.job.lengths.keys();
    known.any(|(set, place, _)| *set == id && places.contains(place))
}

/// Whether somebody has yet to measure the length of one of the fasteners of a set.
pub(super) fn lengths_open(bench: &Bench, id: SetId) -> bool {
    let set = bench.procedure.set(id);
    let letters = bench.procedure.hole_letters(id);
    let unknown = |place: Place| {
        let lengths = set.lengths.at(&bench.procedure.bound_at((id, place)));
        lengths.is_some_and(|said| said.value == Lengths::Unknown)
    };
    let mut places = bench.procedure.places(&set.axes);
    let open =
        |place: Place| letters.iter().any(|letter| recorded_length(bench, id, &[place], letter).is_none());
    places.any(|place| unknown(place) && open(place))
}

/// The length of the fastener in a hole, measured or stated for that hole, if somebody knows it.
pub(super) fn length_at(bench: &Bench, id: SetId, places: &[Place], letter: &str) -> Option<Quantity> {
    let set = bench.procedure.set(id);
    let stated = || match set.lengths.throughout(bench.procedure, &set.axes, places) {
        Some(Lengths::ByHole(lengths)) => {
            lengths.iter().find(|(hole, _)| hole == letter).map(|(_, length)| *length)
        }
        // Beside one that was found the others are told too.
        Some(Lengths::One(length)) if any_recorded(bench, id, places) => Some(*length),
        _ => None,
    };
    recorded_length(bench, id, places, letter).or_else(stated)
}

/// The one length that fasteners had as they came out, at all of these places; none where nobody knows it or they differ.
pub(super) fn found_length(bench: &Bench, id: SetId, places: &[Place]) -> Option<Quantity> {
    let letters = bench.procedure.hole_letters(id);
    let mut lengths = letters.iter().map(|letter| recorded_length(bench, id, places, letter));
    let first = lengths.next()??;
    let same = |length: Quantity| (length.base() - first.base()).abs() < 1e-9;
    lengths.all(|length| length.is_some_and(same)).then_some(first)
}
