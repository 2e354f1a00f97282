//! Rack sheets and tags: a numbered place for each worn-in part, and labels to go with the parts.

use super::bench::Bench;
use super::questions::columns;
use crate::decide::{GoesIn, part_goes_in};
use crate::plan::may_go_back;
use crate::procedure::model::{Part, PartId, Phase, Place};
use crate::sheet::{Block, Cell, LabelBlock, LabelSize, Sheet, SheetKind, Table, Text};

/// A label of this size holds two lines at 24 pt beside its code, and ten go on a sheet. Our own choice, no
/// source.
const LABEL: LabelSize = LabelSize { width: 84.0, height: 49.0 };
/// Two of each: one goes with the part, one stays at its place or on the bag. Common practice, no source.
const COPIES: usize = 2;

/// A place of the rack: its number, the part, its place, the name of that.
type RackPlace<'b> = (usize, PartId, &'b Part, Place, String);

/// Every place of the rack by number.
fn rack_places<'b>(bench: &'b Bench) -> Vec<RackPlace<'b>> {
    let of = |((id, place), number): (&(PartId, Place), &usize)| {
        let part = bench.procedure.part(*id);
        (*number, *id, part, *place, bench.place_name(&part.axes, *place))
    };
    let mut rows: Vec<RackPlace> = bench.racks.iter().map(of).collect();
    rows.sort_by_key(|(number, ..)| *number);
    rows
}

/// What goes to the rack.
fn racked<'b>(bench: &'b Bench) -> Vec<RackPlace<'b>> {
    let mut rows = rack_places(bench);
    rows.retain(|(_, id, _, place, _)| may_go_back(bench.material.decisions, *id, *place));
    rows
}

/// The rack sheet; none if nothing is worn in.
pub(super) fn rack(bench: &Bench) -> Vec<Sheet> {
    let rows = if bench.phase == Phase::Strip { filling(bench) } else { emptying(bench) };
    if rows.is_empty() {
        return Vec::new();
    }
    let (first, words, ticks) = if bench.phase == Phase::Strip {
        (
            "Each to its own numbered place, the same way round. ",
            "Number the rack from the front of the engine. Tick when it is on the rack, and again when it is back in.",
            [("On the rack", 1.2), ("Back in", 1.1)],
        )
    } else {
        (
            "Each back from its own numbered place, the same way round. ",
            "Where a new one goes in the old one stays on the rack until the new one is compared with it.",
            [("Goes in", 1.9), ("In", 0.8)],
        )
    };
    let wide = [("Place", 1.0), ("Part", 3.5), ("From", 1.8), ("Way round", 4.0)];
    let columns = columns(&wide.into_iter().chain(ticks).collect::<Vec<_>>());
    let mut table = Table { caption: Text::default(), columns, rows };
    table.columns[0].to_the_right = true;
    let blocks = vec![Block::Paragraph(Text::bold(first).and(words)), Block::Table(table)];
    vec![Sheet::new(SheetKind::Rack, "Rack", "Parts that go back where they were", blocks)]
}

/// What goes to the rack while the engine is taken apart.
fn filling(bench: &Bench) -> Vec<Vec<Cell>> {
    let row = |(number, _, part, at, place): RackPlace| {
        let number = Text::default().and_bold_link(number.to_string(), Bench::tag_anchor(number));
        let mut row = row(bench, (number, part, at, place));
        row.extend([Cell::Tick, Cell::Tick]);
        row
    };
    racked(bench).into_iter().map(row).collect()
}

/// What comes from the rack, and what doesn't.
fn emptying(bench: &Bench) -> Vec<Vec<Cell>> {
    let row = |(number, id, part, at, place): RackPlace| {
        let mut row = row(bench, (Text::bold(number.to_string()), part, at, place));
        let goes_in = match part_goes_in(bench.material.decisions, id, at) {
            GoesIn::Same => Text::plain("this one"),
            GoesIn::SomeNew(among) => Text::plain("these, ").and_bold(format!("{} NEW", among.pieces())),
            GoesIn::New(Some(size)) => Text::bold("NEW").and(format!(", size {}", size.printed())),
            GoesIn::New(None) => Text::bold("NEW"),
            GoesIn::WhenAccepted => Text::plain("this one, once accepted"),
            GoesIn::Nothing => Text::bold("none"),
            GoesIn::Unsettled => Text::bold("to settle"),
        };
        row.extend([Cell::Text(goes_in), Cell::Tick]);
        row
    };
    rack_places(bench).into_iter().map(row).collect()
}

fn row(bench: &Bench, (number, part, at, place): (Text, &Part, Place, String)) -> Vec<Cell> {
    let way = part.way.at(&bench.procedure.bound(&part.axes, at)).cloned();
    let title = Text::plain(part.naming.title.clone());
    let texts = [number, title, Text::bold(place), Text::plain(way.unwrap_or_default())];
    texts.into_iter().map(Cell::Text).collect()
}

/// Labels for what goes to the rack, two of each; none if nothing is worn in.
pub(super) fn tags(bench: &Bench) -> Vec<Sheet> {
    let racked = racked(bench);
    if racked.is_empty() {
        return Vec::new();
    }
    let job = bench.material.job.name.as_deref().unwrap_or_default();
    let mut blocks = Vec::new();
    for (number, id, part, place, name) in &racked {
        let of = bench.procedure.places(&part.axes).len();
        let title =
            if name.is_empty() { part.naming.title.clone() } else { format!("{} {name}", part.naming.title) };
        let mut lines = Vec::new();
        if of > 1 {
            lines.push(format!("{} of {of}", place.0 + 1));
        }
        if part.count > 1 {
            lines.push(format!("{} pieces", part.count));
        }
        lines.push(format!("Rack place {number}"));
        if let Some(way) = part.way.at(&bench.procedure.bound(&part.axes, *place)) {
            lines.push(format!("Way round: {way}"));
        }
        let job = if job.is_empty() { bench.family_title() } else { job.to_owned() };
        lines.push(job.clone());
        let label = LabelBlock {
            title: title.clone(),
            lines,
            number: number.to_string(),
            code_text: format!("{title}, place {number}, {job}").chars().take(80).collect(),
            anchor: Some(Bench::tag_anchor(*number)),
            step: bench.taken_at(*id, *place).map(|step| bench.anchor(step)),
        };
        blocks.extend(std::iter::repeat_n(Block::Label(label), COPIES));
    }
    let subtitle = "Two of each: one with the part, one at its place";
    vec![Sheet { labels: Some(LABEL), ..Sheet::new(SheetKind::Tags, "Tags", subtitle, blocks) }]
}
