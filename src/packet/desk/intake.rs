//! The intake sheet: what came through the door and in what state, before a spanner touches it.

use super::super::bench::Bench;
use super::super::bench_notes;
use super::super::numbers::kept;
use super::super::questions::columns;
use super::{bold, heading, known, listed, plain};
use crate::decide::{Identification, by_answer};
use crate::plan::words::capital;
use crate::procedure::model::{Binding, Cases, Sourced};
use crate::sheet::{Block, Cell, Form, Sheet, SheetKind, Table, Text};

/// How many photographs there is room to list where the record names none. Our own choice, no source.
const PHOTOGRAPHS: usize = 6;

/// How many more there is room for where it names some. Our own choice, no source.
const MORE_PHOTOGRAPHS: usize = 2;

/// The intake sheet.
pub(in crate::packet) fn intake(bench: &Bench) -> Vec<Sheet> {
    let job = bench.material.job;
    let intake = &job.intake;
    let mut blocks = vec![Block::Table(Table {
        caption: Text::default(),
        columns: columns(&[("What", 4.0), ("As it came", 6.0)]),
        rows: facts(bench),
    })];
    if bench.material.decisions.identification == Identification::Differs {
        blocks.push(Block::Notice(
            Text::bold(format!("Not this {}. ", bench.procedure.whole()))
                .and("The number is not of this family: every sheet is held."),
        ));
    }
    blocks.extend(listed(
        "What came with it",
        &intake.came_with,
        "Ancillaries, loose parts, keys, papers",
        2,
    ));
    blocks.extend(listed("Missing", &intake.missing, "What should be there and is not", 2));
    blocks.extend(listed(
        "Broken, or not as it should be",
        &intake.broken,
        "Also what isn't original, and earlier repairs",
        2,
    ));
    let since = bench_notes::found_since(bench);
    if !since.is_empty() {
        blocks.push(heading("Found otherwise as it was looked over and taken apart"));
        blocks.push(Block::List { items: since, tick: false });
    }
    blocks.extend(photographs(bench));
    let may =
        format!("Owner or agent: the {} may be stripped and measured. Name, date", bench.procedure.whole());
    blocks.push(match &intake.leave_to_strip {
        Some(who) => Block::Paragraph(Text::bold(format!("Leave to strip given by {who}."))),
        None => {
            let first =
                "Leave to strip is not given yet: nothing is taken apart before the owner has signed. ";
            Block::Lines { label: Text::bold(first).and(may), count: 1 }
        }
    });
    vec![Sheet::new(
        SheetKind::Intake,
        "Intake",
        format!("Filled in when the {} arrives, before a spanner touches it", bench.procedure.whole()),
        blocks,
    )]
}

/// What the record doesn't say yet, with its place there.
fn asked(cell: Cell, keys: &[&str], form: Form) -> Cell {
    if cell.is_filled_in() { kept(cell, keys, form) } else { cell }
}

fn facts(bench: &Bench) -> Vec<Vec<Cell>> {
    let job = bench.material.job;
    let intake = &job.intake;
    let mut rows = vec![vec![plain("Owner"), asked(known(job.customer.clone()), &["customer"], Form::Text)]];
    let number = job.engine_no.as_ref().map(|number| number.value.clone());
    let whole = capital(bench.procedure.whole());
    let places = bench.procedure.family.as_ref().map(|family| family.identify.as_slice()).unwrap_or_default();
    let reads = |reads: &Cases<Sourced<String>>| {
        by_answer(bench.procedure, reads.each(&Binding::default()), |reads| reads.value.clone())
    };
    match places {
        [] => rows
            .push(vec![plain(format!("{whole} number")), asked(known(number), &["engine_no"], Form::Text)]),
        [(place, begins)] => {
            let begins = reads(begins);
            rows.push(vec![
                plain(format!("{whole} number: {place}; must begin with {begins}")),
                asked(known(number), &["engine_no"], Form::Text),
            ]);
        }
        places => {
            rows.push(vec![
                plain(format!("{whole} number")),
                asked(known(number), &["engine_no"], Form::Text),
            ]);
            rows.extend(places.iter().map(|(place, begins)| {
                let what = format!("{}; must begin with {}", capital(place), reads(begins));
                vec![plain(what), Cell::Blank(String::new())]
            }));
        }
    }
    let received = known(intake.received.map(|date| date.to_string()));
    rows.push(vec![plain("Received"), asked(received, &["intake", "received"], Form::Day)]);
    let hours = intake.hours.map_or_else(|| Cell::Blank("h".to_owned()), |hours| bold(hours.printed()));
    let hours = asked(hours, &["intake", "hours"], Form::Quantity("h".to_owned()));
    rows.push(vec![plain("Hours run"), hours]);
    let complaint = asked(known(intake.complaint.clone()), &["intake", "complaint"], Form::Text);
    rows.push(vec![plain("The owner's complaint"), complaint]);
    if let Some(seller) = &intake.seller {
        rows.push(vec![plain("Said by the seller, not measured"), bold(seller.clone())]);
    }
    let limit = intake.spend_limit.as_ref().map(|sum| sum.to_string());
    rows.push(vec![
        plain("Without asking again, no more than"),
        asked(known(limit), &["intake", "spend_limit"], Form::Text),
    ]);
    if let Some(paid) = &intake.deposit {
        rows.push(vec![plain("Paid on account"), bold(paid.to_string())]);
    }
    rows
}

/// The photographs in the record, or numbered blanks.
fn photographs(bench: &Bench) -> Vec<Block> {
    let taken = &bench.material.job.intake.photographs;
    let count = if taken.is_empty() { PHOTOGRAPHS } else { taken.len() + MORE_PHOTOGRAPHS };
    let rows = (0..count).map(|at| {
        let taken = known(taken.get(at).cloned());
        vec![bold((at + 1).to_string()), asked(taken, &["intake", "photographs"], Form::Item)]
    });
    vec![
        heading("Photographs"),
        Block::Halves(Table {
            caption: Text::plain(if taken.is_empty() {
                "All six sides and the number, before cleaning."
            } else {
                ""
            }),
            columns: columns(&[("No.", 1.0), ("File, and what it shows", 9.0)]),
            rows: rows.collect(),
        }),
    ]
}
