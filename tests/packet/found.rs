//! What is found is in force: what the record tells of this engine stands on every sheet in place of what the procedure
//! says. The pump is invented.

use std::fs;

use benchleaf::PacketOptions;
use benchleaf::model::Phase;

use super::{root, words_of};
use crate::cli::{Scratch, benchleaf};

const PUMP: &str = "procedures/first/harbour_pump.rebuild";

const FOUND: &str = "job: \"1\"
procedure: harbour_pump.rebuild
notes:
  - {about: cover_screws, found: {count: 3, length: 18 mm}, by: HK, date: 2026-03-04}
  - {about: cover_screws B, found: {condition: sheared}, by: HK}
  - {about: engine, found: {added: a bilge alarm on the bracket}}
  - {about: cover_score, says: one track near the rim}
  - {about: pulley, found: {came: without}}
";

const SETTLED: &str = "settled:\n  cover_screws B: {renew: drilled out, by: HK}\n";

/// The words of the sheets of the pump.
fn words(record: &str, phase: Phase, sheets: &[&str]) -> String {
    let procedure = fs::read_to_string(root(PUMP)).unwrap();
    let kinds = benchleaf::sheet_kinds(phase).into_iter().filter(|kind| sheets.contains(&kind.name()));
    let options = PacketOptions { sheets: kinds.collect(), ..PacketOptions::of(phase) };
    words_of(("harbour_pump.rebuild", &procedure), record, &options)
}

#[test]
fn what_is_found_of_fasteners_stands_on_every_sheet() {
    let record = format!("{FOUND}{SETTLED}");
    let steps = words(&record, Phase::Build, &["steps"]);
    assert!(steps.contains("M5×0.8 × 18 mm (stated 14 mm)"), "{steps}");
    assert!(steps.contains("2 NEW of 4: 3 of 4 came out; B: drilled out, HK."), "{steps}");
    assert!(
        steps.contains("one track near the rim"),
        "a note on a look stands where its part goes back\n{steps}"
    );
    let orders = words(&record, Phase::Build, &["orders"]);
    assert!(
        orders.contains("| 2\u{a0}× | Cover screw: 3 of 4 came out; B: drilled out, HK, M5×0.8"),
        "{orders}"
    );
    let kit = words(&record, Phase::Build, &["kit"]);
    assert!(kit.contains("| 2 Cover screw |"), "{kit}");
    let ledger = words(&record, Phase::Build, &["ledger"]);
    assert!(ledger.contains("same, 2 new"), "{ledger}");
    let front = words(&record, Phase::Build, &["front"]);
    assert!(front.contains("The pump: added by somebody: a bilge alarm on the bracket."), "{front}");
}

#[test]
fn what_did_not_come_out_of_a_hole_is_bought_once() {
    let at = |told: &str| {
        let note = format!("{{about: cover_screws B, found: {{condition: sheared{told}}}, by: HK}}");
        let record = FOUND.replace("{about: cover_screws B, found: {condition: sheared}, by: HK}", &note);
        words(&format!("{record}{SETTLED}"), Phase::Build, &["orders"])
    };
    // Three of four came out, and B is the fourth.
    assert!(
        at(", count: 0").contains("| 1\u{a0}× | Cover screw: 3 of 4 came out; B: drilled out, HK"),
        "{}",
        at("")
    );
    assert!(at(", count: 1").contains("| 2\u{a0}× | Cover screw"), "it came out, and another didn't");
    assert!(at("").contains("| 2\u{a0}× | Cover screw"), "rather one too many");
    let alone = "notes: [{about: cover_screws C, found: {count: 0}}]\n";
    let alone =
        words(&format!("job: \"1\"\nprocedure: harbour_pump.rebuild\n{alone}"), Phase::Build, &["orders"]);
    assert!(alone.contains("| 1\u{a0}× | Cover screw: nothing came out of C"), "{alone}");
}

#[test]
fn a_condition_waits_for_a_persons_word() {
    let front = words(FOUND, Phase::Build, &["front"]);
    assert!(front.contains("what becomes of the cover screw of hole B, found sheared"), "{front}");
    let front = words(&format!("{FOUND}{SETTLED}"), Phase::Build, &["front"]);
    assert!(!front.contains("found sheared"), "{front}");
    let ledger = |record: &str| words(record, Phase::Build, &["ledger"]);
    assert!(ledger(FOUND).contains("same, 1 new, B to settle"), "{}", ledger(FOUND));
    assert!(!ledger(&format!("{FOUND}{SETTLED}")).contains("B to settle"), "{}", ledger(FOUND));
}

#[test]
fn what_the_engine_came_without_is_bought() {
    let orders = words(FOUND, Phase::Build, &["orders"]);
    assert!(orders.contains("| 1\u{a0}× | Pulley"), "{orders}");
    assert!(words(FOUND, Phase::Build, &["steps"]).contains("the new pulley"), "and goes in new");
    let kept = FOUND.replace("came: without", "came: off");
    assert!(!words(&kept, Phase::Build, &["orders"]).contains("Pulley"), "off already, but there");
    let strip = words(&kept, Phase::Strip, &["steps"]);
    assert!(strip.contains("Pulley: came off already."), "{strip}");
    assert!(strip.contains("Nothing to do here. The pulley: it came off before."), "{strip}");
    assert!(!strip.contains("Remove the pulley"), "{strip}");
    assert!(words(FOUND, Phase::Strip, &["steps"]).contains("The pulley: the pump came without it."));
}

#[test]
fn it_is_written_from_the_command_line() {
    let scratch = Scratch::new("found");
    scratch.file("harbour_pump.rebuild", fs::read(root(PUMP)).unwrap());
    let job = scratch.file("job.yaml", "job: \"1\"\nprocedure: harbour_pump.rebuild\n");
    for arguments in [
        &["note", "cover_screws B", "--condition", "sheared", "--by", "HK"][..],
        &["note", "engine", "--added", "a bilge alarm"],
        &["note", "pulley", "--came", "without"],
        &["note", "seal", "--size", "24 mm"],
        &["settled", "cover_screws B", "renew", "drilled out", "--by", "HK"],
    ] {
        let output = benchleaf(&[&["record", &job], arguments].concat());
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    }
    let refused = benchleaf(&["record", &job, "note", "pulley", "--came", "late"]);
    assert_eq!(refused.status.code(), Some(1));
    let orders = words(&fs::read_to_string(&job).unwrap(), Phase::Build, &["orders"]);
    assert!(orders.contains("Cover screw: B: drilled out, HK") && orders.contains("Pulley"), "{orders}");
}

#[test]
fn what_was_taken_off_out_of_order_is_not_taken_off_again() {
    let done = "job: \"1\"
procedure: harbour_pump.rebuild
done:
  drain_hoses: {by: HK, date: 2026-03-05}
  cover_off: {by: HK, date: 2026-03-05, out_of_order: the screws were loose}
";
    let strip = words(done, Phase::Strip, &["steps"]);
    assert!(!strip.contains("Nothing to do here"), "what is left takes off nothing of that\n{strip}");
    let twice = done.replace(
        "  cover_off: {by: HK, date: 2026-03-05, out_of_order: the screws were loose}\n",
        "  pump_off: {by: HK, date: 2026-03-05, out_of_order: no hoses on it}\n",
    );
    let strip = words(&twice, Phase::Strip, &["steps"]);
    assert!(strip.contains("Slacken"), "{strip}");
    assert!(strip.contains("Nothing to do here. The 3 foot bolts"), "{strip}");
    assert!(strip.contains("done out of order at step 4"), "{strip}");
}

#[test]
fn a_label_counts_what_comes_off_at_its_step() {
    let labels = |record: &str| words(record, Phase::Strip, &["tags"]);
    let all = labels("job: \"1\"\nprocedure: harbour_pump.rebuild\n");
    assert!(all.contains("4 cover screws"), "{all}");
    // Three came out, as the record has it; what is slackened only isn't bagged.
    let found = labels(FOUND);
    assert!(found.contains("3 cover screws") && !found.contains("4 cover screws"), "{found}");
    // Where a thing comes off at several steps, each bag holds its own.
    let mut workshop = benchleaf::Workshop::new();
    let view = super::view(&mut workshop, &benchleaf::Request::of(&root("procedures/hallowmere4.rebuild")));
    let kinds = benchleaf::sheet_kinds(Phase::Strip).into_iter().filter(|kind| kind.name() == "tags");
    let options = PacketOptions { sheets: kinds.collect(), ..PacketOptions::of(Phase::Strip) };
    let bags = benchleaf::sheet::plain_text(&view.packet(&workshop, &options));
    assert_eq!(bags.matches("2 castle nuts of the rod").count(), 4, "{bags}");
    assert!(!bags.contains("8 castle nuts"), "{bags}");
    assert!(bags.contains("6 flywheel bolts (26 mm; old, to compare)"), "{bags}");
}

#[test]
fn nothing_is_laid_out_for_what_is_off_already() {
    let family = "family e \"E\" { origin \"invented for tests\" }
tool socket_36 \"36 mm socket\" { kind socket  size 36 mm }
tool socket_10 \"10 mm socket\" { kind socket  size 10 mm }
part pulley \"Pulley\" { held by jaw  fate reuse }
part lid \"Lid\" { held by screws  fate reuse }
fasteners jaw 1 \"Starting jaw\" { thread M24x1.5  drive 36 mm  length 40 mm  reusable  tighten 200 N.m from \"invented\" }
fasteners screws 4 \"Lid screw\" { thread M6x1  drive 10 mm  length 20 mm  reusable  tighten 8 N.m from \"invented\" }
strip slack \"Break them loose\" { tools socket_36, socket_10  slacken jaw, screws }
strip off \"Take all off\" { tools socket_36, socket_10  undo jaw, screws  take pulley, lid }
";
    let strip = |found: &str| {
        let record = format!("job: \"1\"\nprocedure: e.rebuild\n{found}");
        words_of(("e.rebuild", family), &record, &PacketOptions::of(Phase::Strip))
    };
    let on = strip("");
    assert!(on.contains("36 mm socket") || on.contains("AF 10, 36"), "{on}");
    let off = strip("notes: [{about: jaw, found: {came: \"off\"}, by: JS, date: 2026-03-02}]\n");
    assert!(!off.contains("36 mm socket") && !off.contains("AF 10, 36"), "{off}");
    assert!(off.contains("10 mm socket"), "{off}");
    // What goes back on later is laid out then.
    let record = "job: \"1\"\nprocedure: e.rebuild\nnotes: [{about: jaw, found: {came: \"off\"}, by: JS, date: 2026-03-02}]\n";
    let build = words_of(("e.rebuild", family), record, &PacketOptions::of(Phase::Build));
    assert!(build.contains("36 mm socket") || build.contains("AF 10, 36"), "{build}");
}

#[test]
fn a_bag_says_how_long_those_are_that_could_be_mixed_up() {
    let family = "family e \"E\" { origin \"invented for tests\" }
part plate \"Plate\" { held by long, short, odd, nuts, thin  fate reuse }
fasteners long 2 \"Long bolt\" { thread M10  lengths unknown }
fasteners short 2 \"Short bolt\" { thread M10  length 40 mm }
fasteners odd 2 \"Odd bolt\" { thread M10 }
fasteners nuts 2 \"Nut\" { kind nut  thread M10 }
fasteners thin 2 \"Thin screw\" { kind screw  thread M6  length 20 mm }
strip off \"Plate off\" { undo long, short, odd, nuts, thin  take plate }
strip again \"Nothing else\" { do \"Wipe it.\" }
";
    let bag = |family: &str, record: &str| {
        let record = format!("job: \"1\"\nprocedure: e.rebuild\n{record}");
        let kinds = benchleaf::sheet_kinds(Phase::Strip).into_iter().filter(|kind| kind.name() == "tags");
        let options = PacketOptions { sheets: kinds.collect(), ..PacketOptions::of(Phase::Strip) };
        words_of(("e.rebuild", family), &record, &options)
    };
    let all = bag(family, "");
    assert!(
        all.contains(
            "2 long bolts (length not known), 2 short bolts (40 mm), 2 odd bolts (length not known), 2 nuts, 2 thin screws"
        ),
        "{all}"
    );
    // What is written down of one of them isn't said of both.
    let half = bag(family, "lengths: {long: {A: 60 mm}}\n");
    assert!(half.contains("2 long bolts (A: 60 mm; B: length not known), 2 short bolts (40 mm)"), "{half}");
    let both = bag(family, "lengths: {long: {A: 60 mm, B: 60 mm}}\n");
    assert!(both.contains("2 long bolts (60 mm), 2 short bolts (40 mm)"), "{both}");
    // Alike they can't be mixed up; and what the procedure doesn't speak of is not asked.
    let alike = bag(&family.replace("lengths unknown", "length 40 mm").replace(", odd", ""), "");
    assert!(alike.contains("2 long bolts, 2 short bolts, 2 nuts"), "{alike}");
    let silent =
        family.replace("lengths unknown", "").replace("length 40 mm", "").replace("length 20 mm", "");
    assert!(!bag(&silent, "").contains("length"), "{silent}");
}
