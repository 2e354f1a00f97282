//! The handover sheet: what the engine is now, for whoever runs it and for whoever opens it next.

use super::super::again;
use super::super::bench::Bench;
use super::super::bench_notes;
use super::super::questions::columns;
use super::super::reading;
use super::super::side_by_side::{by_axes, place_heads};
use super::super::word;
use super::machining::read_beside;
use super::{bold, day, heading, known, labour, listed, plain, titled, to_buy, to_machine};
use crate::decide::{Fates, OrderLine, PartDecision, Size, Sizes, Verdict, WorkLine};
use crate::english::capital;
use crate::plan::PlacedKind;
use crate::plan::words::{inner, list};
use crate::procedure::model::{AxisId, Carried, GaugeId, Phase, Place, Procedure};
use crate::quantity::{Quantity, from_to};
use crate::record::{Occasion, Refused, Settled};
use crate::sheet::{Block, Cell, Sheet, SheetKind, Table, Text};
use crate::structure::PartAt;

/// The sizes that it has, from which whoever opens it next counts: what was bored or ground in this job, and before it. What
/// isn't accepted may become another size yet, and is told beside.
pub(in crate::packet) fn sizes_now(bench: &Bench) -> Vec<String> {
    let job = bench.material.job;
    let come_about = |((part, place), decision): &(&PartAt, &PartDecision)| match &decision.verdict {
        Verdict::Machine { .. } => job.sent.get(&(*part, *place)).is_some_and(|work| work.accepted.is_some()),
        Verdict::Renew { .. } => bench.phase >= Phase::Build,
        _ => false,
    };
    let decided = &bench.material.decisions.fates;
    let fates: Fates = decided.iter().filter(come_about).map(|(at, fate)| (*at, fate.clone())).collect();
    let sizes = Sizes::on(bench.procedure, job, &fates, Occasion::AsBuilt);
    let told = |(gauge, line): (GaugeId, String)| {
        let made = sizes.made(gauge).map(|made| format!(", {}", range(made))).unwrap_or_default();
        let open = decided.iter().filter(|(at, _)| !fates.contains_key(at)).map(|(_, fate)| fate);
        let to_come = machined_to(open, gauge).map(|size| format!(", to be machined to {}", size.way()));
        let to_come = to_come.unwrap_or_default();
        format!("{line}{made}{to_come}")
    };
    sizes.titled().into_iter().map(told).collect()
}

/// The size to which what a gauge measures is machined, by some of the verdicts.
fn machined_to<'a>(mut decided: impl Iterator<Item = &'a PartDecision>, gauge: GaugeId) -> Option<&'a Size> {
    decided.find_map(|decision| match &decision.verdict {
        Verdict::Machine { to, .. } => to.iter().find(|size| size.gauge == gauge),
        _ => None,
    })
}

/// The sizes that it was found with, for the front of a packet: from where limits and new parts count.
pub(in crate::packet) fn sizes_found(bench: &Bench) -> Vec<String> {
    let renewed = |gauge: GaugeId| {
        let procedure = bench.procedure;
        let mut pieces =
            procedure.places(&procedure.gauge(gauge).axes).flat_map(|at| procedure.measured((gauge, at)));
        let fates = &bench.material.decisions.fates;
        pieces
            .any(|piece| fates.get(&piece).is_some_and(|fate| matches!(fate.verdict, Verdict::Renew { .. })))
    };
    let told = |(gauge, line): (GaugeId, String)| match machined_to(
        bench.material.decisions.fates.values(),
        gauge,
    ) {
        Some(size) => format!(
            "{line}. Limits count from there until it is machined to {}; new parts are for that size.",
            size.way()
        ),
        None if renewed(gauge) => {
            format!("{line}. Limits count from there until it is renewed; the new one is taken for standard.")
        }
        None => format!("{line}. Limits and new parts count from there."),
    };
    Sizes::found(bench.procedure, bench.material.job).titled().into_iter().map(told).collect()
}

/// A size as made, from and to: `68.500 to 68.519 mm`.
fn range((low, high): (Quantity, Option<Quantity>)) -> String {
    high.map_or_else(|| low.printed(), |high| from_to(low, high))
}

/// The handover sheet.
pub(in crate::packet) fn handover(bench: &Bench) -> Vec<Sheet> {
    let job = bench.material.job;
    let handover = &job.handover;
    let timed = job.done.iter().any(|done| done.time.is_some());
    let number = job.engine_no.as_ref().map(|number| number.value.clone());
    let hours = handover.labour.or_else(|| labour::worked(bench).filter(|_| timed)).map(Quantity::printed);
    let numbered = format!("{} number", capital(bench.procedure.whole()));
    let mut widths =
        vec![("Owner", 3.6), (numbered.as_str(), 2.2), ("Handed over", 1.8), ("Hours of labour", 2.4)];
    let nothing_known = job.customer.is_none() && number.is_none();
    let mut row = vec![
        known(job.customer.clone()),
        known(number),
        handover.date.map_or(Cell::Day, |date| bold(date.to_string())),
        hours.map_or_else(|| Cell::Blank("h".to_owned()), bold),
    ];
    if nothing_known {
        // The number by which the blanks are told apart stands before words.
        widths.insert(0, ("", 1.0));
        row.insert(0, plain("It leaves"));
    }
    let head = Table { caption: Text::default(), columns: columns(&widths), rows: vec![row] };
    let mut blocks = vec![Block::Table(head)];
    let standing = beyond(bench);
    if !standing.is_empty() {
        let words =
            Text::bold("Not to be handed over before a person lets it pass, or it is mended and read again.");
        blocks.push(Block::Notice(words));
        blocks.push(Block::List { items: standing, tick: true });
    }
    let run = job.intake.hours.map(|hours| format!("{} run.", hours.printed()));
    let said = super::said_when_it_came(bench).iter().map(Text::words).collect::<Vec<_>>();
    let came: Vec<String> = run.into_iter().chain(said).collect();
    if !came.is_empty() {
        blocks.push(Block::Paragraph(Text::bold("As it came. ").and(came.join(" "))));
    }
    let now = sizes_now(bench);
    if !now.is_empty() {
        blocks
            .push(Block::Paragraph(Text::bold("Bored and ground to. ").and(format!("{}.", now.join("; ")))));
    }
    blocks.extend(sizes(bench));
    blocks.extend(renewed(bench));
    blocks.extend(machined(bench));
    let extra = super::extra(bench);
    if !extra.is_empty() {
        blocks.push(heading(&format!("Extra work on this {}", bench.procedure.whole())));
        blocks.push(Block::List { items: extra, tick: true });
    }
    blocks.extend(all_the_same(bench));
    let mut noted = bench_notes::for_the_next(bench);
    noted.extend(again::all(bench));
    if !noted.is_empty() {
        let columns = columns(&[("Noted, for whoever opens it next", 1.0)]);
        let rows = noted.into_iter().map(|item| vec![Cell::Text(item)]).collect();
        blocks.push(Block::Halves(Table { caption: Text::default(), columns, rows }));
    }
    blocks.extend(told_the_owner(bench));
    let signed = [("", 0.7), ("By the owner", 3.0), ("Date", 1.0), ("From the shop", 3.0), ("Date", 1.0)];
    let signed = Table {
        caption: Text::default(),
        columns: columns(&signed),
        rows: vec![vec![
            plain("Signed"),
            Cell::Blank(String::new()),
            Cell::Day,
            Cell::Blank(String::new()),
            Cell::Day,
        ]],
    };
    let first = "The maker's own instructions for running and servicing come before this sheet.";
    blocks.push(Block::Together(vec![
        Block::Paragraph(Text::bold("Received. ").and(first)),
        Block::Table(signed),
    ]));
    vec![Sheet::new(
        SheetKind::Handover,
        "Handover",
        "What was done, what it measures now, and how to run it in",
        blocks,
    )]
}

/// What was read of what goes out and is beyond its limit, which nobody lets pass.
fn beyond(bench: &Bench) -> Vec<Text> {
    let standing = bench.material.decisions.findings.iter().filter(|finding| finding.stands);
    let told = standing.map(|finding| {
        let gauge = bench.procedure.gauge(finding.gauge);
        let place = bench.place_name(&gauge.axes, finding.place);
        let place = if place.is_empty() { place } else { format!(", {place}") };
        Text::bold(format!("{}{place}: ", gauge.naming.title)).and(format!("{}.", finding.words))
    });
    told.collect()
}

/// Whether it has oil that is changed: a part carries some, or so much of it goes in.
fn has_oil(procedure: &Procedure) -> bool {
    let carries = procedure.parts.iter().any(|part| part.carries.contains(&Carried::Oil));
    let data = procedure.family.iter().flat_map(|family| &family.key_data);
    carries || data.filter(|datum| datum.capacity).any(|datum| datum.name.to_lowercase().contains("oil"))
}

/// What goes with the engine, how it is run in, and what was declined: a line with a box each, and room to write for what
/// the record doesn't say.
fn told_the_owner(bench: &Bench) -> Vec<Block> {
    let handover = &bench.material.job.handover;
    let of = |items: &[String]| items.iter().map(Text::plain).collect::<Vec<_>>();
    let mut declined = of(&handover.declined);
    declined.extend(word::words(bench, |what| what == Settled::Declined));
    let running_in = if has_oil(bench.procedure) {
        "Loads, speeds, first oil change, what to watch"
    } else {
        "Loads, speeds, what to watch"
    };
    let told = [
        ("Old parts that go with it", of(&handover.returned), "Counted over to the owner", 2),
        ("Running in", of(&handover.running_in), running_in, 3),
        ("Work declined", declined, "What the owner was told of and did not want done", 2),
    ];
    let (mut rows, mut unsaid) = (Vec::new(), Vec::new());
    for (title, items, label, lines) in told {
        if items.is_empty() {
            unsaid.extend(listed(title, &[], label, lines));
        }
        let row = |item| vec![Cell::Tick, Cell::Text(Text::bold(format!("{title}: ")).and_text(item))];
        rows.extend(items.into_iter().map(row));
    }
    let mut blocks = Vec::new();
    if !rows.is_empty() {
        let columns = columns(&[("", 0.2), ("Told the owner", 3.0)]);
        blocks.push(Block::Halves(Table { caption: Text::default(), columns, rows }));
    }
    blocks.extend(unsaid);
    blocks
}

/// Places of a gauge that stand beside each other. Our own choice, no source.
const ABREAST: usize = 8;

/// What everything measures now beside what it was found to be, with blanks for what isn't in the record: a row a gauge, a
/// column a place.
fn sizes(bench: &Bench) -> Vec<Block> {
    let built = measured(bench);
    let returned =
        bench.material.job.readings.iter().filter(|reading| reading.occasion == Occasion::AsReturned);
    // What has sizes and was good as it was found is what it is now.
    let stays = bench.material.job.readings.iter().filter(|reading| {
        reading.occasion == Occasion::AsFound && bench.procedure.gauge(reading.gauge).sizes.is_some()
    });
    let mut all: Vec<(GaugeId, Place)> =
        returned.chain(stays).map(|reading| (reading.gauge, reading.place)).collect();
    all.extend(&built);
    all.sort_unstable();
    all.dedup();
    let tables: Vec<Block> = by_axes(bench, all.iter().map(|(id, _)| *id))
        .iter()
        .flat_map(|(axes, gauges)| {
            let places: Vec<Place> = bench.procedure.places(axes).collect();
            let parts: Vec<Vec<Place>> = places.chunks(ABREAST).map(<[Place]>::to_vec).collect();
            parts.into_iter().map(|places| by_place(bench, axes, gauges, &places, (&all, &built)))
        })
        .collect();
    if tables.is_empty() {
        return Vec::new();
    }
    let words = Text::plain("Found, an arrow, and ")
        .and_bold("what it is now")
        .and(". A blank is for what is still to be measured.");
    let mut blocks = vec![heading("Sizes as built"), Block::Paragraph(words)];
    blocks.extend(tables);
    blocks
}

/// A gauge at one of its places.
type Spot = (GaugeId, Place);

fn by_place(
    bench: &Bench,
    axes: &[AxisId],
    gauges: &[GaugeId],
    places: &[Place],
    (all, built): (&[Spot], &[Spot]),
) -> Block {
    let names = place_heads(bench, axes, places, "It measures");
    let alone = axes.is_empty() && places.len() == 1;
    let mut rows = Vec::new();
    for id in gauges {
        let gauge = bench.procedure.gauge(*id);
        let unit = reading::unit(bench, gauge);
        let on = |place: Place, occasion| read_beside(bench, *id, place, occasion);
        let of_it: Vec<Place> =
            places.iter().filter(|place| all.contains(&(*id, **place))).copied().collect();
        if of_it.is_empty() {
            continue;
        }
        let now = |place: Place| on(place, Occasion::AsBuilt).or_else(|| on(place, Occasion::AsReturned));
        // What came back is measured then, and not again as the engine is built.
        let open = |place: &Place| now(*place).is_none() && built.contains(&(*id, *place));
        let limits = if of_it.iter().any(|place| on(*place, Occasion::AsBuilt).is_some() || open(place)) {
            Occasion::AsBuilt
        } else if of_it.iter().any(|place| on(*place, Occasion::AsReturned).is_some()) {
            Occasion::AsReturned
        } else {
            Occasion::AsFound
        };
        let said = reading::limit_beside(bench, *id, &of_it, limits);
        // The limits have the unit of what is read, where there are some.
        let unit = if said.contains(&unit) { String::new() } else { format!(", {unit}") };
        let told =
            |head: Text| if said.is_empty() { head } else { head.and(format!(": {said}")) }.and(unit.clone());
        let text = |place: &Place| {
            if !of_it.contains(place) {
                return Text::default();
            }
            let found = on(*place, Occasion::AsFound);
            match (found, now(*place)) {
                (Some(found), Some(now)) => Text::plain(found).and(" → ").and_bold(now),
                (None, Some(now)) => Text::bold(now),
                // It is what it was found to be, unless it is still to be measured.
                (Some(found), None) if open(place) => Text::plain(found),
                (Some(found), None) => Text::bold(found),
                (None, None) => Text::default(),
            }
        };
        if let ([place], true) = (places, alone) {
            // At one place what it was found to be and what it is now stand side by side.
            let (found, now) = (on(*place, Occasion::AsFound), now(*place));
            let is = match (&found, now) {
                _ if open(place) => Cell::Blank(String::new()),
                (_, Some(now)) => bold(now),
                (Some(found), None) => bold(found.clone()),
                (None, None) => plain(""),
            };
            rows.push(vec![
                Cell::Text(told(Text::bold(gauge.naming.title.clone()))),
                plain(found.unwrap_or_default()),
                is,
            ]);
            continue;
        }
        let texts: Vec<Text> = places.iter().map(text).collect();
        let blanks: Vec<bool> = places.iter().map(open).collect();
        // What is known of one place alone stands on the line of its limits.
        if let ([place], false) = (of_it.as_slice(), blanks.contains(&true)) {
            let head = Text::bold(format!("{}, {}", gauge.naming.title, bench.place_name(axes, *place)));
            rows.push(vec![Cell::Text(told(head).and(": ").and_text(text(place)))]);
            continue;
        }
        let mut head = told(Text::bold(gauge.naming.title.clone()));
        // What was found stands on the line of the limits where a blank is below it everywhere.
        let said = texts.iter().all(|text| !text.words().is_empty()) && !blanks.contains(&false);
        if said {
            let found: Vec<String> = texts.iter().map(Text::words).collect();
            head = head.and(format!(". Found {}", found.join(", ")));
        }
        rows.push(vec![Cell::Text(head)]);
        if !said && texts.iter().any(|text| !text.words().is_empty()) {
            rows.push(texts.into_iter().map(Cell::Text).collect());
        }
        if blanks.contains(&true) {
            let cell = |open: &bool| if *open { Cell::Blank(String::new()) } else { plain("") };
            rows.push(blanks.iter().map(cell).collect());
        }
    }
    if alone {
        let columns = columns(&[("What, and what it has to be", 8.0), ("Found", 0.8), ("Now", 1.0)]);
        return Block::Table(Table { caption: Text::default(), columns, rows });
    }
    let widths: Vec<(&str, f64)> = names.iter().map(|name| (name.as_str(), 1.0)).collect();
    Block::Table(Table { caption: Text::default(), columns: columns(&widths), rows })
}

/// Every gauge that the build and the start read, and whatever else the record has as built, in declared order.
fn measured(bench: &Bench) -> Vec<(GaugeId, Place)> {
    let mut found = Vec::new();
    for phase in [Phase::Build, Phase::Start] {
        let of = Bench::new(bench.material, phase, false);
        for planned in of.steps() {
            for act in of.acts(planned) {
                for placed in &act.things {
                    if let PlacedKind::Gauge(id) = placed.kind {
                        found.extend(placed.places.iter().map(|place| (id, *place)));
                    }
                }
            }
        }
    }
    let built = bench.material.job.readings.iter().filter(|reading| reading.occasion == Occasion::AsBuilt);
    found.extend(built.map(|reading| (reading.gauge, reading.place)));
    found.sort_unstable();
    found.dedup();
    found
}

/// What a person kept, renewed or left out in spite of the procedure, with the risk that was accepted.
fn all_the_same(bench: &Bench) -> Vec<Block> {
    let mut items = word::words(bench, |what| what != Settled::Declined);
    items.extend(word::judged(bench));
    if items.is_empty() {
        return Vec::new();
    }
    vec![heading("Decided all the same"), Block::List { items, tick: true }]
}

/// What was bought, in running text: a list of some sixty gaskets and washers would take a page.
fn renewed(bench: &Bench) -> Vec<Block> {
    let bought = to_buy(bench);
    if bought.lines.is_empty() {
        return Vec::new();
    }
    let row = |line: &OrderLine| {
        let piece = line.chosen.as_ref().map(|(piece, _)| piece.clone());
        let size = line.size.map(Quantity::printed).or(piece);
        let size = size.map(|size| format!(", {size}")).unwrap_or_default();
        let number = line.catalogue.as_ref().map(|number| format!(", {}", number.replace('-', "\u{2011}")));
        let what = format!("\u{a0}{}{size}{}", line.title, number.unwrap_or_default());
        vec![Cell::Text(Text::bold(line.quantity.to_string()).and(what))]
    };
    let columns = columns(&[("Renewed: strike out what was not fitted", 1.0)]);
    let rows = bought.lines.iter().map(row).collect();
    vec![Block::Halves(Table { caption: Text::default(), columns, rows })]
}

/// What was done outside, to which sizes, and what didn't pass before it did.
fn done_outside(bench: &Bench, line: &WorkLine) -> String {
    let fate = bench.material.decisions.fates.get(&(line.part, line.place));
    let sizes = match fate.map(|fate| &fate.verdict) {
        Some(Verdict::Machine { to, .. }) => to.as_slice(),
        _ => &[],
    };
    let size =
        |size: &Size| format!("{} {}", inner(&bench.procedure.gauge(size.gauge).naming.title), size.way());
    let sizes: Vec<String> = sizes.iter().map(size).collect();
    let sizes = if sizes.is_empty() { String::new() } else { format!(": {}", sizes.join("; ")) };
    let refused = bench.material.job.refusals(line.part, line.place).map(Refused::words);
    let refused: String = refused.map(|why| format!(". Refused before: {why}")).collect();
    format!("{}{sizes}{refused}", line.what)
}

fn machined(bench: &Bench) -> Vec<Block> {
    let rows = to_machine(bench)
        .iter()
        .fold(Vec::new(), |mut rows: Vec<(&WorkLine, Vec<Place>)>, line| {
            let same = |(known, _): &&mut (&WorkLine, Vec<Place>)| {
                (known.part, done_outside(bench, known), &known.to, known.accepted)
                    == (line.part, done_outside(bench, line), &line.to, line.accepted)
            };
            match rows.iter_mut().find(same) {
                Some((_, places)) => places.push(line.place),
                None => rows.push((line, vec![line.place])),
            }
            rows
        })
        .into_iter()
        .map(|(line, places)| {
            let part = bench.procedure.part(line.part);
            let title = match places.as_slice() {
                [place] => super::part_title(bench, line.part, *place),
                places => {
                    let names: Vec<String> =
                        places.iter().map(|place| bench.place_name(&part.axes, *place)).collect();
                    format!("{} {}", part.naming.title, list(&names))
                }
            };
            vec![
                Cell::Text(Text::bold(title).and(format!(": {}", done_outside(bench, line)))),
                plain(line.to.clone().unwrap_or_default()),
                day(line.accepted),
            ]
        })
        .collect();
    let widths = [("Part, and what was done", 7.0), ("By", 2.75), ("Accepted", 1.2)];
    titled("Machined or tested outside", Text::default(), &widths, rows)
}
