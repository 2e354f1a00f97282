//! What is said of handling a part or a set at one position only is told at that position, in a step for each as in a step for
//! all, in a written step as in a derived one, and nowhere else.

use std::path::Path;

use benchleaf::model::Phase;
use benchleaf::sheet::SheetKind;
use benchleaf::{Memory, PacketOptions, Workshop};

use super::words_of;
use crate::expected;

const FAMILY: &str = "family e \"E\" { origin \"invented for tests\" }
axis bank \"bank\" = left, right
tool bar \"Bar\" { kind other }
tool drift \"Drift\" { kind other }
tool socket \"13 mm socket\" { kind socket  size 13 mm }
tool wrench \"Torque wrench\" { kind wrench  range 10 N.m .. 40 N.m }
supply paste \"Paste\"
supply sealant \"Sealant\"
supply locker \"Locker\"
supply wire \"Wire\"
hazard sharp caution damage { hazard \"Sharp.\"  consequence \"Cut.\"  avoid \"Gloves on.\" }
part head[bank] \"Head\" {
    kind running  held by bolts
    off with bar at bank = right  on with drift at bank = right  hazard sharp on at bank = left
    goes on \"Blue side up.\" at bank = left  goes on \"Red side up.\" at bank = right  comes off \"Tilt it.\" at bank = left
    coat with paste \"rim\" at bank = left  dry at bank = right
    mark timing \"dot\" at bank = left  mark ours \"one line\" at bank = left  mark ours \"two lines\" at bank = right
    fate reuse
}
fasteners bolts[bank] 2 \"Head bolt\" {
    thread M8x1.25  drive 13 mm  reusable  dry  apply sealant at bank = right
    locked by thread-locker locker at bank = left  locked by wire wire at bank = right
    tighten 20 N.m from \"invented\"
}
";

const ALL: &str = "strip off \"Heads off\" { undo bolts  mark head  take head }\n";
const EACH: &str = "strip off \"Head off\" { each bank apart  undo bolts  mark head  take head }\n\
                    build on \"Head on\" { each bank apart  fit head  start by hand bolts  tighten bolts }\n";

fn steps(procedure: &str, phase: Phase) -> String {
    let options = PacketOptions { sheets: vec![SheetKind::Steps], ..PacketOptions::of(phase) };
    words_of(("e.rebuild", procedure), "job: \"1\"\nprocedure: e.rebuild\n", &options)
}

#[test]
fn in_a_step_for_all_each_line_says_where() {
    let strip = steps(&format!("{FAMILY}{ALL}"), Phase::Strip);
    assert!(strip.contains("Left: Tilt it.") && strip.contains("; bar)"), "{strip}");
    assert!(strip.contains("Thread-locker is on the threads at bank left."), "{strip}");
    assert!(strip.contains("Cut the lock wire of the 2 head bolts at bank right."), "{strip}");
    assert!(!strip.contains("Sharp"), "only on the way on: {strip}");
    let build = steps(&format!("{FAMILY}{ALL}"), Phase::Build);
    for told in [
        "Coat the head (left) with paste: rim.",
        "Left: Blue side up. Right: Red side up.",
        "Timing mark at bank left: dot.",
        "Put sealant on the threads of the 2 head bolts at bank right.",
        "Clean and dry the threads of the 2 head bolts at bank left. Put locker on them.",
        "Wire the 2 head bolts at bank right with new wire",
        "dry, with sealant at bank right, with locker at bank left",
        "Sharp.",
        "drift",
    ] {
        assert!(build.contains(told), "{told}\n{build}");
    }
    assert_eq!(build.matches("Coat the").count(), 1, "{build}");
}

#[test]
fn in_a_step_for_each_only_what_is_so_there_is_told() {
    let procedure = format!("{FAMILY}{EACH}");
    for (phase, title, left, right) in [
        (
            Phase::Strip,
            "Head off",
            &["Tilt it.", "one line", "Thread-locker is on"] as &[&str],
            &["bar", "two lines", "lock wire"] as &[&str],
        ),
        (
            Phase::Build,
            "Head on",
            &["with paste: rim", "Blue side up.", "Timing mark: dot", "Put locker on them", "Sharp."],
            &["Red side up.", "Put sealant on", "with new wire", "drift"],
        ),
    ] {
        let words = steps(&procedure, phase);
        let (of_left, of_right) = words.split_once(&format!("\n2 {title}: right")).expect(&words);
        for text in left {
            assert!(of_left.contains(text), "{text}\n{words}");
            assert!(!of_right.contains(text), "{text}\n{words}");
        }
        for text in right {
            assert!(of_right.contains(text), "{text}\n{words}");
            assert!(!of_left.contains(text), "{text}\n{words}");
        }
    }
}

#[test]
fn in_steps_that_nobody_wrote_only_what_is_so_there_is_told() {
    let each = EACH.split("build on").next().unwrap();
    let build = steps(&format!("{FAMILY}{each}"), Phase::Build);
    for told in ["with paste: rim", "Put sealant on", "with new wire", "Put locker on them", "drift"] {
        assert_eq!(build.matches(told).count(), 1, "{told}\n{build}");
    }
    let (of_right, of_left) = build.split_once("\n2 ").expect(&build);
    let (of_left, of_right) =
        if of_right.contains("Blue side") { (of_right, of_left) } else { (of_left, of_right) };
    assert!(of_left.contains("with paste: rim") && of_left.contains("Put locker on them"), "{build}");
    assert!(of_right.contains("Put sealant on") && of_right.contains("drift"), "{build}");
    assert!(of_left.contains("Sharp.") && !of_right.contains("Sharp."), "{build}");
}

/// What `check` says of the procedure, with something in the place of something else.
fn complaints(from: &str, to: &str) -> String {
    let text = format!("{FAMILY}{ALL}").replace(from, to);
    assert!(from.is_empty() || text.contains(to));
    let mut workshop = Workshop::over(Memory::new().with("e.rebuild", &text));
    let checked = workshop.check(Path::new("e.rebuild"));
    expected::printed(workshop.sources(), &checked.diagnostics)
}

#[test]
fn a_position_that_nothing_is_said_of_is_told() {
    let sound = complaints("", "");
    assert!(!sound.contains("procedure/"), "{sound}");
    let silent = complaints("  dry at bank = right", "");
    assert!(silent.contains("`head` runs in oil"), "{silent}");
    let idle = complaints(
        "comes off \"Tilt it.\" at bank = left",
        "comes off \"Tilt it.\"  comes off \"Turn it.\" at bank = left",
    );
    assert!(idle.contains("procedure/idle-case"), "{idle}");
    let twice =
        complaints("comes off \"Tilt it.\" at bank = left", "comes off \"Tilt it.\"  comes off \"Turn it.\"");
    assert!(twice.contains("procedure/duplicate-clause"), "{twice}");
    let strange = complaints("dry at bank = right", "dry at port = right");
    assert!(strange.contains("`port`"), "{strange}");
}
