//! Packets as a user gets them: the words of every sheet against files beside the tests, the same bytes each time, and
//! no packet at all where the input has faults.

mod away;
mod called;
mod chosen;
mod deferral;
mod given;
mod document;
mod found;
mod recorded;
mod full_size;
mod gears;
mod library;
mod lowered;
mod numbers;
mod once;
mod only;
mod placed;
mod plain_machine;
mod ordered;
mod other_engine;
mod leaving;
mod progress;
mod results;
mod setting;
mod turned;
mod used_up;
mod values;
mod walked;
mod whole_sheets;
mod repeated;
mod resized;
mod samples;
mod still_open;
mod tried;
mod worded;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use benchleaf::model::{Phase, Procedure};
use benchleaf::pages::Pages;
use benchleaf::sheet::plain_text;
use benchleaf::{
    Choosing, JobView, Memory, PacketOptions, PageSetup, Plan, Request, Standing, Workshop, lay_out, step_of,
    write_pdf,
};

use crate::cli::{Scratch, benchleaf};
use crate::expected::{self, compare, folder};

const PHASES: [(Phase, &str); 4] =
    [(Phase::Strip, "strip"), (Phase::Survey, "survey"), (Phase::Build, "build"), (Phase::Start, "start")];

/// Everything that comes before paper.
pub struct Made {
    /// The words of every sheet.
    pub words: String,
    /// A line for each step: number, id, standing, what it waits for.
    plan: String,
    /// What is on the pages.
    pages: Pages,
    /// The file.
    pdf: Vec<u8>,
}

fn root(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

pub fn made(procedure: &str, record: Option<&str>, phase: Phase) -> Made {
    made_all(procedure, record, phase, false)
}

/// The same, with the steps that are done too where all are asked for.
fn made_all(procedure: &str, record: Option<&str>, phase: Phase, all: bool) -> Made {
    let (procedure, record) = (root(procedure), record.map(root));
    let mut workshop = Workshop::new();
    let request = Request { record: record.as_deref(), ..Request::of(&procedure) };
    let view = view(&mut workshop, &request);
    let packet = view.packet(&workshop, &PacketOptions { all, ..PacketOptions::of(phase) });
    let title = |source| step_of(&view.procedure, &view.network, source).naming.title.clone();
    let lines = plan_lines((&view.procedure, &view.plan), phase, &title);
    let pages = lay_out(&packet, &PageSetup::default());
    assert!(!pages.has_errors());
    Made { words: plain_text(&packet), plan: lines, pdf: write_pdf(&pages.value), pages: pages.value }
}

/// A job that nothing is wrong with.
pub fn view(workshop: &mut Workshop, request: &Request<'_>) -> JobView {
    let opened = workshop.job(request);
    opened.value.unwrap_or_else(|| panic!("{}", expected::printed(workshop.sources(), &opened.diagnostics)))
}

/// The words of the sheets of a job whose procedure, with its name, and record are given as texts, its steps in the
/// author's order.
fn words_of((name, procedure): (&str, &str), record: &str, options: &PacketOptions) -> String {
    let mut workshop = Workshop::over(Memory::new().with(name, procedure).with("job.yaml", record));
    let choosing = Choosing { as_written: true, ..Choosing::default() };
    let request = Request { record: Some(Path::new("job.yaml")), choosing, ..Request::of(name) };
    let view = view(&mut workshop, &request);
    plain_text(&view.packet(&workshop, options))
}

fn plan_lines(
    (procedure, plan): (&Procedure, &Plan),
    phase: Phase,
    title: &dyn Fn(benchleaf::StepSource) -> String,
) -> String {
    let mut out = String::new();
    for step in plan.phase(phase).map(|plan| plan.steps.as_slice()).unwrap_or_default() {
        let number = step.number.map_or_else(|| "-".to_owned(), |number| number.to_string());
        let standing = match &step.standing {
            Standing::Present => "present".to_owned(),
            Standing::Absent => "absent".to_owned(),
            Standing::Done => "done".to_owned(),
            Standing::NotDone(because) => format!("not done: {because}"),
            Standing::Held(holds) => {
                let holds: Vec<&str> = holds.iter().map(|hold| hold.text.as_str()).collect();
                format!("held by {}", holds.join("; "))
            }
        };
        let window = step.window;
        out += &format!(
            "{number:>3} {} [{}–{}] {}: {standing}\n",
            step.key.id(procedure),
            window.earliest,
            window.latest,
            title(step.source)
        );
    }
    out
}

/// Procedure, record, folder of the expected texts.
const JOBS: [(&str, Option<&str>, &str); 12] = [
    ("tests/jobs/main_caps/main_caps.rebuild", None, "main_caps"),
    ("tests/jobs/locking_nuts/locking_nuts.rebuild", None, "locking_nuts"),
    ("procedures/first/harbour_pump.rebuild", None, "harbour_pump"),
    ("procedures/first/harbour_pump_e.rebuild", None, "harbour_pump_e"),
    ("procedures/brackwater3.rebuild", Some("procedures/brackwater3.job.yaml"), "brackwater3"),
    ("procedures/brackwater3.rebuild", None, "brackwater3_without_job"),
    (
        "procedures/brackwater3.rebuild",
        Some("procedures/brackwater3.measured.job.yaml"),
        "brackwater3_measured",
    ),
    ("procedures/brackwater3.rebuild", Some("procedures/brackwater3.ready.job.yaml"), "brackwater3_ready"),
    ("tests/jobs/banks/vee.rebuild", Some("tests/jobs/banks/vee.job.yaml"), "banks"),
    ("tests/jobs/lengths/lengths.rebuild", Some("tests/jobs/lengths/lengths.job.yaml"), "lengths"),
    ("procedures/hallowmere4.rebuild", Some("procedures/hallowmere4.job.yaml"), "hallowmere4"),
    (
        "procedures/hallowmere4.rebuild",
        Some("procedures/hallowmere4.measured.job.yaml"),
        "hallowmere4_measured",
    ),
];

/// Sheets that are written down: every phase of every job would be much to read. The strip has every kind of line but
/// torques; the desk's sheets are read where the record has something to say on them.
fn written_down(name: &str, phase: Phase) -> bool {
    match (name, phase) {
        ("lengths", _) => phase <= Phase::Build,
        ("brackwater3_measured" | "hallowmere4_measured", phase) => phase == Phase::Survey,
        ("brackwater3_ready", phase) => matches!(phase, Phase::Survey | Phase::Start),
        (_, Phase::Strip) => true,
        ("brackwater3_without_job", _) => false,
        (_, phase) => phase == Phase::Build,
    }
}

#[test]
fn plans_and_sheets_are_as_written_down() {
    let mut faults = Vec::new();
    for (procedure, record, name) in JOBS {
        let folder = folder("jobs").join(name);
        fs::create_dir_all(&folder).unwrap();
        for (phase, word) in PHASES {
            let made = made(procedure, record, phase);
            faults.extend(compare(&folder.join(format!("{word}.plan.txt")), &made.plan).err());
            if written_down(name, phase) {
                faults.extend(compare(&folder.join(format!("{word}.sheets.txt")), &made.words).err());
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Torques have their customary unit beside them wherever they are read off, and so have limits in millimetres; the two
/// numbers are the same amount to within the rounding of either. In the register, where what was reached is written down, and
/// in the table of wrenches they stand alone: a step of the same packet has each of them with its pair.
#[test]
fn units_stand_in_pairs_on_every_sheet() {
    let mut torques = 0;
    let mut limits = 0;
    for (procedure, record, name) in JOBS {
        for (phase, word) in PHASES {
            let words = made(procedure, record, phase).words;
            let mut sheet = "";
            let (mut paired, mut alone) = (BTreeSet::new(), BTreeSet::new());
            for line in words.lines() {
                if line.starts_with("=== ") {
                    sheet = line;
                }
                // What differs from another procedure is shown as it is written there.
                if sheet.contains(": what differs [") {
                    continue;
                }
                // What is only echoed for another program, and units behind blanks, are no values.
                for (at, _) in line.match_indices(" N·m") {
                    let Some((number, places)) = last_number(&line[..at]) else { continue };
                    // The step of an instrument is what it is marked in.
                    if line[..at]
                        .trim_end_matches(|c: char| c.is_ascii_digit() || c == '.')
                        .ends_with("read to ")
                    {
                        continue;
                    }
                    let behind = &line[at + " N·m".len()..];
                    let wrenches = sheet.contains("[kit]") && line.contains("torque wrench");
                    if sheet.contains("[torques]") || wrenches {
                        alone.insert(number.to_string());
                        continue;
                    }
                    paired.insert(number.to_string());
                    assert!(behind.trim_start().starts_with('('), "{name} {word}: no pair: {line}");
                    let inside = behind.trim_start()[1..].split(')').next().unwrap();
                    let factor = if inside.ends_with("lbf·in") { 0.112_984_829 } else { 1.355_817_948 };
                    assert!(
                        inside.ends_with("lbf·in") || inside.ends_with("lbf·ft"),
                        "{name} {word}: {line}"
                    );
                    let (other, other_places) = last_number(inside.rsplit_once(' ').unwrap().0).unwrap();
                    agree((number, places), (other, other_places), (factor, 0.5), line);
                    torques += 1;
                }
                // A table of readings has its limits in the unit of what is read, and no second one.
                if sheet.contains("[results]") || sheet.contains("[handover]") {
                    continue;
                }
                for marker in ["as made ", "worn limit "] {
                    for (at, _) in line.match_indices(marker) {
                        let limit = line[at + marker.len()..].split([',', '|', ']']).next().unwrap();
                        let Some((metric, rest)) = limit.split_once(" mm") else { continue };
                        assert!(
                            rest.trim_start().starts_with('(') && rest.contains(" in)"),
                            "{name} {word}: {line}"
                        );
                        let inches = rest.trim_start()[1..].split(" in)").next().unwrap();
                        // A limit is rounded inward, by less than a whole step.
                        let (metric, inches) = (last_number(metric).unwrap(), last_number(inches).unwrap());
                        agree(metric, inches, (25.4, 1.0), line);
                        limits += 1;
                    }
                }
            }
            assert!(alone.is_subset(&paired), "{name} {word}: in no pair: {:?}", alone.difference(&paired));
        }
    }
    assert!(torques > 100 && limits > 100, "{torques} torques and {limits} limits: the sheets have more");
}

/// Procedure and record of one of [`JOBS`].
fn job(name: &str) -> (&'static str, Option<&'static str>) {
    let (procedure, record, _) = JOBS.iter().find(|(.., known)| *known == name).unwrap();
    (procedure, *record)
}

/// The number at the end of some words with its decimal places.
fn last_number(words: &str) -> Option<(f64, usize)> {
    let from = words
        .rfind(|c: char| !(c.is_ascii_digit() || c == '.'))
        .map_or(0, |at| at + words[at..].chars().next().map_or(0, char::len_utf8));
    let number = &words[from..];
    let places = number.split_once('.').map_or(0, |(_, places)| places.len());
    number.parse().ok().map(|value| (value, places))
}

/// Two numbers are one amount if the second, by its exact factor, lies within this share of a last place of its own, or
/// half a last place of the first.
fn agree(metric: (f64, usize), other: (f64, usize), (factor, share): (f64, f64), line: &str) {
    let place = |places: usize| 10f64.powi(-i32::try_from(places).unwrap());
    let off = (other.0 * factor - metric.0).abs();
    let allowed = share * place(other.1) * factor + 1e-9;
    assert!(off <= allowed.max(0.5 * place(metric.1)), "{} and {} differ: {line}", metric.0, other.0);
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let (procedure, record) = job("brackwater3");
    let first = made(procedure, record, Phase::Strip);
    let again = made(procedure, record, Phase::Strip);
    assert_eq!(first.words, again.words);
    assert!(first.pdf == again.pdf, "a second packet in one process differs");
    let scratch = Scratch::new("same-bytes");
    let path = scratch.file("packet.pdf", "");
    let done = benchleaf(&["packet", procedure, "--job", record.unwrap(), "-o", &path]);
    assert_eq!(done.status.code(), Some(0));
    assert!(fs::read(&path).unwrap() == first.pdf, "another process gives other bytes");
}

#[test]
fn an_answer_changes_the_fingerprint() {
    let (procedure, record) = job("brackwater3");
    let fingerprint =
        |made: &Made| made.words.lines().next().unwrap().rsplit(" | ").next().unwrap().to_owned();
    let with = fingerprint(&made(procedure, record, Phase::Strip));
    let without = fingerprint(&made(procedure, None, Phase::Strip));
    assert_ne!(with, without);
}

#[test]
fn a_fault_leaves_an_existing_file_as_it_was() {
    let scratch = Scratch::new("untouched");
    let faulty = scratch.file(
        "faulty.rebuild",
        "family e \"E\" { origin \"invented\" }\npart cover \"Cover\"\nstrip lift \"Lift it\" { take covr }\n",
    );
    let path = scratch.file("packet.pdf", "what was there");
    let done = benchleaf(&["packet", &faulty, "-o", &path]);
    assert_eq!(done.status.code(), Some(1));
    assert_eq!(fs::read_to_string(&path).unwrap(), "what was there");
    assert!(done.stdout.is_empty());
}

#[test]
fn a_record_of_another_procedure_is_refused() {
    let scratch = Scratch::new("other-procedure");
    let path = format!("{}/packet.pdf", scratch.path());
    let record = "procedures/brackwater3.job.yaml";
    let done = benchleaf(&["packet", "procedures/first/cover.rebuild", "--job", record, "-o", &path]);
    assert_eq!(done.status.code(), Some(1));
    assert!(!Path::new(&path).exists());
}

#[test]
fn wrong_use_exits_2_and_writes_nothing() {
    let scratch = Scratch::new("wrong-use");
    let pdf = format!("{}/packet.pdf", scratch.path());
    let cover = "procedures/first/cover.rebuild";
    for (arguments, code) in [
        (vec!["packet", cover, "--sheets", "frnt", "-o", &pdf], "cli/unknown-sheet"),
        (vec!["packet", cover, "--only", "28", "-o", &pdf], "cli/unknown-piece"),
        (vec!["packet", cover, "--phase", "survey", "--sheets", "steps", "-o", &pdf], "cli/nothing-to-print"),
        (vec!["packet", cover, "-o", "/no/such/folder/packet.pdf"], "cli/unwritable"),
        (vec!["graph", cover, "-o", "order.png"], "cli/unknown-drawing"),
        (vec!["why", cover, "cover_of"], "cli/unknown-step"),
        (vec!["why", "procedures/brackwater3.rebuild", "pull_piston"], "cli/which-step"),
    ] {
        let done = benchleaf(&arguments);
        let complaint = String::from_utf8(done.stderr).unwrap();
        assert!(complaint.contains(code), "{arguments:?}: {complaint}");
        assert_eq!(done.status.code(), Some(2), "{arguments:?}");
    }
    assert!(!Path::new(&pdf).exists());
}

#[test]
fn the_order_keeps_what_it_says() {
    let done = benchleaf(&["order", "procedures/brackwater3.rebuild", "--format", "json"]);
    let list: serde_json::Value = serde_json::from_slice(&done.stdout).unwrap();
    let steps = list["steps"].as_array().unwrap();
    let place = |id: &serde_json::Value| steps.iter().position(|step| step["id"] == *id).unwrap();
    assert!(steps.len() >= 45);
    for (index, step) in steps.iter().enumerate() {
        for before in step["after"].as_array().unwrap() {
            assert!(place(before) < index, "{before} stands behind {}", step["id"]);
        }
    }
}

/// A small engine whose record grows from print to print.
const GROWING: &str = "family e \"Engine\" { edition 1  origin \"invented\" }
fasteners cover_bolts 3 \"Cover bolt\" { thread M8x1.25  class 8.8  drive 13 mm  lengths unknown  reusable }
part cover \"Cover\" { held by cover_bolts  fate reuse }
part body \"Body\" { }
joint cover_joint \"Cover to body\" {
    clamps cover, body   seen from top, front left
    holes cover_bolts at (0,0) (60,0) (30,50) mm
    tighten cover_bolts 20 N.m from \"demo\"
}
strip look_first \"Look it over\" { do \"Look at every side.\" }
strip open_cover \"Take the cover off\" { undo cover_joint  take cover }
";

/// The sheets of a packet as text, printed by the program itself.
fn printed(scratch: &Scratch, more: &[&str]) -> String {
    let out = format!("{}/out.pdf", scratch.path());
    let procedure = format!("{}/engine.rebuild", scratch.path());
    let job = format!("{}/job.yaml", scratch.path());
    let arguments = [&["packet", &procedure, "--job", &job, "-o", &out], more].concat();
    let done = benchleaf(&arguments);
    assert_eq!(done.status.code(), Some(0), "{}", String::from_utf8_lossy(&done.stderr));
    made(&procedure, Some(&job), Phase::Strip).words
}

/// With the most answers that an ask may have, each prints its own step and no other.
#[test]
fn one_answer_of_64_prints_one_step() {
    let answers: Vec<String> = (0..64).map(|index| format!("a{index}")).collect();
    let mut text = format!(
        "family engine \"Engine\" {{ origin \"invented\" }}\nask which \"Which?\" = {}\n",
        answers.join(", ")
    );
    for answer in &answers {
        text += &format!("strip on_{answer} \"Go on\" {{ when which = {answer}  do \"Way {answer}.\" }}\n");
    }
    let scratch = Scratch::new("answers");
    let procedure = scratch.file("engine.rebuild", text);
    for given in ["a0", "a31", "a63"] {
        let job = format!("job: J1\nprocedure: engine.rebuild\nanswers: {{which: {given}}}\n");
        let words = made(&procedure, Some(&scratch.file("job.yaml", job)), Phase::Strip).words;
        let printed: Vec<&String> =
            answers.iter().filter(|answer| words.contains(&format!("Way {answer}."))).collect();
        assert_eq!(printed, [given]);
    }
}

#[test]
fn the_next_print_knows_what_was_done_noted_and_changed() {
    let scratch = Scratch::new("next-print");
    scratch.file("engine.rebuild", GROWING);
    let job = scratch.file("job.yaml", "# kept\njob: J1\nprocedure: engine.rebuild\n");
    let entry = |words: &[&str]| {
        let done = benchleaf(&[&["record", &job], words].concat());
        assert_eq!(done.status.code(), Some(0), "{words:?}: {}", String::from_utf8_lossy(&done.stderr));
    };
    let first = printed(&scratch, &["--on", "2026-03-01", "--record"]);
    assert!(
        first.contains("No sheet differs from the last print") && first.contains("Look it over"),
        "{first}"
    );

    entry(&["done", "look_first", "--by", "HK", "--date", "2026-03-01"]);
    entry(&["note", "cover", "one lug chipped", "--by", "HK", "--date", "2026-03-01"]);
    for (hole, length) in [("A", "25 mm"), ("B", "25 mm"), ("C", "40 mm")] {
        entry(&["length", "cover_bolts", hole, length]);
    }
    let second = printed(&scratch, &[]);
    assert!(!second.contains("Look at every side"), "what is done is not printed again: {second}");
    assert!(second.contains("Bench note, HK, 2026-03-01: Cover: one lug chipped."), "{second}");
    assert!(second.contains("lengths as they came out") && second.contains("40 mm"), "{second}");
    assert!(second.contains("differ from the last print of 2026-03-01"), "{second}");

    // The author changes what is done and what is not: only the first has to be read again.
    let changed = GROWING.replace("Look at every side.", "Look at every side, and below.");
    scratch.file("engine.rebuild", &changed);
    let procedure = format!("{}/engine.rebuild", scratch.path());
    let out = format!("{}/out.pdf", scratch.path());
    let third = benchleaf(&["packet", &procedure, "--job", &job, "-o", &out]);
    let complaint = String::from_utf8(third.stderr).unwrap();
    assert_eq!(third.status.code(), Some(0), "{complaint}");
    assert!(
        complaint.contains("workshop/done-step-changed") && complaint.contains("`look_first`"),
        "{complaint}"
    );
    let text = fs::read_to_string(&job).unwrap();
    assert!(text.starts_with("# kept\n") && text.matches("fingerprint:").count() == 2, "{text}");
}
