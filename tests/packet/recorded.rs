//! Nothing that was recorded is left out of what is printed later: every word that a person wrote into the record of a messy job
//! that was handed over is looked for on the sheets, and the same of small records, thing by thing.

use std::fs;
use std::path::Path;

use benchleaf::model::Phase;
use benchleaf::{PacketOptions, Request, Workshop, sheet};

use super::{PHASES, root, view, words_of};
use crate::cli::{Scratch, benchleaf};

/// Keys of a record behind which a person's own words stand.
const WORDS: [&str; 18] = [
    "complaint",
    "seller",
    "says",
    "condition",
    "added",
    "because",
    "out_of_order",
    "renew",
    "goes_back",
    "declined",
    "good",
    "risk",
    "why",
    "with",
    "hold",
    "what",
    "piece",
    "second",
];

/// What stands behind those keys in a text of a record, and the items of its lists of words.
fn said_in(record: &str) -> Vec<String> {
    let mut found = Vec::new();
    for line in record.lines().filter(|line| !line.trim_start().starts_with('#')) {
        for key in WORDS {
            for (at, _) in line.match_indices(&format!("{key}: ")) {
                let before = line[..at].chars().next_back();
                if before.is_some_and(|letter| letter.is_alphanumeric() || letter == '_') {
                    continue;
                }
                let rest = &line[at + key.len() + 2..];
                let said = match rest.strip_prefix('"') {
                    Some(quoted) => quoted.split('"').next(),
                    None if line[..at].contains('{') => rest.split([',', '}']).next(),
                    None => Some(rest),
                };
                found.extend(said.map(|said| said.trim().to_owned()));
            }
        }
        if let Some(item) = line.strip_prefix("    - ").filter(|item| !item.starts_with('{')) {
            found.push(item.trim_matches('"').to_owned());
        }
    }
    found
}

/// Words without what a sheet may print otherwise: case of the first letter, narrow spaces.
fn bare(text: &str) -> String {
    text.replace(['\u{a0}', '\u{202f}', '\n'], " ").to_lowercase()
}

#[test]
fn every_word_of_the_handed_over_job_is_on_a_sheet() {
    let path = root("procedures/hallowmere4.bodged.handed.job.yaml");
    let record = fs::read_to_string(&path).unwrap();
    let mut workshop = Workshop::new();
    let procedure = root("procedures/hallowmere4.rebuild");
    let view = view(&mut workshop, &Request { record: Some(Path::new(&path)), ..Request::of(&procedure) });
    let printed = |phase| {
        let options = PacketOptions { all: true, ..PacketOptions::of(phase) };
        bare(&sheet::plain_text(&view.packet(&workshop, &options)))
    };
    let sheets: Vec<String> = PHASES.iter().map(|(phase, _)| printed(*phase)).collect();
    let said = said_in(&record);
    assert!(said.len() > 40, "{said:?}");
    // What another gauge was is told with the readings; the order of the work, its hold and what is left of a stump, where it
    // was done.
    let anywhere = sheets.concat();
    let missing: Vec<&String> = said.iter().filter(|words| !anywhere.contains(&bare(words))).collect();
    assert!(missing.is_empty(), "on no sheet: {missing:#?}");
    // What a person decided, noted or declined is in the hands of whoever runs it and opens it next.
    let start = &sheets[3];
    let decided = [
        "complaint",
        "seller",
        "says",
        "condition",
        "added",
        "goes_back",
        "declined",
        "good",
        "risk",
        "because",
    ];
    for words in decided {
        let of_key: Vec<String> = record
            .lines()
            .filter(|line| line.contains(&format!("{words}: ")))
            .flat_map(|line| said_in(line).into_iter())
            .filter(|said| {
                record.contains(&format!("{words}: {said}"))
                    || record.contains(&format!("{words}: \"{said}\""))
            })
            .collect();
        for said in of_key {
            assert!(
                start.contains(&bare(&said)),
                "{words}: {said}: not in the start packet with its handover"
            );
        }
    }
}

const PUMP: &str = "procedures/first/harbour_pump.rebuild";

/// The words of one sort of sheet of the pump, for a record without its first two lines.
fn pump(record: &str, phase: Phase, kind: &str) -> String {
    let procedure = fs::read_to_string(root(PUMP)).unwrap();
    let kinds = benchleaf::sheet_kinds(phase).into_iter().filter(|known| known.name() == kind);
    let options = PacketOptions { sheets: kinds.collect(), ..PacketOptions::of(phase) };
    words_of(
        ("harbour_pump.rebuild", &procedure),
        &format!("job: \"1\"\nprocedure: harbour_pump.rebuild\n{record}"),
        &options,
    )
}

#[test]
fn what_is_missing_is_told_where_it_comes_off_on_arrival_and_to_the_owner() {
    let notes = "notes:
  - {about: cover_screws, found: {count: 3}, by: HK, date: 2026-03-04}
  - {about: pulley, found: {came: without}, by: HK, date: 2026-03-04}
  - {about: seal, found: {came: \"off\"}, by: HK, date: 2026-03-04}
";
    let steps = pump(notes, Phase::Strip, "steps");
    assert!(steps.contains("Only 3 of the 4 are there."), "{steps}");
    assert!(!pump("", Phase::Strip, "steps").contains("are there."));
    let intake = pump(notes, Phase::Strip, "intake");
    assert!(intake.contains("Came without: Pulley."), "{intake}");
    assert!(intake.contains("Off already: "), "{intake}");
    assert!(intake.contains("Cover screw: found to be 3 in number."), "{intake}");
    let estimate = pump(notes, Phase::Survey, "estimate");
    assert!(estimate.contains("| Cover screw | Renew 1 of 4 | 3 of 4 came out |"), "{estimate}");
}

#[test]
fn what_is_measured_again_counts_and_the_first_is_told() {
    let scratch = Scratch::new("again");
    let procedure = "family e \"E\" { origin \"invented for tests\" }
part head \"Head\" { fate by flat }
gauge flat \"Flatness\" { of head  instrument \"straight edge\" resolution 0.01 mm  bands good 0 mm .. 0.08 mm, renew above 0.08 mm }
look cracks \"Cracks\" { of head  results sound, cracked }
strip off \"Take it off\" { take head }
survey judge \"Judge it\" { gauge flat  look cracks }
";
    scratch.file("e.rebuild", procedure);
    let job = scratch.file("job.yaml", "job: \"1\"\nprocedure: e.rebuild\n");
    let says = |arguments: &[&str]| {
        let output = benchleaf(arguments);
        let words =
            String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success(), "{arguments:?}: {words}");
        words
    };
    says(&["record", &job, "reading", "flat", "0.05", "--by", "HK", "--date", "2026-03-04"]);
    assert!(says(&["verdict", &job]).contains("head: goes back"));
    let better = ["--again", "--by", "MV", "--date", "2026-03-09", "--with", "surface plate"];
    says(&[&["record", &job, "reading", "flat", "0.11"][..], &better].concat());
    says(&["record", &job, "reading", "flat", "0.12", "--again", "--by", "MV", "--date", "2026-03-10"]);
    says(&["record", &job, "look", "cracks", "sound"]);
    says(&["record", &job, "look", "cracks", "cracked", "--again", "--by", "MV", "--date", "2026-03-10"]);
    let record = fs::read_to_string(&job).unwrap();
    let kept = "flat: {value: 0.12 mm, by: MV, date: 2026-03-10, earlier: [{value: 0.05 mm, by: HK, date: 2026-03-04}, {value: 0.11 mm, \
                with: surface plate, by: MV, date: 2026-03-09}]}";
    assert!(record.contains(kept), "{record}");
    assert!(record.contains("earlier: [{result: sound}]"), "{record}");
    let verdict = says(&["verdict", &job]);
    assert!(verdict.contains("head: renew"), "the later one is in force\n{verdict}");
    let told = "0.12 mm, MV, 2026-03-10; first 0.05 mm, HK, 2026-03-04, then 0.11 mm, with surface plate, MV, 2026-03-09";
    assert!(verdict.contains(&format!("flat, as found: {told}")), "{verdict}");
    let printed = |phase| words_of(("e.rebuild", procedure), &record, &PacketOptions::of(phase));
    for phase in [Phase::Survey, Phase::Start] {
        let words = printed(phase);
        assert!(words.contains(&format!("Flatness, read again: {told}.")), "{phase:?}\n{words}");
        assert!(words.contains("Cracks, looked at again: cracked, MV, 2026-03-10; first sound."), "{words}");
    }
}

#[test]
fn nobody_is_warned_of_what_only_a_missing_part_would_bring() {
    let without = "notes: [{about: pulley, found: {came: without}, by: HK, date: 2026-03-04}]\n";
    for (record, warned) in [("", true), (without, false)] {
        for kind in ["steps", "front"] {
            let words = pump(record, Phase::Strip, kind);
            assert_eq!(words.contains("A puller under load may slip."), warned, "{kind}\n{words}");
            // The ring is there, and flies all the same.
            assert!(words.contains("The snap ring flies when it slips."), "{kind}\n{words}");
        }
    }
}

#[test]
fn what_was_noted_last_is_in_force() {
    let note = |found: &str| format!("  - {{about: pulley, found: {{{found}}}, by: HK, date: 2026-03-04}}\n");
    let strip = |notes: &[&str]| {
        let notes: String = notes.iter().map(|found| note(found)).collect();
        let record = format!("notes:\n{notes}");
        (pump(&record, Phase::Strip, "steps"), pump(&record, Phase::Build, "orders"))
    };
    for found in [&["came: without"][..], &["count: 0"], &["count: 1", "count: 0"]] {
        let (steps, orders) = strip(found);
        assert!(!steps.contains("Remove the pulley"), "{found:?}\n{steps}");
        assert!(orders.contains("| 1\u{a0}× | Pulley"), "{found:?}\n{orders}");
    }
    // It turned up in a box.
    for found in [&["came: without", "count: 1"][..], &["count: 0", "count: 1"]] {
        let (steps, orders) = strip(found);
        assert!(steps.contains("Remove the pulley"), "{found:?}\n{steps}");
        assert!(!orders.contains("Pulley |") && !orders.contains("| Pulley"), "{found:?}\n{orders}");
    }
    let (steps, orders) = strip(&["came: without", "came: \"off\""]);
    assert!(steps.contains("it came off before") && !orders.contains("| Pulley"), "{steps}\n{orders}");
}

#[test]
fn the_verdict_counts_the_new_ones_among_those_that_go_back() {
    let scratch = Scratch::new("new-among");
    scratch.file("harbour_pump.rebuild", fs::read(root(PUMP)).unwrap());
    let job = "job: \"1\"\nprocedure: harbour_pump.rebuild\nnotes: [{about: cover_screws, found: {count: 3}, by: HK}]\n";
    let job = scratch.file("job.yaml", job);
    let said = String::from_utf8_lossy(&benchleaf(&["verdict", &job]).stdout).into_owned();
    assert!(said.contains("1 new among them: 3 of 4 came out"), "{said}");
}

#[test]
fn what_is_half_done_is_told_in_the_order_and_in_what_is_next() {
    let scratch = Scratch::new("half-done");
    scratch.file("two.rebuild", fs::read(root("procedures/first/two_cylinder.rebuild")).unwrap());
    let record = "job: \"1\"\nprocedure: two.rebuild\nanswers: {plates: reuse}\ndone:
  head_off: {by: HK, date: 2026-03-05}
  plates_racked[1, suction]: {by: HK, date: 2026-03-05}
";
    let job = scratch.file("job.yaml", record);
    let said = |command: &str| String::from_utf8_lossy(&benchleaf(&[command, &job]).stdout).into_owned();
    assert!(said("order").contains("(plates_racked)  done already at 1 suction"), "{}", said("order"));
    let next = said("next");
    assert!(next.contains("2 Valve plates out and on the rack (done already at 1 suction)"), "{next}");
}
