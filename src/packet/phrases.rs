//! Phrases of an instruction: what it handles as the object of a sentence, its places, and the author's own words behind
//! it. It must not know what is done.

use super::bench::Bench;
use super::fastener;
use crate::plan::words::{self, sentence};
use crate::plan::{Placed, PlacedKind};
use crate::sheet::{Boxes, Text};

/// A text with the author's note behind it.
pub(super) fn with_note(text: Text, note: Option<&str>) -> Text {
    match note {
        Some(note) if !note.is_empty() => text.and(format!(" {}", sentence(note))),
        _ => text,
    }
}

/// The things of an act as the object of a sentence: `the cover, the 3 nuts (M8×1.25) and the gasket`.
pub(super) fn objects(bench: &Bench, things: &[Placed]) -> String {
    objects_called(bench, things, |_| false)
}

/// The same, where the parts that `new` accepts are called new: `the new gasket`.
pub(super) fn objects_called(bench: &Bench, things: &[Placed], new: impl Fn(&Placed) -> bool) -> String {
    let names: Vec<String> = things.iter().map(|placed| object(bench, placed, new(placed))).collect();
    words::list(&names)
}

fn object(bench: &Bench, placed: &Placed, new: bool) -> String {
    let procedure = bench.procedure;
    match placed.kind {
        PlacedKind::Part(id) => {
            let part = procedure.part(id);
            let title = words::inner(&part.naming.title);
            let title = if new { format!("new {title}") } else { title };
            let one_of_many = placed.places.len() == 1 && procedure.places(&part.axes).len() > 1;
            let pieces = procedure.part_pieces(id, &placed.places);
            if one_of_many && pieces.settled() == Some(1) {
                return at_place(&title, &procedure.place_name(&part.axes, placed.places[0]));
            }
            words::the_many(&title, pieces)
        }
        PlacedKind::Set(id) => fastener::object(bench, id, &placed.places, false),
        PlacedKind::Joint(id) => words::the(&procedure.joint(id).naming.title),
        PlacedKind::Gauge(id) => words::the(&procedure.gauge(id).naming.title),
        PlacedKind::Look(id) => words::the(&procedure.look(id).naming.title),
        PlacedKind::Temporary(id) => words::the_many(
            &procedure.temporary(id).naming.title,
            procedure.temporary_pieces(id, &placed.places),
        ),
    }
}

/// One of several by its place: `valve 2 exhaust`, `rod cap no. 2`, `the cylinder head (left)`. A place of words alone stands
/// apart, so that it isn't read as one with the name.
fn at_place(title: &str, place: &str) -> String {
    if place.starts_with(|first: char| first.is_ascii_digit()) {
        format!("{title} {}", numbered(&place.replace(", ", " ")))
    } else {
        format!("the {title} ({})", place.replace(", ", ": "))
    }
}

/// The sets of an act by their names alone: `the 8 head nuts`.
pub(super) fn sets_named(bench: &Bench, things: &[Placed]) -> String {
    let names = things.iter().filter_map(|placed| match placed.kind {
        PlacedKind::Set(id) => {
            let count = bench.procedure.set_pieces(id, &placed.places);
            Some(words::the_many(&words::inner(&bench.procedure.set(id).naming.title), count))
        }
        _ => None,
    });
    words::list(&names.collect::<Vec<_>>())
}

/// A place in a sentence: `no. 2` for a bare number.
pub(super) fn numbered(place: &str) -> String {
    if place.chars().all(|c| c.is_ascii_digit()) { format!("no. {place}") } else { place.to_owned() }
}

/// A box per place where there are several, else one.
pub(super) fn places(bench: &Bench, things: &[Placed]) -> Boxes {
    let several = things.iter().find(|placed| placed.places.len() > 1);
    several.map_or(Boxes::One, |placed| Boxes::Grid(bench.place_names(placed)))
}
