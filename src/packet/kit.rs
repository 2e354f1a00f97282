//! The kit sheet: everything to lay out before the work starts, and what may stand in for it.

use std::collections::{BTreeMap, BTreeSet};

use super::already::left_acts;
use super::bench::Bench;
use super::fastener;
use super::part_lines::finds_its_size;
use super::questions::{columns, sets_of};
use super::shop::{at_hand, today, tools_in_crib};
use super::wrenches::{self, wrench_sheet};
use crate::decide::{
    GoesIn, InCrib as Standing, by_answer, kit_in_crib, part_goes_in, part_number, set_goes_in,
};
use crate::plan::words::{self, capital};
use crate::plan::{PlacedKind, PlannedStep, fastened, total};
use crate::procedure::model::{
    Deed, Drive, Measure, PartId, PartWork, Phase, Place, Reuse, SetId, SupplyId, TemporaryId, ToolId,
    grouped,
};
use crate::sheet::{Block, Cell, Column, Sheet, SheetKind, Table, Text};

/// Steps that use a thing, each once.
type Uses<'b, Id> = BTreeMap<Id, Vec<&'b PlannedStep>>;

/// The places of a set at which open answers choose whether its fasteners serve once, with their conditions.
fn perhaps_new(bench: &Bench, id: SetId) -> Vec<(String, Vec<Place>)> {
    let set = bench.procedure.set(id);
    let hangs = |place: &Place| {
        let bound = bench.procedure.bound_at((id, *place));
        let choosing = set.reuse.chosen_by(&bound).next().is_some();
        choosing && set.reuse.each(&bound).any(|(said, _)| said.value == Reuse::Once)
    };
    grouped(bench.procedure.places(&set.axes).filter(hangs), |place| {
        let bound = bench.procedure.bound_at((id, place));
        let words = by_answer(bench.procedure, set.reuse.each(&bound), |said| {
            if said.value == Reuse::Once { "new ones".to_owned() } else { "the old ones".to_owned() }
        });
        format!(" ({words})")
    })
}

fn note<'b, Id: Ord>(uses: &mut Uses<'b, Id>, id: Id, step: &'b PlannedStep) {
    let steps = uses.entry(id).or_default();
    if steps.last().is_none_or(|last| last.key != step.key) {
        steps.push(step);
    }
}

/// Whether something that the steps of the phase ask for is missing in this shop, or out of date; not told without a crib.
pub(super) fn some_lacking(bench: &Bench) -> bool {
    let Some(shop) = bench.material.shop else { return false };
    let standing = kit_in_crib(bench.procedure, &shop.crib, today(bench, shop));
    let lacking = |tool: &ToolId| {
        let mut of_it = standing.iter().filter(|(id, _)| id == tool);
        of_it.any(|(_, standing)| matches!(standing, Standing::Missing | Standing::OutOfDate(..)))
    };
    let tools = |step| wrenches::tools_beside(bench, &[step], bench.step(step));
    wrenches::some_lacking(bench) || bench.open_steps().any(|step| tools(step).iter().any(lacking))
}

/// The kit sheet of a phase.
pub(super) fn kit(bench: &Bench) -> Vec<Sheet> {
    let mut tools: Uses<ToolId> = BTreeMap::new();
    let mut temporaries: Uses<TemporaryId> = BTreeMap::new();
    let mut sets: Uses<SetId> = BTreeMap::new();
    for planned in bench.open_steps() {
        for tool in wrenches::tools_beside(bench, &[planned], bench.step(planned)) {
            note(&mut tools, tool, planned);
        }
        for act in left_acts(bench, planned) {
            if let Deed::PutIn(target) = &act.act.deed {
                note(&mut temporaries, target.id, planned);
            }
            if matches!(act.act.deed, Deed::Fasten { .. }) {
                for set in sets_of(bench, &act.things) {
                    note(&mut sets, set, planned);
                }
            }
        }
    }
    let mut blocks = vec![Block::Paragraph(Text::plain(
        "Lay these out before the first step. Numbers are the steps that ask for them.",
    ))];
    let crib = tools_in_crib(bench);
    blocks.extend(special_tools(bench, &tools, crib.as_ref()));
    blocks.extend(general_tools(bench, &tools, crib.as_ref()));
    blocks.extend(wrench_sheet(bench));
    blocks.extend(drives(bench, &sets, &tools));
    blocks.extend(supplies(bench));
    blocks.extend(new_parts(bench, &sets));
    blocks.extend(temporary_table(bench, &temporaries));
    if blocks.len() == 1 {
        return Vec::new();
    }
    vec![Sheet::new(
        SheetKind::Kit,
        "Kit",
        format!("Tools and supplies for the {}", bench.phase.word()),
        blocks,
    )]
}

fn titled(title: &str, table: Table) -> Vec<Block> {
    under_heading(title, Block::Table, table)
}

fn halves(title: &str, table: Table) -> Vec<Block> {
    under_heading(title, Block::Halves, table)
}

fn under_heading(title: &str, block: fn(Table) -> Block, table: Table) -> Vec<Block> {
    if table.rows.is_empty() {
        return Vec::new();
    }
    vec![Block::Heading { level: 2, text: Text::plain(title), anchor: None }, block(table)]
}

fn special_tools(bench: &Bench, tools: &Uses<ToolId>, crib: Option<&InCrib>) -> Vec<Block> {
    let (mut rows, mut ids) = (Vec::new(), Vec::new());
    for (id, steps) in tools {
        let tool = bench.procedure.tool(*id);
        if !tool.special {
            continue;
        }
        ids.push(*id);
        let stand_ins: Vec<String> = tool
            .stand_ins
            .iter()
            .map(|(name, condition)| match condition {
                Some(condition) => format!("{name}, only if {condition}"),
                None => name.clone(),
            })
            .collect();
        let stand_in =
            if stand_ins.is_empty() { "none stated".to_owned() } else { capital(&stand_ins.join("; or ")) };
        rows.push(vec![
            Cell::Tick,
            Cell::Text(Text::bold(tool.naming.title.clone())),
            Cell::Text(Text::plain(stand_in)),
            Cell::Text(bench.step_numbers(steps)),
        ]);
    }
    titled(
        "Special tools: have these before you start",
        with_crib(
            Table {
                caption: Text::default(),
                columns: columns(&[("", 0.6), ("Tool", 4.0), ("What may stand in", 5.0), ("Steps", 2.0)]),
                rows,
            },
            &ids,
            crib,
        ),
    )
}

/// How the tools stand in this shop's crib.
type InCrib = BTreeMap<ToolId, Text>;

/// Adds the column of the crib before the last, where there is a crib.
fn with_crib(table: Table, ids: &[ToolId], crib: Option<&InCrib>) -> Table {
    let Some(crib) = crib else { return table };
    let Table { caption, mut columns, mut rows } = table;
    let at = columns.len() - 1;
    columns.insert(at, Column { heading: "In the crib".to_owned(), share: 3.0, to_the_right: false });
    for (row, id) in rows.iter_mut().zip(ids) {
        row.insert(at, Cell::Text(crib.get(id).cloned().unwrap_or_default()));
    }
    Table { caption, columns, rows }
}

fn general_tools(bench: &Bench, tools: &Uses<ToolId>, crib: Option<&InCrib>) -> Vec<Block> {
    let mut rows = Vec::new();
    for (id, steps) in tools {
        let tool = bench.procedure.tool(*id);
        if tool.special {
            continue;
        }
        let mut name = Text::plain(tool.naming.title.clone());
        for (stand_in, condition) in &tool.stand_ins {
            let condition =
                condition.as_ref().map(|condition| format!(", only if {condition}")).unwrap_or_default();
            name = name.and(format!(" (or {stand_in}{condition})"));
        }
        // That it is there under this name goes without saying.
        if let Some(standing) = crib.and_then(|crib| crib.get(id)).filter(|standing| **standing != at_hand())
        {
            name = name.and(" – ");
            name.0.extend(standing.0.iter().cloned());
        }
        rows.push(vec![Cell::Tick, Cell::Text(name), Cell::Text(bench.few_numbers(steps))]);
    }
    let mut blocks = halves(
        "Tools",
        Table {
            caption: Text::default(),
            columns: columns(&[("", 0.4), ("Tool", 6.8), ("Steps", 2.4)]),
            rows,
        },
    );
    if crib.is_some() && !blocks.is_empty() {
        let said = "The crib has them under these names where nothing is said.";
        blocks.insert(1, Block::Paragraph(Text::plain(said)));
    }
    blocks
}

/// What the fasteners of the phase ask for beside the tools that are listed.
fn drives(bench: &Bench, sets: &Uses<SetId>, tools: &Uses<ToolId>) -> Vec<Block> {
    let mut by_drive: Vec<(String, f64, Vec<String>)> = Vec::new();
    for id in sets.keys() {
        let set = bench.procedure.set(*id);
        let Some(drive) = fastener::drive(set).filter(|_| set.drive != Some(Drive::ByHand)) else { continue };
        let size = match &set.drive {
            Some(Drive::AcrossFlats(size)) => size.base(),
            _ => f64::INFINITY,
        };
        // What a tool of the list turns is not told twice.
        let turned = |tool: &ToolId| match (&set.drive, bench.procedure.tool(*tool).size) {
            (Some(Drive::AcrossFlats(flats)), Some(size)) => (flats.base() - size.base()).abs() < 1e-9,
            _ => false,
        };
        let in_words = matches!(set.drive, Some(Drive::Words(_)));
        let said = in_words && set.handling.each_tool().any(|(_, tool, _)| tools.contains_key(&tool));
        if said || tools.keys().any(turned) {
            continue;
        }
        let name = fastener::all(bench.procedure, *id);
        let hand = fastener::hand(set);
        let entry = format!("{name}{hand}");
        match by_drive.iter_mut().find(|(known, _, _)| *known == drive) {
            Some((_, _, names)) => names.push(entry),
            None => by_drive.push((drive, size, vec![entry])),
        }
    }
    by_drive.sort_by(|a, b| a.1.total_cmp(&b.1).then_with(|| a.0.cmp(&b.0)));
    let rows = by_drive
        .into_iter()
        .map(|(drive, _, names)| {
            vec![
                Cell::Tick,
                Cell::Text(Text::bold(drive)),
                Cell::Text(Text::plain(capital(&names.join("; ")))),
            ]
        })
        .collect();
    titled(
        "To turn the fasteners, beside these",
        Table {
            caption: Text::default(),
            columns: columns(&[("", 0.6), ("Size", 2.7), ("Fasteners", 7.5)]),
            rows,
        },
    )
}

fn supplies(bench: &Bench) -> Vec<Block> {
    let mut uses: Uses<SupplyId> = BTreeMap::new();
    let mut amounts: BTreeMap<SupplyId, Vec<Option<Measure>>> = BTreeMap::new();
    for planned in bench.open_steps() {
        for (supply, amount, _) in bench.step(planned).supplies_at(&planned.binding) {
            note(&mut uses, *supply, planned);
            amounts.entry(*supply).or_default().push(*amount);
        }
    }
    let rows = uses
        .iter()
        .map(|(id, steps)| {
            let supply = bench.procedure.supply(*id);
            let amount = match supply.quantity {
                Some(sold) => format!("{}, sold by {}", total(&amounts[id]), sold.printed()),
                None => total(&amounts[id]),
            };
            vec![
                Cell::Tick,
                Cell::Text(Text::plain(supply.naming.title.clone())),
                Cell::Text(Text::plain(amount)),
                Cell::Text(bench.few_numbers(steps)),
            ]
        })
        .collect();
    halves(
        "Supplies",
        Table {
            caption: Text::default(),
            columns: columns(&[("", 0.4), ("Supply", 4.2), ("Amount", 2.7), ("Steps", 2.2)]),
            rows,
        },
    )
}

/// What must be in hand new before the build: parts and fasteners that are renewed, each size for itself.
fn new_parts(bench: &Bench, sets: &Uses<SetId>) -> Vec<Block> {
    if bench.phase != Phase::Build {
        return Vec::new();
    }
    let decisions = bench.material.decisions;
    let mut rows = Vec::new();
    // A trial takes the piece that is fitted for good later, or the old one where it finds which that is.
    let mut parts: BTreeMap<PartId, (BTreeSet<Place>, Vec<&PlannedStep>)> = BTreeMap::new();
    for planned in bench.open_steps() {
        for act in bench.acts(planned) {
            if !matches!(act.act.deed, Deed::Part { work: PartWork::Fit, .. }) {
                continue;
            }
            for placed in &act.things {
                let PlacedKind::Part(id) = placed.kind else { continue };
                if finds_its_size(bench, planned, placed) {
                    continue;
                }
                let new = |place: &&Place| part_goes_in(decisions, id, **place).any_new();
                let renewed: Vec<Place> = placed.places.iter().filter(new).copied().collect();
                if !renewed.is_empty() {
                    let entry = parts.entry(id).or_default();
                    entry.0.extend(renewed);
                    entry.1.push(planned);
                }
            }
        }
    }
    for (id, (places, steps)) in &parts {
        let part = bench.procedure.part(*id);
        let goes_in = |place| (part_goes_in(decisions, *id, place), decisions.piece((*id, place)));
        for ((goes_in, piece), places) in grouped(places.iter().copied(), goes_in) {
            let size = match (&goes_in, piece) {
                (GoesIn::New(Some(size)), _) => format!(", size {}", size.printed()),
                (_, Some(piece)) => format!(", {piece}"),
                _ => String::new(),
            };
            let title = format!("{}{size}", part.naming.title);
            let number = part_number(bench.procedure, &part.axes, &places, &part.catalogue);
            let all = bench.procedure.part_pieces(*id, &places);
            rows.push((title, goes_in.new_pieces(all, places.len()), number, steps.clone()));
        }
    }
    for (id, steps) in sets {
        let set = bench.procedure.set(*id);
        let all = bench.procedure.places(&set.axes);
        let pieces = |places: &[Place]| bench.procedure.set_pieces(*id, places);
        let renewed = grouped(all, |place| set_goes_in(decisions, *id, place));
        let renewed = renewed.into_iter().map(|(goes_in, places)| {
            (String::new(), goes_in.new_pieces(pieces(&places), places.len()), places)
        });
        let perhaps = perhaps_new(bench, *id).into_iter();
        let perhaps = perhaps.map(|(condition, places)| (condition, pieces(&places), places));
        for (condition, pieces, places) in renewed.filter(|(_, pieces, _)| pieces.most() > 0).chain(perhaps) {
            let number = part_number(bench.procedure, &set.axes, &places, &set.catalogue);
            let title = set.naming.title.clone() + &condition;
            // In a trial the old ones serve.
            let here = |step: &&&PlannedStep| !step.trial && fastens(bench, step, *id, &places);
            let steps: Vec<&PlannedStep> = steps.iter().filter(here).copied().collect();
            rows.push((title, pieces, number, steps));
        }
    }
    let rows = rows
        .into_iter()
        .map(|(title, count, catalogue, steps)| {
            let number = catalogue.map(|number| format!(", {}", number.replace('-', "\u{2011}")));
            vec![
                Cell::Tick,
                Cell::Text(
                    Text::bold(count.to_string()).and(format!(" {title}{}", number.unwrap_or_default())),
                ),
                Cell::Text(bench.few_numbers(&steps)),
            ]
        })
        .collect();
    halves(
        "New parts and fasteners to have in hand",
        Table {
            caption: Text::default(),
            columns: columns(&[("", 0.4), ("How many, part, part no.", 6.6), ("Steps", 1.7)]),
            rows,
        },
    )
}

/// Whether a step fastens a set at some of these places.
fn fastens(bench: &Bench, planned: &PlannedStep, id: SetId, places: &[Place]) -> bool {
    let things = bench.acts(planned).flat_map(|act| fastened(bench.procedure, &act.things));
    things.into_iter().any(|(set, at)| set == id && at.iter().any(|place| places.contains(place)))
}

fn temporary_table(bench: &Bench, temporaries: &Uses<TemporaryId>) -> Vec<Block> {
    let rows = temporaries
        .iter()
        .map(|(id, steps)| {
            let temporary = bench.procedure.temporary(*id);
            let places: Vec<Place> = bench.procedure.places(&temporary.axes).collect();
            let pieces = bench.procedure.temporary_pieces(*id, &places);
            let into = temporary.into.as_ref().map(|into| format!(", {into}")).unwrap_or_default();
            vec![
                Cell::Tick,
                Cell::Text(Text::bold(capital(&words::many(&temporary.naming.title, pieces))).and(into)),
                Cell::Text(bench.few_numbers(steps)),
                Cell::Tick,
            ]
        })
        .collect();
    halves(
        "Temporaries: what goes in must come out again",
        Table {
            caption: Text::default(),
            columns: columns(&[("", 0.4), ("What, and where to", 6.4), ("In at", 1.6), ("Out", 0.6)]),
            rows,
        },
    )
}
