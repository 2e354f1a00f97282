//! Values that hang on answers and places, as sheets have them: the one that counts, or each with its condition.

use super::words_of;
use benchleaf::PacketOptions;
use benchleaf::model::Phase;

const HEAD: &str = "family block \"Block\" { edition 1  origin \"invented\"  invented }
ask year \"Which nuts are fitted?\" = early, late
part head \"Head\"
part block \"Block\"
fasteners nuts 2 \"Head nut\" { kind nut  thread M10x1.5  class 8  drive 17 mm  reusable }
gauge stretch \"Stretch of the studs\" { unit mm  taken in place  bands short below 0.5 mm, long above 0.5 mm from \"invented\" }
joint lid \"Head to block\" {
    clamps head, block  seen from top, front left
    holes nuts at (0, 0) (90, 0) mm
    tighten nuts 20 N.m, 31 N.m when year = early, else 20 N.m, 42 N.m from \"demo sheet 3\"
}
tool wrench \"Torque wrench\" { kind wrench  drive 1/2 in  range 10 N.m .. 60 N.m }
tool socket \"Socket 17 mm\" { kind socket  size 17 mm }
strip off \"Head off\" { tools socket  undo lid  take head }
";

fn build(answers: &str) -> String {
    let record = format!("job: \"B-1\"\nprocedure: head.rebuild\n{answers}");
    words_of(("head.rebuild", HEAD), &record, &PacketOptions::of(Phase::Build))
}

#[test]
fn the_answer_chooses_the_torque() {
    let early = build("answers: {year: early}\n");
    assert!(early.contains("31 N") && !early.contains("42 N"), "{early}");
    let late = build("answers: {year: late}\n");
    assert!(late.contains("42 N") && !late.contains("31 N"), "{late}");
}

#[test]
fn an_open_answer_holds_the_tightening_and_prints_each_torque_with_its_condition() {
    let open = build("");
    assert!(open.contains("it hangs on \u{201c}Which nuts are fitted?\u{201d}"), "{open}");
    let early = "if \u{201c}Which nuts are fitted?\u{201d} is early: 20, 31 N";
    assert!(open.contains(early) && open.contains("otherwise: 20, 42 N"), "{open}");
}

const PUMP: &str = "family pump \"Pump\" {
    edition 1  origin \"invented\"  invented
    identify \"pad\" reads \"P1-\" when year = early, else \"P2-\"
    capacity \"Oil\" 0.4 L when year = early, else 0.5 L from \"sheet 1\"
}
ask year \"Which screws are fitted?\" = early, late
axis side = left, right
part cover \"Cover\" { held by screws  mass 1 kg  fate renew  catalogue \"C-11\" when year = early, else \"C-22\" }
fasteners screws[side] 2 \"Screw\" {
    kind screw  thread M6x1  class 8.8  drive 10 mm  dry
    length 16 mm when year = early, else 25 mm
    once when year = late, else reusable
    tighten 6 N.m at side = left when year = early, 7 N.m at side = right when year = early, else 8 N.m from \"sheet 3\"
}
gauge gap \"Gap\" { unit mm  taken in place  made 0.10 mm .. 0.14 mm when year = early, else 0.30 mm .. 0.34 mm from \"sheet 2\" }
tool wrench \"Torque wrench\" { kind wrench  drive 1/4 in  range 2 N.m .. 20 N.m }
tool socket \"Socket 10 mm\" { kind socket  size 10 mm }
strip off \"Cover off\" { tools socket  undo screws  take cover }
build measure \"Measure\" { gauge gap }
";

/// What stands on the sheets of the pump under some answers.
fn pump(phase: Phase, answers: &str) -> String {
    let record = format!("job: \"P-1\"\nprocedure: pump.rebuild\n{answers}");
    words_of(("pump.rebuild", PUMP), &record, &PacketOptions::of(phase))
}

/// What each answer chooses: beside the sheet of the strip and that of the build.
const EARLY: [&str; 6] = ["P1-", "0.4 L", "C-11", "16 mm", "0.10", "7 N"];
const LATE: [&str; 6] = ["P2-", "0.5 L", "C-22", "25 mm", "0.30", "8 N"];

#[test]
fn every_kind_of_value_is_the_one_that_the_answer_chooses() {
    for (answer, chosen, others) in [("early", EARLY, LATE), ("late", LATE, EARLY)] {
        let words = pump(Phase::Build, &format!("answers: {{year: {answer}}}\n"));
        for value in chosen {
            assert!(words.contains(value), "{answer}: no {value} in {words}");
        }
        for value in others {
            assert!(!words.contains(value), "{answer}: {value} in {words}");
        }
        let strip = pump(Phase::Strip, &format!("answers: {{year: {answer}}}\n"));
        assert_eq!(strip.contains("Use once."), answer == "late", "{strip}");
    }
}

#[test]
fn torques_differ_by_position() {
    let words = pump(Phase::Build, "answers: {year: early}\n");
    assert!(words.contains("2 screws, left") && words.contains("2 screws, right"), "{words}");
    assert!(words.contains("6 N") && words.contains("7 N"), "{words}");
    let late = pump(Phase::Build, "answers: {year: late}\n");
    assert!(!late.contains("screws, left"), "{late}");
}

#[test]
fn while_the_answer_is_open_each_value_stands_with_its_condition() {
    let words = pump(Phase::Build, "");
    let condition = "if \u{201c}Which screws are fitted?\u{201d} is early: ";
    for (early, late) in [("P1-", "P2-"), ("0.4 L", "0.5 L"), ("C-11", "C-22"), ("16 mm", "25 mm")] {
        assert!(words.contains(&format!("{condition}{early}")), "no condition before {early}: {words}");
        assert!(words.contains(&format!("otherwise: {late}")), "{late}: {words}");
    }
    assert!(words.contains(&format!("{condition}as made 0.10")), "{words}");
    assert!(words.contains("the length of the 2 screws: it hangs on"), "{words}");
    assert!(words.contains("the tightening torque of the 2 screws, left: it hangs on"), "{words}");
    assert!(words.contains("whether the 2 screws may be used again: it hangs on"), "{words}");
}

const EITHER: &str = "family pump \"Pump\" { edition 1  origin \"invented\"  invented }
ask year \"Which are fitted?\" = early, late
part cover \"Cover\" { held by bolts, screws  mass 1 kg  fate reuse }
fasteners bolts 2 \"Bolt\" { kind bolt  thread M8x1.25  class 8.8  drive 13 mm  dry  once  tighten 20 N.m from \"sheet\"  present when year = early }
fasteners screws 4 \"Screw\" { kind screw  thread M6x1  class 8.8  drive 10 mm  dry  once  tighten 6 N.m from \"sheet\"  present when year = late }
tool wrench \"Torque wrench\" { kind wrench  drive 1/4 in  range 2 N.m .. 40 N.m }
tool sockets \"Socket 13 mm\" { kind socket  size 13 mm }
tool small \"Socket 10 mm\" { kind socket  size 10 mm }
strip off \"Cover off\" { tools sockets, small  undo bolts, screws  take cover }
";

#[test]
fn fasteners_that_this_engine_has_not_got_are_on_no_sheet() {
    let sheets = |phase: Phase, answers: &str| {
        let record = format!("job: \"E-1\"\nprocedure: pump.rebuild\n{answers}");
        words_of(("pump.rebuild", EITHER), &record, &PacketOptions::of(phase))
    };
    for (answer, here, gone) in [("early", "2 bolts", "4 screws"), ("late", "4 screws", "2 bolts")] {
        for phase in [Phase::Strip, Phase::Build] {
            let words = sheets(phase, &format!("answers: {{year: {answer}}}\n"));
            assert!(words.contains(here), "{answer}: no {here} in {words}");
            assert!(!words.contains(gone), "{answer}: {gone} in {words}");
        }
    }
    let open = sheets(Phase::Build, "");
    assert!(open.contains("whether this machine has the 2 bolts: it hangs on"), "{open}");
    assert!(open.contains("whether this machine has the 4 screws: it hangs on"), "{open}");
}

const GAPS: &str = "family pump \"Pump\" { edition 1  origin \"invented\"  invented }
ask year \"Which are fitted?\" = early, late
part cover \"Cover\" { held by screws  mass 1 kg  fate reuse }
fasteners screws 2 \"Screw\" {
    kind screw  thread M6x1  class 8.8  drive 10 mm  dry
    length 16 mm when year = early
    once when year = early
    tighten 6 N.m when year = early from \"sheet\"
}
tool wrench \"Torque wrench\" { kind wrench  drive 1/4 in  range 2 N.m .. 20 N.m }
tool socket \"Socket 10 mm\" { kind socket  size 10 mm }
strip off \"Cover off\" { tools socket  undo screws  take cover }
";

#[test]
fn what_no_case_tells_is_not_known_and_held() {
    let build = |answer: &str| {
        let record = format!("job: \"G-1\"\nprocedure: pump.rebuild\nanswers: {{year: {answer}}}\n");
        words_of(("pump.rebuild", GAPS), &record, &PacketOptions::of(Phase::Build))
    };
    let held = [
        "Lengths not known: each goes back into its own hole.",
        "The tightening torque of the 2 screws: not known",
        "Word whether the 2 screws may be used again",
    ];
    let (early, late) = (build("early"), build("late"));
    for open in held {
        assert!(late.contains(open), "no \"{open}\" in {late}");
        assert!(!early.contains(open), "\"{open}\" in {early}");
    }
}

const COUNTS: &str = "family pump \"Pump\" { edition 1  origin \"invented\"  invented }
ask year \"Which are fitted?\" = early, late
axis side = left, right
part cover \"Cover\" { held by screws  mass 1 kg  fate reuse }
part shim 2 when year = early, else 1 \"Shim\" { under cover  fate renew  price 2 EUR }
part ring[side] 3 at side = left when year = early, else 2 \"Ring\" { under cover  fate renew  price 1 EUR }
fasteners screws 4 when year = early, else 6 \"Screw\" {
    kind screw  thread M6x1  class 8.8  drive 10 mm  dry  once  tighten 6 N.m from \"sheet\"
}
tool wrench \"Torque wrench\" { kind wrench  drive 1/4 in  range 2 N.m .. 20 N.m }
tool socket \"Socket 10 mm\" { kind socket  size 10 mm }
temporary rags 2 when year = early, else 3 \"Rag\" { into \"the ports\" }
strip off \"Cover off\" { tools socket  undo screws  take cover  take ring  take shim  put in rags }
build rags_out \"Rags out\" { take out rags }
";

#[test]
fn how_many_there_are_is_what_the_answer_chooses() {
    let sheets = |phase: Phase, answers: &str| {
        let record = format!("job: \"C-1\"\nprocedure: pump.rebuild\n{answers}");
        words_of(("pump.rebuild", COUNTS), &record, &PacketOptions::of(phase))
    };
    for (answer, screws, others, rings, rags) in [
        ("early", "4 screws", "6 screws", "5 rings", "2 rags"),
        ("late", "6 screws", "4 screws", "4 rings", "3 rags"),
    ] {
        let given = format!("answers: {{year: {answer}}}\n");
        let (strip, build) = (sheets(Phase::Strip, &given), sheets(Phase::Build, &given));
        for words in [&strip, &build] {
            assert!(words.contains(screws) && !words.contains(others), "{answer}: {words}");
            let new = rings.replace(' ', " new ");
            assert!(words.contains(rings) || words.contains(&new), "{answer}: {words}");
            assert!(words.contains(rags), "{answer}: {words}");
            for open in ["4 or 6", "4 or 5", "1 or 2", "2 or 3"] {
                assert!(!words.contains(open), "{answer}: {open} in {words}");
            }
        }
        assert_eq!(strip.contains("2 shims"), answer == "early", "{strip}");
    }
    let (strip, build) = (sheets(Phase::Strip, ""), sheets(Phase::Build, ""));
    for words in [&strip, &build] {
        for both in ["4 or 6 screws", "4 or 5 rings", "1 or 2 shims", "2 or 3 rags"] {
            let (count, name) = both.rsplit_once(' ').unwrap();
            let new = format!("{count} new {name}");
            assert!(words.contains(both) || words.contains(&new), "no {both} in {words}");
        }
    }
    assert!(build.contains("how many screws there are: it hangs on"), "{build}");
    assert!(strip.contains("Screw:\u{a0}4 or 6") && strip.contains("Rag:\u{a0}2 or 3"), "{strip}");
}

const SOME: &str = "family block \"Block\" { edition 1  origin \"invented\"  invented }
ask year \"Which head is fitted?\" = early, late
part head \"Head\"  part block \"Block\"
fasteners nuts 4 \"Head nut\" { kind nut  thread M10x1.5  class 8  drive 17 mm  reusable }
fasteners edge 2 \"Edge bolt\" { kind bolt  thread M8x1.25  class 8.8  drive 13 mm  once  present when year = late }
joint lid \"Head to block\" {
    clamps head, block  seen from top, front left
    holes nuts at (0, 0) (90, 0) (0, 60) (90, 60) mm
    holes edge at (30, 30) (60, 30) mm
    tighten nuts 20 N.m, 40 N.m from \"demo sheet 3\"
    tighten edge 22 N.m from \"demo sheet 3\"
    sequence A, E, D, F, B, C from \"demo sheet 3\"
}
tool wrench \"Torque wrench\" { kind wrench  drive 1/2 in  range 10 N.m .. 60 N.m }
tool socket_17 \"Socket 17 mm\" { kind socket  size 17 mm }
tool socket_13 \"Socket 13 mm\" { kind socket  size 13 mm }
strip off \"Head off\" { tools socket_17, socket_13  undo lid  take head }
";

/// What a packet says of a joint some of whose sets only some engines have.
fn some(phase: Phase, text: &str, answers: &str) -> String {
    let record = format!("job: \"S-1\"\nprocedure: head.rebuild\n{answers}");
    words_of(("head.rebuild", text), &record, &PacketOptions::of(phase))
}

#[test]
fn a_joint_has_the_sets_that_this_engine_has() {
    for phase in [Phase::Strip, Phase::Build] {
        let early = some(phase, SOME, "answers: {year: early}\n");
        assert!(early.contains("D at (90.000, 60.000)") && !early.contains("E at (30"), "{early}");
        assert!(!early.contains("22 N") && !early.contains("edge bolts"), "{early}");
        assert!(!early.contains("Edge bolt") && !early.contains("Socket 13 mm"), "{early}");
        let late = some(phase, SOME, "answers: {year: late}\n");
        assert!(late.contains("E at (30") && late.contains("Socket 13 mm"), "{late}");
        assert!(late.contains("2 edge bolts") || late.contains("2 new edge bolts"), "{late}");
    }
    let order = |answers| some(Phase::Build, SOME, answers);
    let (early, late) = (order("answers: {year: early}\n"), order("answers: {year: late}\n"));
    assert!(
        early.contains("[ ]1 A [ ]2 D [ ]3 B [ ]4 C"),
        "the maker's own order without the others: {early}"
    );
    assert!(late.contains("[ ]1 A [ ]3 D [ ]5 B [ ]6 C") && late.contains("[ ]2 E [ ]4 F"), "{late}");
    assert!(late.contains("22 N"), "{late}");
    assert!(late.contains("| 2 Edge bolt |"), "new ones in the kit: {late}");
}

#[test]
fn while_it_is_open_which_sets_a_joint_has_both_are_printed_and_it_is_held() {
    let with = "If \u{201c}Which head is fitted?\u{201d} is late:";
    let without = "If \u{201c}Which head is fitted?\u{201d} is early:";
    for phase in [Phase::Strip, Phase::Build] {
        let open = some(phase, SOME, "");
        let (a, b) = (open.find(with).expect(&open), open.find(without).expect(&open));
        let half = |at: usize| open[at..].split("Figure:").nth(1).unwrap_or_default().to_owned();
        assert!(half(a).contains("E at (30") && !half(b).contains("E at (30"), "{open}");
    }
    let build = some(Phase::Build, SOME, "");
    assert!(build.contains("whether this machine has the 2 edge bolts: it hangs on"), "{build}");
}

#[test]
fn sets_that_no_engine_has_together_may_lie_at_one_place() {
    let text = SOME
        .replace("reusable }", "reusable  present when year = early }")
        .replace("holes edge at (30, 30) (60, 30) mm", "holes edge at (0, 0) (90, 60) mm")
        .replace("sequence A, E, D, F, B, C from \"demo sheet 3\"", "");
    let late = some(Phase::Build, &text, "answers: {year: late}\n");
    assert!(late.contains("22 N") && !late.contains("40 N"), "{late}");
    assert!(!late.contains("head nuts"), "{late}");
    let early = some(Phase::Build, &text, "answers: {year: early}\n");
    assert!(early.contains("40 N") && !early.contains("22 N"), "{early}");
    assert!(early.contains("[ ]1 A [ ]2 D [ ]3 C [ ]4 B") && !early.contains("Socket 13 mm"), "{early}");
}
