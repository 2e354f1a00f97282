//! The rack board, by part and place as a man builds it.

use super::bench::Bench;
use super::questions::columns;
use crate::decide::{GoesIn, part_goes_in};
use crate::plan::may_go_back;
use crate::procedure::model::{AxisId, End, PartId, Phase, Place};
use crate::sheet::{Block, Cell, Sheet, SheetKind, Table, Text};

/// The rack board; none if nothing is worn in.
pub(super) fn rack(bench: &Bench) -> Vec<Sheet> {
    let mut boards: Vec<(&[AxisId], Vec<PartId>)> = Vec::new();
    for (id, part) in bench.procedure.parts.numbered() {
        let places = || bench.procedure.places(&part.axes);
        let goes = |place: Place| may_go_back(bench.material.decisions, id, place);
        let racked = bench.racks.contains_key(&(id, Place(0)));
        if !racked || (bench.phase == Phase::Strip && !places().any(goes)) {
            continue;
        }
        match boards.iter_mut().find(|(axes, _)| *axes == part.axes.as_slice()) {
            Some((_, parts)) => parts.push(id),
            None => boards.push((&part.axes, vec![id])),
        }
    }
    if boards.is_empty() {
        return Vec::new();
    }
    let (first, words) = if bench.phase == Phase::Strip {
        (
            "Each to its own numbered place, the same way round. ",
            format!(
                "Number the rack as it stands here, the {} of the {} to the left. One that is worn out stays on it until \
                 the new one has been compared with it.",
                bench.procedure.end_name(End::Front),
                bench.procedure.whole()
            ),
        )
    } else {
        (
            "Each back from its own numbered place, the same way round. ",
            "Where NEW stands the old one stays on the rack until the new one is compared with it."
                .to_owned(),
        )
    };
    let mut blocks = vec![Block::Paragraph(Text::bold(first).and(words))];
    blocks.extend(boards.into_iter().map(|(axes, parts)| Block::Table(board(bench, axes, &parts))));
    vec![Sheet::new(SheetKind::Rack, "Rack", "Parts that go back where they were", blocks)]
}

/// The parts that stand at the same places: a row for each, a column for each place.
fn board(bench: &Bench, axes: &[AxisId], parts: &[PartId]) -> Table {
    let places: Vec<Place> = bench.procedure.places(axes).collect();
    let names: Vec<String> = places.iter().map(|place| bench.place_name(axes, *place)).collect();
    let mut headings = vec![("Part, and which way round", 4.2)];
    headings.extend(names.iter().map(|name| (name.as_str(), 1.0)));
    let row = |id: &PartId| {
        let part = bench.procedure.part(*id);
        let mut name = Text::bold(part.naming.title.clone());
        let way = |place: &Place| part.way.at(&bench.procedure.bound(axes, *place));
        if let Some(way) =
            way(&places[0]).filter(|first| places.iter().all(|place| way(place) == Some(first)))
        {
            name = name.and(format!(", {way}"));
        }
        let cell = |place: &Place| Cell::Text(on_the_board(bench, *id, *place));
        std::iter::once(Cell::Text(name)).chain(places.iter().map(cell)).collect()
    };
    Table { caption: Text::default(), columns: columns(&headings), rows: parts.iter().map(row).collect() }
}

/// What stands at a place of the board: its number, and whether what lay there goes back.
fn on_the_board(bench: &Bench, id: PartId, place: Place) -> Text {
    let decisions = bench.material.decisions;
    let number = bench.racks.get(&(id, place)).map(|number| number.to_string()).unwrap_or_default();
    let text = Text::bold(number);
    if bench.phase == Phase::Strip {
        return if may_go_back(decisions, id, place) { text } else { text.and(": not back") };
    }
    match part_goes_in(decisions, id, place) {
        GoesIn::Same => text,
        GoesIn::SomeNew(among) => text.and(": ").and_bold(format!("{} NEW", among.pieces())),
        GoesIn::New(Some(size)) => text.and(": ").and_bold("NEW").and(format!(" {}", size.printed())),
        GoesIn::New(None) => text.and(": ").and_bold("NEW"),
        GoesIn::WhenAccepted => text.and(": once accepted"),
        GoesIn::Nothing => text.and(": ").and_bold("none"),
        GoesIn::Unsettled => text.and(": ").and_bold("to settle"),
    }
}
