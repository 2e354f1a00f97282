//! What sheets call the whole: as the procedure says, an engine only where it fires, and otherwise a machine. And what a job
//! is called that was named after its procedure.

use benchleaf::model::Phase;
use benchleaf::{Memory, PacketOptions, Request, Workshop};

use super::{PHASES, view, words_of};

const FAMILY: &str =
    "family w \"Yard winch\" { edition 1  origin \"invented for tests\"  invented  CALLED  identify \"plate\" reads \"W-\" }
part guard \"Guard\" { held by screws  fate reuse  mass 2 kg }
part drum \"Drum\" { under guard  fate reuse }
part frame \"Frame\" { under drum }
fasteners screws 4 \"Screw\" { kind screw  thread M8x1.25  drive 13 mm  length unknown  reusable }
joint lid \"Guard to frame\" {
    clamps guard, frame  seen from left, front left
    holes screws at (-60,60) (60,60) (60,-60) (-60,-60) mm
    tighten screws 20 N.m from \"sheet 1\"
}
gauge play \"Play of the drum\" { of drum  unit mm  taken in place  made 0.1 mm .. 0.3 mm from \"sheet 2\" }
strip guard_off \"Guard off\" { time 5 min  hands 2  undo lid  take guard }
strip drum_out \"Drum out\" { time 5 min  gauge play  take drum }
survey look \"Look\" { do \"Look at the frame.\" }
start run \"Run it\" { do \"Turn it by hand.\" }
";

const RECORD: &str = "job: \"1\"\nprocedure: w.rebuild\nengine_no: XX-1\n\
                      notes:\n  - {about: drum, found: {came: without}}\n  - {about: engine, says: wet}\n\
                      settled:\n  engine: {goes_back: \"dried\", by: HK, date: 2026-03-05}\n\
                      done:\n  drum_out: {by: HK, date: 2026-03-05, out_of_order: \"it lay loose\"}\n";

/// All sheets of all phases, where the family says this of what it is.
fn sheets(says: &str) -> String {
    let text = FAMILY.replace("CALLED", says);
    PHASES
        .iter()
        .map(|(phase, _)| {
            let options = PacketOptions { all: true, ..PacketOptions::of(*phase) };
            words_of(("w.rebuild", &text), RECORD, &options)
        })
        .collect()
}

#[test]
fn no_sheet_calls_an_engine_what_its_procedure_calls_otherwise() {
    let plain = sheets("called \"winch\"").to_lowercase();
    assert!(!plain.contains("engine"), "{plain}");
    for words in [
        "not a real winch",
        "the winch maker's own data",
        "winch number",
        "front of the winch",
        "the winch is stamped",
    ] {
        assert!(plain.contains(words), "{words}: {plain}");
    }
}

#[test]
fn what_nobody_calls_anything_is_an_engine_only_where_it_fires() {
    let plain = sheets("").to_lowercase();
    assert!(!plain.contains("engine") && plain.contains("not a real machine"), "{plain}");
    let fires = sheets("cycle four-stroke").to_lowercase();
    assert!(fires.contains("not a real engine") && !fires.contains("machine number"), "{fires}");
}

#[test]
fn a_job_that_is_named_after_its_procedure_is_told_once_at_the_foot() {
    let foot = |job: &str| {
        let text = FAMILY.replace("CALLED", "");
        let record = format!("job: \"{job}\"\nprocedure: w.rebuild\n");
        let mut workshop = Workshop::over(Memory::new().with("w.rebuild", text).with("job.yaml", record));
        let request = Request { record: Some("job.yaml".as_ref()), ..Request::of("w.rebuild") };
        let view = view(&mut workshop, &request);
        view.packet(&workshop, &PacketOptions::of(Phase::Strip)).footer.job
    };
    assert_eq!(foot("Yard winch"), "");
    assert_eq!(foot("Yard winch of the north quay"), "Yard winch of the north quay");
}

#[test]
fn fasteners_of_a_joint_whose_holes_nobody_drew_have_blanks_for_their_lengths() {
    let drawn = words_of(
        ("w.rebuild", &FAMILY.replace("CALLED", "")),
        "job: \"1\"\nprocedure: w.rebuild\n",
        &PacketOptions::of(Phase::Strip),
    );
    let text = FAMILY
        .replace("CALLED", "")
        .replace("    holes screws at (-60,60) (60,60) (60,-60) (-60,-60) mm\n", "");
    let bare = words_of(
        ("w.rebuild", &text),
        "job: \"1\"\nprocedure: w.rebuild\n",
        &PacketOptions::of(Phase::Strip),
    );
    for words in [&drawn, &bare] {
        assert!(words.contains("lengths not known. Measure each"), "{words}");
    }
    // A row with a blank for each of the four, once, whether they are drawn or not.
    for (words, letter) in
        [&drawn, &bare].into_iter().flat_map(|words| ["A", "B", "C", "D"].map(|letter| (words, letter)))
    {
        let row = format!("| {letter} | ____ mm |");
        assert_eq!(words.matches(&row).count(), 1, "{row}: {words}");
    }
}
