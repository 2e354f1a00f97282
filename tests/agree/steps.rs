//! What stands at each step is what the lists before it and the tables beside it say: waits, pieces of the rack, counts.

use std::collections::{BTreeMap, BTreeSet};

use benchleaf::decide::{
    Verdict, machine_shop_order, machining_csv, order_csv, order_list, verdict_json, verdict_text,
};
use benchleaf::model::{Phase, Place};
use benchleaf::plan::Standing;
use benchleaf::screen::write_html;
use benchleaf::sheet::{Block, Cell, Packet, StepBlock, plain_text};
use benchleaf::{JobView, PacketOptions, Workshop};
use serde_json::Value as Json;

use super::super::random_job::{Dice, files};
use super::with_files;

fn steps_of(packet: &Packet) -> Vec<&StepBlock> {
    let blocks = packet.sheets.iter().flat_map(|sheet| &sheet.blocks);
    blocks.filter_map(|block| if let Block::Step(step) = block { Some(step) } else { None }).collect()
}

/// The numbers of the steps that a block tells: one, or from one to another.
fn numbers(block: &StepBlock) -> std::ops::RangeInclusive<usize> {
    let ends = block.number.split(|letter: char| !letter.is_ascii_digit()).filter(|end| !end.is_empty());
    let ends: Vec<usize> = ends.map(|end| end.parse().unwrap()).collect();
    ends[0]..=*ends.last().unwrap()
}

fn whole(workshop: &Workshop, view: &JobView, phase: Phase) -> Packet {
    view.packet(workshop, &PacketOptions::of(phase))
}

/// The words of each step on a screen, without their tags.
fn on_screen(packet: &Packet) -> BTreeMap<String, String> {
    let html = write_html(packet);
    let steps = html.split("<article").skip(1).map(|step| {
        let (_, id) = step.split_once("data-step=\"").unwrap();
        let body = step.split("</article>").next().unwrap();
        (id.split('"').next().unwrap().to_owned(), words_of(body))
    });
    steps.collect()
}

fn words_of(html: &str) -> String {
    let words = html.split('<').filter_map(|part| part.split_once('>')).map(|(_, text)| text);
    let words = words.collect::<String>();
    words.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().collect::<String>() + letters.as_str())
        .unwrap_or_default()
}

/// Each wait stands at its own step and at no other, on the front sheet and on the screen; each step that waits for nothing has
/// nothing to wait for on paper; every step that is left is on paper once.
#[test]
fn each_wait_stands_at_its_step() {
    let mut dice = Dice(31);
    let (mut waits, mut free) = (0, 0);
    for _ in 0..40 {
        let drawn = files(&mut dice);
        let record = drawn.last().unwrap().1.clone();
        with_files(&drawn, |workshop, view| {
            for plan in &view.plan.phases {
                let packet = whole(workshop, view, plan.phase);
                let front = plain_text(&packet);
                let screen = on_screen(&packet);
                let blocks = steps_of(&packet);
                let left = plan.steps.iter().filter(|step| step.standing.is_left());
                let mut wanted: BTreeMap<usize, BTreeSet<String>> = BTreeMap::new();
                for step in left {
                    let number = step.number.unwrap_or_else(|| panic!("it is of this job\n{record}"));
                    let holds = wanted.entry(number).or_default();
                    if let Standing::Held(own) = &step.standing {
                        holds.extend(own.iter().map(|hold| hold.text.clone()));
                    }
                }
                for (number, holds) in &wanted {
                    let told: Vec<&&StepBlock> =
                        blocks.iter().filter(|block| numbers(block).contains(number)).collect();
                    assert_eq!(told.len(), 1, "step {number} stands on paper once\n{record}\n{front}");
                    let of_block: BTreeSet<String> = numbers(told[0])
                        .filter_map(|number| wanted.get(&number))
                        .flatten()
                        .cloned()
                        .collect();
                    let on_paper: BTreeSet<String> =
                        told[0].held_by.iter().map(|text| text.words()).collect();
                    assert_eq!(on_paper, of_block, "step {number}\n{record}\n{front}");
                    free += usize::from(holds.is_empty());
                    for hold in holds {
                        let listed = format!("| {} | ", capital(hold));
                        assert!(front.contains(&listed), "{listed} on the front sheet\n{record}\n{front}");
                        let id = told[0].anchor.0.strip_prefix("step:").unwrap();
                        let screen = &screen[id];
                        assert!(screen.contains("WAIT for"), "{hold}\n{record}\n{screen}");
                        assert!(screen.contains(hold.as_str()), "{hold} on the screen\n{record}\n{screen}");
                        waits += 1;
                    }
                }
                // Nothing is printed to be worked that is done, left out or not of this job.
                for block in &blocks {
                    let of_it = numbers(block).any(|number| wanted.contains_key(&number));
                    assert!(of_it, "step {} is not left\n{record}\n{front}", block.number);
                }
            }
        });
    }
    assert!(waits > 100 && free > 100, "both are met: {waits}, {free}");
}

fn rows(csv: &str) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    reader.deserialize().map(Result::unwrap).collect()
}

/// Tables for other programs have the same lines with the same pieces and waits as the lists on paper and on the screen.
#[test]
fn tables_have_the_lines_of_the_lists() {
    let mut dice = Dice(32);
    let (mut lines, mut out, mut supplies) = (0, 0, 0);
    for _ in 0..40 {
        let drawn = files(&mut dice);
        let record = drawn.last().unwrap().1.clone();
        with_files(&drawn, |workshop, view| {
            let (procedure, job, decisions) = (&view.procedure, &view.job, &view.decisions);
            let goods = order_list(procedure, job, decisions).lines;
            let used_up = view.used_up();
            let up = Some(used_up.as_slice());
            let work = machine_shop_order(procedure, job, decisions);
            let json: Json = serde_json::from_str(&verdict_json(procedure, job, decisions, up)).unwrap();
            let paper = plain_text(&whole(workshop, view, Phase::Survey));
            let build = plain_text(&whole(workshop, view, Phase::Build));
            let verdict = verdict_text(procedure, job, decisions, up);
            let table = rows(&order_csv(procedure, job, decisions, up));
            let listed = json["order_list"]["lines"].as_array().unwrap();
            assert_eq!(table.len(), goods.len() + used_up.len(), "{record}");
            assert_eq!(listed.len(), goods.len(), "{record}");
            // What is used up stands on all of them, with the same words.
            let listed_up = json["order_list"]["used_up"].as_array().unwrap();
            assert_eq!(listed_up.len(), used_up.len(), "{record}");
            for ((line, row), other) in used_up.iter().zip(&table[goods.len()..]).zip(listed_up) {
                assert_eq!((&row["id"], &row["title"]), (&line.id, &line.title), "{record}");
                assert_eq!(other["id"], Json::from(line.id.clone()), "{record}");
                let purposes = line.purposes.join(". ");
                assert_eq!(row["because"], purposes, "{record}");
                assert_eq!(other["because"], Json::from(purposes), "{record}");
                assert!(verdict.contains(&format!("{} ({})", line.title, line.id)), "{verdict}");
                assert!(build.contains(&format!("{}.", line.purposes.join(". "))), "{record}\n{build}");
                supplies += 1;
            }
            for ((line, row), other) in goods.iter().zip(&table).zip(listed) {
                assert_eq!(row["id"], line.id, "{record}");
                assert_eq!(other["id"], Json::from(line.id.clone()), "{record}");
                assert_eq!(row["quantity"], line.quantity.to_string(), "{record}");
                let waits = line.waits_for.words.join("; ");
                assert_eq!(row["waits_for"], waits, "{record}");
                let told = other["waits_for"].as_array().unwrap().iter().map(|wait| wait.as_str().unwrap());
                assert_eq!(told.collect::<Vec<_>>().join("; "), waits, "{record}");
                let said = format!("{} × {} ({})", line.quantity, line.title, line.id);
                assert!(verdict.contains(&said), "{said}\n{verdict}");
                lines += 1;
            }
            let table = rows(&machining_csv(procedure, job, decisions));
            let listed = json["machine_shop_order"].as_array().unwrap();
            assert_eq!((table.len(), listed.len()), (work.len(), work.len()), "{record}");
            for ((line, row), other) in work.iter().zip(&table).zip(listed) {
                assert_eq!(row["id"], line.id, "{record}");
                assert_eq!(row["what"], line.what, "{record}");
                assert_eq!(row["sizes"], line.sizes.join("; "), "{record}");
                assert_eq!(row["waits_for"], line.waits_for.words.join("; "), "{record}");
                assert_eq!(other["what"], Json::from(line.what.clone()), "{record}");
                for size in &line.sizes {
                    assert!(verdict.contains(size.as_str()), "{size}\n{verdict}");
                }
                assert!(paper.contains(&line.title), "{}\n{paper}", line.title);
                out += 1;
            }
        });
    }
    assert!(
        lines > 100 && out > 10 && supplies > 4,
        "the jobs have something to tell: {lines}, {out}, {supplies}"
    );
}

/// The rack says NEW at the places at which the verdict renews, and nowhere else; the step that fits it says the same there.
#[test]
fn the_rack_and_the_step_tell_the_same_pieces() {
    let mut dice = Dice(33);
    let (mut renewed, mut kept, mut at_places) = (0, 0, 0);
    for _ in 0..60 {
        let drawn = files(&mut dice);
        let record = drawn.last().unwrap().1.clone();
        with_files(&drawn, |workshop, view| {
            let (procedure, decisions) = (&view.procedure, &view.decisions);
            let packet = whole(workshop, view, Phase::Build);
            let racks = packet.sheets.iter().filter(|sheet| sheet.title == "Rack");
            let mut boards: Vec<(String, Vec<String>)> = Vec::new();
            for block in racks.flat_map(|sheet| &sheet.blocks) {
                let Block::Table(table) = block else { continue };
                boards.extend(table.rows.iter().map(|row| {
                    let words = |cell: &Cell| match cell {
                        Cell::Text(text) => text.words(),
                        _ => String::new(),
                    };
                    (words(&row[0]), row[1..].iter().map(words).collect())
                }));
            }
            let text = plain_text(&packet);
            for (id, part) in procedure.parts.numbered() {
                let places: Vec<Place> = procedure.places(&part.axes).collect();
                let new =
                    |place: &Place| matches!(decisions.fates[&(id, *place)].verdict, Verdict::Renew { .. });
                let board = boards.iter().find(|(name, _)| name.starts_with(&part.naming.title));
                if let Some((_, cells)) = board {
                    for (place, cell) in places.iter().zip(cells) {
                        assert_eq!(cell.contains("NEW"), new(place), "{cell}\n{record}\n{text}");
                        renewed += usize::from(new(place));
                        kept += usize::from(!new(place));
                    }
                }
                // Where only some are new, each says at its own box whether it is one of them.
                let mixed = places.iter().any(new) && !places.iter().all(new);
                let title = format!("{}s", super::within_a_sentence(&part.naming.title));
                let fits = |line: &&str| line.trim_start().starts_with("Fit ") && line.contains(&title);
                for line in text.lines().filter(fits).filter(|_| mixed) {
                    for place in &places {
                        let name = procedure.place_name(&part.axes, *place);
                        let said = line.contains(&format!("[ ]{name}: NEW"));
                        assert_eq!(said, new(place), "{name}: {line}\n{record}");
                        at_places += 1;
                    }
                }
            }
        });
    }
    assert!(renewed > 20 && kept > 10 && at_places > 10, "both are met: {renewed}, {kept}, {at_places}");
}

/// An engine that may have been bored before, and nobody has said: the question stands on every list that hangs on it.
#[test]
fn an_unsaid_size_is_asked_for_on_every_list() {
    let mut dice = Dice(34);
    let mut asked = 0;
    for _ in 0..60 {
        let drawn = files(&mut dice);
        let record = drawn.last().unwrap().1.clone();
        with_files(&drawn, |workshop, view| {
            let verdict = verdict_text(&view.procedure, &view.job, &view.decisions, Some(&[]));
            let paper = plain_text(&whole(workshop, view, Phase::Survey));
            let question = "whether it is 0.25 mm over already, or standard and worn so far";
            let asks = verdict.contains("is `bore` 0.25 mm over already?");
            assert_eq!(paper.contains(question), asks, "{record}\n{verdict}\n{paper}");
            assert!(!asks || !record.contains("present:"), "{record}\n{verdict}");
            let unsaid = !record.contains("present:") && record.contains("bore[1]\": 80.2");
            assert!(!unsaid || asks, "{record}\n{verdict}");
            if asks {
                let work = machine_shop_order(&view.procedure, &view.job, &view.decisions);
                let block = work.iter().find(|line| line.id == "block");
                assert!(block.is_none_or(|line| !line.waits_for.is_empty()), "{record}");
                let goods = order_list(&view.procedure, &view.job, &view.decisions).lines;
                let rings = goods.iter().filter(|line| line.id.starts_with("rings"));
                assert!(
                    rings.clone().count() > 0 && rings.clone().all(|line| !line.waits_for.is_empty()),
                    "{record}\n{verdict}"
                );
                asked += 1;
            }
        });
    }
    assert!(asked > 4, "some are asked for: {asked}");
}
