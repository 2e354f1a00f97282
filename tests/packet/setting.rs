//! What is put on wet: its times stand beside the step that puts it on, and before the start it is ticked as set.

use benchleaf::PacketOptions;
use benchleaf::model::Phase;

use super::words_of;

const FAMILY: &str = "family e \"E\" { origin \"invented for tests\" }
supply sealant \"Face sealant\" { open time 10 min  cure time 24 h }
supply locker \"Thread-locker\" { cure time 6 h }
supply rag \"Rag\"
part sump \"Sump\" { held by bolts  fate reuse }
part pulley \"Pulley\" { held by pulley_bolt  fate reuse }
fasteners bolts 4 \"Sump bolt\" { thread M6x1  reusable  tighten 8 N.m from \"invented\" }
fasteners pulley_bolt 1 \"Pulley bolt\" { thread M10x1.25  reusable  apply locker  tighten 40 N.m from \"invented\" }
strip all_off \"Take all off\" { undo bolts, pulley_bolt  take sump, pulley  supplies rag 1 }
build close_sump \"Close the sump\" { fit sump  tighten bolts  supplies sealant 5 mL }
start run \"Run it\" { do \"Fill it with oil.\" }
";

/// The words of a packet of one phase, with the sump closed on a day.
fn words(phase: Phase) -> String {
    let record = "job: \"1\"\nprocedure: e.rebuild\ndone:\n  all_off: {by: JS, date: 2026-03-02}\n  close_sump: {by: JS, date: 2026-03-05}\n";
    words_of(("e.rebuild", FAMILY), record, &PacketOptions { all: true, ..PacketOptions::of(phase) })
}

#[test]
fn times_stand_beside_the_step_that_puts_it_on() {
    let build = words(Phase::Build);
    assert!(build.contains("Face sealant: closed and tight within 10 min"), "{build}");
    assert!(build.contains("Face sealant: sets for 24 h before it is loaded or wetted"), "{build}");
    // What goes on a thread is not among the step's supplies: the set says it.
    assert!(build.contains("Thread-locker: sets for 6 h before it is loaded or wetted"), "{build}");
    let strip = words(Phase::Strip);
    assert!(!strip.contains("sets for"), "{strip}");
}

#[test]
fn what_sets_is_ticked_before_the_start_with_the_day_it_was_put_on() {
    let start = words(Phase::Start);
    let set = "Face sealant, 24 h: Close the sump (put on 2026-03-05; set on 2026-03-06, at the hour at which it was put on)";
    assert!(start.contains(set), "{start}");
    assert!(start.contains("Thread-locker, 6 h: ") && start.contains("(no day in the record)"), "{start}");
    assert!(!words(Phase::Build).contains("Set before anything is filled"));
}

#[test]
fn the_start_waits_until_the_hour_at_which_it_has_set() {
    let front = |done: &str, rest: &str| {
        let record = format!(
            "job: \"1\"\nprocedure: e.rebuild\nintake: {{leave_to_strip: \"AB, 2026-03-01\"}}\ndone:\n  all_off: {{by: JS, date: \
             2026-03-02}}\n  close_sump: {{by: JS, date: 2026-03-05{done}}}\n{rest}"
        );
        words_of(("e.rebuild", FAMILY), &record, &PacketOptions::of(Phase::Start))
    };
    let at = front(", at: 14:30", "");
    let held = "| Face sealant to set until 2026-03-06, 14:30: Close the sump | 1 |";
    assert!(at.contains(held), "{at}");
    assert!(at.contains("(put on 2026-03-05, 14:30; set on 2026-03-06, 14:30)"), "{at}");
    // Without the hour only the day is known.
    let day = front("", "");
    assert!(day.contains("to set until 2026-03-06, at the hour at which it was put on"), "{day}");
    // What was written down a day later was written down when it had set.
    let later = |day: &str| format!("notes: [{{about: engine, says: cold, by: JS, date: {day}}}]\n");
    assert!(
        front(", at: 14:30", &later("2026-03-06")).contains("to set until"),
        "the same day may be too early"
    );
    assert!(!front(", at: 14:30", &later("2026-03-07")).contains("to set until"));
}

#[test]
fn what_is_filled_in_the_build_waits_until_the_hour_at_which_it_has_set() {
    let family = FAMILY
        .replace(
            "part sump \"Sump\" { held by bolts",
            "state oil \"Oil\" = full (at first), drained\npart sump \"Sump\" { held by bolts  releases oil = full",
        )
        .replace("undo bolts", "set oil = drained  undo bolts")
        + "build fill \"Fill it\" { set oil = full }\n";
    let build = |done: &str| {
        let record = format!(
            "job: \"1\"\nprocedure: e.rebuild\nintake: {{leave_to_strip: \"AB, 2026-03-01\"}}\ndone:\n  all_off: {{by: JS, \
             date: 2026-03-02}}\n{done}"
        );
        words_of(("e.rebuild", &family), &record, &PacketOptions::of(Phase::Build))
    };
    // Before it is done, its step says what comes first; nothing is to be found out yet.
    let open = build("");
    assert!(
        open.contains("Not before all of this has set: ")
            && open.contains("Face sealant, 24 h: Close the sump (step "),
        "{open}"
    );
    assert!(!open.contains("WAIT: face sealant"), "{open}");
    let wet = build("  close_sump: {by: JS, date: 2026-03-05, at: 14:30}\n");
    assert!(wet.contains("WAIT: face sealant to set until 2026-03-06, 14:30: Close the sump"), "{wet}");
    assert!(wet.contains("| Face sealant to set until 2026-03-06, 14:30: Close the sump | 3 |"), "{wet}");
    // Nothing else of the build waits for it.
    assert_eq!(wet.matches("WAIT: face sealant").count(), 1, "{wet}");
}

#[test]
fn the_hour_and_what_it_was_tightened_to_have_room_on_paper_and_a_home_in_the_record() {
    let build = |done: &str| {
        let record = format!(
            "job: \"1\"\nprocedure: e.rebuild\ndone:\n  all_off: {{by: JS, date: 2026-03-02}}\n{done}"
        );
        words_of(
            ("e.rebuild", FAMILY),
            &record,
            &PacketOptions { all: true, ..PacketOptions::of(Phase::Build) },
        )
    };
    let open = build("");
    assert!(open.contains("| 2 | Face sealant: put on, by the clock; sets for 24 h |"), "{open}");
    let done = build(
        "  close_sump: {by: JS, date: 2026-03-05, at: 9:05, wrench: TW 30, reached: {bolts: 8.4 N.m}}\n",
    );
    assert!(done.contains("09:05"), "{done}");
    assert!(done.contains("| TW 30 | 8.4 N·m | JS, 2026-03-05 |"), "the register\n{done}");
    assert!(done.contains("Tightened to: 8.4 N·m (sump bolt)."), "{done}");
}

#[test]
fn each_set_of_a_step_has_its_own_wrench() {
    let family = FAMILY.replace("fit sump  tighten bolts", "fit sump, pulley  tighten bolts, pulley_bolt");
    let register = |wrench: &str| {
        let record = format!(
            "job: \"1\"\nprocedure: e.rebuild\ndone:\n  all_off: {{by: JS, date: 2026-03-02}}\n  \
             close_sump: {{by: JS, date: 2026-03-05{wrench}}}\n"
        );
        words_of(
            ("e.rebuild", &family),
            &record,
            &PacketOptions { all: true, ..PacketOptions::of(Phase::Build) },
        )
    };
    let rows = |words: &str| {
        let row = |line: &&str| line.starts_with("| ") && line.contains(": ") && line.contains(" N·m");
        words.lines().filter(row).map(str::to_owned).collect::<Vec<_>>()
    };
    let two = register(", wrench: {bolts: TW 30, pulley_bolt: TW 80}");
    let [bolts, pulley] = rows(&two).try_into().unwrap_or_else(|rows| panic!("{rows:?}\n{two}"));
    assert!(bolts.contains("Sump bolts") || bolts.contains("sump bolts"), "{bolts}");
    assert!(bolts.contains("TW 30") && !bolts.contains("TW 80"), "{bolts}");
    assert!(pulley.contains("TW 80") && !pulley.contains("TW 30"), "{pulley}");
    assert!(two.contains("Wrench: TW 30 (sump bolt), TW 80 (pulley bolt)."), "{two}");
    // One for all of the step, as ever.
    assert!(rows(&register(", wrench: TW 80")).iter().all(|row| row.contains("TW 80")));
    // What nobody has said of one is asked for still.
    let one = rows(&register(", wrench: {bolts: TW 30}"));
    assert!(one[0].contains("TW 30") && !one[1].contains("TW"), "{one:?}");
}

#[test]
fn threads_are_oiled_before_a_bead_with_an_open_time_is_laid() {
    let family = FAMILY
        .replace(
            "part sump \"Sump\" { held by bolts",
            "part sump \"Sump\" { held by bolts  coat with sealant \"rim\"",
        )
        .replace("reusable  tighten 8 N.m", "reusable  oil threads with oil  tighten 8 N.m")
        .replace("supply rag", "supply oil \"Clean oil\"\nsupply rag");
    let record = "job: \"1\"\nprocedure: e.rebuild\n";
    let options = PacketOptions { all: true, ..PacketOptions::of(Phase::Build) };
    let build = words_of(("e.rebuild", &family), record, &options);
    let place = |words: &str| build.find(words).unwrap_or_else(|| panic!("{words}\n{build}"));
    let (oiled, bead) =
        (place("Oil the threads of the 4 sump bolts"), place("Coat the sump with face sealant: rim."));
    assert!(oiled < bead && bead < place("Fit the sump."), "{build}");
    // What has no time of its own to be closed in is laid where its part is fitted.
    let slow = family.replace("open time 10 min  cure time 24 h", "cure time 24 h");
    let build = words_of(("e.rebuild", &slow), record, &options);
    assert!(build.find("Coat the sump") < build.find("Oil the threads of the 4 sump bolts"), "{build}");
}
