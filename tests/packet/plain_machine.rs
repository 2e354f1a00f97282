//! What sheets say of a machine without oil and with one nut is true of it: how one nut is started, what a step leaves behind it,
//! what the owner is told of running in.

use benchleaf::PacketOptions;
use benchleaf::model::Phase;

use super::words_of;

const WINCH: &str = "family w \"Yard winch\" { edition 1  origin \"invented for tests\"  invented  called \"winch\" CAPACITY }
state load \"Load on the rope\" = on (at first), off
part guard \"Guard\" { held by guard_screws  fate reuse }
part drum \"Drum\" { under guard  held by drum_nut  fate reuse }
part frame \"Frame\" { under drum }
fasteners drum_nut 1 \"Drum nut\" { kind nut  thread M16x2  reusable  tighten by feel }
fasteners guard_screws 4 \"Guard screw\" { kind screw  thread M6x1  length 16 mm  reusable  tighten by feel }
strip guard_off \"Guard off\" { undo guard_screws  take guard }
strip drum_off \"Drum off\" { undo drum_nut  take drum }
start load_it \"Load it\" { do \"Hang ten kilograms on the rope.\"  set load = on  do \"Let it down.\" }
start bare \"Take the load off\" { after load_it  set load = off }
";

fn sheets(capacity: &str, phase: Phase) -> String {
    let text = WINCH.replace("CAPACITY", capacity);
    words_of(("w.rebuild", &text), "job: \"1\"\nprocedure: w.rebuild\n", &PacketOptions::of(phase))
}

#[test]
fn one_nut_is_started_as_one_and_several_screws_in_brief_behind_it() {
    let build = sheets("", Phase::Build);
    let line = |of: &str| build.lines().find(|line| line.contains("Start") && line.contains(of)).unwrap();
    assert!(line("drum nut").contains(" By hand, several threads. ["), "{build}");
    assert!(line("guard screws").contains("). By hand. ["), "{build}");
}

#[test]
fn a_state_that_a_step_sets_is_no_line_beside_what_brings_it_about_and_ticked_where_nothing_else_does() {
    let start = sheets("", Phase::Start);
    assert!(start.contains("Hang ten kilograms on the rope.") && !start.contains("rope: on"), "{start}");
    let set = start.lines().find(|line| line.contains("Load on the rope: off")).unwrap();
    assert!(set.ends_with(": off. [ ]"), "a box: {set}");
}

#[test]
fn the_first_oil_change_is_spoken_of_only_where_there_is_oil() {
    assert!(!sheets("", Phase::Start).to_lowercase().contains("oil"));
    assert!(
        sheets("capacity \"Gear oil\" 0.2 L from \"sheet 1\"", Phase::Start).contains("first oil change")
    );
}
