//! Carrying on tomorrow: what the record says of work done comes back on the sheets. The pump is invented.

use std::fs;
use std::path::Path;

use benchleaf::model::Phase;
use benchleaf::{Choosing, PacketOptions, Request, Workshop};

use super::{made_all, plain_text, root, view, words_of};
use crate::cli::{Scratch, benchleaf, stdout};

const PUMP: &str = "procedures/first/harbour_pump.rebuild";

/// The words of the sheets of the pump with a record that nothing at all is said of.
fn words(record: &str, phase: Phase, all: bool) -> String {
    let procedure = fs::read_to_string(root(PUMP)).unwrap();
    let options = PacketOptions { all, ..PacketOptions::of(phase) };
    words_of(("harbour_pump.rebuild", &procedure), record, &options)
}

const HALF: &str = "job: \"1\"
procedure: harbour_pump.rebuild
done:
  drain_hoses: {by: JS, date: 2026-03-05}
  hoses_off: {by: JS, date: 2026-03-05}
  belt_off: {by: RT, date: 2026-03-06}
  pump_off: {by: RT, date: 2026-03-06}
  cover_off: {by: RT, date: 2026-03-06}
  impeller_out: {by: RT, date: 2026-03-06}
  pulley_off: {by: RT, date: 2026-03-07}
notes:
  - {about: seal, says: weeps at the bottom, by: R.H., date: 2026-03-04}
  - {about: shaft_out, says: comes out the other way, by: R.H.}
  - {about: foot_bolts, found: {count: 4}}
lengths:
  foot_bolts: {A: 25 mm, B: 30 mm}
";

/// The part of the words that is one sheet.
fn sheet<'a>(words: &'a str, name: &str) -> &'a str {
    let start = words.find(&format!("[{name}]")).unwrap();
    let rest = &words[start..];
    &rest[..rest.find("\n=== ").unwrap_or(rest.len())]
}

#[test]
fn only_what_is_left_is_printed_unless_all_is_asked_for() {
    let left = words(HALF, Phase::Strip, false);
    assert!(left.contains("3 steps left, 7 done"), "{left}");
    assert!(!sheet(&left, "steps").contains("Let the water out"));
    assert!(sheet(&left, "steps").contains("Take the snap ring out"));
    // The puller is not needed any more; the pliers and the goggles of what is left are.
    assert!(
        !sheet(&left, "kit").contains("puller") && sheet(&left, "kit").contains("Snap-ring pliers"),
        "{left}"
    );
    assert!(
        !left.contains("FFP3 mask") && left.contains("goggles"),
        "the mask was for the gasket, which is off"
    );
    assert!(!left.contains("strikes hand or face") && left.contains("The snap ring flies"));

    let all = words(HALF, Phase::Strip, true);
    assert!(all.contains("3 steps left, 7 done"), "{all}");
    assert!(sheet(&all, "steps").contains("Done, JS, 2026-03-05."), "{all}");
    assert_eq!(sheet(&all, "steps").matches("Done, RT, 2026-03-06.").count(), 4);
    assert!(sheet(&all, "kit").contains("puller") && all.contains("FFP3 mask"));
    assert!(all.contains("25 minute") || all.contains("15 min"), "hours are of what is left");
}

#[test]
fn notes_and_lengths_come_back_where_they_concern() {
    let all = words(HALF, Phase::Strip, true);
    let steps = sheet(&all, "steps");
    let of_step = |title: &str| {
        let start = steps.find(title).unwrap_or_else(|| panic!("{title}\n{steps}"));
        let rest = &steps[start..];
        &rest[..rest.find("\n\n").unwrap_or(rest.len())]
    };
    let seal = of_step("Take the seal out");
    assert!(
        seal.contains("Bench note, R.H., 2026-03-04: ") && seal.contains("weeps at the bottom."),
        "{seal}"
    );
    assert_eq!(all.matches("weeps at the bottom").count(), 1, "told at no other step of the strip");
    assert!(of_step("Push the shaft out").contains("comes out the other way"));
    let bolts = of_step("Take the pump off");
    assert!(bolts.contains("found to be 4 in number"), "{bolts}");
    // Two lengths of three are known: they stand in the table, and the third is still asked for.
    assert!(bolts.contains("| A | 25 mm |") && bolts.contains("| B | 30 mm |"), "{bolts}");
    assert!(bolts.contains("lengths not all known") && bolts.contains("| C | ____ mm |"), "{bolts}");
    assert!(words(HALF, Phase::Build, false).contains("weeps at the bottom"), "and where the seal goes back");

    let known = HALF.replace("B: 30 mm", "B: 30 mm, C: 25 mm");
    let all = words(&known, Phase::Strip, true);
    assert!(all.contains("lengths as they came out") && !all.contains("lengths not known"), "{all}");
}

#[test]
fn a_print_is_noted_and_the_next_says_what_changed() {
    let scratch = Scratch::new("prints");
    let pump = scratch.file("harbour_pump.rebuild", fs::read(root(PUMP)).unwrap());
    let before = "# Ours. Invented.\njob: \"1\"   # kept\nprocedure: harbour_pump.rebuild\n";
    let job = scratch.file("job.yaml", before);
    let pdf = format!("{}/out.pdf", scratch.path());
    let print = |day: &str| {
        benchleaf(&["packet", &pump, "--job", &job, "--record", "--on", day, "--as-written", "-o", &pdf])
    };
    let output = print("2026-03-05");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let record = fs::read_to_string(&job).unwrap();
    assert!(
        record.starts_with(before) && record.contains("date: 2026-03-05") && record.contains("phase: strip")
    );
    assert!(
        words(&record, Phase::Strip, false).contains("No sheet differs from the last print of 2026-03-05")
    );

    let output = benchleaf(&["record", &job, "note", "seal", "weeps at the bottom"]);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let record = fs::read_to_string(&job).unwrap();
    let changed = words(&record, Phase::Strip, false);
    let front = sheet(&changed, "front");
    assert!(front.contains("Changed since the last print"), "{front}");
    assert!(front.contains("Steps: changed. Throw the old one away."), "{front}");
    assert!(!front.contains("Kit: changed"), "{front}");
    // Another phase was not printed yet.
    assert!(!words(&record, Phase::Build, false).contains("Changed since the last print"));

    assert!(print("2026-03-06").status.success());
    let record = fs::read_to_string(&job).unwrap();
    assert_eq!(record.matches("fingerprint: ").count(), 2, "{record}");
    assert!(
        words(&record, Phase::Strip, false).contains("No sheet differs from the last print of 2026-03-06")
    );

    // Some sheets alone are no print to compare with; and without a day or a record nothing can be noted.
    for wrong in [
        &["--sheets", "kit", "--job", &job, "--on", "2026-03-06"][..],
        &["--job", &job],
        &["--on", "2026-03-06"],
    ] {
        let output = benchleaf(&[&["packet", &pump, "--record", "-o", &pdf], wrong].concat());
        assert_eq!(output.status.code(), Some(2), "{wrong:?}");
    }
    assert_eq!(fs::read_to_string(&job).unwrap(), record);
}

#[test]
fn a_done_step_that_the_procedure_changed_since_is_told() {
    let scratch = Scratch::new("done-changed");
    let text = fs::read_to_string(root(PUMP)).unwrap();
    let pump = scratch.file("harbour_pump.rebuild", &text);
    let job = scratch.file("job.yaml", "job: \"1\"\nprocedure: harbour_pump.rebuild\n");
    let pdf = format!("{}/out.pdf", scratch.path());
    for step in ["drain_hoses", "hoses_off"] {
        let output = benchleaf(&["record", &job, "done", step, "--by", "JS", "--date", "2026-03-05"]);
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    }
    assert_eq!(fs::read_to_string(&job).unwrap().matches("fingerprint: ").count(), 2);
    let told = || {
        let packet = benchleaf(&["packet", &pump, "--job", &job, "--as-written", "-o", &pdf]);
        let verdict = benchleaf(&["verdict", &pump, "--job", &job]);
        [packet, verdict].map(|output| {
            assert!(output.status.success());
            String::from_utf8(output.stderr).unwrap()
        })
    };
    for said in told() {
        assert!(!said.contains("reads differently"), "{said}");
    }
    // Another step, another order of steps, an answer in the record: none of it touches what was done.
    fs::write(
        &pump,
        text.replace("Straight out.", "Straight out, slowly.").replace("time 10 min", "time 12 min"),
    )
    .unwrap();
    for said in told() {
        assert!(!said.contains("reads differently"), "{said}");
    }
    fs::write(&pump, text.replace("Sea cock shut, and tagged.", "Sea cock shut, tagged, and tried."))
        .unwrap();
    for said in told() {
        assert!(said.contains("`drain_hoses` reads differently since it was done"), "{said}");
        assert!(!said.contains("`hoses_off` reads differently"), "{said}");
    }
}

#[test]
fn another_order_of_work_is_told_and_holds_what_needed_the_reading() {
    let record = HALF.replace("  hoses_off: {by: JS, date: 2026-03-05}\n", "");
    let out_of_order = record.replace(
        "belt_off: {by: RT, date: 2026-03-06}",
        "belt_off: {by: RT, date: 2026-03-06, out_of_order: hoses stay on the boat}",
    );
    let pump_too = out_of_order.replace(
        "pump_off: {by: RT, date: 2026-03-06}",
        "pump_off: {by: RT, date: 2026-03-06, out_of_order: with its hoses}",
    );
    let front = words(&pump_too, Phase::Strip, false);
    assert!(front.contains("done out of order: with its hoses, RT, 2026-03-06."), "{front}");
    assert!(front.contains("Take the hoses off"), "what was passed over is still to be done");

    let never = record.replace("notes:", "not_done:\n  hoses_off: {because: they came off on the boat, by: JS}\n  shaft_out: {because: it fell out, by: JS, date: 2026-03-07}\nnotes:");
    let build = words(&never, Phase::Build, false);
    assert!(build.contains("not done: it fell out, JS, 2026-03-07."), "{build}");
    assert!(
        build.contains("A person's word on seal track on the shaft, which can't be had any more (it fell out, JS, 2026-03-07)"),
        "{build}"
    );
    let strip = words(&never, Phase::Strip, false);
    assert!(!sheet(&strip, "steps").contains("Push the shaft out"), "it is not to be done");
}

#[test]
fn a_reading_is_asked_for_until_it_is_taken() {
    let questions = words(HALF, Phase::Strip, false);
    assert!(questions.contains("Still to be taken"), "{questions}");
    assert!(
        questions.contains("| Track on the cover | as found: not looked at yet | ____ smooth / scored |"),
        "{questions}"
    );
    assert!(questions.contains("1 reading still to be taken at steps that are done"), "{questions}");
    let looked = HALF.replace("notes:", "looks: {as_found: {cover_score: smooth}}\nnotes:");
    assert!(!words(&looked, Phase::Strip, false).contains("Still to be taken"));
}

const VALVES: &str = "family valves \"Valves\" { origin \"invented\"  invented }
axis cyl = 1 .. 2
part head \"Head\" { fate reuse }
part valve[cyl] \"Valve\" { within head in place too  worn in  fate reuse }
strip valves_out \"Take the valves out\" {
    each cyl together
    take valve[cyl]
}
";

#[test]
fn a_step_that_is_done_at_one_place_of_several_leaves_the_others() {
    let options = PacketOptions::of(Phase::Strip);
    let record =
        "job: \"1\"\nprocedure: valves.rebuild\ndone:\n  valves_out[1]: {by: JS, date: 2026-03-05}\n";
    let half = words_of(("valves.rebuild", VALVES), record, &options);
    let steps = sheet(&half, "steps");
    assert!(steps.contains("Done already: 1, JS, 2026-03-05."), "{steps}");
    assert!(steps.contains("Remove valve no. 2"), "{steps}");
    let both = record.to_owned() + "  valves_out[2]: {by: JS, date: 2026-03-06}\n";
    let done = words_of(("valves.rebuild", VALVES), &both, &options);
    assert!(done.contains("left, 1 done"), "{done}");
}

#[test]
fn numbers_on_the_screen_are_those_on_paper() {
    let record = "procedures/hallowmere4.bodged.job.yaml";
    let paper = made_all("procedures/hallowmere4.rebuild", Some(record), Phase::Strip, true).words;
    let screen = stdout(&benchleaf(&["order", record]));
    let mut told = Vec::new();
    for line in screen.lines() {
        let Some((number, rest)) = line.trim_start().split_once("  ") else { continue };
        let (Ok(number), Some((title, rest))) = (number.parse::<usize>(), rest.split_once("  (")) else {
            continue;
        };
        // Steps that say the same stand on paper as one, with the numbers of all.
        let on_paper = |line: &str| {
            let Some((numbers, rest)) = line.split_once(' ') else { return false };
            let (first, last) = numbers.split_once('–').unwrap_or((numbers, numbers));
            let (Ok(first), Ok(last)) = (first.parse::<usize>(), last.parse::<usize>()) else { return false };
            (first..=last).contains(&number) && rest.starts_with(title)
        };
        assert!(paper.lines().any(on_paper), "{number} {title}\n{paper}");
        told.push(rest.to_owned());
    }
    assert_eq!(told.len(), 45, "every step of the strip\n{screen}");
    assert!(told.iter().any(|rest| rest.starts_with("pulley_off)  done")), "{screen}");
    assert!(told.iter().any(|rest| rest.starts_with("lash_found)  not done")), "{screen}");
}

#[test]
fn where_all_that_is_left_waits_the_front_sheet_says_so() {
    let name = Path::new("procedures/brackwater3.measured.job.yaml");
    let mut workshop = Workshop::new();
    let choosing = Choosing { as_written: true, ..Choosing::default() };
    let request = Request { record: Some(name), choosing, ..Request::of("procedures/brackwater3.rebuild") };
    let view = view(&mut workshop, &request);
    let words = plain_text(&view.packet(&workshop, &PacketOptions::of(Phase::Strip)));
    assert!(words.contains("Every step that is left waits for something."), "{}", sheet(&words, "front"));
    assert!(!words.contains("Work can go on in order"));
}
