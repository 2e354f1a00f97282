//! `benchleaf record` as a process: names are checked, comments stay, and many writers at once lose nothing.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use crate::expected;

/// A folder of its own with a procedure and a record, removed at the end.
struct Bench(PathBuf);

impl Bench {
    fn new(name: &str) -> Bench {
        let folder = std::env::temp_dir().join(format!("benchleaf-{name}-{}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        fs::copy(expected::folder("jobs/verdicts").join("pump.rebuild"), folder.join("pump.rebuild"))
            .unwrap();
        fs::write(folder.join("job.yaml"), RECORD).unwrap();
        Bench(folder)
    }

    fn record(&self) -> String {
        fs::read_to_string(self.0.join("job.yaml")).unwrap()
    }
}

impl Drop for Bench {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

const RECORD: &str = "# Kept by hand. Invented.
job: \"17\"          # ours
procedure: pump.rebuild
engine_no: B2-0004
answers:
  valve_gear: reuse   # the owner asked twice
";

fn run(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_benchleaf")).current_dir(folder).args(arguments).output().unwrap()
}

/// Runs a command that must succeed.
fn done(folder: &Path, arguments: &[&str]) -> String {
    let output = run(folder, arguments);
    assert!(output.status.success(), "{arguments:?}\n{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn a_reading_in_doubt_is_settled_with_a_name_and_a_present_size_is_said() {
    let bench = Bench::new("settling");
    let folder = &bench.0;
    done(
        folder,
        &[
            "record",
            "job.yaml",
            "settled",
            "head_flatness",
            "good",
            "no feeler goes in",
            "--by",
            "HK",
            "--date",
            "2026-03-05",
        ],
    );
    done(folder, &["record", "job.yaml", "present", "bore", "0.25", "mm"]);
    let record = bench.record();
    for words in ["head_flatness", "no feeler goes in", "HK", "present:", "0.25 mm"] {
        assert!(record.contains(words), "{words} is not in\n{record}");
    }
    // Without a name nobody has judged it.
    let refused = run(folder, &["record", "job.yaml", "settled", "bore_verdict", "keep", "it looks well"]);
    assert_eq!(refused.status.code(), Some(1), "{}", String::from_utf8_lossy(&refused.stderr));
}

#[test]
fn entries_are_written_below_what_is_there() {
    let bench = Bench::new("entries");
    let folder = &bench.0;
    done(folder, &["record", "job.yaml", "reading", "bore", "1", "top", "along", "80.04"]);
    done(
        folder,
        &["record", "job.yaml", "reading", "lobe", "1.3115", "in", "--by", "JS", "--date", "2026-03-04"],
    );
    done(folder, &["record", "job.yaml", "look", "piston_look", "2", "scored", "--as", "found"]);
    done(folder, &["record", "job.yaml", "done", "survey_all", "--by", "JS", "--date", "2026-03-05"]);
    done(folder, &["record", "job.yaml", "note", "head", "one stud: bent", "--date", "2026-03-05"]);
    done(folder, &["record", "job.yaml", "note", "rod[2]", "blue at the big end"]);
    done(folder, &["record", "job.yaml", "length", "head_bolts", "C", "72", "mm"]);
    let expected = format!(
        "{RECORD}readings:
  as_found:
    bore[1] top along: 80.04 mm
    lobe: {{value: 1.3115 in, by: JS, date: 2026-03-04}}
looks:
  as_found:
    piston_look[2]: scored
done:
  survey_all: {{by: JS, date: 2026-03-05}}
notes:
  - {{about: head, says: \"one stud: bent\", date: 2026-03-05}}
  - {{about: \"rod[2]\", says: blue at the big end}}
lengths:
  head_bolts:
    C: 72 mm
"
    );
    // The fingerprint of the step hangs on all that is said of it.
    let record = bench.record();
    let (before, mark) = record.split_once(", fingerprint: ").expect("a step done has its fingerprint");
    assert_eq!(format!("{before}{}", &mark["2-12345-12345".len()..]), expected);
    let notes = done(folder, &["notes", "job.yaml"]);
    assert!(notes.contains("head: one stud: bent [2026-03-05]"), "{notes}");
    assert!(notes.contains("head_bolts hole C: length 72 mm"), "{notes}");
    let verdict = done(folder, &["verdict", "pump.rebuild", "--job", "job.yaml"]);
    assert!(verdict.contains("camshaft: goes back\n      why: Lobe = 1311.5 ± 0.05 thou: good"), "{verdict}");
    let table = done(folder, &["verdict", "pump.rebuild", "--job", "job.yaml", "--format", "order-csv"]);
    assert!(
        table.starts_with("id,title,quantity,") && table.contains("\r\nhead_bolts,Head bolt,4,"),
        "{table}"
    );
}

const BY_ANSWER: &str = "family pump \"Pump\" { edition 1  origin \"invented\"  invented }
ask year \"Which screws?\" = early, late
part cover \"Cover\" { fate reuse }  part body \"Body\"
fasteners screws 4 \"Screw\" { kind screw  thread M6x1  drive 10 mm  dry  reusable  length 16 mm when year = early, else 20 mm }
fasteners more 2 \"Long screw\" { kind screw  thread M6x1  drive 13 mm  dry  reusable  present when year = late }
joint lid \"Cover to body\" { clamps cover, body  seen from front  holes screws at (0, 0) (40, 0) (0, 40) (40, 40) mm  holes more at (20, 0) (20, 40) mm
    tighten screws 6 N.m from \"sheet\"  tighten more 6 N.m from \"sheet\" }
strip off \"Cover off\" { undo lid  take cover }
";

#[test]
fn a_step_done_is_not_told_as_changed_for_what_was_answered() {
    let bench = Bench::new("by-answer");
    let folder = &bench.0;
    fs::write(folder.join("pump.rebuild"), BY_ANSWER).unwrap();
    let record = "job: \"18\"\nprocedure: pump.rebuild\nanswers: {year: early}\n";
    fs::write(folder.join("job.yaml"), record).unwrap();
    done(folder, &["record", "job.yaml", "done", "off", "--by", "HK", "--date", "2026-03-05"]);
    let checked = run(folder, &["check", "job.yaml"]);
    let said =
        String::from_utf8_lossy(&checked.stderr).into_owned() + &String::from_utf8_lossy(&checked.stdout);
    assert!(!said.contains("done-step-changed"), "{said}\n{}", bench.record());
    fs::write(folder.join("pump.rebuild"), BY_ANSWER.replace("length 16 mm", "length 18 mm")).unwrap();
    let checked = run(folder, &["check", "job.yaml"]);
    let said =
        String::from_utf8_lossy(&checked.stderr).into_owned() + &String::from_utf8_lossy(&checked.stdout);
    assert!(said.contains("done-step-changed"), "{said}\n{}", bench.record());
}

#[test]
fn goods_and_work_are_followed_from_order_to_acceptance() {
    let bench = Bench::new("goods");
    let record = |arguments: &[&str]| done(&bench.0, &[&["record", "job.yaml"], arguments].concat());
    record(&[
        "ordered",
        "piston[2]",
        "--date",
        "2026-03-05",
        "--due",
        "2026-03-12",
        "--supplier",
        "Harbour",
        "--quantity",
        "1",
        "--size",
        "0.25 mm",
    ]);
    record(&["ordered", "gasket", "--date", "2026-03-05"]);
    record(&["arrived", "piston[2]", "--date", "2026-03-11"]);
    record(&["compared", "piston[2]", "--date", "2026-03-11"]);
    record(&["sent", "block", "--date", "2026-03-06", "--to", "Invented Grinding"]);
    record(&["back", "block", "--date", "2026-03-16"]);
    record(&["accepted", "block", "--date", "2026-03-17"]);
    let expected = format!(
        "{RECORD}orders:
  piston[2]: {{ordered: 2026-03-05, due: 2026-03-12, supplier: Harbour, quantity: 1, size: 0.25 mm, arrived: 2026-03-11, compared: 2026-03-11}}
  gasket: {{ordered: 2026-03-05}}
sent:
  block: {{to: Invented Grinding, sent: 2026-03-06, back: 2026-03-16, accepted: 2026-03-17}}
"
    );
    assert_eq!(bench.record(), expected);
    let twice = run(&bench.0, &["record", "job.yaml", "arrived", "piston[2]", "--date", "2026-03-12"]);
    let complaint = String::from_utf8_lossy(&twice.stderr).into_owned();
    assert!(!twice.status.success() && complaint.contains("has a value already"), "{complaint}");
    assert_eq!(bench.record(), expected, "what stands there is not written over");
    let verdict = done(&bench.0, &["verdict", "pump.rebuild", "--job", "job.yaml", "--format", "order-csv"]);
    assert!(verdict.contains("gasket,"), "{verdict}");
}

#[test]
fn nothing_is_written_that_is_wrong_or_there_already() {
    let bench = Bench::new("refused");
    let folder = &bench.0;
    let refused: [(&[&str], &str); 7] = [
        (&["reading", "boore", "1", "top", "along", "80.04 mm"], "Write: `bore`, if that is meant"),
        (&["reading", "bore", "3", "top", "along", "80.04"], "has no position `3`"),
        (&["reading", "bore", "1", "top", "along", "80.04", "kg"], "is a mass"),
        (&["answer", "valve_gear", "renew"], "has a value already"),
        (&["answer", "valve_geer", "renew"], "Write: `valve_gear`, if that is meant"),
        (&["done", "survey_all", "--by", "JS", "--date", "5 March"], "is not a day"),
        (&["note", "gearbox", "leaks"], "no part, set, joint, gauge, look or step `gearbox`"),
    ];
    for (arguments, words) in refused {
        let output = run(folder, &[&["record", "job.yaml"], arguments].concat());
        let complaint = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(!output.status.success(), "{arguments:?}");
        // The complaint may be wrapped.
        let flat = complaint.split_whitespace().collect::<Vec<&str>>().join(" ");
        assert!(flat.contains(words), "{arguments:?}\n{complaint}");
        assert_eq!(bench.record(), RECORD, "{arguments:?}");
    }
    let left: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    assert_eq!(left.len(), 2, "neither lock nor draft is left: {left:?}");
}

#[test]
fn many_writers_at_once_lose_nothing() {
    let bench = Bench::new("writers");
    let mut writers = Vec::new();
    for cyl in ["1", "2"] {
        for station in ["top", "bottom"] {
            for direction in ["along", "across"] {
                let arguments =
                    ["record", "job.yaml", "reading", "bore", cyl, station, direction, "80.01 mm"];
                let mut command = Command::new(env!("CARGO_BIN_EXE_benchleaf"));
                writers.push(command.current_dir(&bench.0).args(arguments).spawn().unwrap());
            }
        }
    }
    for mut writer in writers {
        assert!(writer.wait().unwrap().success());
    }
    let record = bench.record();
    assert!(record.starts_with(RECORD));
    assert_eq!(record.matches(": 80.01 mm").count(), 8, "{record}");
}

#[test]
fn extra_work_is_added_from_the_command_line() {
    let bench = Bench::new("adding");
    let folder = &bench.0;
    let add = |arguments: &[&str]| done(folder, &[&["record", "job.yaml", "add"], arguments].concat());
    add(&[
        "part",
        "insert_m8",
        "M8 insert",
        "--count",
        "2",
        "--price",
        "3.20 EUR",
        "--supplier",
        "Tidewater Fixings",
    ]);
    add(&["tool", "insert_kit", "M8 insert kit"]);
    add(&["work", "head", "pull the broken stud", "--price", "60 EUR", "--to", "Stanner Machine Works"]);
    add(&[
        "step",
        "fit_insert",
        "Fit the inserts",
        "--do",
        "Tap both holes.",
        "--do",
        "Wind the inserts in.",
        "--phase",
        "survey",
        "--tool",
        "insert_kit",
        "--part",
        "insert_m8 2",
        "--hands",
        "2",
        "--time",
        "40 min",
        "--hold",
        "both below the face",
        "--why",
        "threads pulled",
        "--by",
        "HK",
        "--date",
        "2026-03-05",
    ]);
    let record = bench.record();
    assert!(record.starts_with(RECORD.lines().next().unwrap()), "the rest stays\n{record}");
    let verdict = done(folder, &["verdict", "job.yaml"]);
    assert!(verdict.contains("2 × M8 insert (insert_m8); 6.40 EUR; Tidewater Fixings"), "{verdict}");
    assert!(verdict.contains("pull the broken stud; 60.00 EUR"), "{verdict}");
    assert!(verdict.contains("Stanner Machine Works"), "{verdict}");
    let order = done(folder, &["order", "job.yaml", "--phase", "survey"]);
    assert!(order.contains("Fit the inserts"), "{order}");
    // What can't be read is not written.
    for wrong in [
        &["step", "weld", "Weld it", "--do", "Weld it.", "--after", "no_such_step", "--phase", "survey"][..],
        &["step", "weld", "Weld it", "--do", "Weld it.", "--phase", "survey", "--tool", "no_such_tool"],
        &["part", "insert_m10", "M10 insert", "--price", "cheap"],
        &["work", "no_such_part", "weld"],
        &["step", "weld", "Weld it"],
    ] {
        let output = run(folder, &[&["record", "job.yaml", "add"], wrong].concat());
        assert!(!output.status.success(), "{wrong:?}");
        assert!(!output.stderr.is_empty(), "{wrong:?}");
        assert_eq!(bench.record(), record, "{wrong:?}");
    }
}

#[test]
fn what_one_job_changes_in_its_procedure_is_named_by_a_command() {
    let bench = Bench::new("changes");
    let folder = &bench.0;
    let own = |text: &str| fs::write(folder.join("own.rebuild"), text).unwrap();
    let wrong = run(folder, &["record", "job.yaml", "changes", "own.rebuild"]);
    assert!(!wrong.status.success() && bench.record() == RECORD, "there is no such file");
    own("change strip nowhere { do \"Look.\" }\n");
    let wrong = run(folder, &["record", "job.yaml", "changes", "own.rebuild"]);
    assert!(!wrong.status.success() && bench.record() == RECORD, "it changes what isn't there");
    own("part flag \"Flag\" { fate reuse }\nstrip flag_off \"Take the flag off\" { take flag }\n");
    let told = done(folder, &["record", "job.yaml", "changes", "own.rebuild"]);
    assert_eq!(told, "changes: own.rebuild\n");
    assert!(bench.record().ends_with("changes: own.rebuild\n"), "{}", bench.record());
    assert!(done(folder, &["order", "job.yaml"]).contains("Take the flag off  (flag_off)"));
    assert!(
        !run(folder, &["record", "job.yaml", "changes", "own.rebuild"]).status.success(),
        "it stands there"
    );
    done(folder, &["record", "job.yaml", "undo"]);
    assert_eq!(bench.record(), RECORD);
}

#[test]
fn the_hour_and_the_value_reached_are_recorded_with_their_step() {
    let bench = Bench::new("hour");
    let folder = &bench.0;
    let order = done(folder, &["order", "job.yaml"]);
    let first = order.lines().next().unwrap();
    let id = first.split('(').nth(1).unwrap().split(')').next().unwrap();
    let at = |hour: &str| {
        let words = ["record", "job.yaml", "done", id, "--by", "JS", "--date", "2026-03-05", "--at", hour];
        run(folder, &[words.as_slice(), &["--reached", "31 N.m"]].concat())
    };
    assert!(!at("25:00").status.success() && bench.record() == RECORD);
    let told = String::from_utf8(at("14:30").stdout).unwrap();
    assert!(told.contains("at 14:30") && told.contains("reached 31 N.m"), "{told}");
    assert!(bench.record().contains("14:30"), "{}", bench.record());
}
