//! Rack sheets and tags: a numbered place for each worn-in part, and labels to go with the parts.

use super::bench::Bench;
use super::questions::columns;
use crate::plan::may_go_back;
use crate::procedure::model::{Part, PartId, Place};
use crate::sheet::{Block, Cell, LabelBlock, LabelSize, Sheet, SheetKind, Table, Text};

/// A label of this size holds two lines at 24 pt beside its code, and ten go on a sheet. Our own choice, no
/// source.
const LABEL: LabelSize = LabelSize { width: 84.0, height: 49.0 };
/// Two of each: one goes with the part, one stays at its place or on the bag. Common practice, no source.
const COPIES: usize = 2;

/// What goes to the rack: rack number, part, place, place name.
fn racked<'b>(bench: &'b Bench) -> Vec<(usize, PartId, &'b Part, Place, String)> {
    let mut rows: Vec<(usize, PartId, &Part, Place, String)> = bench
        .racks
        .iter()
        .filter(|((id, place), _)| may_go_back(bench.material.decisions, *id, *place))
        .map(|((id, place), number)| {
            let part = bench.procedure.part(*id);
            (*number, *id, part, *place, bench.place_name(&part.axes, *place))
        })
        .collect();
    rows.sort_by_key(|(number, ..)| *number);
    rows
}

/// The rack sheet; none if nothing is worn in.
pub(super) fn rack(bench: &Bench) -> Vec<Sheet> {
    let mut blocks = vec![Block::Paragraph(
        Text::bold("Each to its own numbered place, the same way round. ").and(
            "Number the rack from the front of the engine. Tick when it is on the rack, and again when it is back in.",
        ),
    )];
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    for (number, _, part, at, place) in racked(bench) {
        let way = part.way.at(&bench.procedure.bound(&part.axes, at)).cloned();
        rows.push(vec![
            Cell::Text(Text::default().and_bold_link(number.to_string(), Bench::tag_anchor(number))),
            Cell::Text(Text::plain(part.naming.title.clone())),
            Cell::Text(Text::bold(place)),
            Cell::Text(Text::plain(way.unwrap_or_default())),
            Cell::Tick,
            Cell::Tick,
        ]);
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let mut table = Table {
        caption: Text::default(),
        columns: columns(&[
            ("Place", 1.0),
            ("Part", 3.5),
            ("From", 1.8),
            ("Way round", 4.0),
            ("On the rack", 1.2),
            ("Back in", 1.1),
        ]),
        rows,
    };
    table.columns[0].to_the_right = true;
    blocks.push(Block::Table(table));
    vec![Sheet::new(SheetKind::Rack, "Rack", "Parts that go back where they were", blocks)]
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
