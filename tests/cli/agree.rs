//! What the commands say of a job is what its sheets say: jobs drawn at random, the same each time.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use benchleaf::model::Phase;
use benchleaf::sheet::plain_text;
use benchleaf::{PacketOptions, Request, Workshop};
use serde_json::Value as Json;

use super::{Scratch, benchleaf, stderr, stdout};
use crate::random_job::{Dice, files};

const PHASES: [(Phase, &str); 4] =
    [(Phase::Strip, "strip"), (Phase::Survey, "survey"), (Phase::Build, "build"), (Phase::Start, "start")];

/// What a command says, which has to succeed.
fn said(arguments: &[&str]) -> String {
    let output = benchleaf(arguments);
    assert!(output.status.success(), "{arguments:?}\n{}", stderr(&output));
    stdout(&output)
}

fn json(arguments: &[&str]) -> Json {
    serde_json::from_str(&said(arguments)).unwrap()
}

fn texts(value: &Json) -> Vec<String> {
    value.as_array().into_iter().flatten().map(|text| text.as_str().unwrap().to_owned()).collect()
}

/// The lines of a list of `next` under its heading.
fn under(said: &str, heading: &str) -> Vec<String> {
    let lines = said.lines().skip_while(|line| *line != heading).skip(1);
    lines.take_while(|line| line.starts_with("  ")).map(|line| line.trim().to_owned()).collect()
}

#[test]
fn the_screen_says_what_paper_says() {
    let mut dice = Dice(22);
    let (mut waits, mut before, mut ready, mut refused) = (0, 0, 0, 0);
    for round in 0..18 {
        let scratch = Scratch::new(&format!("agree-{round}"));
        let drawn = files(&mut dice);
        let mut job = String::new();
        for (name, text) in &drawn {
            // Some have the owner's leave, so that their strip can begin.
            let text = if *name == "job.yaml" && dice.one_in(2) {
                format!("{text}intake: {{leave_to_strip: \"AB, 2026-03-01\"}}\n")
            } else {
                text.clone()
            };
            job = scratch.file(name, text);
        }
        let record = fs::read_to_string(&job).unwrap();
        let mut workshop = Workshop::new();
        let view = workshop.job(&Request::of(Path::new(&job))).value.unwrap();
        let next = said(&["next", &job]);
        let shop = said(&["shop", &scratch.path()]);
        let mut at_work: Option<(&str, String, BTreeMap<u64, String>)> = None;
        for (phase, word) in PHASES {
            if view.plan.phase(phase).is_none() {
                continue;
            }
            let packet = view.packet(&workshop, &PacketOptions::of(phase));
            let data: Json =
                packet.attachments.iter().find_map(|one| serde_json::from_slice(&one.bytes).ok()).unwrap();
            let front = plain_text(&packet);
            let order = json(&["order", &job, "--phase", word, "--format", "json"]);
            let (steps, listed) = (data["steps"].as_array().unwrap(), order["steps"].as_array().unwrap());
            let mut left = BTreeMap::new();
            for step in listed {
                let id = step["id"].as_str().unwrap();
                let Some(on_paper) = steps.iter().find(|other| other["id"] == step["id"]) else {
                    panic!("{id} is not in the packet\n{record}");
                };
                assert_eq!(step["number"], on_paper["number"], "{id}\n{record}");
                let standing = on_paper["standing"].as_str().unwrap();
                let word = step["standing"].as_str().unwrap_or("to do");
                let same = match standing {
                    "held" => word == "waits",
                    "to do" | "absent" => word == "to do",
                    other => word == other,
                };
                assert!(same, "{id}: {word}, on paper {standing}\n{record}");
                let held: Vec<String> =
                    if standing == "held" { texts(&on_paper["held_by"]) } else { Vec::new() };
                assert_eq!(texts(&step["waits_for"]), held, "{id}\n{record}");
                assert_eq!(step["not_before"], on_paper["waits_for"], "{id}\n{record}");
                waits += held.len();
                if ["held", "to do"].contains(&standing) {
                    left.insert(step["number"].as_u64().unwrap(), standing.to_owned());
                }
                if dice.one_in(if held.is_empty() { 16 } else { 4 }) {
                    let why = json(&["why", &job, id, "--format", "json"]);
                    let own =
                        why["standing"].as_array().unwrap().iter().find(|one| one["step"] == step["id"]);
                    let own = own.unwrap_or_else(|| panic!("{id}: {why}"));
                    assert_eq!(own["number"], step["number"], "{id}\n{record}");
                    assert_eq!(texts(&own["waits_for"]), held, "{id}\n{record}");
                    refused += texts(&why["phase_waits_for"]).len();
                }
            }
            let begun = left.len();
            if begun > 0 && at_work.is_none() {
                at_work = Some((word, front, left));
            }
        }
        let Some((word, front, left)) = at_work else { continue };
        // `next` tells the same phase, as many steps, and what the phase as a whole waits for.
        let first = next.lines().next().unwrap();
        let steps = if left.len() == 1 { "1 step".to_owned() } else { format!("{} steps", left.len()) };
        assert!(first.ends_with(&format!(": {word}, {steps} left")), "{first}\n{record}");
        let wanted = under(&next, "Not begun before this");
        assert_eq!(!wanted.is_empty(), front.contains("Not begun before this."), "{next}\n{front}");
        assert!(wanted.iter().all(|line| front.contains(line.as_str())), "{wanted:?}\n{front}");
        before += wanted.len();
        let heading = if wanted.is_empty() { "Can be done now" } else { "Can be done then" };
        let can = under(&next, heading);
        for line in can.iter().filter(|line| !line.starts_with("and ")) {
            let number: u64 = line.split(' ').next().unwrap().parse().unwrap();
            assert_eq!(left.get(&number).map(String::as_str), Some("to do"), "{line}\n{record}\n{front}");
        }
        ready += can.len();
        let held = under(&next, "Waits");
        for line in held.iter().filter(|line| !line.starts_with("and ")) {
            let number: u64 = line.split(' ').next().unwrap().parse().unwrap();
            assert_eq!(left.get(&number).map(String::as_str), Some("held"), "{line}\n{record}");
        }
        // None of them is left out: what a list has no room for it counts.
        let more = held.iter().find_map(|line| line.strip_prefix("and ")?.strip_suffix(" more"));
        let more: usize = more.map_or(0, |more| more.parse().unwrap());
        let told: Vec<&str> = held.iter().filter_map(|line| line.split(' ').next()).collect();
        let every = left.iter().filter(|(_, standing)| *standing == "held");
        let untold = every.filter(|(number, _)| !told.contains(&number.to_string().as_str())).count();
        assert!(untold <= more, "{untold} that wait aren't told\n{next}\n{front}\n{record}");
        assert_eq!(
            held.is_empty() && wanted.is_empty(),
            front.contains("Nothing is held"),
            "{next}\n{front}\n{record}"
        );
        // `shop` says of the one job in the folder what `next` does.
        let of_shop = |what: &str| {
            shop.lines().find_map(|line| line.trim().strip_prefix(&format!("{what}: ")).map(str::to_owned))
        };
        assert!(shop.lines().next().unwrap().contains(&format!(": {word}, ")), "{shop}\n{next}");
        let next_step = can.first().cloned().unwrap_or_else(|| "nothing can be done".to_owned());
        assert_eq!(of_shop("next"), Some(next_step), "{shop}\n{next}");
        let cause = wanted.first().cloned().or_else(|| {
            held.first()
                .map(|line| line.split_once(": for ").unwrap().1.split("; ").next().unwrap().to_owned())
        });
        assert_eq!(of_shop("waits for"), cause, "{shop}\n{next}");
        // What the verdict renews is new in the ledger of the screen, and as many are on its order list.
        let verdict = json(&["verdict", &job, "--format", "json"]);
        let ledger = json(&["ledger", &job, "--format", "json"]);
        let lines = verdict["order_list"]["lines"].as_array().unwrap();
        for thing in ledger["ledger"].as_array().unwrap() {
            let id = thing["id"].as_str().unwrap();
            let of_it = lines.iter().any(|line| line["id"].as_str().unwrap().split('[').next() == Some(id));
            let new = thing["comes_back"].as_str().unwrap().contains("new");
            assert_eq!(new, of_it, "{thing}\n{record}");
        }
        // What holds the machine-shop order holds the step that sends the part.
        for line in verdict["machine_shop_order"].as_array().unwrap() {
            let waits = !line["waits_for"].as_array().unwrap().is_empty();
            assert_eq!(waits, texts(&line["waits_for"]).iter().any(|text| !text.is_empty()), "{line}");
        }
    }
    let counts = (waits, before, ready, refused);
    assert!(
        waits > 50 && before > 5 && ready > 15 && refused > 5,
        "the jobs have something to tell: {counts:?}"
    );
}
